//! The air of the room in which pictures dry.

use super::{Field, Given, Hint, Typed, Wrong};
use crate::trade::amount::Measures;
use crate::trade::pour::Air;

/// The field of the room's air.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RoomField {
    /// The air.
    Air,
}

impl Field for RoomField {
    fn of(any: super::AnyField) -> Option<Self> {
        match any {
            super::AnyField::Room(field) => Some(field),
            _ => None,
        }
    }

    fn label(self) -> &'static str {
        match self {
            Self::Air => "air",
        }
    }

    fn hint(self, measures: Measures) -> Hint {
        Hint::Says(match measures {
            Measures::Metric => "temperature and humidity where it dries: 21C,45%",
            Measures::UsCustomary => "temperature and humidity where it dries: 70F,45%",
        })
    }
}

impl RoomField {
    /// Reads the air; `None` where it is no more said.
    ///
    /// # Errors
    /// Air that cannot be read.
    pub fn order(typed: &Typed<Self>, given: &Given<'_>) -> Result<Option<Air>, Wrong> {
        typed.read(Self::Air, |text| given.air(text))
    }
}
