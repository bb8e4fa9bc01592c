//! Why a deed cannot be done so, where its refusal has several reasons.

use crate::trade::mark::Mark;

/// What a change left as it was.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Unchanged {
    /// A material or a recipe of a name.
    Named(String),
    /// A variant: its recipe's name and its number.
    Variant(String, i64),
    /// The cup with the mark.
    Cup(Mark),
}

/// What goes by the painter's own cells alone.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ByCells {
    /// Which variant is best.
    Best,
    /// A table of two factors.
    Pair,
    /// From how many cells a pour is good.
    Good,
}

/// Why a run of a trial cannot be done so.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RunFault {
    /// The trial has no run of the number.
    Missing(usize),
    /// Every run is done.
    AllDone,
    /// The run is judged already.
    Judged(usize),
    /// The run is given up already.
    GivenUp(usize),
    /// It is given up without a reason.
    NoReason,
    /// The pour is that run already.
    Taken {
        /// The pour.
        pour: i64,
        /// The run that it is, from 1.
        run: usize,
    },
    /// Nothing was poured of late that could be the run.
    NothingPoured,
}

/// Why no amount of thinner can be told for a cup.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unread {
    /// Its mound never fades.
    Gelled,
    /// Its last reading is too old.
    TooOld,
    /// It was never read.
    Never,
}
