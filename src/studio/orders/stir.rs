//! To stir a cup.

use super::tend::WHEN;
use super::{Field, Given, Hint, TendOrder, Typed, Wrong};
use crate::studio::{Limit, Refusal};
use crate::trade::amount::Measures;
use crate::trade::duration::parse_stirring;
use crate::trade::ids::CupId;

/// The fields of a stirring.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StirField {
    /// How long.
    Time,
    /// When.
    When,
}

impl Field for StirField {
    fn of(any: super::AnyField) -> Option<Self> {
        match any {
            super::AnyField::Stir(field) => Some(field),
            _ => None,
        }
    }

    fn label(self) -> &'static str {
        match self {
            Self::Time => "stirred",
            Self::When => "when",
        }
    }

    fn hint(self, _: Measures) -> Hint {
        match self {
            Self::Time => Hint::SuchAs("4 m"),
            Self::When => Hint::Says(WHEN),
        }
    }
}

impl StirField {
    /// Reads what was typed of a cup.
    ///
    /// # Errors
    /// The first field that cannot be read.
    pub fn order(typed: &Typed<Self>, cup: CupId, given: &Given<'_>) -> Result<TendOrder, Wrong> {
        let missing = Refusal::Range(Limit::Stirring);
        let minutes = typed.need(Self::Time, missing, parse_stirring)?;
        let at = typed.read(Self::When, |text| given.past(text))?;
        Ok(TendOrder::stir(cup, minutes).at(at))
    }
}
