//! Lengths of time as a painter says them: `12h`, `1h 30m`, `1:30`, `2 days`; read and shown.

use super::number::split_float;
use super::problem::{Misread, ParseProblem, Sought, one_field, said_back};
use crate::trade::units::{Minutes, Seconds};
use chrono::TimeDelta;

/// The longest time read: ten years of 365.25 days.
const LONGEST_SECONDS: f64 = 10.0 * 365.25 * 86_400.0;

/// A unit of time.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Unit {
    /// 1 s.
    Second,
    /// 60 s.
    Minute,
    /// 3600 s.
    Hour,
    /// 86 400 s, whatever the clocks do.
    Day,
    /// 7 days.
    Week,
}

impl Unit {
    fn named(name: &str) -> Option<Self> {
        Some(match name {
            "s" | "sec" | "secs" | "second" | "seconds" => Self::Second,
            "m" | "min" | "mins" | "minute" | "minutes" => Self::Minute,
            "h" | "hr" | "hrs" | "hour" | "hours" => Self::Hour,
            "d" | "day" | "days" => Self::Day,
            "w" | "wk" | "wks" | "week" | "weeks" => Self::Week,
            _ => return None,
        })
    }

    const fn seconds(self) -> f64 {
        match self {
            Self::Second => 1.0,
            Self::Minute => 60.0,
            Self::Hour => 3600.0,
            Self::Day => 86_400.0,
            Self::Week => 604_800.0,
        }
    }

    /// The unit a bare number has after this one: `1h30` is an hour and thirty minutes.
    const fn below(self) -> Option<Self> {
        match self {
            Self::Hour => Some(Self::Minute),
            Self::Minute => Some(Self::Second),
            Self::Second | Self::Day | Self::Week => None,
        }
    }
}

/// Reads a length of time, in upper or lower case, to the millisecond.
///
/// ```
/// use chrono::TimeDelta;
/// use stillcup::trade::duration;
/// assert_eq!(duration::parse("1h30").unwrap(), TimeDelta::minutes(90));
/// assert!(duration::parse("90").is_err());
/// ```
///
/// # Errors
/// No number, a bare number, an unknown unit (months and years among them, and `1M`, which may be
/// a month or a minute), units that do not fall in size, minutes over 59 after a colon, a
/// negative time, or one over ten years.
pub fn parse(text: &str) -> Result<TimeDelta, ParseProblem> {
    read(text, None)
}

/// As [`parse`], for a form that has a unit of its own: a bare number is in it.
///
/// # Errors
/// As [`parse`], a bare number aside.
pub fn parse_or(text: &str, unit: Unit) -> Result<TimeDelta, ParseProblem> {
    read(text, Some(unit))
}

/// Reads how long a cup was stirred; a bare number is in minutes.
///
/// # Errors
/// As [`parse_or`], and no time at all, or more than a day.
pub fn parse_stirring(text: &str) -> Result<Minutes, ParseProblem> {
    let time = parse_or(text, Unit::Minute)?;
    if time <= TimeDelta::zero() || time > TimeDelta::hours(24) {
        let why = Misread::OutOfRange;
        return Err(ParseProblem::new(text, Sought::Stirring, why));
    }
    Ok(Minutes(time.num_milliseconds() as f64 / 60_000.0))
}

fn read(text: &str, default: Option<Unit>) -> Result<TimeDelta, ParseProblem> {
    let said = one_field(text, Sought::Duration)?;
    let seconds = if said.contains(':') {
        clock(said)?
    } else {
        terms(said, default)?
    };
    if seconds > LONGEST_SECONDS {
        return Err(refused(said, Misread::TooLarge));
    }
    // Under ten years a float counts milliseconds exactly.
    #[expect(clippy::cast_possible_truncation)]
    let milliseconds = (seconds * 1000.0).round() as i64;
    Ok(TimeDelta::milliseconds(milliseconds))
}

fn refused(said: &str, why: Misread) -> ParseProblem {
    ParseProblem::new(said, Sought::Duration, why)
}

/// `h:mm` or `h:mm:ss`, in seconds.
fn clock(said: &str) -> Result<f64, ParseProblem> {
    let mut fields = Vec::new();
    for field in said.split(':') {
        match field.parse::<u32>() {
            Ok(number) if field.len() <= 5 && field.starts_with(|c: char| c.is_ascii_digit()) => {
                fields.push(f64::from(number));
            }
            _ => return Err(refused(said, Misread::NoClock)),
        }
    }
    if fields.len() > 3 {
        return Err(refused(said, Misread::TooManyColons));
    }
    if fields.iter().skip(1).any(|&number| number > 59.0) {
        return Err(refused(said, Misread::Over59));
    }
    Ok(fields
        .iter()
        .zip([3600.0, 60.0, 1.0])
        .map(|(number, each)| number * each)
        .sum())
}

/// Numbers with their units, the largest first, in seconds.
fn terms(said: &str, default: Option<Unit>) -> Result<f64, ParseProblem> {
    let mut rest = said;
    let mut last = None;
    let mut seconds = 0.0;
    while !rest.is_empty() {
        let (number, after) =
            split_float(rest).map_err(|trouble| trouble.with(said, Sought::Duration))?;
        let end = after
            .find(|c: char| !c.is_alphabetic())
            .unwrap_or(after.len());
        let (name, after) = after.split_at(end);
        let unit = unit_of(said, name, last, default)?;
        if last.is_some_and(|last| unit >= last) {
            return Err(refused(said, Misread::UnitOrder));
        }
        seconds += number * unit.seconds();
        last = Some(unit);
        rest = after.trim_start();
    }
    Ok(seconds)
}

fn unit_of(
    said: &str,
    name: &str,
    last: Option<Unit>,
    default: Option<Unit>,
) -> Result<Unit, ParseProblem> {
    if name.is_empty() {
        let bare = last.map_or(default, Unit::below);
        return bare.ok_or_else(|| refused(said, Misread::NoUnit));
    }
    let lower = name.to_lowercase();
    let long = matches!(lower.as_str(), "mo" | "mos" | "mon" | "month" | "months");
    let year = matches!(lower.as_str(), "y" | "yr" | "yrs" | "year" | "years");
    if long || year || name == "M" {
        return Err(refused(said, Misread::MonthsOrYears));
    }
    Unit::named(&lower).ok_or_else(|| refused(said, Misread::UnknownUnit(said_back(name))))
}

/// An estimate of a brief time: whole seconds, or whole minutes from two on.
///
/// ```
/// use stillcup::trade::{duration::show_brief, units::Seconds};
/// assert_eq!(show_brief(Seconds(6.2)), "6 s");
/// assert_eq!(show_brief(Seconds(150.0)), "2 min");
/// ```
#[must_use]
pub fn show_brief(time: Seconds) -> String {
    match time.get() {
        long if long >= 120.0 => format!("{:.0} min", long / 60.0),
        short => format!("{short:.0} s"),
    }
}

/// A time of stirring: `4 min`, `100 s`; as it was meant where it is no whole minute: `4.5 min`.
#[must_use]
pub fn show_stirring(time: Minutes) -> String {
    let minutes = (time.get() * 100.0).round() / 100.0;
    if minutes > 2.0 && minutes.fract() != 0.0 {
        return format!("{minutes} min");
    }
    let milliseconds = (time.get() * 60_000.0).round() as i64;
    show(TimeDelta::try_milliseconds(milliseconds).unwrap_or_default())
}

/// A length of time in its two largest units: `45 s`, `4 min`, `11 h 40 min`, `3 d 2 h`. Under two
/// minutes to the second, under a day to the minute, else to the hour.
#[must_use]
pub fn show(time: TimeDelta) -> String {
    let sign = if time < TimeDelta::zero() { "-" } else { "" };
    let milliseconds = time.num_milliseconds().unsigned_abs();
    let rounded = |each: u64| milliseconds.saturating_add(each / 2) / each;
    let (seconds, minutes, hours) = (rounded(1000), rounded(60_000), rounded(3_600_000));
    if seconds == 0 {
        "0 s".to_owned()
    } else if seconds < 120 {
        format!("{sign}{seconds} s")
    } else if minutes < 24 * 60 {
        format!("{sign}{}", pair(minutes, 60, "h", "min"))
    } else {
        format!("{sign}{}", pair(hours, 24, "d", "h"))
    }
}

/// The same to the millisecond, in as many units as that takes: `4 d 2 h 30 min`, `1 min 0.25 s`. It is read again as it was.
#[must_use]
pub fn show_exactly(time: TimeDelta) -> String {
    let shown = show(time);
    if parse(&shown) == Ok(time) {
        return shown;
    }
    let mut rest = time.num_milliseconds().unsigned_abs();
    let mut parts = Vec::new();
    for (each, unit) in [(86_400_000, "d"), (3_600_000, "h"), (60_000, "min")] {
        let count = rest / each;
        rest %= each;
        parts.extend((count > 0).then(|| format!("{count} {unit}")));
    }
    parts.extend((rest > 0).then(|| format!("{} s", rest as f64 / 1000.0)));
    let sign = if time < TimeDelta::zero() { "-" } else { "" };
    format!("{sign}{}", parts.join(" "))
}

/// A count in two units, the one that is nothing left out.
fn pair(count: u64, ratio: u64, large: &str, small: &str) -> String {
    match (count / ratio, count % ratio) {
        (0, few) => format!("{few} {small}"),
        (many, 0) => format!("{many} {large}"),
        (many, few) => format!("{many} {large} {few} {small}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    // What a form offers of a recipe's stirring is read again when the recipe is changed.
    #[test]
    fn a_stirring_is_shown_as_it_was_said() {
        for said in ["4 min", "100 s", "4.5 min", "12.25 min", "2 h 30 min"] {
            assert_eq!(show_stirring(parse_stirring(said).unwrap()), said);
        }
    }

    proptest! {
        #[test]
        fn a_time_shown_exactly_is_read_as_it_was(milliseconds in 0_i64..300_000_000_000) {
            let time = TimeDelta::milliseconds(milliseconds);
            prop_assert_eq!(parse(&show_exactly(time)), Ok(time));
        }
    }

    #[test]
    fn a_time_is_shown_exactly_in_as_few_units_as_that_takes() {
        for said in [
            "12 h",
            "4 d 2 h 30 min",
            "1 h 30 min 15 s",
            "2 min 0.25 s",
            "0 s",
        ] {
            assert_eq!(show_exactly(parse(said).unwrap()), said);
        }
    }

    #[test]
    fn times_are_read_as_they_are_said() {
        let table = [
            ("12h", 43_200_000),
            ("12H", 43_200_000),
            ("90m", 5_400_000),
            ("90 MIN", 5_400_000),
            ("1h30", 5_400_000),
            ("1h 30m", 5_400_000),
            ("1 hour 30 minutes", 5_400_000),
            ("1:30", 5_400_000),
            ("0:05", 300_000),
            ("1:30:15", 5_415_000),
            ("1.5h", 5_400_000),
            ("1,5 h", 5_400_000),
            ("1m30", 90_000),
            ("2 days", 172_800_000),
            ("3 d 2 h", 266_400_000),
            ("1w", 604_800_000),
            ("45s", 45_000),
            ("2.8 s", 2_800),
            ("0m", 0),
            ("3652 days", 315_532_800_000),
        ];
        for (said, milliseconds) in table {
            assert_eq!(
                parse(said).unwrap().num_milliseconds(),
                milliseconds,
                "{said}"
            );
        }
    }

    #[test]
    fn what_is_no_length_of_time_is_refused_with_its_reason() {
        let table = [
            ("", Misread::Empty),
            ("90", Misread::NoUnit),
            ("2 days 3", Misread::NoUnit),
            ("1h30m15s2", Misread::NoUnit),
            ("-2h", Misread::Negative),
            ("1h -30m", Misread::Negative),
            ("NaNh", Misread::NoNumber),
            ("1M", Misread::MonthsOrYears),
            ("1mo", Misread::MonthsOrYears),
            ("2 Months", Misread::MonthsOrYears),
            ("1y", Misread::MonthsOrYears),
            (
                "3 fortnights",
                Misread::UnknownUnit("fortnights".to_owned()),
            ),
            ("1h 1h", Misread::UnitOrder),
            ("30m 1h", Misread::UnitOrder),
            ("1:75", Misread::Over59),
            ("1:2:3:4", Misread::TooManyColons),
            ("1:", Misread::NoClock),
            ("-1:30", Misread::NoClock),
            ("+1:30", Misread::NoClock),
            ("3653 days", Misread::TooLarge),
            ("99999999999999999999d", Misread::TooLarge),
            ("1,000 h", Misread::Thousands),
        ];
        for (said, why) in table {
            assert_eq!(parse(said).unwrap_err().why, why, "{said}");
        }
    }

    #[test]
    fn a_form_may_lend_its_unit() {
        assert_eq!(parse_or("12", Unit::Hour).unwrap(), TimeDelta::hours(12));
        assert_eq!(parse_or("12m", Unit::Hour).unwrap(), TimeDelta::minutes(12));
    }

    #[test]
    fn times_are_shown_in_two_units() {
        let table = [
            (0, "0 s"),
            (45, "45 s"),
            (90, "90 s"),
            (240, "4 min"),
            (3599, "1 h"),
            (42_000, "11 h 40 min"),
            (86_399, "1 d"),
            (266_400, "3 d 2 h"),
            (-240, "-4 min"),
        ];
        for (seconds, shown) in table {
            assert_eq!(show(TimeDelta::seconds(seconds)), shown);
        }
        assert!(show(TimeDelta::MIN).starts_with("-106751991167 d"));
    }

    #[test]
    fn a_megabyte_is_refused() {
        for piece in ["9", ":", "1h", "M"] {
            assert!(parse(&piece.repeat(1_000_000 / piece.len())).is_err());
        }
    }

    proptest! {
        #[test]
        fn no_text_panics(text in any::<String>(), like in "[0-9.,: ]{0,9}[a-zM]{0,4}[0-9]{0,4}") {
            let _ = parse(&text);
            let _ = parse_or(&like, Unit::Week);
            let _ = parse(&(like + &text));
        }

        /// What is shown reads back within half of its smaller unit, and shows the same.
        #[test]
        fn shown_times_read_back(milliseconds in 0..315_000_000_000_i64) {
            let shown = show(TimeDelta::milliseconds(milliseconds));
            let back = parse(&shown).unwrap();
            let off = (back.num_milliseconds() - milliseconds).abs();
            let halves = [(119_500, 500), (86_370_000, 30_000), (i64::MAX, 1_800_000)];
            let half = halves.iter().find(|(end, _)| milliseconds < *end).map_or(0, |h| h.1);
            prop_assert!(off <= half, "{milliseconds} {shown}");
            prop_assert_eq!(show(back), shown);
        }

        #[test]
        fn short_times_read_back_too(milliseconds in 0..200_000_i64) {
            let shown = show(TimeDelta::milliseconds(milliseconds));
            prop_assert_eq!(show(parse(&shown).unwrap()), shown);
        }
    }
}
