//! To tend a cup: what hands do to one that stands, and when.

use super::{Field, Given, Hint, Typed, Wrong};
use crate::trade::amount::Measures;
use crate::trade::cup::{End, Happened, Reading, Seen};
use crate::trade::ids::{CupId, MaterialId};
use crate::trade::moment::Moment;
use crate::trade::units::{Millilitres, Minutes};

/// What may be said of an instant that is over.
pub(super) const WHEN: &str = "empty for now; 18:30, 2 h ago, yesterday 18:30";

/// What is done to a cup that stands. Mixing and pouring are orders of their own.
#[derive(Debug, Clone, PartialEq)]
pub struct TendOrder {
    /// The cup.
    pub cup: CupId,
    pub(in crate::studio) what: Happened,
    /// When; now otherwise.
    pub at: Option<Moment>,
    /// Whether its reading is kept though it is far from what was expected.
    pub even_so: bool,
}

/// A deed that is one key or one word: nothing but the cup and the instant belongs to it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SimpleDeed {
    /// An eye saw this.
    Look(Seen),
    /// Its lid went on.
    Cap,
    /// Its lid came off.
    Open,
}

impl TendOrder {
    const fn now(cup: CupId, what: Happened) -> Self {
        Self {
            cup,
            what,
            at: None,
            even_so: false,
        }
    }

    /// A reading.
    #[must_use]
    pub const fn read(cup: CupId, reading: Reading) -> Self {
        Self::now(cup, Happened::Read(reading))
    }

    /// Thinner into it; `hard` where it was stirred so that its rest starts anew.
    #[must_use]
    pub fn thin(
        cup: CupId,
        ml: Millilitres,
        with: Option<MaterialId>,
        hard: bool,
        reading: Option<Reading>,
    ) -> Self {
        let with = with.map(|material| material.0);
        let thinned = Happened::Thinned {
            ml,
            with,
            hard,
            reading,
        };
        Self::now(cup, thinned)
    }

    /// A stirring: its rest starts anew.
    #[must_use]
    pub const fn stir(cup: CupId, minutes: Minutes) -> Self {
        Self::now(cup, Happened::Stirred { minutes })
    }

    /// What an eye saw.
    #[must_use]
    pub const fn look(cup: CupId, seen: Seen) -> Self {
        Self::now(cup, Happened::Looked(seen))
    }

    /// A deed of which nothing more is to be said.
    #[must_use]
    pub const fn simple(cup: CupId, deed: SimpleDeed) -> Self {
        match deed {
            SimpleDeed::Look(seen) => Self::look(cup, seen),
            SimpleDeed::Cap => Self::cap(cup),
            SimpleDeed::Open => Self::open(cup),
        }
    }

    /// Its lid on.
    #[must_use]
    pub const fn cap(cup: CupId) -> Self {
        Self::now(cup, Happened::Capped)
    }

    /// Its lid off.
    #[must_use]
    pub const fn open(cup: CupId) -> Self {
        Self::now(cup, Happened::Opened)
    }

    /// Its end.
    #[must_use]
    pub const fn end(cup: CupId, end: End) -> Self {
        Self::now(cup, Happened::Ended(end))
    }

    /// The same at an instant; now where there is none.
    #[must_use]
    pub fn at(self, at: Option<Moment>) -> Self {
        Self { at, ..self }
    }

    /// The same, its reading kept however far it is from what was expected.
    #[must_use]
    pub fn even_so(self, even_so: bool) -> Self {
        Self { even_so, ..self }
    }

    /// The same when it was typed to have happened.
    ///
    /// # Errors
    /// Where that is no instant.
    pub fn when(self, typed: &Typed<TendField>, given: &Given<'_>) -> Result<Self, Wrong> {
        Ok(self.at(typed.read(TendField::When, |text| given.past(text))?))
    }
}

/// The fields of a look, a lid or an end, and of a look back at a cup's life.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TendField {
    /// When.
    When,
    /// The cup's mark, of one that is spent too.
    Cup,
}

impl Field for TendField {
    fn of(any: super::AnyField) -> Option<Self> {
        match any {
            super::AnyField::Tend(field) => Some(field),
            _ => None,
        }
    }

    fn label(self) -> &'static str {
        match self {
            Self::When => "when",
            Self::Cup => "cup",
        }
    }

    fn hint(self, _: Measures) -> Hint {
        Hint::Says(match self {
            Self::When => WHEN,
            Self::Cup => "what its lid said, though it is spent",
        })
    }
}
