//! What a trial for a curve found: where it is best, what the curve is, and in words how sure that is.

use crate::numbers::statistics::curves::coded;
use crate::numbers::statistics::effects::{Analysis, ErrorSource};
use crate::numbers::statistics::factorial::{DesignError, PlannedRun};
use crate::numbers::statistics::proportion::Interval;
use crate::numbers::statistics::surface::{Kind, Surface, surface};
use crate::studio::trials::trial::TrialPage;
use crate::trade::trial::TrialFactor;

/// A place on the curve.
#[derive(Debug, Clone, PartialEq)]
pub struct Spot {
    /// The settings, -1 at the low and 1 at the high end.
    pub coded: Vec<f64>,
    /// The settings in the painter's words.
    pub settings: Vec<String>,
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
    pub(super) fn read(
        page: &TrialPage,
        planned: &[PlannedRun],
        cells: &[Option<f64>],
    ) -> Result<Self, DesignError> {
        let judged = planned.iter().zip(cells);
        let judged: Vec<(&PlannedRun, f64)> = judged
            .filter_map(|(run, cells)| Some((run, (*cells)?)))
            .collect();
        let place = |run: &PlannedRun| run.levels.iter().map(|one| coded(*one)).collect();
        let x: Vec<Vec<f64>> = judged.iter().map(|one| place(one.0)).collect();
        let days: Vec<u32> = judged.iter().map(|one| one.0.block).collect();
        let y: Vec<f64> = judged.iter().map(|one| one.1).collect();
        let surface = surface(&x, &days, &y).ok_or(DesignError::GivenUp)?;
        let spot = |coded: Vec<f64>| Spot::on(&surface, coded, &page.factors);
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

    /// The best place, or why none can be told.
    pub(super) fn words(&self, factors: &[TrialFactor]) -> String {
        let Some(left) = self.surface.left else {
            return "too early to tell: nothing shows how far chance reaches; repeat runs or add \
                    centre runs"
                .to_owned();
        };
        if !self.surface.is_clear() {
            let p = 100.0 * left.p;
            return format!(
                "too early to tell: settings that do nothing look like this {p:.0} times in 100"
            );
        }
        let best = self.best.words(factors);
        format!("best between the ends: {best}")
    }

    /// What the curve is, where it stands clear of chance.
    pub(super) fn kind_words(&self, factors: &[TrialFactor]) -> Option<String> {
        let flat = self.flat.as_ref().filter(|_| self.surface.is_clear())?;
        let place = flat.places(factors);
        let inside = self.is_flat_inside();
        Some(match (self.surface.kind, inside) {
            (Kind::Top, true) => format!("a top: it falls off on every side of {place}"),
            (Kind::Top, false) => {
                "its top lies beyond what was tried: the best is at an end".to_owned()
            }
            (Kind::Bottom, true) => format!("a bottom: it rises on every side of {place}"),
            (Kind::Bottom, false) => "it bends upward: the best is at an end".to_owned(),
            (Kind::Saddle, _) => "a saddle: it bends up one way and down another".to_owned(),
            (Kind::Ridge, _) => format!(
                "along {} no bend can be told: settings along it may be as good",
                self.levels_out(factors)
            ),
        })
    }

    /// What is varied most along the axis that bends least.
    fn levels_out(&self, factors: &[TrialFactor]) -> String {
        let axes = self.surface.axes.iter();
        let least = axes.min_by(|a, b| a.bend.abs().total_cmp(&b.bend.abs()));
        let along = least.map_or(&[][..], |axis| &axis.along);
        let most = along.iter().fold(0.0, |most: f64, one| most.max(one.abs()));
        let named = factors.iter().zip(along);
        let named = named.filter(|(_, share)| share.abs() > 0.5 * most);
        let names: Vec<&str> = named.map(|(factor, _)| factor.name.as_str()).collect();
        names.join(" and ")
    }
}

impl Spot {
    fn on(surface: &Surface, coded: Vec<f64>, factors: &[TrialFactor]) -> Self {
        let settings = factors.iter().zip(&coded);
        Self {
            settings: settings.map(|(factor, at)| setting(factor, *at)).collect(),
            height: surface.at(&coded),
            interval: surface.range(&coded),
            coded,
        }
    }

    /// `rest 18 h, share 7.5%`.
    fn places(&self, factors: &[TrialFactor]) -> String {
        let both = factors.iter().zip(&self.settings);
        let each: Vec<String> = both
            .map(|(factor, setting)| format!("{} {setting}", factor.name))
            .collect();
        each.join(", ")
    }

    /// `rest 18 h, share 7.5%: expect 3.9 cells (3.1 to 4.7)`; no more than cells can be.
    fn words(&self, factors: &[TrialFactor]) -> String {
        let cells = |value: f64| format!("{:.1}", value.clamp(0.0, 5.0));
        let sure = self.interval.map(|sure| {
            let (low, high) = (cells(sure.low), cells(sure.high));
            format!(" ({low} to {high})")
        });
        let (place, height) = (self.places(factors), cells(self.height));
        format!("{place}: expect {height} cells{}", sure.unwrap_or_default())
    }
}

/// A setting in the painter's words, or how far it lies from the low end.
fn setting(factor: &TrialFactor, coded: f64) -> String {
    factor.between(coded).unwrap_or_else(|| {
        let share = 50.0 * (coded + 1.0);
        format!(
            "{share:.0} % of the way from {} to {}",
            factor.low, factor.high
        )
    })
}
