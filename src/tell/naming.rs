//! What is said of names that were put right.

use crate::studio::{Merged, Retired};
use crate::tell::Told;
use crate::trade::amount::Measures;
use crate::trade::instant::Now;
use crate::trade::text::inert;

impl Told for Merged {
    fn told(&self, _measures: Measures, _now: &Now) -> String {
        format!("{} is {} now", inert(&self.from), inert(&self.into))
    }
}

impl Told for Retired {
    fn told(&self, _measures: Measures, _now: &Now) -> String {
        let name = inert(&self.name);
        if !self.retired {
            return format!("{name} is offered again");
        }
        let asks = match self.asked_by.len() {
            1 => "asks",
            _ => "ask",
        };
        let by = inert(&listed(&self.asked_by)).into_owned();
        match self.asked_by.as_slice() {
            [] => format!("{name} is retired: no longer offered, still in the past"),
            _ => format!("{name} is retired, and {by} {asks} for it still"),
        }
    }
}

/// `Night, Rose and Sun`.
fn listed(names: &[String]) -> String {
    match names.split_last() {
        Some((last, before)) if !before.is_empty() => format!("{} and {last}", before.join(", ")),
        _ => names.concat(),
    }
}

/// That something was removed.
#[must_use]
pub fn removed(name: &str) -> String {
    format!("{} is removed: nothing ever used it", inert(name))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_listed_as_they_are_spoken() {
        let names = ["Night", "Rose", "Sun"].map(str::to_owned);
        assert_eq!(listed(&names), "Night, Rose and Sun");
        assert_eq!(listed(&names[..2]), "Night and Rose");
        assert_eq!(
            (listed(&names[..1]).as_str(), listed(&[]).as_str()),
            ("Night", "")
        );
    }
}
