//! `u` takes back what was done here, and by this terminal.

use super::{Play, Stage, keys, lines, shows, typed};
use crate::screen::kit::keys::ctrl;
use crate::studio::Studio;
use crate::studio::orders::TendOrder;
use crate::trade::cup::Seen;

fn all(parts: Vec<Vec<Play>>) -> Vec<Play> {
    parts.into_iter().flatten().collect()
}

fn changes(stage: &Stage) -> usize {
    stage.studio().history(99).unwrap().len()
}

/// Another terminal sees A3 clear.
fn elsewhere(stage: &Stage) -> Play {
    let file = stage.file();
    Play::Elsewhere(Box::new(move |now| {
        let mut other = Studio::open(&file).unwrap();
        let cup = other.known([]).unwrap().cup("A3").unwrap();
        let order = TendOrder::look(cup, Seen::Clear);
        other.tend(&order, now).unwrap();
    }))
}

#[test]
fn with_two_terminals_each_takes_back_its_own_last_deed() {
    let stage = Stage::with_cups();
    let script = all(vec![keys("o"), vec![elsewhere(&stage)], keys("u")]);
    let cells = stage.play(script);
    assert!(shows(&cells, "taken back: K7"), "{:#?}", lines(&cells));
}

#[test]
fn another_terminals_deed_is_named_and_taken_back_only_at_the_second_word() {
    let stage = Stage::with_cups();
    let before = changes(&stage);
    let cells = stage.play(all(vec![vec![elsewhere(&stage)], keys("u")]));
    let said = lines(&cells).join(" ");
    assert!(said.contains("On another bench"), "{said}");
    assert_eq!(changes(&stage), before + 1, "only what was done elsewhere");
    let stage = Stage::with_cups();
    let cells = stage.play(all(vec![vec![elsewhere(&stage)], keys("u u")]));
    assert!(shows(&cells, "taken back: A3"), "{:#?}", lines(&cells));
}

#[test]
fn on_the_pour_the_stack_is_taken_back_step_by_step_before_the_logbook() {
    let stage = Stage::with_cups();
    let before = changes(&stage);
    let build = || {
        all(vec![
            keys("P p"),
            typed("30x40cm"),
            keys("Enter a Enter"),
            keys("Enter s Enter"),
        ])
    };
    let cells = stage.play(build());
    assert!(shows(&cells, "then spin"), "{:#?}", lines(&cells));
    let cells = stage.play(all(vec![build(), keys("u")]));
    assert!(!shows(&cells, "then spin") && shows(&cells, "› 1 "));
    let cells = stage.play(all(vec![build(), keys("u u")]));
    assert!(!shows(&cells, "› 1 ") && shows(&cells, "30 x 40 cm"));
    let cells = stage.play(all(vec![build(), keys("u u u")]));
    assert!(shows(&cells, "no panel yet"), "{:#?}", lines(&cells));
    assert_eq!(changes(&stage), before);
}

#[test]
fn after_a_pour_is_taken_back_its_stack_and_moves_are_in_hand_again() {
    let stage = Stage::with_cups();
    let script = all(vec![
        keys("P p"),
        typed("30x40cm"),
        keys("Enter a Enter"),
        keys("Enter s Enter g"),
    ]);
    let poured = stage.play(script);
    assert!(!shows(&poured, "then spin"), "{:#?}", lines(&poured));
    let stage = Stage::with_cups();
    let script = all(vec![
        keys("P p"),
        typed("30x40cm"),
        keys("Enter a Enter"),
        keys("Enter s Enter g u"),
    ]);
    let cells = stage.play(script);
    assert!(shows(&cells, "then spin"), "{:#?}", lines(&cells));
}

/// A panel, a cup, a spin, poured.
fn poured() -> Vec<Play> {
    all(vec![
        keys("P p"),
        typed("30x40cm"),
        keys("Enter a Enter 2 0 Enter s Enter g"),
    ])
}

// What lies on the panel is not in hand too.
#[test]
fn a_start_over_that_is_taken_back_leaves_the_first_pour_and_gives_no_stack() {
    let stage = Stage::with_cups();
    let cells = stage.play(all(vec![poured(), keys("o u")]));
    assert!(
        shows(&cells, "taken back: started over pour 1"),
        "{:#?}",
        lines(&cells)
    );
    assert!(!shows(&cells, "› 1 "), "{:#?}", lines(&cells));
    assert_eq!(stage.studio().pours(None).unwrap().len(), 1);
    // A second u takes the first back, and that one gives it.
    let cells = stage.play(keys("P u"));
    assert!(
        !shows(&cells, "› 1 "),
        "another run of the program poured it"
    );
    let stage = Stage::with_cups();
    let cells = stage.play(all(vec![poured(), keys("o u u")]));
    assert!(
        shows(&cells, "taken back: poured on"),
        "{:#?}",
        lines(&cells)
    );
    assert!(shows(&cells, "› 1 ") && shows(&cells, "then spin"));
    assert!(stage.studio().pours(None).unwrap().is_empty());
}

#[test]
fn a_stack_that_came_back_is_taken_back_step_by_step_and_then_asked_about() {
    let stage = Stage::with_cups();
    let cells = stage.play(all(vec![poured(), keys("u u")]));
    assert!(!shows(&cells, "then spin") && shows(&cells, "› 1 "));
    let before = changes(&stage);
    let cells = stage.play(all(vec![poured(), keys("u u u u u")]));
    assert!(lines(&cells).join(" ").contains("u again takes that back"));
    assert_eq!(
        changes(&stage),
        before + 2,
        "the pour, and that it was taken back"
    );
}

#[test]
fn a_pour_that_is_done_again_takes_its_stack_out_of_hand() {
    for (more, then) in [("u U", ""), ("u u 1 U", "2")] {
        let cells = Stage::with_cups().play(all(vec![poured(), keys(more)]));
        assert!(shows(&cells, "done again"), "{:#?}", lines(&cells));
        let stage = Stage::with_cups();
        let cells = stage.play(all(vec![poured(), keys(more), keys(then)]));
        assert!(!shows(&cells, "› 1 "), "{:#?}", lines(&cells));
        assert_eq!(stage.studio().pours(None).unwrap().len(), 1);
    }
}

// A move written down by mistake is put right where it is shown, not by the history alone.
#[test]
fn moves_of_the_pour_just_made_are_struck_and_changed_on_the_pour() {
    let stage = Stage::with_cups();
    let done = |more: &str| all(vec![poured(), keys("t Enter"), keys(more)]);
    let cells = stage.play(done("Backspace"));
    let moves = |stage: &Stage| {
        let pours = stage.studio().pours(None).unwrap();
        let moves = pours.last().unwrap().pour.moves.iter();
        moves.map(|one| one.written()).collect::<Vec<_>>()
    };
    assert_eq!(moves(&stage), ["spin right 1"]);
    assert!(
        shows(&cells, ": spin clockwise, 1 turn; not judged yet"),
        "{:#?}",
        lines(&cells)
    );
    let stage = Stage::with_cups();
    let cells = stage.play(done("Backspace Backspace Backspace"));
    assert!(moves(&stage).is_empty());
    assert!(shows(&cells, "No move is written down that could go"));
    // Any of them, in the form that puts the pour right.
    let stage = Stage::with_cups();
    let change = all(vec![
        done("E Down Down Down"),
        vec![Play::Key(ctrl('u'))],
        typed("swipe left; Spin left 2"),
        keys("Enter"),
    ]);
    stage.play(change);
    assert_eq!(moves(&stage), ["swipe left", "spin left 2"]);
    let wrong = all(vec![
        keys("P E Down Down Down"),
        typed(", shake"),
        keys("Enter"),
    ]);
    let cells = stage.play(wrong);
    assert!(
        shows(&cells, "shake is nothing done with a panel"),
        "{:#?}",
        lines(&cells)
    );
}

// A cup marked by mistake yesterday is not what `u` means today, unless it is said twice.
#[test]
fn what_was_done_before_this_screen_was_opened_is_named_and_taken_back_only_at_the_second_word() {
    let stage = Stage::with_cups();
    stage.play(keys("o"));
    let before = changes(&stage);
    let cells = stage.play(keys("u"));
    let said = lines(&cells).join(" ");
    assert!(
        said.contains("Before that") && said.contains("K7"),
        "{said}"
    );
    assert_eq!(changes(&stage), before);
    let cells = stage.play(keys("u u"));
    assert!(shows(&cells, "taken back: K7"), "{:#?}", lines(&cells));
}

// What was done last is taken back first, wherever it was done.
#[test]
fn a_deed_that_was_written_down_after_the_stack_was_built_is_taken_back_before_it() {
    let stage = Stage::with_cups();
    let build = || all(vec![keys("P p"), typed("30x40cm"), keys("Enter a Enter")]);
    let before = changes(&stage);
    let script = || all(vec![build(), keys("Enter B / B 4 Enter o P")]);
    let cells = stage.play(script());
    assert_eq!(changes(&stage), before + 1, "{:#?}", lines(&cells));
    let stage = Stage::with_cups();
    let cells = stage.play(all(vec![script(), keys("u")]));
    assert!(shows(&cells, "taken back: B4 lid"), "{:#?}", lines(&cells));
    assert!(shows(&cells, "› 1 ") && shows(&cells, "30 x 40 cm"));
    // And then the stack, step by step, before anything older is asked about.
    let stage = Stage::with_cups();
    let cells = stage.play(all(vec![script(), keys("u u")]));
    assert!(!shows(&cells, "› 1 ") && shows(&cells, "30 x 40 cm"));
    let stage = Stage::with_cups();
    let cells = stage.play(all(vec![script(), keys("u u u u")]));
    assert!(lines(&cells).join(" ").contains("u again takes that back"));
}

// What was taken back elsewhere, or is of the logbook while a stack is built, is done again only at the second word.
#[test]
fn a_redo_asks_where_it_is_not_simply_the_undo_turned_round() {
    let stage = Stage::with_cups();
    let file = stage.file();
    let undone = Play::Elsewhere(Box::new(move |now| {
        Studio::open(&file).unwrap().undo(now).unwrap();
    }));
    let before = changes(&stage);
    let cells = stage.play(all(vec![vec![undone], keys("U")]));
    assert!(
        lines(&cells).join(" ").contains("U again does again"),
        "{:#?}",
        lines(&cells)
    );
    assert_eq!(changes(&stage), before + 1, "only what was done elsewhere");
    let cells = stage.play(all(vec![keys("o u U")]));
    assert!(shows(&cells, "done again: K7"), "{:#?}", lines(&cells));
    let script = all(vec![
        keys("o u P p"),
        typed("30x40cm"),
        keys("Enter a Enter Enter u U"),
    ]);
    let cells = stage.play(script);
    assert!(
        lines(&cells).join(" ").contains("no steps of a stack"),
        "{:#?}",
        lines(&cells)
    );
}
