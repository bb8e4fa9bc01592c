//! The Bench's keys, from what was to what is.

use super::{Play, Stage, keys, lines, place, shows, typed};
use crate::screen::kit::look::Look;
use crate::studio::orders::MixOrder;
use crate::trade::cup::{Happened, Seen};
use crate::trade::life::State;
use crate::trade::mark::Mark;
use chrono::TimeDelta;
use ratatui::style::{Color, Modifier};

/// Whether keys leave the cup with the mark in a state.
fn state(stage: &Stage, mark: &str) -> State {
    stage
        .studio()
        .cup_page(mark, &stage.now)
        .unwrap()
        .standing
        .state
}

fn last(stage: &Stage, mark: &str) -> Happened {
    let page = stage.studio().cup_page(mark, &stage.now).unwrap();
    page.entries.last().unwrap().what.clone()
}

#[test]
fn without_a_key_it_says_what_the_hands_must_do_at_every_size() {
    let mut stage = Stage::with_cups();
    for size in [(50, 16), (80, 24), (120, 40), (160, 50)] {
        stage.size = size;
        let cells = stage.play([]);
        let head = lines(&cells)[..2].join(" ");
        assert!(head.contains("K7 has thickened: add"), "{head}");
        assert!(head.contains("B4 can be poured."), "{head}");
        let row = |mark| place(&cells, mark).1;
        assert!(row("▲ thick   K7") < row("● ready   B4"));
        assert!(row("● ready   B4") < row("○ resting A3"));
        assert!(
            shows(&cells, "19:00"),
            "when A3 clears: {:#?}",
            lines(&cells)
        );
    }
}

#[test]
fn a_wide_screen_has_the_chosen_cups_life_beside_it_and_a_narrow_one_on_enter() {
    let mut stage = Stage::with_cups();
    stage.size = (120, 40);
    assert!(shows(&stage.play([]), "what happened"));
    stage.size = (80, 24);
    assert!(!shows(&stage.play([]), "what happened"));
    let cells = stage.play(keys("Enter"));
    assert!(shows(&cells, "· mound 4.2 s"), "{:#?}", lines(&cells));
    assert!(shows(&cells, "80 ml  Medium"));
}

#[test]
fn states_differ_by_sign_and_word_and_colours_only_where_wanted() {
    let mut stage = Stage::with_cups();
    let cells = stage.play([]);
    let (x, y) = place(&cells, "▲ thick");
    assert_eq!(cells[(x, y)].fg, Color::Rgb(186, 90, 11));
    stage.look = Look::Plain;
    let cells = stage.play([]);
    let coloured = cells
        .content()
        .iter()
        .filter(|cell| cell.fg != Color::Reset)
        .count();
    let painted = cells
        .content()
        .iter()
        .filter(|cell| cell.bg != Color::Reset)
        .count();
    assert_eq!((coloured, painted), (0, 0));
    let (x, y) = place(&cells, "K7 ");
    let (x, y) = if y == 0 {
        place(&cells, "▲ thick")
    } else {
        (x, y)
    };
    let chosen = cells
        .content()
        .iter()
        .any(|cell| cell.modifier.contains(Modifier::REVERSED));
    assert!(chosen && cells[(x, y)].fg == Color::Reset);
}

#[test]
fn one_key_each_looks_lids_and_undoes() {
    let stage = Stage::with_cups();
    // A3 is the third: it rests.
    stage.play(keys("Down Down c"));
    assert_eq!(state(&stage, "A3"), State::Look);
    stage.play(keys("u u"));
    assert_eq!(state(&stage, "A3"), State::Resting);
    // What another run took back is done again at the second word. A capital waits for what a code reader may type after it.
    let mut again = keys("U");
    again.extend([Play::Tick, Play::Later(TimeDelta::seconds(1))]);
    again.extend(keys("U"));
    stage.play(again);
    assert_eq!(state(&stage, "A3"), State::Look);
    stage.play(keys("o"));
    let capped = |mark| {
        stage
            .studio()
            .cup_page(mark, &stage.now)
            .unwrap()
            .standing
            .life
            .capped
    };
    assert!(!capped("K7"));
    stage.play(keys("o"));
    assert!(capped("K7"));
}

#[test]
fn thinning_logs_the_amount_and_the_mound_after_it() {
    let stage = Stage::with_cups();
    stage.play(
        [
            keys("t"),
            typed("3"),
            keys("Tab"),
            typed("2,6"),
            keys("Enter"),
        ]
        .concat_plays(),
    );
    assert_eq!(state(&stage, "K7"), State::Ready);
    let Happened::Thinned {
        ml, hard, reading, ..
    } = last(&stage, "K7")
    else {
        panic!("not thinned")
    };
    let mound = reading.unwrap().mound().unwrap().get();
    assert_eq!((ml.get(), hard, mound), (3.0, false, 2.6));
}

#[test]
fn thinning_by_the_advised_amount_is_two_keys() {
    let stage = Stage::with_cups();
    let before = stage.studio().cup_page("K7", &stage.now).unwrap().standing;
    let advised = before.outlook.advice.unwrap().start_with.get();
    stage.play(keys("t Enter"));
    let Happened::Thinned { ml, .. } = last(&stage, "K7") else {
        panic!("not thinned")
    };
    // The form shows no more digits than a syringe has.
    assert!(
        (ml.get() - advised).abs() < 0.06,
        "{} for {advised}",
        ml.get()
    );
}

#[test]
fn a_mound_is_timed_with_three_keys() {
    let stage = Stage::with_cups();
    let mut script = keys("w Space");
    script.push(Play::Later(TimeDelta::milliseconds(4440)));
    script.extend(keys("Space"));
    stage.play(script);
    let Happened::Read(reading) = last(&stage, "K7") else {
        panic!("not read")
    };
    assert_eq!(reading.mound().unwrap().get(), 4.4);
}

#[test]
fn a_mound_that_never_fades_is_said_with_one_key_and_no_rest_is_promised() {
    let stage = Stage::with_cups();
    let cells = stage.play(keys("j j w Space n"));
    assert_eq!(last(&stage, "A3"), Happened::Looked(Seen::Gelled));
    assert_eq!(state(&stage, "A3"), State::Thick);
    let words = lines(&cells).join(" ");
    let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        words.contains("resting will not clear a gelled cup"),
        "{words}"
    );
    assert!(!words.contains("A3 clears"), "{words}");
    // The same where it is typed.
    stage.play([keys("r"), typed("never"), keys("Enter")].concat_plays());
    assert_eq!(state(&stage, "K7"), State::Thick);
}

// 3 h of 12: sqrt(18 x 23.1 Pa s x 60 mm / (1200 g x 3 h)) is 0.44 mm by hand, an order of magnitude.
#[test]
fn a_resting_cup_says_what_its_rest_goes_by_and_what_has_risen() {
    let stage = Stage::with_cups();
    let cells = stage.play(keys("j j"));
    let words = lines(&cells).join(" ");
    let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        words.contains(
            "rest, practice: clears after 12 h (5 to 29); bubbles over about 0.4 mm have risen"
        ),
        "{words}"
    );
}

#[test]
fn stirring_by_the_clock_logs_its_minutes_and_shows_big_digits() {
    let stage = Stage::with_cups();
    let mut script = keys("s");
    script.push(Play::Later(TimeDelta::seconds(245)));
    let cells = stage.play([]);
    assert!(!shows(&cells, "██"));
    let shown = keys("s")
        .into_iter()
        .chain([Play::Later(TimeDelta::seconds(245)), Play::Tick]);
    assert!(shows(&stage.play(shown), "██"));
    script.extend(keys("Enter"));
    stage.play(script);
    let Happened::Stirred { minutes } = last(&stage, "K7") else {
        panic!("not stirred")
    };
    assert_eq!(minutes.get(), 4.1);
}

#[test]
fn ending_asks_how_and_may_be_left() {
    let stage = Stage::with_cups();
    let cells = stage.play(keys("e"));
    assert!(shows(&cells, "How did K7 end?") && shows(&cells, "s skinned"));
    stage.play(keys("e Esc"));
    assert_eq!(state(&stage, "K7"), State::Thick);
    stage.play(keys("e b"));
    assert_eq!(state(&stage, "K7"), State::Spent);
}

/// Who goes away from the question has answered it; the next key back there must not end a cup.
#[test]
fn a_question_how_a_cup_ended_does_not_outlive_its_screen() {
    let stage = Stage::with_cups();
    let cells = stage.play(keys("e 2 1"));
    assert!(!shows(&cells, "How did K7 end?"), "{:#?}", lines(&cells));
    stage.play(keys("e 2 1 b"));
    assert_ne!(state(&stage, "K7"), State::Spent);
}

#[test]
fn the_history_shows_what_was_done_and_what_was_taken_back() {
    let stage = Stage::with_cups();
    let cells = stage.play(keys("c u h"));
    let back = place(&cells, "taken back:").1;
    assert!(lines(&cells)[usize::from(back)].contains("K7 looked: clear"));
}

#[test]
fn a_message_stays_until_the_next_key_that_does_something_and_is_kept() {
    let stage = Stage::with_cups();
    let said = "✓ K7 is";
    // A key that is bound to nothing here does nothing.
    assert!(shows(&stage.play(keys("o z")), said));
    assert!(!shows(&stage.play(keys("o Esc")), said));
    assert!(!shows(&stage.play(keys("o Down")), said));
    assert!(!shows(&stage.play(keys("o 3")), said));
    assert!(shows(&stage.play(keys("o Esc M")), "✓ K7 is"));
}

#[test]
fn what_was_refused_ends_by_itself_and_what_was_done_does_not() {
    let mut stage = Stage::with_recipes();
    let after = |stage: &Stage, script: &str, seconds| {
        let mut script = keys(script);
        script.push(Play::Later(TimeDelta::seconds(seconds)));
        script.push(Play::Tick);
        stage.play(script)
    };
    let said = "✗ Not done: There is no cup on the bench";
    assert!(shows(&after(&stage, "t", 9), said));
    assert!(!shows(&after(&stage, "t", 10), said));
    assert!(shows(&after(&stage, "t M", 10), said), "it is kept");
    stage = Stage::with_cups();
    assert!(shows(&after(&stage, "o", 30), "✓ K7 is"));
}

#[test]
fn a_narrow_footer_has_undo_and_more_and_says_how_many_cups_are_hidden() {
    let mut stage = Stage::with_cups();
    for mark in ["C3", "C4", "C5", "C6", "C7", "C9", "D3", "D4"] {
        stage.mix("River blue", mark, -TimeDelta::hours(3), None);
    }
    stage.size = (50, 16);
    let cells = stage.play([]);
    let foot = lines(&cells).pop().unwrap();
    for key in ["? more", "u undo", "m mix", "t thin", "r read", "w watch"] {
        assert!(foot.contains(key), "{key}: {foot}");
    }
    assert!(shows(&cells, "↓ "), "{:#?}", lines(&cells));
    let cells = stage.play(keys("j j j j j j j j j j j j"));
    assert!(
        shows(&cells, "↑ ") && !shows(&cells, "↓"),
        "{:#?}",
        lines(&cells)
    );
    stage.size = (80, 40);
    let cells = stage.play([]);
    assert!(!shows(&cells, "↓ ") && shows(&cells, "? help"));
}

#[test]
fn amounts_stand_under_one_another_in_fluid_ounces() {
    let stage = Stage::with_cups();
    let mut studio = stage.studio();
    studio.set("measures", "us", &stage.now).unwrap();
    let variant = studio.known([]).unwrap().newest("River blue").unwrap();
    let order = MixOrder {
        mark: Some(Mark::parse("Z9").unwrap()),
        ..MixOrder::of(variant, crate::trade::units::Millilitres(600.0))
    };
    studio.mix(&order, &stage.now).unwrap();
    let cells = stage.play([]);
    let ends = |mark: &str| {
        let (_, y) = place(&cells, &format!("{mark} "));
        let line = lines(&cells)[usize::from(y)].clone();
        line.find("fl oz").unwrap_or_else(|| panic!("{line}"))
    };
    assert_eq!(
        ends("resting A3"),
        ends("resting Z9"),
        "{:#?}",
        lines(&cells)
    );
}

#[test]
fn the_help_is_drawn_from_the_table() {
    let mut stage = Stage::with_cups();
    stage.size = (160, 50);
    let cells = stage.play(keys("?"));
    for binding in crate::screen::shell::keys::bindings(
        crate::screen::shell::keys::Context::Screen(crate::screen::Screen::Bench),
    ) {
        assert!(shows(&cells, binding.help), "{}", binding.help);
    }
}

trait Concat {
    fn concat_plays(self) -> Vec<Play>;
}

impl<const N: usize> Concat for [Vec<Play>; N] {
    fn concat_plays(self) -> Vec<Play> {
        self.into_iter().flatten().collect()
    }
}

#[test]
fn a_cup_taken_back_leaves_the_one_chosen_before_it_chosen() {
    let stage = Stage::with_cups();
    let chosen = |script: &str| {
        let cells = stage.play(keys(script));
        let (_, y) = place(&cells, "›");
        lines(&cells)[usize::from(y)].clone()
    };
    let mixed = chosen("Down l Enter");
    assert!(!mixed.contains("B4"), "{mixed}");
    stage.play(keys("u u"));
    let back = chosen("Down l Enter u");
    assert!(back.contains("B4"), "{back}");
}

#[test]
fn a_long_name_does_not_run_into_what_is_to_be_done_at_fifty_columns() {
    let mut stage = Stage::with_recipes();
    stage.mix("Cell opener", "C5", -TimeDelta::hours(30), None);
    stage.size = (50, 16);
    let cells = stage.play(keys("1"));
    let row = lines(&cells)
        .into_iter()
        .find(|line| line.contains("C5   "))
        .unwrap();
    assert!(
        row.contains("… read its mound") || row.contains("v1 read its mound"),
        "{row}"
    );
}

#[test]
fn a_cups_life_is_drawn_where_there_is_room() {
    let mut stage = Stage::with_cups();
    stage.size = (100, 44);
    let cells = stage.play(keys("Enter"));
    let all = lines(&cells);
    // Its reading and what is expected of it stand above its window's upper edge, which is drawn and named.
    let edge = all.iter().position(|line| line.contains(" 3.0 s ┄"));
    let edge = edge.unwrap_or_else(|| panic!("{all:#?}"));
    let read = all
        .iter()
        .position(|line| line.contains('●') && line.contains('░'));
    assert!(read.is_some_and(|read| read < edge), "{all:#?}");
    assert!(shows(&cells, "now") && shows(&cells, "● read"), "{all:#?}");
    assert!(
        all.iter()
            .any(|line| line.starts_with("rest ") && line.contains('■'))
    );
    stage.size = (80, 24);
    let small = stage.play(keys("Enter"));
    assert!(!shows(&small, "● read"), "what is written comes first");
    stage.size = (160, 50);
    let beside = stage.play(keys("j k"));
    assert!(shows(&beside, "● read") && shows(&beside, "wants a hand now"));
}
