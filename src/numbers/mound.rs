//! Mound seconds to low-shear viscosity: an order of magnitude, for the models that need pascal seconds.
//!
//! Our own derivation, no published precedent: a drizzled ridge 6 to 20 mm wide levels under a stress near
//! its least value, sqrt(rho g sigma) = 20.3 Pa, and is gone from sight at 5 to 20 % of its height. So one
//! second of mound is 6.8 to 12.6 Pa s. The middle is their geometric mean and the band a factor of two.
//! A mound that never fades is a yield stress, and has no viscosity here.

use super::GRAVITY;
use crate::trade::units::{
    Band, Density, Millimetres, NewtonsPerMetre, PascalSeconds, Pascals, Seconds,
};

/// Paint as the derivation takes it: 1.2 g/ml (from memory).
pub(super) const PAINT: Density = Density(1.2);
/// Surface tension of paint full of surfactant: 0.035 N/m (from memory).
pub(super) const TENSION: NewtonsPerMetre = NewtonsPerMetre(0.035);
/// The band's factor each way.
const FACTOR: f64 = 2.0;
/// The least height of a mound that an eye sees (our own choice).
const IN_SIGHT: Millimetres = Millimetres(0.5);

/// A mound that is no positive number of seconds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NoMound(pub f64);

/// The low-shear viscosity that a mound stands for, within a factor of two.
///
/// # Errors
/// A mound that is not a finite time above zero.
pub fn viscosity(mound: Seconds) -> Result<Band<PascalSeconds>, NoMound> {
    if !mound.is_finite() || mound.0 <= 0.0 {
        return Err(NoMound(mound.0));
    }
    let stress = (PAINT.0 * 1000.0 * GRAVITY * TENSION.0).sqrt();
    let middle = stress * mound.0 / (20_f64.ln() * 5_f64.ln()).sqrt();
    Ok(Band {
        low: PascalSeconds(middle / FACTOR),
        mid: PascalSeconds(middle),
        high: PascalSeconds(middle * FACTOR),
    })
}

/// The least yield stress that keeps a mound in sight for ever: levelling in deep paint stops at a height of
/// e tau / (rho g + sigma k2), and at the wave number of least stress that is e tau / (2 rho g).
#[must_use]
pub fn holding_stress() -> Pascals {
    let weight = PAINT.0 * 1000.0 * GRAVITY;
    Pascals(2.0 * weight * IN_SIGHT.0 / 1000.0 / std::f64::consts::E)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn band_holds_both_thresholds_of_sight() {
        let band = viscosity(Seconds(3.0)).unwrap();
        assert!(band.low.0 < 20.39 && 20.39 < band.high.0);
        assert!(band.low.0 < 37.8 && 37.8 < band.high.0);
    }

    #[test]
    fn longer_mound_is_thicker_and_none_is_an_error() {
        assert!(viscosity(Seconds(4.0)).unwrap().mid > viscosity(Seconds(3.0)).unwrap().mid);
        for bad in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            assert!(viscosity(Seconds(bad)).is_err());
        }
    }
}
