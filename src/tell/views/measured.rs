//! What `findings` answers of what was measured.

use super::{BasisView, FactorView, Telling, estimate};
use crate::studio::{MeasuredFindings, MeasuredVariant, OutcomeKind};
use crate::tell::findings;
use crate::trade::recipe::LayerKind;
use schemars::JsonSchema;
use serde::Serialize;

/// Pours by what was measured of them. Values are percent of the panel (`share`), mm (`diameter`), percent of variation
/// (`evenness`, less is evener) or cells to a square decimetre (`number`).
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct MeasuredFindingsView {
    /// From when; null without a beginning.
    pub from: Option<String>,
    /// Until when; null without an end.
    pub to: Option<String>,
    /// What was measured.
    pub outcome: OutcomeKind,
    /// Pours of which it was.
    pub pours: usize,
    /// As many lie above it as below.
    pub middle: Option<f64>,
    /// Every variant that was poured and measured, the surest good one first.
    pub variants: Vec<MeasuredVariantView>,
    /// The factors, the surest first; `good` counts the pours on the better side of the middle.
    pub factors: Vec<FactorView>,
    /// What the list rests on; null where it is too early.
    pub averaged: Option<BasisView>,
    /// Why it is too early; null where it is not.
    pub too_early_why: Option<String>,
    /// How far the painter's 0 to 5 goes with it; null under ten pours that have both.
    pub agreement: Option<AgreementView>,
}

/// How a variant did.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct MeasuredVariantView {
    /// The recipe's name.
    pub recipe: String,
    /// The variant's number.
    pub variant: i64,
    /// Where in the stack it goes.
    pub layer: LayerKind,
    /// Measured pours with it.
    pub pours: usize,
    /// The mean of their values.
    pub own_mean: f64,
    /// The mean that is believed: every variant of the layer leans on the others.
    pub mean: f64,
    /// One tenth of the belief lies below this.
    pub low10: f64,
    /// One tenth of the belief lies above this.
    pub high90: f64,
    /// Whether it was measured too seldom for its place to say much.
    pub too_early: bool,
    /// The numbers of those pours, newest first.
    pub behind: Vec<i64>,
}

/// How far two orders agree.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct AgreementView {
    /// Kendall's tau-b.
    pub tau_b: f64,
    /// Its 95 % interval.
    pub interval: [f64; 2],
    /// The pours that have both.
    pub pours: usize,
}

impl MeasuredFindingsView {
    /// All that was found.
    #[must_use]
    pub fn of(found: &MeasuredFindings, telling: &Telling<'_>) -> Self {
        let factor = |one| FactorView::of(one, found.outcome);
        Self {
            from: found.window.from.map(|at| telling.stamp(at)),
            to: found.window.to.map(|at| telling.stamp(at)),
            outcome: found.outcome,
            pours: found.pours,
            middle: found.middle.map(estimate),
            variants: found.variants.iter().map(MeasuredVariantView::of).collect(),
            factors: found.factors.iter().map(factor).collect(),
            averaged: found.basis.ok().map(BasisView::from),
            too_early_why: found.basis.err().map(findings::too_early),
            agreement: found.agreement.map(|one| AgreementView {
                tau_b: estimate(one.tau),
                interval: [estimate(one.interval.low), estimate(one.interval.high)],
                pours: one.pairs,
            }),
        }
    }
}

impl MeasuredVariantView {
    fn of(one: &MeasuredVariant) -> Self {
        Self {
            recipe: one.recipe.clone(),
            variant: one.variant,
            layer: one.layer,
            pours: one.behind.len(),
            own_mean: estimate(one.believed.own),
            mean: estimate(one.believed.mean),
            low10: estimate(one.believed.low10),
            high90: estimate(one.believed.high90),
            too_early: one.is_early(),
            behind: one.behind.clone(),
        }
    }
}
