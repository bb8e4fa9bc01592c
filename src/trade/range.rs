//! Readings and ranges: mound seconds, the window a layer's mound should lie in, and shares of a
//! whole.

use super::duration::{self, Unit};
use super::number::{self, split_float};
use super::problem::{Misread, ParseProblem, Sought, one_field, said_back};
use super::units::{Density, Seconds, Share};
use chrono::TimeDelta;
use serde::{Deserialize, Serialize};
use std::fmt;
use std::str::FromStr;

/// The longest mound read, 600 s; one that stays longer never fades (common practice, no source).
const LONGEST_MOUND: Seconds = Seconds(600.0);

/// The shortest mound a stopwatch can tell (our own choice).
const SHORTEST_MOUND: Seconds = Seconds(0.1);
/// The most parts of one thing: only the proportion to the others counts (our own choice).
const MOST_PARTS: f64 = 1e6;

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
    let said = one_field(text, Sought::Mound)?;
    mound(said, said, Sought::Mound)
}

/// Reads how long a flow cup took to run out; a bare number is in seconds.
///
/// # Errors
/// No time, or one that is negative, nothing or over an hour.
pub fn parse_efflux(text: &str) -> Result<Seconds, ParseProblem> {
    let time = duration::parse_or(text, Unit::Second);
    let of = Sought::Efflux;
    let time = time.map_err(|problem| ParseProblem { of, ..problem })?;
    if time <= TimeDelta::zero() || time > TimeDelta::hours(1) {
        return Err(ParseProblem::new(text, of, Misread::OutOfRange));
    }
    Ok(Seconds(time.num_milliseconds() as f64 / 1000.0))
}

/// Reads how many parts of something go in: a number above nothing, to a million.
///
/// # Errors
/// No number, one that may hold a thousands separator, nothing, or over a million.
pub fn parse_parts(text: &str) -> Result<f64, ParseProblem> {
    let parts = number::parse_alone(text, Sought::Parts)?;
    if parts <= 0.0 || parts > MOST_PARTS {
        return Err(ParseProblem::new(text, Sought::Parts, Misread::OutOfRange));
    }
    Ok(parts)
}

/// Reads how many packs: a number, which need not be whole.
///
/// # Errors
/// No number, or one that may hold a thousands separator.
pub fn parse_packs(text: &str) -> Result<f64, ParseProblem> {
    number::parse_alone(text, Sought::Packs)
}

/// Reads a density in g/ml, its unit said or not.
///
/// # Errors
/// No number, one that may hold a thousands separator, or another unit.
pub fn parse_density(text: &str) -> Result<Density, ParseProblem> {
    let bare = text.trim().trim_end_matches("g/ml");
    number::parse_alone(bare, Sought::Density).map(Density)
}

/// Whether what was said in a mound's place is that it does not fade: `never`.
#[must_use]
pub fn never_fades(text: &str) -> bool {
    text.trim().eq_ignore_ascii_case("never")
}

/// Reads the mound in one piece of what was said.
fn mound(said: &str, piece: &str, of: Sought) -> Result<Seconds, ParseProblem> {
    let (number, unit) = split_float(piece.trim()).map_err(|trouble| trouble.with(said, of))?;
    let refused = |why| Err(ParseProblem::new(said, of, why));
    if !matches!(
        unit.to_lowercase().as_str(),
        "" | "s" | "sec" | "secs" | "second" | "seconds"
    ) {
        return refused(Misread::UnknownUnit(said_back(unit)));
    }
    let seconds = Seconds(number);
    if number < SHORTEST_MOUND.0 {
        return refused(Misread::TooSmall);
    }
    if !seconds.is_finite() || seconds > LONGEST_MOUND {
        return refused(Misread::TooLarge);
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
        let of = Sought::Window;
        let said = one_field(text, of)?;
        let lower = said.to_lowercase();
        let ends = halves(&lower);
        let (low, high) = ends.ok_or_else(|| ParseProblem::new(said, of, Misread::NotTwoEnds))?;
        let (low, high) = (mound(said, low, of)?, mound(said, high, of)?);
        if low >= high {
            return Err(ParseProblem::new(said, of, Misread::NotRising));
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
    let of = Sought::Share;
    let said = one_field(text, of)?;
    let (number, unit) = split_float(said).map_err(|trouble| trouble.with(said, of))?;
    let refused = |why| Err(ParseProblem::new(said, of, why));
    match unit {
        "%" if number > 100.0 => refused(Misread::TooLarge),
        "%" => Ok(Share(number / 100.0)),
        "" if number >= 1.0 => refused(Misread::MaybePerCent),
        "" => Ok(Share(number)),
        _ => refused(Misread::UnknownUnit(said_back(unit))),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn why<T: std::fmt::Debug>(read: Result<T, ParseProblem>) -> Misread {
        read.unwrap_err().why
    }

    fn unit(name: &str) -> Misread {
        Misread::UnknownUnit(name.to_owned())
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
            ("", Misread::Empty),
            ("0", Misread::TooSmall),
            ("0.0s", Misread::TooSmall),
            ("-1", Misread::Negative),
            ("NaN", Misread::NoNumber),
            ("inf", Misread::NoNumber),
            ("600.1", Misread::TooLarge),
            ("1e9", unit("e9")),
            ("2 min", unit("min")),
        ];
        for (said, wanted) in table {
            assert_eq!(why(parse_mound(said)), wanted, "{said}");
        }
        let endless = "9".repeat(110);
        assert_eq!(why(parse_mound(&endless)), Misread::TooLarge);
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
            ("", Misread::Empty),
            ("2", Misread::NotTwoEnds),
            ("2..", Misread::NoNumber),
            ("..3", Misread::NoNumber),
            ("0.1...3", Misread::NotTwoEnds),
            ("3..2", Misread::NotRising),
            ("2..2", Misread::NotRising),
            ("0..2", Misread::TooSmall),
            ("2..601", Misread::TooLarge),
            ("-2..3", Misread::NotTwoEnds),
            ("2..-3", Misread::Negative),
            ("NaN..3", Misread::NoNumber),
            ("1-2-3", unit("-3")),
        ];
        for (said, wanted) in table {
            assert_eq!(why(Window::parse(said)), wanted, "{said}");
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
            ("5", Misread::MaybePerCent),
            ("1", Misread::MaybePerCent),
            ("101%", Misread::TooLarge),
            ("-5%", Misread::Negative),
            ("5 ml", unit("ml")),
            ("NaN", Misread::NoNumber),
            ("", Misread::Empty),
        ];
        for (said, wanted) in refused {
            assert_eq!(why(parse_share(said)), wanted, "{said}");
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
