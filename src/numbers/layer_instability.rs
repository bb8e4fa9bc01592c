//! Heavy paint over light: how far apart the cells come, and how soon (Rayleigh and Taylor).
//!
//! Two thin viscous layers on a no-slip panel under a stress-free surface, linear theory, derived from the
//! Stokes equations; the rigid lid is Ramberg's case (1968) and is here to be checked against it. A
//! disturbance of wavelength L grows as exp(n t), n = (drho g - gamma k2) / (2 k Z). What surface tension
//! and activator do is not in it, and a yield stress near drho g h (0.6 Pa for 1 mm) stops it outright.

use super::{GRAVITY, search::golden_section};
use crate::trade::units::{
    Density, Millimetres, NewtonsPerMetre, PascalSeconds, PerSecond, Seconds,
};
use std::f64::consts::PI;

/// One layer of wet paint.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Layer {
    /// Its wet thickness.
    pub thickness: Millimetres,
    /// Its density.
    pub density: Density,
    /// Its low-shear viscosity.
    pub viscosity: PascalSeconds,
}

/// What lies on the upper layer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lid {
    /// Air: no stress at the surface, the painter's case.
    Free,
    /// A rigid plate: only for checks against the literature.
    Rigid,
}

/// The disturbance that grows fastest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fastest {
    /// Its wavelength, about the spacing of the cells.
    pub wavelength: Millimetres,
    /// Its rate of growth.
    pub rate: PerSecond,
}

impl Fastest {
    /// The time in which a disturbance grows a hundredfold: when the cells show (our choice of a hundred).
    #[must_use]
    pub fn time_to_show(self) -> Seconds {
        Seconds(100_f64.ln() / self.rate.0)
    }
}

/// A layer's resistance to normal motion, the coupling, and to shear, per unit viscosity.
struct Resistance {
    p: f64,
    q: f64,
    r: f64,
}

impl Resistance {
    const DEEP: Self = Self {
        p: 1.0,
        q: 0.0,
        r: 1.0,
    };

    fn no_slip(phi: f64) -> Self {
        if phi > 20.0 {
            return Self::DEEP;
        }
        let (s, c) = (phi.sinh(), phi.cosh());
        let d = s * s - phi * phi;
        Self {
            p: (s * c + phi) / d,
            q: phi * phi / d,
            r: (s * c - phi) / d,
        }
    }

    fn free(phi: f64) -> Self {
        if phi > 20.0 {
            return Self::DEEP;
        }
        let (s, c) = (phi.sinh(), phi.cosh());
        let d = s * c - phi;
        Self {
            p: c * c / d,
            q: phi / d,
            r: s * s / d,
        }
    }
}

/// The rate at which a disturbance of one wavelength grows; below zero it dies.
#[must_use]
pub fn growth_rate(
    upper: Layer,
    lower: Layer,
    tension: NewtonsPerMetre,
    lid: Lid,
    wavelength: Millimetres,
) -> PerSecond {
    let k = 2.0 * PI / (wavelength.0 / 1000.0);
    let phi = |layer: Layer| k * layer.thickness.0 / 1000.0;
    let top = match lid {
        Lid::Free => Resistance::free(phi(upper)),
        Lid::Rigid => Resistance::no_slip(phi(upper)),
    };
    let bottom = Resistance::no_slip(phi(lower));
    let (e1, e2) = (upper.viscosity.0, lower.viscosity.0);
    let coupling = e1 * top.q - e2 * bottom.q;
    let z = e1 * top.p + e2 * bottom.p - coupling * coupling / (e1 * top.r + e2 * bottom.r);
    let drive = (upper.density - lower.density).0 * 1000.0 * GRAVITY - tension.0 * k * k;
    PerSecond(drive / (2.0 * k * z))
}

/// The fastest growing disturbance; `None` where the upper layer is not the heavier, or a layer is no layer.
#[must_use]
pub fn fastest(upper: Layer, lower: Layer, tension: NewtonsPerMetre, lid: Lid) -> Option<Fastest> {
    if !(real(upper) && real(lower)) || upper.density <= lower.density {
        return None;
    }
    let thin = upper.thickness.min(lower.thickness).0;
    let thick = upper.thickness.max(lower.thickness).0;
    let rate = |log: f64| growth_rate(upper, lower, tension, lid, Millimetres(log.exp())).0;
    let (low, high) = ((thin * 0.3).ln(), (thick * 40.0).ln());
    let step = (high - low) / 60.0;
    // A coarse look first: unlike layers may have a shoulder on which a bare golden section would settle.
    let best = (0..=60)
        .map(|i| low + step * f64::from(i))
        .max_by(|a, b| rate(*a).total_cmp(&rate(*b)))?;
    let peak = golden_section(best - step, best + step, rate);
    let found = Fastest {
        wavelength: Millimetres(peak.exp()),
        rate: PerSecond(rate(peak)),
    };
    (found.rate.0 > 0.0).then_some(found)
}

fn real(layer: Layer) -> bool {
    let positive = |x: f64| x.is_finite() && x > 0.0;
    positive(layer.thickness.0) && positive(layer.density.0) && positive(layer.viscosity.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn layer(h: f64, rho: f64, eta: f64) -> Layer {
        Layer {
            thickness: Millimetres(h),
            density: Density(rho),
            viscosity: PascalSeconds(eta),
        }
    }

    const NONE: NewtonsPerMetre = NewtonsPerMetre(0.0);

    proptest! {
        #[test]
        fn light_over_heavy_is_stable(h in 0.2..3.0_f64, eta in 0.5..50.0_f64, wave in 0.5..50.0_f64) {
            let (light, heavy) = (layer(h, 1.10, eta), layer(h, 1.16, eta));
            prop_assert_eq!(fastest(light, heavy, NONE, Lid::Free), None);
            prop_assert!(growth_rate(light, heavy, NONE, Lid::Free, Millimetres(wave)).0 < 0.0);
        }

        #[test]
        fn scaling_laws_hold(h1 in 0.3..3.0_f64, h2 in 0.3..3.0_f64, e1 in 0.5..20.0_f64, e2 in 0.5..20.0_f64, s in 1.1..4.0_f64) {
            let of = |size: f64, gap: f64, thick: f64| fastest(
                layer(h1 * size, 1.2 + gap, e1 * thick), layer(h2 * size, 1.2, e2 * thick), NONE, Lid::Free).unwrap();
            let base = of(1.0, 0.06, 1.0);
            prop_assert!((of(s, 0.06, 1.0).rate / base.rate / s - 1.0).abs() < 1e-6);
            prop_assert!((of(s, 0.06, 1.0).wavelength / base.wavelength / s - 1.0).abs() < 1e-4);
            prop_assert!((of(1.0, 0.06 * s, 1.0).rate / base.rate / s - 1.0).abs() < 1e-6);
            prop_assert!((of(1.0, 0.06, s).rate / base.rate * s - 1.0).abs() < 1e-6);
        }
    }

    #[test]
    fn fastest_is_no_slower_than_any_other() {
        let (upper, lower) = (layer(1.0, 1.26, 10.0), layer(0.4, 1.2, 1.0));
        let best = fastest(upper, lower, NONE, Lid::Free).unwrap();
        for i in 1..400 {
            let other = growth_rate(
                upper,
                lower,
                NONE,
                Lid::Free,
                Millimetres(f64::from(i) * 0.1),
            );
            assert!(other.0 <= best.rate.0 * (1.0 + 1e-9));
        }
    }
}
