//! The number at the head of a field: digits with a decimal point or a decimal comma. Thousands
//! are never guessed: what could be one or one thousand is refused.

use super::problem::{Misread, ParseProblem, Sought, one_field};

/// Why no number could be taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Trouble {
    /// It does not begin with a digit.
    None,
    /// It begins with a minus sign.
    Negative,
    /// It may hold a thousands separator.
    Thousands,
}

impl Trouble {
    /// The trouble with what was said.
    pub(super) fn with(self, said: &str, of: Sought) -> ParseProblem {
        let why = match self {
            Self::None => Misread::NoNumber,
            Self::Negative => Misread::Negative,
            Self::Thousands => Misread::Thousands,
        };
        ParseProblem::new(said, of, why)
    }
}

/// Splits a field into its number, written with a decimal point, and what follows it.
pub(super) fn split(text: &str) -> Result<(String, &str), Trouble> {
    if text.starts_with(['-', '\u{2212}']) {
        return Err(Trouble::Negative);
    }
    let (whole, rest) = digits(text);
    let Some(mark) = rest.chars().next().filter(|c| matches!(c, '.' | ',')) else {
        return finished(whole.to_owned(), whole.is_empty(), rest);
    };
    let (part, after) = digits(&rest[1..]);
    if part.is_empty() {
        return finished(whole.to_owned(), whole.is_empty(), rest);
    }
    if mark == ',' && part.len() == 3 && !whole.starts_with('0') && !whole.is_empty() {
        return Err(Trouble::Thousands);
    }
    let whole = if whole.is_empty() { "0" } else { whole };
    finished(format!("{whole}.{part}"), false, after)
}

/// As [`split`], with the number as a float.
pub(super) fn split_float(text: &str) -> Result<(f64, &str), Trouble> {
    let (number, rest) = split(text)?;
    let value = number.parse().map_err(|_| Trouble::None)?;
    Ok((value, rest))
}

/// Reads a number that stands alone, with a decimal point or comma.
///
/// # Errors
/// No number, something after it, or one that may hold a thousands separator.
pub(crate) fn parse_alone(text: &str, of: Sought) -> Result<f64, ParseProblem> {
    let said = one_field(text, of)?;
    let (number, rest) = split_float(said).map_err(|trouble| trouble.with(said, of))?;
    if !rest.is_empty() || !number.is_finite() {
        return Err(ParseProblem::new(said, of, Misread::Trailing));
    }
    Ok(number)
}

/// A float shown with at most `places` decimals, trailing zeros dropped.
pub(crate) fn trimmed(value: f64, places: usize) -> String {
    let mut text = format!("{value:.places$}");
    if text.contains('.') {
        text.truncate(text.trim_end_matches('0').trim_end_matches('.').len());
    }
    if text == "-0" { "0".to_owned() } else { text }
}

fn digits(text: &str) -> (&str, &str) {
    let end = text
        .find(|c: char| !c.is_ascii_digit())
        .unwrap_or(text.len());
    text.split_at(end)
}

/// Refuses a number that goes on: `1.234,5`, `1 000`, `1'000`.
fn finished(number: String, none: bool, rest: &str) -> Result<(String, &str), Trouble> {
    if none {
        return Err(Trouble::None);
    }
    let next = rest.trim_start_matches(|c: char| c.is_whitespace() || ".,'\u{2019}_".contains(c));
    let goes_on = next.starts_with(|c: char| c.is_ascii_digit()) && !rest.starts_with("..");
    if goes_on {
        return Err(Trouble::Thousands);
    }
    Ok((number, rest.trim_start()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_at_the_head() {
        let table = [
            ("5 ml", Ok((5.0, "ml"))),
            ("2.8", Ok((2.8, ""))),
            ("2,8s", Ok((2.8, "s"))),
            (".5cup", Ok((0.5, "cup"))),
            ("0,125 l", Ok((0.125, "l"))),
            ("1,25l", Ok((1.25, "l"))),
            ("1.250 kg", Ok((1.25, "kg"))),
            ("1e3 g", Ok((1.0, "e3 g"))),
            ("2..3", Ok((2.0, "..3"))),
            ("1,000 ml", Err(Trouble::Thousands)),
            ("1.234,5", Err(Trouble::Thousands)),
            ("1 000 ml", Err(Trouble::Thousands)),
            ("1'000", Err(Trouble::Thousands)),
            ("-5", Err(Trouble::Negative)),
            ("\u{2212}5", Err(Trouble::Negative)),
            ("NaN", Err(Trouble::None)),
            ("inf", Err(Trouble::None)),
            ("٣ ml", Err(Trouble::None)),
            (".", Err(Trouble::None)),
            ("", Err(Trouble::None)),
        ];
        for (said, wanted) in table {
            assert_eq!(split_float(said), wanted, "{said}");
        }
    }

    #[test]
    fn trailing_zeros_are_dropped() {
        for (value, places, shown) in [
            (2.0, 2, "2"),
            (1.25, 2, "1.25"),
            (100.0, 0, "100"),
            (-0.001, 1, "0"),
        ] {
            assert_eq!(trimmed(value, places), shown);
        }
    }
}
