//! Quiet hours: the part of each day in which nobody wants to mix, look or pour.

use super::moment::Moment;
use super::zone::Zone;
use chrono::{Days, NaiveTime, TimeDelta, Timelike};
use std::fmt;

/// From when to when a studio rests, by its clock on the wall; never the whole day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Quiet {
    /// Minutes after midnight at which it begins.
    from: u32,
    /// Minutes after midnight at which it ends; the next day's where it is not later than `from`.
    to: u32,
}

/// How a day without quiet hours is written.
const NONE: &str = "none";

impl Quiet {
    /// 22 to 7 (common practice, no source).
    pub const USUAL: Self = Self {
        from: 22 * 60,
        to: 7 * 60,
    };

    /// Reads `22..7`, `22:30 to 6`, `22-7`; `none` is `Some(None)`, and what is neither is `None`.
    #[must_use]
    pub fn parse(text: &str) -> Option<Option<Self>> {
        let text = text.trim().to_lowercase();
        if text == NONE {
            return Some(None);
        }
        let ends = ["..", " to ", "-"].iter();
        let (from, to) = ends.filter_map(|mid| text.split_once(mid)).next()?;
        let (from, to) = (hour(from)?, hour(to)?);
        (from != to).then_some(Some(Self { from, to }))
    }

    /// As a setting keeps it: `22..7`, `22:30..6`, `none`.
    #[must_use]
    pub fn written(quiet: Option<Self>) -> String {
        quiet.map_or_else(|| NONE.to_owned(), |quiet| quiet.to_string())
    }

    /// Whether an instant lies within; its end does not, its beginning does.
    #[must_use]
    pub fn holds(self, at: Moment, zone: Zone) -> bool {
        let minute = minute(at, zone);
        match self.from < self.to {
            true => (self.from..self.to).contains(&minute),
            false => minute >= self.from || minute < self.to,
        }
    }

    /// The first instant from `at` on that is not within.
    #[must_use]
    pub fn over(self, at: Moment, zone: Zone) -> Moment {
        match self.holds(at, zone) {
            true => shown(at, zone, self.to, u64::from(minute(at, zone) >= self.to), 0),
            false => at,
        }
    }

    /// When the quiet began that holds at an instant; the instant itself where none does.
    #[must_use]
    pub fn before(self, at: Moment, zone: Zone) -> Moment {
        match self.holds(at, zone) {
            true => shown(
                at,
                zone,
                self.from,
                0,
                u64::from(minute(at, zone) < self.from),
            ),
            false => at,
        }
    }
}

impl fmt::Display for Quiet {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let clock = |minutes: u32| match (minutes / 60, minutes % 60) {
            (hour, 0) => hour.to_string(),
            (hour, rest) => format!("{hour}:{rest:02}"),
        };
        write!(f, "{}..{}", clock(self.from), clock(self.to))
    }
}

fn minute(at: Moment, zone: Zone) -> u32 {
    let here = zone.tell(at).time();
    here.hour() * 60 + here.minute()
}

/// When the clock on the wall shows so many minutes after midnight, some days after or before that of an instant; an
/// hour later where it is put forward over them.
fn shown(at: Moment, zone: Zone, minutes: u32, after: u64, before: u64) -> Moment {
    let day = zone.tell(at).date_naive();
    let day = day.checked_add_days(Days::new(after));
    let day = day.and_then(|day| day.checked_sub_days(Days::new(before)));
    let wall = day.and_then(|day| day.and_hms_opt(minutes / 60, minutes % 60, 0));
    let found = wall.and_then(|wall| {
        let hour_later = || zone.instant(wall.checked_add_signed(TimeDelta::hours(1))?);
        zone.instant(wall).or_else(hour_later)
    });
    found.unwrap_or(at)
}

/// `22`, `22:30`, `24`; midnight is 0 or 24.
fn hour(text: &str) -> Option<u32> {
    let text = text.trim();
    let (hour, minute) = text.split_once(':').unwrap_or((text, "0"));
    let (hour, minute) = (hour.parse::<u32>().ok()?, minute.parse::<u32>().ok()?);
    let hour = if (hour, minute) == (24, 0) { 0 } else { hour };
    NaiveTime::from_hms_opt(hour, minute, 0)?;
    Some(hour * 60 + minute)
}

#[cfg(test)]
mod tests {
    use super::*;
    use chrono::{DateTime, FixedOffset};

    fn zone() -> Zone {
        Zone::Fixed(FixedOffset::east_opt(3600).unwrap())
    }

    fn at(clock: &str) -> Moment {
        DateTime::parse_from_rfc3339(&format!("2026-11-{clock}+01:00")).unwrap()
    }

    #[test]
    fn hours_are_read_as_they_are_written_and_said() {
        let read = |text| Quiet::parse(text).map(Quiet::written);
        for text in ["22..7", " 22 to 7", "22:00-07:00", "22..07:00"] {
            assert_eq!(read(text).as_deref(), Some("22..7"), "{text}");
        }
        assert_eq!(read("22:30..6").as_deref(), Some("22:30..6"));
        assert_eq!(read("24..6").as_deref(), Some("0..6"));
        assert_eq!(read("none").as_deref(), Some("none"));
        for bad in ["", "22", "22..22", "25..7", "22..7:60", "night", "-1..7"] {
            assert_eq!(read(bad), None, "{bad}");
        }
    }

    #[test]
    fn a_night_holds_its_beginning_and_not_its_end() {
        let night = Quiet::USUAL;
        let held = |clock| night.holds(at(clock), zone());
        assert!(held("24T22:00:00") && held("25T00:00:00") && held("25T06:59:59"));
        assert!(!held("24T21:59:59") && !held("25T07:00:00"));
        // By the wall: 21:30 UTC is 22:30 here.
        let utc = DateTime::parse_from_rfc3339("2026-11-24T21:30:00Z").unwrap();
        assert!(night.holds(utc, zone()));
        let noon = Quiet::parse("12..14").unwrap().unwrap();
        assert!(noon.holds(at("24T13:00:00"), zone()) && !noon.holds(at("24T23:00:00"), zone()));
    }

    #[test]
    fn what_lies_in_the_night_goes_to_its_ends() {
        let night = Quiet::USUAL;
        for inside in ["24T22:00:00", "25T03:10:20", "25T06:59:59"] {
            assert_eq!(
                night.over(at(inside), zone()),
                at("25T07:00:00"),
                "{inside}"
            );
            assert_eq!(
                night.before(at(inside), zone()),
                at("24T22:00:00"),
                "{inside}"
            );
        }
        // A night in which the clock is put forward over an hour (Directive 2000/84/EC) is an hour shorter.
        let berlin = Zone::Named(chrono_tz::Europe::Berlin);
        let spring = DateTime::parse_from_rfc3339("2026-03-28T23:00:00+01:00").unwrap();
        let end = night.over(spring, berlin).to_rfc3339();
        assert_eq!(end, "2026-03-29T07:00:00+02:00");
        let day = at("25T12:00:05");
        assert_eq!(
            (night.over(day, zone()), night.before(day, zone())),
            (day, day)
        );
    }
}
