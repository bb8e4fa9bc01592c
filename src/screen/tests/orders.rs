//! What a form's preview says is what its deed does; a guided cup is one change; both faces refuse alike.

use super::{Play, Stage, keys, lines, shows, typed};
use crate::screen::kit::keys::ctrl;
use crate::studio::CupStatus;
use crate::trade::cup::Happened;
use crate::trade::units::US_FLUID_OUNCE;

fn all(parts: Vec<Vec<Play>>) -> Vec<Play> {
    parts.into_iter().flatten().collect()
}

fn newest(stage: &Stage) -> CupStatus {
    let cups = stage.studio().bench(&stage.now).unwrap();
    cups.into_iter().max_by_key(|cup| cup.cup.id).unwrap()
}

fn written(stage: &Stage) -> usize {
    stage.studio().history(99).unwrap().len()
}

fn last_entry(stage: &Stage, mark: &str) -> Happened {
    let page = stage.studio().cup_page(mark, &stage.now).unwrap();
    page.entries.into_iter().next_back().unwrap().what
}

#[test]
fn an_amount_without_a_unit_is_previewed_as_it_is_mixed_in_us_measures() {
    let stage = Stage::with_cups();
    stage.studio().set("measures", "us", &stage.now).unwrap();
    let begun = || all(vec![keys("m"), typed("riv"), keys("Enter"), typed("6")]);
    // A third of 6 fl oz is paint.
    let cells = stage.play(begun());
    assert!(shows(&cells, "2 fl oz"), "{:#?}", lines(&cells));
    assert!(shows(&cells, "4 fl oz"), "{:#?}", lines(&cells));
    stage.play(all(vec![begun(), keys("Enter")]));
    let mixed = newest(&stage).cup.volume;
    assert!((mixed / US_FLUID_OUNCE - 6.0).abs() < 1e-4, "{mixed:?}");
}

#[test]
fn the_guided_first_cup_is_one_change_and_one_undo_takes_it_back() {
    let stage = Stage::empty();
    stage.play(keys("f Enter Enter Enter Enter Enter Enter Enter Enter"));
    assert_eq!(written(&stage), 1);
    stage.play(keys("u u"));
    let studio = stage.studio();
    assert!(studio.recipes().unwrap().is_empty());
    assert!(studio.materials().unwrap().is_empty());
    assert!(studio.bench(&stage.now).unwrap().is_empty());
}

#[test]
fn a_first_cup_that_is_refused_leaves_nothing_and_a_corrected_share_counts() {
    let stage = Stage::empty();
    // More than a cup holds; then the amount and the shares are put right.
    let wrong = all(vec![
        keys("f Enter Enter Enter Enter Enter Enter"),
        typed("90 l"),
        keys("Enter Enter"),
    ]);
    let cells = stage.play(wrong);
    assert_eq!(written(&stage), 0, "{:#?}", lines(&cells));
    assert!(stage.studio().materials().unwrap().is_empty());
    let right = all(vec![
        keys("f Enter Enter Enter Enter Enter Enter"),
        typed("90 l"),
        keys("Enter Enter BackTab BackTab BackTab BackTab"),
        typed("5"),
        keys("Enter Enter Enter"),
        vec![Play::Key(ctrl('u'))],
        typed("60 ml"),
        keys("Enter Enter"),
    ]);
    let cells = stage.play(right);
    let recipes = stage.studio().recipes().unwrap();
    assert_eq!(recipes.len(), 1, "{:#?}", lines(&cells));
    assert_eq!(recipes[0].parts[0][1].1, 5.0);
    assert_eq!(newest(&stage).cup.volume.get(), 60.0);
}

#[test]
fn a_stirring_of_nothing_or_of_more_than_a_day_is_refused_in_its_field() {
    let stage = Stage::with_cups();
    for time in ["0", "30 h"] {
        let before = written(&stage);
        let script = all(vec![keys("l Tab Tab"), typed(time), keys("Enter")]);
        let cells = stage.play(script);
        assert_eq!(written(&stage), before, "{:#?}", lines(&cells));
        assert!(shows(&cells, "is no time to stir"), "{:#?}", lines(&cells));
    }
}

#[test]
fn thinner_is_kept_to_the_microlitre_and_may_be_weighed() {
    let stage = Stage::with_cups();
    let water = crate::studio::MaterialOrder {
        density: Some(crate::trade::units::Density(0.8)),
        ..Default::default()
    };
    let mut studio = stage.studio();
    let id = studio.known([]).unwrap().material("Water").unwrap().id;
    let id = crate::trade::ids::MaterialId(id);
    studio.set_material(id, &water, &stage.now).unwrap();
    let thinned = |text: &str| {
        stage.play(all(vec![keys("t"), typed(text), keys("Enter")]));
        match last_entry(&stage, "K7") {
            Happened::Thinned { ml, .. } => ml.get(),
            other => panic!("{other:?}"),
        }
    };
    assert_eq!(thinned("1.23456 ml"), 1.235);
    // 2 g at 0.8 g/ml.
    assert_eq!(thinned("2 g"), 2.5);
}

#[test]
fn a_cup_like_an_older_one_keeps_to_its_variant() {
    let stage = Stage::with_recipes();
    stage.mix("River blue", "K7", -chrono::TimeDelta::hours(2), None);
    let order = crate::studio::RecipeOrder {
        parts: stage.parts(["Blue paint 1", "Medium 3"]),
        ..Default::default()
    };
    let mut studio = stage.studio();
    studio
        .change_recipe(stage.recipe("River blue"), &order, &stage.now)
        .unwrap();
    stage.play(keys("l Enter"));
    assert_eq!(newest(&stage).title(), "River blue v1");
}
