//! Amounts and panels as they are typed, and moves as they are shown, in every place alike.

use crate::trade::amount::{Amount, Measures, Unit};
use crate::trade::pour::Move;
use crate::trade::problem::ParseProblem;
use crate::trade::text::inert;

/// An amount; a bare number is in the studio's own small unit.
///
/// # Errors
/// As [`Amount::parse_or`].
pub fn volume(text: &str, measures: Measures) -> Result<Amount, ParseProblem> {
    let unit = match measures {
        Measures::Metric => Unit::Millilitre,
        Measures::UsCustomary => Unit::UsFluidOunce,
    };
    Amount::parse_or(text, unit)
}

/// Panels, in the studio's measures.
pub const fn panels(measures: Measures) -> &'static str {
    match measures {
        Measures::Metric => "40x50cm or round 30cm",
        Measures::UsCustomary => "16x20in or round 12in",
    }
}

/// `spin cw 2`.
pub fn show_move(one: &Move) -> String {
    let mut words = vec![one.kind.to_string()];
    words.extend(one.direction.as_ref().map(|way| inert(way).into_owned()));
    words.extend(one.times.map(|times| times.to_string()));
    words.join(" ")
}
