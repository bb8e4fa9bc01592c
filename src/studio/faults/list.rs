//! Why a painter's own list did not come in.

use crate::studio::orders::{ListField, ListKind};
use crate::trade::problem::ParseProblem;
use std::path::PathBuf;

/// Why a list did not come in.
#[derive(Debug, Clone, PartialEq)]
pub enum ListFault {
    /// A list that does not say what its lines are.
    KindUnsaid(PathBuf),
    /// A folder.
    Folder,
    /// It has so many MiB, where that is known, and more than can be read.
    TooLong(Option<u64>, u64),
    /// A spreadsheet program's own file, and no CSV.
    OwnFormat,
    /// No text.
    NoText,
    /// No table from this line on.
    NoTable(u64),
    /// A line of too many columns.
    TooWide {
        /// The line.
        line: u64,
        /// How many it has.
        columns: usize,
        /// How many are read.
        most: usize,
    },
    /// More than so many lines.
    TooManyLines(usize),
    /// A quotation mark in this line opens a cell that never ends.
    NeverClosed(u64),
    /// Nothing in it.
    Empty,
    /// Nothing below its headings.
    HeadingsAlone,
    /// None of its columns is known; the first cells of its first line.
    NoHeadings(ListKind, Vec<String>),
    /// A column was named that it does not have; those that it has.
    NoColumn(String, Vec<String>),
    /// No column was taken for these; those that it has.
    Lacks(Vec<Lacking>, Vec<String>),
    /// What was said of a column makes no sense.
    Order(ColumnFault),
    /// One line's date has the day first, another's the month: the lines and their cells.
    DatesDiffer {
        /// The line whose first number is above 12.
        day: (u64, String),
        /// The line whose second number is.
        month: (u64, String),
    },
    /// Lines that cannot be read: the first of them and why, and how many more.
    Lines(Vec<(LinePlace, CellFault)>, usize),
}

/// Where a line of a list stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LinePlace {
    /// Where it begins in the file, counted from 1.
    pub line: u64,
    /// Which row of the sheet it is: less, where a cell before it has lines of its own.
    pub row: u64,
}

/// What no column was taken for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lacking {
    /// A field.
    Field(ListField),
    /// Neither a volume nor packs.
    VolumeOrPacks,
}

/// What is wrong with what was said of a column.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ColumnFault {
    /// It is no heading and field with a sign of equality between.
    NoPair(String),
    /// There is no field of the name.
    NoField(String),
    /// A list of this kind has no such field.
    OfAnother(ListKind, ListField),
}

/// Why a line's cell cannot be read; a text is the cell.
#[derive(Debug, Clone, PartialEq)]
pub enum CellFault {
    /// The line lacks it.
    Missing(ListField),
    /// It has more characters than so many.
    TooLong(ListField, usize),
    /// A formula, or what is left of one.
    Formula(String),
    /// No date.
    NoDate(String),
    /// A date that has not come.
    StillToCome(String),
    /// It holds no number.
    NoNumber(String),
    /// A number below nothing.
    Negative(String),
    /// A number that may be read in two ways.
    TwoWays(String),
    /// It holds more than one number.
    Several(String),
    /// It cannot be read as what its column holds.
    Unread(String, ParseProblem),
    /// A weight where a volume is needed.
    Weight(String),
    /// An air that no room has.
    Air,
    /// A grade that is none.
    NoGrade(String, ListField),
    /// Neither wet nor dry.
    NeitherWetNorDry(String),
    /// No fate of a picture.
    NoFate(String),
    /// No kind of a material.
    NoKind(String),
    /// It was sold before it was poured.
    SoldBefore,
    /// A density that nothing poured has.
    Density,
    /// A pour's number that is no whole number.
    NoPour,
}
