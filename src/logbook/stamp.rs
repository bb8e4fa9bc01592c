//! An instant as it is stored: milliseconds in UTC beside the painter's own offset.

use chrono::{DateTime, FixedOffset, Utc};

/// An instant and the offset from UTC that held where it was written down.
///
/// ```
/// use stillcup::logbook::Stamp;
/// let read = chrono::DateTime::parse_from_rfc3339("2026-03-01T18:30:00+01:00").unwrap();
/// let stamp = Stamp::from(read);
/// assert_eq!(stamp.offset_min, 60);
/// assert_eq!(stamp.local(), Some(read));
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Stamp {
    /// Milliseconds since 1970-01-01 in UTC.
    pub at_ms: i64,
    /// Minutes east of UTC.
    pub offset_min: i32,
}

impl From<DateTime<FixedOffset>> for Stamp {
    fn from(at: DateTime<FixedOffset>) -> Self {
        Self {
            at_ms: at.timestamp_millis(),
            offset_min: at.offset().local_minus_utc() / 60,
        }
    }
}

impl Stamp {
    /// The instant in UTC; `None` for a number of milliseconds outside the calendar.
    #[must_use]
    pub fn utc(self) -> Option<DateTime<Utc>> {
        DateTime::from_timestamp_millis(self.at_ms)
    }

    /// The instant as the painter's clock showed it; `None` as for [`Stamp::utc`], or for an offset over a day.
    #[must_use]
    pub fn local(self) -> Option<DateTime<FixedOffset>> {
        let offset = FixedOffset::east_opt(self.offset_min.checked_mul(60)?)?;
        Some(self.utc()?.with_timezone(&offset))
    }
}
