//! Why a change cannot be taken back: which row has moved on, how, and with which later change. Facts; `tell` has the
//! words.

use super::Change;
use super::foreign::RowName;

/// Why a change cannot be taken back.
#[derive(Debug, Clone, PartialEq)]
pub enum Moved {
    /// The change of this number is itself an undo or redo.
    NoDeed(i64),
    /// It is undone already.
    Undone(Box<Change>),
    /// The file has no such table any more, or the table no such column.
    NoSuchName {
        /// The table.
        table: String,
        /// The column.
        column: Option<String>,
    },
    /// A row is no longer what the change left.
    Row {
        /// The row.
        row: RowName,
        /// How it has moved on.
        how: HowMoved,
        /// With which later change, where one is known.
        by: Option<Box<Change>>,
    },
    /// The place of a row (its mark, its name) was taken meanwhile.
    NoRoom(RowName),
    /// Something later still refers to a row that would be taken away.
    Needed {
        /// What refers to it.
        by: RowName,
        /// With which change, where one is known.
        with: Option<Box<Change>>,
        /// The table of the row that it refers to.
        table: String,
    },
    /// Something later still refers to it; what it is, is not known.
    NeededSomewhere,
}

/// How a row has moved on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HowMoved {
    /// It was removed.
    Removed,
    /// It has changed.
    Changed,
    /// It is there again.
    Back,
}
