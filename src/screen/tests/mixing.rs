//! A plan's cups mixed part by part: each part is ticked off, and at the end of a cup it is mixed as the plan mixes it.

use super::plan::kept;
use super::{Play, Stage, key, keys, lines, shows};
use crate::studio::orders::PlanOrder;
use crate::trade::ids::RecipeId;
use crate::trade::panel::Panel;
use crate::trade::plan::Panels;
use crate::trade::units::{Millilitres, Millimetres};

/// The Plan, and its first cup up.
const BEGIN: &str = "L Space";

fn cups(stage: &Stage) -> usize {
    stage.studio().bench(&stage.now).unwrap().len()
}

/// By hand, as in `plan.rs`: 720 ml of 1 part paint and 2 of medium are 240 and 480 ml.
#[test]
fn each_part_is_ticked_off_and_the_cup_is_mixed_as_the_plan_mixes_it() {
    let stage = kept();
    let cells = stage.play(keys(BEGIN));
    assert!(shows(&cells, "1 of 2: 240 ml"), "{:#?}", lines(&cells));
    let ticked = format!("{BEGIN} Space");
    let cells = stage.play(keys(&ticked));
    assert!(shows(&cells, "2 of 2: 480 ml"), "{:#?}", lines(&cells));
    let cells = stage.play(keys(&format!("{ticked} Backspace")));
    assert!(shows(&cells, "1 of 2"), "{:#?}", lines(&cells));
    assert_eq!(cups(&stage), 0);
    let cells = stage.play(keys(&format!("{ticked} Space Space")));
    assert_eq!(cups(&stage), 1);
    assert!(shows(&cells, "on the lid"), "{:#?}", lines(&cells));
    let page = stage.studio().plans().unwrap().remove(0);
    assert!(page.cups[0].mark.is_some());
}

#[test]
fn a_key_that_is_held_ticks_one_part() {
    let stage = kept();
    let mut script = keys(BEGIN);
    script.extend((0..20).map(|_| Play::Bounce(key("Space"))));
    let cells = stage.play(script);
    assert!(shows(&cells, "1 of 2"), "{:#?}", lines(&cells));
    assert_eq!(cups(&stage), 0);
}

#[test]
fn what_is_in_the_cup_is_known_after_a_quit() {
    let mut stage = kept();
    stage.keeps_drafts = true;
    stage.play(keys(&format!("{BEGIN} Space")));
    let cells = stage.play([]);
    assert!(shows(&cells, "As you left it"), "{:#?}", lines(&cells));
    let cells = stage.play(keys(BEGIN));
    assert!(shows(&cells, "2 of 2"), "{:#?}", lines(&cells));
}

#[test]
fn a_cup_that_was_mixed_elsewhere_meanwhile_is_not_mixed_twice() {
    let stage = kept();
    let file = stage.file();
    let mut script = keys(&format!("{BEGIN} Space Space"));
    script.push(Play::Elsewhere(Box::new(move |now| {
        let mut studio = crate::studio::Studio::open(&file).unwrap();
        let plan = studio.plans().unwrap()[0].plan.id;
        studio.mix_from_plan(plan, now).unwrap();
    })));
    script.push(Play::Later(chrono::TimeDelta::seconds(1)));
    script.extend(keys("Space"));
    let cells = stage.play(script);
    assert!(shows(&cells, "✗ Not done"), "{:#?}", lines(&cells));
    assert_eq!(cups(&stage), 1);
}

/// A plan of two equal cups: 720 ml in cups of 360 ml.
fn two_cups() -> Stage {
    let stage = Stage::with_recipes();
    let mut studio = stage.studio();
    let mut recipes = studio.recipes().unwrap().into_iter();
    let river = recipes
        .find(|page| page.recipe.name == "River blue")
        .unwrap();
    let order = PlanOrder {
        panels: Panels {
            panel: Panel::parse("40x50cm").unwrap(),
            count: 2,
            edge: Millimetres::ZERO,
        },
        way: None,
        pour_at: None,
        film: Some(Millimetres(1.8)),
        recipes: vec![RecipeId(river.recipe.id)],
        holds: Some(Millilitres(360.0)),
        note: None,
        fresh: false,
    };
    studio.keep_plan(&order, &stage.now).unwrap();
    let plan = studio.plans().unwrap().remove(0);
    let planned: Vec<f64> = plan.cups.iter().map(|cup| cup.planned.get()).collect();
    assert_eq!(planned, [360.0, 360.0]);
    stage
}

#[test]
fn a_cup_that_was_begun_and_then_mixed_by_its_key_leaves_the_next_one_empty() {
    let stage = two_cups();
    let cells = stage.play(keys(&format!("{BEGIN} Space Esc m Space")));
    assert_eq!(cups(&stage), 1);
    assert!(shows(&cells, "1 of 2"), "{:#?}", lines(&cells));
}

#[test]
fn a_cup_that_was_mixed_elsewhere_is_not_mixed_as_the_one_after_it() {
    let stage = two_cups();
    let file = stage.file();
    let mut script = keys(&format!("{BEGIN} Space Space"));
    script.push(Play::Elsewhere(Box::new(move |now| {
        let mut studio = crate::studio::Studio::open(&file).unwrap();
        studio.mix_from_plan(1, now).unwrap();
    })));
    script.push(Play::Later(chrono::TimeDelta::seconds(1)));
    script.extend(keys("Space"));
    let cells = stage.play(script);
    assert_eq!(cups(&stage), 1);
    assert!(shows(&cells, "is the next by now"), "{:#?}", lines(&cells));
}
