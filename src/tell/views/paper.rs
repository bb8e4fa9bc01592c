//! What was written for a printer, a browser or a calendar, and what came in from a spreadsheet.

use super::Telling;
use crate::trade::moment::Moment;
use schemars::JsonSchema;
use serde::Serialize;

/// A sheet, a report or a certificate.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct PaperView {
    /// Where it was written.
    pub file: String,
}

/// A sheet of labels.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct LabelsView {
    /// Where it was written.
    pub file: String,
    /// How many labels are on it.
    pub labels: usize,
}

/// A calendar.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CalendarView {
    file: String,
    events: usize,
    /// When the first of them is; null where there is none.
    next: Option<String>,
}

impl CalendarView {
    /// A file with so many events.
    #[must_use]
    pub fn of(file: String, events: usize, next: Option<Moment>, telling: &Telling<'_>) -> Self {
        Self {
            file,
            events,
            next: next.map(|at| telling.stamp(at)),
        }
    }
}

/// What came of a spreadsheet.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ListView {
    /// What its lines were taken as.
    pub kind: String,
    /// Whether it was written; else it was only tried.
    pub kept: bool,
    /// Its lines.
    pub rows: usize,
    /// Those that were not here.
    pub new: usize,
    /// Those that were here already.
    pub known: usize,
    /// What its columns became.
    pub columns: Vec<ColumnView>,
    /// What was odd about it.
    pub notes: Vec<String>,
}

/// What a column became.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ColumnView {
    /// Its heading.
    pub heading: String,
    /// The field; null where it was left out.
    pub field: Option<&'static str>,
    /// Its first cell.
    pub first: String,
}
