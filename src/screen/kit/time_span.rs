//! A span of time across cells.

use crate::trade::moment::Moment;

/// From when to when, in so many cells.
#[derive(Debug, Clone, Copy)]
pub struct TimeSpan {
    /// The instant of the first cell.
    pub from: Moment,
    /// The instant of the last cell.
    pub until: Moment,
    /// How many there are.
    pub cells: usize,
}

impl TimeSpan {
    /// How long it is; a millisecond at least.
    pub fn milliseconds(&self) -> f64 {
        (self.until - self.from).num_milliseconds().max(1) as f64
    }

    /// The cell of an instant; what lies outside is at an end.
    pub fn cell(&self, at: Moment) -> usize {
        let share = (at - self.from).num_milliseconds() as f64 / self.milliseconds();
        (share.clamp(0.0, 1.0) * self.cells.saturating_sub(1) as f64).round() as usize
    }

    /// Whether an instant lies within.
    pub fn holds(&self, at: Moment) -> bool {
        (self.from..=self.until).contains(&at)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::moment::later;
    use chrono::TimeDelta;

    #[test]
    fn an_instant_has_its_cell_and_what_is_outside_an_end() {
        let from = Moment::parse_from_rfc3339("2026-11-24T10:00:00+01:00").unwrap();
        let at = |minutes| later(from, TimeDelta::minutes(minutes));
        let span = TimeSpan {
            from,
            until: at(100),
            cells: 11,
        };
        assert_eq!(
            [0, 4, 50, 100].map(|minutes| span.cell(at(minutes))),
            [0, 0, 5, 10]
        );
        assert_eq!((span.cell(at(-9)), span.cell(at(999))), (0, 10));
        assert!(span.holds(at(100)) && !span.holds(at(101)));
        assert_eq!(
            TimeSpan {
                until: from,
                ..span
            }
            .cell(from),
            0
        );
    }
}
