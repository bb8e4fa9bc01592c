//! What is being built survives a quit, and is offered again by the next screen.

use super::{Stage, keys, lines, shows, typed};
use chrono::TimeDelta;

fn stage() -> Stage {
    let mut stage = Stage::with_cups();
    stage.keeps_drafts = true;
    stage
}

#[test]
fn a_stack_and_its_moves_are_there_again_after_a_quit_until_they_are_poured() {
    let stage = stage();
    let mut built = keys("P p");
    built.extend(typed("30x40cm"));
    built.extend(keys("Enter a Enter Enter s Enter"));
    let mark = lines(&stage.play(built)).join(" ");
    assert!(mark.contains("30 x 40 cm"), "{mark}");
    let cells = stage.play([]);
    assert!(
        shows(&cells, "As you left it: the stack on the Pour"),
        "{:#?}",
        lines(&cells)
    );
    let cells = stage.play(keys("P"));
    assert!(
        shows(&cells, "30 x 40 cm") && shows(&cells, "spin"),
        "{:#?}",
        lines(&cells)
    );
    stage.play(keys("P g"));
    let pours = stage.studio().pours(None).unwrap();
    assert_eq!((pours.len(), pours[0].pour.moves.len()), (1, 1));
    let cells = stage.play([]);
    assert!(!shows(&cells, "As you left it"), "{:#?}", lines(&cells));
}

#[test]
fn a_half_filled_form_is_there_again_when_it_is_opened() {
    let stage = stage();
    let mut half = keys("m");
    half.extend(typed("riv"));
    half.extend(keys("Enter"));
    half.extend(typed("77 ml"));
    stage.play(half);
    let cells = stage.play([]);
    assert!(shows(&cells, "\"Mix a cup\""), "{:#?}", lines(&cells));
    let cells = stage.play(keys("m"));
    assert!(
        shows(&cells, "77 ml") && shows(&cells, "River blue"),
        "{:#?}",
        lines(&cells)
    );
    stage.play(keys("m Enter Enter"));
    let bench = stage.studio().bench(&stage.now).unwrap();
    let mixed = bench
        .iter()
        .find(|one| one.cup.volume.get() == 77.0)
        .unwrap();
    assert_eq!(mixed.recipe.name, "River blue");
    assert!(mixed.cup.mixed_at > stage.now.at - TimeDelta::minutes(1));
    let cells = stage.play([]);
    assert!(!shows(&cells, "As you left it"), "{:#?}", lines(&cells));
}

#[test]
fn drafts_are_no_part_of_the_history() {
    let stage = stage();
    let before = stage.studio().history(1000).unwrap().len();
    stage.play(keys("P a Enter Enter"));
    assert_eq!(stage.studio().history(1000).unwrap().len(), before);
}
