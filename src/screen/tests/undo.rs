//! `u` takes back what was done here, and by this terminal.

use super::{Play, Stage, keys, lines, shows, typed};
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
