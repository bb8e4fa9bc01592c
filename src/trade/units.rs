//! Quantities with their unit in the type, so that no bare number crosses a room's door.
//!
//! Conversions are exact by definition: the inch is 25.4 mm; the US gallon is 231 cubic inches
//! (NIST Handbook 44, appendix C); the avoirdupois pound is 453.59237 g.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

/// Makes a quantity: a number that knows its unit, adds to its own kind and scales by a number.
macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $unit:literal) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default, Serialize, Deserialize, JsonSchema)]
        #[serde(transparent)]
        pub struct $name(pub f64);

        impl $name {
            /// Nothing of it.
            pub const ZERO: Self = Self(0.0);
            /// The unit's symbol, as shown after a value.
            pub const UNIT: &'static str = $unit;

            /// The bare number, in this type's unit.
            #[must_use]
            pub const fn get(self) -> f64 {
                self.0
            }

            /// Whether the number is finite (neither NaN nor infinite).
            #[must_use]
            pub fn is_finite(self) -> bool {
                self.0.is_finite()
            }

            /// The smaller of two.
            #[must_use]
            pub fn min(self, other: Self) -> Self {
                Self(self.0.min(other.0))
            }

            /// The larger of two.
            #[must_use]
            pub fn max(self, other: Self) -> Self {
                Self(self.0.max(other.0))
            }
        }

        impl Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }
        impl AddAssign for $name {
            fn add_assign(&mut self, other: Self) {
                self.0 += other.0;
            }
        }
        impl Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }
        impl SubAssign for $name {
            fn sub_assign(&mut self, other: Self) {
                self.0 -= other.0;
            }
        }
        impl Neg for $name {
            type Output = Self;
            fn neg(self) -> Self {
                Self(-self.0)
            }
        }
        impl Mul<f64> for $name {
            type Output = Self;
            fn mul(self, factor: f64) -> Self {
                Self(self.0 * factor)
            }
        }
        impl Div<f64> for $name {
            type Output = Self;
            fn div(self, divisor: f64) -> Self {
                Self(self.0 / divisor)
            }
        }
        /// The ratio of two of a kind, a bare number.
        impl Div for $name {
            type Output = f64;
            fn div(self, other: Self) -> f64 {
                self.0 / other.0
            }
        }
        impl std::iter::Sum for $name {
            fn sum<I: Iterator<Item = Self>>(all: I) -> Self {
                all.fold(Self::ZERO, Add::add)
            }
        }
    };
}

quantity!(
    /// A volume in millilitres.
    Millilitres,
    "ml"
);
quantity!(
    /// A mass in grams.
    Grams,
    "g"
);
quantity!(
    /// A time in seconds: a mound, a flow-cup reading, a time to show.
    Seconds,
    "s"
);
quantity!(
    /// A length in millimetres.
    Millimetres,
    "mm"
);
quantity!(
    /// An area in square millimetres.
    SquareMillimetres,
    "mm2"
);
quantity!(
    /// A temperature in degrees Celsius.
    Celsius,
    "C"
);
quantity!(
    /// A part of a whole, 0 to 1 (relative humidity, share of the volume, solids).
    Share,
    ""
);
quantity!(
    /// A density in grams per millilitre (equal to kg/L; times 1000, kg/m3).
    Density,
    "g/ml"
);
quantity!(
    /// A dynamic viscosity in pascal seconds.
    PascalSeconds,
    "Pa s"
);
quantity!(
    /// A pressure or stress in pascals.
    Pascals,
    "Pa"
);
quantity!(
    /// A kinematic viscosity in square millimetres per second (1 cSt).
    SquareMillimetresPerSecond,
    "mm2/s"
);
quantity!(
    /// A waiting time in hours.
    Hours,
    "h"
);
quantity!(
    /// A long waiting time in days.
    Days,
    "d"
);
quantity!(
    /// A stirring time in minutes.
    Minutes,
    "min"
);
quantity!(
    /// A slope in degrees from the horizontal.
    Degrees,
    "deg"
);
quantity!(
    /// A rate of growth or decay per second.
    PerSecond,
    "1/s"
);
quantity!(
    /// A rate of growth or decay per hour.
    PerHour,
    "1/h"
);
quantity!(
    /// A speed in millimetres per second.
    MillimetresPerSecond,
    "mm/s"
);
quantity!(
    /// A surface or interfacial tension in newtons per metre.
    NewtonsPerMetre,
    "N/m"
);

/// One US fluid ounce in millilitres: 231 cubic inches of 25.4 mm a side, divided by 128.
pub const US_FLUID_OUNCE: Millilitres = Millilitres(29.573_529_562_5);
/// One inch in millimetres.
pub const INCH: Millimetres = Millimetres(25.4);
/// One avoirdupois ounce in grams.
pub const OUNCE: Grams = Grams(28.349_523_125);

impl Millilitres {
    /// The smallest volume a studio can tell from nothing: 0.05 ml, about one drop
    /// (common practice, no source).
    pub const DROP: Self = Self(0.05);

    /// Whether this is too little to pour or draw.
    #[must_use]
    pub fn is_nothing(self) -> bool {
        self.0 < Self::DROP.0
    }

    /// The mass of this volume at a density.
    #[must_use]
    pub fn at(self, density: Density) -> Grams {
        Grams(self.0 * density.0)
    }

    /// Rounded to a whole microlitre, as it is stored.
    #[must_use]
    pub fn stored(self) -> Self {
        Self((self.0 * 1000.0).round() / 1000.0)
    }
}

impl Grams {
    /// The volume of this mass at a density.
    #[must_use]
    pub fn at(self, density: Density) -> Millilitres {
        Millilitres(self.0 / density.0)
    }
}

/// A low, middle and high value of one quantity: an estimate with its 80 % band.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Band<T> {
    /// The value that one in ten falls below.
    pub low: T,
    /// The middle value.
    pub mid: T,
    /// The value that one in ten lies above.
    pub high: T,
}

impl<T: Copy> Band<T> {
    /// A band of no width.
    pub const fn exactly(value: T) -> Self {
        Self {
            low: value,
            mid: value,
            high: value,
        }
    }

    /// The same band in another unit; `convert` must not fall as its input rises.
    pub fn map<U>(self, convert: impl Fn(T) -> U) -> Band<U> {
        Band {
            low: convert(self.low),
            mid: convert(self.mid),
            high: convert(self.high),
        }
    }
}

/// Where an estimate comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Backing {
    /// Common practice: none of the studio's own readings stand behind it.
    Practice,
    /// Practice, moved by the studio's own readings, which are few yet.
    Both,
    /// The studio's own readings.
    Yours,
}

/// An estimate: its band, where it comes from, and how many of the studio's own readings stand behind it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Estimate<T> {
    /// Low, middle and high (80 %).
    pub band: Band<T>,
    /// Practice, or the studio's own.
    pub from: Backing,
    /// How many of the studio's own readings were used.
    pub readings: usize,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fluid_ounce_is_231_cubic_inches_over_128() {
        let cubic_inch = (INCH.0 / 10.0).powi(3);
        assert!((US_FLUID_OUNCE.0 - 231.0 * cubic_inch / 128.0).abs() < 1e-12);
    }

    #[test]
    fn mass_and_volume_are_each_others_inverse() {
        let white = Density(1.24);
        assert!((Millilitres(41.0).at(white).at(white).0 - 41.0).abs() < 1e-12);
    }
}
