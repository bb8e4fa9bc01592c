//! Which window of time is looked at.

use crate::studio::TimeWindow;
use crate::trade::instant::{Now, month_span};
use crate::trade::moment::Moment;
use chrono::{Datelike, TimeDelta};

/// A window of time. Months are counted from the year 0, so that they can be turned like pages.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Window {
    /// The last so many days.
    Days(i64),
    /// Everything.
    All,
    /// A month of the calendar.
    Month(i32),
}

impl Default for Window {
    fn default() -> Self {
        Self::Days(30)
    }
}

impl Window {
    /// From when to when.
    pub fn since(self, now: &Now) -> TimeWindow {
        match self {
            Self::Days(days) => TimeWindow::last(TimeDelta::days(days), now),
            Self::All => TimeWindow::default(),
            Self::Month(month) => {
                let (year, month) = year_and_month(month);
                month_span(year, month, now.zone).map_or_else(TimeWindow::default, TimeWindow::from)
            }
        }
    }

    /// `in the last 30 days`, `ever`, `in 2026-10`.
    pub fn words(self) -> String {
        match self {
            Self::Days(days) => format!("in the last {days} days"),
            Self::All => "ever".to_owned(),
            Self::Month(_) => format!("in {}", self.month()),
        }
    }

    /// `2026-10`; empty for what is no month.
    pub fn month(self) -> String {
        match self {
            Self::Month(month) => {
                let (year, month) = year_and_month(month);
                format!("{year:04}-{month:02}")
            }
            Self::Days(_) | Self::All => String::new(),
        }
    }

    /// The month in which an instant lies.
    fn present(now: &Now) -> i32 {
        month_of(now.local())
    }

    /// The last whole month.
    pub fn last_month(now: &Now) -> Self {
        Self::Month(Self::present(now) - 1)
    }

    /// So many months on; from what is no month, the last whole one. `None` where it is still to come.
    pub fn month_away(self, by: i32, now: &Now) -> Option<Self> {
        let present = Self::present(now);
        let month = match self {
            Self::Month(month) => month + by,
            Self::Days(_) | Self::All => present + by.min(0),
        };
        (0..=present).contains(&month).then_some(Self::Month(month))
    }

    /// The month that begins at an instant.
    pub fn of_month(first: Moment) -> Self {
        Self::Month(month_of(first))
    }
}

/// The year, and the month from 1 to 12, of a count of months.
fn year_and_month(months: i32) -> (i32, u32) {
    (
        months.div_euclid(12),
        months.rem_euclid(12).unsigned_abs() + 1,
    )
}

/// Months since the year 0.
fn month_of(at: Moment) -> i32 {
    at.year() * 12 + i32::try_from(at.month0()).unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::screen::tests::now;

    // It is 2026-11-25, 10:00 at +01:00.
    #[test]
    fn thirty_days_and_a_month_begin_where_the_calendar_says() {
        let days = Window::default().since(&now());
        assert_eq!(days.from.unwrap().to_rfc3339(), "2026-10-26T10:00:00+01:00");
        assert_eq!(days.to, None);
        let month = Window::last_month(&now()).since(&now());
        assert_eq!(
            month.from.unwrap().to_rfc3339(),
            "2026-10-01T00:00:00+01:00"
        );
        assert_eq!(month.to.unwrap().to_rfc3339(), "2026-11-01T00:00:00+01:00");
    }

    #[test]
    fn months_are_turned_over_the_year_and_not_into_the_future() {
        let before = |window: Window| window.month_away(-1, &now());
        assert_eq!(before(Window::All).unwrap().month(), "2026-10");
        let month = |text| {
            Window::of_month(
                crate::trade::instant::parse_month(text, now().zone)
                    .unwrap()
                    .0,
            )
        };
        let january = month("2026-01");
        assert_eq!(before(january).unwrap().month(), "2025-12");
        let present = month("2026-11");
        assert_eq!(present.month_away(1, &now()), None);
    }
}
