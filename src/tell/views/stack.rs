//! The ladder of a stack.

use super::{Telling, band, number};
use crate::studio::{StackLayer, StackSheet, StackStep, StackVerdict};
use crate::trade::life::State;
use crate::trade::recipe::LayerKind;
use crate::trade::units::{Density, Millimetres, Seconds, Share};
use schemars::JsonSchema;
use serde::Serialize;

/// A stack of cups as it would be poured, lowest first.
#[derive(Debug, Serialize, JsonSchema)]
pub struct StackView {
    layers: Vec<LayerView>,
    /// One between each two neighbours.
    steps: Vec<StepView>,
    /// `true` where the order holds or probably does; null where a mound is not known.
    in_order: Option<bool>,
    /// What is said of the order.
    verdict: Option<String>,
    /// What is wrong with the cups and the whole film.
    warnings: Vec<String>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct LayerView {
    mark: String,
    layer: LayerKind,
    state: State,
    mound_now_s: Option<[f64; 3]>,
    density: Option<f64>,
    film_mm: f64,
}

#[derive(Debug, Serialize, JsonSchema)]
struct StepView {
    /// The probability that the upper is the thinner.
    order_p: Option<f64>,
    heavy_over_light: Option<bool>,
    spacing_mm: Option<[f64; 3]>,
    shows_in_s: Option<[f64; 3]>,
    /// What would mend it, and what else is wrong.
    words: Vec<String>,
    /// What will happen.
    notes: Vec<String>,
}

impl StackView {
    /// A stack.
    #[must_use]
    pub fn of(sheet: &StackSheet, telling: &Telling<'_>) -> Self {
        let steps = sheet.steps.iter();
        Self {
            layers: sheet.layers.iter().map(LayerView::of).collect(),
            steps: steps.map(|step| StepView::of(step, telling)).collect(),
            in_order: match sheet.verdict() {
                Some(StackVerdict::Holds | StackVerdict::Probably(_)) => Some(true),
                Some(StackVerdict::Broken) => Some(false),
                Some(StackVerdict::Unknown) | None => None,
            },
            verdict: sheet.verdict().map(|verdict| telling.words(&verdict)),
            warnings: telling.all(&sheet.faults),
        }
    }
}

impl LayerView {
    fn of(layer: &StackLayer) -> Self {
        let cup = &layer.standing;
        let mound = cup.outlook.mound;
        Self {
            mark: cup.cup.mark.to_string(),
            layer: cup.recipe.layer,
            state: cup.state,
            mound_now_s: mound.map(|one| band(one.band.map(Seconds::get))),
            density: layer.density.map(Density::get),
            film_mm: number(layer.film.get()),
        }
    }
}

impl StepView {
    fn of(step: &StackStep, telling: &Telling<'_>) -> Self {
        let mut words = telling.all(&step.advice);
        words.extend(telling.all(&step.check.faults));
        Self {
            order_p: step.order_holds.map(Share::get),
            heavy_over_light: step.heavy_over_light,
            spacing_mm: step.spacing.map(|one| band(one.map(Millimetres::get))),
            shows_in_s: step.shows_in.map(|one| band(one.map(Seconds::get))),
            words,
            notes: telling.all(&step.check.notes),
        }
    }
}
