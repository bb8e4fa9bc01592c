//! Cups that turn by themselves, and what another process writes.

use super::{Play, Stage, keys, shows, typed};
use crate::screen::shell::day_copy::DayCopy;
use crate::studio::RecipeOrder;
use crate::studio::orders::TendOrder;
use crate::trade::cup::Seen;
use chrono::TimeDelta;

#[test]
fn a_cup_that_turns_changes_within_one_tick_and_rings_once() {
    let stage = Stage::with_cups();
    // A3 was mixed at 07:00 and rests 12 h; it is 10:00.
    let later = |hours: i64, minutes| Play::Later(TimeDelta::minutes(60 * hours + minutes));
    let before = stage.play([later(8, 59), Play::Tick]);
    assert!(shows(&before, "○ resting A3"));
    let a3 = |said: &&String| said.contains("A3");
    assert_eq!(stage.heard.0.borrow().iter().filter(a3).count(), 0);
    let after = stage.play([
        later(8, 59),
        later(0, 1),
        Play::Tick,
        Play::Tick,
        later(0, 2),
        Play::Tick,
    ]);
    assert!(shows(&after, "◎ look    A3"));
    let heard = stage.heard.0.borrow();
    let rung: Vec<_> = heard.iter().filter(a3).collect();
    assert_eq!(rung.len(), 1, "{heard:?}");
    assert!(
        rung[0].contains("A3 is now look: should be clear since 19:00: read its mound"),
        "{rung:?}"
    );
}

#[test]
fn a_ready_cup_that_has_stood_too_long_rings_as_thick() {
    let stage = Stage::with_cups();
    // B4 was read at 09:40 and is looked at again after 60 min.
    let after = stage.play([
        Play::Later(TimeDelta::minutes(40)),
        Play::Later(TimeDelta::seconds(1)),
        Play::Tick,
    ]);
    assert!(shows(&after, "▲ thick   B4"));
    assert_eq!(stage.heard.0.borrow().len(), 1);
}

#[test]
fn what_another_process_writes_appears_and_does_not_ring() {
    let stage = Stage::with_cups();
    let file = stage.file();
    let look = move |now: &_| {
        let mut other = crate::studio::Studio::open(&file).unwrap();
        let cup = other.known([]).unwrap().cup("A3").unwrap();
        let order = TendOrder::look(cup, Seen::Clear);
        other.tend(&order, now).unwrap();
    };
    let after = stage.play([Play::Tick, Play::Elsewhere(Box::new(look)), Play::Tick]);
    assert!(shows(&after, "◎ look    A3"));
    assert!(stage.heard.0.borrow().is_empty());
}

#[test]
fn a_screen_that_stays_open_overnight_takes_each_days_copy() {
    let stage = Stage::with_cups();
    stage.play([Play::Later(TimeDelta::hours(12)), Play::Tick]);
    assert_eq!(crate::studio::copies(&stage.file()).unwrap().len(), 1);
    let night = [
        Play::Later(TimeDelta::hours(13)),
        Play::Tick,
        Play::Later(TimeDelta::hours(3)),
        Play::Tick,
        Play::Later(TimeDelta::hours(9)),
        Play::Tick,
    ];
    stage.play(night);
    assert_eq!(crate::studio::copies(&stage.file()).unwrap().len(), 2);
}

/// A studio of years is copied beside the work: the picture is there first, and no one leaves before the copy is whole.
#[test]
fn the_day_of_a_large_studio_begins_with_the_picture() {
    let stage = Stage::with_cups();
    grow(&stage);
    let begun = DayCopy::begin(&stage.studio(), &stage.now).unwrap();
    begun.expect("a copy beside the work").wait().unwrap();
    assert_eq!(crate::studio::copies(&stage.file()).unwrap().len(), 1);
    assert!(
        DayCopy::begin(&stage.studio(), &stage.now)
            .unwrap()
            .is_none()
    );
    let next_day = stage.play([Play::Later(TimeDelta::hours(24)), Play::Tick]);
    assert!(shows(&next_day, "K7"));
    assert_eq!(crate::studio::copies(&stage.file()).unwrap().len(), 2);
}

/// Makes the studio larger than what is copied at once.
fn grow(stage: &Stage) {
    let mut studio = stage.studio();
    let recipe = stage.recipe("River blue");
    for nth in 5..13 {
        let order = RecipeOrder {
            parts: stage.parts(["Blue paint 1", &format!("Medium {nth}")]),
            note: Some("x".repeat(100_000)),
            ..RecipeOrder::default()
        };
        studio.change_recipe(recipe, &order, &stage.now).unwrap();
    }
}

/// Nothing written down tells when K7 was read but that it was after ten: the screen saw how far the clock was out.
#[test]
fn a_reading_by_a_clock_ten_years_ahead_counts_from_when_this_screen_took_it() {
    let years = TimeDelta::days(3650);
    let state = |minutes| {
        let stage = Stage::with_cups();
        let read = [keys("/ k 7 Enter r"), typed("2.5"), keys("Enter")];
        let wait = [
            Play::Later(TimeDelta::minutes(5)),
            Play::Set(-years),
            Play::Later(TimeDelta::minutes(minutes)),
            Play::Tick,
        ];
        let ahead = [Play::Later(TimeDelta::minutes(40)), Play::Set(years)];
        let script = ahead.into_iter().chain(read.into_iter().flatten());
        stage.play(script.chain(wait))
    };
    // Read at 10:40, so that it is looked at again from 11:40 on.
    assert!(shows(&state(50), "● ready   K7"));
    assert!(shows(&state(56), "▲ thick   K7"));
}
