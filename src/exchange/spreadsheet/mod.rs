//! A painter's own lists in: a CSV file of any spreadsheet, read generously and refused exactly.
//!
//! `grid` makes the file a grid of texts, `fields` finds out what each column would become (by `headings`), `aside` leaves out what is no row, `values` reads dates, numbers and
//! amounts as the whole column writes them, `cells` reads one line, and [`read_sheet`] makes rows of all
//! of them for the studio to take in as one change.

mod aside;
mod cells;
mod fields;
mod grid;
mod headings;
mod rows;
mod values;

pub use rows::{Became, SheetRead};

use crate::studio::orders::{ColumnOrder, ListKind};
use crate::studio::{Answer, DateOrder};
use crate::trade::amount::Measures;
use crate::trade::instant::Now;
use std::path::Path;

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
