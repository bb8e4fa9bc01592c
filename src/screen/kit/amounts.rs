//! Moves and starts as they are shown, in every place alike.

use crate::trade::pour::{Move, MoveKind};
use crate::trade::text::inert;

/// Which start it is on its panel, where it is not the first: `, second start`.
pub fn start(go: i64) -> String {
    match go {
        ..=1 => String::new(),
        2 => ", second start".to_owned(),
        3 => ", third start".to_owned(),
        more => format!(", start {more}"),
    }
}

/// `spin clockwise, 2 turns`, `tilt left, 3 times`.
pub fn show_move(one: &Move) -> String {
    let way = match one.clockwise() {
        Some(true) => Some("clockwise".to_owned()),
        Some(false) => Some("anticlockwise".to_owned()),
        None => one.direction.as_ref().map(|way| inert(way).into_owned()),
    };
    let what = match way {
        Some(way) => format!("{} {way}", one.kind),
        None => one.kind.to_string(),
    };
    let unit = match (one.kind == MoveKind::Spin, one.times) {
        (true, Some(1.0)) => "turn",
        (true, _) => "turns",
        (false, Some(1.0)) => "time",
        (false, _) => "times",
    };
    let times = one.times.map(|times| format!(", {times} {unit}"));
    what + &times.unwrap_or_default()
}
