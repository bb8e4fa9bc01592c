//! Which file stands at a path: one that was removed, or replaced by another, while it was open must not go on
//! being written, because nobody would ever find what was kept there.

use super::{Logbook, LogbookError};
use std::path::Path;
#[cfg(not(unix))]
use std::path::PathBuf;

/// What tells one file from another at the same path.
#[cfg(unix)]
pub(super) type Identity = (u64, u64);
/// An open file cannot be removed or replaced here, so its path tells it.
#[cfg(not(unix))]
pub(super) type Identity = PathBuf;

/// The file at a path; `None` where none stands there.
#[cfg(unix)]
pub(super) fn of(path: &Path) -> Option<Identity> {
    use std::os::unix::fs::MetadataExt;
    let about = std::fs::metadata(path).ok()?;
    Some((about.dev(), about.ino()))
}

/// The file at a path; `None` where none stands there.
#[cfg(not(unix))]
pub(super) fn of(path: &Path) -> Option<Identity> {
    path.canonicalize().ok()
}

/// Whether the file has another name (a hard link): under each SQLite would keep a log of its own, and know nothing of the
/// other's ("How To Corrupt An SQLite Database File", section 2.5, <https://www.sqlite.org/howtocorrupt.html>).
#[cfg(unix)]
pub(super) fn has_other_names(path: &Path) -> bool {
    use std::os::unix::fs::MetadataExt;
    std::fs::metadata(path).is_ok_and(|about| about.nlink() > 1)
}

/// Whether the file has another name: not told here.
#[cfg(not(unix))]
pub(super) fn has_other_names(_: &Path) -> bool {
    false
}

impl Logbook {
    /// Refuses where the file that is open no longer stands at its path.
    pub(super) fn in_place(&self) -> Result<(), LogbookError> {
        match of(&self.path) {
            Some(there) if there == self.identity => Ok(()),
            Some(_) => Err(LogbookError::Replaced(self.path.clone())),
            None => Err(LogbookError::Gone(self.path.clone())),
        }
    }

    /// Refuses once where another studio was put in the place of this one, and opens that.
    pub(super) fn follow(&mut self) -> Result<(), LogbookError> {
        let Err(err) = self.in_place() else {
            return Ok(());
        };
        if matches!(err, LogbookError::Replaced(_)) {
            let mut other = Self::open(&self.path, self.steps)?;
            if self.beside.is_some() {
                other.check_beside();
            }
            *self = Self {
                patience: self.patience,
                seen: None,
                ..other
            };
            self.keep_patience()?;
        }
        Err(err)
    }
}
