//! Lengths: how deep the paint stands, how wide its cup is.

use super::number::split_float;
use super::problem::{ParseProblem, one_field};
use super::units::{INCH, Millimetres};

const HINT: &str = "such as 60 mm, 6 cm or 2.5 in";
const FILM_HINT: &str = "such as 1.8 mm";
/// The longest length of a vessel that is kept; a larger one is a slip of the finger.
const LONGEST: Millimetres = Millimetres(2000.0);

/// Reads the depth or width of a vessel, in millimetres, centimetres or inches.
///
/// ```
/// use stillcup::trade::{length::parse_length, units::Millimetres};
/// assert_eq!(parse_length("6 cm").unwrap(), Millimetres(60.0));
/// ```
///
/// # Errors
/// No number, no unit, an unknown unit, or a length that is negative, under 1 mm or over 2 m.
pub fn parse_length(text: &str) -> Result<Millimetres, ParseProblem> {
    let (said, length) = read(text, HINT)?;
    if length < Millimetres(1.0) || length > LONGEST || !length.is_finite() {
        let why = "is no depth or width of a cup: 1 mm to 2 m can be kept";
        return Err(ParseProblem::new(said, why, "check the number"));
    }
    Ok(length)
}

/// Reads how deep a wet film lies, in millimetres, centimetres or inches.
///
/// # Errors
/// As [`parse_length`], but for a film under 0.05 mm or over 10 mm.
pub fn parse_film(text: &str) -> Result<Millimetres, ParseProblem> {
    let (said, film) = read(text, FILM_HINT)?;
    if !(0.05..=10.0).contains(&film.get()) {
        let why = "is no wet film: 0.05 to 10 mm can be poured";
        return Err(ParseProblem::new(said, why, "check the number"));
    }
    Ok(film)
}

/// A number and its unit, whatever its size.
fn read<'a>(text: &'a str, hint: &str) -> Result<(&'a str, Millimetres), ParseProblem> {
    let said = one_field(text, hint)?;
    let (number, unit) = split_float(said).map_err(|trouble| trouble.told(said, hint))?;
    let unit = match unit.to_lowercase().as_str() {
        "mm" => Millimetres(1.0),
        "cm" => Millimetres(10.0),
        "in" | "inch" | "inches" | "\"" => INCH,
        "" => return Err(ParseProblem::new(said, "has no unit", hint)),
        _ => return Err(ParseProblem::new(said, "has an unknown unit", hint)),
    };
    Ok((said, unit * number))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_are_read_in_three_units() {
        let table = [("60mm", 60.0), ("2,5 cm", 25.0), ("2 in", 50.8)];
        for (said, mm) in table {
            assert!((parse_length(said).unwrap().0 - mm).abs() < 1e-9, "{said}");
        }
    }

    #[test]
    fn a_film_is_thinner_than_any_cup() {
        assert_eq!(parse_film("0.8 mm").unwrap(), Millimetres(0.8));
        for bad in ["0.04mm", "11 mm", "-1mm", "1.8"] {
            assert!(parse_film(bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn what_is_no_length_is_refused() {
        for bad in [
            "",
            "60",
            "0mm",
            "-5mm",
            "NaNmm",
            "3 m3",
            "1e9mm",
            "9999999 in",
        ] {
            assert!(parse_length(bad).is_err(), "{bad}");
        }
    }
}
