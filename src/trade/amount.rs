//! Amounts as a painter says them: a volume or a mass with its unit, read and shown.
//!
//! Sources of the units: NIST Handbook 44, appendix C (US gallon 231 cubic inches, cup 1/16,
//! tablespoon 1/256, teaspoon 1/768 of it; avoirdupois pound 453.592 37 g). The imperial fluid
//! ounce is 1/160 of the imperial gallon of 4.546 09 l (UK Units of Measurement Regulations 1995).

use super::number::{split_float, trimmed};
use super::problem::{Misread, ParseProblem, Sought, one_field, said_back};
use super::units::{Density, Grams, Millilitres, OUNCE, US_FLUID_OUNCE};
use serde::{Deserialize, Serialize};

/// The largest volume a studio measures out: 100 l (common practice, no source).
const MOST_VOLUME: Millilitres = Millilitres(100_000.0);
/// The largest mass a studio weighs: 200 kg (common practice, no source).
const MOST_MASS: Grams = Grams(200_000.0);
/// The least that is kept: amounts are stored in whole microlitres and milligrams.
const LEAST: f64 = 0.001;

/// How much of something: measured or weighed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Amount {
    /// Measured, in millilitres.
    Volume(Millilitres),
    /// Weighed, in grams.
    Mass(Grams),
}

/// The units in which amounts are shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Measures {
    /// Millilitres, grams, centimetres.
    #[default]
    Metric,
    /// US fluid ounces, ounces, inches.
    UsCustomary,
}

impl Measures {
    /// The word of the setting.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Metric => "metric",
            Self::UsCustomary => "us",
        }
    }
}

/// A unit of volume or mass.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unit {
    /// 1 ml.
    Millilitre,
    /// 10 ml.
    Centilitre,
    /// 1000 ml.
    Litre,
    /// 29.573 529 562 5 ml.
    UsFluidOunce,
    /// 28.413 062 5 ml.
    ImperialFluidOunce,
    /// 16 US fluid ounces.
    UsPint,
    /// 32 US fluid ounces.
    UsQuart,
    /// 128 US fluid ounces.
    UsGallon,
    /// A sixth of a US fluid ounce.
    Teaspoon,
    /// Half a US fluid ounce.
    Tablespoon,
    /// 8 US fluid ounces, 236.588 ml.
    Cup,
    /// 0.001 g.
    Milligram,
    /// 1 g.
    Gram,
    /// 1000 g.
    Kilogram,
    /// 28.349 523 125 g.
    Ounce,
    /// 453.592 37 g.
    Pound,
}

impl Unit {
    /// The unit of a name in lower case, with single blanks and no full stops.
    fn named(name: &str) -> Option<Self> {
        Some(match name {
            "ml" | "millilitre" | "millilitres" | "milliliter" | "milliliters" => Self::Millilitre,
            "cl" | "centilitre" | "centilitres" | "centiliter" | "centiliters" => Self::Centilitre,
            "l" | "litre" | "litres" | "liter" | "liters" => Self::Litre,
            "fl oz" | "floz" | "us fl oz" | "us floz" | "fluid ounce" | "fluid ounces" => {
                Self::UsFluidOunce
            }
            "imp fl oz" | "imp floz" | "imperial fl oz" => Self::ImperialFluidOunce,
            "pt" | "pint" | "pints" => Self::UsPint,
            "qt" | "quart" | "quarts" => Self::UsQuart,
            "gal" | "gallon" | "gallons" => Self::UsGallon,
            "tsp" | "teaspoon" | "teaspoons" => Self::Teaspoon,
            "tbsp" | "tablespoon" | "tablespoons" => Self::Tablespoon,
            "cup" | "cups" => Self::Cup,
            "mg" | "milligram" | "milligrams" => Self::Milligram,
            "g" | "gram" | "grams" => Self::Gram,
            "kg" | "kilogram" | "kilograms" => Self::Kilogram,
            "oz" | "ounce" | "ounces" => Self::Ounce,
            "lb" | "lbs" | "pound" | "pounds" => Self::Pound,
            _ => return None,
        })
    }

    /// So many of this unit.
    ///
    /// ```
    /// use stillcup::trade::{amount::{Amount, Unit}, units::Millilitres};
    /// assert_eq!(Unit::Litre.times(0.25), Amount::Volume(Millilitres(250.0)));
    /// ```
    #[must_use]
    pub fn times(self, number: f64) -> Amount {
        let ounces = |each: f64| Amount::Volume(US_FLUID_OUNCE * each * number);
        match self {
            Self::Millilitre => Amount::Volume(Millilitres(number)),
            Self::Centilitre => Amount::Volume(Millilitres(number * 10.0)),
            Self::Litre => Amount::Volume(Millilitres(number * 1000.0)),
            Self::UsFluidOunce => ounces(1.0),
            Self::ImperialFluidOunce => Amount::Volume(Millilitres(number * 28.413_062_5)),
            Self::UsPint => ounces(16.0),
            Self::UsQuart => ounces(32.0),
            Self::UsGallon => ounces(128.0),
            Self::Teaspoon => ounces(1.0 / 6.0),
            Self::Tablespoon => ounces(0.5),
            Self::Cup => ounces(8.0),
            Self::Milligram => Amount::Mass(Grams(number / 1000.0)),
            Self::Gram => Amount::Mass(Grams(number)),
            Self::Kilogram => Amount::Mass(Grams(number * 1000.0)),
            Self::Ounce => Amount::Mass(OUNCE * number),
            Self::Pound => Amount::Mass(OUNCE * 16.0 * number),
        }
    }
}

/// A mass was given where a volume is needed, and the density that joins them is not known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DensityUnknown {
    /// What was weighed.
    pub mass: Grams,
}

impl Amount {
    /// Reads an amount with its unit, in upper or lower case.
    ///
    /// ```
    /// use stillcup::trade::{amount::Amount, units::Millilitres};
    /// assert_eq!(Amount::parse("2,5 cl").unwrap(), Amount::Volume(Millilitres(25.0)));
    /// assert!(Amount::parse("41").is_err());
    /// ```
    ///
    /// # Errors
    /// No number, no unit, an unknown unit, a number that may hold a thousands separator, or an
    /// amount that is negative, zero, under 0.001 ml or 0.001 g, or over 100 l or 200 kg.
    pub fn parse(text: &str) -> Result<Self, ParseProblem> {
        Self::read(text, None)
    }

    /// As [`Amount::parse`], for a form that has a unit of its own: a bare number is in it.
    ///
    /// # Errors
    /// As [`Amount::parse`], a missing unit aside.
    pub fn parse_or(text: &str, unit: Unit) -> Result<Self, ParseProblem> {
        Self::read(text, Some(unit))
    }

    fn read(text: &str, default: Option<Unit>) -> Result<Self, ParseProblem> {
        let of = Sought::Amount;
        let said = one_field(text, of)?;
        let (number, name) = split_float(said).map_err(|trouble| trouble.with(said, of))?;
        let unit = match (name, default) {
            ("", Some(unit)) => unit,
            ("", None) => return Err(ParseProblem::new(said, of, Misread::NoUnit)),
            (name, _) => Unit::named(&tidied(name)).ok_or_else(|| unknown(said, name))?,
        };
        unit.times(number).measurable(said)
    }

    /// Refuses what no studio measures.
    fn measurable(self, said: &str) -> Result<Self, ParseProblem> {
        let (number, most, of) = match self {
            Self::Volume(volume) => (volume.0, MOST_VOLUME.0, Sought::Volume),
            Self::Mass(mass) => (mass.0, MOST_MASS.0, Sought::Mass),
        };
        let refused = |why| Err(ParseProblem::new(said, of, why));
        if number == 0.0 {
            refused(Misread::Zero)
        } else if number < LEAST {
            refused(Misread::TooSmall)
        } else if number > most || !number.is_finite() {
            refused(Misread::TooLarge)
        } else {
            Ok(self)
        }
    }

    /// This amount as a volume; what was weighed needs its density.
    ///
    /// # Errors
    /// [`DensityUnknown`] for a mass where the density is missing, or is no number above zero.
    pub fn volume(self, density: Option<Density>) -> Result<Millilitres, DensityUnknown> {
        match self {
            Self::Volume(volume) => Ok(volume),
            Self::Mass(mass) => density
                .filter(|density| density.is_finite() && density.0 > 0.0)
                .map(|density| mass.at(density))
                .ok_or(DensityUnknown { mass }),
        }
    }
}

/// A unit's name in lower case, with single blanks and no full stops.
/// Whether a text says that there is none: `0`, `0 ml`, `0 fl oz`.
///
/// ```
/// use stillcup::trade::amount::is_none_at_all;
/// assert!(is_none_at_all("0") && is_none_at_all("0,0 fl oz") && !is_none_at_all("0 m3"));
/// ```
#[must_use]
pub fn is_none_at_all(text: &str) -> bool {
    split_float(text.trim()).is_ok_and(|(number, name)| {
        number == 0.0 && (name.is_empty() || Unit::named(&tidied(name)).is_some())
    })
}

fn tidied(name: &str) -> String {
    let words = name.replace('.', " ").to_lowercase();
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn unknown(said: &str, name: &str) -> ParseProblem {
    ParseProblem::new(said, Sought::Amount, Misread::UnknownUnit(said_back(name)))
}

/// A small unit, the large one it turns into, and how fine the small one is shown from 10 up.
struct Scale {
    small: &'static str,
    places: usize,
    large: &'static str,
    ratio: f64,
}

/// A volume to the last digit, to be read back whatever the studio measures in: `80.1234 ml`.
#[must_use]
pub fn exactly(volume: Millilitres) -> String {
    format!("{} ml", volume.get())
}

/// A volume with as many digits as a studio can pour: `2.1 ml`, `41 ml`, `1.2 l`, `4.1 fl oz`.
#[must_use]
pub fn show_volume(volume: Millilitres, measures: Measures) -> String {
    match measures {
        Measures::Metric => scale("ml", 0, "l", 1000.0).show(volume.0),
        Measures::UsCustomary => scale("fl oz", 1, "gal", 128.0).show(volume / US_FLUID_OUNCE),
    }
}

/// A sum of volumes as each is shown, so that a reader who adds them up finds the same.
#[must_use]
pub fn sum_as_shown(volumes: impl Iterator<Item = Millilitres>, measures: Measures) -> Millilitres {
    let shown = |volume: Millilitres| {
        let read = Amount::parse(&show_volume(volume, measures));
        let read = read.ok().and_then(|amount| amount.volume(None).ok());
        read.unwrap_or(volume)
    };
    volumes.map(shown).sum()
}

/// A mass with as many digits as a kitchen scale gives: `2.1 g`, `410 g`, `1.2 kg`, `4.1 oz`.
#[must_use]
pub fn show_mass(mass: Grams, measures: Measures) -> String {
    match measures {
        Measures::Metric => scale("g", 0, "kg", 1000.0).show(mass.0),
        Measures::UsCustomary => scale("oz", 1, "lb", 16.0).show(mass / OUNCE),
    }
}

const fn scale(small: &'static str, places: usize, large: &'static str, ratio: f64) -> Scale {
    Scale {
        small,
        places,
        large,
        ratio,
    }
}

impl Scale {
    /// So many of the small unit, shown in whichever fits.
    fn show(&self, number: f64) -> String {
        if !number.is_finite() {
            return "unknown".to_owned();
        }
        let size = number.abs();
        // From here on the small unit's own rounding would reach the large one.
        let turn = self.ratio - if self.places == 0 { 0.5 } else { 0.05 };
        if size >= turn {
            let places = if size / self.ratio < 10.0 { 2 } else { 1 };
            return format!("{} {}", trimmed(number / self.ratio, places), self.large);
        }
        let places = match size {
            ..1.0 => 2,
            ..10.0 => 1,
            _ => self.places,
        };
        format!("{} {}", trimmed(number, places), self.small)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn number(text: &str) -> f64 {
        match Amount::parse(text).unwrap() {
            Amount::Volume(volume) => volume.0,
            Amount::Mass(mass) => mass.0,
        }
    }

    #[test]
    fn a_sum_is_that_of_what_is_shown() {
        let layers = [14.6, 145.4, 319.6].map(Millilitres);
        let sum = sum_as_shown(layers.into_iter(), Measures::Metric);
        // 15 ml, 145 ml and 320 ml; exactly they are 479.6 ml.
        assert!((sum.0 - 480.0).abs() < 1e-9, "{sum:?}");
        let layers = [14.6, 145.6, 319.6].map(Millilitres);
        let sum = sum_as_shown(layers.into_iter(), Measures::Metric);
        assert!((sum.0 - 481.0).abs() < 1e-9, "{sum:?}");
    }

    /// NIST Handbook 44, appendix C: units of liquid volume and avoirdupois mass, exact values;
    /// the imperial ounce from the gallon of 4.546 09 l.
    #[test]
    fn units_are_those_of_handbook_44() {
        let table = [
            ("1 gal", 3_785.411_784),
            ("1 qt", 946.352_946),
            ("1 pt", 473.176_473),
            ("1 cup", 236.588_236_5),
            ("1 fl oz", 29.573_529_562_5),
            ("1 tbsp", 14.786_764_781_25),
            ("1 tsp", 4.928_921_593_75),
            ("160 imp fl oz", 4546.09),
            ("1 lb", 453.592_37),
            ("1 oz", 28.349_523_125),
        ];
        for (said, exact) in table {
            assert!((number(said) / exact - 1.0).abs() < 1e-14, "{said}");
        }
    }

    #[test]
    fn amounts_are_read_as_they_are_written() {
        let volume = |ml| Amount::Volume(Millilitres(ml));
        let mass = |g| Amount::Mass(Grams(g));
        let table = [
            ("41 ml", volume(41.0)),
            ("41ML", volume(41.0)),
            (" 2,5 cl ", volume(25.0)),
            ("0.25 L", volume(250.0)),
            ("1,2 litres", volume(1200.0)),
            (".5 ml", volume(0.5)),
            ("1 Fl. Oz.", volume(29.573_529_562_5)),
            ("1floz", volume(29.573_529_562_5)),
            ("100 l", volume(100_000.0)),
            ("0.001 ml", volume(0.001)),
            ("50 g", mass(50.0)),
            ("1.250 kg", mass(1250.0)),
            ("300 mg", mass(0.3)),
            ("200 KG", mass(200_000.0)),
        ];
        for (said, wanted) in table {
            assert_eq!(Amount::parse(said).unwrap(), wanted, "{said}");
        }
    }

    #[test]
    fn what_cannot_be_meant_is_refused_with_its_reason() {
        let table = [
            ("", Misread::Empty),
            ("ml", Misread::NoNumber),
            ("41", Misread::NoUnit),
            ("0 ml", Misread::Zero),
            ("-5 ml", Misread::Negative),
            ("NaN ml", Misread::NoNumber),
            ("inf ml", Misread::NoNumber),
            ("infinity", Misread::NoNumber),
            ("1,000 ml", Misread::Thousands),
            ("1 000 ml", Misread::Thousands),
            ("0.0001 ml", Misread::TooSmall),
            ("100.1 l", Misread::TooLarge),
            ("201 kg", Misread::TooLarge),
            ("5 m3", Misread::UnknownUnit("m3".to_owned())),
            ("5 ml ml", Misread::UnknownUnit("ml ml".to_owned())),
            ("1e3 g", Misread::UnknownUnit("e3 g".to_owned())),
        ];
        for (said, why) in table {
            assert_eq!(Amount::parse(said).unwrap_err().why, why, "{said}");
        }
        assert!(Amount::parse(&"9".repeat(119)).is_err());
        assert!(Amount::parse(&format!("{} ml", "9".repeat(110))).is_err());
    }

    #[test]
    fn a_form_may_lend_its_unit() {
        let read = |text| Amount::parse_or(text, Unit::UsFluidOunce).unwrap();
        assert_eq!(read("2"), Unit::UsFluidOunce.times(2.0));
        assert_eq!(read("2 ml"), Amount::Volume(Millilitres(2.0)));
    }

    #[test]
    fn a_mass_needs_its_density() {
        let weighed = Amount::Mass(Grams(62.0));
        assert_eq!(weighed.volume(Some(Density(1.24))), Ok(Millilitres(50.0)));
        for none in [None, Some(Density(0.0)), Some(Density(f64::NAN))] {
            let mass = Grams(62.0);
            assert_eq!(weighed.volume(none), Err(DensityUnknown { mass }));
        }
        assert_eq!(
            Amount::Volume(Millilitres(3.0)).volume(None),
            Ok(Millilitres(3.0))
        );
    }

    #[test]
    fn amounts_are_shown_with_sensible_digits() {
        use Measures::{Metric, UsCustomary};
        let volumes = [
            (0.0, Metric, "0 ml"),
            (0.349, Metric, "0.35 ml"),
            (2.1, Metric, "2.1 ml"),
            (2.0, Metric, "2 ml"),
            (41.3, Metric, "41 ml"),
            (999.6, Metric, "1 l"),
            (1200.0, Metric, "1.2 l"),
            (12_340.0, Metric, "12.3 l"),
            (-2.1, Metric, "-2.1 ml"),
            (f64::NAN, Metric, "unknown"),
            (121.25, UsCustomary, "4.1 fl oz"),
            (41.0, UsCustomary, "1.4 fl oz"),
            (3_785.411_784, UsCustomary, "1 gal"),
            (3_784.5, UsCustomary, "1 gal"),
            (3_780.0, UsCustomary, "127.8 fl oz"),
        ];
        for (ml, measures, shown) in volumes {
            assert_eq!(show_volume(Millilitres(ml), measures), shown);
        }
        assert_eq!(show_mass(Grams(1234.0), Metric), "1.23 kg");
        assert_eq!(show_mass(Grams(116.2), UsCustomary), "4.1 oz");
        assert_eq!(show_mass(Grams(907.184_74), UsCustomary), "2 lb");
    }

    #[test]
    fn a_megabyte_is_refused() {
        for piece in ["9", " ", "x", "1ml", "\u{202e}"] {
            assert!(Amount::parse(&piece.repeat(1_000_000 / piece.len())).is_err());
        }
    }

    proptest! {
        #[test]
        fn no_text_panics(text in any::<String>(), tail in "[0-9.,]{0,8} ?[a-z. ]{0,8}") {
            let _ = Amount::parse(&text);
            let _ = Amount::parse(&tail);
            let _ = Amount::parse_or(&(tail + &text), Unit::Gram);
        }

        /// What is shown reads back to the same amount within its digits, and shows the same.
        #[test]
        fn shown_volumes_read_back(ml in 0.01..99_000.0_f64, us in any::<bool>()) {
            let measures = if us { Measures::UsCustomary } else { Measures::Metric };
            prop_assume!(!us || ml > 0.2);
            let shown = show_volume(Millilitres(ml), measures);
            let back = Amount::parse(&shown).unwrap().volume(None).unwrap();
            prop_assert!((back.0 - ml).abs() <= (0.051 * ml).max(0.16), "{ml} {shown} {back:?}");
            prop_assert_eq!(show_volume(back, measures), shown);
        }

        #[test]
        fn shown_masses_read_back(g in 0.2..199_000.0_f64, us in any::<bool>()) {
            let measures = if us { Measures::UsCustomary } else { Measures::Metric };
            let shown = show_mass(Grams(g), measures);
            let Amount::Mass(back) = Amount::parse(&shown).unwrap() else { panic!("{shown}") };
            prop_assert!((back.0 - g).abs() <= (0.051 * g).max(0.16), "{g} {shown} {back:?}");
            prop_assert_eq!(show_mass(back, measures), shown);
        }
    }
}
