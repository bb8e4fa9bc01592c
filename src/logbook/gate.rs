//! Where those who open a studio and a restore that exchanges its file meet, so that nobody opens the one and writes
//! beside the other.
//!
//! An opener passes until SQLite's own locks stand, a restore shuts until the names are exchanged. It is a lock (flock) on
//! the folder, which leaves nothing behind and cannot be confused with SQLite's locks on the file.

use super::LogbookError;
use super::new_file::folder_of;
use std::fs::{File, TryLockError};
use std::path::Path;
use std::time::{Duration, Instant};

const PATIENCE: Duration = Duration::from_secs(5);
const PAUSE: Duration = Duration::from_millis(5);

/// Held while it is in scope.
#[derive(Debug)]
pub(super) struct Gate(#[allow(dead_code, reason = "held for its lifetime")] Option<File>);

impl Gate {
    /// For one who opens the file at `path`; others may too.
    pub(super) fn pass(path: &Path) -> Result<Self, LogbookError> {
        Self::take(path, File::try_lock_shared)
    }

    /// For one who exchanges the file at `path`.
    pub(super) fn shut(path: &Path) -> Result<Self, LogbookError> {
        Self::take(path, File::try_lock)
    }

    /// Where a system has no lock on folders, there is none.
    fn take(
        path: &Path,
        lock: impl Fn(&File) -> Result<(), TryLockError>,
    ) -> Result<Self, LogbookError> {
        let Ok(folder) = File::open(folder_of(path)) else {
            return Ok(Self(None));
        };
        let until = Instant::now() + PATIENCE;
        loop {
            match lock(&folder) {
                Ok(()) => return Ok(Self(Some(folder))),
                Err(TryLockError::Error(_)) => return Ok(Self(None)),
                Err(TryLockError::WouldBlock) if Instant::now() >= until => {
                    return Err(LogbookError::Busy);
                }
                Err(TryLockError::WouldBlock) => std::thread::sleep(PAUSE),
            }
        }
    }
}
