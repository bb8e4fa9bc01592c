//! Plans and trials.

use super::{Deed, deed, refused_alike, same_rows_and_warnings};
use crate::terminal::Stage;

/// On a studio with K7 thick (chosen), B4 ready and A3 resting; B4 was mixed last.
const DEEDS: &[Deed] = &[
    deed(
        "plan|--panel|40x50cm|--count|2|--pour|tomorrow 10:00|--film|1.8mm|--recipe|River blue|--cup|250ml|--keep",
        "L|a|=40x50cm|Tab|=2|Tab|Tab|=tomorrow 10:00|Tab|Tab|=1.8 mm|Tab|=riv|Enter|Tab|Tab|Tab|Tab|Tab|=250|Enter|w",
        "Kept as plan 1",
    ),
    deed(
        "plan|--panel|round 30cm|--edge|2cm|--pour|18:00|--recipe|river|--way|dutch pour|--note|a try|--keep",
        "L|a|=round 30cm|Tab|Tab|=2 cm|Tab|=18:00|Tab|=dutch pour|Tab|Tab|=riv|Enter|Tab|Tab|Tab|Tab|Tab|Tab|=a try|Enter|w",
        "Kept as plan 1",
    ),
    deed(
        "plan|--panel|60x60cm|--recipe|river|--keep then plan|--mix|1",
        "L|a|=60x60cm|Tab|Tab|Tab|Tab|Tab|Tab|=riv|Enter|Enter|w|m",
        "on the lid",
    ),
    deed(
        "trial|design|--factor|rest=12h,24h|--factor|air=dry,damp|--runs|8|--seed|7|--note|which",
        "T|a|=rest|Tab|=12h|Tab|=24h|Tab|=air|Tab|=dry|Tab|=damp|Tab|Tab|Tab|Tab|Tab|Tab|Tab|Tab|=7|Tab|=which|Enter",
        "Trial 1 is kept",
    ),
    deed(
        "trial|design|--factor|rest=12h,24h|--factor|air=dry,damp|--runs|8|--seed|7 then trial|skip|1|1|--why|fell",
        "T|a|=rest|Tab|=12h|Tab|=24h|Tab|=air|Tab|=dry|Tab|=damp|Tab|Tab|Tab|Tab|Tab|Tab|Tab|Tab|=7|Enter|Enter|x|=fell|Enter",
        "is given up",
    ),
];

/// What both refuse, with a piece of the sentence that both say.
const REFUSED: &[Deed] = &[
    deed(
        "trial|design|--factor|rest=12h,12H|--runs|8",
        "T|a|=rest|Tab|=12h|Tab|=12H|Enter",
        "rest has the same setting twice",
    ),
    deed("plan|--panel|40 by", "L|a|=40 by|Enter", "unknown unit"),
    deed(
        "plan|--panel|40x50cm|--count|0",
        "L|a|=40x50cm|Tab|=0|Enter",
        "the number of panels must be",
    ),
    deed(
        "plan|--panel|40x50cm|--pour|2026-01-01 10:00",
        "L|a|=40x50cm|Tab|Tab|Tab|=2026-01-01 10:00|Enter",
        "the pour must be still to come",
    ),
    deed(
        "plan|--panel|40x50cm|--cup|250 g",
        "L|a|=40x50cm|Tab|Tab|Tab|Tab|Tab|Tab|Tab|Tab|Tab|Tab|Tab|Tab|=250 g|Enter",
        "without its density",
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
