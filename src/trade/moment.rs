//! Instants: UTC with the studio's local offset kept beside it.

use chrono::{DateTime, FixedOffset, TimeDelta};

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

/// The farthest instant, some 190,000 years away: within it every wall clock can be told.
const FAR_MS: i64 = 6_000_000_000_000_000;

/// An instant moved on; one that no calendar holds is the farthest there is. A wait may come out of a file.
#[must_use]
pub fn later(at: Moment, by: TimeDelta) -> Moment {
    let near = |moved: &Moment| (-FAR_MS..=FAR_MS).contains(&moved.timestamp_millis());
    let moved = at.checked_add_signed(by).filter(near);
    moved.unwrap_or_else(|| {
        let end = if by < TimeDelta::zero() {
            -FAR_MS
        } else {
            FAR_MS
        };
        let end = DateTime::from_timestamp_millis(end);
        end.map_or(at, |end| end.with_timezone(at.offset()))
    })
}

/// An instant moved back, as [`later`].
#[must_use]
pub fn earlier(at: Moment, by: TimeDelta) -> Moment {
    let back = TimeDelta::zero().checked_sub(&by);
    later(at, back.unwrap_or(TimeDelta::MAX))
}

/// Waits one after another; the longest there is where no number holds their sum.
#[must_use]
pub fn sum(waits: &[TimeDelta]) -> TimeDelta {
    let mut waits = waits.iter();
    let sum = waits.try_fold(TimeDelta::zero(), |sum, wait| sum.checked_add(wait));
    sum.unwrap_or(TimeDelta::MAX)
}

/// So many milliseconds as a wait, to the longest there is.
#[must_use]
pub fn milliseconds(count: f64) -> TimeDelta {
    let whole = count as i64;
    TimeDelta::try_milliseconds(whole).unwrap_or(TimeDelta::MIN)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_instant_survives_its_parts() {
        let at = DateTime::parse_from_rfc3339("2026-11-24T18:30:00+05:30").unwrap();
        assert_eq!(from_parts(at.timestamp_millis(), 5 * 60 + 30), Some(at));
    }

    #[test]
    fn no_wait_leads_out_of_the_calendar() {
        let at = DateTime::parse_from_rfc3339("2026-11-24T18:30:00+05:30").unwrap();
        let day = TimeDelta::days(1);
        assert_eq!(later(at, day).to_rfc3339(), "2026-11-25T18:30:00+05:30");
        assert_eq!(earlier(at, day).to_rfc3339(), "2026-11-23T18:30:00+05:30");
        for wait in [TimeDelta::MAX, TimeDelta::MIN, milliseconds(f64::MAX)] {
            let ends = [later(at, wait), earlier(at, wait)];
            for end in ends {
                // Telling its wall clock, and going on from it, overflows nothing either.
                assert!(!end.to_rfc3339().is_empty());
                assert_eq!(later(end, wait).offset(), at.offset());
            }
            assert_eq!(ends[0] > at, wait > TimeDelta::zero());
        }
        assert_eq!(sum(&[TimeDelta::MAX, day]), TimeDelta::MAX);
        assert_eq!(milliseconds(f64::NAN), TimeDelta::zero());
    }

    #[test]
    fn parts_outside_the_calendar_are_refused() {
        assert_eq!(from_parts(i64::MAX, 0), None);
        assert_eq!(from_parts(0, i32::MAX), None);
    }
}
