//! Copies of a studio file: taken while it is in use, checked before they count, thinned by a rule.

use super::damage::NewerWord;
use super::faults::BackupFault;
use super::new_file::{NewFile, clear_left, common_rights};
use super::open::{check_whole, harden, make_private};
use super::{Logbook, LogbookError, Stamp, expired, rows};
use chrono::{DateTime, NaiveDateTime, Utc};
use rusqlite::Connection;
use rusqlite::backup::{Backup, StepResult};
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

/// Told after each stretch of a copy how many of how many pages are copied; what is copied is then checked.
pub type HowFar<'a> = &'a dyn Fn(usize, usize);

/// How many pages are copied between two words of how far it is: 8 MiB.
const AT_ONCE: i32 = 2048;

/// What a copy holds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Copied {
    /// Rows of all tables together, the same as in the source when it was copied.
    pub rows: u64,
    /// The copy's size in bytes.
    pub bytes: u64,
    /// The first word in it that only a newer program reads.
    pub newer: Option<NewerWord>,
}

/// A backup in its folder.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Kept {
    /// Where it stands.
    pub path: PathBuf,
    /// When it was taken.
    pub at: DateTime<Utc>,
    /// Its size in bytes.
    pub bytes: u64,
}

/// A copy that was just taken.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewCopy {
    /// Where it is.
    pub kept: Kept,
    /// The first word in it that only a newer program reads.
    pub newer: Option<NewerWord>,
}

/// A folder of dated backups of one studio.
#[derive(Debug, Clone)]
pub struct Backups {
    folder: PathBuf,
}

const PREFIX: &str = "studio-";
const SUFFIX: &str = ".db";
const DATED: &str = "%Y%m%dT%H%M%S%3fZ";

impl Backups {
    /// The backups in `folder`, which need not be there yet.
    pub fn new(folder: impl Into<PathBuf>) -> Self {
        Self {
            folder: folder.into(),
        }
    }

    /// Takes a backup, dated `at`.
    ///
    /// # Errors
    /// [`LogbookError::Exists`] where one of that very instant is there; as [`Logbook::copy_to`].
    pub fn take(
        &self,
        logbook: &Logbook,
        at: Stamp,
        told: HowFar<'_>,
    ) -> Result<NewCopy, LogbookError> {
        make_private(&self.folder)?;
        let at = at.utc().unwrap_or_default();
        let path = self
            .folder
            .join(format!("{PREFIX}{}{SUFFIX}", at.format(DATED)));
        let Copied { bytes, newer, .. } = logbook.copy_to(&path, told)?;
        let kept = Kept { path, at, bytes };
        Ok(NewCopy { kept, newer })
    }

    /// The backups there, newest first; files of other names are passed over.
    ///
    /// # Errors
    /// [`LogbookError::System`] where the folder cannot be read; a folder that is not there holds none.
    pub fn list(&self) -> Result<Vec<Kept>, LogbookError> {
        let failed = |err: std::io::Error| LogbookError::system(&self.folder, &err);
        clear_left(&self.folder);
        let mut found = Vec::new();
        let entries = match std::fs::read_dir(&self.folder) {
            Err(err) if err.kind() == ErrorKind::NotFound => return Ok(found),
            other => other.map_err(failed)?,
        };
        for entry in entries {
            let entry = entry.map_err(failed)?;
            let Some(at) = entry.file_name().to_str().and_then(read_date) else {
                continue;
            };
            let bytes = entry.metadata().map_err(failed)?.len();
            found.push(Kept {
                path: entry.path(),
                at,
                bytes,
            });
        }
        found.sort_by_key(|kept| std::cmp::Reverse(kept.at));
        Ok(found)
    }

    /// Removes the backups that [`expired`] lets go, and tells which.
    ///
    /// # Errors
    /// [`LogbookError::System`] where the folder cannot be read or a file not removed.
    pub fn thin(&self, now: DateTime<Utc>) -> Result<Vec<Kept>, LogbookError> {
        let all = self.list()?;
        let taken: Vec<DateTime<Utc>> = all.iter().map(|kept| kept.at).collect();
        let gone: Vec<Kept> = expired(&taken, now)
            .into_iter()
            .map(|at| all[at].clone())
            .collect();
        for kept in &gone {
            std::fs::remove_file(&kept.path)
                .map_err(|err| LogbookError::system(&kept.path, &err))?;
        }
        Ok(gone)
    }
}

fn read_date(name: &str) -> Option<DateTime<Utc>> {
    let date = name.strip_prefix(PREFIX)?.strip_suffix(SUFFIX)?;
    NaiveDateTime::parse_from_str(date, DATED)
        .ok()
        .map(|read| read.and_utc())
}

impl Logbook {
    /// Copies the studio into a new file, whole as of one instant, while others may go on writing.
    ///
    /// # Errors
    /// [`LogbookError::Exists`] where something stands there; [`LogbookError::BadBackup`] where the copy is not
    /// the source row for row; [`LogbookError::Full`] and others of the system. What failed leaves no file.
    pub fn copy_to(&self, target: &Path, told: HowFar<'_>) -> Result<Copied, LogbookError> {
        self.refuse_own_name(target)?;
        copy_to(self.conn(), &self.path, target, told)
    }
}

/// As [`Logbook::copy_to`], from any connection to the file at `path`.
pub(super) fn copy_to(
    source: &Connection,
    path: &Path,
    target: &Path,
    told: HowFar<'_>,
) -> Result<Copied, LogbookError> {
    if target.exists() {
        return Err(LogbookError::Exists(target.into()));
    }
    let new = NewFile::beside(target, common_rights(&[path]))?;
    let (rows, newer) = fill(source, new.path(), told)?;
    let bytes = new.place()?;
    Ok(Copied { rows, bytes, newer })
}

/// Copies the studio into an empty file, checks it, and tells how many rows it holds, and the first word in them that only a
/// newer program reads.
pub(super) fn fill(
    source: &Connection,
    partial: &Path,
    told: HowFar<'_>,
) -> Result<(u64, Option<NewerWord>), LogbookError> {
    // One reading transaction, so that what is counted is what is copied.
    let snapshot = source.unchecked_transaction()?;
    let rows = count_rows(&snapshot)?;
    let mut copy = Connection::open(partial).map_err(|err| LogbookError::from(err).at(partial))?;
    harden(&mut copy)?;
    copy_pages(&snapshot, &mut copy, told)?;
    // A copy is one file: no log beside it.
    copy.pragma_update(None, "journal_mode", "DELETE")?;
    let bad = |why: BackupFault| LogbookError::BadBackup {
        path: partial.into(),
        why,
    };
    if let Err(err) = check_whole(&copy, "integrity_check") {
        // A copy is no better than what it was made of.
        check_whole(&snapshot, "quick_check")?;
        return Err(bad(BackupFault::Unread(Box::new(err))));
    }
    let newer = rows::newer_word(&copy)?;
    let held = count_rows(&copy)?;
    if held != rows {
        return Err(bad(BackupFault::Rows { held, of: rows }));
    }
    Ok((rows, newer))
}

fn copy_pages(
    source: &Connection,
    copy: &mut Connection,
    told: HowFar<'_>,
) -> Result<(), LogbookError> {
    let backup = Backup::new(source, copy)?;
    loop {
        let step = backup.step(AT_ONCE)?;
        let progress = backup.progress();
        let pages = |count: i32| usize::try_from(count).unwrap_or(0);
        let of = pages(progress.pagecount);
        told(of.saturating_sub(pages(progress.remaining)), of);
        match step {
            StepResult::Done => return Ok(()),
            StepResult::More => {}
            _ => return Err(LogbookError::Busy),
        }
    }
}

fn count_rows(conn: &Connection) -> Result<u64, LogbookError> {
    let sql = "SELECT name FROM sqlite_schema WHERE type = 'table'";
    let mut read = conn.prepare(sql)?;
    let names: Vec<String> = read
        .query_map([], |row| row.get(0))?
        .collect::<Result<_, _>>()?;
    let mut rows = 0;
    for name in names {
        let quoted = name.replace('"', "\"\"");
        let count = format!("SELECT count(*) FROM \"{quoted}\"");
        let held: i64 = conn.query_row(&count, [], |row| row.get(0))?;
        rows += u64::try_from(held).unwrap_or(0);
    }
    Ok(rows)
}
