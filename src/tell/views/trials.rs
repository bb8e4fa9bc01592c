//! Trials, their runs, and what they found.

use super::{Telling, number};
use crate::numbers::statistics::effects::{Analysis, Effect, ErrorSource};
use crate::numbers::statistics::factorial::Resolution;
use crate::numbers::statistics::proportion::Interval;
use crate::numbers::statistics::surface::{Axis, Kind};
use crate::studio::orders::TrialField;
use crate::studio::{RunDone, Spot, TrialCurve, TrialFindings, TrialLine, TrialPage, stands_clear};
use crate::tell::views::Remarked;
use crate::tell::{curves, trials};
use crate::trade::trial::{Level, TrialFactor};
use schemars::JsonSchema;
use serde::Serialize;

/// What is varied.
#[derive(Debug, Serialize, JsonSchema)]
pub struct TrialFactorView {
    name: String,
    low: String,
    high: String,
}

/// One run.
#[derive(Debug, Serialize, JsonSchema)]
pub struct RunView {
    run: usize,
    /// The day it belongs to, from 1.
    block: u32,
    /// `low`, `middle` or `high`, one a factor; null where they are hidden.
    levels: Option<Vec<&'static str>>,
    settings: Option<Vec<String>>,
    pour: Option<i64>,
    cells: Option<u8>,
    /// Why it was given up.
    given_up: Option<String>,
}

impl RunView {
    fn of(run: &TrialLine, page: &TrialPage) -> Self {
        let levels = run.levels.as_ref();
        Self {
            run: run.run,
            block: run.block,
            levels: levels.map(|all| all.iter().map(|one| level(*one)).collect()),
            settings: page.settings(run),
            pour: run.pour,
            cells: run.cells,
            given_up: run.given_up.clone(),
        }
    }
}

const fn level(level: Level) -> &'static str {
    match level {
        Level::Low => "low",
        Level::Middle => "middle",
        Level::High => "high",
    }
}

/// A trial as it stands.
#[derive(Debug, Serialize, JsonSchema)]
pub struct TrialView {
    trial: i64,
    at: String,
    seed: u64,
    blind: bool,
    note: Option<String>,
    factors: Vec<TrialFactorView>,
    /// The layout that a curve is read from: `face-centred` or `edge-middles`.
    curve: Option<&'static str>,
    resolution: Option<&'static str>,
    generators: Vec<String>,
    /// What cannot be told apart.
    aliases: Vec<String>,
    runs: Vec<RunView>,
    done: usize,
    judged: usize,
    given_up: usize,
    /// The run that is to be poured next.
    next: Option<usize>,
}

impl TrialView {
    /// A trial.
    #[must_use]
    pub fn of(page: &TrialPage, telling: &Telling<'_>) -> Self {
        let factors = page.factors.iter().map(|one| TrialFactorView {
            name: one.name.clone(),
            low: one.low.clone(),
            high: one.high.clone(),
        });
        Self {
            trial: page.id,
            at: telling.stamp(page.at),
            seed: page.seed,
            blind: page.blind,
            note: page.note.clone(),
            factors: factors.collect(),
            curve: page.curve.map(TrialField::curve),
            resolution: page.resolution.map(Resolution::written),
            generators: trials::generators(page),
            aliases: trials::aliases(page),
            runs: page.runs.iter().map(|run| RunView::of(run, page)).collect(),
            done: page.done(),
            judged: page.judged(),
            given_up: page.given_up(),
            next: page.next(),
        }
    }
}

/// The trials.
#[derive(Debug, Serialize, JsonSchema)]
pub struct TrialsView {
    trials: Vec<TrialView>,
}

impl TrialsView {
    /// Every trial.
    #[must_use]
    pub fn of(pages: &[TrialPage], telling: &Telling<'_>) -> Self {
        let trials = pages.iter().map(|page| TrialView::of(page, telling));
        Self {
            trials: trials.collect(),
        }
    }
}

/// A run that was just done or given up, and its trial.
#[derive(Debug, Serialize, JsonSchema)]
pub struct RunDoneView {
    #[serde(flatten)]
    trial: TrialView,
    run: usize,
    #[serde(flatten)]
    remarks: Remarked,
}

impl RunDoneView {
    /// A run and what is said of it.
    #[must_use]
    pub fn of(done: &RunDone, telling: &Telling<'_>) -> Self {
        Self {
            trial: TrialView::of(&done.page, telling),
            run: done.run,
            remarks: Remarked::of(&done.remarks, telling.measures, telling.now),
        }
    }
}

/// From the one to the other, 95 in 100.
type IntervalView = [f64; 2];

fn interval(sure: Interval) -> IntervalView {
    [number(sure.low), number(sure.high)]
}

/// One effect, in cells.
#[derive(Debug, Serialize, JsonSchema)]
pub struct TrialEffectView {
    effect: String,
    factors: Vec<String>,
    value: f64,
    interval: Option<IntervalView>,
    clear: bool,
    /// What cannot be told from it.
    aliases: Vec<Vec<String>>,
    /// Whether it may as well be the day.
    with_blocks: bool,
    words: String,
}

impl TrialEffectView {
    fn of(effect: &Effect, names: &[&str], page: &TrialPage) -> Self {
        let aliases = effect.aliases.iter().map(|one| named(one, names));
        Self {
            effect: named(&effect.factors, names).join(" x "),
            factors: named(&effect.factors, names),
            value: number(effect.value),
            interval: effect.interval.map(interval),
            clear: stands_clear(effect),
            aliases: aliases.collect(),
            with_blocks: effect.with_blocks,
            words: trials::effect(effect, &page.factors),
        }
    }
}

fn named(factors: &[usize], names: &[&str]) -> Vec<String> {
    let called = factors.iter().filter_map(|place| names.get(*place));
    called.map(|name| (*name).to_owned()).collect()
}

/// By how much chance errs.
#[derive(Debug, Serialize, JsonSchema)]
pub struct TrialErrorView {
    standard_error: f64,
    degrees_of_freedom: f64,
    /// `repeats`, `lenth`, `pooled` or `curve`.
    from: &'static str,
}

impl TrialErrorView {
    fn of(analysis: &Analysis) -> Option<Self> {
        let (error, freedom, from) = analysis.error?;
        Some(Self {
            standard_error: number(error),
            degrees_of_freedom: number(freedom),
            from: match from {
                ErrorSource::Repeats => "repeats",
                ErrorSource::Lenth => "lenth",
                ErrorSource::Pooled => "pooled",
                ErrorSource::Left => "curve",
            },
        })
    }
}

/// How far the middle lies from halfway between the ends.
#[derive(Debug, Serialize, JsonSchema)]
pub struct CurvatureView {
    value: f64,
    interval: Option<IntervalView>,
}

/// A place between the ends.
#[derive(Debug, Serialize, JsonSchema)]
pub struct SpotView {
    /// -1 at the low and 1 at the high end, one a factor.
    coded: Vec<f64>,
    settings: Vec<String>,
    cells: f64,
    interval: Option<IntervalView>,
}

impl SpotView {
    fn of(spot: &Spot, factors: &[TrialFactor]) -> Self {
        Self {
            coded: numbers(&spot.coded),
            settings: curves::settings(spot, factors),
            cells: number(spot.height),
            interval: spot.interval.map(interval),
        }
    }
}

fn numbers(values: &[f64]) -> Vec<f64> {
    values.iter().map(|value| number(*value)).collect()
}

/// One direction in which a curve bends.
#[derive(Debug, Serialize, JsonSchema)]
pub struct AxisView {
    bend: f64,
    interval: Option<IntervalView>,
    along: Vec<f64>,
}

impl AxisView {
    fn of(axis: &Axis) -> Self {
        Self {
            bend: number(axis.bend),
            interval: axis.interval.map(interval),
            along: numbers(&axis.along),
        }
    }
}

/// The curve that a trial was laid out for.
#[derive(Debug, Serialize, JsonSchema)]
pub struct SurfaceView {
    p: Option<f64>,
    clear: bool,
    /// `top`, `bottom`, `saddle` or `ridge`.
    kind: &'static str,
    centre: f64,
    best: SpotView,
    /// Null where it does not bend.
    flat: Option<SpotView>,
    flat_inside: bool,
    axes: Vec<AxisView>,
}

impl SurfaceView {
    fn of(curve: &TrialCurve, factors: &[TrialFactor]) -> Self {
        let spot = |one: &Spot| SpotView::of(one, factors);
        let surface = &curve.surface;
        Self {
            p: surface.left.map(|left| number(left.p)),
            clear: surface.is_clear(),
            kind: match surface.kind {
                Kind::Top => "top",
                Kind::Bottom => "bottom",
                Kind::Saddle => "saddle",
                Kind::Ridge => "ridge",
            },
            centre: number(surface.centre),
            best: spot(&curve.best),
            flat: curve.flat.as_ref().map(spot),
            flat_inside: curve.is_flat_inside(),
            axes: surface.axes.iter().map(AxisView::of).collect(),
        }
    }
}

/// What a trial found, and the trial.
#[derive(Debug, Serialize, JsonSchema)]
pub struct TrialFindingsView {
    #[serde(flatten)]
    trial: TrialView,
    too_early: bool,
    words: Vec<String>,
    resolution_words: Option<&'static str>,
    effects: Vec<TrialEffectView>,
    /// What was taken as nothing because runs were given up.
    dropped: Vec<Vec<String>>,
    error: Option<TrialErrorView>,
    surface: Option<SurfaceView>,
    curvature: Option<CurvatureView>,
}

impl TrialFindingsView {
    /// What a trial found.
    #[must_use]
    pub fn of(found: &TrialFindings, telling: &Telling<'_>) -> Self {
        let (names, analysis) = (found.names(), found.analysis.as_ref());
        let effects = analysis.iter().flat_map(|all| &all.effects);
        let curvature = analysis.and_then(|all| all.curvature);
        let curve = found.curve.as_ref();
        Self {
            trial: TrialView::of(&found.page, telling),
            too_early: analysis.is_none(),
            words: [trials::words(found), trials::notes(found)].concat(),
            resolution_words: trials::resolution(&found.page),
            effects: effects
                .map(|one| TrialEffectView::of(one, &names, &found.page))
                .collect(),
            dropped: found.dropped.iter().map(|one| named(one, &names)).collect(),
            error: analysis.and_then(TrialErrorView::of),
            surface: curve.map(|curve| SurfaceView::of(curve, &found.page.factors)),
            curvature: curvature.map(|(value, sure)| CurvatureView {
                value: number(value),
                interval: sure.map(interval),
            }),
        }
    }
}
