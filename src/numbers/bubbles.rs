//! How bubbles rise in a resting cup.
//!
//! Stokes 1851: v = drho g d2 / (18 eta) for a bubble whose skin surfactant has stiffened; Hadamard and
//! Rybczynski 1911: 1.5 times that for a bare one. Paint is full of surfactant, so Stokes is the slow edge.
//! Valid while the Reynolds number is far below 1 (0.1 is taken). Ladenburg's wall factor, 1 + 2.4 d / D, for d / D
//! up to 0.1. From a mound the viscosity is known within a factor of two, so a size is an order of magnitude.

use super::GRAVITY;
use super::mound::{self, PAINT};
use crate::trade::units::{
    Band, Density, Hours, Millimetres, MillimetresPerSecond, PascalSeconds, Pascals, Seconds,
};

/// How much faster a bubble with a bare, mobile skin rises.
pub const BARE_SKIN: f64 = 1.5;
/// Below this yield parameter, 3 tau / (drho g d), a sphere moves (Beris and others 1985).
const HELD: f64 = 0.143;
/// The Reynolds number up to which Stokes's law is taken to hold.
const SLOW: f64 = 0.1;

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

/// The smallest bubble that rises like a given one does far from any wall, along the axis of a round cup; `None` where
/// it is wider than a tenth of the cup. From v ~ d2 / (1 + 2.4 d / D) = d0^2.
#[must_use]
pub fn beside_walls(free: Millimetres, cup: Millimetres) -> Option<Millimetres> {
    let half = 1.2 * free.0 * free.0 / cup.0;
    let bubble = Millimetres(half + half.hypot(free.0));
    wall_factor(bubble, cup).map(|_| bubble)
}

/// The smallest bubble that has risen out of paint of a mound, standing so deep for so long: low with a bare skin in
/// the thinnest paint the mound may stand for, high with a stiff one in the thickest. A cup of unknown width is
/// taken to be as wide as it is deep. `None` where a bubble would be too wide for the cup or too fast for the law.
#[must_use]
pub fn risen_by(
    depth: Millimetres,
    time: Hours,
    mound: Seconds,
    wide: Option<Millimetres>,
) -> Option<Band<Millimetres>> {
    if !(time.is_finite() && time.0 > 0.0 && depth.is_finite() && depth.0 > 0.0) {
        return None;
    }
    let viscosity = mound::viscosity(mound).ok()?;
    let risen = |time: Hours, viscosity: PascalSeconds| {
        let free = smallest_risen(depth, time, PAINT, viscosity);
        let speed = rising_speed(free, PAINT, viscosity);
        let bubble = beside_walls(free, wide.unwrap_or(depth))?;
        (reynolds(bubble, speed, PAINT, viscosity) <= SLOW).then_some(bubble)
    };
    Some(Band {
        low: risen(time * BARE_SKIN, viscosity.low)?,
        mid: risen(time, viscosity.mid)?,
        high: risen(time, viscosity.high)?,
    })
}

/// The largest bubble that a gelled cup holds for ever: the least yield stress that leaves its mound in sight.
#[must_use]
pub fn held_by_gel() -> Millimetres {
    largest_held(mound::holding_stress(), PAINT)
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

    // Computed by hand: 20.3 Pa x 3 s / sqrt(ln 20 x ln 5) = 27.7 Pa s; sqrt(18 x 27.7 x 0.06 / (1200 g x 43200 s)) =
    // 0.243 mm, and walls 60 mm apart add a hundredth.
    #[test]
    fn a_colour_cup_of_twelve_hours_keeps_bubbles_below_a_quarter_of_a_millimetre() {
        let told = |hours| risen_by(Millimetres(60.0), Hours(hours), Seconds(3.0), None);
        let band = told(12.0).unwrap();
        assert!((band.mid.0 - 0.2445).abs() < 0.001, "{band:?}");
        assert!(band.low < band.mid && band.mid < band.high);
        assert_eq!(told(0.0), None);
        assert_eq!(told(0.005), None, "wider than a tenth of the cup");
    }

    // Computed: 2 x 1200 g x 0.5 mm / e = 4.33 Pa; 3 x 4.33 / (0.143 x 1200 g) = 7.7 mm.
    #[test]
    fn a_gel_holds_every_bubble_a_stirring_leaves() {
        assert!((held_by_gel().0 - 7.72).abs() < 0.01, "{:?}", held_by_gel());
    }

    #[test]
    fn wall_rule_refuses_a_wide_bubble() {
        assert_eq!(wall_factor(Millimetres(5.0), Millimetres(50.0)), Some(1.24));
        assert_eq!(wall_factor(Millimetres(5.1), Millimetres(50.0)), None);
    }

    proptest! {
        #[test]
        fn beside_walls_a_bubble_must_be_larger(free in 0.01..3.0_f64, cup in 40.0..120.0_f64) {
            let (free, cup) = (Millimetres(free), Millimetres(cup));
            if let Some(bubble) = beside_walls(free, cup) {
                let slowed = bubble.0 * bubble.0 / wall_factor(bubble, cup).unwrap();
                prop_assert!((slowed / (free.0 * free.0) - 1.0).abs() < 1e-9);
            }
        }

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
