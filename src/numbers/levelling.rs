//! How fast a ripple in wet paint fades.
//!
//! A wave of amplitude a fades as exp(-s t), s = (rho g + sigma k2) / (2 eta k) x F(k h), k = 2 pi / wavelength,
//! F(x) = (sinh x cosh x - x) / (cosh2 x + x2). Orchard 1962 and Jackle 1998 (from memory, re-derived).
//! Newtonian and slow; a yield stress stops it early.

use super::GRAVITY;
use super::mound::{self, NoMound, PAINT, TENSION};
use crate::trade::units::{
    Band, Density, Millimetres, NewtonsPerMetre, PascalSeconds, Pascals, PerSecond, Seconds,
};
use std::f64::consts::PI;

/// The liquid whose surface levels.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Surface {
    /// Its density.
    pub density: Density,
    /// Its surface tension; zero leaves gravity alone.
    pub tension: NewtonsPerMetre,
}

/// How much a floor at `kh` wavenumbers below slows levelling: 1 when deep, 0 when touching.
#[must_use]
pub fn depth_factor(kh: f64) -> f64 {
    if kh > 20.0 {
        return 1.0;
    }
    if kh < 1e-3 {
        return 2.0 * kh.powi(3) / 3.0;
    }
    let (sinh, cosh) = (kh.sinh(), kh.cosh());
    (sinh * cosh - kh) / (cosh * cosh + kh * kh)
}

/// The stress that levels a wave, (rho g + sigma k2) / (2 k).
#[must_use]
pub fn levelling_stress(surface: Surface, wavelength: Millimetres) -> Pascals {
    let k = wavenumber(wavelength);
    let pull = surface.density.0 * 1000.0 * GRAVITY + surface.tension.0 * k * k;
    Pascals(pull / (2.0 * k))
}

/// The rate at which a wave fades on paint of a depth (`None`: deep).
#[must_use]
pub fn fading_rate(
    surface: Surface,
    viscosity: PascalSeconds,
    wavelength: Millimetres,
    depth: Option<Millimetres>,
) -> PerSecond {
    let floor = depth.map_or(1.0, |h| depth_factor(wavenumber(wavelength) * h.0 / 1000.0));
    PerSecond(levelling_stress(surface, wavelength).0 * floor / viscosity.0)
}

/// The time a wave takes to fade to a part of its height (0.05: to one twentieth).
#[must_use]
pub fn fading_time(rate: PerSecond, to: f64) -> Seconds {
    Seconds(-to.ln() / rate.0)
}

/// The ripple that is asked about: hands and tilting leave waves about a finger's breadth apart (our own choice).
pub const RIPPLE: Millimetres = Millimetres(10.0);

/// How long a ripple in a wet film of a mound takes to sink to a twentieth: an estimate, from the mound's viscosity.
///
/// # Errors
/// A mound that is not a finite time above zero.
pub fn levels_in(
    film: Millimetres,
    mound: Seconds,
    ripple: Millimetres,
) -> Result<Band<Seconds>, NoMound> {
    let paint = Surface {
        density: PAINT,
        tension: TENSION,
    };
    let fades = |eta| fading_time(fading_rate(paint, eta, ripple, Some(film)), 0.05);
    Ok(mound::viscosity(mound)?.map(fades))
}

fn wavenumber(wavelength: Millimetres) -> f64 {
    2.0 * PI / (wavelength.0 / 1000.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const PAINT: Surface = Surface {
        density: Density(1.2),
        tension: NewtonsPerMetre(0.035),
    };

    // Computed: the physics table's 1.9752 /s of a 10 mm wave on 1 mm at 1 Pa s; 3 s of mound are 27.7 Pa s: 42 s.
    #[test]
    fn a_ripple_on_a_poured_film_is_gone_within_minutes() {
        let (film, ripple) = (Millimetres(1.0), Millimetres(10.0));
        let band = levels_in(film, Seconds(3.0), ripple).unwrap();
        assert!(
            (band.mid.0 - 20_f64.ln() / (1.9752 / 27.74)).abs() < 0.2,
            "{band:?}"
        );
        assert!(band.low < band.mid && band.mid < band.high);
        assert!(levels_in(film, Seconds(0.0), ripple).is_err());
    }

    proptest! {
        #[test]
        fn deeper_levels_faster_and_thicker_slower(
            wave in 2.0..50.0_f64, depth in 0.1..10.0_f64, eta in 0.1..50.0_f64, more in 1.01..5.0_f64,
        ) {
            let wave = Millimetres(wave);
            let rate = |eta, depth| fading_rate(PAINT, PascalSeconds(eta), wave, Some(Millimetres(depth)));
            prop_assert!(rate(eta, depth * more) >= rate(eta, depth));
            prop_assert!(rate(eta * more, depth) < rate(eta, depth));
            prop_assert!(rate(eta, depth) <= fading_rate(PAINT, PascalSeconds(eta), wave, None));
        }
    }
}
