//! To plan paint for panels: on what, when, and by which recipes.

use super::{Field, Given, Hint, Typed, Wrong};
use crate::studio::{Limit, Refusal};
use crate::trade::amount::Measures;
use crate::trade::ids::RecipeId;
use crate::trade::length::{parse_film, parse_length};
use crate::trade::moment::Moment;
use crate::trade::plan::Panels;
use crate::trade::problem::ParseProblem;
use crate::trade::units::{Millilitres, Millimetres};

/// What is to be planned.
#[derive(Debug, Clone, PartialEq)]
pub struct PlanOrder {
    /// What is to be poured on.
    pub panels: Panels,
    /// The technique.
    pub way: Option<String>,
    /// When the pour is to begin; as soon as it can otherwise.
    pub pour_at: Option<Moment>,
    /// The whole wet film; the technique's own, or practice, otherwise.
    pub film: Option<Millimetres>,
    /// The recipes, lowest layer first; those of the last pour of the technique otherwise.
    pub recipes: Vec<RecipeId>,
    /// What a cup holds at most; a layer that is more is split over several. One cup a layer otherwise.
    pub holds: Option<Millilitres>,
    /// What it is to try, in the painter's words.
    pub note: Option<String>,
    /// Whether all of it is mixed anew, whatever stands.
    pub fresh: bool,
}

/// The fields of a plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PlanField {
    /// What is poured on.
    Panel,
    /// How many of them; one otherwise.
    Count,
    /// How deep the edges are painted.
    Edge,
    /// When the pour is to begin.
    Pour,
    /// The technique.
    Way,
    /// The whole wet film.
    Film,
    /// The recipe of a layer, the lowest 0.
    Layer(u8),
    /// A recipe; may be said several times, the lowest layer first.
    Recipes,
    /// What a cup holds at most.
    Holds,
    /// What it is to try.
    Note,
    /// Whether cups that stand are counted.
    Standing,
}

/// What the layers are called.
const LAYERS: [&str; PlanField::LAYERS as usize] = [
    "lowest layer",
    "layer 2",
    "layer 3",
    "layer 4",
    "layer 5",
    "layer 6",
];

impl PlanField {
    /// How many layers a form may have.
    pub const LAYERS: u8 = 6;
    /// What may be said of cups that stand; the first where nothing is.
    pub const STANDING: [&str; 2] = ["counted", "anew"];
}

impl Field for PlanField {
    fn of(any: super::AnyField) -> Option<Self> {
        match any {
            super::AnyField::Plan(field) => Some(field),
            _ => None,
        }
    }

    fn label(self) -> &'static str {
        match self {
            Self::Panel => "panel",
            Self::Count => "how many",
            Self::Edge => "edge",
            Self::Pour => "pour",
            Self::Way => "technique",
            Self::Film => "film",
            Self::Layer(place) => LAYERS.get(usize::from(place)).copied().unwrap_or("layer"),
            Self::Recipes => "recipe",
            Self::Holds => "cup holds",
            Self::Note => "note",
            Self::Standing => "what stands",
        }
    }

    fn hint(self, measures: Measures) -> Hint {
        match (self, measures) {
            (Self::Panel, Measures::Metric) => Hint::SuchAs("40x50cm or round 30cm"),
            (Self::Panel, Measures::UsCustomary) => Hint::SuchAs("16x20in or round 12in"),
            (Self::Count, _) => Hint::Says("panels of that size"),
            (Self::Edge, Measures::Metric) => Hint::Says("2 cm, if the edges are painted"),
            (Self::Edge, Measures::UsCustomary) => Hint::Says("1 in, if the edges are painted"),
            (Self::Pour, _) => Hint::Says("empty: as soon as it can; tomorrow 10:00"),
            (Self::Way, _) => Hint::Says("the technique, in your words"),
            (Self::Film, _) => Hint::Says("empty: your own, else practice; 1.8 mm wet"),
            (Self::Layer(_) | Self::Recipes, _) => Hint::Says("type some letters; empty for none"),
            (Self::Holds, Measures::Metric) => {
                Hint::Says("empty: a cup a layer; 250 ml at most in one")
            }
            (Self::Holds, Measures::UsCustomary) => {
                Hint::Says("empty: a cup a layer; 8 fl oz at most in one")
            }
            (Self::Note, _) => Hint::Says("what it is to try"),
            (Self::Standing, _) => Hint::Says("counted, or all mixed anew"),
        }
    }
}

impl PlanOrder {
    /// Reads what was typed.
    ///
    /// # Errors
    /// The first field that cannot be read, and no panel at all.
    pub fn read(typed: &Typed<PlanField>, given: &Given<'_>) -> Result<Self, Wrong> {
        let missing = Refusal::Needed(PlanField::Panel.label());
        let panels = Panels {
            panel: typed.need(PlanField::Panel, missing, |text| given.panel(text))?,
            count: typed.read(PlanField::Count, count)?.unwrap_or(1),
            edge: typed
                .read(PlanField::Edge, edge)?
                .unwrap_or(Millimetres::ZERO),
        };
        Ok(Self {
            panels,
            way: typed.note(PlanField::Way),
            pour_at: typed.read(PlanField::Pour, |text| to_come(text, given))?,
            film: typed.read(PlanField::Film, parse_film)?,
            recipes: recipes(typed, given)?,
            holds: typed.read(PlanField::Holds, |text| given.volume(text, None))?,
            note: typed.note(PlanField::Note),
            fresh: typed.text(PlanField::Standing) == Some(PlanField::STANDING[1]),
        })
    }
}

fn recipes(typed: &Typed<PlanField>, given: &Given<'_>) -> Result<Vec<RecipeId>, Wrong> {
    let recipe = |text: &str| given.known.recipe(text);
    let said = typed.all(PlanField::Recipes).map(recipe);
    let said = said.collect::<Result<Vec<_>, _>>();
    let mut recipes = said.map_err(|why| super::wrong(PlanField::Recipes, why))?;
    for place in 0..PlanField::LAYERS {
        recipes.extend(typed.read(PlanField::Layer(place), recipe)?);
    }
    Ok(recipes)
}

fn count(text: &str) -> Result<u32, Refusal> {
    text.trim()
        .parse()
        .map_err(|_| Refusal::Range(Limit::Panels))
}

/// A bare 0 says that no edge is painted.
pub(super) fn edge(text: &str) -> Result<Millimetres, ParseProblem> {
    match text.trim() {
        "0" => Ok(Millimetres::ZERO),
        text => parse_length(text),
    }
}

pub(super) fn to_come(text: &str, given: &Given<'_>) -> Result<Moment, Refusal> {
    let at = given.future(text)?;
    match at < given.now.at {
        true => Err(Refusal::Range(Limit::PlannedPour)),
        false => Ok(at),
    }
}
