//! The Shelf's keys and cells: packs, days, prices, dangers, and what the forms write.

use super::{Play, Stage, keys, lines, place, shows, typed};
use crate::screen::kit::look::Look;
use crate::studio::ShelfLine;
use crate::studio::orders::{Bought, BoughtOrder, CountedOrder, MaterialOrder, RecipeOrder};
use crate::trade::ids::MaterialId;
use crate::trade::instant::Now;
use crate::trade::material::MaterialKind;
use crate::trade::recipe::LayerKind;
use crate::trade::text::inert;
use crate::trade::units::Millilitres;
use chrono::TimeDelta;
use ratatui::style::Color;
use rust_decimal::Decimal;

fn all(parts: Vec<Vec<Play>>) -> Vec<Play> {
    parts.into_iter().flatten().collect()
}

/// 250 ml packs of a red with cadmium at 8.90; a cup of 120 ml mixed yesterday took 40 ml of the blue.
fn stage() -> Stage {
    let stage = Stage::with_recipes();
    let mut studio = stage.studio();
    studio.set("currency", "EUR", &stage.now).unwrap();
    let red = MaterialOrder {
        kind: Some(MaterialKind::Paint),
        pack_ml: Some(Millilitres(250.0)),
        price: Some(Decimal::new(890, 2)),
        colour_index: Some("PR108".to_owned()),
        hazard: Some("harmful dust".to_owned()),
        ..MaterialOrder::default()
    };
    let red = studio.add_material("Sun red", &red, &stage.now).unwrap();
    let two = BoughtOrder::packs(MaterialId(red.id), 2.0);
    studio.bought(&two, &stage.now).unwrap();
    stage
}

fn line(stage: &Stage, name: &str) -> ShelfLine {
    let lines = stage.studio().shelf(&stage.now).unwrap();
    lines
        .into_iter()
        .find(|line| line.material.name == name)
        .unwrap()
}

#[test]
fn a_line_has_its_packs_price_and_metal_at_every_size_without_colour() {
    let mut stage = stage();
    stage.look = Look::Plain;
    for size in [(50, 16), (80, 24), (160, 50)] {
        stage.size = size;
        // Blue paint, Medium, Sun red, Water.
        let cells = stage.play(keys("S Down Down"));
        assert!(shows(&cells, "› ! Sun red"), "{:#?}", lines(&cells));
        assert!(shows(&cells, "500 ml ■■■│■■■"), "{:#?}", lines(&cells));
        let words = lines(&cells).join(" ");
        let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
        // 8.90 / 250 = 0.0356
        for told in [
            "0.036 EUR/ml",
            "2.0 packs",
            "cadmium; harmful dust",
            "no sanding",
        ] {
            assert!(words.contains(told), "{told}: {words}");
        }
        assert!(cells.content().iter().all(|cell| cell.fg == Color::Reset));
    }
}

#[test]
fn days_of_supply_follow_recent_use_and_lead_the_headline() {
    let stage = stage();
    // A third of 120 ml, so 40 ml of blue, which makes 4/3 ml a day.
    stage.mix("River blue", "K7", -TimeDelta::days(1), None);
    let cells = stage.play(keys("S"));
    let blue = &lines(&cells)[usize::from(place(&cells, "›   Blue paint").1)];
    assert!(
        blue.split_whitespace().filter(|word| *word == "-").count() == 2,
        "neither what is left nor how long it lasts is known: {blue}"
    );
    assert!(lines(&cells)[0].starts_with("What is left of Blue paint is not known: count it (c)."));
    let count = all(vec![keys("S c"), typed("6"), keys("Enter")]);
    let cells = stage.play(count);
    assert!(
        shows(&cells, "✓ Counted Blue paint: 6 ml left"),
        "{:#?}",
        lines(&cells)
    );
    // 6 ml at 4/3 ml a day last 4.5 days.
    assert!(lines(&cells)[0].starts_with("Buy Blue paint: it lasts 4 days."));
    assert!(shows(&cells, "4 d"));
}

#[test]
fn what_was_bought_is_packs_or_an_amount_and_nothing_else() {
    let stage = stage();
    let bought = all(vec![keys("S Down Down b"), typed("3"), keys("Enter")]);
    let cells = stage.play(bought);
    assert!(
        shows(&cells, "✓ Bought Sun red: 1.2"),
        "{:#?}",
        lines(&cells)
    );
    assert_eq!(line(&stage, "Sun red").left, Some(Millilitres(1250.0)));
    // Water comes in no pack: the amount is in hand at once.
    let water = all(vec![
        keys("S Down Down Down b"),
        typed("500"),
        keys("Enter"),
    ]);
    stage.play(water);
    assert_eq!(line(&stage, "Water").left, Some(Millilitres(500.0)));
    let cells = stage.play(all(vec![
        keys("S Down Down b"),
        typed("many"),
        keys("Enter"),
    ]));
    assert!(
        shows(&cells, "✗ \"many\" does not begin with a number"),
        "{:#?}",
        lines(&cells)
    );
}

#[test]
fn a_new_material_and_a_change_write_only_what_was_typed() {
    let stage = stage();
    let new = all(vec![
        keys("S a"),
        typed("Chalk white"),
        keys("Tab Tab"),
        typed("750"),
        keys("Enter"),
    ]);
    stage.play(new);
    let white = line(&stage, "Chalk white").material;
    assert_eq!(
        (white.kind, white.pack_ml),
        (MaterialKind::Paint, Some(Millilitres(750.0)))
    );
    assert_eq!((white.price, white.colour_index), (None, None));
    // Blue paint, Chalk white, Medium, Sun red: its price alone is changed.
    let change = all(vec![
        keys("S Down Down Down e Tab Tab Tab"),
        typed("9.50"),
        keys("Enter"),
    ]);
    let before = line(&stage, "Sun red").material;
    let cells = stage.play(change);
    let after = line(&stage, "Sun red").material;
    assert_eq!(
        after.price,
        Some(Decimal::new(950, 2)),
        "{:#?}",
        lines(&cells)
    );
    assert_eq!(
        (after.pack_ml, after.colour_index, after.hazard),
        (before.pack_ml, before.colour_index, before.hazard)
    );
    let cells = stage.play(keys("S Down Down Down e Enter"));
    assert!(
        shows(&cells, "nothing was asked for that differs from Sun red"),
        "{:#?}",
        lines(&cells)
    );
}

#[test]
fn the_cautions_are_one_key_and_say_what_comes_first() {
    let mut stage = stage();
    stage.size = (80, 60);
    let cells = stage.play(keys("S !"));
    assert!(shows(
        &cells,
        "local codes and the maker's sheet come first"
    ));
    assert!(
        shows(&cells, "Sun red  cadmium; harmful dust"),
        "{:#?}",
        lines(&cells)
    );
    assert!(shows(&cells, "respirator") && shows(&cells, "local rules"));
    assert!(!shows(&stage.play(keys("S ! Esc")), "respirator"));
}

#[test]
fn an_empty_shelf_says_how_to_begin() {
    let stage = Stage::empty();
    let cells = stage.play(keys("S b"));
    assert!(lines(&cells)[0].starts_with("Nothing is on the shelf yet"));
    assert!(shows(&cells, "✗ Not done: Nothing is on the shelf yet"));
}

#[test]
fn a_name_that_holds_escape_codes_is_shown_inert() {
    let stage = Stage::empty();
    let name = "Sun\u{1b}[31mred";
    let red = MaterialOrder::default();
    let red = stage.studio().add_material(name, &red, &stage.now).unwrap();
    let none = CountedOrder {
        material: MaterialId(red.id),
        ml: Millilitres::ZERO,
        even_so: true,
    };
    stage.studio().counted(&none, &stage.now).unwrap();
    let cells = stage.play(keys("S"));
    assert!(shows(&cells, &inert(name)), "{:#?}", lines(&cells));
    assert!(shows(
        &stage.play(keys("S e")),
        &format!("Change {}", inert(name))
    ));
}

#[test]
fn an_emptied_field_of_a_material_is_known_no_more() {
    let stage = stage();
    let empty = || vec![Play::Key(crate::screen::kit::keys::ctrl('u'))];
    // Blue paint, Medium, Sun red, Water; name, kind, pack, price, density, colour index, hazard.
    stage.play(all(vec![
        keys("S Down Down e Tab Tab Tab"),
        empty(),
        keys("Tab Tab Tab"),
        empty(),
        keys("Enter"),
    ]));
    let red = line(&stage, "Sun red").material;
    assert_eq!((red.price, red.hazard), (None, None));
    assert_eq!(red.pack_ml, Some(Millilitres(250.0)));
    assert_eq!(red.colour_index.as_deref(), Some("PR108"));
}

#[test]
fn a_material_that_is_renamed_stays_chosen() {
    let stage = Stage::with_recipes();
    let rename = [
        keys("S e"),
        super::typed("Zinc blue"),
        keys("Enter Enter Enter Enter Enter Enter Enter"),
    ];
    let cells = stage.play(rename.into_iter().flatten());
    let (_, y) = place(&cells, "›");
    let line = lines(&cells)[usize::from(y)].clone();
    assert!(line.contains("Zinc blue"), "{:#?}", lines(&cells));
}

#[test]
fn what_was_left_is_told_day_by_day_and_when_it_ends() {
    let mut stage = Stage::with_recipes();
    let ago = |days: i64| Now {
        at: stage.now.at - TimeDelta::days(days),
        ..stage.now
    };
    let mut studio = stage.studio();
    let paint = MaterialOrder {
        kind: Some(MaterialKind::Paint),
        ..MaterialOrder::default()
    };
    let moss = studio.add_material("Moss", &paint, &ago(20)).unwrap();
    let moss = MaterialId(moss.id);
    let parts = studio.known([]).unwrap().parts(["Moss 1"]).unwrap();
    let order = RecipeOrder {
        parts,
        ..RecipeOrder::default()
    };
    studio
        .add_recipe("Fern", LayerKind::Colour, &order, &ago(20))
        .unwrap();
    let bought = BoughtOrder {
        much: Bought::Amount(Millilitres(1000.0)),
        ..BoughtOrder::packs(moss, 1.0)
    };
    studio.bought(&bought, &ago(10)).unwrap();
    let counted = CountedOrder {
        material: moss,
        ml: Millilitres(600.0),
        even_so: true,
    };
    studio.counted(&counted, &ago(5)).unwrap();
    stage.mix("Fern", "F3", -TimeDelta::days(2), None);
    let course = studio.stock_course(moss, &stage.now).unwrap();
    let on = |back: usize| course.days[course.days.len() - 1 - back].map(Millilitres::get);
    // By hand: 1000 ml bought ten days ago, 600 counted five days ago, a cup of 120 ml two days ago.
    assert_eq!(
        [on(11), on(6), on(3), on(1), on(0)],
        [None, Some(1000.0), Some(600.0), Some(480.0), Some(480.0)]
    );
    // 480 ml at 120 ml in 30 days.
    assert_eq!(course.ends, Some(stage.now.at + TimeDelta::days(120)));
    stage.size = (160, 50);
    let cells = stage.play(keys("S Down Down"));
    assert!(shows(&cells, "Moss by days"), "{:#?}", lines(&cells));
    // Today's corner stands under the last column that is known, with the days looked back on before it.
    let shown = lines(&cells);
    let axis = shown.iter().find(|line| line.contains("today ┘")).unwrap();
    assert!(
        axis.contains("60 days ago ") || !axis.contains("ago"),
        "{axis}"
    );
    assert!(
        shows(&cells, "it would end about 25 Mar"),
        "{:#?}",
        lines(&cells)
    );
}
