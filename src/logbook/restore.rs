//! Bringing a backup back: the present file is kept aside first, never overwritten.

use super::header::{self, Look, beside};
use super::new_file::{NewFile, common_rights};
use super::open::check_whole;
use super::{LogbookError, Stamp, Steps, migrate};
use rusqlite::{Connection, OpenFlags};
use std::fs::File;
use std::path::{Path, PathBuf};

/// What a restore did.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Restored {
    /// Where the file that stood there before is now; `None` where none stood there.
    pub aside: Option<PathBuf>,
}

/// Puts a copy of `backup` in the place of the studio file at `path`.
///
/// The present file goes aside, with its log, under a name dated `at`. Close the studio first.
///
/// # Errors
/// [`LogbookError::BadBackup`] where the backup is not whole or not ours; [`LogbookError::Newer`];
/// [`LogbookError::Busy`] where a program holds the present file; [`LogbookError::System`]. The file then stays.
pub fn restore(
    path: &Path,
    backup: &Path,
    at: Stamp,
    steps: &Steps,
) -> Result<Restored, LogbookError> {
    inspect(backup, steps)?;
    let new = NewFile::beside(path, common_rights(&[backup, path]))?;
    let copied = File::open(backup).and_then(|mut from| std::io::copy(&mut from, &mut new.file()));
    copied.map_err(|err| LogbookError::system(path, &err))?;
    exchange(path, new, at)
}

/// Refuses a backup that is not whole or not ours.
pub(super) fn inspect(backup: &Path, steps: &Steps) -> Result<(), LogbookError> {
    let bad = |why: String| LogbookError::BadBackup {
        path: backup.into(),
        why,
    };
    let version = match header::look(backup).map_err(|err| bad(err.to_string()))? {
        Look::Ours { version } => version,
        Look::Empty => return Err(bad("it is empty".into())),
        Look::AskSqlite => return Err(bad("an unfinished log lies beside it".into())),
    };
    let ours = migrate::latest(steps);
    if version > ours {
        return Err(LogbookError::Newer {
            file: version,
            ours,
        });
    }
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    Connection::open_with_flags(backup, flags)
        .map_err(LogbookError::from)
        .and_then(|conn| check_whole(&conn, "integrity_check"))
        .map_err(|err| bad(err.at(backup).to_string()))
}

fn exchange(path: &Path, new: NewFile, at: Stamp) -> Result<Restored, LogbookError> {
    // The log of a file that is gone would be taken for the log of the one that is brought back.
    if !path.exists() && !header::has_log(path) {
        new.place()?;
        return Ok(Restored { aside: None });
    }
    let _held = hold_alone(path)?;
    let aside = free_aside(path, at);
    move_all(path, &aside)?;
    if let Err(err) = new.place() {
        move_all(&aside, path)?;
        return Err(err);
    }
    Ok(Restored { aside: Some(aside) })
}

/// Holds the present file for ourselves, its log folded in; a file too broken for that is held by nobody.
fn hold_alone(path: &Path) -> Result<Option<Connection>, LogbookError> {
    let hold = || -> rusqlite::Result<Connection> {
        let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
        let conn = Connection::open_with_flags(path, flags)?;
        conn.busy_timeout(std::time::Duration::ZERO)?;
        // Leaving the log needs the file for oneself alone: any other open connection makes it fail.
        conn.pragma_update(None, "journal_mode", "DELETE")?;
        conn.execute_batch("BEGIN EXCLUSIVE")?;
        Ok(conn)
    };
    match hold().map_err(LogbookError::from) {
        Ok(conn) => Ok(Some(conn)),
        Err(LogbookError::Busy) => Err(LogbookError::Busy),
        Err(_) => Ok(None),
    }
}

fn free_aside(path: &Path, at: Stamp) -> PathBuf {
    let dated = at.utc().unwrap_or_default().format("%Y%m%dT%H%M%SZ");
    let first = beside(path, &format!(".aside-{dated}"));
    let more = (2..).map(|n: u32| beside(path, &format!(".aside-{dated}-{n}")));
    std::iter::once(first.clone())
        .chain(more)
        .find(|name| !name.exists())
        .unwrap_or(first)
}

/// Moves a database file and what SQLite keeps beside it; what lies beside goes first, as it makes the file whole.
fn move_all(from: &Path, to: &Path) -> Result<(), LogbookError> {
    for suffix in ["-wal", "-shm", "-journal", ""] {
        let (old, new) = (beside(from, suffix), beside(to, suffix));
        if old.exists() {
            std::fs::rename(&old, &new).map_err(|err| LogbookError::system(&old, &err))?;
        }
    }
    Ok(())
}
