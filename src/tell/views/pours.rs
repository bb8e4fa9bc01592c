//! Pours, their layers and how they were judged.

use super::photos::MeasurementView;
use super::remarks::Remarked;
use super::{Telling, ml, number};
use crate::studio::{PourPage, PouredCup, Remarks};
use crate::trade::judgement::{CellSize, Fate, Judgement};
use crate::trade::life::State;
use crate::trade::moment::Moment;
use crate::trade::panel::{Panel, Shape};
use crate::trade::pour::{Air, Move, MoveKind, PouredLayer};
use schemars::JsonSchema;
use serde::Serialize;

/// A pour looked back at.
#[derive(Debug, Serialize, JsonSchema)]
pub struct PourView {
    pour: i64,
    at: String,
    panel: PanelView,
    go: i64,
    /// The pour that was scraped for it.
    again_of: Option<i64>,
    /// The pour that it was scraped for.
    scraped_for: Option<i64>,
    /// Lowest first.
    layers: Vec<LayerView>,
    way: Option<String>,
    moves: Vec<MoveView>,
    air: Option<AirView>,
    note: Option<String>,
    judgements: Vec<JudgementView>,
    /// What was measured in its photos and counts: of the dry film, else of the wet one; null where nothing was.
    measured: Option<MeasurementView>,
}

/// A layer as it was poured.
#[derive(Debug, Serialize, JsonSchema)]
struct LayerView {
    mark: String,
    recipe: String,
    variant: Option<i64>,
    ml: f64,
    state: State,
    mound_s: Option<f64>,
    /// When it lay on the panel; null where the pour was not made step by step.
    at: Option<String>,
}

/// A panel.
#[derive(Debug, Serialize, JsonSchema)]
struct PanelView {
    /// `rectangle`, `round` or `oval`.
    shape: &'static str,
    width_mm: f64,
    height_mm: f64,
    area_cm2: f64,
}

/// What was done with a panel.
#[derive(Debug, Serialize, JsonSchema)]
pub struct MoveView {
    kind: MoveKind,
    direction: Option<String>,
    times: Option<f64>,
    /// When it was begun; null where the pour was not made step by step.
    begun: Option<String>,
    /// How many seconds it took.
    took_s: Option<f64>,
}

/// The air of a room; the humidity as a share of one.
#[derive(Debug, Serialize, JsonSchema)]
struct AirView {
    celsius: Option<f64>,
    humidity: Option<f64>,
}

impl PourView {
    /// A pour.
    #[must_use]
    pub fn of(page: &PourPage, telling: &Telling<'_>) -> Self {
        let pour = &page.pour;
        let layers = page.layers.iter().zip(&pour.layers);
        let judgements = page.judgements.iter();
        Self {
            pour: pour.id,
            at: telling.stamp(pour.at),
            panel: PanelView::of(pour.panel),
            go: pour.go,
            again_of: pour.again_of,
            scraped_for: page.scraped_for,
            layers: layers
                .map(|(cup, layer)| LayerView::of(cup, layer, telling))
                .collect(),
            way: pour.way.clone(),
            moves: moves(&pour.moves, telling),
            air: pour.air.map(AirView::of),
            note: pour.note.clone(),
            judgements: judgements
                .map(|one| JudgementView::of(one, telling))
                .collect(),
            measured: page.seen(None).map(MeasurementView::of),
        }
    }
}

impl LayerView {
    fn of(cup: &PouredCup, layer: &PouredLayer, telling: &Telling<'_>) -> Self {
        Self {
            mark: cup.mark.clone(),
            recipe: cup.variant.recipe.clone(),
            variant: (cup.variant.number > 0).then_some(cup.variant.number),
            ml: ml(layer.ml),
            state: layer.state,
            mound_s: layer.mound.map(|mound| number(mound.get())),
            at: layer.at.map(|at| telling.stamp(at)),
        }
    }
}

impl PanelView {
    fn of(panel: Panel) -> Self {
        let (shape, width, height) = match panel.shape {
            Shape::Rectangle { width, height } => ("rectangle", width, height),
            Shape::Round { diameter } => ("round", diameter, diameter),
            Shape::Oval { width, height } => ("oval", width, height),
        };
        Self {
            shape,
            width_mm: number(width.get()),
            height_mm: number(height.get()),
            area_cm2: number(panel.area().get() / 100.0),
        }
    }
}

/// What was done with a panel, in order.
pub(super) fn moves(moves: &[Move], telling: &Telling<'_>) -> Vec<MoveView> {
    let moves = moves.iter();
    moves.map(|one| MoveView::of(one, telling)).collect()
}

impl MoveView {
    fn of(one: &Move, telling: &Telling<'_>) -> Self {
        Self {
            kind: one.kind,
            direction: one.direction.clone(),
            times: one.times,
            begun: one.begun.map(|at| telling.stamp(at)),
            took_s: one.took.map(|took| number(took.get())),
        }
    }
}

impl AirView {
    fn of(air: Air) -> Self {
        Self {
            celsius: air.celsius.map(|celsius| number(celsius.get())),
            humidity: air.humidity.map(|share| number(share.get())),
        }
    }
}

/// The pours, newest first.
#[derive(Debug, Serialize, JsonSchema)]
pub struct PoursView {
    pours: Vec<PourView>,
}

/// A pour that was written down.
#[derive(Debug, Serialize, JsonSchema)]
pub struct PouredView {
    #[serde(flatten)]
    pour: PourView,
    #[serde(flatten)]
    remarks: Remarked,
}

impl PouredView {
    /// A pour, and what is to be said of it.
    #[must_use]
    pub fn of(page: &PourPage, remarks: Remarked, telling: &Telling<'_>) -> Self {
        Self {
            pour: PourView::of(page, telling),
            remarks,
        }
    }
}

/// How a picture was judged; grades from 0 to 5.
#[derive(Debug, Serialize, JsonSchema)]
pub struct JudgementView {
    at: String,
    dry: bool,
    cells: u8,
    size: Option<CellSize>,
    evenness: Option<u8>,
    lacing: Option<u8>,
    muddy: Option<u8>,
    crazed: Option<u8>,
    pinholes: Option<u8>,
    fate: Option<Fate>,
    note: Option<String>,
}

impl JudgementView {
    /// A judgement.
    #[must_use]
    pub fn of(one: &Judgement, telling: &Telling<'_>) -> Self {
        Self {
            at: telling.stamp(one.at),
            dry: one.dry,
            cells: one.cells,
            size: one.size,
            evenness: one.evenness,
            lacing: one.lacing,
            muddy: one.muddy,
            crazed: one.crazed,
            pinholes: one.pinholes,
            fate: one.fate,
            note: one.note.clone(),
        }
    }
}

/// A picture that was judged.
#[derive(Debug, Serialize, JsonSchema)]
pub struct JudgedView {
    pour: i64,
    #[serde(flatten)]
    judgement: JudgementView,
    /// Whether it has as many cells as the studio calls good.
    good: bool,
    #[serde(flatten)]
    remarks: Remarked,
}

impl JudgedView {
    /// A picture that was judged.
    #[must_use]
    pub fn of(judged: &Judgement, good: bool, remarks: Remarked, telling: &Telling<'_>) -> Self {
        Self {
            pour: judged.pour,
            judgement: JudgementView::of(judged, telling),
            good,
            remarks,
        }
    }
}

/// A picture that was varnished.
#[derive(Debug, Serialize, JsonSchema)]
pub struct VarnishedView {
    pour: i64,
    varnished_at: String,
    #[serde(flatten)]
    remarks: Remarked,
}

impl VarnishedView {
    /// A picture that was varnished at an instant.
    #[must_use]
    pub fn of(pour: i64, at: Moment, remarks: &Remarks, telling: &Telling<'_>) -> Self {
        Self {
            pour,
            varnished_at: telling.stamp(at),
            remarks: Remarked::of(remarks, telling.measures, telling.now),
        }
    }
}
