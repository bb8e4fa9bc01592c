//! A look at a file's first hundred bytes, so that a file of somebody else's is refused before SQLite opens it.
//!
//! The layout is SQLite's published one ("Database File Format", section 1.3, <https://www.sqlite.org/fileformat.html>).

use super::{APPLICATION_ID, LogbookError};
use std::fs::File;
use std::io::{ErrorKind, Read};
use std::path::{Path, PathBuf};

const MAGIC: &[u8; 16] = b"SQLite format 3\0";

/// What the bytes alone tell.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Look {
    /// No bytes at all: a studio may be started there.
    Empty,
    /// Ours, whole as far as its length tells. A write-ahead log beside it may know better.
    Ours { version: u32 },
    /// Only SQLite itself can tell: an unfinished transaction lies beside the file.
    AskSqlite,
}

/// Looks at the file without opening it as a database.
pub(super) fn look(path: &Path) -> Result<Look, LogbookError> {
    // A copy of the log into the file may be under way in another program: a file found too short is looked at again.
    look_once(path).or_else(|err| match err {
        LogbookError::Damaged(_) => look_once(path),
        other => Err(other),
    })
}

fn look_once(path: &Path) -> Result<Look, LogbookError> {
    let head = read_head(path)?;
    let length = std::fs::metadata(path)
        .map_err(|err| unreadable(path, &err))?
        .len();
    if has_bytes(&beside(path, "-wal")) || has_bytes(&beside(path, "-journal")) {
        return judge_magic(path, &head).map(|()| Look::AskSqlite);
    }
    if head.is_empty() {
        return Ok(Look::Empty);
    }
    judge_magic(path, &head)?;
    judge(path, &head, length)
}

fn judge_magic(path: &Path, head: &[u8]) -> Result<(), LogbookError> {
    let shared = head.len().min(MAGIC.len());
    let same = head[..shared] == MAGIC[..shared];
    same.then_some(())
        .ok_or_else(|| LogbookError::NotAStudio(path.into()))
}

fn judge(path: &Path, head: &[u8], length: u64) -> Result<Look, LogbookError> {
    if head.len() < 100 {
        return Err(cut_short(length));
    }
    if u32_at(head, 68) != APPLICATION_ID.cast_unsigned() {
        return Err(LogbookError::NotAStudio(path.into()));
    }
    let page = match u16::from_be_bytes([head[16], head[17]]) {
        1 => 65_536,
        size => u64::from(size),
    };
    // The page count is only valid where the change counter agrees (section 1.3.7).
    let counted = u32_at(head, 24) == u32_at(head, 92);
    if counted && u64::from(u32_at(head, 28)) * page > length {
        return Err(cut_short(length));
    }
    Ok(Look::Ours {
        version: u32_at(head, 60),
    })
}

fn cut_short(length: u64) -> LogbookError {
    LogbookError::Damaged(format!(
        "it ends after {length} bytes, before its last page"
    ))
}

fn u32_at(head: &[u8], at: usize) -> u32 {
    u32::from_be_bytes([head[at], head[at + 1], head[at + 2], head[at + 3]])
}

fn read_head(path: &Path) -> Result<Vec<u8>, LogbookError> {
    let about = std::fs::metadata(path).map_err(|err| unreadable(path, &err))?;
    if about.is_dir() {
        return Err(LogbookError::Folder(path.into()));
    }
    let mut head = Vec::with_capacity(100);
    let file = File::open(path).map_err(|err| unreadable(path, &err))?;
    file.take(100)
        .read_to_end(&mut head)
        .map_err(|err| unreadable(path, &err))?;
    Ok(head)
}

fn unreadable(path: &Path, err: &std::io::Error) -> LogbookError {
    match err.kind() {
        ErrorKind::NotFound => LogbookError::Missing(path.into()),
        _ => LogbookError::Unreadable {
            path: path.into(),
            why: err.to_string(),
        },
    }
}

fn has_bytes(path: &Path) -> bool {
    std::fs::metadata(path).is_ok_and(|about| about.len() > 0)
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
    fn a_file_that_ends_in_its_own_header_is_damaged() {
        let (_dir, path) = file(&MAGIC[..]);
        assert!(matches!(look(&path), Err(LogbookError::Damaged(_))));
    }

    #[test]
    fn the_header_is_read_as_sqlite_writes_it() {
        let dir = tempfile::tempdir().unwrap();
        let path = dir.path().join("a.db");
        let conn = rusqlite::Connection::open(&path).unwrap();
        let sql = format!("PRAGMA application_id = {APPLICATION_ID}; PRAGMA user_version = 77;");
        conn.execute_batch(&format!(
            "PRAGMA page_size = 65536; {sql} CREATE TABLE t (x);"
        ))
        .unwrap();
        drop(conn);
        assert_eq!(look(&path), Ok(Look::Ours { version: 77 }));
        let bytes = std::fs::read(&path).unwrap();
        std::fs::write(&path, &bytes[..bytes.len() - 1]).unwrap();
        assert!(matches!(look(&path), Err(LogbookError::Damaged(_))));
    }
}
