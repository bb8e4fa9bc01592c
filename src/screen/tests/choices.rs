//! A field that chooses a name takes none that was not meant: wrong data that nobody sees is the worst there is.

use super::{Play, Stage, keys, lines, place, shows, typed};
use crate::screen::kit::keys::ctrl;

fn all(parts: Vec<Vec<Play>>) -> Vec<Play> {
    parts.into_iter().flatten().collect()
}

fn empty() -> Vec<Play> {
    vec![Play::Key(ctrl('u'))]
}

/// The number of changes that were written, undone ones too.
fn written(stage: &Stage) -> usize {
    stage.studio().history(99).unwrap().len()
}

/// Plays a form through, and holds that nothing was written, that the text stands, and that the fault is beneath it.
fn refused(stage: &Stage, script: Vec<Vec<Play>>, text: &str, fault: &str) {
    let before = written(stage);
    let cells = stage.play(all(script));
    assert_eq!(written(stage), before, "{:#?}", lines(&cells));
    assert!(shows(&cells, fault), "{:#?}", lines(&cells));
    assert_eq!(place(&cells, text).1 + 1, place(&cells, fault).1);
}

#[test]
fn a_purchase_of_what_is_not_on_the_shelf_is_refused() {
    let stage = Stage::with_recipes();
    let script = vec![
        keys("S b BackTab BackTab"),
        typed("zzzz"),
        keys("Tab Tab"),
        typed("200 ml"),
        keys("Enter"),
    ];
    refused(&stage, script, "zzzz", "✗ is none of: Blue paint");
    // Not the one that was chosen before either, and a slip of the finger is told what is near it.
    let script = vec![
        keys("S b BackTab BackTab"),
        typed("med"),
        keys("Enter BackTab"),
        typed("Meduim"),
        keys("Tab Tab"),
        typed("200 ml"),
        keys("Enter"),
    ];
    refused(
        &stage,
        script,
        "Meduim",
        "✗ is none of them; near it: Medium",
    );
}

#[test]
fn a_text_that_is_no_cup_puts_none_on_the_stack() {
    let stage = Stage::with_cups();
    let script = all(vec![keys("P a"), typed("blue"), keys("Tab Enter")]);
    let cells = stage.play(script);
    assert!(shows(&cells, "✗ is none of"), "{:#?}", lines(&cells));
    assert!(shows(&stage.play(keys("P a Enter Enter")), "1 "));
    assert!(!shows(&cells, "1 K7") && !shows(&cells, "1 B4"));
}

#[test]
fn a_part_that_is_no_material_and_no_recipe_is_refused() {
    let stage = Stage::with_recipes();
    let script = vec![
        keys("C a"),
        typed("Moss"),
        keys("Tab Enter"),
        typed("Sunny"),
        keys("Tab"),
        typed("1"),
        keys("Enter"),
    ];
    refused(&stage, script, "Sunny", "✗ is none of");
}

#[test]
fn enter_stays_in_a_choice_that_fits_nothing_and_an_emptied_one_is_not_the_first_of_the_list() {
    let stage = Stage::with_cups();
    let cells = stage.play(all(vec![keys("m"), typed("zzzz"), keys("Enter")]));
    assert!(shows(&cells, "› recipe"), "{:#?}", lines(&cells));
    let script = vec![
        keys("m"),
        empty(),
        keys("Tab"),
        typed("80 ml"),
        keys("Enter"),
    ];
    let before = written(&stage);
    let cells = stage.play(all(script));
    assert_eq!(written(&stage), before);
    assert!(shows(&cells, "✗ is needed"), "{:#?}", lines(&cells));
}

#[test]
fn of_several_recipes_none_is_proposed_where_no_cup_lives() {
    let stage = Stage::with_recipes();
    let before = written(&stage);
    let cells = stage.play(keys("m Enter Enter Enter"));
    assert_eq!(written(&stage), before, "{:#?}", lines(&cells));
    stage.play(all(vec![keys("m"), typed("riv"), keys("Enter Enter")]));
    assert_eq!(written(&stage), before + 1);
}

#[test]
fn a_plan_by_a_recipe_that_is_none_is_refused() {
    let stage = Stage::with_recipes();
    let script = all(vec![
        keys("L a"),
        typed("40x50cm"),
        keys("Tab Tab Tab Tab Tab Tab"),
        typed("Sunny"),
        keys("Tab Enter"),
    ]);
    let cells = stage.play(script);
    assert!(shows(&cells, "✗ is none of"), "{:#?}", lines(&cells));
}
