//! May these layers go on each other: the order of their mounds, and heavy over light.
//!
//! Each layer's mound must be below that of the layer under it, the activator lowest (common practice, no
//! source). The gap is a difference of two readings, so the chance that the order holds is normal in it; what a
//! reading errs by is the studio's own ([`super::noise`]). Cells by density come from
//! [`super::layer_instability`], with the mound's viscosities as a band.

use super::layer_instability::{Fastest, Layer, Lid, fastest};
use super::mound;
use crate::trade::units::{
    Band, Density, Millimetres, NewtonsPerMetre, PascalSeconds, Seconds, Share,
};
use statrs::function::erf::erfc;

/// A layer's mound at its pour.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rung {
    /// The mound expected at the pour.
    pub mound: Seconds,
    /// Its sd: the reading's error and the thickening since.
    pub sd: Seconds,
}

/// One layer on another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Step {
    /// How much thinner the upper layer is than the lower; below zero, the order is wrong.
    pub gap: Seconds,
    /// The chance that the upper layer really is the thinner.
    pub holds: Share,
}

/// Why no ladder is given.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NoRung;

/// The ladder, from the bottom layer up: one step between each two neighbours.
///
/// # Errors
/// A mound or sd that is no number, or below zero.
pub fn ladder(from_bottom: &[Rung]) -> Result<Vec<Step>, NoRung> {
    let good = |x: f64| x.is_finite() && x >= 0.0;
    if !from_bottom.iter().all(|r| good(r.mound.0) && good(r.sd.0)) {
        return Err(NoRung);
    }
    Ok(from_bottom
        .windows(2)
        .map(|two| step(two[0], two[1]))
        .collect())
}

fn step(lower: Rung, upper: Rung) -> Step {
    let gap = lower.mound - upper.mound;
    let sd = lower.sd.0.hypot(upper.sd.0);
    let holds = if sd > 0.0 {
        0.5 * erfc(-gap.0 / sd / std::f64::consts::SQRT_2)
    } else {
        f64::from(u8::from(gap.0 > 0.0))
    };
    Step {
        gap,
        holds: Share(holds),
    }
}

/// A layer as poured.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Poured {
    /// Its wet thickness.
    pub thickness: Millimetres,
    /// Its density, if known.
    pub density: Option<Density>,
    /// Its mound.
    pub mound: Seconds,
}

/// What density does between two layers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Sinking {
    /// A density, thickness or mound is not known.
    Unknown,
    /// The upper layer is not the heavier: nothing sinks.
    Stable,
    /// The upper layer sinks into the lower in cells.
    Cells {
        /// How far apart the cells come.
        spacing: Band<Millimetres>,
        /// When they show: a disturbance has grown a hundredfold.
        shows_in: Band<Seconds>,
    },
}

/// What density does between an upper and a lower layer: a band over the mound's viscosities. What surface
/// tension and the activator do is not in it.
#[must_use]
pub fn sinking(upper: Poured, lower: Poured) -> Sinking {
    let (Some(over), Some(under)) = (upper.density, lower.density) else {
        return Sinking::Unknown;
    };
    let (Ok(thick_over), Ok(thick_under)) =
        (mound::viscosity(upper.mound), mound::viscosity(lower.mound))
    else {
        return Sinking::Unknown;
    };
    let good = |x: f64| x.is_finite() && x > 0.0;
    if ![over.0, under.0, upper.thickness.0, lower.thickness.0]
        .into_iter()
        .all(good)
    {
        return Sinking::Unknown;
    }
    let mode = |e1: PascalSeconds, e2: PascalSeconds| {
        let layer = |thickness, density, viscosity| Layer {
            thickness,
            density,
            viscosity,
        };
        let top = layer(upper.thickness, over, e1);
        fastest(
            top,
            layer(lower.thickness, under, e2),
            NewtonsPerMetre::ZERO,
            Lid::Free,
        )
    };
    let Some(middle) = mode(thick_over.mid, thick_under.mid) else {
        return Sinking::Stable;
    };
    let corners = [
        mode(thick_over.low, thick_under.low),
        mode(thick_over.low, thick_under.high),
        mode(thick_over.high, thick_under.low),
        mode(thick_over.high, thick_under.high),
    ];
    cells(middle, corners.into_iter().flatten())
}

fn cells(middle: Fastest, corners: impl Iterator<Item = Fastest>) -> Sinking {
    let mut spacing = Band::exactly(middle.wavelength);
    let mut shows_in = Band::exactly(middle.time_to_show());
    for corner in corners {
        spacing.low = spacing.low.min(corner.wavelength);
        spacing.high = spacing.high.max(corner.wavelength);
        shows_in.low = shows_in.low.min(corner.time_to_show());
        shows_in.high = shows_in.high.max(corner.time_to_show());
    }
    Sinking::Cells { spacing, shows_in }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const STOPWATCH: Seconds = Seconds(0.3);

    fn rung(mound: f64) -> Rung {
        Rung {
            mound: Seconds(mound),
            sd: STOPWATCH,
        }
    }

    fn poured(density: f64, mound: f64) -> Poured {
        Poured {
            thickness: Millimetres(1.0),
            density: Some(Density(density)),
            mound: Seconds(mound),
        }
    }

    /// Computed by hand: a gap of 0.3 sqrt 2 is one sd of the difference, Phi(1) = 0.8413.
    #[test]
    fn chance_of_the_order_is_normal_in_the_gap() {
        let steps = ladder(&[rung(4.0), rung(4.0 - 0.3 * 2_f64.sqrt()), rung(5.0)]).unwrap();
        assert!((steps[0].holds.0 - 0.8413).abs() < 1e-4);
        assert!(steps[1].gap.0 < 0.0 && steps[1].holds.0 < 0.5);
        assert_eq!(ladder(&[rung(f64::NAN), rung(1.0)]), Err(NoRung));
        assert!(ladder(&[rung(3.0)]).unwrap().is_empty());
    }

    #[test]
    fn which_paint_is_on_top_decides() {
        assert_eq!(sinking(poured(1.1, 2.0), poured(1.2, 3.0)), Sinking::Stable);
        let unknown = Poured {
            density: None,
            ..poured(1.2, 2.0)
        };
        assert_eq!(sinking(unknown, poured(1.1, 3.0)), Sinking::Unknown);
        assert_eq!(
            sinking(poured(1.2, 0.0), poured(1.1, 3.0)),
            Sinking::Unknown
        );
        let Sinking::Cells { spacing, shows_in } = sinking(poured(1.26, 3.0), poured(1.2, 3.0))
        else {
            panic!("heavy over light must be unstable");
        };
        // Equal layers of 1 mm: 3.0008 mm whatever the viscosity; the time goes with it, a factor of two each way.
        assert!((spacing.mid.0 - 3.0008).abs() < 1e-3);
        assert!(spacing.low < spacing.mid && spacing.mid < spacing.high);
        assert!((shows_in.high / shows_in.mid - 2.0).abs() < 1e-6);
        assert!((shows_in.mid / shows_in.low - 2.0).abs() < 1e-6);
    }

    proptest! {
        #[test]
        fn wider_gap_never_makes_the_order_less_sure(low in 0.5..9.0_f64, up in 0.5..9.0_f64, more in 0.0..3.0_f64) {
            let holds = |low| ladder(&[rung(low), rung(up)]).unwrap()[0].holds;
            prop_assert!(holds(low + more) >= holds(low));
        }
    }
}
