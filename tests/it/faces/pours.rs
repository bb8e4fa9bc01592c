//! Pours and their pictures: poured, started over, judged, varnished, sold, put right, made once more, photographed.

use super::{Deed, deed, refused_alike, same_rows_and_warnings};
use crate::terminal::Stage;

/// On a studio with K7 thick (chosen), B4 ready and A3 resting; B4 was mixed last.
const DEEDS: &[Deed] = &[
    deed(
        "pour|--panel|40x50cm|--layer|B4:60ml|--way|swipe|--spin|cw:2|--tilt|left|--air|21C,45%|--note|first",
        "P|p|=40x50cm|Tab|=swipe|Tab|=21 45|Tab|=first|Enter|a|=B4|Enter|=60|Enter|s|=right 2|Enter|t|=left|Enter|g",
        "Pour 1",
    ),
    deed(
        "pour|--panel|20x20cm|--layer|B4:20ml then again|1|--layer|B4:30ml|--note|once more",
        "P|p|=20x20cm|Enter|a|=B4|Enter|=20|Enter|g|a|=B4|Enter|=30|Enter|e|=once more|Enter|o",
        "Pour 2",
    ),
    deed(
        "pour|--panel|20x20cm|--layer|B4:20ml then title|1|Tide|--asking|240",
        "P|p|=20x20cm|Enter|a|=B4|Enter|=20|Enter|g|R|t|=Tide|Tab|=240|Enter",
        "Picture 1 is \"Tide\"",
    ),
    deed(
        "pour|--panel|20x20cm|--layer|B4:20ml then sell|1|--price|240|--to|A friend|--where|open studio",
        "P|p|=20x20cm|Enter|a|=B4|Enter|=20|Enter|g|R|s|=240|Tab|=A friend|Tab|=open studio|Enter",
        "Picture 1 is sold",
    ),
    deed(
        "set|air|21C,45%",
        "R|i|=21 45|Enter",
        "The room's air is 21C,45%",
    ),
    deed(
        "pour|--panel|20x20cm|--layer|B4:20ml then judge|1|--cells|4|--dry",
        "P|p|=20x20cm|Enter|a|=B4|Enter|=20|Enter|g|R|d|4",
        "cells 4 of 5",
    ),
    deed(
        "pour|--panel|20x20cm|--layer|B4:20ml then judge|1|--cells|4|--dry then varnish|1",
        "P|p|=20x20cm|Enter|a|=B4|Enter|=20|Enter|g|R|d|4|v",
        "Picture 1 is varnished",
    ),
    deed(
        "pour|--panel|20x20cm|--layer|B4:20ml then correct|1|--panel|30x30cm|--way|swipe",
        "P|p|=20x20cm|Enter|a|=B4|Enter|=20|Enter|g|R|e|=30x30cm|Tab|=swipe|Enter",
        "Picture 1 is put right",
    ),
    deed(
        "pour|--panel|20x20cm|--layer|B4:20ml then repeat|1|--pour|tomorrow 10:00|--keep",
        "P|p|=20x20cm|Enter|a|=B4|Enter|=20|Enter|g|R|r|a|Tab|Tab|=tomorrow 10:00|Enter|w",
        "Kept as plan 1",
    ),
    deed(
        concat!(
            "pour|--panel|20x20cm|--layer|B4:20ml then photo|1|",
            env!("CARGO_MANIFEST_DIR"),
            "/tests/data/cells/panel_easy.png|--wet"
        ),
        concat!(
            "P|p|=20x20cm|Enter|a|=B4|Enter|=20|Enter|g|R|p|a|=",
            env!("CARGO_MANIFEST_DIR"),
            "/tests/data/cells/panel_easy.png|Tab|=wet|Enter"
        ),
        "Photo 1 of picture 1, wet is kept",
    ),
    deed(
        concat!(
            "pour|--panel|20x20cm|--layer|B4:20ml then photo|1|",
            env!("CARGO_MANIFEST_DIR"),
            "/tests/data/cells/panel_easy.png|--wet then photo|drop|1"
        ),
        concat!(
            "P|p|=20x20cm|Enter|a|=B4|Enter|=20|Enter|g|R|p|a|=",
            env!("CARGO_MANIFEST_DIR"),
            "/tests/data/cells/panel_easy.png|Tab|=wet|Enter|~Photo 1 of picture 1|D"
        ),
        "is dropped",
    ),
];

/// What both refuse, with a piece of the sentence that both say.
const REFUSED: &[Deed] = &[
    deed(
        "pour|--panel|40x50cm|--layer|Q9:60ml",
        "P|p|=40x50cm|Enter|a|=Q9|Enter",
        "",
    ),
    deed(
        "pour|--panel|40x50cm|--layer|B4:60g",
        "P|p|=40x50cm|Enter|a|=B4|Enter|=60 g|Enter",
        "without its density",
    ),
    deed(
        "pour|--panel|40x50cm|--layer|B4:60ml|--spin|up:2",
        "P|p|=40x50cm|Enter|s|=up:2|Enter",
        "is no spin",
    ),
];

#[test]
fn both_faces_write_the_same_rows_and_warn_alike() {
    for deed in DEEDS {
        same_rows_and_warnings(deed, [Stage::with_cups(), Stage::with_cups()]);
    }
}

#[test]
fn both_faces_refuse_the_same_and_write_nothing() {
    refused_alike(REFUSED);
}
