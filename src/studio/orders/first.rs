//! The guided first cup: what it is made of, and how much of it.

use super::field::wrong;
use super::mix::amounts;
use super::recipe::layer;
use super::{Field, Given, Hint, Typed, Wrong};
use crate::studio::Refusal;
use crate::trade::amount::Measures;
use crate::trade::cup::Reading;
use crate::trade::range::{parse_mound, parse_parts};
use crate::trade::recipe::LayerKind;
use crate::trade::units::Millilitres;

/// A first cup. Its names are new ones, so they are texts still.
#[derive(Debug, Clone, PartialEq)]
pub struct FirstOrder {
    /// The paint, and how many parts of it.
    pub paint: (String, f64),
    /// What lets it down, and how many parts of it.
    pub medium: (String, f64),
    /// What the mixture is called.
    pub name: String,
    /// Where in the stack it goes.
    pub layer: LayerKind,
    /// How much of it.
    pub volume: Millilitres,
    /// The first reading.
    pub reading: Option<Reading>,
    /// Whether its reading is meant, however far off.
    pub even_so: bool,
}

/// The fields of a first cup.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FirstField {
    /// The paint.
    Paint,
    /// What lets it down.
    Medium,
    /// How many parts of the paint.
    PaintParts,
    /// How many parts of the medium.
    MediumParts,
    /// Where in the stack it goes.
    Layer,
    /// What the mixture is called.
    Name,
    /// How much.
    Amount,
    /// The mound.
    Mound,
}

impl Field for FirstField {
    fn of(any: super::AnyField) -> Option<Self> {
        match any {
            super::AnyField::First(field) => Some(field),
            _ => None,
        }
    }

    fn label(self) -> &'static str {
        match self {
            Self::Paint => "paint",
            Self::Medium => "medium",
            Self::PaintParts => "parts paint",
            Self::MediumParts => "parts medium",
            Self::Layer => "layer",
            Self::Name => "name",
            Self::Amount => "amount",
            Self::Mound => "mound",
        }
    }

    fn hint(self, measures: Measures) -> Hint {
        match self {
            Self::Paint => Hint::Says("the colour in your hand, as its label says"),
            Self::Medium => Hint::Says("what lets it down"),
            Self::PaintParts => Hint::Says("1 to 2 is common practice"),
            Self::MediumParts => Hint::Says("how many parts of it"),
            Self::Layer => Hint::Says(
                "where it goes: base lies lowest, colours on it, an activator last; mostly a colour",
            ),
            Self::Name => Hint::Says("what you call this mixture"),
            Self::Amount => amounts(measures),
            Self::Mound => Hint::Says("seconds a drizzle stays to be seen; may wait"),
        }
    }
}

impl FirstOrder {
    /// Reads what was typed.
    ///
    /// # Errors
    /// The first field that cannot be read, or that is empty and must not be.
    pub fn read(typed: &Typed<FirstField>, given: &Given<'_>) -> Result<Self, Wrong> {
        let name = |field| {
            let missing = || wrong(field, Refusal::Needed(Field::label(field)));
            typed.note(field).ok_or_else(missing)
        };
        let parts = |field| typed.need(field, Refusal::Needed(Field::label(field)), parse_parts);
        let needed = Refusal::Needed("amount");
        Ok(Self {
            paint: (name(FirstField::Paint)?, parts(FirstField::PaintParts)?),
            medium: (name(FirstField::Medium)?, parts(FirstField::MediumParts)?),
            layer: typed
                .read(FirstField::Layer, layer)?
                .unwrap_or(LayerKind::Colour),
            name: name(FirstField::Name)?,
            volume: typed.need(FirstField::Amount, needed, |text| given.volume(text, None))?,
            reading: typed
                .read(FirstField::Mound, parse_mound)?
                .map(Reading::Mound),
            even_so: false,
        })
    }
}
