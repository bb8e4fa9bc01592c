//! A photo that is measured: its panel, where that is, the least cell.

use super::{Field, Given, Hint, Typed, Wrong};
use crate::studio::{Corners, LEAST_CELL, MeasureOrder};
use crate::trade::amount::Measures;
use crate::trade::length::parse_cell;

/// The fields of a photo that is measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CellsField {
    /// The panel that was photographed.
    Panel,
    /// Where its corners are in the photo.
    Corners,
    /// The least diameter of a cell.
    Least,
}

impl Field for CellsField {
    fn of(any: super::AnyField) -> Option<Self> {
        match any {
            super::AnyField::Cells(field) => Some(field),
            _ => None,
        }
    }

    fn label(self) -> &'static str {
        match self {
            Self::Panel => "panel",
            Self::Corners => "corners",
            Self::Least => "least cell",
        }
    }

    fn hint(self, measures: Measures) -> Hint {
        Hint::SuchAs(match (self, measures) {
            (Self::Panel, Measures::Metric) => "40x50cm",
            (Self::Panel, Measures::UsCustomary) => "16x20in",
            (Self::Corners, _) => "x,y x,y x,y x,y",
            (Self::Least, _) => "1mm",
        })
    }
}

impl CellsField {
    /// Reads what is to be measured. Where no corners were typed the panel is the whole photo, or is sought in it.
    ///
    /// # Errors
    /// A panel, corners or a length that cannot be read.
    pub fn order(
        typed: &Typed<Self>,
        whole: bool,
        given: &Given<'_>,
    ) -> Result<MeasureOrder, Wrong> {
        let corners = typed.read(Self::Corners, Corners::parse)?;
        let otherwise = if whole {
            Corners::Whole
        } else {
            Corners::Sought
        };
        Ok(MeasureOrder {
            panel: typed.read(Self::Panel, |text| given.panel(text))?,
            corners: corners.unwrap_or(otherwise),
            least: typed.read(Self::Least, parse_cell)?.unwrap_or(LEAST_CELL),
        })
    }
}
