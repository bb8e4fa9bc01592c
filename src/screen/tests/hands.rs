//! Where the choice goes once a hand is done: never to the wrong cup.

use super::{Play, Stage, keys, lines, place, shows, typed};
use crate::trade::cup::Happened;
use chrono::TimeDelta;

fn all(parts: Vec<Vec<Play>>) -> Vec<Play> {
    parts.into_iter().flatten().collect()
}

/// Five cups that have cleared and want to be read, beside those of the day.
fn five_to_read() -> Stage {
    let stage = Stage::with_cups();
    for (place, mark) in ["C3", "C4", "C5", "C6", "C7"].into_iter().enumerate() {
        let ago = TimeDelta::hours(14) + TimeDelta::minutes(i64::try_from(place).unwrap());
        stage.mix("River blue", mark, -ago, None);
    }
    stage
}

fn reads(stage: &Stage, mark: &str) -> usize {
    let page = stage.studio().cup_page(mark, &stage.now).unwrap();
    let read = |what: &Happened| matches!(what, Happened::Read(_));
    page.entries.iter().filter(|one| read(&one.what)).count()
}

fn chosen(stage: &Stage, script: Vec<Play>) -> String {
    let cells = stage.play(script);
    let (_, y) = place(&cells, "›");
    lines(&cells)[usize::from(y)].clone()
}

// Item 1: five cups want a look, and each reading is written where it belongs. What was read as too thick wants thinner,
// and is still in hand; `n` leads on from it, and skips none where the choice has gone on already.
#[test]
fn cups_are_read_in_a_row_without_walking_and_each_reading_is_its_own() {
    let stage = five_to_read();
    let one = |seconds: &str| all(vec![keys("n r"), typed(seconds), keys("Enter")]);
    // K7 is thick, stands first and is in hand as the Bench opens: the first `n` does not lead past it.
    let script = all(vec![
        one("3.4"),
        one("2.4"),
        one("2.4"),
        one("2.4"),
        one("2.4"),
        one("2.4"),
    ]);
    stage.play(script);
    for mark in ["C3", "C4", "C5", "C6", "C7"] {
        assert_eq!(reads(&stage, mark), 1, "{mark}");
    }
    assert_eq!((reads(&stage, "K7"), reads(&stage, "B4")), (2, 1));
}

// What is thinned after a reading is the cup that was read.
#[test]
fn a_cup_that_was_read_as_too_thick_is_still_the_one_that_is_thinned() {
    let stage = five_to_read();
    let read = |stage: &Stage, more: &str| {
        let row = chosen(stage, all(vec![keys("n"), keys(more)]));
        let found = ["C3", "C4", "C5", "C6", "C7"];
        let found = found.into_iter().find(|mark| row.contains(mark));
        found.unwrap_or_else(|| panic!("{row}")).to_owned()
    };
    let first = read(&stage, "n");
    assert_eq!(read(&five_to_read(), "n r 3 . 4 Enter"), first);
    let cells = stage.play(keys("n n r 3 . 4 Enter t"));
    let title = format!("Thin {first}: read as 3.4 s");
    assert!(shows(&cells, &title), "{:#?}", lines(&cells));
    // One that wants nothing more lets the choice go; and `n` after it stays on the next.
    let stage = five_to_read();
    let next = read(&stage, "n r 2 . 4 Enter");
    assert_ne!(next, first);
    assert_eq!(read(&five_to_read(), "n r 2 . 4 Enter n"), next);
}

#[test]
fn the_next_that_wants_a_hand_is_one_key_from_every_place() {
    let stage = Stage::with_cups();
    for digit in ["1", "2", "3", "4", "5", "6", "7", "8"] {
        let script = keys(&format!("j j {digit} n"));
        let row = chosen(&stage, script);
        assert!(row.contains("K7"), "{digit}: {row}");
    }
    stage.play(keys("t Enter"));
    let stage = Stage::with_recipes();
    assert!(shows(&stage.play(keys("5 n")), "No cup wants a hand now"));
}

#[test]
fn a_cup_that_was_thinned_without_a_reading_is_still_in_hand_to_be_read() {
    let stage = five_to_read();
    let row = chosen(&stage, keys("n t 3 Enter"));
    let thinned = ["C3", "C4", "C5", "C6", "C7", "K7"];
    assert!(thinned.iter().any(|mark| row.contains(mark)), "{row}");
}

#[test]
fn a_removed_cup_leaves_its_neighbour_chosen_and_no_older_memory_returns() {
    let stage = Stage::with_cups();
    // A cup was mixed from K7's line; then the hand went to the last cup and ended it.
    let row = chosen(&stage, keys("l Enter End e b"));
    assert!(!row.contains("K7"), "{row}");
}

#[test]
fn after_an_undo_the_cup_that_came_back_is_chosen() {
    let stage = Stage::with_cups();
    let row = chosen(&stage, keys("j e b k u"));
    assert!(row.contains("B4"), "{row}");
}

// Item 2: three hundred cups, any of them in four keys.
#[test]
fn any_of_three_hundred_cups_is_chosen_in_four_keys_by_its_mark() {
    let stage = Stage::with_cups();
    let mut studio = stage.studio();
    let variant = studio.known([]).unwrap().newest("River blue").unwrap();
    let order =
        crate::studio::orders::MixOrder::of(variant, crate::trade::units::Millilitres(50.0));
    for _ in 0..297 {
        studio.mix(&order, &stage.now).unwrap();
    }
    let cups = studio.bench(&stage.now).unwrap();
    assert_eq!(cups.len(), 300);
    drop(studio);
    for cup in cups.iter().step_by(60) {
        let mark = cup.cup.mark.to_string();
        let script = all(vec![keys("/"), typed(&mark)]);
        assert!(script.len() <= 4, "{mark}");
        let row = chosen(&stage, script);
        assert!(row.contains(&format!(" {mark} ")), "{mark}: {row}");
    }
}

#[test]
fn what_a_code_reader_types_chooses_the_cup_and_its_enter_opens_nothing() {
    let stage = Stage::with_cups();
    let cells = stage.play(keys("/ a 3 Enter"));
    let (_, y) = place(&cells, "›");
    assert!(lines(&cells)[usize::from(y)].contains("A3"));
    assert!(!shows(&cells, "what happened"), "{:#?}", lines(&cells));
    // A key after it is the place's own again.
    let cells = stage.play(keys("/ a 3 r"));
    assert!(shows(&cells, "Read A3"), "{:#?}", lines(&cells));
}

#[test]
fn a_part_of_a_name_finds_its_line_on_every_list() {
    let stage = Stage::with_cups();
    let row = chosen(&stage, all(vec![keys("/"), typed("opener"), keys("Enter")]));
    assert!(row.contains("B4"), "{row}");
    let row = chosen(&stage, all(vec![keys("5 /"), typed("wat"), keys("Enter")]));
    assert!(row.contains("Water"), "{row}");
    let row = chosen(&stage, all(vec![keys("7 /"), typed("riv"), keys("Enter")]));
    assert!(row.contains("River blue"), "{row}");
    let cells = stage.play(all(vec![keys("/"), typed("zzz")]));
    assert!(
        shows(&cells, "nothing is called so"),
        "{:#?}",
        lines(&cells)
    );
}

// Item 15: what to do stands in the row, at every size.
#[test]
fn the_row_of_a_thick_cup_says_what_to_do_at_every_size() {
    let mut stage = Stage::with_cups();
    for size in [(50, 16), (80, 24), (160, 50)] {
        stage.size = size;
        let cells = stage.play([]);
        let (_, y) = place(&cells, "▲ thick   K7");
        let row = &lines(&cells)[usize::from(y)];
        let advised = stage.studio().cup_page("K7", &stage.now).unwrap().standing;
        let ml = advised.outlook.advice.unwrap().start_with.get();
        let shown = crate::trade::amount::show_volume(
            crate::trade::units::Millilitres(ml),
            crate::trade::amount::Measures::Metric,
        );
        assert!(row.contains(&format!("+{shown}, read again")), "{row}");
    }
}
