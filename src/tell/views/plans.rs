//! Plans, what things cost, and the cautions.

use super::pours::{MoveView, moves};
use super::{Telling, cents, ml, number};
use crate::studio::{Basis, Cost, Deed, PlanLayer, PlanPage, PlanSheet, Repeat};
use crate::tell;
use crate::trade::caution::{Caution, Place};
use crate::trade::life::State;
use crate::trade::recipe::LayerKind;
use crate::trade::units::Backing;
use schemars::JsonSchema;
use serde::Serialize;

/// One part of a planned cup.
#[derive(Debug, Serialize, JsonSchema)]
pub struct PlanPartView {
    name: String,
    ml: f64,
    g: Option<f64>,
    cost: Option<f64>,
}

/// One layer of a plan.
#[derive(Debug, Serialize, JsonSchema)]
pub struct PlanLayerView {
    layer: LayerKind,
    recipe: String,
    variant: i64,
    ml: f64,
    cups: u32,
    /// Of what is mixed.
    parts: Vec<PlanPartView>,
    /// The mark of the cup that stands for it already; null where it is mixed.
    standing: Option<String>,
}

impl PlanLayerView {
    fn of(layer: &PlanLayer) -> Self {
        let parts = layer.parts.iter().map(|part| PlanPartView {
            name: part.name.clone(),
            ml: ml(part.ml),
            g: part.g.map(|g| number(g.get())),
            cost: part.cost.and_then(cents),
        });
        Self {
            layer: layer.recipe.layer,
            recipe: layer.recipe.name.clone(),
            variant: layer.variant.number,
            ml: ml(layer.ml),
            cups: layer.cups,
            parts: parts.collect(),
            standing: layer.standing.as_ref().map(|one| one.mark.to_string()),
        }
    }
}

/// A material of which the shelf holds too little.
#[derive(Debug, Serialize, JsonSchema)]
pub struct LackView {
    name: String,
    /// What is short.
    ml: f64,
    needed_ml: f64,
    left_ml: f64,
}

/// One step of a day.
#[derive(Debug, Serialize, JsonSchema)]
pub struct StepView {
    at: String,
    #[serde(rename = "do")]
    deed: Deed,
    /// Null for the pour.
    cup: Option<String>,
}

/// A plan worked out.
#[derive(Debug, Serialize, JsonSchema)]
pub struct PlanView {
    area_cm2: f64,
    film_mm: f64,
    /// From the one to the other.
    film_band_mm: [f64; 2],
    from: Backing,
    /// How many of the studio's own pours film and split rest on.
    pours: usize,
    /// The trade's word whose split is taken.
    technique: Option<&'static str>,
    total_ml: f64,
    layers: Vec<PlanLayerView>,
    lacks: Vec<LackView>,
    pour_at: String,
    schedule: Vec<StepView>,
    /// Null where a price or a pack is not known.
    cost: Option<f64>,
    warnings: Vec<String>,
    /// What of it stands ready in bottles, and what is taken from the shelf.
    notes: Vec<String>,
    /// Its number, where it was kept.
    plan: Option<i64>,
    note: Option<String>,
    /// The picture that it makes once more; null in any other plan.
    repeat: Option<RepeatView>,
}

impl PlanView {
    /// A plan worked out, and its number where it was kept.
    #[must_use]
    pub fn of(sheet: &PlanSheet, kept: Option<i64>, telling: &Telling<'_>) -> Self {
        let (from, pours, technique) = match sheet.basis {
            Basis::Yours(pours) => (Backing::Yours, pours, None),
            Basis::Practice(word) => (Backing::Practice, 0, word),
            Basis::Kept => (Backing::Practice, 0, None),
            Basis::Repeats(_) => (Backing::Yours, 1, None),
        };
        let film = sheet.film;
        Self {
            area_cm2: number(sheet.area.get() / 100.0),
            film_mm: number(film.mid.get()),
            film_band_mm: [film.low, film.high].map(|one| number(one.get())),
            from,
            pours,
            technique,
            total_ml: ml(sheet.total),
            layers: sheet.layers.iter().map(PlanLayerView::of).collect(),
            lacks: lacks(sheet),
            pour_at: telling.stamp(sheet.pour_at),
            schedule: schedule(sheet, telling),
            cost: sheet.cost.and_then(cents),
            warnings: telling.all(&sheet.warnings),
            notes: telling.all(&sheet.notes),
            plan: kept,
            note: sheet.note.clone(),
            repeat: sheet
                .repeat
                .as_ref()
                .map(|one| RepeatView::of(one, telling)),
        }
    }
}

/// A picture that is made once more.
#[derive(Debug, Serialize, JsonSchema)]
pub struct RepeatView {
    /// The pour that made it.
    pour: i64,
    /// What is poured, lowest first.
    layers: Vec<RepeatLayerView>,
    /// What was done with the panel, in order.
    moves: Vec<MoveView>,
    /// What would differ today, in words.
    differs: Vec<String>,
}

/// A layer that is poured once more.
#[derive(Debug, Serialize, JsonSchema)]
pub struct RepeatLayerView {
    recipe: String,
    variant: i64,
    ml: f64,
    /// What was poured then.
    was_ml: f64,
    /// What its cup was then.
    was: State,
    mound_s: Option<f64>,
    stood_h: f64,
    /// The thinner that went in after mixing, as a share of the cup.
    thinned: f64,
}

impl RepeatView {
    fn of(repeat: &Repeat, telling: &Telling<'_>) -> Self {
        let layers = repeat.layers.iter().map(|layer| RepeatLayerView {
            recipe: layer.variant.recipe.clone(),
            variant: layer.variant.number,
            ml: ml(layer.ml),
            was_ml: ml(layer.was_ml),
            was: layer.state,
            mound_s: layer.mound.map(|mound| number(mound.get())),
            stood_h: number(layer.stood.get()),
            thinned: number(layer.thinned.get()),
        });
        Self {
            pour: repeat.pour,
            layers: layers.collect(),
            moves: moves(&repeat.moves, telling),
            differs: telling.all(&repeat.differs),
        }
    }
}

fn lacks(sheet: &PlanSheet) -> Vec<LackView> {
    let lacks = sheet.lacks.iter().map(|lack| LackView {
        name: lack.name.clone(),
        ml: ml(lack.needed - lack.left),
        needed_ml: ml(lack.needed),
        left_ml: ml(lack.left),
    });
    lacks.collect()
}

fn schedule(sheet: &PlanSheet, telling: &Telling<'_>) -> Vec<StepView> {
    let steps = sheet.schedule.iter().map(|step| StepView {
        at: telling.stamp(step.at),
        deed: step.deed,
        cup: step.cup.as_ref().map(ToString::to_string),
    });
    steps.collect()
}

/// One cup of a kept plan beside what happened.
#[derive(Debug, Serialize, JsonSchema)]
pub struct PlannedCupView {
    variant: String,
    /// The number of its recipe's newest variant, where that is another one by now.
    newer_variant: Option<i64>,
    planned_ml: f64,
    mark: Option<String>,
    mixed_ml: Option<f64>,
    poured_ml: Option<f64>,
    /// Whether the cup went elsewhere, so that it is to be mixed anew.
    gone: bool,
}

/// A kept plan beside what happened.
#[derive(Debug, Serialize, JsonSchema)]
pub struct KeptPlanView {
    plan: i64,
    at: String,
    panel: String,
    count: u32,
    pour_at: Option<String>,
    cups: Vec<PlannedCupView>,
    note: Option<String>,
    /// The pour that it makes once more.
    repeats: Option<i64>,
}

impl KeptPlanView {
    fn of(page: &PlanPage, telling: &Telling<'_>) -> Self {
        let cups = page.cups.iter().map(|line| PlannedCupView {
            variant: line.variant.to_string(),
            newer_variant: line.newer,
            planned_ml: ml(line.planned),
            mark: line.mark.clone(),
            mixed_ml: line.mixed.map(ml),
            poured_ml: line.poured.map(ml),
            gone: line.gone,
        });
        Self {
            plan: page.plan.id,
            at: telling.stamp(page.plan.at),
            panel: page.plan.panels.panel.to_string(),
            count: page.plan.panels.count,
            pour_at: page.plan.pour_at.map(|at| telling.stamp(at)),
            cups: cups.collect(),
            note: page.plan.note.clone(),
            repeats: page.plan.repeats,
        }
    }
}

/// The kept plans.
#[derive(Debug, Serialize, JsonSchema)]
pub struct PlansView {
    plans: Vec<KeptPlanView>,
}

impl PlansView {
    /// Every kept plan.
    #[must_use]
    pub fn of(pages: &[PlanPage], telling: &Telling<'_>) -> Self {
        let plans = pages.iter().map(|page| KeptPlanView::of(page, telling));
        Self {
            plans: plans.collect(),
        }
    }
}

/// One line of a cost.
#[derive(Debug, Serialize, JsonSchema)]
pub struct CostLineView {
    what: String,
    ml: f64,
    cost: Option<f64>,
}

/// What something cost.
#[derive(Debug, Serialize, JsonSchema)]
pub struct CostView {
    lines: Vec<CostLineView>,
    /// Null where that of any line is not known.
    cost: Option<f64>,
    /// What is known of it.
    known: Option<f64>,
    /// How many lines have no price.
    unpriced: usize,
}

impl CostView {
    /// What something cost, line by line.
    #[must_use]
    pub fn of(cost: &Cost) -> Self {
        let lines = cost.lines.iter().map(|line| CostLineView {
            what: tell::cost::what(&line.what),
            ml: ml(line.ml),
            cost: line.cost.and_then(cents),
        });
        Self {
            lines: lines.collect(),
            cost: cost.total.and_then(cents),
            known: cents(cost.known),
            unpriced: cost.unpriced,
        }
    }
}

/// One caution.
#[derive(Debug, Serialize, JsonSchema)]
pub struct CautionView {
    #[serde(rename = "where")]
    place: Place,
    short: &'static str,
    full: &'static str,
}

/// The cautions.
#[derive(Debug, Serialize, JsonSchema)]
pub struct CautionsView {
    cautions: Vec<CautionView>,
}

impl CautionsView {
    /// Some cautions.
    #[must_use]
    pub fn of(cautions: &[&Caution]) -> Self {
        let cautions = cautions.iter().map(|one| CautionView {
            place: one.place,
            short: one.short,
            full: one.full,
        });
        Self {
            cautions: cautions.collect(),
        }
    }
}
