//! Man pages and completions, and where they stand.

use schemars::JsonSchema;
use serde::Serialize;

/// A file for a shell or for `man`.
#[derive(Debug, Serialize, JsonSchema)]
pub struct MannerView {
    /// What it is for.
    pub what: String,
    /// Whether it is there, was written or was left alone.
    pub state: String,
    /// Where it belongs.
    pub path: String,
}

/// All of them.
#[derive(Debug, Serialize, JsonSchema)]
pub struct MannersView {
    /// The files.
    pub files: Vec<MannerView>,
}
