//! What a cup or a picture cost.

use crate::studio::{Cost, CostFor};
use rust_decimal::Decimal;

/// What a line is for: `pour 3, K7`, `Titan white`, `K7`.
#[must_use]
pub fn what(of: &CostFor) -> String {
    match of {
        CostFor::Layer(pour, mark) => {
            let mark = mark.as_ref().map(ToString::to_string);
            format!("pour {pour}, {}", mark.unwrap_or_default())
        }
        CostFor::Material(name) => name.clone(),
        CostFor::Cup(mark) => mark.as_ref().map(ToString::to_string).unwrap_or_default(),
        CostFor::Thinner => "thinner".to_owned(),
    }
}

/// That the whole is not known, and what is: `of 2 lines a price or a pack is missing, the others cost 8.90 EUR`; `None`
/// where all of it is known.
#[must_use]
pub fn missing(cost: &Cost, money: impl Fn(Decimal) -> String) -> Option<String> {
    if cost.total.is_some() {
        return None;
    }
    let others = match cost.known > Decimal::ZERO {
        true => format!(", the others cost {}", money(cost.known)),
        false => String::new(),
    };
    let lines = cost.unpriced;
    Some(format!(
        "of {lines} lines a price or a pack is missing{others}"
    ))
}
