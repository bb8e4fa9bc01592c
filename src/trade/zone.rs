//! The studio's clock on the wall: which offset from UTC holds at which instant.

use chrono::{DateTime, FixedOffset, NaiveDate, NaiveDateTime, TimeDelta, TimeZone};
use chrono_tz::Tz;

/// The most minutes one day's beginning is looked for: a zone has once left out a whole day.
const LONGEST_GAP: i64 = 26 * 60;

/// Where the studio's clock stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Zone {
    /// The same offset all year.
    Fixed(FixedOffset),
    /// A place's clock, put forward and back by its rules.
    Named(Tz),
}

/// The present instant and the zone it is told in; both are handed in, since no clock is read here.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Now {
    /// The present instant.
    pub at: DateTime<FixedOffset>,
    /// The studio's zone.
    pub zone: Zone,
}

impl Now {
    /// The present instant at the studio's own offset.
    #[must_use]
    pub fn local(&self) -> DateTime<FixedOffset> {
        self.zone.tell(self.at)
    }
}

impl Zone {
    /// An instant at this zone's offset.
    #[must_use]
    pub fn tell<T: TimeZone>(self, at: DateTime<T>) -> DateTime<FixedOffset> {
        match self {
            Self::Fixed(offset) => at.with_timezone(&offset),
            Self::Named(zone) => at.with_timezone(&zone).fixed_offset(),
        }
    }

    /// The instant at which the clock on the wall shows a date and time. None where the clock is
    /// put forward over it; the earlier of the two where it is put back and shows it twice.
    #[must_use]
    pub fn instant(self, shown: NaiveDateTime) -> Option<DateTime<FixedOffset>> {
        match self {
            Self::Fixed(offset) => offset.from_local_datetime(&shown).earliest(),
            Self::Named(zone) => {
                let found = zone.from_local_datetime(&shown).earliest();
                found.map(|at| at.fixed_offset())
            }
        }
    }

    /// The first instant of a day; later than midnight where the clock is put forward over it.
    /// None beyond the calendar's end.
    #[must_use]
    pub fn day_start(self, day: NaiveDate) -> Option<DateTime<FixedOffset>> {
        let midnight = day.and_hms_opt(0, 0, 0)?;
        (0..=LONGEST_GAP).find_map(|minutes| {
            self.instant(midnight.checked_add_signed(TimeDelta::minutes(minutes))?)
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(text: &str) -> NaiveDateTime {
        NaiveDateTime::parse_from_str(text, "%Y-%m-%d %H:%M").unwrap()
    }

    /// Summer time in the European Union runs from 01:00 UTC on the last Sunday in March to 01:00
    /// UTC on the last Sunday in October (Directive 2000/84/EC).
    #[test]
    fn clocks_are_put_forward_and_back() {
        let zone = Zone::Named(chrono_tz::Europe::Berlin);
        let told = |text| zone.instant(shown(text)).map(|at| at.to_rfc3339());
        assert_eq!(told("2026-03-29 02:30"), None);
        assert_eq!(
            told("2026-03-29 03:00").unwrap(),
            "2026-03-29T03:00:00+02:00"
        );
        assert_eq!(
            told("2026-10-25 02:30").unwrap(),
            "2026-10-25T02:30:00+02:00"
        );
        assert_eq!(
            told("2026-10-25 03:00").unwrap(),
            "2026-10-25T03:00:00+01:00"
        );
    }

    /// Samoa left out 30 December 2011, when it crossed the date line (IANA tz database, file
    /// australasia).
    #[test]
    fn a_day_left_out_begins_with_the_next() {
        let zone = Zone::Named(chrono_tz::Pacific::Apia);
        let start = |day| zone.day_start(NaiveDate::from_ymd_opt(2011, 12, day).unwrap());
        assert_eq!(start(30), start(31));
        assert!(start(29) < start(30));
    }
}
