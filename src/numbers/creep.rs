//! How far a wet film creeps on a panel that is not level: an upper bound.
//!
//! Nusselt's film (Bird, Stewart and Lightfoot, Transport Phenomena, 2.2-18 to 2.2-20): the surface moves at
//! rho g h2 sin(slope) / (2 eta). Real creep is less: the film thickens as water leaves, and a yield stress
//! above rho g h sin(slope) holds it.

use super::GRAVITY;
use crate::trade::units::{
    Degrees, Density, Hours, Millimetres, MillimetresPerSecond, PascalSeconds, Pascals,
};

/// A wet film on a slope.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Film {
    /// Its wet thickness.
    pub thickness: Millimetres,
    /// Its density.
    pub density: Density,
    /// Its low-shear viscosity.
    pub viscosity: PascalSeconds,
}

/// The speed of the film's surface down the slope.
#[must_use]
pub fn surface_speed(film: Film, slope: Degrees) -> MillimetresPerSecond {
    let h = film.thickness.0 / 1000.0;
    MillimetresPerSecond(holding_stress(film, slope).0 * h / (2.0 * film.viscosity.0) * 1000.0)
}

/// The most the surface can have crept in a time.
#[must_use]
pub fn at_most(film: Film, slope: Degrees, time: Hours) -> Millimetres {
    Millimetres(surface_speed(film, slope).0 * time.0 * 3600.0)
}

/// The yield stress that would hold the film still, rho g h sin(slope).
#[must_use]
pub fn holding_stress(film: Film, slope: Degrees) -> Pascals {
    let fall = slope.0.abs().to_radians().sin();
    Pascals(film.density.0 * 1000.0 * GRAVITY * film.thickness.0 / 1000.0 * fall)
}

/// The slope of a fall over a run, such as 1 mm in 500 mm.
#[must_use]
pub fn slope(fall: Millimetres, run: Millimetres) -> Degrees {
    Degrees((fall / run).asin().to_degrees())
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn level_stands_still_and_thicker_films_creep_farther(h in 0.1..5.0_f64, tilt in 0.01..5.0_f64) {
            let film = |h| Film { thickness: Millimetres(h), density: Density(1.2), viscosity: PascalSeconds(3.0) };
            let crept = |h, tilt| at_most(film(h), Degrees(tilt), Hours(1.0)).0;
            prop_assert!(crept(h, 0.0).abs() < 1e-12);
            prop_assert!((crept(2.0 * h, tilt) / crept(h, tilt) - 4.0).abs() < 1e-9);
            prop_assert!((crept(h, -tilt) - crept(h, tilt)).abs() < 1e-12);
        }
    }
}
