//! The same studio in US measures, where a number without its unit is read in them.

use super::{Deed, deed, same_rows_and_warnings};
use crate::terminal::{Stage, now};

const DEEDS: &[Deed] = &[
    deed(
        "mix|River blue|--volume|4 fl oz",
        "m|=riv|Enter|=4|Enter",
        "on the lid",
    ),
    deed("thin|K7|0.1 fl oz", "t|=0.1|Enter", "✓ K7"),
    deed(
        "counted|Medium|3.3333 fl oz",
        "S|Down|c|=3.3333|Enter",
        "Counted Medium",
    ),
    deed(
        "plan|--panel|16x20in|--recipe|River blue|--keep",
        "L|a|=16x20|Tab|Tab|Tab|Tab|Tab|Tab|=riv|Enter|Enter|w",
        "Kept as plan 1",
    ),
    deed(
        "pour|--panel|8x8in|--layer|B4:1floz|--air|70F,45%",
        "P|p|=8x8|Tab|Tab|=70 45|Enter|a|=B4|Enter|=1|Enter|g",
        "Pour 1",
    ),
    deed(
        "set|air|70F,45%",
        "R|i|=70 45|Enter",
        "The room's air is 70F,45%",
    ),
];

#[test]
fn both_faces_read_us_measures_alike() {
    for deed in DEEDS {
        let stages = [Stage::with_cups(), Stage::with_cups()];
        for stage in &stages {
            stage.studio().set("measures", "us", &now()).unwrap();
        }
        same_rows_and_warnings(deed, stages);
    }
}
