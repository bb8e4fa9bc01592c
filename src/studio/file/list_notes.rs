//! What was taken for granted of a list that came in.

/// What was taken for granted of a list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ListNote {
    /// Its letters are no UTF-8, and were read as Windows-1252.
    Letters,
    /// Its columns are parted by something else than commas.
    PartedBy(Separator),
    /// So many lines before the headings were left out.
    BeforeHeadings(usize),
    /// Lines that are no rows were left out, by their numbers.
    LeftOut(Aside, Vec<u64>),
    /// Which of two numbers of a date was taken for the day, and why.
    Dates(DateOrder, DateReason),
    /// In what the bare numbers of a column were read.
    Unit {
        /// The column's heading.
        heading: String,
        /// The unit.
        unit: &'static str,
        /// Whether it is that of the column's other cells.
        as_others: bool,
    },
    /// A line's date is a number of days, and so are others.
    DayNumbers(u64, String),
    /// A column of amounts without any unit was read as a number of packs; its heading.
    Packs(String),
    /// Lines that say to whom, when or where something was sold, and not for how much: no sale was written down.
    Unpriced(Vec<u64>),
    /// Lines of pours that say something of how one came out, and not its cells: none of that was written down.
    Ungraded(Vec<u64>),
    /// So many cups are older than so many days, and were taken as used up.
    UsedUp(usize, i64),
}

/// What parts columns.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Separator {
    /// Commas.
    Comma,
    /// Semicolons.
    Semicolon,
    /// Tabs.
    Tab,
    /// Upright strokes.
    Stroke,
}

/// Why a line is no row.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Aside {
    /// It sums up others.
    Sum,
    /// It is the headings again.
    Headings,
    /// One text stands in it alone.
    Alone,
}

/// Which of two numbers in a date is the day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DateOrder {
    /// The first.
    DayFirst,
    /// The second.
    MonthFirst,
}

/// Why dates are read in an order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum DateReason {
    /// A line's cell can be read in no other.
    Line(u64, String),
    /// In this order they rise, or fall, from line to line.
    Rising,
    /// It is usual where these measures are: a guess.
    Measures,
}
