//! What was done, taken back and done again; and what was refused.

use super::Telling;
use crate::studio::{Change, Names};
use crate::tell;
use schemars::JsonSchema;
use serde::Serialize;

/// One change of the history.
#[derive(Debug, Serialize, JsonSchema)]
pub struct ChangeView {
    change: i64,
    at: Option<String>,
    /// `do`, `undo` or `redo`.
    kind: String,
    what: String,
    /// The change that it takes back.
    of: Option<i64>,
    stands: bool,
}

/// What was done, newest first.
#[derive(Debug, Serialize, JsonSchema)]
pub struct HistoryView {
    history: Vec<ChangeView>,
}

impl ChangeView {
    /// One change, in today's names.
    #[must_use]
    pub fn of(change: &Change, names: &Names, telling: &Telling<'_>) -> Self {
        Self {
            change: change.id,
            at: change.at.local().map(|at| telling.stamp(at)),
            kind: change.kind.word().to_owned(),
            what: tell::change(change, names, telling.measures),
            of: change.target,
            stands: change.done,
        }
    }
}

/// What was taken back.
#[derive(Debug, Serialize, JsonSchema)]
pub struct UndoneView {
    /// What it was, in words.
    pub undone: String,
}

/// What was done again.
#[derive(Debug, Serialize, JsonSchema)]
pub struct RedoneView {
    /// What it was, in words.
    pub redone: String,
}

/// Why nothing was done.
#[derive(Debug, Serialize, JsonSchema)]
pub struct RefusedView {
    /// In a sentence.
    pub refused: String,
    /// What to do next.
    pub hint: String,
}
