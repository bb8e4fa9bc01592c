//! Bringing a backup back: its copy and the present file change places in one step, so that a whole studio stands there
//! at every instant, and the present file is kept aside.

use super::backup;
use super::damage::NewerWord;
use super::faults::BackupFault;
use super::gate::Gate;
use super::header::{self, Look, beside};
use super::new_file::{NewFile, common_rights, sync_folder};
use super::open::{check_whole, harden};
use super::{LogbookError, Stamp, Steps, identity, migrate, rows, states};
use rusqlite::config::DbConfig;
use rusqlite::{Connection, OpenFlags};
use std::fs::File;
use std::path::{Path, PathBuf};
use std::time::Duration;

/// What a restore did.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Restored {
    /// Where the file that stood there before is now; `None` where none stood there.
    pub aside: Option<PathBuf>,
    /// The first word in what was brought back that only a newer program reads.
    pub newer: Option<NewerWord>,
}

/// How long other programs that only look in are waited for.
const PATIENCE: Duration = Duration::from_secs(1);

/// What SQLite keeps beside a file.
const LOGS: [&str; 3] = ["-wal", "-shm", "-journal"];

/// Puts a copy of `backup` in the place of the studio file at `path`, or of the one that a link there leads to.
///
/// The present file goes aside, with its log, under a name dated `at`. Close the studio first; who opens it meanwhile
/// waits.
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
    let path = &states::real_path(path);
    if identity::of(backup).is_some_and(|one| identity::of(path) == Some(one)) {
        return Err(bad(backup, BackupFault::Itself));
    }
    let new = NewFile::beside(path, common_rights(&[backup, path]))?;
    let newer = fill(&new, backup, steps)?;
    let _shut = Gate::shut(path)?;
    let aside = exchange(path, new, at)?;
    Ok(Restored { aside, newer })
}

fn bad(backup: &Path, why: BackupFault) -> LogbookError {
    LogbookError::BadBackup {
        path: backup.into(),
        why,
    }
}

fn unread(backup: &Path, why: LogbookError) -> LogbookError {
    bad(backup, BackupFault::Unread(Box::new(why)))
}

/// Copies a backup that is whole and ours into a new file, and tells the first word in it that only a newer program reads.
fn fill(new: &NewFile, backup: &Path, steps: &Steps) -> Result<Option<NewerWord>, LogbookError> {
    if let Look::AskSqlite = header::look(backup).map_err(|err| unread(backup, err))? {
        // What lies in its log belongs to it: SQLite reads both.
        let whole =
            with_log(backup).and_then(|source| backup::fill(&source, new.path(), &|_, _| ()));
        let (_, newer) = whole.map_err(|err| unread(backup, err))?;
        return open_whole(new.path(), steps).map(|_| newer);
    }
    // A row that is damaged is said by whoever opens the file: what is brought back may be all there is.
    let newer = rows::newer_word(&open_whole(backup, steps)?).unwrap_or_default();
    let copied = File::open(backup).and_then(|mut from| std::io::copy(&mut from, &mut new.file()));
    copied
        .map(|_| newer)
        .map_err(|err| LogbookError::system(new.path(), &err))
}

/// A connection to a file and its log that leaves both as they are.
fn with_log(path: &Path) -> Result<Connection, LogbookError> {
    let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let mut conn = Connection::open_with_flags(path, flags)?;
    harden(&mut conn)?;
    conn.set_db_config(DbConfig::SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, true)?;
    Ok(conn)
}

/// A connection to a backup that is whole and ours, and cannot be written.
pub(super) fn open_whole(backup: &Path, steps: &Steps) -> Result<Connection, LogbookError> {
    let version = match header::look(backup).map_err(|err| unread(backup, err))? {
        Look::Ours { version } => version,
        Look::Empty => return Err(bad(backup, BackupFault::Empty)),
        Look::AskSqlite => return Err(bad(backup, BackupFault::LogBeside)),
    };
    let ours = migrate::latest(steps);
    if version > ours {
        return Err(LogbookError::Newer {
            file: version,
            ours,
        });
    }
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY
        | OpenFlags::SQLITE_OPEN_URI
        | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let conn = Connection::open_with_flags(header::unchanging(backup), flags)?;
    check_whole(&conn, "integrity_check").map_err(|err| unread(backup, err.at(backup)))?;
    Ok(conn)
}

fn exchange(path: &Path, new: NewFile, at: Stamp) -> Result<Option<PathBuf>, LogbookError> {
    // The log of a file that is gone would be taken for the log of the one that is brought back.
    if !path.exists() && !header::has_log(path) {
        new.place()?;
        return Ok(None);
    }
    let held = hold_alone(path)?;
    let aside = free_aside(path, at);
    match held {
        Some(_) => change_places(path, new, &aside)?,
        None => put_aside_broken(path, new, &aside)?,
    }
    Ok(Some(aside))
}

/// The new file, whole, takes the name aside first; then the two names are exchanged in one step.
fn change_places(path: &Path, new: NewFile, aside: &Path) -> Result<(), LogbookError> {
    new.place_at(aside)?;
    let failed = |err: std::io::Error| LogbookError::system(path, &err);
    let exchanged = exchange_names(aside, path).or_else(|err| match err.kind() {
        std::io::ErrorKind::Unsupported | std::io::ErrorKind::InvalidInput => {
            rename_over(aside, path)
        }
        _ => Err(err),
    });
    exchanged.map_err(failed)?;
    sync_folder(path);
    Ok(())
}

#[cfg(any(target_os = "linux", target_os = "macos"))]
fn exchange_names(one: &Path, other: &Path) -> std::io::Result<()> {
    use rustix::fs::{CWD, RenameFlags, renameat_with};
    Ok(renameat_with(CWD, one, CWD, other, RenameFlags::EXCHANGE)?)
}

#[cfg(not(any(target_os = "linux", target_os = "macos")))]
fn exchange_names(_: &Path, _: &Path) -> std::io::Result<()> {
    Err(std::io::ErrorKind::Unsupported.into())
}

/// Where names cannot be exchanged: the present file has a second name before the new one takes its first.
fn rename_over(new: &Path, path: &Path) -> std::io::Result<()> {
    let second = beside(new, ".old");
    std::fs::hard_link(path, &second)?;
    std::fs::rename(new, path)?;
    std::fs::rename(&second, new)
}

/// A file that SQLite cannot open, and the log that makes nothing of it, go aside piece by piece: all is aside, by a second
/// name where the file system knows them, before anything is taken away.
fn put_aside_broken(path: &Path, new: NewFile, aside: &Path) -> Result<(), LogbookError> {
    for suffix in LOGS.into_iter().chain([""]) {
        let (old, put) = (beside(path, suffix), beside(aside, suffix));
        if old.exists() && std::fs::hard_link(&old, &put).is_err() {
            copy_whole(&old, &put).map_err(|err| LogbookError::system(&put, &err))?;
        }
    }
    sync_folder(path);
    for suffix in LOGS {
        let old = beside(path, suffix);
        if old.exists() {
            std::fs::remove_file(&old).map_err(|err| LogbookError::system(&old, &err))?;
        }
    }
    // A log that came back after a fall of the power would be taken for the new file's.
    sync_folder(path);
    new.replace().map(drop)
}

/// Copies a file, and brings the copy to the disk.
fn copy_whole(from: &Path, to: &Path) -> std::io::Result<()> {
    std::fs::copy(from, to)?;
    File::open(to)?.sync_all()
}

/// Holds the present file for ourselves, its log folded in; a file too broken for that is held by nobody.
fn hold_alone(path: &Path) -> Result<Option<Connection>, LogbookError> {
    let until = std::time::Instant::now() + PATIENCE;
    loop {
        match hold_once(path).map_err(LogbookError::from) {
            Ok(conn) => return Ok(Some(conn)),
            Err(LogbookError::Busy) if std::time::Instant::now() < until => {
                std::thread::sleep(Duration::from_millis(20));
            }
            Err(LogbookError::Damaged(_) | LogbookError::NotAStudio(_)) => return Ok(None),
            Err(_) if !path.exists() => return Ok(None),
            Err(other) => return Err(other.at(path)),
        }
    }
}

fn hold_once(path: &Path) -> rusqlite::Result<Connection> {
    let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let conn = Connection::open_with_flags(path, flags)?;
    conn.busy_timeout(Duration::ZERO)?;
    // Leaving the log needs the file for oneself alone: any other open connection makes it fail.
    conn.pragma_update(None, "journal_mode", "DELETE")?;
    conn.execute_batch("BEGIN EXCLUSIVE")?;
    Ok(conn)
}

fn free_aside(path: &Path, at: Stamp) -> PathBuf {
    let dated = at.utc().unwrap_or_default().format(states::ASIDE_DATED);
    let first = beside(path, &format!("{}{dated}", states::ASIDE));
    let more = (2..).map(|n: u32| beside(path, &format!("{}{dated}-{n}", states::ASIDE)));
    std::iter::once(first.clone())
        .chain(more)
        .find(|name| !name.exists())
        .unwrap_or(first)
}
