//! A cup's life, case by case: each a rule of the trade (common practice, no source), and as properties over random lives.

use super::*;
use crate::trade::cup::{DrawnInto, Entry, PutFrom};
use crate::trade::mark::Mark;
use crate::trade::units::Minutes;
use chrono::DateTime;
use proptest::prelude::*;

fn at(clock: &str) -> Moment {
    DateTime::parse_from_rfc3339(&format!("2026-11-24T{clock}:00+01:00")).unwrap()
}

fn next_day(clock: &str) -> Moment {
    at(clock) + TimeDelta::days(1)
}

fn cup() -> Cup {
    Cup {
        id: 1,
        mark: Mark::parse("K7").unwrap(),
        variant: 1,
        mixed_at: at("18:30"),
        volume: Millilitres(120.0),
        depth: None,
        diameter: None,
        tape: None,
        note: None,
        spent: false,
    }
}

const WINDOW: Window = Window {
    low: Seconds(2.0),
    high: Seconds(3.0),
};

fn waits(rest_hours: i64) -> Waits {
    Waits {
        rest: TimeDelta::hours(rest_hours),
        recheck_after: TimeDelta::minutes(60),
    }
}

fn mound(seconds: f64) -> Reading {
    Reading::Mound(Seconds(seconds))
}

fn entries(what: Vec<(Moment, Happened)>) -> Vec<Entry> {
    let entry = |(id, (at, what))| Entry {
        id,
        at,
        backdated: false,
        what,
    };
    (1_i64..).zip(what).map(entry).collect()
}

fn mixed(reading: Option<f64>) -> (Moment, Happened) {
    (
        at("18:30"),
        Happened::Mixed {
            stirred: None,
            reading: reading.map(mound),
        },
    )
}

fn thinned(at: Moment, ml: f64, hard: bool, reading: Option<f64>) -> (Moment, Happened) {
    let reading = reading.map(mound);
    (
        at,
        Happened::Thinned {
            ml: Millilitres(ml),
            with: None,
            hard,
            reading,
        },
    )
}

fn life(what: Vec<(Moment, Happened)>) -> Life {
    Life::of(&cup(), &entries(what), waits(12))
}

/// The state where the expected mound is the last one read.
fn state(life: &Life, now: Moment) -> State {
    life.state(now, expected(life), Some(WINDOW))
}

fn expected(life: &Life) -> Expected {
    Expected {
        mound: life.mound(),
        holds_until: life.holds_until(),
    }
}

#[test]
fn it_rests_for_its_rest_then_wants_a_reading() {
    let life = life(vec![mixed(Some(2.6))]);
    assert_eq!(state(&life, next_day("06:29")), State::Resting);
    assert_eq!(state(&life, next_day("06:30")), State::Look);
}

#[test]
fn a_gelled_cup_is_thick_at_once_until_it_is_loosened_or_read() {
    let gelled = (at("20:00"), Happened::Looked(Seen::Gelled));
    let stirred = Happened::Stirred {
        minutes: Minutes(4.0),
    };
    let then = |what: Option<(Moment, Happened)>| {
        let mut told = vec![mixed(Some(2.6)), gelled.clone()];
        told.extend(what);
        life(told)
    };
    assert_eq!(state(&then(None), at("21:00")), State::Thick);
    assert_eq!(state(&then(None), next_day("12:00")), State::Thick);
    assert_eq!(then(None).mound(), None);
    for loosened in [
        thinned(at("20:10"), 3.0, false, None),
        (at("20:10"), stirred),
        (at("20:10"), Happened::Read(mound(2.8))),
    ] {
        assert_eq!(state(&then(Some(loosened)), at("21:00")), State::Resting);
    }
}

#[test]
fn a_reading_after_it_cleared_makes_it_ready_for_an_hour() {
    let life = life(vec![
        mixed(Some(2.6)),
        (next_day("07:00"), Happened::Read(mound(2.8))),
    ]);
    assert_eq!(state(&life, next_day("07:00")), State::Ready);
    assert_eq!(state(&life, next_day("08:00")), State::Ready);
    assert_eq!(
        state(&life, next_day("08:00") + TimeDelta::seconds(1)),
        State::Thick
    );
    assert_eq!(life.holds_until(), next_day("08:00"));
}

#[test]
fn a_reading_while_it_rests_does_not_count_as_one_since_it_cleared() {
    let life = life(vec![mixed(None), (at("20:00"), Happened::Read(mound(2.5)))]);
    assert_eq!(state(&life, next_day("07:00")), State::Look);
}

#[test]
fn above_and_below_its_window_it_is_thick_and_thin() {
    for (read, wanted) in [
        (3.1, State::Thick),
        (3.0, State::Ready),
        (2.0, State::Ready),
        (1.9, State::Thin),
    ] {
        let life = life(vec![
            mixed(None),
            (next_day("07:00"), Happened::Read(mound(read))),
        ]);
        assert_eq!(state(&life, next_day("07:10")), wanted, "{read}");
    }
}

#[test]
fn a_clear_look_ends_the_rest_and_never_makes_it_longer() {
    let early = life(vec![
        mixed(None),
        (at("23:00"), Happened::Looked(Seen::Clear)),
    ]);
    assert_eq!(early.clears_at, at("23:00"));
    let late = life(vec![
        mixed(None),
        (next_day("09:00"), Happened::Looked(Seen::Clear)),
    ]);
    assert_eq!(late.clears_at, next_day("06:30"));
}

#[test]
fn bubbles_extend_the_rest_only_once_it_was_due() {
    let early = life(vec![
        mixed(None),
        (at("23:00"), Happened::Looked(Seen::Bubbles)),
    ]);
    assert_eq!(early.clears_at, next_day("06:30"));
    let late = life(vec![
        mixed(None),
        (next_day("07:00"), Happened::Looked(Seen::Bubbles)),
    ]);
    assert_eq!(late.clears_at, next_day("10:00"));
    assert_eq!(state(&late, next_day("09:59")), State::Resting);
}

#[test]
fn stirring_starts_the_rest_anew_and_so_does_a_hard_thinning_alone() {
    let stirred = life(vec![
        mixed(None),
        (
            at("21:00"),
            Happened::Stirred {
                minutes: Minutes(4.0),
            },
        ),
    ]);
    assert_eq!(stirred.clears_at, next_day("09:00"));
    let hard = life(vec![mixed(None), thinned(at("21:00"), 3.0, true, None)]);
    assert_eq!(hard.clears_at, next_day("09:00"));
    let gentle = life(vec![mixed(None), thinned(at("21:00"), 3.0, false, None)]);
    assert_eq!(gentle.clears_at, next_day("06:30"));
}

#[test]
fn thinning_adds_to_the_cup_and_holds_for_the_interval() {
    let life = life(vec![
        mixed(None),
        (next_day("07:00"), Happened::Read(mound(3.6))),
        thinned(next_day("07:05"), 3.0, false, Some(2.4)),
    ]);
    assert_eq!(
        (life.left, life.thinner),
        (Millilitres(123.0), Millilitres(3.0))
    );
    assert_eq!(state(&life, next_day("08:05")), State::Ready);
    assert_eq!(state(&life, next_day("08:06")), State::Thick);
}

#[test]
fn after_a_thinning_without_a_reading_no_mound_is_claimed() {
    let life = life(vec![
        mixed(None),
        (next_day("07:00"), Happened::Read(mound(3.6))),
        thinned(next_day("07:05"), 3.0, false, None),
    ]);
    assert_eq!(life.mound(), None);
    // Nothing is ready on an expectation alone: it wants a reading, however long it stands.
    assert_eq!(state(&life, next_day("07:10")), State::Look);
    assert_eq!(state(&life, next_day("09:10")), State::Look);
}

#[test]
fn paint_that_is_added_is_other_paint_than_was_read() {
    let added = |reading: Option<f64>| {
        let what = Happened::Added {
            ml: Millilitres(60.0),
            from: PutFrom::Cup(2),
            thinner: Millilitres(9.0),
            reading: reading.map(mound),
        };
        life(vec![
            mixed(None),
            (next_day("07:00"), Happened::Read(mound(1.5))),
            thinned(next_day("07:05"), 20.0, false, Some(1.2)),
            (next_day("07:10"), what),
        ])
    };
    let unread = added(None);
    assert_eq!(state(&unread, next_day("07:11")), State::Look);
    assert_eq!((unread.mound(), unread.left), (None, Millilitres(200.0)));
    // By hand: 20 and 9 of the 120, 20 and 60 ml that ever went in.
    assert_eq!(unread.thinner, Millilitres(29.0));
    assert_eq!(unread.thinner_share(&cup()), Share(29.0 / 200.0));
    assert_eq!(state(&added(Some(2.4)), next_day("07:11")), State::Ready);
}

#[test]
fn an_activator_has_no_rest_and_is_ready_as_soon_as_it_was_read() {
    let life = Life::of(&cup(), &entries(vec![mixed(Some(2.2))]), waits(0));
    assert_eq!(
        life.state(at("18:30"), expected(&life), Some(WINDOW)),
        State::Ready
    );
    let unread = Life::of(&cup(), &entries(vec![mixed(None)]), waits(0));
    assert_eq!(
        unread.state(at("18:30"), expected(&unread), Some(WINDOW)),
        State::Look
    );
}

#[test]
fn a_medium_needs_no_reading() {
    let life = life(vec![mixed(None)]);
    assert_eq!(
        life.state(next_day("07:00"), expected(&life), None),
        State::Ready
    );
}

#[test]
fn it_is_spent_once_it_ended_or_nothing_is_left() {
    let drawn = |ml| {
        (
            next_day("07:00"),
            Happened::Drawn {
                ml: Millilitres(ml),
                into: DrawnInto::Pour(1),
            },
        )
    };
    assert_eq!(
        state(&life(vec![mixed(None), drawn(119.97)]), next_day("08:00")),
        State::Spent
    );
    assert_ne!(
        state(&life(vec![mixed(None), drawn(119.0)]), next_day("08:00")),
        State::Spent
    );
    let over = life(vec![mixed(None), drawn(130.0)]);
    assert_eq!(
        (over.left, state(&over, next_day("08:00"))),
        (Millilitres::ZERO, State::Spent)
    );
    let ended = life(vec![
        mixed(None),
        (at("19:00"), Happened::Ended(End::Skinned)),
    ]);
    assert_eq!(state(&ended, at("19:01")), State::Spent);
}

#[test]
fn a_clock_set_back_reorders_nothing_and_is_noticed() {
    let life = life(vec![
        mixed(None),
        (next_day("07:00"), Happened::Read(mound(3.6))),
        thinned(next_day("05:00"), 3.0, false, Some(2.4)),
    ]);
    assert!(life.clock_went_back);
    assert_eq!(
        (life.mound(), life.last_at),
        (Some(Seconds(2.4)), next_day("07:00"))
    );
    assert_eq!(state(&life, next_day("05:10")), State::Ready);
}

#[test]
fn an_entry_from_a_clock_far_ahead_counts_at_the_next_or_with_the_one_before() {
    let ahead = at("18:30") + TimeDelta::days(3650);
    let all = entries(vec![
        mixed(None),
        (ahead, Happened::Read(mound(2.6))),
        (next_day("08:00"), Happened::Read(mound(2.5))),
        (ahead, Happened::Read(mound(2.4))),
    ]);
    let instants = |now| -> Vec<Moment> {
        let seen = not_ahead(&all, now, unknown);
        seen.iter().map(|entry| entry.at).collect()
    };
    let now = next_day("08:10");
    assert_eq!(
        instants(now),
        [
            at("18:30"),
            next_day("08:00"),
            next_day("08:00"),
            next_day("08:00")
        ],
        "the last check holds for no longer than the one before it"
    );
    // Before any of them, all that is known is that it has happened: no check of them still holds.
    let long_ago = at("08:00") - TimeDelta::days(1);
    assert_eq!(instants(at("08:00")), [long_ago; 4]);
    // A wait that nothing bounds is not shortened.
    let alone = entries(vec![mixed(None)]);
    assert_eq!(not_ahead(&alone, at("08:00"), unknown)[0].at, at("08:00"));
    assert!(matches!(
        not_ahead(&all, ahead, unknown),
        std::borrow::Cow::Borrowed(_)
    ));
}

fn unknown(_: &Entry) -> Made {
    Made::default()
}

#[test]
fn what_was_written_of_other_cups_bounds_an_entry_from_a_clock_far_ahead() {
    let ahead = at("18:30") + TimeDelta::days(3650);
    let read = entries(vec![mixed(None), (ahead, Happened::Read(mound(2.6)))]);
    let now = next_day("09:00");
    let made = |after: &str, before: &str| Made {
        after: Some(next_day(after)),
        before: Some(next_day(before)),
    };
    // A check counts when it was made at the earliest, a wait when it began at the latest.
    let seen = not_ahead(&read, now, |_| made("08:10", "08:40"));
    assert_eq!(seen[1].at, next_day("08:10"));
    let stirred = entries(vec![
        mixed(None),
        (
            ahead,
            Happened::Stirred {
                minutes: Minutes(4.0),
            },
        ),
    ]);
    let seen = not_ahead(&stirred, now, |_| made("08:10", "08:40"));
    assert_eq!(seen[1].at, next_day("08:40"));
    // An entry of its own that follows bounds it more closely.
    let followed = entries(vec![
        mixed(None),
        (
            ahead,
            Happened::Stirred {
                minutes: Minutes(4.0),
            },
        ),
        (next_day("08:20"), Happened::Read(mound(2.4))),
    ]);
    let seen = not_ahead(&followed, now, |_| made("08:10", "08:40"));
    assert_eq!(seen[1].at, next_day("08:20"));
}

#[test]
fn an_entry_told_later_takes_its_place_in_time() {
    let mut all = entries(vec![
        mixed(None),
        thinned(next_day("07:30"), 3.0, false, Some(2.4)),
        (next_day("07:00"), Happened::Read(mound(3.6))),
    ]);
    all[2].backdated = true;
    let life = Life::of(&cup(), &all, waits(12));
    assert_eq!(
        (life.mound(), life.clock_went_back),
        (Some(Seconds(2.4)), false)
    );
}

fn anything() -> impl Strategy<Value = Happened> {
    let reading = proptest::option::of((0.1_f64..9.0).prop_map(mound));
    prop_oneof![
        (0.1_f64..9.0).prop_map(|s| Happened::Read(mound(s))),
        (0.0_f64..30.0).prop_map(|m| Happened::Stirred {
            minutes: Minutes(m)
        }),
        (0.1_f64..20.0, any::<bool>(), reading).prop_map(|(ml, hard, reading)| Happened::Thinned {
            ml: Millilitres(ml),
            with: None,
            hard,
            reading
        }),
        prop_oneof![Just(Seen::Clear), Just(Seen::Bubbles), Just(Seen::Gelled)]
            .prop_map(Happened::Looked),
        Just(Happened::Capped),
        Just(Happened::Opened),
        (0.1_f64..90.0).prop_map(|ml| Happened::Drawn {
            ml: Millilitres(ml),
            into: DrawnInto::Pour(1)
        }),
        prop_oneof![Just(End::Used), Just(End::Binned)].prop_map(Happened::Ended),
    ]
}

proptest! {
    #[test]
    fn its_state_is_always_defined_and_what_is_left_never_below_nothing(
        happened in proptest::collection::vec((-500_i64..5000, any::<bool>(), anything()), 0..30),
        later in -1000_i64..10_000,
    ) {
        let mut all = entries(vec![mixed(None)]);
        for (id, (minutes, backdated, what)) in (2_i64..).zip(happened) {
            all.push(Entry { id, at: at("18:30") + TimeDelta::minutes(minutes.max(0)), backdated, what });
        }
        let life = Life::of(&cup(), &all, waits(12));
        prop_assert!(life.left >= Millilitres::ZERO);
        let now = at("18:30") + TimeDelta::minutes(later);
        let state = life.state(now, expected(&life), Some(WINDOW));
        prop_assert_eq!(state == State::Spent, life.ended.is_some() || life.left.is_nothing());
    }

    #[test]
    fn where_the_clock_only_runs_forward_told_entries_fold_like_the_clocks_own(
        happened in proptest::collection::vec((1_i64..200, any::<bool>(), anything()), 0..30),
    ) {
        let mut minutes = 0;
        let mut by_clock = entries(vec![mixed(None)]);
        for (id, (gap, backdated, what)) in (2_i64..).zip(happened) {
            minutes += gap;
            by_clock.push(Entry { id, at: at("18:30") + TimeDelta::minutes(minutes), backdated, what });
        }
        let untold: Vec<_> = by_clock.iter().cloned().map(|one| Entry { backdated: false, ..one }).collect();
        prop_assert_eq!(Life::of(&cup(), &by_clock, waits(12)), Life::of(&cup(), &untold, waits(12)));
    }
}
