//! Why a file did not come in or did not go out.

use crate::studio::{Holds, SystemFault};
use std::path::PathBuf;

/// Why a file did not come in or did not go out.
#[derive(Debug, Clone, PartialEq)]
pub enum FileFault {
    /// The system did not give it; which, where it has a name.
    Unread(Option<PathBuf>, SystemFault),
    /// A folder, a pipe or a device.
    NotAFile(PathBuf),
    /// It stops before its end, in this line.
    CutShort(usize),
    /// It is not JSON from there on.
    NotJson(TextPlace),
    /// It is JSON, but no studio.
    NotAStudio(DocumentFault, TextPlace),
    /// A later program wrote it.
    Newer {
        /// What of it is newer.
        part: Numbered,
        /// The file's number.
        theirs: u64,
        /// The highest that this program knows.
        ours: u64,
    },
    /// One row is larger than any studio's.
    RowTooLarge,
    /// It has more than so many bytes.
    TooLarge(u64),
    /// It could not be put together, which is a fault of the program.
    NotMade(Made),
}

/// A place in a file, both counted from 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TextPlace {
    /// The line.
    pub line: usize,
    /// The byte of the line.
    pub column: usize,
}

/// What of a studio's file has a number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Numbered {
    /// The format.
    Format,
    /// The tables.
    Schema,
}

/// What is made whole before it is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Made {
    /// A sheet of paper.
    Paper,
    /// A table.
    Table,
    /// A picture.
    Picture,
}

/// Why a JSON document is no studio.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum DocumentFault {
    /// It does not begin with its format, its version and its schema.
    Beginning,
    /// Its format is another.
    Format,
    /// A table of another name.
    NoTable(String),
    /// A table that stands there twice, or after one that refers to it.
    TableOrder(&'static str),
    /// A column of another name.
    NoColumn(String),
    /// A row that says a column twice.
    Twice(&'static str),
    /// Too many rows under one.
    TooManyBeneath,
    /// A value of a column that holds another kind.
    Value(&'static str, Holds),
    /// A number of a column that is out of range.
    Range(&'static str),
    /// A table or a row that is of another kind.
    Kind,
}
