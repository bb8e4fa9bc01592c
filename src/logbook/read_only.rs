//! Reading where nothing can be written: a file or folder that may only be read, a disk without room, a file that another
//! program holds, a file that is damaged.

use super::header;
use super::open::{Logbook, check_whole, claim, harden, is_small};
use super::{LogbookError, Steps, identity, migrate, schema, states, whole_check};
use rusqlite::{Connection, OpenFlags};
use std::path::Path;
use tempfile::TempDir;

/// A passing copy of a file and its log, which is read in their place and gone afterwards.
#[derive(Debug)]
pub(super) struct Shadow(#[allow(dead_code, reason = "held for its lifetime")] TempDir);

impl Logbook {
    /// Opens the studio file at `path` to read alone, because `why`; every write is then refused with that reason.
    ///
    /// A file without a log is read where it stands, and nothing is made beside it. One with a log is read from a passing
    /// copy, as only both together are the studio.
    ///
    /// # Errors
    /// `why`, where it cannot be read either, or is of an older version, which would have to be renewed first.
    pub fn open_to_read(
        path: &Path,
        steps: &'static Steps,
        why: LogbookError,
    ) -> Result<Self, LogbookError> {
        let path = &states::real_path(path);
        let open = || -> Result<Self, LogbookError> {
            let there = identity::of(path).ok_or_else(|| LogbookError::Missing(path.into()))?;
            let (conn, shadow) = look_in(path)?;
            let damaged = matches!(why, LogbookError::Damaged(_));
            if claim(&conn, path, steps)? != migrate::latest(steps) {
                return Err(why.clone());
            }
            if !damaged {
                check_whole(&conn, "quick_check")?;
                schema::refuse_altered(&conn, steps, migrate::latest(steps))?;
            }
            let mut book = Self::of(conn, path, there, steps)?;
            (book.barred, book.shadow) = (Some(why.clone()), shadow);
            Ok(book)
        };
        open().map_err(|err| match err {
            LogbookError::Altered(_) => err,
            _ => why.clone(),
        })
    }
}

/// What a file was found to be that was only looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Inspected {
    /// Its size.
    pub bytes: u64,
    /// Whether it is of an older version, which the next opening renews.
    pub older: bool,
    /// Whether all of it was read.
    pub whole: bool,
}

/// Looks at a studio's file: not a byte of it is changed, and nothing is made beside it.
///
/// # Errors
/// What would keep it from being opened, or written.
pub fn inspect(path: &Path, steps: &'static Steps) -> Result<Inspected, LogbookError> {
    let path = &states::real_path(path);
    let looked = || {
        let about = std::fs::metadata(path).map_err(|err| LogbookError::system(path, &err))?;
        let (conn, _shadow) = look_in(path)?;
        let version = claim(&conn, path, steps)?;
        let whole = is_small(path) || whole_check::is_suspect(path);
        if whole {
            check_whole(&conn, "quick_check")?;
        }
        schema::refuse_altered(&conn, steps, version)?;
        if about.permissions().readonly() {
            return Err(LogbookError::ReadOnly);
        }
        if identity::has_other_names(path) {
            return Err(LogbookError::TwoNames(path.into()));
        }
        Ok(Inspected {
            bytes: about.len(),
            older: version < migrate::latest(steps),
            whole,
        })
    };
    looked().map_err(|err| err.at(path))
}

fn look_in(path: &Path) -> Result<(Connection, Option<Shadow>), LogbookError> {
    if !header::has_log(path) {
        let flags = OpenFlags::SQLITE_OPEN_READ_ONLY
            | OpenFlags::SQLITE_OPEN_URI
            | OpenFlags::SQLITE_OPEN_NO_MUTEX;
        return Ok((
            Connection::open_with_flags(header::unchanging(path), flags)?,
            None,
        ));
    }
    let failed = |err: std::io::Error| LogbookError::system(path, &err);
    let folder = tempfile::tempdir().map_err(failed)?;
    let copy = folder.path().join("studio.db");
    for suffix in ["", "-wal", "-journal"] {
        let from = header::beside(path, suffix);
        if from.exists() {
            std::fs::copy(&from, header::beside(&copy, suffix)).map_err(failed)?;
        }
    }
    #[cfg(unix)]
    allow_owner(&copy).map_err(failed)?;
    let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let mut conn = Connection::open_with_flags(&copy, flags)?;
    harden(&mut conn)?;
    Ok((conn, Some(Shadow(folder))))
}

/// A copy takes the rights of what it was made of along, and SQLite must fold the log in.
#[cfg(unix)]
fn allow_owner(copy: &Path) -> std::io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    for suffix in ["", "-wal", "-journal"] {
        let path = header::beside(copy, suffix);
        if path.exists() {
            std::fs::set_permissions(path, std::fs::Permissions::from_mode(0o600))?;
        }
    }
    Ok(())
}
