//! A painter's own lists in: a CSV file of any spreadsheet, read generously and refused exactly.
//!
//! `grid` makes the file a grid of texts, `fields` finds out what each column would become (by `headings`), `aside` leaves
//! out what is no row, `dates` and `numbers` read what a whole column writes, `cells` reads one line, and [`read_sheet`] makes
//! rows of all of them for the studio to take in as one change.

mod aside;
mod cells;
mod dates;
mod fields;
mod grid;
mod headings;
mod numbers;
mod rows;

pub use rows::{Became, SheetRead};

use crate::studio::orders::{ColumnOrder, ListKind};
use crate::studio::{Answer, DateOrder, Studio};
use crate::trade::amount::Measures;
use crate::trade::instant::Now;
use std::path::{Path, PathBuf};

/// How a sheet is to be read.
#[derive(Debug, Clone)]
pub struct Reading<'a> {
    /// What its lines are.
    pub kind: ListKind,
    /// What columns become where the guess is to be another.
    pub columns: &'a [ColumnOrder],
    /// How dates of two numbers are read; found out otherwise.
    pub dates: Option<DateOrder>,
    /// What an amount or size without a unit is in.
    pub measures: Measures,
    /// The present instant, and the zone of the dates.
    pub now: &'a Now,
}

/// A list that is to be taken in: one order, the same for both faces.
#[derive(Debug, Clone)]
pub struct ListOrder {
    /// What its lines are.
    pub kind: ListKind,
    /// Its file.
    pub file: PathBuf,
    /// What columns become where the guess is to be another.
    pub columns: Vec<ColumnOrder>,
    /// How dates of two numbers are read; found out otherwise.
    pub dates: Option<DateOrder>,
}

/// A longer file is read when it is taken in, and not at each key.
const READ_AT_ONCE: u64 = 1 << 20;

impl ListOrder {
    /// Whether its file is there, and short enough to be read at each key.
    #[must_use]
    pub fn is_short(&self) -> bool {
        let about = std::fs::metadata(&self.file);
        about.is_ok_and(|about| about.is_file() && about.len() <= READ_AT_ONCE)
    }

    /// Reads it; nothing is written.
    ///
    /// # Errors
    /// As [`read_sheet`].
    pub fn read(&self, studio: &Studio, now: &Now) -> Answer<SheetRead> {
        let reading = Reading {
            kind: self.kind,
            columns: &self.columns,
            dates: self.dates,
            measures: studio.settings()?.measures,
            now,
        };
        read_sheet(&self.file, &reading)
    }
}

/// Reads a sheet's file; nothing is written.
///
/// # Errors
/// A file that cannot be read, is too large or no table; columns of which none or not the needed ones are known; lines that
/// cannot be read, each with its number and why.
pub fn read_sheet(path: &Path, reading: &Reading<'_>) -> Answer<SheetRead> {
    read_lines(&grid::bytes(path)?, reading)
}

/// The same of a file's bytes.
///
/// # Errors
/// As [`read_sheet`].
pub fn read_lines(bytes: &[u8], reading: &Reading<'_>) -> Answer<SheetRead> {
    let (grid, notes) = grid::parted(bytes)?;
    Ok(rows::read(&grid, notes, reading)?)
}
