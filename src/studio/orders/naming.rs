//! To put a name right: a recipe's name and layer, a lid's mark and tape, two names of one thing.

use super::field::wrong;
use super::recipe::layer;
use super::{Field, Given, Hint, Typed, Wrong};
use crate::studio::Refusal;
use crate::studio::lookup::parse_mark;
use crate::trade::amount::Measures;
use crate::trade::ids::{CupId, RecipeId};
use crate::trade::mark::Mark;
use crate::trade::recipe::{LayerKind, PartOf};

/// What a recipe is called, and where it goes; what is left out stays.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RecipeNameOrder {
    /// The recipe.
    pub recipe: RecipeId,
    /// Its new name.
    pub name: Option<String>,
    /// Its layer.
    pub layer: Option<LayerKind>,
}

/// What a cup's lid says; what is left out stays.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LidOrder {
    /// The cup.
    pub cup: CupId,
    /// Its new mark.
    pub mark: Option<Mark>,
    /// Its tape; an empty one takes it off.
    pub tape: Option<String>,
}

/// Two names of one thing: the first goes, the second stays.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct MergeOrder {
    /// What is called wrongly.
    pub from: PartOf,
    /// What it is.
    pub into: PartOf,
}

/// The fields of a recipe's name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RecipeNameField {
    /// Its name.
    Name,
    /// Its layer.
    Layer,
}

/// The fields of a lid.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LidField {
    /// Its mark.
    Mark,
    /// Its tape.
    Tape,
}

/// The field of a merging.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MergeField {
    /// The name that stays.
    Into,
}

impl Field for RecipeNameField {
    fn of(any: super::AnyField) -> Option<Self> {
        match any {
            super::AnyField::RecipeName(field) => Some(field),
            _ => None,
        }
    }

    fn label(self) -> &'static str {
        match self {
            Self::Name => "name",
            Self::Layer => "layer",
        }
    }

    fn hint(self, _: Measures) -> Hint {
        Hint::Says(match self {
            Self::Name => "as you call it",
            Self::Layer => "where in the stack it goes",
        })
    }
}

impl Field for LidField {
    fn of(any: super::AnyField) -> Option<Self> {
        match any {
            super::AnyField::Lid(field) => Some(field),
            _ => None,
        }
    }

    fn label(self) -> &'static str {
        match self {
            Self::Mark => "mark",
            Self::Tape => "tape",
        }
    }

    fn hint(self, _: Measures) -> Hint {
        Hint::Says(match self {
            Self::Mark => "what is written on the lid",
            Self::Tape => "its colour; empty for none",
        })
    }
}

impl Field for MergeField {
    fn of(any: super::AnyField) -> Option<Self> {
        match any {
            super::AnyField::Merge(field) => Some(field),
            _ => None,
        }
    }

    fn label(self) -> &'static str {
        "is really"
    }

    fn hint(self, _: Measures) -> Hint {
        Hint::Says("the name that stays")
    }
}

impl RecipeNameOrder {
    /// Reads what was typed.
    ///
    /// # Errors
    /// A layer that is none.
    pub fn read(typed: &Typed<RecipeNameField>, recipe: RecipeId) -> Result<Self, Wrong> {
        Ok(Self {
            recipe,
            name: typed.text(RecipeNameField::Name).map(str::to_owned),
            layer: typed.read(RecipeNameField::Layer, layer)?,
        })
    }
}

impl LidOrder {
    /// Reads what was typed.
    ///
    /// # Errors
    /// A text that is no mark.
    pub fn read(typed: &Typed<LidField>, cup: CupId) -> Result<Self, Wrong> {
        Ok(Self {
            cup,
            mark: typed.read(LidField::Mark, parse_mark)?,
            tape: typed
                .text(LidField::Tape)
                .map(|text| text.trim().to_owned()),
        })
    }

    /// Reads a form in which mark and tape stood: an emptied tape takes it off.
    ///
    /// # Errors
    /// As [`LidOrder::read`].
    pub fn edited(typed: &Typed<LidField>, cup: CupId) -> Result<Self, Wrong> {
        let order = Self::read(typed, cup)?;
        let tape = order.tape.or_else(|| Some(String::new()));
        Ok(Self { tape, ..order })
    }
}

impl MergeOrder {
    /// Reads the name that stays, of something of the same kind.
    ///
    /// # Errors
    /// No name, or one that is nowhere.
    pub fn read(typed: &Typed<MergeField>, given: &Given<'_>, from: PartOf) -> Result<Self, Wrong> {
        let missing = Refusal::Needed(MergeField::Into.label());
        let into = typed.need(MergeField::Into, missing, |name| match from {
            PartOf::Material(_) => {
                let into = given.known.material(name);
                into.map(|one| PartOf::Material(one.id))
            }
            PartOf::Recipe(_) => given.known.recipe(name).map(|one| PartOf::Recipe(one.0)),
        })?;
        if into == from {
            return Err(wrong(MergeField::Into, Refusal::MergedWithItself));
        }
        Ok(Self { from, into })
    }
}
