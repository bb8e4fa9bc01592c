//! Instants: UTC with the studio's local offset kept beside it.

use chrono::{DateTime, FixedOffset};

/// An instant that remembers the wall clock it was read from.
pub type Moment = DateTime<FixedOffset>;

/// Rebuilds an instant from milliseconds UTC and an offset in minutes.
///
/// `None` where either lies outside what a calendar can hold.
#[must_use]
pub fn from_parts(at_ms: i64, offset_min: i32) -> Option<Moment> {
    let offset = FixedOffset::east_opt(offset_min.checked_mul(60)?)?;
    Some(DateTime::from_timestamp_millis(at_ms)?.with_timezone(&offset))
}

/// The offset in minutes, as it is stored.
#[must_use]
pub fn offset_minutes(at: Moment) -> i32 {
    at.offset().local_minus_utc() / 60
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_instant_survives_its_parts() {
        let at = DateTime::parse_from_rfc3339("2026-11-24T18:30:00+05:30").unwrap();
        assert_eq!(
            from_parts(at.timestamp_millis(), offset_minutes(at)),
            Some(at)
        );
    }

    #[test]
    fn parts_outside_the_calendar_are_refused() {
        assert_eq!(from_parts(i64::MAX, 0), None);
        assert_eq!(from_parts(0, i32::MAX), None);
    }
}
