//! What a trial for a curve found: where it is best, and what the curve is.

use crate::numbers::statistics::curves::coded;
use crate::numbers::statistics::effects::{Analysis, ErrorSource};
use crate::numbers::statistics::factorial::{DesignError, PlannedRun};
use crate::numbers::statistics::proportion::Interval;
use crate::numbers::statistics::surface::{Surface, surface};

/// A place on the curve.
#[derive(Debug, Clone, PartialEq)]
pub struct Spot {
    /// The settings, -1 at the low and 1 at the high end.
    pub coded: Vec<f64>,
    /// The cells expected there.
    pub height: f64,
    /// With their 95 % interval, whichever place it is; none where nothing tells how far chance reaches.
    pub interval: Option<Interval>,
}

/// The curve through a trial's cells.
#[derive(Debug, Clone, PartialEq)]
pub struct TrialCurve {
    /// The curve itself.
    pub surface: Surface,
    /// The best place between the ends.
    pub best: Spot,
    /// Where it is flat; none where it does not bend.
    pub flat: Option<Spot>,
}

impl TrialCurve {
    /// The curve through the runs that were judged.
    pub(super) fn read(planned: &[PlannedRun], cells: &[Option<f64>]) -> Result<Self, DesignError> {
        let judged = planned.iter().zip(cells);
        let judged: Vec<(&PlannedRun, f64)> = judged
            .filter_map(|(run, cells)| Some((run, (*cells)?)))
            .collect();
        let place = |run: &PlannedRun| run.levels.iter().map(|one| coded(*one)).collect();
        let x: Vec<Vec<f64>> = judged.iter().map(|one| place(one.0)).collect();
        let days: Vec<u32> = judged.iter().map(|one| one.0.block).collect();
        let y: Vec<f64> = judged.iter().map(|one| one.1).collect();
        let surface = surface(&x, &days, &y).ok_or(DesignError::GivenUp)?;
        let spot = |coded: Vec<f64>| Spot::on(&surface, coded);
        Ok(Self {
            best: spot(surface.best()),
            flat: surface.flat.clone().map(spot),
            surface,
        })
    }

    /// Whether the place where it is flat lies between the ends.
    #[must_use]
    pub fn is_flat_inside(&self) -> bool {
        let inside = |spot: &Spot| spot.coded.iter().all(|at| at.abs() <= 1.0);
        self.flat.as_ref().is_some_and(inside)
    }

    /// Its terms as effects.
    pub(super) fn analysis(&self) -> Analysis {
        let left = self.surface.left;
        Analysis {
            effects: self.surface.effects(),
            error: left.map(|left| (left.error, left.freedom, ErrorSource::Left)),
            curvature: None,
        }
    }
}

impl Spot {
    fn on(surface: &Surface, coded: Vec<f64>) -> Self {
        Self {
            height: surface.at(&coded),
            interval: surface.range(&coded),
            coded,
        }
    }
}
