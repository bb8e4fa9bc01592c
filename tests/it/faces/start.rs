//! The first hour: starters, and the trades that begin with them.

use super::{Deed, deed, same_rows_and_warnings};
use crate::terminal::Stage;

/// On an empty studio.
const DEEDS: &[Deed] = &[deed("starters", "s", "✓")];

#[test]
fn both_faces_begin_alike() {
    for deed in DEEDS {
        same_rows_and_warnings(deed, [Stage::empty(), Stage::empty()]);
    }
}
