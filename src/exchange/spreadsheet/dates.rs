//! Dates as whole columns write them: what one cell leaves open another decides.

use super::numbers::unformula;
use crate::studio::{CellFault, DateOrder, DateReason, ListFault, ListNote};
use crate::trade::instant::Now;
use crate::trade::moment::Moment;
use chrono::{DateTime, NaiveDate, NaiveDateTime, NaiveTime, TimeDelta};

/// A date of two numbers that may be read in two ways: its line, its cell, and these numbers.
type TwoNumbers<'a> = (u64, &'a str, u32, u32);

/// Decides over all columns of dates which number is the day, and why; nothing where no date leaves that open.
///
/// A number above 12 can be no month. Where no date tells, the order in which a column's lines rise does; else the studio's
/// measures, as a guess that is said.
pub(super) fn order(
    columns: &[Vec<(u64, &str)>],
    us: bool,
    now: &Now,
) -> Result<Option<(DateOrder, DateReason)>, ListFault> {
    let open = columns.iter().map(|cells| {
        let open = cells.iter();
        open.filter_map(|(line, cell)| two_numbers(cell).map(|(a, b)| (*line, *cell, a, b)))
            .collect()
    });
    let columns: Vec<Vec<TwoNumbers<'_>>> = open.collect();
    let open = columns.concat();
    let day = open.iter().find(|(_, _, a, _)| *a > 12);
    let month = open.iter().find(|(_, _, _, b)| *b > 12);
    let line = |one: &TwoNumbers<'_>| DateReason::Line(one.0, one.1.into());
    match (day, month) {
        (Some(day), Some(month)) => Err(ListFault::DatesDiffer {
            day: (day.0, day.1.into()),
            month: (month.0, month.1.into()),
        }),
        (Some(day), None) => Ok(Some((DateOrder::DayFirst, line(day)))),
        (None, Some(month)) => Ok(Some((DateOrder::MonthFirst, line(month)))),
        (None, None) if open.is_empty() => Ok(None),
        (None, None) => {
            let rising = columns.iter().find_map(|open| by_rising(open, now));
            let guess = match us {
                true => DateOrder::MonthFirst,
                false => DateOrder::DayFirst,
            };
            Ok(Some(match rising {
                Some(order) => (order, DateReason::Rising),
                None => (guess, DateReason::Measures),
            }))
        }
    }
}

/// The one order in which a column's dates rise, or fall.
fn by_rising(open: &[TwoNumbers<'_>], now: &Now) -> Option<DateOrder> {
    let rises = |order: DateOrder| {
        let days = open.iter();
        let days = days.filter_map(|(_, cell, ..)| date(cell, order, now).ok());
        let days: Vec<_> = days.collect();
        days.len() > 2
            && (days.windows(2).all(|pair| pair[0] <= pair[1])
                || days.windows(2).all(|pair| pair[0] >= pair[1]))
    };
    match (rises(DateOrder::DayFirst), rises(DateOrder::MonthFirst)) {
        (true, false) => Some(DateOrder::DayFirst),
        (false, true) => Some(DateOrder::MonthFirst),
        _ => None,
    }
}

/// The two first numbers of a date that may be read in two ways; points part days from months in that order alone.
fn two_numbers(cell: &str) -> Option<(u32, u32)> {
    let day = cell.split_whitespace().next()?;
    let parts: Vec<&str> = day.split(['/', '-']).collect();
    let number = |text: &str| text.parse::<u32>().ok().filter(|_| text.len() <= 2);
    match parts.as_slice() {
        [a, b, _] => Some((number(a)?, number(b)?)),
        _ => None,
    }
}

const MONTHS: &[&str] = &[
    "jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec",
];

/// How other tongues begin those that begin otherwise: German.
const OTHER_MONTHS: &[(&str, u32)] =
    &[("mär", 3), ("mrz", 3), ("mai", 5), ("okt", 10), ("dez", 12)];

/// Reads an instant: ISO, numbers with `/`, `-` or `.`, a month's name, or a spreadsheet's day number; with a clock time, or noon.
pub(super) fn date(cell: &str, order: DateOrder, now: &Now) -> Result<Moment, CellFault> {
    let wrong = || CellFault::NoDate(cell.into());
    let said = unformula(cell)?;
    if let Some(at) = with_offset(said) {
        return not_a_slip(at, at.date_naive()).ok_or_else(wrong);
    }
    let said = said.replace(',', " ");
    let said = match said.split_once('T') {
        Some((day, time)) if day.len() == 10 && day.as_bytes()[4] == b'-' => {
            format!("{day} {time}")
        }
        _ => said,
    };
    let mut words: Vec<&str> = said.split_whitespace().collect();
    if let Some(serial) = serial(&words) {
        return placed(serial, now).ok_or_else(wrong);
    }
    let time = time(&mut words).ok_or_else(wrong)?;
    let day = day(&words, order).ok_or_else(wrong)?;
    placed(day.and_time(time), now).ok_or_else(wrong)
}

/// An instant that says how far its clock is from UTC: RFC 3339, with or without seconds.
fn with_offset(said: &str) -> Option<Moment> {
    let at = DateTime::parse_from_rfc3339(said);
    at.or_else(|_| DateTime::parse_from_str(said, "%Y-%m-%dT%H:%M%#z"))
        .ok()
}

/// A clock time by the studio's wall clock.
fn placed(shown: NaiveDateTime, now: &Now) -> Option<Moment> {
    not_a_slip(now.zone.instant(shown)?, shown.date())
}

/// A date before 1990 is a slip.
fn not_a_slip(at: Moment, day: NaiveDate) -> Option<Moment> {
    let first = NaiveDate::from_ymd_opt(1990, 1, 1)?;
    (day >= first).then_some(at)
}

/// That dates are a spreadsheet's day numbers, with the first that is one.
pub(super) fn day_numbers(cells: &[(u64, &str)]) -> Option<ListNote> {
    let (line, cell) = cells.iter().find(|(_, cell)| serial(&[*cell]).is_some())?;
    Some(ListNote::DayNumbers(*line, (*cell).to_owned()))
}

/// Days since 30 December 1899, as spreadsheets count (ECMA-376 part 1, 18.17.4.1), with a share of a day.
fn serial(words: &[&str]) -> Option<NaiveDateTime> {
    let [word] = words else { return None };
    let days: f64 = word
        .parse()
        .ok()
        .filter(|days| (32_874.0..80_000.0).contains(days))?;
    let first = NaiveDate::from_ymd_opt(1899, 12, 30)?.and_hms_opt(0, 0, 0)?;
    let whole = days.fract() == 0.0;
    let minutes = (days * 1440.0).round() + if whole { 720.0 } else { 0.0 };
    first.checked_add_signed(TimeDelta::try_minutes(minutes as i64)?)
}

/// Takes the clock time off the words' end; noon where there is none.
fn time(words: &mut Vec<&str>) -> Option<NaiveTime> {
    let noon = NaiveTime::from_hms_opt(12, 0, 0)?;
    let Some(at) = words.iter().position(|word| word.contains(':')) else {
        return Some(noon);
    };
    let said = words[at..].join("").to_lowercase();
    words.truncate(at);
    let (clock, half) = match (said.strip_suffix("am"), said.strip_suffix("pm")) {
        (Some(clock), _) => (clock, Some(0)),
        (_, Some(clock)) => (clock, Some(12)),
        _ => (said.as_str(), None),
    };
    let mut parts = clock.split(':');
    let hour: u32 = parts.next()?.parse().ok()?;
    let minute: u32 = parts.next()?.parse().ok()?;
    // Seconds are not kept, and nothing else may follow.
    let seconds = parts.next().map_or(Some(0.0), |part| part.parse().ok())?;
    if !(0.0..61.0).contains(&seconds) || parts.next().is_some() {
        return None;
    }
    let hour = match half {
        Some(add) if (1..=12).contains(&hour) => hour % 12 + add,
        Some(_) => return None,
        None => hour,
    };
    NaiveTime::from_hms_opt(hour, minute, 0)
}

fn day(words: &[&str], order: DateOrder) -> Option<NaiveDate> {
    // A weekday's name before the date says nothing new.
    let weekdays = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"];
    let is_weekday = |word: &str| {
        weekdays
            .iter()
            .any(|day| word.to_lowercase().starts_with(day))
            && !word.contains(['/', '-', '.'])
    };
    let words: Vec<&str> = words
        .iter()
        .copied()
        .filter(|word| !is_weekday(word))
        .collect();
    match words.as_slice() {
        [one] => numbers(one, order).or_else(|| {
            let parts: Vec<&str> = one.split(['-', '/', '.']).collect();
            named(&parts)
        }),
        parts => named(parts),
    }
}

fn numbers(word: &str, order: DateOrder) -> Option<NaiveDate> {
    let points = word.contains('.');
    let parts: Vec<u32> = word
        .trim_end_matches('.')
        .split(['/', '-', '.'])
        .map(|part| part.parse().ok())
        .collect::<Option<_>>()?;
    let [a, b, c] = parts.as_slice() else {
        return None;
    };
    // A year has two digits or four.
    let digits = word.trim_end_matches('.').rsplit(['/', '-', '.']).next()?;
    if *a <= 31 && !(digits.len() == 2 || (digits.len() == 4 && !digits.starts_with('0'))) {
        return None;
    }
    if *a > 31 {
        return NaiveDate::from_ymd_opt(i32::try_from(*a).ok()?, *b, *c);
    }
    let (day, month) = if points || order == DateOrder::DayFirst {
        (*a, *b)
    } else {
        (*b, *a)
    };
    NaiveDate::from_ymd_opt(year(*c)?, month, day)
}

fn named(parts: &[&str]) -> Option<NaiveDate> {
    let [a, b, c] = parts else { return None };
    let number = |word: &str| {
        let digits = word.trim_end_matches(|c: char| !c.is_ascii_digit());
        digits.parse::<u32>().ok()
    };
    let month = |word: &str| {
        let word = word.to_lowercase();
        let own = MONTHS.iter().position(|name| word.starts_with(name));
        let own = own.and_then(|at| u32::try_from(at + 1).ok());
        let others = || OTHER_MONTHS.iter().find(|(name, _)| word.starts_with(name));
        own.or_else(|| others().map(|(_, number)| *number))
    };
    match (month(a), month(b)) {
        (Some(month), _) => NaiveDate::from_ymd_opt(year(number(c)?)?, month, number(b)?),
        (_, Some(month)) => NaiveDate::from_ymd_opt(year(number(c)?)?, month, number(a)?),
        _ => None,
    }
}

fn year(number: u32) -> Option<i32> {
    let year = if number < 100 { number + 2000 } else { number };
    i32::try_from(year)
        .ok()
        .filter(|year| (1990..=2200).contains(year))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::instant::Zone;

    fn now() -> Now {
        let at = chrono::DateTime::parse_from_rfc3339("2026-11-24T18:30:00+01:00").unwrap();
        Now {
            at,
            zone: Zone::Fixed(*at.offset()),
        }
    }

    fn read(cell: &str, order: DateOrder) -> String {
        date(cell, order, &now()).map_or_else(
            |why| format!("{why:?}"),
            |at| now().zone.tell(at).format("%Y-%m-%d %H:%M").to_string(),
        )
    }

    // ECMA-376: 44197 is 1 January 2021.
    #[test]
    fn dates_are_read_in_the_forms_of_spreadsheets() {
        for (cell, wanted) in [
            ("2024-03-05", "2024-03-05 12:00"),
            ("2024-03-05T18:30", "2024-03-05 18:30"),
            ("2024-03-05T18:30:59.5", "2024-03-05 18:30"),
            // By UTC, and by a clock in another zone: 18:30 and 6 h on are 0:30 here.
            ("2024-03-05T18:30Z", "2024-03-05 19:30"),
            ("2024-03-05T18:30:00Z", "2024-03-05 19:30"),
            ("2024-03-05T18:30:00-05:00", "2024-03-06 00:30"),
            ("2024-03-05 18:30:00+01:00", "2024-03-05 18:30"),
            ("5/3/2024", "2024-03-05 12:00"),
            ("05.03.24 9:05", "2024-03-05 09:05"),
            ("5-3-2024 6:30 pm", "2024-03-05 18:30"),
            ("5 Mar 2024", "2024-03-05 12:00"),
            ("March 5, 2024", "2024-03-05 12:00"),
            ("Tue 5 March 2024 12:15 am", "2024-03-05 00:15"),
            ("5-Mar-24", "2024-03-05 12:00"),
            ("5. März 2024", "2024-03-05 12:00"),
            ("24. Dez. 2023", "2023-12-24 12:00"),
            ("44197", "2021-01-01 12:00"),
            ("44197.75", "2021-01-01 18:00"),
        ] {
            assert_eq!(read(cell, DateOrder::DayFirst), wanted, "{cell}");
        }
        assert_eq!(read("3/5/2024", DateOrder::MonthFirst), "2024-03-05 12:00");
        for bad in [
            "",
            "soon",
            "31/2/2024",
            "5/3",
            "2024",
            "1/1/0001",
            "99999999",
            "=TODAY()",
            "5/3/2024 25:00",
            "5/3/2024 18:30:junk",
            "5/3/2024 18:30:00:00",
            "5/3/2024 18:30z",
            "1/1/0001 18:30",
            "0001-01-01T18:30:00Z",
        ] {
            assert!(date(bad, DateOrder::DayFirst, &now()).is_err(), "{bad}");
        }
    }

    #[test]
    fn the_whole_column_decides_what_a_date_leaves_open() {
        let told = |cells: &[&str], us| {
            let cells: Vec<(u64, &str)> = (2..).zip(cells.iter().copied()).collect();
            let told = order(&[cells], us, &now()).ok()?;
            told.map(|(order, _)| order)
        };
        assert_eq!(
            told(&["1/2/2024", "13/2/2024"], true),
            Some(DateOrder::DayFirst)
        );
        assert_eq!(
            told(&["1/2/2024", "2/13/2024"], false),
            Some(DateOrder::MonthFirst)
        );
        assert!(told(&["13/2/2024", "2/13/2024"], false).is_none());
        assert_eq!(
            told(&["1/10/2023", "1/11/2023", "1/2/2024", "2/1/2025"], true),
            Some(DateOrder::MonthFirst)
        );
        assert_eq!(
            told(&["11/1/2023", "1/2/2023", "2/2/2023", "1/3/2023"], true),
            Some(DateOrder::DayFirst)
        );
        assert_eq!(
            told(&["1/11/2023", "2/1/2023", "3/1/2023"], false),
            Some(DateOrder::MonthFirst)
        );
        assert_eq!(told(&["1/2/2024"], true), Some(DateOrder::MonthFirst));
        assert_eq!(told(&["1/2/2024"], false), Some(DateOrder::DayFirst));
    }

    proptest::proptest! {
        #[test]
        fn no_cell_panics(cell in proptest::prelude::any::<String>()) {
            let _ = date(&cell, DateOrder::DayFirst, &now());
            let _ = order(&[vec![(1, cell.as_str())]], true, &now());
        }
    }
}
