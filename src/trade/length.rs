//! Lengths: how deep the paint stands, how wide its cup is.

use super::number::split_float;
use super::problem::{ParseProblem, one_field};
use super::units::{INCH, Millimetres};

const HINT: &str = "such as 60 mm, 6 cm or 2.5 in";
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
    let said = one_field(text, HINT)?;
    let (number, unit) = split_float(said).map_err(|trouble| trouble.told(said, HINT))?;
    let unit = match unit.to_lowercase().as_str() {
        "mm" => Millimetres(1.0),
        "cm" => Millimetres(10.0),
        "in" | "inch" | "inches" | "\"" => INCH,
        "" => return Err(ParseProblem::new(said, "has no unit", HINT)),
        _ => return Err(ParseProblem::new(said, "has an unknown unit", HINT)),
    };
    let length = unit * number;
    if length < Millimetres(1.0) || length > LONGEST || !length.is_finite() {
        let why = "is no depth or width of a cup: 1 mm to 2 m can be kept";
        return Err(ParseProblem::new(said, why, "check the number"));
    }
    Ok(length)
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
