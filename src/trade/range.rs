//! Readings and ranges: mound seconds, the window a layer's mound should lie in, and shares of a
//! whole.

use super::duration::{self, Unit};
use super::number::{self, split_float};
use super::problem::{ParseProblem, one_field, said_back};
use super::units::{Density, Seconds, Share};
use chrono::TimeDelta;
use serde::{Deserialize, Serialize};
use std::fmt;
use std::str::FromStr;

/// The longest mound read, 600 s; one that stays longer never fades (common practice, no source).
const LONGEST_MOUND: Seconds = Seconds(600.0);

const MOUND_HINT: &str = "say the seconds it stays visible, as in 2.8 or 2.8 s";
const EFFLUX_HINT: &str = "say how long it took to run out, up to an hour, as in 38 s";
/// The shortest mound a stopwatch can tell (our own choice).
const SHORTEST_MOUND: Seconds = Seconds(0.1);
const WINDOW_HINT: &str = "say its low and high seconds, as in 2..3 or 2 to 3";
const PACKS_HINT: &str = "say how many, as in 2";
const DENSITY_HINT: &str = "say it in g/ml, as in 1.24";
const PARTS_HINT: &str = "say how many parts, as in 2 or 1.5";
/// The most parts of one thing: only the proportion to the others counts (our own choice).
const MOST_PARTS: f64 = 1e6;
const SHARE_HINT: &str = "say 5% or 0.05";

/// The low and high mound a layer should have, both included.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Window {
    /// The least, in seconds; thinner runs.
    pub low: Seconds,
    /// The most, in seconds; thicker stands.
    pub high: Seconds,
}

/// Reads a mound: how long the drizzle stays visible on the surface.
///
/// ```
/// use stillcup::trade::{range::parse_mound, units::Seconds};
/// assert_eq!(parse_mound("2,8 s").unwrap(), Seconds(2.8));
/// ```
///
/// # Errors
/// No number, a unit other than seconds, or a mound that is negative, zero or over 600 s.
pub fn parse_mound(text: &str) -> Result<Seconds, ParseProblem> {
    let said = one_field(text, MOUND_HINT)?;
    mound(said, said, MOUND_HINT)
}

/// Reads how long a flow cup took to run out; a bare number is in seconds.
///
/// # Errors
/// No time, or one that is negative, nothing or over an hour.
pub fn parse_efflux(text: &str) -> Result<Seconds, ParseProblem> {
    let time = duration::parse_or(text, Unit::Second);
    let time = time.map_err(|problem| ParseProblem {
        hint: EFFLUX_HINT.to_owned(),
        ..problem
    })?;
    if time <= TimeDelta::zero() || time > TimeDelta::hours(1) {
        return Err(ParseProblem::new(
            text,
            "is no time of a flow cup",
            EFFLUX_HINT,
        ));
    }
    Ok(Seconds(time.num_milliseconds() as f64 / 1000.0))
}

/// Reads how many parts of something go in: a number above nothing, to a million.
///
/// # Errors
/// No number, one that may hold a thousands separator, nothing, or over a million.
pub fn parse_parts(text: &str) -> Result<f64, ParseProblem> {
    let parts = number::parse_alone(text, PARTS_HINT)?;
    if parts <= 0.0 || parts > MOST_PARTS {
        let why = "is no number of parts above nothing";
        return Err(ParseProblem::new(text, why, PARTS_HINT));
    }
    Ok(parts)
}

/// Reads how many packs: a number, which need not be whole.
///
/// # Errors
/// No number, or one that may hold a thousands separator.
pub fn parse_packs(text: &str) -> Result<f64, ParseProblem> {
    number::parse_alone(text, PACKS_HINT)
}

/// Reads a density in g/ml, its unit said or not.
///
/// # Errors
/// No number, one that may hold a thousands separator, or another unit.
pub fn parse_density(text: &str) -> Result<Density, ParseProblem> {
    let bare = text.trim().trim_end_matches("g/ml");
    number::parse_alone(bare, DENSITY_HINT).map(Density)
}

/// Whether what was said in a mound's place is that it does not fade: `never`.
#[must_use]
pub fn never_fades(text: &str) -> bool {
    text.trim().eq_ignore_ascii_case("never")
}

/// Reads the mound in one piece of what was said.
fn mound(said: &str, piece: &str, hint: &str) -> Result<Seconds, ParseProblem> {
    let (number, unit) = split_float(piece.trim()).map_err(|trouble| trouble.told(said, hint))?;
    if !matches!(
        unit.to_lowercase().as_str(),
        "" | "s" | "sec" | "secs" | "second" | "seconds"
    ) {
        let why = format!("is not in seconds but \"{}\"", said_back(unit));
        return Err(ParseProblem::new(said, why, hint));
    }
    let seconds = Seconds(number);
    if number < SHORTEST_MOUND.0 {
        let hint = "one too short to time is 0.1 s; thin no further";
        return Err(ParseProblem::new(said, "is no mound at all", hint));
    }
    if !seconds.is_finite() || seconds > LONGEST_MOUND {
        let why = "is over 600 s: a mound that never fades is a gelled cup";
        return Err(ParseProblem::new(
            said,
            why,
            "stir it and read it again, or say of it: gelled",
        ));
    }
    Ok(seconds)
}

impl Window {
    /// Reads a window: `2..3`, `2-3`, `2 to 3`, with or without `s`.
    ///
    /// ```
    /// use stillcup::trade::{range::Window, units::Seconds};
    /// let window = Window::parse("2..3").unwrap();
    /// assert_eq!(window, Window { low: Seconds(2.0), high: Seconds(3.0) });
    /// assert_eq!(window.to_string(), "2 to 3 s");
    /// ```
    ///
    /// # Errors
    /// Not two mounds (see [`parse_mound`]), or a low one that is not below the high one.
    pub fn parse(text: &str) -> Result<Self, ParseProblem> {
        let said = one_field(text, WINDOW_HINT)?;
        let lower = said.to_lowercase();
        let (low, high) = halves(&lower)
            .ok_or_else(|| ParseProblem::new(said, "is not a low and a high", WINDOW_HINT))?;
        let low = mound(said, low, WINDOW_HINT)?;
        let high = mound(said, high, WINDOW_HINT)?;
        if low >= high {
            return Err(ParseProblem::new(
                said,
                "does not rise from low to high",
                WINDOW_HINT,
            ));
        }
        Ok(Self { low, high })
    }

    /// Whether a mound lies in the window, its ends included.
    #[must_use]
    pub fn holds(self, mound: Seconds) -> bool {
        self.low <= mound && mound <= self.high
    }

    /// Half way between low and high.
    #[must_use]
    pub fn middle(self) -> Seconds {
        (self.low + self.high) / 2.0
    }
}

/// What stands on either side of the first sign of a range.
fn halves(text: &str) -> Option<(&str, &str)> {
    ["..", "to", "\u{2013}", "-"]
        .iter()
        .filter(|_| !text.starts_with('-') && !text.contains("..."))
        .find_map(|sign| text.split_once(sign))
}

impl fmt::Display for Window {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&format!("{} to {} s", self.low.0, self.high.0))
    }
}

impl FromStr for Window {
    type Err = ParseProblem;

    fn from_str(text: &str) -> Result<Self, ParseProblem> {
        Self::parse(text)
    }
}

/// Reads a part of a whole: `5%`, or `0.05` without a sign.
///
/// ```
/// use stillcup::trade::{range::parse_share, units::Share};
/// assert_eq!(parse_share("5 %").unwrap(), Share(0.05));
/// assert!(parse_share("5").is_err());
/// ```
///
/// # Errors
/// No number, another unit, a negative share, one over the whole, or a bare number from 1 up,
/// which may have been meant in per cent.
pub fn parse_share(text: &str) -> Result<Share, ParseProblem> {
    let said = one_field(text, SHARE_HINT)?;
    let (number, unit) = split_float(said).map_err(|trouble| trouble.told(said, SHARE_HINT))?;
    let refused = |why: &str, hint: String| Err(ParseProblem::new(said, why, hint));
    match unit {
        "%" if number > 100.0 => refused("is more than the whole", "say at most 100%".to_owned()),
        "%" => Ok(Share(number / 100.0)),
        "" if number >= 1.0 => {
            let digits = said_back(said);
            refused(
                "is no part of a whole",
                format!("say {digits}% if that is meant"),
            )
        }
        "" => Ok(Share(number)),
        _ => refused("is neither a percentage nor a share", SHARE_HINT.to_owned()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn reason<T: std::fmt::Debug>(read: Result<T, ParseProblem>) -> String {
        read.unwrap_err().to_string()
    }

    #[test]
    fn mounds_are_seconds() {
        let table = [
            ("2.8", 2.8),
            ("2.8s", 2.8),
            ("2,8 S", 2.8),
            ("3 seconds", 3.0),
            ("600", 600.0),
        ];
        for (said, seconds) in table {
            assert_eq!(parse_mound(said).unwrap(), Seconds(seconds), "{said}");
        }
    }

    #[test]
    fn what_is_no_mound_is_refused_with_its_reason() {
        let table = [
            ("", "empty"),
            ("0", "no mound"),
            ("0.0s", "no mound"),
            ("-1", "negative"),
            ("NaN", "number"),
            ("inf", "number"),
            ("600.1", "gelled"),
            ("1e9", "\"e9\""),
            ("2 min", "\"min\""),
        ];
        for (said, wanted) in table {
            let reason = reason(parse_mound(said));
            assert!(reason.contains(wanted), "{said}: {reason}");
        }
        let endless = "9".repeat(110);
        assert!(reason(parse_mound(&endless)).contains("gelled"));
    }

    #[test]
    fn windows_are_read_as_they_are_said() {
        let forms = [
            "2..3",
            "2-3",
            "2 - 3",
            "2\u{2013}3",
            "2 to 3",
            "2 TO 3",
            "2s..3s",
            "2 to 3 s",
            "2.0..3,0",
        ];
        for said in forms {
            let window = Window::parse(said).unwrap();
            assert_eq!(
                (window.low, window.high),
                (Seconds(2.0), Seconds(3.0)),
                "{said}"
            );
        }
    }

    #[test]
    fn what_is_no_window_is_refused_with_its_reason() {
        let table = [
            ("", "empty"),
            ("2", "low and a high"),
            ("2..", "number"),
            ("..3", "number"),
            ("0.1...3", "low and a high"),
            ("3..2", "rise"),
            ("2..2", "rise"),
            ("0..2", "no mound"),
            ("2..601", "gelled"),
            ("-2..3", "low and a high"),
            ("2..-3", "negative"),
            ("NaN..3", "number"),
            ("1-2-3", "\"-3\""),
        ];
        for (said, wanted) in table {
            let reason = reason(Window::parse(said));
            assert!(reason.contains(wanted), "{said}: {reason}");
        }
    }

    #[test]
    fn a_window_holds_its_ends() {
        let window = Window::parse("2..3").unwrap();
        let held = [1.9, 2.0, 2.5, 3.0, 3.1].map(|seconds| window.holds(Seconds(seconds)));
        assert_eq!(held, [false, true, true, true, false]);
        assert!(!window.holds(Seconds(f64::NAN)));
        assert_eq!(window.middle(), Seconds(2.5));
    }

    #[test]
    fn shares_are_per_cent_or_of_one() {
        let table = [
            ("5%", 0.05),
            ("5 %", 0.05),
            ("0.05", 0.05),
            ("0,05", 0.05),
            ("100%", 1.0),
            ("0", 0.0),
        ];
        for (said, share) in table {
            assert_eq!(parse_share(said).unwrap(), Share(share), "{said}");
        }
        let refused = [
            ("5", "say 5%"),
            ("1", "say 1%"),
            ("101%", "whole"),
            ("-5%", "negative"),
            ("5 ml", "percentage"),
            ("NaN", "number"),
            ("", "empty"),
        ];
        for (said, wanted) in refused {
            let reason = reason(parse_share(said));
            assert!(reason.contains(wanted), "{said}: {reason}");
        }
    }

    proptest! {
        #[test]
        fn no_text_panics(text in any::<String>(), like in "[0-9.,]{0,5}( to |-|\\.\\.)?[0-9.,]{0,5} ?[s%]?") {
            let long = text.repeat(1 + 200_000 / (1 + text.len()));
            for said in [&text, &like, &long] {
                let _ = parse_mound(said);
                let _ = Window::parse(said);
                let _ = parse_share(said);
            }
        }

        #[test]
        fn written_windows_read_back_the_same(low in 0.1..300.0_f64, more in 0.01..300.0_f64) {
            let window = Window { low: Seconds(low), high: Seconds(low + more) };
            prop_assert_eq!(window.to_string().parse::<Window>().unwrap(), window);
        }
    }
}
