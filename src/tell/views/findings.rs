//! What went with good pours, as JSON.

use crate::numbers::statistics::averaging::{Effect, Step};
use crate::numbers::statistics::findings::{Basis, FactorKind, Finding, Standing};
use crate::studio::{OutcomeKind, Reasons};
use crate::tell::findings;
use schemars::JsonSchema;
use serde::Serialize;

/// All factors, and what they rest on.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct FactorsView {
    /// What they are held against: `good`, `cells`, `share`, `diameter`, `evenness` or `number`.
    pub outcome: String,
    /// The factors, the surest first.
    pub factors: Vec<FactorView>,
    /// What the list rests on; none where it is too early.
    pub averaged: Option<BasisView>,
    /// Why it is too early; none where it is not.
    pub too_early_why: Option<String>,
}

/// What the list rests on.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct BasisView {
    /// The pours.
    pub pours: usize,
    /// The sessions they were poured in.
    pub sessions: usize,
    /// The models that were weighed.
    pub models: usize,
}

/// One factor.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct FactorView {
    /// Its name.
    pub factor: String,
    /// `number` or `word`.
    pub kind: String,
    /// Pours on which it is written down.
    pub n: usize,
    /// Pours on which it is not.
    pub missing: usize,
    /// Its sides.
    pub sides: Vec<SideView>,
    /// The chance that it matters; none where it was not weighed.
    pub inclusion: Option<f64>,
    /// Those that cannot be told from it.
    pub twins: Vec<String>,
    /// What it does; none where it was not weighed.
    pub effect: Option<EffectView>,
    /// The same in a sentence.
    pub words: String,
}

/// One side of a factor.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct SideView {
    /// Its name.
    pub side: String,
    /// Its pours.
    pub pours: u32,
    /// The good ones.
    pub good: u32,
}

/// What a factor does, averaged over all models.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct EffectView {
    /// So much more of it, in its unit; none for words.
    pub step: Option<f64>,
    /// This word instead of that; none for numbers.
    pub words: Option<[String; 2]>,
    /// The odds ratio of a good pour.
    pub odds_ratio: Option<f64>,
    /// The difference in the painter's cells.
    pub cells: Option<f64>,
    /// The difference in what was measured: percent of the panel, mm, percent of variation, cells to a square decimetre.
    pub measured: Option<f64>,
    /// The 95 % interval of either.
    pub interval: [f64; 2],
    /// The difference in the share of good pours, in cells or in what was measured.
    pub strength: f64,
}

impl FactorsView {
    /// All that the reasons hold.
    #[must_use]
    pub fn of(reasons: &Reasons) -> Self {
        let factor = |one: &Finding| FactorView::of(one, reasons.outcome);
        Self {
            outcome: reasons.outcome.word().to_owned(),
            factors: reasons.factors.iter().map(factor).collect(),
            averaged: reasons.basis.ok().map(BasisView::from),
            too_early_why: reasons.basis.err().map(findings::too_early),
        }
    }
}

impl From<Basis> for BasisView {
    fn from(basis: Basis) -> Self {
        Self {
            pours: basis.pours,
            sessions: basis.sessions,
            models: basis.models,
        }
    }
}

impl FactorView {
    pub(super) fn of(one: &Finding, outcome: OutcomeKind) -> Self {
        let side = |side: &crate::numbers::statistics::sides::Side| SideView {
            side: findings::side(&side.which),
            pours: side.tally.pours,
            good: side.tally.good,
        };
        let (effect, twins) = match &one.standing {
            Standing::Weighed { effect, twins, .. } => {
                (Some(EffectView::of(effect, outcome)), twins.clone())
            }
            _ => (None, Vec::new()),
        };
        Self {
            factor: one.name.clone(),
            kind: match one.kind {
                FactorKind::Number => "number",
                FactorKind::Word => "word",
            }
            .to_owned(),
            n: one.n,
            missing: one.sides.missing.len(),
            sides: one.sides.each.iter().map(side).collect(),
            inclusion: one.inclusion(),
            twins,
            effect,
            words: findings::factor(one, outcome),
        }
    }
}

impl EffectView {
    fn of(effect: &Effect, outcome: OutcomeKind) -> Self {
        let (step, words) = match &effect.step {
            Step::More(more) => (Some(*more), None),
            Step::Instead(this, that) => (None, Some([this, that].map(findings::choice))),
        };
        let is_good = outcome == OutcomeKind::Good;
        Self {
            step,
            words,
            odds_ratio: is_good.then_some(effect.value),
            cells: (outcome == OutcomeKind::Cells).then_some(effect.value),
            measured: outcome.is_measured().then_some(effect.value),
            interval: [effect.interval.low, effect.interval.high],
            strength: effect.strength,
        }
    }
}
