//! Which month is looked at.

use super::{Field, Given, Hint, Typed, Wrong};
use crate::studio::Refusal;
use crate::trade::amount::Measures;
use crate::trade::instant::{DaySpan, parse_month};

/// The field of a month.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MonthField {
    /// The month.
    Month,
}

impl Field for MonthField {
    fn of(any: super::AnyField) -> Option<Self> {
        match any {
            super::AnyField::Month(field) => Some(field),
            _ => None,
        }
    }

    fn label(self) -> &'static str {
        match self {
            Self::Month => "month",
        }
    }

    fn hint(self, _: Measures) -> Hint {
        Hint::SuchAs("2026-10")
    }
}

impl MonthField {
    /// Reads the month: from its first instant to that of the next.
    ///
    /// # Errors
    /// No month, or none of the calendar.
    pub fn order(typed: &Typed<Self>, given: &Given<'_>) -> Result<DaySpan, Wrong> {
        let missing = Refusal::Needed(Self::Month.label());
        typed.need(Self::Month, missing, |text| {
            parse_month(text, given.now.zone)
        })
    }
}
