//! What a checkup found.

use crate::tell::checkup::Finding;
use schemars::JsonSchema;
use serde::Serialize;

/// Everything that was looked at.
#[derive(Debug, Serialize, JsonSchema)]
pub struct CheckupView {
    /// One thing each, with what to do.
    pub findings: Vec<Finding>,
}
