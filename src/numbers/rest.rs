//! When a resting cup has cleared.
//!
//! Stokes's law: the time grows with depth and low-shear viscosity (mound seconds stand for it) and falls with the
//! paint's weight. Anchor, common practice, no source: 3 s of mound, 60 mm deep, clears in 12 h, or in the variant's own
//! rest where that is less. That rest is a floor of it until the studio's own looks say otherwise. Practice is where the studio's looks begin from
//! (a normal of ln(time), sd .7; ours), and each look moves the answer: see `learned`. No rest clears a gelled cup.

mod learned;

pub use learned::{Beside, Looked, Rest, Rests};

use super::Z_80;
use crate::trade::units::{Backing, Band, Density, Estimate, Hours, Millimetres, Seconds};

/// The anchor's time to clear (common practice, no source).
const ANCHOR: Hours = Hours(12.0);
/// The anchor's mound.
const ANCHOR_MOUND: Seconds = Seconds(3.0);
/// The depth taken where none is known.
pub const DEPTH: Millimetres = Millimetres(60.0);
/// The density the anchor is scaled to; also taken where none is known.
const ANCHOR_DENSITY: Density = Density(1.0);
/// The sd of ln(time) that practice leaves open (ours).
const PRACTICE_SD: f64 = 0.7;

/// A cup as the model sees it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Resting {
    /// Its mound when it was set to rest.
    pub mound: Seconds,
    /// Its depth of paint; `None`: 60 mm is taken.
    pub depth: Option<Millimetres>,
    /// Its density; `None`: as the anchor's.
    pub density: Option<Density>,
    /// The variant's own rest: what practice never goes below.
    pub floor: Hours,
}

/// One look at a resting cup.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Look {
    /// How long the cup had rested.
    pub after: Hours,
    /// The cup's [`scale`]: how many times longer than the anchor theory gives it.
    pub scale: f64,
    /// How long the cup rests by [`practice`].
    pub practice: Hours,
    /// Whether it was clear.
    pub clear: bool,
}

impl Look {
    fn usable(&self) -> bool {
        let good = |x: f64| x.is_finite() && x > 0.0;
        good(self.after.0) && good(self.scale) && good(self.practice.0)
    }
}

/// Why no clearing time is given.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RestError {
    /// The mound is no reading.
    Mound,
    /// The depth is none.
    Depth,
    /// The density is none.
    Density,
}

/// The depth of a volume in a straight round cup.
#[must_use]
pub fn depth_in(volume: crate::trade::units::Millilitres, diameter: Millimetres) -> Millimetres {
    let radius = diameter.0 / 2.0;
    Millimetres(volume.0 * 1000.0 / (std::f64::consts::PI * radius * radius))
}

/// How many times longer than the anchor a cup takes by theory.
///
/// # Errors
/// A mound, depth or density that is not above zero.
pub fn scale(cup: &Resting) -> Result<f64, RestError> {
    let good = |x: f64| x.is_finite() && x > 0.0;
    let depth = cup.depth.unwrap_or(DEPTH);
    let density = cup.density.unwrap_or(ANCHOR_DENSITY);
    if !good(cup.mound.0) {
        return Err(RestError::Mound);
    }
    if !good(depth.0) {
        return Err(RestError::Depth);
    }
    if !good(density.0) {
        return Err(RestError::Density);
    }
    // A heavier paint drives its bubbles up faster.
    Ok(cup.mound / ANCHOR_MOUND * (depth / DEPTH) * (ANCHOR_DENSITY / density))
}

/// When a cup clears by practice alone.
///
/// # Errors
/// A mound, depth or density that is not above zero.
pub fn practice(cup: &Resting) -> Result<Hours, RestError> {
    // Who writes a shorter rest down than the anchor's has paint that clears in it: for that paint it is the anchor.
    let anchor = match cup.floor {
        own if own > Hours::ZERO && own < ANCHOR => own,
        _ => ANCHOR,
    };
    Ok((anchor * scale(cup)?).max(cup.floor))
}

/// When a cup clears, counted from the start of its rest: by practice, moved by what is known of its variant. The band is
/// that of one cup, which is wider than what is known of its paint's middle.
///
/// # Errors
/// A mound, depth or density that is not above zero.
pub fn clears_in(cup: &Resting, known: Option<Beside>) -> Result<Estimate<Hours>, RestError> {
    let by_practice = practice(cup)?;
    let Some(known) = known else {
        return Ok(by_practice_alone(by_practice));
    };
    let scale = scale(cup)?;
    let expected = known.anchor.map_or(by_practice, |anchor| anchor * scale);
    Ok(Estimate {
        band: known.next.map(|factor| expected * factor),
        from: match known.own {
            true => Backing::Yours,
            false => Backing::Both,
        },
        readings: known.looks,
    })
}

/// A time that practice gives, with the band that practice has.
#[must_use]
pub fn by_practice_alone(mid: Hours) -> Estimate<Hours> {
    let at = |z: f64| mid * (z * PRACTICE_SD).exp();
    Estimate {
        band: Band {
            low: at(-Z_80),
            mid,
            high: at(Z_80),
        },
        from: Backing::Practice,
        readings: 0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::units::Millilitres;
    use proptest::prelude::*;

    fn cup(mound: f64, depth: f64) -> Resting {
        Resting {
            mound: Seconds(mound),
            depth: Some(Millimetres(depth)),
            density: None,
            floor: Hours(12.0),
        }
    }

    /// Common practice, no source: 3 s, 60 mm, 12 h; twice the depth, twice the time; never under the floor.
    #[test]
    fn anchor_and_floor() {
        let middle = |cup: Resting| clears_in(&cup, None).unwrap().band.mid.0;
        assert!((middle(cup(3.0, 60.0)) - 12.0).abs() < 1e-12);
        assert!((middle(cup(3.0, 120.0)) - 24.0).abs() < 1e-12);
        assert!((middle(cup(1.0, 30.0)) - 12.0).abs() < 1e-12);
        let activator = Resting {
            floor: Hours::ZERO,
            ..cup(1.0, 30.0)
        };
        assert!((middle(activator) - 2.0).abs() < 1e-12);
        // A rest of half an hour stays one at 2.5 s, and is lengthened for a thicker cup alone.
        let quick = |mound| Resting {
            floor: Hours(0.5),
            ..cup(mound, 60.0)
        };
        assert!((middle(quick(2.5)) - 0.5).abs() < 1e-12);
        assert!((middle(quick(6.0)) - 1.0).abs() < 1e-12);
        assert!((depth_in(Millilitres(200.0), Millimetres(70.0)).0 - 51.969).abs() < 1e-3);
    }

    /// By hand: the 80 % band of a log-sd of .7 is a factor of exp(.7 x 1.2816) = 2.45 each way.
    #[test]
    fn practice_has_a_band_too() {
        let band = clears_in(&cup(3.0, 60.0), None).unwrap().band;
        assert!((band.high / band.mid - 2.4525).abs() < 1e-3);
        assert!((band.mid / band.low - 2.4525).abs() < 1e-3);
    }

    #[test]
    fn what_is_no_reading_is_an_error() {
        assert_eq!(clears_in(&cup(0.0, 60.0), None), Err(RestError::Mound));
        assert_eq!(clears_in(&cup(3.0, -1.0), None), Err(RestError::Depth));
        let odd = Resting {
            density: Some(Density(f64::NAN)),
            ..cup(3.0, 60.0)
        };
        assert_eq!(clears_in(&odd, None), Err(RestError::Density));
    }

    proptest! {
        #[test]
        fn thicker_deeper_lighter_never_clears_sooner(
            m in 0.2..20.0_f64, h in 5.0..150.0_f64, more in 1.0..3.0_f64, floor in 0.0..24.0_f64, learn in any::<bool>(),
        ) {
            let known = Beside {
                anchor: Some(Hours(12.0)),
                factor: Band { low: 0.6, mid: 0.7, high: 0.8 },
                next: Band { low: 0.5, mid: 0.7, high: 1.0 },
                looks: 9,
                own: true,
            };
            let known = learn.then_some(known);
            let of = |m, h, rho| clears_in(&Resting { density: Some(Density(rho)), floor: Hours(floor), ..cup(m, h) }, known)
                .unwrap().band.mid;
            prop_assert!(of(m * more, h, 1.2) >= of(m, h, 1.2));
            prop_assert!(of(m, h * more, 1.2) >= of(m, h, 1.2));
            prop_assert!(of(m, h, 1.2 * more) <= of(m, h, 1.2));
        }
    }
}
