//! The Recipes' keys and cells: shares, targets, changes, and what the forms write.

use super::{Play, Stage, keys, lines, place, shows, typed};
use crate::screen::kit::look::Look;
use crate::studio::{RecipeOrder, RecipePage, TargetsOrder};
use crate::trade::recipe::LayerKind;
use crate::trade::units::{Minutes, Share};
use chrono::TimeDelta;
use ratatui::style::Color;

fn all(parts: Vec<Vec<Play>>) -> Vec<Play> {
    parts.into_iter().flatten().collect()
}

/// River blue v2 has 3 parts of medium where v1 had 2.
fn stage() -> Stage {
    let stage = Stage::with_recipes();
    let order = RecipeOrder {
        parts: stage.parts(["Blue paint 1", "Medium 3"]),
        ..RecipeOrder::default()
    };
    let mut studio = stage.studio();
    studio
        .change_recipe(stage.recipe("River blue"), &order, &stage.now)
        .unwrap();
    stage
}

fn page(stage: &Stage, name: &str) -> RecipePage {
    let pages = stage.studio().recipes().unwrap();
    pages
        .into_iter()
        .find(|page| page.recipe.name == name)
        .unwrap()
}

#[test]
fn the_chosen_recipe_has_a_bar_for_each_part_at_every_size_without_colour() {
    let mut stage = stage();
    stage.look = Look::Plain;
    for size in [(50, 16), (80, 24), (160, 50)] {
        stage.size = size;
        // Cell opener, River blue.
        let cells = stage.play(keys("C Down"));
        assert!(
            lines(&cells)[0].starts_with("m mixes River blue v2: 1 Blue paint to 3 Medium."),
            "{:#?}",
            lines(&cells)
        );
        let words = lines(&cells).join(" ");
        let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
        for told in [
            "25 % Blue paint",
            "75 % Medium",
            "mound 2 to 3 s",
            "rests 12 h",
            "changed of v1: Medium 2 to 3",
        ] {
            assert!(words.contains(told), "{told}: {:#?}", lines(&cells));
        }
        let bars = lines(&cells).into_iter().filter(|line| line.contains('■'));
        let bars: Vec<_> = bars.map(|line| line.matches('■').count()).collect();
        assert_eq!((bars.len(), bars[1]), (2, 3 * bars[0]));
        assert!(cells.content().iter().all(|cell| cell.fg == Color::Reset));
    }
}

#[test]
fn a_new_recipe_is_typed_part_after_part_with_as_many_as_it_needs() {
    let stage = stage();
    let script = all(vec![
        keys("C a"),
        typed("Moss"),
        keys("Tab"),
        typed("base"),
        keys("Enter"),
        typed("blue p"),
        keys("Enter"),
        typed("2"),
        keys("Tab"),
        typed("medi"),
        keys("Enter"),
        typed("1,5"),
        keys("Tab"),
        typed("wat"),
        keys("Enter"),
        typed("0.5"),
        keys("Enter"),
    ]);
    let cells = stage.play(script);
    let moss = page(&stage, "Moss");
    assert_eq!(moss.recipe.layer, LayerKind::Base, "{:#?}", lines(&cells));
    let parts = [("Blue paint", 2.0), ("Medium", 1.5), ("Water", 0.5)];
    let parts: Vec<_> = parts
        .iter()
        .map(|(name, share)| ((*name).to_owned(), *share))
        .collect();
    assert_eq!(moss.parts[0], parts);
    // What was left empty is as usual for a base coat: common practice.
    assert_eq!(moss.variants[0].targets.rest, TimeDelta::hours(12));
    assert!(lines(&cells)[0].starts_with("m mixes Moss v1"));
}

#[test]
fn what_is_typed_is_shown_as_bars_beside_it() {
    let mut stage = stage();
    stage.size = (120, 30);
    let script = all(vec![
        keys("C a Tab Enter"),
        typed("blue p"),
        keys("Enter"),
        typed("1"),
        keys("Tab"),
        typed("medi"),
        keys("Enter"),
        typed("4"),
    ]);
    let cells = stage.play(script);
    assert!(
        shows(&cells, "■■········  20 % Blue paint"),
        "{:#?}",
        lines(&cells)
    );
    assert!(shows(&cells, "■■■■■■■■··  80 % Medium"));
}

#[test]
fn a_change_is_prefilled_and_makes_a_variant_that_remembers_its_parent() {
    let stage = stage();
    let unchanged = stage.play(keys("C Down e Enter Enter"));
    assert!(
        shows(
            &unchanged,
            "nothing was asked for that differs from River blue v2"
        ),
        "{:#?}",
        lines(&unchanged)
    );
    // Part 1, share 1, part 2, share 2.
    let script = all(vec![
        keys("C Down e Tab Tab Tab"),
        typed("2.5"),
        keys("Enter"),
    ]);
    let cells = stage.play(script);
    assert!(
        shows(
            &cells,
            "✓ River blue v3 is written down; changed of v2: Medium 3 to 2.5"
        ),
        "{:#?}",
        lines(&cells)
    );
    let blue = page(&stage, "River blue");
    assert_eq!(
        (blue.variants.len(), blue.variants[2].parent),
        (3, Some(blue.variants[1].id))
    );
    assert_eq!(blue.variants[2].targets, blue.variants[1].targets);
}

#[test]
fn targets_are_offered_as_one_says_them() {
    let stage = stage();
    let targets = TargetsOrder {
        limit: Some(Share(0.07)),
        stir: Some(Minutes(100.0 / 60.0)),
        ..TargetsOrder::default()
    };
    let order = RecipeOrder {
        targets,
        ..RecipeOrder::default()
    };
    let mut studio = stage.studio();
    studio
        .change_recipe(stage.recipe("River blue"), &order, &stage.now)
        .unwrap();
    let cells = stage.play(keys("C Down e"));
    let offered = |field: &str| lines(&cells)[usize::from(place(&cells, field).1)].clone();
    assert!(
        offered("  thinner ").ends_with(" 7%"),
        "{:#?}",
        lines(&cells)
    );
    assert!(offered("  stir ").ends_with(" 100 s"));
}

#[test]
fn faults_are_said_in_their_fields() {
    let stage = stage();
    let cells = stage.play(all(vec![keys("C Down e Tab"), typed("0"), keys("Enter")]));
    let fault = place(&cells, "✗ \"0\" is no number of parts above nothing").1;
    assert_eq!(place(&cells, "share 1").1 + 1, fault);
    let cells = stage.play(all(vec![
        keys("C a"),
        typed("Moss"),
        keys("Tab Tab Tab Enter"),
    ]));
    assert_eq!(
        place(&cells, "✗ a recipe needs at least one part").1,
        place(&cells, "› part 1").1 + 1
    );
    assert_eq!(stage.studio().recipes().unwrap().len(), 2);
}

#[test]
fn the_chosen_recipe_is_mixed_in_two_keys() {
    let stage = stage();
    let cells = stage.play(keys("C Down m"));
    assert!(shows(&cells, "Mix a cup") && shows(&cells, "River blue"));
    stage.play(keys("C Down m Enter"));
    let cups = stage.studio().bench(&stage.now).unwrap();
    assert_eq!(cups.len(), 1);
    assert_eq!(cups[0].title(), "River blue v2");
}

#[test]
fn the_page_has_every_variant_newest_first() {
    let stage = stage();
    let cells = stage.play(keys("C Down Enter"));
    let shown = lines(&cells);
    let at = |start: &str| shown.iter().position(|line| line.starts_with(start));
    assert!(at("v2, ").unwrap() < at("v1, ").unwrap());
    assert!(shows(&cells, "changed of v1: Medium 2 to 3") && shows(&cells, "67 %  Medium (2)"));
}

#[test]
fn without_a_recipe_it_says_how_to_begin() {
    let stage = Stage::empty();
    let cells = stage.play(keys("C m"));
    assert!(lines(&cells)[0].starts_with("There is no recipe yet: a writes one down."));
    assert!(shows(&cells, "✗ Not done: There is no recipe yet"));
}
