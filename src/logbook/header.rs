//! A look at a file that cannot change it, so that a file of somebody else's is refused before it is opened to write.
//!
//! SQLite reads it, and not we ourselves: closing a database file by one's own hand drops the locks that this very
//! process holds on it elsewhere ("How To Corrupt An SQLite Database File", section 2.2.1,
//! <https://www.sqlite.org/howtocorrupt.html>).

use super::damage::Damage;
use super::faults::SystemFault;
use super::{APPLICATION_ID, LogbookError};
use rusqlite::{Connection, OpenFlags, OptionalExtension};
use std::fmt::Write;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

/// What can be told without writing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Look {
    /// No bytes at all: a studio may be started there.
    Empty,
    /// Ours, whole as far as its length tells.
    Ours { version: u32 },
    /// The file alone does not tell: an unfinished transaction lies beside it.
    AskSqlite,
}

/// Looks at the file without locking, writing or leaving anything beside it.
pub(super) fn look(path: &Path) -> Result<Look, LogbookError> {
    // Another program may be copying its log into the file: what looks broken is looked at again.
    look_once(path).or_else(|err| match err {
        LogbookError::Damaged(_) => look_once(path),
        other => Err(other),
    })
}

fn look_once(path: &Path) -> Result<Look, LogbookError> {
    let about = std::fs::metadata(path).map_err(|err| unreadable(path, &err))?;
    if about.is_dir() {
        return Err(LogbookError::Folder(path.into()));
    }
    if !about.is_file() {
        return Err(LogbookError::NotAFile(path.into()));
    }
    let seen = if about.len() == 0 {
        Ok(Look::Empty)
    } else {
        read_mark(path, about.len())
    };
    // Asked last: a log that came meanwhile makes whatever was seen count for nothing.
    if has_log(path) {
        return Ok(Look::AskSqlite);
    }
    seen
}

fn read_mark(path: &Path, length: u64) -> Result<Look, LogbookError> {
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY
        | OpenFlags::SQLITE_OPEN_URI
        | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let read = || -> rusqlite::Result<(i64, i64, i64, i64)> {
        let conn = Connection::open_with_flags(unchanging(path), flags)?;
        let ask = |name| conn.pragma_query_value(None, name, |row| row.get(0));
        Ok((
            ask("application_id")?,
            ask("user_version")?,
            ask("page_count")?,
            ask("page_size")?,
        ))
    };
    let (mark, version, pages, page) = read().map_err(|err| LogbookError::from(err).at(path))?;
    if mark != i64::from(APPLICATION_ID) {
        return Err(LogbookError::NotAStudio(path.into()));
    }
    // SQLite itself lets a last page pass that is only begun.
    if u64::try_from(pages.saturating_mul(page)).is_ok_and(|whole| whole > length) {
        let bytes = length;
        return Err(LogbookError::Damaged(Damage::CutShort { bytes }));
    }
    // A version below zero is none of ours: as good as one too new to be understood.
    Ok(Look::Ours {
        version: u32::try_from(version).unwrap_or(u32::MAX),
    })
}

/// The path as an address that tells SQLite to take the file as one that cannot change.
pub(super) fn unchanging(path: &Path) -> String {
    let mut address = String::from(if path.is_absolute() {
        "file://"
    } else {
        "file:"
    });
    for &byte in path.as_os_str().as_encoded_bytes() {
        if byte.is_ascii_alphanumeric() || b"/._-".contains(&byte) {
            address.push(char::from(byte));
        } else {
            let _writing_to_a_string_cannot_fail = write!(address, "%{byte:02X}");
        }
    }
    address + "?immutable=1"
}

fn unreadable(path: &Path, err: &std::io::Error) -> LogbookError {
    match err.kind() {
        ErrorKind::NotFound => LogbookError::Missing(path.into()),
        _ => LogbookError::Unreadable {
            path: path.into(),
            why: SystemFault::of(err),
        },
    }
}

/// Whether nothing stands at a path, or a file without a byte: there a new studio would begin.
#[must_use]
pub fn is_blank(path: &Path) -> bool {
    std::fs::metadata(path).map_or(true, |about| about.is_file() && about.len() == 0)
}

/// Whether an unfinished transaction lies beside the file.
pub(super) fn has_log(path: &Path) -> bool {
    has_bytes(&beside(path, "-wal")) || has_bytes(&beside(path, "-journal"))
}

pub(super) fn has_bytes(path: &Path) -> bool {
    std::fs::metadata(path).is_ok_and(|about| about.len() > 0)
}

/// Refuses a log beside a file that is another file's: the history is only ever added to, so the newest change that stands
/// in the file itself stands in the file with its log too.
pub(super) fn refuse_foreign_log(path: &Path, with_log: &Connection) -> Result<(), LogbookError> {
    // Another program may be copying the log into the file just now: what does not fit is looked at again.
    const LOOKS: u32 = 3;
    for look in 1..=LOOKS {
        let Some((id, uid)) = newest_in_file(path) else {
            return Ok(());
        };
        let sql = "SELECT uid FROM change WHERE id = ?1";
        let found: Option<String> = with_log.query_row(sql, [id], |row| row.get(0)).optional()?;
        if found == Some(uid) {
            return Ok(());
        }
        if look < LOOKS {
            std::thread::sleep(std::time::Duration::from_millis(50));
        }
    }
    Err(LogbookError::ForeignLog(path.into()))
}

/// The newest change in the file without its log; `None` where none can be read.
fn newest_in_file(path: &Path) -> Option<(i64, String)> {
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY
        | OpenFlags::SQLITE_OPEN_URI
        | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let conn = Connection::open_with_flags(unchanging(path), flags).ok()?;
    let sql = "SELECT id, uid FROM change ORDER BY id DESC LIMIT 1";
    conn.query_row(sql, [], |row| Ok((row.get(0)?, row.get(1)?)))
        .ok()
}

/// The file SQLite keeps beside a database under the same name and a suffix.
pub(super) fn beside(path: &Path, suffix: &str) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(suffix);
    PathBuf::from(name)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn file(bytes: &[u8]) -> (tempfile::TempDir, PathBuf) {
        let dir = tempfile::tempdir().unwrap();
        let path = dir.path().join("a.db");
        std::fs::write(&path, bytes).unwrap();
        (dir, path)
    }

    #[test]
    fn noise_nothing_and_a_folder_are_told_apart() {
        let (dir, path) = file(b"a shopping list, rather longer than sixteen bytes");
        assert_eq!(look(&path), Err(LogbookError::NotAStudio(path)));
        assert_eq!(
            look(dir.path()),
            Err(LogbookError::Folder(dir.path().into()))
        );
        let gone = dir.path().join("gone");
        assert_eq!(look(&gone), Err(LogbookError::Missing(gone)));
        let (_dir, path) = file(b"");
        assert_eq!(look(&path), Ok(Look::Empty));
    }

    #[test]
    fn mark_and_version_are_read_under_any_name() {
        let dir = tempfile::tempdir().unwrap();
        for name in ["plain.db", "odd ?name#1 50%41.db", "Künstlerstück.db"] {
            let path = dir.path().join(name);
            let conn = Connection::open(&path).unwrap();
            let sql =
                format!("PRAGMA application_id = {APPLICATION_ID}; PRAGMA user_version = 77;");
            conn.execute_batch(&format!("{sql} CREATE TABLE t (x);"))
                .unwrap();
            drop(conn);
            assert_eq!(look(&path), Ok(Look::Ours { version: 77 }), "{name}");
            let bytes = std::fs::read(&path).unwrap();
            std::fs::write(&path, &bytes[..4096]).unwrap();
            assert!(
                matches!(look(&path), Err(LogbookError::Damaged(_))),
                "{name}"
            );
        }
    }
}
