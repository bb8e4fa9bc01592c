//! A window of time that is looked back at.

use crate::trade::instant::{DaySpan, Now};
use crate::trade::moment::{Moment, earlier};
use chrono::TimeDelta;

/// A window of time; either end may be open.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct TimeWindow {
    /// From this instant on.
    pub from: Option<Moment>,
    /// Before this instant.
    pub to: Option<Moment>,
}

impl TimeWindow {
    /// The last so long.
    #[must_use]
    pub fn last(time: TimeDelta, now: &Now) -> Self {
        Self {
            from: Some(earlier(now.at, time)),
            to: None,
        }
    }

    /// Whether an instant lies in it.
    #[must_use]
    pub fn holds(&self, at: Moment) -> bool {
        self.from.is_none_or(|from| at >= from) && self.to.is_none_or(|to| at < to)
    }
}

impl From<DaySpan> for TimeWindow {
    fn from((from, to): DaySpan) -> Self {
        Self {
            from: Some(from),
            to: Some(to),
        }
    }
}
