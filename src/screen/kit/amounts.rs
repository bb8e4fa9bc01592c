//! Moves and starts as they are shown, in every place alike.

pub use crate::tell::show_move;

/// Which start it is on its panel, where it is not the first: `, second start`.
pub fn start(go: i64) -> String {
    match go {
        ..=1 => String::new(),
        2 => ", second start".to_owned(),
        3 => ", third start".to_owned(),
        more => format!(", start {more}"),
    }
}
