//! Man pages and completions put where the platform looks for them; only what was put there by this program is replaced.

use super::write_bytes;
use crate::studio::{Answer, StoreError, Studio};
use std::path::{Path, PathBuf};

/// Each of these files says by whom it was made.
pub const MADE_BY: &str = "made and renewed by Stillcup";

/// The person's own folders.
#[derive(Debug, Clone, Default)]
pub struct Homes {
    /// For data.
    pub data: PathBuf,
    /// For settings.
    pub config: PathBuf,
}

/// What stands where a file is to be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stands {
    /// Nothing yet.
    Missing,
    /// This very text.
    Current,
    /// What an earlier version of this program put there.
    Older,
    /// A file of somebody else's, which is left alone.
    Others,
}

/// What stands at a path now.
#[must_use]
pub fn stands(path: &Path, text: &str) -> Stands {
    match std::fs::read_to_string(path) {
        Ok(there) if there == text => Stands::Current,
        Ok(there) if there.contains(MADE_BY) => Stands::Older,
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => Stands::Missing,
        _ => Stands::Others,
    }
}

/// Puts a text there, unless it stands there or a file of somebody else's does; tells what stood there before.
///
/// # Errors
/// Where it cannot be written.
pub fn put_manner(studio: &Studio, path: &Path, text: &str) -> Answer<Stands> {
    let before = stands(path, text);
    if matches!(before, Stands::Missing | Stands::Older) {
        if let Some(folder) = path.parent() {
            let made = std::fs::create_dir_all(folder);
            made.map_err(|error| StoreError::system(folder, &error))?;
        }
        write_bytes(studio, path, before == Stands::Older, text.as_bytes())?;
    }
    Ok(before)
}

/// A painter's own file of keys, where there is one: its path, and its text; no text where it cannot be read.
#[must_use]
pub fn keys_file(homes: &Homes) -> Option<(String, Option<String>)> {
    let path = homes.config.join("stillcup").join("keys.toml");
    let text = match std::fs::read_to_string(&path) {
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => return None,
        read => read.ok(),
    };
    Some((path.display().to_string(), text))
}
