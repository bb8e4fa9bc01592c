//! Swatches: a paint's colour beside its name where the terminal shows colours, and no sign of it where it does not.

use super::{Stage, keys, lines, place, shows};
use crate::screen::kit::look::Look;
use crate::studio::MaterialOrder;
use crate::trade::colour::Colour;
use crate::trade::ids::MaterialId;
use ratatui::style::Color;

/// A studio whose blue is known.
pub fn coloured(stage: &Stage) {
    let mut studio = stage.studio();
    let blue = studio.known([]).unwrap().material("Blue paint").unwrap().id;
    let order = MaterialOrder {
        colour: Some(Colour::parse("#1e5ab4").unwrap()),
        ..MaterialOrder::default()
    };
    studio
        .set_material(MaterialId(blue), &order, &stage.now)
        .unwrap();
}

#[test]
fn a_swatch_stands_before_each_name_that_has_one_and_a_blank_before_the_others() {
    let stage = Stage::with_cups();
    coloured(&stage);
    let cells = stage.play(keys("S"));
    let (x, y) = place(&cells, "██ Blue paint");
    assert_eq!(cells[(x, y)].fg, Color::Rgb(0x1e, 0x5a, 0xb4));
    assert!(shows(&cells, "   Medium"), "{:#?}", lines(&cells));
    // The word stands beneath.
    assert!(shows(&cells, "#1e5ab4 blue"), "{:#?}", lines(&cells));
    let cells = stage.play(keys("C"));
    assert!(
        shows(&cells, "about blue, if its paints"),
        "{:#?}",
        lines(&cells)
    );
}

#[test]
fn the_bench_shows_what_a_cup_is_mixed_of() {
    let stage = Stage::with_cups();
    coloured(&stage);
    let cells = stage.play(keys("1"));
    let (x, y) = place(&cells, "██");
    assert_eq!(cells[(x, y)].fg, Color::Rgb(0x1e, 0x5a, 0xb4));
}

#[test]
fn no_color_has_no_swatch_and_no_room_for_one() {
    let mut stage = Stage::with_cups();
    let bare = stage.play(keys("S"));
    coloured(&stage);
    stage.look = Look::Plain;
    let plain = stage.play(keys("S"));
    assert!(!shows(&plain, "██"), "{:#?}", lines(&plain));
    let row = |cells| place(cells, "Medium").0;
    assert_eq!(row(&plain), row(&bare));
}

#[test]
fn a_studio_that_knows_no_colour_has_no_swatch() {
    let cells = Stage::with_cups().play(keys("S"));
    assert!(!shows(&cells, "██"), "{:#?}", lines(&cells));
}
