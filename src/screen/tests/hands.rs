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

#[test]
fn mixings_taken_back_one_after_another_leave_the_cup_chosen_that_was() {
    let stage = Stage::with_cups();
    for before in ["", "j ", "j j "] {
        let was = chosen(&stage, keys(before.trim()));
        let back = format!("{before}l Enter l Enter u u");
        assert_eq!(chosen(&stage, keys(&back)), was, "{before}");
    }
}

// Nothing was drizzled, so nothing can have stayed.
#[test]
fn a_mound_never_fades_only_once_it_is_timed() {
    let stage = Stage::with_cups();
    let before = stage.studio().history(9).unwrap();
    let cells = stage.play(keys("w n"));
    assert!(
        shows(&cells, "Nothing was drizzled yet"),
        "{:#?}",
        lines(&cells)
    );
    assert_eq!(stage.studio().history(9).unwrap(), before);
}

#[test]
fn the_form_that_puts_an_entry_right_names_its_cup() {
    let stage = Stage::with_cups();
    for (keys_of_cup, mark) in [("", "K7"), ("/ a 3 Enter ", "A3")] {
        let cells = stage.play(keys(&format!("{keys_of_cup}Enter e")));
        assert!(
            shows(&cells, &format!("Put {mark} right")),
            "{:#?}",
            lines(&cells)
        );
    }
}

// Enter takes what was found; Esc leaves all as it was.
#[test]
fn who_leaves_a_search_has_the_cup_chosen_that_was() {
    let stage = Stage::with_cups();
    let was = chosen(&stage, keys("j"));
    let found = |last: &str| chosen(&stage, keys(&format!("j / a 3 {last}")));
    assert!(found("Enter").contains(" A3 "));
    assert_ne!(found("Enter"), was);
    assert_eq!(found("Esc"), was);
    assert_eq!(found("Backspace Backspace Esc"), was);
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
    let cells = stage.play(keys("/ a 3 Enter r"));
    assert!(shows(&cells, "Read A3"), "{:#?}", lines(&cells));
}

// A reader types the mark in capitals and Enter, all at once: no key of it is a deed, wherever it is held against.
#[test]
fn a_lid_that_is_read_is_jumped_to_from_every_place() {
    let stage = Stage::with_cups();
    for place in ["", "2", "3", "4", "5", "6", "7", "8", "H", "?"] {
        let script = all(vec![keys(place), vec![Play::Tick], keys("A 3 Enter")]);
        let row = chosen(&stage, script);
        assert!(row.contains("A3"), "{place}: {row}");
    }
    let cells = stage.play(keys("R 9 Enter"));
    assert!(
        shows(&cells, "No living cup is marked R9"),
        "{:#?}",
        lines(&cells)
    );
    // Where a text is typed it is the text.
    let cells = stage.play(keys("/ A 3 Enter r"));
    assert!(shows(&cells, "Read A3"), "{:#?}", lines(&cells));
}

// A mark that does not exist begins as one that does: what is typed after that is still the mark, and no deed.
#[test]
fn a_mark_that_matches_nothing_is_asked_on_and_what_is_typed_of_it_does_nothing() {
    let stage = Stage::with_cups();
    let before = stage.studio().history(99).unwrap();
    for typed in ["/ a 3 c Enter", "/ a 3 9 Enter", "/ a 3 c Enter c"] {
        let cells = stage.play(keys(typed));
        assert!(shows(&cells, "othing is called so"), "{:#?}", lines(&cells));
        assert_eq!(stage.studio().history(99).unwrap(), before, "{typed}");
    }
    let cells = stage.play(keys("/ a 3 9 Esc r"));
    assert!(shows(&cells, "Read K7"), "{:#?}", lines(&cells));
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

// A cup that wanted no hand was sought out: what is pressed next is meant for it.
#[test]
fn a_cup_that_was_read_though_it_wanted_no_hand_stays_in_hand() {
    let stage = Stage::with_cups();
    let row = chosen(&stage, keys("/ B 4 Enter r 1 . 5 Enter"));
    assert!(row.contains("B4"), "{row}");
    // Where the choice goes on by itself it says so.
    let stage = five_to_read();
    let cells = stage.play(keys("n n r 2 . 4 Enter"));
    assert!(shows(&cells, "In hand now: C"), "{:#?}", lines(&cells));
}

/// B4 ends on another bench.
fn ended_elsewhere(stage: &Stage) -> Play {
    let file = stage.file();
    Play::Elsewhere(Box::new(move |now| {
        let mut other = crate::studio::Studio::open(&file).unwrap();
        let cup = other.known([]).unwrap().cup("B4").unwrap();
        let order = crate::studio::orders::TendOrder::end(cup, crate::trade::cup::End::Used);
        other.tend(&order, now).unwrap();
    }))
}

#[test]
fn a_cup_that_ends_on_another_bench_hands_its_keys_to_no_neighbour() {
    for key in ["c", "b", "t", "e b"] {
        let stage = Stage::with_cups();
        let script = vec![
            keys("/ B 4 Enter"),
            vec![ended_elsewhere(&stage), Play::Tick],
        ];
        let cells = stage.play(all(vec![all(script), keys(key)]));
        assert!(
            shows(&cells, "has left the bench"),
            "{key}: {:#?}",
            lines(&cells)
        );
        let changes = stage.studio().history(1).unwrap();
        let last = format!("{:?}", changes[0]);
        assert!(last.contains("B4"), "{key}: {last}");
    }
    // Once a cup is chosen anew, keys are for it again.
    let stage = Stage::with_cups();
    let script = vec![
        keys("/ B 4 Enter"),
        vec![ended_elsewhere(&stage), Play::Tick],
    ];
    let cells = stage.play(all(vec![all(script), keys("r Down r")]));
    assert!(shows(&cells, "Read "), "{:#?}", lines(&cells));
}

/// The same key at once, as wet hands and worn keys do.
fn bounced(script: &str, key: &str) -> Vec<Play> {
    let again = keys(key).into_iter().map(|play| match play {
        Play::Key(key) => Play::Bounce(key),
        other => other,
    });
    keys(script).into_iter().chain(again).collect()
}

#[test]
fn a_key_that_bounces_answers_no_question() {
    let stage = Stage::with_cups();
    let before = stage.studio().history(99).unwrap();
    // Twenty-six seconds for 2.6: asked about, and the Enter that came twice does not keep it.
    let asked = stage.play(bounced("/ B 4 Enter r 2 6 Enter", "Enter"));
    assert!(shows(&asked, "Read B4"), "{:#?}", lines(&asked));
    assert_eq!(stage.studio().history(99).unwrap(), before);
    // What another screen did is not taken back by it either.
    let asked = stage.play(bounced("u", "u"));
    assert!(lines(&asked).join(" ").contains("u again takes that back"));
    assert_eq!(stage.studio().history(99).unwrap(), before);
    // A hand that means it is heard.
    stage.play(keys("/ B 4 Enter r 2 6 Enter Enter"));
    assert_eq!(reads(&stage, "B4"), 2);
}

// The footer promises what a key does now.
#[test]
fn a_clock_names_the_keys_that_answer() {
    let stage = Stage::with_cups();
    let begun = stage.play(keys("/ B 4 Enter w Space"));
    assert!(shows(&begun, "n never fades") && !shows(&begun, "k keep it"));
    let asked = stage.play(bounced("/ B 4 Enter w Space", "Space"));
    assert!(shows(&asked, "n never fades") && shows(&asked, "k keep it"));
    // What is asked about stands there in its digits, however long it is thought over.
    let thought = |seconds| {
        let ran = vec![Play::Later(TimeDelta::seconds(17))];
        let waited = vec![Play::Later(TimeDelta::seconds(seconds)), Play::Tick];
        let (begun, stopped) = (keys("/ B 4 Enter w Space"), keys("Space"));
        stage.play(all(vec![begun, ran, stopped, waited]))
    };
    let (stopped, later) = (thought(0), thought(9));
    let digits = |cells| {
        lines(cells)
            .into_iter()
            .filter(|line| line.contains("██"))
            .collect::<Vec<_>>()
    };
    assert_eq!(digits(&stopped), digits(&later));
    assert_ne!(digits(&stopped), digits(&stage.play(keys("/ B 4 Enter w"))));
    let stirred = stage.play(keys("/ B 4 Enter s"));
    assert!(shows(&stirred, "Space stop") && !shows(&stirred, "never fades"));
}

#[test]
fn a_clock_that_was_stopped_by_a_bounce_keeps_nothing_unasked() {
    let stage = Stage::with_cups();
    let before = reads(&stage, "B4");
    let cells = stage.play(bounced("/ B 4 Enter w Space", "Space"));
    assert!(shows(&cells, "k keeps it"), "{:#?}", lines(&cells));
    assert_eq!(reads(&stage, "B4"), before);
    // Timed anew, it is kept.
    let mut script = bounced("/ B 4 Enter w Space", "Space Space");
    script.push(Play::Later(TimeDelta::milliseconds(1500)));
    script.extend(keys("Space"));
    stage.play(script);
    assert_eq!(reads(&stage, "B4"), before + 1);
    stage.play(bounced("/ B 4 Enter w Space", "Space k"));
    assert_eq!(reads(&stage, "B4"), before + 2);
}

// What was left half-typed is shown again, and what is typed now is not glued to it.
#[test]
fn what_is_typed_into_a_form_that_was_left_replaces_what_stood_there() {
    let stage = Stage::with_cups();
    let back = stage.play(keys("r 3 Esc r"));
    assert!(shows(&back, "3"), "{:#?}", lines(&back));
    stage.play(keys("r 3 Esc r 4 . 4 Enter"));
    let page = stage.studio().cup_page("K7", &stage.now).unwrap();
    let read = page.standing.life.mound().unwrap();
    assert_eq!(read.get(), 4.4);
}

// Two was typed of a picture 12, or a mark that is spent: what begins so is another.
#[test]
fn a_mark_that_only_begins_another_is_not_taken_for_it() {
    let stage = Stage::with_cups();
    stage.mix("River blue", "K7A", TimeDelta::zero(), None);
    stage.play(keys("/ k 7 Enter e b"));
    let cells = stage.play(keys("/ k 7 Enter"));
    assert!(shows(&cells, "K7A begins so"), "{:#?}", lines(&cells));
    let cells = stage.play(keys("/ k 7 a Enter r"));
    assert!(shows(&cells, "Read K7A"), "{:#?}", lines(&cells));
}
