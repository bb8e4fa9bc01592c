//! Instants as a painter says them: `18:30`, `yesterday 18:30`, `friday 6:30pm`, `2h ago`, or by
//! the calendar (RFC 3339, or its date and time in the studio's zone).
//!
//! Where the clock is put back and shows a time twice, the earlier is meant; a time that the clock
//! is put forward over is refused. RFC 3339 with its offset can name either.

use super::duration;
use super::problem::{Misread, ParseProblem, Sought, one_field};
pub use super::zone::{Now, Zone};
use chrono::{
    DateTime, Datelike, Days, FixedOffset, Months, NaiveDate, NaiveDateTime, NaiveTime, TimeDelta,
    Timelike, Weekday,
};

/// The years read; others are slips of the finger.
const YEARS: std::ops::RangeInclusive<i32> = 1900..=2199;
/// A time whose day is left open is refused in the past where it is still to come within so long (ours): nobody means one
/// almost a whole day, or a week, back without saying so.
const SOON: TimeDelta = TimeDelta::hours(6);
/// How many days are searched for the last or next such day: 29 February may be eight years off.
const SEARCHED: u64 = 8 * 366;

/// Which of the many 18:30s is meant where no date says it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lean {
    /// The last one, at or before now: what is logged has happened.
    Past,
    /// The next one, at or after now: what is planned has not.
    Future,
}

/// The day in what was said.
#[derive(Debug, Clone, Copy)]
enum Day {
    Any,
    On(NaiveDate),
    Weekday(Weekday),
    Yearly { month: u32, day: u32 },
}

/// Reads an instant. What the words leave open (the day of `18:30`, the week of `friday 18:30`,
/// the year of `24 nov 18:30`) is settled by `lean`; what they say outright is kept, even where
/// it is not in the past or future that the caller expects.
///
/// An instant with an offset of its own keeps it; all others are at the zone's.
///
/// ```
/// use chrono::DateTime;
/// use stillcup::trade::instant::{Lean, Now, Zone, parse_instant};
/// let at = DateTime::parse_from_rfc3339("2026-11-25T10:00:00+01:00").unwrap();
/// let now = Now { at, zone: Zone::Named(chrono_tz::Europe::Berlin) };
/// let mixed = parse_instant("18:30", &now, Lean::Past).unwrap();
/// assert_eq!(mixed.to_rfc3339(), "2026-11-24T18:30:00+01:00");
/// ```
///
/// # Errors
/// Words that are not known, a day without a time, a day or time that does not exist (the hour
/// skipped in spring among them), a year before 1900 or after 2199, or a time of an open day that is
/// to be past and yet comes within six hours: which day is meant must be said then.
pub fn parse_instant(
    text: &str,
    now: &Now,
    lean: Lean,
) -> Result<DateTime<FixedOffset>, ParseProblem> {
    let said = one_field(text, Sought::Instant)?;
    let at = match DateTime::parse_from_rfc3339(said) {
        Ok(at) => whole(at),
        Err(_) => Reader { said, now, lean }.read()?,
    };
    if YEARS.contains(&at.year()) {
        Ok(at)
    } else {
        let why = Misread::OutOfRange;
        Err(ParseProblem::new(said, Sought::Instant, why))
    }
}

/// A leap second is kept as the second before it, as clocks that know none show it.
fn whole(at: DateTime<FixedOffset>) -> DateTime<FixedOffset> {
    if at.nanosecond() >= 1_000_000_000 {
        at.with_nanosecond(0).unwrap_or(at)
    } else {
        at
    }
}

/// Reads a day of the calendar: `2026-11-24`.
///
/// # Errors
/// Another form, or a day that does not exist.
pub fn parse_date(text: &str) -> Result<NaiveDate, ParseProblem> {
    let said = one_field(text, Sought::Date)?;
    let day = iso_day(said).filter(|day| YEARS.contains(&day.year()));
    day.ok_or_else(|| ParseProblem::new(said, Sought::Date, Misread::NotOne))
}

/// The first instant of a month, `2026-10`, and that of the next.
///
/// # Errors
/// Another form, or a month that does not exist.
pub fn parse_month(text: &str, zone: Zone) -> Result<DaySpan, ParseProblem> {
    let said = one_field(text, Sought::Month)?;
    let refused = || ParseProblem::new(said, Sought::Month, Misread::NotOne);
    let first = parse_date(&format!("{said}-01")).map_err(|_| refused())?;
    months(zone, first, 1).ok_or_else(refused)
}

/// The first instant of a month of a year, and that of the next; the months are 1 to 12.
#[must_use]
pub fn month_span(year: i32, month: u32, zone: Zone) -> Option<DaySpan> {
    months(zone, NaiveDate::from_ymd_opt(year, month, 1)?, 1)
}

/// The first instant of a year, `2026`, and that of the next.
///
/// # Errors
/// Another form, or a year that does not exist.
pub fn parse_year(text: &str, zone: Zone) -> Result<DaySpan, ParseProblem> {
    let said = one_field(text, Sought::Year)?;
    let refused = || ParseProblem::new(said, Sought::Year, Misread::NotOne);
    let first = parse_date(&format!("{said}-01-01")).map_err(|_| refused())?;
    months(zone, first, 12).ok_or_else(refused)
}

/// From an instant, included, to another, not included.
pub type DaySpan = (DateTime<FixedOffset>, DateTime<FixedOffset>);

fn span(zone: Zone, first: NaiveDate, next: Option<NaiveDate>) -> Option<DaySpan> {
    Some((zone.day_start(first)?, zone.day_start(next?)?))
}

fn months(zone: Zone, first: NaiveDate, count: u32) -> Option<DaySpan> {
    span(zone, first, first.checked_add_months(Months::new(count)))
}

/// Ten characters, `2026-11-24`; the calendar's own reader would take fewer, or a sign.
fn iso_day(text: &str) -> Option<NaiveDate> {
    let dashes = text.bytes().enumerate().all(|(at, byte)| match at {
        4 | 7 => byte == b'-',
        _ => byte.is_ascii_digit(),
    });
    (text.len() == 10 && dashes)
        .then(|| text.parse().ok())
        .flatten()
}

/// One reading: what was said, and what it is said at.
struct Reader<'a> {
    said: &'a str,
    now: &'a Now,
    lean: Lean,
}

impl Reader<'_> {
    fn refuse<T>(&self, why: Misread) -> Result<T, ParseProblem> {
        Err(ParseProblem::new(self.said, Sought::Instant, why))
    }

    fn read(&self) -> Result<DateTime<FixedOffset>, ParseProblem> {
        let lower = self.said.to_lowercase();
        let words = words(&lower);
        match words.as_slice() {
            ["now"] => Ok(self.now.local()),
            [time @ .., "ago"] => self.away(&time.join(" "), -1),
            ["in", time @ ..] => self.away(&time.join(" "), 1),
            words => self.on_a_day(words),
        }
    }

    /// So much before (-1) or after (1) now.
    fn away(&self, time: &str, sign: i32) -> Result<DateTime<FixedOffset>, ParseProblem> {
        let time = duration::parse(time)?;
        match self.now.at.checked_add_signed(time * sign) {
            Some(at) => Ok(self.now.zone.tell(at)),
            None => self.refuse(Misread::BeyondCalendar),
        }
    }

    fn on_a_day(&self, words: &[&str]) -> Result<DateTime<FixedOffset>, ParseProblem> {
        let Some((time, before)) = split_time(words) else {
            return if self.day(words).is_some() {
                self.refuse(Misread::NoTimeOfDay)
            } else {
                self.refuse(Misread::NotOne)
            };
        };
        let day = match before {
            [day @ .., "at"] | day => self.day(day),
        };
        match day {
            Some(Day::On(date)) => match self.now.zone.instant(date.and_time(time)) {
                Some(at) => Ok(at),
                None => self.skipped(),
            },
            Some(open) => self.leaning(open, time),
            None => self.refuse(Misread::UnknownDay),
        }
    }

    fn skipped<T>(&self) -> Result<T, ParseProblem> {
        self.refuse(Misread::SkippedHour)
    }

    /// The day in these words; no words leave it open.
    fn day(&self, words: &[&str]) -> Option<Day> {
        let today = self.today();
        Some(match *words {
            [] => Day::Any,
            ["today"] => Day::On(today),
            ["yesterday"] => Day::On(today.pred_opt()?),
            ["tomorrow"] => Day::On(today.succ_opt()?),
            [word] => match weekday(word) {
                Some(weekday) => Day::Weekday(weekday),
                None => Day::On(iso_day(word)?),
            },
            [one, other] => {
                let (month, day) = month_day(one, other)?;
                Day::Yearly { month, day }
            }
            [one, other, year] if year.len() == 4 => {
                let (month, day) = month_day(one, other)?;
                Day::On(NaiveDate::from_ymd_opt(
                    number(year)?.try_into().ok()?,
                    month,
                    day,
                )?)
            }
            _ => return None,
        })
    }

    /// What the clock on the wall shows now; UTC at the calendar's very ends.
    fn shown_now(&self) -> NaiveDateTime {
        let local = self.now.local();
        let shown = local.naive_utc().checked_add_offset(*local.offset());
        shown.unwrap_or(local.naive_utc())
    }

    fn today(&self) -> NaiveDate {
        self.shown_now().date()
    }

    /// As [`Self::in_zone`]; in the past a time that is about to come is refused.
    fn leaning(&self, day: Day, time: NaiveTime) -> Result<DateTime<FixedOffset>, ParseProblem> {
        let found = self.in_zone(day, time)?;
        let next = Self {
            lean: Lean::Future,
            ..*self
        };
        let comes = next.in_zone(day, time).ok();
        let soon = |at: &DateTime<FixedOffset>| (*at - self.now.at) <= SOON;
        match self.lean {
            Lean::Past if found != self.now.at && comes.as_ref().is_some_and(soon) => {
                self.to_come(found)
            }
            _ => Ok(found),
        }
    }

    fn to_come<T>(&self, last: DateTime<FixedOffset>) -> Result<T, ParseProblem> {
        let yesterday = self.today().pred_opt() == Some(last.date_naive());
        self.refuse(Misread::StillToCome { last, yesterday })
    }

    /// The last or next such day at that time, as the reading leans.
    fn in_zone(&self, day: Day, time: NaiveTime) -> Result<DateTime<FixedOffset>, ParseProblem> {
        for away in 0..=SEARCHED {
            let Some(date) = self.leaning_day(away) else {
                break;
            };
            if !day.matches(date) {
                continue;
            }
            let shown = date.and_time(time);
            match self.now.zone.instant(shown) {
                Some(at) if self.fits(&at, &self.now.at) => return Ok(at),
                None if self.fits(&shown, &self.shown_now()) => return self.skipped(),
                _ => {}
            }
        }
        self.refuse(Misread::NoSuchDay)
    }

    fn leaning_day(&self, away: u64) -> Option<NaiveDate> {
        match self.lean {
            Lean::Past => self.today().checked_sub_days(Days::new(away)),
            Lean::Future => self.today().checked_add_days(Days::new(away)),
        }
    }

    fn fits<T: PartialOrd>(&self, at: &T, now: &T) -> bool {
        match self.lean {
            Lean::Past => at <= now,
            Lean::Future => at >= now,
        }
    }
}

impl Day {
    fn matches(self, date: NaiveDate) -> bool {
        match self {
            Self::Any => true,
            Self::On(day) => day == date,
            Self::Weekday(weekday) => date.weekday() == weekday,
            Self::Yearly { month, day } => (date.month(), date.day()) == (month, day),
        }
    }
}

/// The words, without commas after them; a date and time joined by `t` are two.
fn words(lower: &str) -> Vec<&str> {
    let joined = lower.split_at_checked(10).and_then(|(day, rest)| {
        iso_day(day)?;
        Some([day, rest.strip_prefix('t')?])
    });
    match joined {
        Some(pair) => pair.into(),
        None => lower
            .split_whitespace()
            .map(|word| word.trim_end_matches(','))
            .collect(),
    }
}

/// The time of day that the words end with, and the words before it.
fn split_time<'a, 'b>(words: &'a [&'b str]) -> Option<(NaiveTime, &'a [&'b str])> {
    match words {
        [before @ .., clock, half @ ("am" | "pm")] => Some((twelve_hour(clock, half)?, before)),
        [before @ .., word] => {
            let (clock, half) = word.split_at_checked(word.len().saturating_sub(2))?;
            let time = match half {
                "am" | "pm" => twelve_hour(clock, half)?,
                _ => clock_time(word)?,
            };
            Some((time, before))
        }
        [] => None,
    }
}

/// `6:30` or `6`, before or after noon; 12 am is midnight and 12 pm noon.
fn twelve_hour(clock: &str, half: &str) -> Option<NaiveTime> {
    let time = if clock.contains(':') {
        clock_time(clock)?
    } else {
        NaiveTime::from_hms_opt(number(clock)?, 0, 0)?
    };
    let noon = if half == "pm" { 12 } else { 0 };
    match time.hour() {
        hour @ 1..=12 => time.with_hour(hour % 12 + noon),
        _ => None,
    }
}

/// `18:30` or `18:30:15`.
fn clock_time(clock: &str) -> Option<NaiveTime> {
    let fields: Option<Vec<u32>> = clock.split(':').map(number).collect();
    match *fields?.as_slice() {
        [hour, minute] => NaiveTime::from_hms_opt(hour, minute, 0),
        [hour, minute, second] => NaiveTime::from_hms_opt(hour, minute, second),
        _ => None,
    }
}

/// A number of one to four digits, without a sign.
fn number(text: &str) -> Option<u32> {
    let plain = text.len() <= 4 && text.bytes().all(|byte| byte.is_ascii_digit());
    plain.then(|| text.parse().ok()).flatten()
}

fn weekday(word: &str) -> Option<Weekday> {
    // The calendar's reader knows `fri` and `friday`, and nothing between.
    word.parse().ok()
}

/// A month and a day of it, said in either order.
fn month_day(one: &str, other: &str) -> Option<(u32, u32)> {
    let month = |word: &str| {
        word.parse::<chrono::Month>()
            .ok()
            .map(|month| month.number_from_month())
    };
    match (month(one), month(other)) {
        (Some(month), None) => Some((month, number(other)?)),
        (None, Some(month)) => Some((month, number(one)?)),
        _ => None,
    }
}

#[cfg(test)]
mod tests;
