//! What worked in a window of time, and why: variants, factors, drift, what to try next.

use super::{FactorsView, Telling};
use crate::numbers::statistics::findings::Finding;
use crate::numbers::statistics::pair::{Cell, Pair};
use crate::numbers::statistics::proportion::Tally;
use crate::studio::{
    Drift, DriftPeriod, Findings, Posterior, Reasons, Suggestion, SuggestionKind, VariantTally,
    levels,
};
use crate::tell;
use crate::trade::recipe::LayerKind;
use schemars::JsonSchema;
use serde::Serialize;

/// What worked.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct FindingsView {
    /// From when; null without a beginning.
    from: Option<String>,
    /// Until when; null without an end.
    to: Option<String>,
    /// From how many cells on a pour counts as good.
    bar: u8,
    pours: usize,
    good: usize,
    variants: Vec<VariantTallyView>,
    drift: Vec<PeriodView>,
    trend: TrendView,
    next: Vec<SuggestionView>,
    #[serde(flatten)]
    factors: FactorsView,
    too_early: bool,
    /// The levels of the one factor that was asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    by: Option<LevelsView>,
    /// The two factors that were asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pair: Option<PairView>,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
struct VariantTallyView {
    recipe: String,
    variant: i64,
    pours: usize,
    good: usize,
    rate: f64,
    layer: LayerKind,
    /// The 95 % interval by Wilson.
    wilson: [f64; 2],
    posterior: PosteriorView,
    too_early: bool,
    /// The numbers of those pours, newest first.
    behind: Vec<i64>,
}

/// What is believed of a share.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct PosteriorView {
    mean: f64,
    /// One tenth of the belief lies below this.
    low10: f64,
    /// One tenth of the belief lies above this.
    high90: f64,
}

/// How some pours came out.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct TallyView {
    pours: u32,
    good: u32,
    rate: Option<f64>,
    wilson: [f64; 2],
    posterior: Option<PosteriorView>,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
struct PeriodView {
    from: String,
    to: String,
    pours: u32,
    good: u32,
    wilson: [f64; 2],
    behind: Vec<i64>,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
struct TrendView {
    method: &'static str,
    value: Option<f64>,
    p: Option<f64>,
    words: String,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
struct SuggestionView {
    recipe: String,
    variant: i64,
    kind: SuggestionKind,
    why: String,
    pours: usize,
    good: usize,
    p_best: f64,
    loss: f64,
    loss_if_wrong: Option<f64>,
    upper: f64,
}

/// One factor's levels, the surest first.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct LevelsView {
    factor: String,
    n: usize,
    missing: usize,
    levels: Vec<LevelView>,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
struct LevelView {
    level: String,
    #[serde(flatten)]
    tally: TallyView,
}

/// Two factors in a table.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct PairView {
    factors: [String; 2],
    n: usize,
    missing: usize,
    cells: Vec<PairCellView>,
    too_early: bool,
    words: String,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
struct PairCellView {
    sides: [Option<String>; 2],
    #[serde(flatten)]
    tally: TallyView,
    behind: Vec<i64>,
}

impl FindingsView {
    /// What was found; of one factor, or of two, where those were asked for.
    #[must_use]
    pub fn of(
        found: &Findings,
        reasons: &Reasons,
        by: Option<&Finding>,
        pair: Option<&Pair>,
        telling: &Telling<'_>,
    ) -> Self {
        let periods = reasons.drift.periods.iter();
        Self {
            from: found.window.from.map(|at| telling.stamp(at)),
            to: found.window.to.map(|at| telling.stamp(at)),
            bar: found.bar,
            pours: found.pours,
            good: found.good,
            variants: found.variants.iter().map(VariantTallyView::of).collect(),
            drift: periods.map(|one| PeriodView::of(one, telling)).collect(),
            trend: TrendView::of(&reasons.drift),
            next: reasons.next.iter().map(SuggestionView::of).collect(),
            factors: FactorsView::of(reasons),
            too_early: found.too_early,
            by: by.map(LevelsView::of),
            pair: pair.map(|pair| PairView::of(pair, reasons)),
        }
    }
}

impl VariantTallyView {
    fn of(one: &VariantTally) -> Self {
        Self {
            recipe: one.recipe.clone(),
            variant: one.variant,
            pours: one.pours,
            good: one.good,
            rate: one.rate,
            layer: one.layer,
            wilson: [one.wilson.0, one.wilson.1],
            posterior: PosteriorView::of(one.posterior),
            too_early: one.is_early(),
            behind: one.behind.clone(),
        }
    }
}

impl PosteriorView {
    const fn of(one: Posterior) -> Self {
        Self {
            mean: one.mean,
            low10: one.low10,
            high90: one.high90,
        }
    }
}

impl TallyView {
    fn of(tally: Tally, believed: Option<Posterior>) -> Self {
        let wilson = tally.wilson();
        Self {
            pours: tally.pours,
            good: tally.good,
            rate: tally.share(),
            wilson: [wilson.low, wilson.high],
            posterior: believed.map(PosteriorView::of),
        }
    }
}

impl PeriodView {
    fn of(one: &DriftPeriod, telling: &Telling<'_>) -> Self {
        let wilson = one.tally.wilson();
        Self {
            from: telling.stamp(one.from),
            to: telling.stamp(one.to),
            pours: one.tally.pours,
            good: one.tally.good,
            wilson: [wilson.low, wilson.high],
            behind: one.behind.clone(),
        }
    }
}

impl TrendView {
    fn of(drift: &Drift) -> Self {
        Self {
            method: "spearman",
            value: drift.trend.map(|trend| trend.value),
            p: drift.trend.map(|trend| trend.p),
            words: tell::drift::words(drift.verdict),
        }
    }
}

impl SuggestionView {
    fn of(one: &Suggestion) -> Self {
        Self {
            recipe: one.recipe.clone(),
            variant: one.variant,
            kind: one.kind,
            why: tell::next::why(one),
            pours: one.pours,
            good: one.good,
            p_best: one.chance_of_best,
            loss: one.loss,
            loss_if_wrong: one.loss_if_wrong,
            upper: one.upper,
        }
    }
}

impl LevelsView {
    fn of(finding: &Finding) -> Self {
        let levels = levels(finding).into_iter();
        let level = levels.map(|one| LevelView {
            tally: TallyView::of(one.tally, Some(one.posterior)),
            level: tell::findings::side(&one.which),
        });
        Self {
            factor: finding.name.clone(),
            n: finding.n,
            missing: finding.sides.missing.len(),
            levels: level.collect(),
        }
    }
}

impl PairView {
    fn of(pair: &Pair, reasons: &Reasons) -> Self {
        let cell = |cell: &Cell| PairCellView {
            sides: [
                pair.down.get(cell.down).map(tell::findings::side),
                pair.across.get(cell.across).map(tell::findings::side),
            ],
            tally: TallyView::of(cell.tally, cell.standing.map(Posterior::from)),
            behind: reasons.numbers(&cell.rows),
        };
        Self {
            factors: pair.names.clone(),
            n: pair.pours(),
            missing: pair.lacking,
            cells: pair.cells.iter().map(cell).collect(),
            too_early: pair.too_early(),
            words: tell::pair::words(pair),
        }
    }
}
