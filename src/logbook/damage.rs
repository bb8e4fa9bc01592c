//! What is wrong with a file that is damaged: which row, which column, which rule. Facts; `tell` has the words.

/// A row by its table and number.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct RowAt {
    /// Its table.
    pub table: String,
    /// Its number; `None` where what was read does not tell it.
    pub id: Option<i64>,
}

impl RowAt {
    /// The row of a table under a number.
    pub fn new(table: impl Into<String>, id: i64) -> Self {
        let (table, id) = (table.into(), Some(id));
        Self { table, id }
    }
}

/// A word that this build does not know: a later one has written it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewerWord {
    /// The row that it stands in.
    pub row: RowAt,
    /// The column.
    pub column: String,
}

/// How a file is damaged.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Damage {
    /// Its pages do not fit together.
    Pages,
    /// It ends within a page.
    CutShort {
        /// How many bytes there are.
        bytes: u64,
    },
    /// A value is none that a studio holds; of which row is not known.
    Value,
    /// A row that no command writes.
    Row(RowAt, RowFault),
    /// What a change did, by its number, cannot be read.
    Record(i64),
    /// More parts are recipes than any painter has.
    Parts {
        /// The most that are read.
        most: usize,
    },
}

impl Damage {
    /// A row that no command writes.
    pub fn row(table: impl Into<String>, id: i64, fault: RowFault) -> Self {
        Self::Row(RowAt::new(table, id), fault)
    }
}

/// Why no command can have written a row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum RowFault {
    /// The value in a column is none that a studio holds.
    Value(String),
    /// None of these columns says anything, and one of them must.
    Nothing(&'static [&'static str]),
    /// It refers to a row of this table that is not there.
    Reference(String),
    /// What it says cannot be.
    Impossible(Impossible),
    /// A recipe that goes into itself.
    IntoItself,
    /// A recipe that goes into itself, or is more than so many recipes deep.
    TooDeep(usize),
}

/// What no row can say.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Impossible {
    /// A density of nothing, or of more than any metal's.
    Density,
    /// A pack that holds nothing.
    Pack,
    /// A price that was paid for nothing.
    Priced,
    /// Less than nothing on the shelf.
    Stock,
    /// Targets that contradict each other.
    Targets,
    /// A cup without a size.
    CupSize,
    /// A cup that is filled from itself.
    FilledFromItself,
    /// A cup that is poured into itself.
    PouredIntoItself,
    /// A quantity below nothing.
    BelowNothing,
    /// A grade that does not run from 0 to 5.
    Grade,
}
