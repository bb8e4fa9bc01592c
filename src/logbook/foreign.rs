//! Why rows of another studio cannot be taken in, by row and reason, and how they contradict each other. Facts; `tell`
//! has the words.

use super::damage::{Damage, RowAt, RowFault};
use super::faults::Rule;
use crate::trade::units::Millilitres;

/// A row as a person knows it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RowName {
    /// Its table.
    pub table: String,
    /// Its number, where a person may know it by that.
    pub id: Option<i64>,
    /// Its mark or name, else its uid, where it has one.
    pub name: Option<String>,
}

impl From<RowAt> for RowName {
    fn from(row: RowAt) -> Self {
        let RowAt { table, id } = row;
        let name = None;
        Self { table, id, name }
    }
}

/// What does not fit of a row that is to be taken in, or of its file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Misfit {
    /// Its id does not follow the one before it.
    Order,
    /// The ids of those under it do not rise.
    OrderBeneath,
    /// Its id or its uid is missing.
    Unnamed,
    /// What a column refers to is not in the file before it.
    Missing(&'static str),
    /// A value is out of range.
    Range(&'static str),
    /// It is in the file twice.
    Twice,
    /// Every name that it could give way to is in use.
    NoNameLeft,
    /// Every mark is in use.
    NoMarkLeft,
    /// The store's own rules refuse it.
    Rule(Rule),
    /// No command can have written it.
    Row(RowFault),
    /// A later program wrote the word in a column.
    Newer(String),
    /// The file is damaged.
    File(Damage),
    /// More than one change holds.
    TooMuch {
        /// The most rows.
        rows: usize,
        /// The most bytes of them.
        bytes: usize,
    },
}

/// What cannot all be true, though each row by itself could.
#[derive(Debug, Clone, PartialEq, PartialOrd)]
pub enum Contradiction {
    /// More came out of a cup than was ever in it.
    Overdrawn {
        /// Its mark.
        mark: String,
        /// How much came out.
        drawn: Millilitres,
        /// How much was in it.
        held: Millilitres,
    },
    /// A cup that was never mixed.
    Unmixed {
        /// Its mark.
        mark: String,
    },
    /// A row that the history has taken away.
    TakenAway(RowAt),
    /// A row that the history has made, and that is not there.
    NotThere(RowAt),
    /// A row that the history leaves with another value in a column.
    Differs(RowAt, String),
    /// A table with more rows than the history leaves.
    Untold {
        /// The table.
        table: String,
        /// How many it has.
        held: u64,
        /// How many the history leaves.
        told: u64,
    },
}

/// Contradictions, no more of them than anybody reads.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Contradictions {
    /// The first of them.
    pub said: Vec<Contradiction>,
    /// How many more there are.
    pub more: usize,
}

/// A row that was known already, and differs in the file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Differing {
    /// The row.
    pub row: RowName,
    /// The columns, by their names in a file.
    pub columns: Vec<&'static str>,
    /// Whether what hangs under it differs.
    pub beneath: bool,
}
