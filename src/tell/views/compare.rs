//! Two pictures side by side.

use super::Telling;
use crate::studio::{Aspect, Compared, Comparison};
use schemars::JsonSchema;
use serde::Serialize;

/// Two pictures side by side.
#[derive(Debug, Serialize, JsonSchema)]
pub struct ComparisonView {
    /// The pour that was asked for.
    pour: i64,
    /// The pour that it is held against.
    with: i64,
    /// Whether the one makes the other once more.
    repeats: bool,
    lines: Vec<ComparedView>,
}

/// One aspect of two pictures, in words.
#[derive(Debug, Serialize, JsonSchema)]
pub struct ComparedView {
    aspect: String,
    /// The layer's number, the lowest 1; null where it is none of a layer.
    layer: Option<usize>,
    /// What the pour had; null where it is not known.
    this: Option<String>,
    /// What the other had.
    other: Option<String>,
    /// Whether both had the same, as well as it can be measured at a bench; null where one is not known.
    same: Option<bool>,
}

impl ComparisonView {
    /// Two pictures side by side.
    #[must_use]
    pub fn of(comparison: &Comparison, telling: &Telling<'_>) -> Self {
        let lines = comparison.lines.iter();
        Self {
            pour: comparison.left.pour.id,
            with: comparison.right.pour.id,
            repeats: comparison.repeats,
            lines: lines.map(|line| ComparedView::of(line, telling)).collect(),
        }
    }
}

impl ComparedView {
    fn of(line: &Compared, telling: &Telling<'_>) -> Self {
        let words = telling.words(&line.aspect);
        let aspect = match line.aspect {
            Aspect::Layer(_) => "variant",
            _ => words.trim(),
        };
        Self {
            aspect: aspect.to_owned(),
            layer: line.aspect.layer(),
            this: line.left.as_ref().map(|had| telling.words(had)),
            other: line.right.as_ref().map(|had| telling.words(had)),
            same: line.same(),
        }
    }
}
