//! How bubbles rise in a resting cup.
//!
//! Stokes 1851: v = drho g d2 / (18 eta) for a bubble whose skin surfactant has stiffened; Hadamard and
//! Rybczynski 1911: 1.5 times that for a bare one. Paint is full of surfactant, so Stokes is the slow edge.
//! Valid while the Reynolds number is far below 1. Ladenburg's wall factor, 1 + 2.4 d / D, for d / D up to 0.1.

use super::GRAVITY;
use crate::trade::units::{
    Density, Hours, Millimetres, MillimetresPerSecond, PascalSeconds, Pascals,
};

/// How much faster a bubble with a bare, mobile skin rises.
pub const BARE_SKIN: f64 = 1.5;
/// Below this yield parameter, 3 tau / (drho g d), a sphere moves (Beris and others 1985).
const HELD: f64 = 0.143;

/// Stokes's rising speed of a bubble; `lighter` is how much lighter it is than the paint.
#[must_use]
pub fn rising_speed(
    bubble: Millimetres,
    lighter: Density,
    viscosity: PascalSeconds,
) -> MillimetresPerSecond {
    let d = bubble.0 / 1000.0;
    MillimetresPerSecond(lighter.0 * 1000.0 * GRAVITY * d * d / (18.0 * viscosity.0) * 1000.0)
}

/// The viscosity in which a bubble rises at a speed.
#[must_use]
pub fn viscosity_of_rise(
    bubble: Millimetres,
    lighter: Density,
    speed: MillimetresPerSecond,
) -> PascalSeconds {
    PascalSeconds(rising_speed(bubble, lighter, PascalSeconds(1.0)) / speed)
}

/// The Reynolds number of a rising bubble: Stokes's law wants it far below 1.
#[must_use]
pub fn reynolds(
    bubble: Millimetres,
    speed: MillimetresPerSecond,
    paint: Density,
    viscosity: PascalSeconds,
) -> f64 {
    paint.0 * 1000.0 * speed.0 / 1000.0 * bubble.0 / 1000.0 / viscosity.0
}

/// How many times slower a bubble rises along the axis of a round cup; `None` for a bubble wider than a
/// tenth of the cup, where the rule does not hold.
#[must_use]
pub fn wall_factor(bubble: Millimetres, cup: Millimetres) -> Option<f64> {
    let ratio = bubble / cup;
    (0.0..=0.1).contains(&ratio).then_some(1.0 + 2.4 * ratio)
}

/// The smallest bubble that has risen through a depth in a time (Stokes, the slow edge).
#[must_use]
pub fn smallest_risen(
    depth: Millimetres,
    time: Hours,
    paint: Density,
    viscosity: PascalSeconds,
) -> Millimetres {
    let weight = paint.0 * 1000.0 * GRAVITY * time.0 * 3600.0;
    Millimetres((18.0 * viscosity.0 * depth.0 / 1000.0 / weight).sqrt() * 1000.0)
}

/// The largest bubble that a yield stress holds for ever, by the rule for spheres.
#[must_use]
pub fn largest_held(yield_stress: Pascals, paint: Density) -> Millimetres {
    Millimetres(3.0 * yield_stress.0 / (HELD * paint.0 * 1000.0 * GRAVITY) * 1000.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn wall_rule_refuses_a_wide_bubble() {
        assert_eq!(wall_factor(Millimetres(5.0), Millimetres(50.0)), Some(1.24));
        assert_eq!(wall_factor(Millimetres(5.1), Millimetres(50.0)), None);
    }

    proptest! {
        #[test]
        fn smallest_risen_has_just_risen(depth in 5.0..150.0_f64, time in 0.1..72.0_f64, eta in 0.1..100.0_f64) {
            let (paint, eta) = (Density(1.2), PascalSeconds(eta));
            let bubble = smallest_risen(Millimetres(depth), Hours(time), paint, eta);
            let needed = depth / rising_speed(bubble, paint, eta).0 / 3600.0;
            prop_assert!((needed / time - 1.0).abs() < 1e-9);
        }

        #[test]
        fn thicker_never_clears_sooner(eta in 0.1..100.0_f64, more in 1.0..9.0_f64) {
            let risen = |eta| smallest_risen(Millimetres(60.0), Hours(12.0), Density(1.2), PascalSeconds(eta));
            prop_assert!(risen(eta * more) >= risen(eta));
        }
    }
}
