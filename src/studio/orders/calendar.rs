//! When a calendar's alarms ring.

use super::{Field, Hint, Typed, Wrong};
use crate::trade::amount::Measures;
use crate::trade::duration::{Unit, parse_or};
use chrono::TimeDelta;

/// The field of a calendar.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CalendarField {
    /// How long before an event its alarm rings.
    Alarm,
}

impl Field for CalendarField {
    fn of(any: super::AnyField) -> Option<Self> {
        match any {
            super::AnyField::Calendar(field) => Some(field),
            _ => None,
        }
    }

    fn label(self) -> &'static str {
        match self {
            Self::Alarm => "alarm",
        }
    }

    fn hint(self, _: Measures) -> Hint {
        Hint::SuchAs("10m")
    }
}

impl CalendarField {
    /// Reads how long before: minutes where no unit is said; at the event itself where nothing is.
    ///
    /// # Errors
    /// No length of time.
    pub fn order(typed: &Typed<Self>) -> Result<TimeDelta, Wrong> {
        let before = typed.read(Self::Alarm, |text| parse_or(text, Unit::Minute))?;
        Ok(before.unwrap_or_default())
    }
}
