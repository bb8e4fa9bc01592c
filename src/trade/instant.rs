//! Instants as a painter says them: `18:30`, `yesterday 18:30`, `friday 6:30pm`, `2h ago`, or by
//! the calendar (RFC 3339, or its date and time in the studio's zone).
//!
//! Where the clock is put back and shows a time twice, the earlier is meant; a time that the clock
//! is put forward over is refused. RFC 3339 with its offset can name either.

use super::duration;
use super::problem::{ParseProblem, one_field};
pub use super::zone::{Now, Zone};
use chrono::{DateTime, Datelike, Days, FixedOffset, NaiveDate, NaiveTime, Timelike, Weekday};

/// The years read; others are slips of the finger.
const YEARS: std::ops::RangeInclusive<i32> = 1900..=2199;
/// How many days are searched for the last or next such day: 29 February may be eight years off.
const SEARCHED: u64 = 8 * 366;

const HINT: &str =
    "say 18:30, yesterday 18:30, friday 6:30pm, 24 nov 18:30, 2h ago or 2026-11-24 18:30";
const DAY_HINT: &str = "say year, month and day, as in 2026-11-24";
const MONTH_HINT: &str = "say year and month, as in 2026-10";

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
/// skipped in spring among them), or a year before 1900 or after 2199.
pub fn parse_instant(
    text: &str,
    now: &Now,
    lean: Lean,
) -> Result<DateTime<FixedOffset>, ParseProblem> {
    let said = one_field(text, HINT)?;
    let at = match DateTime::parse_from_rfc3339(said) {
        Ok(at) => whole(at),
        Err(_) => Reader { said, now, lean }.read()?,
    };
    if YEARS.contains(&at.year()) {
        Ok(at)
    } else {
        Err(ParseProblem::new(
            said,
            "is not within 1900 to 2199",
            "check the year",
        ))
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
    let said = one_field(text, DAY_HINT)?;
    let day = iso_day(said).filter(|day| YEARS.contains(&day.year()));
    day.ok_or_else(|| ParseProblem::new(said, "is no day of the calendar", DAY_HINT))
}

/// The first instant of a day, `2026-11-24`, and that of the next.
///
/// # Errors
/// As [`parse_date`].
pub fn parse_day(text: &str, zone: Zone) -> Result<DaySpan, ParseProblem> {
    let day = parse_date(text)?;
    span(zone, day, day.succ_opt())
        .ok_or_else(|| ParseProblem::new(text, "is no day of the calendar", DAY_HINT))
}

/// The first instant of a month, `2026-10`, and that of the next.
///
/// # Errors
/// Another form, or a month that does not exist.
pub fn parse_month(text: &str, zone: Zone) -> Result<DaySpan, ParseProblem> {
    let said = one_field(text, MONTH_HINT)?;
    let refused = || ParseProblem::new(said, "is no month of the calendar", MONTH_HINT);
    let first = parse_date(&format!("{said}-01")).map_err(|_| refused())?;
    let next = first.checked_add_months(chrono::Months::new(1));
    span(zone, first, next).ok_or_else(refused)
}

/// From an instant, included, to another, not included.
pub type DaySpan = (DateTime<FixedOffset>, DateTime<FixedOffset>);

fn span(zone: Zone, first: NaiveDate, next: Option<NaiveDate>) -> Option<DaySpan> {
    Some((zone.day_start(first)?, zone.day_start(next?)?))
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
    fn refuse<T>(&self, why: &str, hint: &str) -> Result<T, ParseProblem> {
        Err(ParseProblem::new(self.said, why, hint))
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
            None => self.refuse("is beyond the calendar", "check the number"),
        }
    }

    fn on_a_day(&self, words: &[&str]) -> Result<DateTime<FixedOffset>, ParseProblem> {
        let Some((time, before)) = split_time(words) else {
            return if self.day(words).is_some() {
                self.refuse("says no time of day", "add it, as in friday 18:30")
            } else {
                self.refuse("is no time that can be read", HINT)
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
            Some(open) => self.settle(open, time),
            None => self.refuse("names no day that can be read", HINT),
        }
    }

    fn skipped<T>(&self) -> Result<T, ParseProblem> {
        self.refuse(
            "never was on the clock, which was put forward over it that day",
            "say a time before or after the skipped hour",
        )
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

    fn today(&self) -> NaiveDate {
        let local = self.now.local();
        let shown = local.naive_utc().checked_add_offset(*local.offset());
        shown.unwrap_or(local.naive_utc()).date()
    }

    /// The last or next such day at that time, as the reading leans.
    fn settle(&self, day: Day, time: NaiveTime) -> Result<DateTime<FixedOffset>, ParseProblem> {
        let now = self.now.local();
        for away in 0..=SEARCHED {
            let Some(date) = self.leaning_day(away) else {
                break;
            };
            if !day.matches(date) {
                continue;
            }
            let shown = date.and_time(time);
            match self.now.zone.instant(shown) {
                Some(at) if self.fits(&at, &now) => return Ok(at),
                None if self.fits(&shown, &now.naive_local()) => return self.skipped(),
                _ => {}
            }
        }
        self.refuse("names a day that does not exist", HINT)
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
mod tests {
    use super::*;
    use chrono::TimeDelta;
    use proptest::prelude::*;

    fn at(text: &str) -> DateTime<FixedOffset> {
        DateTime::parse_from_rfc3339(text).unwrap()
    }

    /// A Wednesday, in winter.
    fn now() -> Now {
        now_at("2026-11-25T10:00:00+01:00")
    }

    fn now_at(text: &str) -> Now {
        Now {
            at: at(text),
            zone: Zone::Named(chrono_tz::Europe::Berlin),
        }
    }

    fn read(text: &str, lean: Lean) -> String {
        match parse_instant(text, &now(), lean) {
            Ok(at) => at.to_rfc3339(),
            Err(problem) => problem.to_string(),
        }
    }

    #[test]
    fn what_is_said_outright_leans_nowhere() {
        let table = [
            ("2026-11-24T18:30:00Z", "2026-11-24T18:30:00+00:00"),
            ("2026-11-24T18:30:00-05:00", "2026-11-24T18:30:00-05:00"),
            ("2026-12-31T23:59:60Z", "2026-12-31T23:59:59+00:00"),
            ("2026-11-24 18:30", "2026-11-24T18:30:00+01:00"),
            ("2026-11-24T18:30", "2026-11-24T18:30:00+01:00"),
            ("2026-07-24 18:30:15", "2026-07-24T18:30:15+02:00"),
            ("2027-01-02 6:30pm", "2027-01-02T18:30:00+01:00"),
            ("now", "2026-11-25T10:00:00+01:00"),
            ("NOW", "2026-11-25T10:00:00+01:00"),
            ("today 9:00", "2026-11-25T09:00:00+01:00"),
            ("today 23:00", "2026-11-25T23:00:00+01:00"),
            ("yesterday 18:30", "2026-11-24T18:30:00+01:00"),
            ("Yesterday at 6:30 PM", "2026-11-24T18:30:00+01:00"),
            ("tomorrow, 10:00", "2026-11-26T10:00:00+01:00"),
            ("24 nov 2025 18:30", "2025-11-24T18:30:00+01:00"),
            ("November 24, 2025 6pm", "2025-11-24T18:00:00+01:00"),
            ("2h ago", "2026-11-25T08:00:00+01:00"),
            ("90m ago", "2026-11-25T08:30:00+01:00"),
            ("1,5 h ago", "2026-11-25T08:30:00+01:00"),
            ("in 3h", "2026-11-25T13:00:00+01:00"),
            ("40 days ago", "2026-10-16T11:00:00+02:00"),
        ];
        for (said, wanted) in table {
            assert_eq!(read(said, Lean::Past), wanted, "{said}");
            assert_eq!(read(said, Lean::Future), wanted, "{said}");
        }
    }

    /// Said at 10:00 on Wednesday, 25 November 2026.
    #[test]
    fn what_is_left_open_leans() {
        let table = [
            ("9:59", "2026-11-25T09:59:00", "2026-11-26T09:59:00"),
            ("10:00", "2026-11-25T10:00:00", "2026-11-25T10:00:00"),
            ("10:01", "2026-11-24T10:01:00", "2026-11-25T10:01:00"),
            ("18:30", "2026-11-24T18:30:00", "2026-11-25T18:30:00"),
            ("6:30pm", "2026-11-24T18:30:00", "2026-11-25T18:30:00"),
            ("12am", "2026-11-25T00:00:00", "2026-11-26T00:00:00"),
            ("12:15 pm", "2026-11-24T12:15:00", "2026-11-25T12:15:00"),
            ("friday 18:30", "2026-11-20T18:30:00", "2026-11-27T18:30:00"),
            ("Fri 18:30", "2026-11-20T18:30:00", "2026-11-27T18:30:00"),
            (
                "wednesday 9:00",
                "2026-11-25T09:00:00",
                "2026-12-02T09:00:00",
            ),
            ("wed 11:00", "2026-11-18T11:00:00", "2026-11-25T11:00:00"),
            ("24 nov 18:30", "2026-11-24T18:30:00", "2027-11-24T18:30:00"),
            ("nov 26 18:30", "2025-11-26T18:30:00", "2026-11-26T18:30:00"),
            ("29 feb 12:00", "2024-02-29T12:00:00", "2028-02-29T12:00:00"),
        ];
        for (said, past, future) in table {
            assert_eq!(read(said, Lean::Past), format!("{past}+01:00"), "{said}");
            assert_eq!(
                read(said, Lean::Future),
                format!("{future}+01:00"),
                "{said}"
            );
        }
    }

    #[test]
    fn what_is_no_instant_is_refused_with_its_reason() {
        let table = [
            ("", "empty"),
            ("soon", "can be read"),
            ("18", "can be read"),
            ("18:60", "can be read"),
            ("24:00", "can be read"),
            ("13pm", "can be read"),
            ("0:30am", "can be read"),
            ("-1:30", "can be read"),
            ("friday", "no time of day"),
            ("2026-11-24", "no time of day"),
            ("24 nov", "no time of day"),
            ("someday 18:30", "no day"),
            ("2026-02-30 18:30", "no day"),
            ("24/11/2026 18:30", "no day"),
            ("30 feb 18:30", "does not exist"),
            ("31 nov 18:30", "does not exist"),
            ("0026-11-24 18:30", "1900"),
            ("2h30 ago ago", "unknown unit"),
            ("5 ago", "no unit"),
            ("in 11 years", "years"),
            ("in", "empty"),
        ];
        for (said, reason) in table {
            let told = read(said, Lean::Past);
            assert!(told.contains(reason), "{said}: {told}");
        }
    }

    /// The clock goes from 02:00 to 03:00 on 29 March 2026, and from 03:00 to 02:00 on 25 October
    /// (Directive 2000/84/EC).
    #[test]
    fn a_skipped_time_is_refused_and_the_earlier_of_two_is_meant() {
        let spring = now_at("2026-03-29T10:00:00+02:00");
        for said in [
            "2:30",
            "today 2:30",
            "2026-03-29 02:30",
            "sunday 2:30",
            "29 mar 2:30",
        ] {
            let problem = parse_instant(said, &spring, Lean::Past).unwrap_err();
            assert!(problem.why.contains("put forward"), "{said}: {problem}");
        }
        let before = now_at("2026-03-29T01:30:00+01:00");
        assert_eq!(
            parse_instant("2:30", &before, Lean::Past).unwrap(),
            at("2026-03-28T02:30:00+01:00")
        );
        assert!(parse_instant("2:30", &before, Lean::Future).is_err());
        let earlier = at("2026-10-25T02:30:00+02:00");
        for second_pass in ["2026-10-25T02:10:00+01:00", "2026-10-25T10:00:00+01:00"] {
            let now = now_at(second_pass);
            assert_eq!(parse_instant("2:30", &now, Lean::Past).unwrap(), earlier);
            assert_eq!(
                parse_instant("today 2:30", &now, Lean::Past).unwrap(),
                earlier
            );
        }
    }

    #[test]
    fn days_and_months_run_to_the_next() {
        let zone = now().zone;
        let (start, end) = parse_month("2026-10", zone).unwrap();
        assert_eq!(start, at("2026-10-01T00:00:00+02:00"));
        assert_eq!(end, at("2026-11-01T00:00:00+01:00"));
        let (start, end) = parse_month("2026-12", zone).unwrap();
        assert_eq!((end - start).num_days(), 31);
        let (start, end) = parse_day("2026-03-29", zone).unwrap();
        assert_eq!(end - start, TimeDelta::hours(23));
        assert_eq!(
            parse_date(" 2024-02-29 ").unwrap(),
            NaiveDate::from_ymd_opt(2024, 2, 29).unwrap()
        );
        for said in [
            "", "2026-13", "2026", "26-10", "2026-1", "+026-10", "0026-10",
        ] {
            assert!(parse_month(said, zone).is_err(), "{said}");
        }
        for said in [
            "",
            "2026-02-29",
            "2026-11",
            "24.11.2026",
            "2026-1-1",
            "2200-01-01",
        ] {
            assert!(parse_day(said, zone).is_err(), "{said}");
        }
    }

    fn any_now() -> impl Strategy<Value = Now> {
        // 1990 to 2060.
        let at =
            (631_152_000..2_840_140_800_i64).prop_map(|s| DateTime::from_timestamp(s, 0).unwrap());
        let zone = prop_oneof![
            Just(Zone::Named(chrono_tz::Europe::Berlin)),
            Just(Zone::Named(chrono_tz::Australia::Lord_Howe)),
            Just(Zone::Named(chrono_tz::Pacific::Apia)),
            (-50_000..50_000).prop_map(|s| Zone::Fixed(FixedOffset::east_opt(s).unwrap())),
        ];
        (at, zone).prop_map(|(at, zone)| Now {
            at: zone.tell(at),
            zone,
        })
    }

    proptest! {
        #[test]
        fn no_text_panics(
            text in any::<String>(),
            like in "(fri |24 nov |today |in |2026-0[0-9]-[0-3][0-9][T ])?[0-9]{0,2}:?[0-9]{0,3}( ?pm| ago|h)?",
            now in any_now(),
        ) {
            let long = text.repeat(1 + 1_000_000 / (1 + text.len()));
            for said in [&text, &like, &long] {
                for lean in [Lean::Past, Lean::Future] {
                    let _ = parse_instant(said, &now, lean);
                }
                let _ = parse_day(said, now.zone);
                let _ = parse_month(said, now.zone);
            }
        }

        #[test]
        fn rfc_3339_reads_back_the_same(now in any_now()) {
            let back = parse_instant(&now.at.to_rfc3339(), &now, Lean::Past).unwrap();
            prop_assert_eq!((back, back.offset()), (now.at, now.at.offset()));
        }

        /// Two days: Samoa's left-out day lies between one 18:30 and the next.
        #[test]
        fn a_time_alone_is_the_last_or_next(now in any_now(), hour in 4..24_u32, minute in 0..60_u32) {
            let said = format!("{hour}:{minute:02}");
            if let Ok(at) = parse_instant(&said, &now, Lean::Past) {
                prop_assert!(at <= now.at && now.at - at <= TimeDelta::hours(25), "{at} {:?}", now);
            }
            if let Ok(at) = parse_instant(&said, &now, Lean::Future) {
                prop_assert!(at >= now.at && at - now.at <= TimeDelta::hours(25), "{at} {:?}", now);
            }
        }
    }

    #[test]
    fn the_calendars_ends_do_not_panic() {
        for edge in [
            DateTime::<chrono::Utc>::MIN_UTC,
            DateTime::<chrono::Utc>::MAX_UTC,
        ] {
            for seconds in [-80_000, 0, 80_000] {
                let zone = Zone::Fixed(FixedOffset::east_opt(seconds).unwrap());
                let now = Now {
                    at: edge.fixed_offset(),
                    zone,
                };
                for said in [
                    "18:30",
                    "now",
                    "yesterday 1:00",
                    "tomorrow 1:00",
                    "2h ago",
                    "in 9d",
                ] {
                    assert!(parse_instant(said, &now, Lean::Past).is_err());
                    assert!(parse_instant(said, &now, Lean::Future).is_err());
                }
            }
        }
    }
}
