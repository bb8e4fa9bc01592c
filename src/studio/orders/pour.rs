//! To pour, and to start over: on what, how much of which cups, how the panel was moved.

use super::field::wrong;
use super::{Field, Given, Hint, Typed, Wrong};
use crate::studio::{LayerOrder, PourOrder, Refusal, StartOverOrder};
use crate::trade::amount::{Amount, Measures};
use crate::trade::panel::Panel;
use crate::trade::pour::{Air, Move, MoveKind};
use crate::trade::problem::{Misread, ParseProblem, Sought};

/// The fields of a pour.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PourField {
    /// On what.
    Panel,
    /// A cup and how much of it in one text, `K7:120ml`; said again for each layer, the lowest first.
    Layer,
    /// A cup alone.
    Cup,
    /// How much of that cup.
    Amount,
    /// The technique.
    Way,
    /// What was done with the panel; said again for each move, in order.
    Move(MoveKind),
    /// The air of the room.
    Air,
    /// Anything else.
    Note,
    /// When.
    When,
}

impl Field for PourField {
    fn of(any: super::AnyField) -> Option<Self> {
        match any {
            super::AnyField::Pour(field) => Some(field),
            _ => None,
        }
    }

    fn label(self) -> &'static str {
        match self {
            Self::Panel => "panel",
            Self::Layer => "layer",
            Self::Cup => "cup",
            Self::Amount => "amount",
            Self::Way => "technique",
            Self::Move(_) => "how",
            Self::Air => "air",
            Self::Note => "note",
            Self::When => "when",
        }
    }

    fn hint(self, measures: Measures) -> Hint {
        let metric = measures == Measures::Metric;
        match self {
            Self::Panel if metric => Hint::SuchAs("40x50cm or round 30cm"),
            Self::Panel => Hint::SuchAs("16x20in or round 12in"),
            Self::Layer => Hint::SuchAs(LAYER),
            Self::Cup => Hint::Says("ready ones first, the thickest lowest"),
            Self::Amount if metric => Hint::SuchAs("60 ml"),
            Self::Amount => Hint::SuchAs("2 fl oz"),
            Self::Way => Hint::Says("in your words"),
            Self::Move(kind) => Hint::Says(moved(kind)),
            Self::Air => air(measures),
            Self::Note => Hint::Says("anything"),
            Self::When => Hint::Says(super::tend::WHEN),
        }
    }

    fn mark(self, text: &str) -> Option<&str> {
        match self {
            Self::Cup => Some(text),
            Self::Layer => text.split(':').next(),
            _ => None,
        }
    }
}

const LAYER: &str = "K7:120ml";

/// An example of a room's air.
pub(super) const fn air(measures: Measures) -> Hint {
    Hint::SuchAs(match measures {
        Measures::Metric => "21C,45%",
        Measures::UsCustomary => "70F,45%",
    })
}

const fn moved(kind: MoveKind) -> &'static str {
    match kind {
        MoveKind::Spin => "right (clockwise) or left, and how many turns",
        MoveKind::Torch => "never over mixes thinned with solvent or alcohol; empty is fine",
        MoveKind::Tilt | MoveKind::Blow | MoveKind::Swipe => {
            "a direction, and how often: left 2; empty is fine"
        }
    }
}

impl PourField {
    /// Reads what was typed of a pour.
    ///
    /// # Errors
    /// The first field that cannot be read, and no panel.
    pub fn order(
        typed: &Typed<Self>,
        even_so: bool,
        given: &Given<'_>,
    ) -> Result<PourOrder, Wrong> {
        let panel = Self::panel(typed, given)?;
        let go = Self::start_over(typed, even_so, given)?;
        Ok(PourOrder {
            panel,
            layers: go.layers,
            way: go.way,
            moves: go.moves,
            air: go.air,
            note: go.note,
            even_so: go.even_so,
            at: go.at,
        })
    }

    /// Reads what was typed of a start-over, which keeps its panel.
    ///
    /// # Errors
    /// The first field that cannot be read.
    pub fn start_over(
        typed: &Typed<Self>,
        even_so: bool,
        given: &Given<'_>,
    ) -> Result<StartOverOrder, Wrong> {
        let layers = typed.all(Self::Layer);
        let layers = layers.map(|text| layer(text, given));
        let layers = layers.collect::<Result<_, _>>();
        Ok(StartOverOrder {
            layers: layers.map_err(|why| wrong(Self::Layer, why))?,
            way: typed.note(Self::Way),
            moves: Self::moves(typed)?,
            air: Self::air(typed, given)?,
            note: typed.note(Self::Note),
            even_so,
            at: typed.read(Self::When, |text| given.past(text))?,
        })
    }

    /// Reads the panel alone.
    ///
    /// # Errors
    /// No panel, or none that can be read.
    pub fn panel(typed: &Typed<Self>, given: &Given<'_>) -> Result<Panel, Wrong> {
        typed.need(Self::Panel, needed(Self::Panel), |text| given.panel(text))
    }

    /// Reads the air alone; `None` where it was not said.
    ///
    /// # Errors
    /// Air that cannot be read.
    pub fn air(typed: &Typed<Self>, given: &Given<'_>) -> Result<Option<Air>, Wrong> {
        typed.read(Self::Air, |text| given.air(text))
    }

    /// Reads a cup and how much of it.
    ///
    /// # Errors
    /// No cup or no amount, a mark that no living cup bears, an amount that cannot be read.
    pub fn layer(typed: &Typed<Self>, given: &Given<'_>) -> Result<LayerOrder, Wrong> {
        let cup = typed.need(Self::Cup, needed(Self::Cup), |text| given.known.cup(text))?;
        let amount = Self::amount(typed, given)?;
        Ok(LayerOrder::of(cup, amount))
    }

    /// Reads an amount alone.
    ///
    /// # Errors
    /// No amount, or one that cannot be read.
    pub fn amount(typed: &Typed<Self>, given: &Given<'_>) -> Result<Amount, Wrong> {
        typed.need(Self::Amount, needed(Self::Amount), |text| {
            given.amount(text)
        })
    }

    /// Reads what was done with the panel, in the order in which it was said.
    ///
    /// # Errors
    /// A move that cannot be read, in its field.
    pub fn moves(typed: &Typed<Self>) -> Result<Vec<Move>, Wrong> {
        let moves = typed.each().filter_map(|(field, text)| match field {
            Self::Move(kind) => Some((field, Move::parse(kind, text))),
            _ => None,
        });
        let moves = moves.map(|(field, read)| read.map_err(|why| wrong(field, why)));
        moves.collect()
    }
}

fn needed(field: PourField) -> Refusal {
    Refusal::Needed(field.label())
}

fn layer(text: &str, given: &Given<'_>) -> Result<LayerOrder, Refusal> {
    let no_layer = || ParseProblem::new(text, Sought::Layer, Misread::NotOne);
    let (mark, amount) = text.split_once(':').ok_or_else(no_layer)?;
    given.known.layer(mark, given.amount(amount)?)
}
