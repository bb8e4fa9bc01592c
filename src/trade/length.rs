//! Lengths: how deep the paint stands, how wide its cup is.

use super::amount::Measures;
use super::number::split_float;
use super::problem::{Misread, ParseProblem, Sought, one_field, said_back};
use super::units::{Band, INCH, Millimetres};

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
    let of = Sought::Length;
    let (said, length) = read(text, of)?;
    if length < Millimetres(1.0) || length > LONGEST || !length.is_finite() {
        return Err(ParseProblem::new(said, of, Misread::OutOfRange));
    }
    Ok(length)
}

/// Reads how deep a wet film lies, in millimetres, centimetres or inches.
///
/// # Errors
/// As [`parse_length`], but for a film under 0.05 mm or over 10 mm.
pub fn parse_film(text: &str) -> Result<Millimetres, ParseProblem> {
    let of = Sought::Film;
    let (said, film) = read(text, of)?;
    if !(0.05..=10.0).contains(&film.get()) {
        return Err(ParseProblem::new(said, of, Misread::OutOfRange));
    }
    Ok(film)
}

/// Reads the diameter of a cell, in millimetres, centimetres or inches; how small or large it may be is the measuring's
/// business.
///
/// # Errors
/// No number, no unit, an unknown unit, or nothing at all.
pub fn parse_cell(text: &str) -> Result<Millimetres, ParseProblem> {
    let of = Sought::Cell;
    let (said, cell) = read(text, of)?;
    match cell.is_finite() && cell > Millimetres::ZERO {
        true => Ok(cell),
        false => Err(ParseProblem::new(said, of, Misread::OutOfRange)),
    }
}

/// A number and its unit, whatever its size.
fn read(text: &str, of: Sought) -> Result<(&str, Millimetres), ParseProblem> {
    let said = one_field(text, of)?;
    let (number, unit) = split_float(said).map_err(|trouble| trouble.with(said, of))?;
    let refused = |why| Err(ParseProblem::new(said, of, why));
    let unit = match unit.to_lowercase().as_str() {
        "mm" => Millimetres(1.0),
        "cm" => Millimetres(10.0),
        "in" | "inch" | "inches" | "\"" => INCH,
        "" => return refused(Misread::NoUnit),
        _ => return refused(Misread::UnknownUnit(said_back(unit))),
    };
    Ok((said, unit * number))
}

/// A length to two figures, in millimetres or inches: `1.8 mm`, `62 mm`, `0.072 in`.
#[must_use]
pub fn show_length(length: Millimetres, measures: Measures) -> String {
    figures(length, measures, 2)
}

/// A length with its band: `0.35 mm (0.25 to 0.45)`; without, where it is exact.
#[must_use]
pub fn show_band(band: Band<Millimetres>, measures: Measures) -> String {
    let shown = band.map(|length| show_length(length, measures));
    // A band that the digits do not show is none to the reader.
    if shown.low == shown.high {
        return shown.mid;
    }
    let bare = |text: &str| text.split(' ').next().unwrap_or_default().to_owned();
    let (low, high) = (bare(&shown.low), bare(&shown.high));
    format!("{} ({low} to {high})", shown.mid)
}

/// A length as an order of magnitude, to one figure: `0.2 mm`, `0.01 in`.
#[must_use]
pub fn about_length(length: Millimetres, measures: Measures) -> String {
    figures(length, measures, 1)
}

fn figures(length: Millimetres, measures: Measures, figures: i32) -> String {
    let (value, unit) = match measures {
        Measures::Metric => (length.0, "mm"),
        Measures::UsCustomary => (length / INCH, "in"),
    };
    let head = |value: f64| value.abs().max(1e-6).log10().floor() as i32 + 1;
    let scale = 10_f64.powi(figures - head(value));
    // 0.0096 to one figure is 0.01, which has one place less.
    let places = figures - head((value * scale).round() / scale);
    let places = usize::try_from(places).unwrap_or(0);
    format!("{value:.places$} {unit}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_are_shown_to_their_figures_in_either_measures() {
        let metric = |mm| show_length(Millimetres(mm), Measures::Metric);
        assert_eq!(
            [metric(1.8335), metric(0.2443), metric(61.6), metric(2.0)],
            ["1.8 mm", "0.24 mm", "62 mm", "2.0 mm"]
        );
        let us = |mm| show_length(Millimetres(mm), Measures::UsCustomary);
        assert_eq!([us(1.8335), us(60.0)], ["0.072 in", "2.4 in"]);
        assert_eq!(
            about_length(Millimetres(0.2443), Measures::Metric),
            "0.2 mm"
        );
        assert_eq!(
            about_length(Millimetres(0.2443), Measures::UsCustomary),
            "0.01 in"
        );
    }

    #[test]
    fn lengths_are_read_in_three_units() {
        let table = [("60mm", 60.0), ("2,5 cm", 25.0), ("2 in", 50.8)];
        for (said, mm) in table {
            assert!((parse_length(said).unwrap().0 - mm).abs() < 1e-9, "{said}");
        }
    }

    #[test]
    fn a_cell_may_be_smaller_than_any_cup() {
        assert_eq!(parse_cell("0.5mm").unwrap(), Millimetres(0.5));
        for bad in ["0mm", "-1mm", "0.5", "half"] {
            assert!(parse_cell(bad).is_err(), "{bad}");
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
