//! Names that were put right.

use crate::studio::{Merged, Retired};
use schemars::JsonSchema;
use serde::Serialize;

/// Two names of one thing that became one.
#[derive(Debug, Serialize, JsonSchema)]
pub struct MergedView {
    /// The name that is gone.
    merged: String,
    /// The name that stays.
    into: String,
}

impl MergedView {
    /// What was merged.
    #[must_use]
    pub fn of(merged: &Merged) -> Self {
        Self {
            merged: merged.from.clone(),
            into: merged.into.clone(),
        }
    }
}

/// What is no longer offered, or is again.
#[derive(Debug, Serialize, JsonSchema)]
pub struct RetiredView {
    name: String,
    retired: bool,
    /// The recipes that are offered and ask for it still.
    asked_by: Vec<String>,
}

impl RetiredView {
    /// What was retired, or brought back.
    #[must_use]
    pub fn of(done: &Retired) -> Self {
        Self {
            name: done.name.clone(),
            retired: done.retired,
            asked_by: done.asked_by.clone(),
        }
    }
}

/// What was removed.
#[derive(Debug, Serialize, JsonSchema)]
pub struct RemovedView {
    removed: String,
}

impl RemovedView {
    /// What was removed, by its name.
    #[must_use]
    pub fn of(name: &str) -> Self {
        Self {
            removed: name.to_owned(),
        }
    }
}
