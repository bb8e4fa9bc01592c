//! What a cup or a picture cost.

use crate::studio::{Cost, CostFor, PlanSheet};
use crate::tell::money;
use rust_decimal::Decimal;

/// `8.90 EUR`; a price that is not known is said to be so.
#[must_use]
pub fn price(cost: Option<Decimal>, currency: &str) -> String {
    cost.map_or_else(|| "unknown".to_owned(), |cost| money(cost, currency))
}

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
pub fn missing(cost: &Cost, currency: &str) -> Option<String> {
    if cost.total.is_some() {
        return None;
    }
    let others = match cost.known > Decimal::ZERO {
        true => format!(", the others cost {}", money(cost.known, currency)),
        false => String::new(),
    };
    let lines = cost.unpriced;
    Some(format!(
        "of {lines} lines a price or a pack is missing{others}"
    ))
}

/// What a plan costs, or what is not known of it: `costs 8.90 EUR`.
#[must_use]
pub fn of_plan(sheet: &PlanSheet, currency: &str) -> String {
    match sheet.cost {
        Some(cost) => format!("costs {}", money(cost, currency)),
        None => format!(
            "cost unknown: no price or pack of {}",
            sheet.unpriced.join(", ")
        ),
    }
}
