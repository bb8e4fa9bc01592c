//! Mixing and the first hour: what is typed, what is kept, what is said in its place.

use super::{Play, Stage, keys, lines, place, shows, typed};
use crate::screen::kit::keys::ctrl;
use crate::studio::CupStatus;
use ratatui::style::Modifier;

fn all(parts: Vec<Vec<Play>>) -> Vec<Play> {
    parts.into_iter().flatten().collect()
}

fn cups(stage: &Stage) -> Vec<CupStatus> {
    stage.studio().bench(&stage.now).unwrap()
}

#[test]
fn a_cup_like_the_last_is_two_keys() {
    let stage = Stage::with_cups();
    stage.play(keys("l Enter"));
    let cups = cups(&stage);
    let new = cups.iter().max_by_key(|cup| cup.cup.id).unwrap();
    assert_eq!(
        (cups.len(), new.title().as_str(), new.cup.volume.get()),
        (4, "Cell opener v1", 120.0)
    );
}

#[test]
fn a_cup_of_another_recipe_with_a_mound_is_nine_keys_beside_its_amount() {
    let stage = Stage::with_cups();
    let counted = [
        keys("m r i Enter"),
        keys("Tab"),
        typed("2.6"),
        keys("Enter"),
    ];
    assert!(counted.iter().flatten().count() <= 9);
    let [open, on, mound, keep] = counted;
    stage.play(all(vec![open, typed("80 ml"), on, mound, keep]));
    let cups = cups(&stage);
    let new = cups.iter().max_by_key(|cup| cup.cup.id).unwrap();
    assert_eq!(new.title(), "River blue v1");
    assert_eq!(new.cup.volume.get(), 80.0);
    assert_eq!(
        new.life
            .known
            .as_ref()
            .unwrap()
            .reading
            .mound()
            .unwrap()
            .get(),
        2.6
    );
}

#[test]
fn what_goes_in_is_shown_while_it_is_typed() {
    let stage = Stage::with_cups();
    let cells = stage.play(all(vec![keys("m r i Enter"), typed("90")]));
    assert!(
        shows(&cells, "30 ml") && shows(&cells, "60 ml"),
        "{:#?}",
        lines(&cells)
    );
    let (x, y) = place(&cells, "Blue paint");
    assert!(!cells[(x, y)].modifier.contains(Modifier::REVERSED));
}

#[test]
fn a_fault_is_said_beneath_its_field_and_what_was_typed_stays() {
    let stage = Stage::with_cups();
    let cells = stage.play(all(vec![keys("l"), typed("5 m3"), keys("Enter")]));
    let fault = place(&cells, "✗").1;
    assert_eq!(place(&cells, "5 m3").1 + 1, fault, "{:#?}", lines(&cells));
    assert_eq!(cups(&stage).len(), 3);
}

#[test]
fn what_the_studio_refuses_keeps_the_form_open() {
    let stage = Stage::with_cups();
    let script = all(vec![keys("l Tab Tab Tab"), typed("K7"), keys("Enter")]);
    let cells = stage.play(script);
    assert!(
        shows(&cells, "K7 is on a living cup"),
        "{:#?}",
        lines(&cells)
    );
    assert!(shows(&cells, "Mix a cup like B4"));
}

#[test]
fn an_empty_studio_greets_and_leads_to_the_first_cup() {
    let stage = Stage::empty();
    let cells = stage.play([]);
    for way in [
        "Mix your first cup",
        "Starter materials and recipes",
        "The demo",
    ] {
        assert!(shows(&cells, way), "{way}");
    }
    let foot = lines(&cells)[22..].join(" ");
    for key in ["t thin", "e end", "u undo"] {
        assert!(!foot.contains(key), "there is no cup yet: {foot}");
    }
    assert!(foot.contains("f first cup") && foot.contains("q quit"));
    let cells = stage.play(keys("f Enter Enter Enter Enter Enter Enter Enter"));
    assert_eq!(cups(&stage).len(), 0, "it is asked step by step");
    assert!(shows(&cells, "› mound") && shows(&cells, "Enter keep"));
    assert!(shows(&stage.play(keys("f")), "Enter next"));
    let cells = stage.play(keys("f Enter Enter Enter Enter Enter Enter Enter Enter"));
    assert_eq!(cups(&stage).len(), 1);
    assert!(
        shows(&cells, "Blue paint mix v1") && shows(&cells, "○ resting"),
        "{:#?}",
        lines(&cells)
    );
}

#[test]
fn what_was_typed_is_put_by_at_esc_and_offered_again_and_thrown_away_at_the_second() {
    let stage = Stage::with_cups();
    let left = || all(vec![keys("t"), typed("3.5"), keys("Esc")]);
    let cells = stage.play(left());
    assert!(shows(&cells, "Put by as typed"), "{:#?}", lines(&cells));
    assert!(!shows(&cells, "Thin K7"));
    let cells = stage.play(all(vec![left(), keys("t")]));
    assert!(shows(&cells, "3.5") && shows(&cells, "As you left it"));
    // Another cup's form is not this one's, and the second Esc throws it away.
    let cells = stage.play(all(vec![left(), keys("Down t")]));
    assert!(shows(&cells, "Thin B4") && !shows(&cells, "3.5"));
    let cells = stage.play(all(vec![left(), keys("t Esc t")]));
    assert!(shows(&cells, "Thin K7") && !shows(&cells, "3.5"));
    // What was not touched closes at once and without a word.
    let cells = stage.play(keys("t Tab Esc"));
    assert!(!shows(&cells, "Put by") && !shows(&cells, "Thin K7"));
}

#[test]
fn what_was_put_by_is_kept_with_one_key_and_then_gone() {
    let stage = Stage::with_cups();
    stage.play(all(vec![keys("l"), typed("70 ml"), keys("Esc l Enter")]));
    let held = cups(&stage)
        .iter()
        .map(|cup| cup.cup.volume.get())
        .fold(200.0, f64::min);
    assert_eq!((cups(&stage).len(), held), (4, 70.0));
}

#[test]
fn an_example_is_called_one_in_the_studio_s_measures_and_only_while_nothing_is_typed() {
    let stage = Stage::with_cups();
    assert!(!shows(&stage.play(keys("t")), "such as"));
    let empty = || vec![Play::Key(crate::screen::kit::keys::ctrl('u'))];
    let cells = stage.play(all(vec![keys("t"), empty()]));
    assert!(shows(&cells, "such as 3 ml"), "{:#?}", lines(&cells));
    stage.studio().set("measures", "us", &stage.now).unwrap();
    let cells = stage.play(all(vec![keys("t"), empty()]));
    assert!(shows(&cells, "such as 0.1 fl oz"), "{:#?}", lines(&cells));
}

/// What is shown once a text is typed at "really in" of 120 ml of River blue, and after Enter.
fn really_in(stage: &Stage, text: &str) -> [String; 2] {
    let script = || {
        let way = keys("Tab Tab Tab Tab Tab Tab Tab");
        vec![keys("m"), typed("river"), way, typed(text)]
    };
    [vec![], keys("Enter")].map(|last| {
        let mut script = script();
        script.push(last);
        let words = lines(&stage.play(all(script))).join(" ");
        words.split_whitespace().collect::<Vec<_>>().join(" ")
    })
}

#[test]
fn an_amount_alone_is_of_the_one_part_that_fits() {
    // 40 ml of paint and 80 ml of medium by the recipe.
    for (said, shown) in [
        ("33", "33 ml Blue paint 80 ml Medium"),
        ("90, 33", "33 ml Blue paint 90 ml Medium"),
        ("blue 33", "33 ml Blue paint 80 ml Medium"),
    ] {
        let stage = Stage::with_recipes();
        let [told, _] = really_in(&stage, said);
        assert!(told.contains(shown), "{told}");
        let total = if said.contains("90") { 123.0 } else { 113.0 };
        assert_eq!(cups(&stage)[0].cup.volume.get(), total);
    }
    // 60 ml may be either, 500 ml neither.
    for said in ["60", "500"] {
        let stage = Stage::with_recipes();
        let [_, told] = really_in(&stage, said);
        let asks = format!("it is not said what {said} is of: Blue paint 40 ml or Medium");
        assert!(told.contains(&asks), "{told}");
        assert!(cups(&stage).is_empty());
    }
}

#[test]
fn the_first_cup_is_asked_its_layer_and_is_called_by_its_paint() {
    let stage = Stage::empty();
    let mut script = keys("f");
    script.extend(typed("Snow white"));
    script.extend(keys("Enter Enter Enter Enter"));
    script.extend(typed("base"));
    script.extend(keys("Enter Enter Enter Enter"));
    let cells = stage.play(script);
    let cup = cups(&stage).pop();
    let made = cup.map(|cup| (cup.recipe.name, cup.recipe.layer.to_string()));
    let meant = ("Snow white mix".to_owned(), "base".to_owned());
    assert_eq!(made, Some(meant), "{:#?}", lines(&cells));
}

#[test]
fn a_demo_studio_says_on_each_screen_that_it_holds_examples() {
    for size in [(50, 16), (80, 24), (160, 50)] {
        let mut stage = Stage::with_cups();
        stage.size = size;
        assert!(!shows(&stage.play(keys("2")), "examples"));
        let now = stage.now;
        stage.studio().mark_examples(&now).unwrap();
        for screen in ["1", "2", "3", "4", "5", "6", "7", "8"] {
            let cells = stage.play(keys(screen));
            assert!(shows(&cells, "examples"), "{screen}: {:#?}", lines(&cells));
        }
    }
}

#[test]
fn a_field_that_is_left_with_a_fault_says_so_at_once() {
    // The parts of paint, the third field of the guided first cup.
    let script = vec![keys("f Enter Enter"), typed("many"), keys("Enter")];
    let cells = Stage::empty().play(all(script));
    let (_, fault) = place(&cells, "✗");
    let (_, field) = place(&cells, "› parts paint");
    assert_eq!(fault, field + 1, "{:#?}", lines(&cells));
}

#[test]
fn a_fault_stands_beneath_the_field_that_was_left_until_it_is_put_right() {
    let stage = Stage::with_recipes();
    let bad = |more: Vec<Play>| {
        let typed = vec![
            keys("m"),
            typed("river"),
            keys("Tab"),
            typed("5 m3"),
            keys("Tab"),
        ];
        let cells = stage.play(all(typed.into_iter().chain([more]).collect()));
        let line = |text| lines(&cells).iter().position(|line| line.contains(text));
        (line("✗"), line("  amount"), line("› mound"))
    };
    // The hands go on; the next field keeps what is typed in it.
    for more in [vec![], typed("2.6")] {
        let (fault, amount, mound) = bad(more);
        assert_eq!(fault, amount.map(|at| at + 1));
        assert!(mound > fault, "{fault:?} {mound:?}");
    }
    let mut right = keys("BackTab");
    right.push(Play::Key(ctrl('u')));
    right.extend(typed("90"));
    right.extend(keys("Tab"));
    assert_eq!(bad(right).0, None);
}

#[test]
fn keys_are_answered_while_the_demo_is_made() {
    let stage = Stage::empty();
    let cells = stage.play(keys("d"));
    assert!(
        shows(&cells, "The demo is being made: day "),
        "{:#?}",
        lines(&cells)
    );
    // A second press makes no second one, and a form opens meanwhile; elsewhere, since the first is still being made.
    let stage = Stage::empty();
    let cells = stage.play(keys("d d f"));
    assert!(shows(&cells, "Your first cup"), "{:#?}", lines(&cells));
    assert!(shows(&cells, "The demo is being made: day "));
}
