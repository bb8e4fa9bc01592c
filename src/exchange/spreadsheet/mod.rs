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

pub use fields::Kind;
pub use rows::{Became, SheetRead};

use crate::exchange::ExchangeError;
use crate::trade::amount::Measures;
use crate::trade::instant::Now;
use crate::trade::text::inert;
use std::path::Path;

/// How a sheet is to be read.
#[derive(Debug, Clone)]
pub struct Reading<'a> {
    /// What its lines are.
    pub kind: Kind,
    /// `Heading=field`, where the guess is to be another; `Heading=-` leaves a column out.
    pub columns: &'a [String],
    /// Whether dates of two numbers begin with the day; found out otherwise.
    pub day_first: Option<bool>,
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
pub fn read_sheet(path: &Path, reading: &Reading<'_>) -> Result<SheetRead, ExchangeError> {
    read_lines(&grid::bytes(path)?, reading)
}

/// The same of a file's bytes.
///
/// # Errors
/// As [`read_sheet`].
pub fn read_lines(bytes: &[u8], reading: &Reading<'_>) -> Result<SheetRead, ExchangeError> {
    let read = grid::parted(bytes).and_then(|(grid, notes)| rows::read(&grid, notes, reading));
    read.map_err(|error| match error {
        ExchangeError::NoSheet(why) => ExchangeError::NoSheet(told(&why, MOST_TOLD)),
        ExchangeError::Lines(why) => ExchangeError::Lines(told(&why, MOST_TOLD)),
        other => other,
    })
}

/// Nobody reads more of what is wrong.
const MOST_TOLD: usize = 1500;

/// The beginning of what is said of a list, safe to show, whatever stands in its cells.
fn told(why: &str, most: usize) -> String {
    let mut head: String = why.chars().take(most).collect();
    if head.len() < why.len() {
        head.push('…');
    }
    inert(&head).into_owned()
}
