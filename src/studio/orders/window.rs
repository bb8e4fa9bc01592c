//! Which window of time is looked back at.

use super::{Field, Given, Hint, Typed, Wrong};
use crate::studio::TimeWindow;
use crate::trade::amount::Measures;
use crate::trade::duration;
use crate::trade::instant::{parse_month, parse_year};

/// The fields of a window of time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WindowField {
    /// A month of the calendar.
    Month,
    /// A year of the calendar.
    Year,
    /// The last so long.
    Since,
}

impl Field for WindowField {
    fn of(any: super::AnyField) -> Option<Self> {
        match any {
            super::AnyField::Window(field) => Some(field),
            _ => None,
        }
    }

    fn label(self) -> &'static str {
        match self {
            Self::Month => "month",
            Self::Year => "year",
            Self::Since => "since",
        }
    }

    fn hint(self, _: Measures) -> Hint {
        Hint::SuchAs(match self {
            Self::Month => "2026-10",
            Self::Year => "2026",
            Self::Since => "30d",
        })
    }
}

impl WindowField {
    /// Reads the window: a month, a year, or the last so long; all of time where nothing was typed.
    ///
    /// # Errors
    /// What is none of them, or none of the calendar.
    pub fn order(typed: &Typed<Self>, given: &Given<'_>) -> Result<TimeWindow, Wrong> {
        let zone = given.now.zone;
        let month = typed.read(Self::Month, |text| parse_month(text, zone))?;
        let year = typed.read(Self::Year, |text| parse_year(text, zone))?;
        let since = typed.read(Self::Since, duration::parse)?;
        let last = since.map(|time| TimeWindow::last(time, given.now));
        let calendar = month.or(year).map(TimeWindow::from);
        Ok(calendar.or(last).unwrap_or_default())
    }
}
