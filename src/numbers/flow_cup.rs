//! Flow cups: efflux seconds to kinematic viscosity, inside each cup's own window only.
//!
//! Formulas and windows: ISO 2431, DIN 53211 (withdrawn), ASTM D1200 (Ford), ASTM D4212 (Zahn), as quoted by
//! secondary sources that agree with each other. For near-Newtonian liquids; a reading never stands for a
//! mound and the two are never mixed in one fit.

use crate::trade::cup::Reading;
use crate::trade::units::{Seconds, SquareMillimetresPerSecond};
use std::fmt;
use std::str::FromStr;

/// A flow cup of one of the four standard families.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum FlowCup {
    /// ISO 2431, 3 mm orifice.
    Iso3,
    /// ISO 2431, 4 mm orifice.
    Iso4,
    /// ISO 2431, 5 mm orifice.
    Iso5,
    /// ISO 2431, 6 mm orifice.
    Iso6,
    /// DIN 53211, 4 mm orifice (withdrawn).
    Din4,
    /// Ford 1 (ASTM D1200).
    Ford1,
    /// Ford 2 (ASTM D1200).
    Ford2,
    /// Ford 3 (ASTM D1200).
    Ford3,
    /// Ford 4 (ASTM D1200).
    Ford4,
    /// Ford 5 (ASTM D1200).
    Ford5,
    /// Zahn 1 (ASTM D4212).
    Zahn1,
    /// Zahn 2 (ASTM D4212).
    Zahn2,
    /// Zahn 3 (ASTM D4212).
    Zahn3,
    /// Zahn 4 (ASTM D4212).
    Zahn4,
    /// Zahn 5 (ASTM D4212).
    Zahn5,
}

/// Why a flow cup gives no number.
#[derive(Debug, Clone, PartialEq)]
pub enum FlowCupError {
    /// The text names no cup.
    Unknown(String),
    /// The efflux time is outside what the standard allows for this cup.
    OutsideWindow {
        /// The cup that was read.
        cup: FlowCup,
        /// The efflux time.
        efflux: Seconds,
    },
    /// The viscosity cannot be read with this cup.
    OutsideRange {
        /// The cup asked for.
        cup: FlowCup,
        /// The viscosity.
        viscosity: SquareMillimetresPerSecond,
    },
}

/// How seconds become mm2/s.
#[derive(Clone, Copy)]
enum Law {
    /// `a t - b / t`
    Hyperbola(f64, f64),
    /// `k (t - c)`
    Line(f64, f64),
}

impl Law {
    fn viscosity(self, t: f64) -> f64 {
        match self {
            Self::Hyperbola(a, b) => a * t - b / t,
            Self::Line(k, c) => k * (t - c),
        }
    }

    fn time(self, nu: f64) -> f64 {
        match self {
            Self::Hyperbola(a, b) => (nu + (nu * nu + 4.0 * a * b).sqrt()) / (2.0 * a),
            Self::Line(k, c) => nu / k + c,
        }
    }
}

impl FlowCup {
    /// Every cup, in order of family and size.
    pub const ALL: [Self; 15] = [
        Self::Iso3,
        Self::Iso4,
        Self::Iso5,
        Self::Iso6,
        Self::Din4,
        Self::Ford1,
        Self::Ford2,
        Self::Ford3,
        Self::Ford4,
        Self::Ford5,
        Self::Zahn1,
        Self::Zahn2,
        Self::Zahn3,
        Self::Zahn4,
        Self::Zahn5,
    ];

    /// The code, the law, and the shortest and longest seconds it holds for.
    const fn row(self) -> (&'static str, Law, f64, f64) {
        match self {
            Self::Iso3 => ("iso3", Law::Hyperbola(0.443, 200.0), 30.0, 100.0),
            Self::Iso4 => ("iso4", Law::Hyperbola(1.37, 200.0), 30.0, 100.0),
            Self::Iso5 => ("iso5", Law::Hyperbola(3.28, 220.0), 30.0, 100.0),
            Self::Iso6 => ("iso6", Law::Hyperbola(6.90, 570.0), 30.0, 100.0),
            Self::Din4 => ("din4", Law::Hyperbola(4.57, 452.0), 25.0, 150.0),
            Self::Ford1 => ("ford1", Law::Line(0.49, 35.0), 55.0, 100.0),
            Self::Ford2 => ("ford2", Law::Line(1.44, 18.0), 40.0, 100.0),
            Self::Ford3 => ("ford3", Law::Line(2.31, 6.58), 20.0, 100.0),
            Self::Ford4 => ("ford4", Law::Line(3.85, 4.49), 20.0, 100.0),
            Self::Ford5 => ("ford5", Law::Line(12.1, 2.0), 20.0, 100.0),
            Self::Zahn1 => ("zahn1", Law::Line(1.1, 29.0), 35.0, 80.0),
            Self::Zahn2 => ("zahn2", Law::Line(3.5, 14.0), 20.0, 80.0),
            Self::Zahn3 => ("zahn3", Law::Line(11.7, 7.5), 20.0, 80.0),
            Self::Zahn4 => ("zahn4", Law::Line(14.8, 5.0), 20.0, 80.0),
            Self::Zahn5 => ("zahn5", Law::Line(23.0, 0.0), 20.0, 80.0),
        }
    }

    /// The short code, such as `ford4`.
    #[must_use]
    pub const fn code(self) -> &'static str {
        self.row().0
    }

    /// The shortest and longest efflux time the cup may be read at.
    #[must_use]
    pub const fn window(self) -> (Seconds, Seconds) {
        let (_, _, low, high) = self.row();
        (Seconds(low), Seconds(high))
    }

    /// The kinematic viscosity of an efflux time.
    ///
    /// # Errors
    /// Outside the cup's window, and for a time that is no number.
    pub fn viscosity(self, efflux: Seconds) -> Result<SquareMillimetresPerSecond, FlowCupError> {
        let (_, law, low, high) = self.row();
        if (low..=high).contains(&efflux.0) {
            return Ok(SquareMillimetresPerSecond(law.viscosity(efflux.0)));
        }
        Err(FlowCupError::OutsideWindow { cup: self, efflux })
    }

    /// The thinnest and the thickest that the cup reads.
    #[must_use]
    pub fn range(self) -> (SquareMillimetresPerSecond, SquareMillimetresPerSecond) {
        let (_, law, low, high) = self.row();
        let at = |time| SquareMillimetresPerSecond(law.viscosity(time));
        (at(low), at(high))
    }

    /// The efflux time of a kinematic viscosity.
    ///
    /// # Errors
    /// Where that time would be outside the cup's window.
    pub fn efflux(self, viscosity: SquareMillimetresPerSecond) -> Result<Seconds, FlowCupError> {
        let (_, law, low, high) = self.row();
        let (thinnest, thickest) = self.range();
        if viscosity >= thinnest && viscosity <= thickest {
            // Rounding must not carry a value at the edge over it, or the inverse would refuse its own answer.
            return Ok(Seconds(law.time(viscosity.0).clamp(low, high)));
        }
        Err(FlowCupError::OutsideRange {
            cup: self,
            viscosity,
        })
    }
}

impl fmt::Display for FlowCup {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.code())
    }
}

impl FromStr for FlowCup {
    type Err = FlowCupError;

    /// Reads `iso4`, `ISO 4`, `zahn-2`: case, spaces and hyphens do not matter.
    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let plain: String = text
            .chars()
            .filter(char::is_ascii_alphanumeric)
            .map(|c| c.to_ascii_lowercase())
            .collect();
        Self::ALL
            .into_iter()
            .find(|cup| cup.code() == plain)
            .ok_or_else(|| FlowCupError::Unknown(text.to_owned()))
    }
}

/// A reading of the cup of a name, inside its window.
///
/// # Errors
/// A cup that is not known, or a time outside its window.
pub fn reading(cup: &str, efflux: Seconds) -> Result<Reading, FlowCupError> {
    let known: FlowCup = cup.parse()?;
    known.viscosity(efflux)?;
    Ok(Reading::FlowCup {
        cup: known.code().to_owned(),
        efflux,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn what_a_cup_cannot_tell_is_no_number() {
        let (cup, efflux) = (FlowCup::Iso4, Seconds(12.0));
        let outside = FlowCupError::OutsideWindow { cup, efflux };
        assert_eq!(cup.viscosity(efflux), Err(outside));
        assert!(FlowCup::Iso4.viscosity(Seconds(f64::NAN)).is_err());
        assert!(
            FlowCup::Zahn1
                .efflux(SquareMillimetresPerSecond(f64::NAN))
                .is_err()
        );
    }

    #[test]
    fn codes_are_read_back() {
        for cup in FlowCup::ALL {
            assert_eq!(cup.code().parse(), Ok(cup));
        }
        assert_eq!("ISO 4".parse(), Ok(FlowCup::Iso4));
        assert!("ford6".parse::<FlowCup>().is_err());
    }

    proptest! {
        #[test]
        fn seconds_come_back_and_longer_is_thicker(cup in 0_usize..15, part in 0.0..1.0_f64) {
            let cup = FlowCup::ALL[cup];
            let (low, high) = cup.window();
            let t = Seconds(low.0 + part * (high.0 - low.0));
            let nu = cup.viscosity(t).unwrap();
            prop_assert!((cup.efflux(nu).unwrap().0 - t.0).abs() < 1e-9);
            prop_assert!(cup.viscosity(high).unwrap() >= nu);
            prop_assert!(nu.0 > 0.0);
        }

        #[test]
        fn outside_the_window_is_never_a_number(cup in 0_usize..15, over in 1e-6..1e4_f64) {
            let cup = FlowCup::ALL[cup];
            let (low, high) = cup.window();
            prop_assert!(cup.viscosity(high + Seconds(over)).is_err());
            prop_assert!(cup.viscosity(low - Seconds(over)).is_err());
        }
    }
}
