//! Man pages and completions, and where they stand.

use schemars::JsonSchema;
use serde::Serialize;

/// A file for a shell or for `man`.
#[derive(Debug, Serialize, JsonSchema)]
pub struct MannerView {
    /// What it is for.
    pub what: String,
    /// `missing`, `current`, `older`, `written`, `replaced`, or `foreign`: a file of somebody else's, which was left alone.
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
