//! To make a picture once more: which, on what, when.

use super::plan::{edge, to_come};
use super::{Field, Given, Hint, Typed, Wrong};
use crate::studio::Refusal;
use crate::trade::amount::Measures;
use crate::trade::moment::Moment;
use crate::trade::panel::Panel;
use crate::trade::pour::Air;
use crate::trade::problem::{Misread, ParseProblem, Sought};
use crate::trade::units::Millimetres;

/// A picture to be made once more.
#[derive(Debug, Clone, PartialEq)]
pub struct RepeatOrder {
    /// The pour that made it.
    pub pour: i64,
    /// On what; on what it was poured on otherwise.
    pub panel: Option<Panel>,
    /// How deep the edges are painted, then and now.
    pub edge: Millimetres,
    /// When the pour is to begin; as soon as it can otherwise.
    pub pour_at: Option<Moment>,
    /// The room's air as it is now; as it was last told otherwise.
    pub air: Option<Air>,
    /// Whether every cup is mixed anew, though one stands that serves.
    pub fresh: bool,
}

/// The fields of making a picture once more.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RepeatField {
    /// On what.
    Panel,
    /// How deep the edges are painted.
    Edge,
    /// When the pour is to begin.
    Pour,
    /// The room's air.
    Air,
    /// The picture that another is held against.
    Against,
}

impl Field for RepeatField {
    fn of(any: super::AnyField) -> Option<Self> {
        match any {
            super::AnyField::Repeat(field) => Some(field),
            _ => None,
        }
    }

    fn label(self) -> &'static str {
        match self {
            Self::Panel => "panel",
            Self::Edge => "edge",
            Self::Pour => "pour",
            Self::Air => "air",
            Self::Against => "picture",
        }
    }

    fn hint(self, measures: Measures) -> Hint {
        match (self, measures) {
            (Self::Panel, Measures::Metric) => Hint::Says("60x80cm, where it is another"),
            (Self::Panel, Measures::UsCustomary) => Hint::Says("24x30in, where it is another"),
            (Self::Edge, Measures::Metric) => Hint::Says("2 cm, if the edges are painted"),
            (Self::Edge, Measures::UsCustomary) => Hint::Says("1 in, if the edges are painted"),
            (Self::Pour, _) => Hint::Says("empty: as soon as it can; tomorrow 10:00"),
            (Self::Against, _) => Hint::SuchAs("12"),
            (Self::Air, _) => Hint::Says("the room's air now: 21C,45%"),
        }
    }
}

impl RepeatField {
    /// The number of the picture that another is held against.
    ///
    /// # Errors
    /// Where none is typed, or it is no number.
    pub fn against(typed: &Typed<Self>) -> Result<i64, Wrong> {
        let missing = Refusal::Needed(Self::Against.label());
        typed.need(Self::Against, missing, |text| {
            let no_number = |_| ParseProblem::new(text, Sought::Picture, Misread::NotOne);
            text.trim().parse().map_err(no_number)
        })
    }
}

impl RepeatOrder {
    /// The picture as it was, as soon as can be.
    #[must_use]
    pub const fn of(pour: i64) -> Self {
        Self {
            pour,
            panel: None,
            edge: Millimetres::ZERO,
            pour_at: None,
            air: None,
            fresh: false,
        }
    }

    /// Reads what was typed.
    ///
    /// # Errors
    /// The first field that cannot be read.
    pub fn read(pour: i64, typed: &Typed<RepeatField>, given: &Given<'_>) -> Result<Self, Wrong> {
        Ok(Self {
            panel: typed.read(RepeatField::Panel, |text| given.panel(text))?,
            edge: typed
                .read(RepeatField::Edge, edge)?
                .unwrap_or(Millimetres::ZERO),
            pour_at: typed.read(RepeatField::Pour, |text| to_come(text, given))?,
            air: typed.read(RepeatField::Air, |text| given.air(text))?,
            ..Self::of(pour)
        })
    }
}
