//! What is said beside every deed.

use crate::studio::Remarks;
use crate::tell;
use crate::trade::amount::Measures;
use crate::trade::instant::Now;
use schemars::JsonSchema;
use serde::Serialize;

/// What is wrong, and what will happen, in sentences.
#[derive(Debug, Clone, Default, Serialize, JsonSchema)]
pub struct Remarked {
    /// What is wrong, or may be; the deed was done all the same.
    pub warnings: Vec<String>,
    /// What will happen, and may well be wished.
    pub notes: Vec<String>,
}

impl Remarked {
    /// What a deed's remarks say.
    #[must_use]
    pub fn of(remarks: &Remarks, measures: Measures, now: &Now) -> Self {
        Self {
            warnings: tell::warnings(remarks, measures, now),
            notes: tell::notes(remarks, measures, now),
        }
    }
}
