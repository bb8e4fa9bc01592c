//! A plan that was kept: panels, a time to pour, and the cups it asks for.

use crate::trade::moment::Moment;
use crate::trade::panel::Panel;
use crate::trade::units::{Hours, Millilitres, Millimetres, Seconds};

/// What is to be poured on: panels of one kind, and how much of their edges is painted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Panels {
    /// One of them.
    pub panel: Panel,
    /// How many.
    pub count: u32,
    /// How deep the painted edge is.
    pub edge: Millimetres,
}

impl Panels {
    /// Their tops alone.
    #[must_use]
    pub const fn tops(self) -> Self {
        Self {
            edge: Millimetres::ZERO,
            ..self
        }
    }
}

/// A plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// The store's number.
    pub id: i64,
    /// When it was made.
    pub at: Moment,
    /// What is to be poured on.
    pub panels: Panels,
    /// The technique, in the painter's words.
    pub way: Option<String>,
    /// When the pour is to begin.
    pub pour_at: Option<Moment>,
    /// The cups it asks for, lowest layer first.
    pub cups: Vec<PlannedCup>,
    /// Anything else.
    pub note: Option<String>,
    /// The pour that it makes once more.
    pub repeats: Option<i64>,
}

/// A cup that a plan asks for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlannedCup {
    /// By which variant it is to be mixed.
    pub variant: i64,
    /// How much.
    pub ml: Millilitres,
    /// The cup that was mixed for it.
    pub cup: Option<i64>,
    /// How long it is to have stood since it was stirred, where a picture's cup did.
    pub stood: Option<Hours>,
    /// The mound it is to have, where a picture's cup had one.
    pub mound: Option<Seconds>,
}
