//! What can go wrong with a studio file: kinds, each one plain sentence and a hint of what to do next.

use crate::trade::text::inert;
use rusqlite::{ErrorCode, ffi};
use std::path::PathBuf;
use thiserror::Error;

/// Why the studio file could not be opened, read or written.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum LogbookError {
    /// No file stands there.
    #[error("there is no studio file at {}", .0.display())]
    Missing(PathBuf),
    /// The path is a folder.
    #[error("{} is a folder, not a studio file", .0.display())]
    Folder(PathBuf),
    /// The path is a pipe or a device.
    #[error("{} is a pipe or a device, not a studio file", .0.display())]
    NotAFile(PathBuf),
    /// The file was removed while it was open.
    #[error("the studio's file {} is gone; nothing was kept", .0.display())]
    Gone(PathBuf),
    /// Another file was put in its place while it was open.
    #[error("another file was put in the place of {}; nothing was kept", .0.display())]
    Replaced(PathBuf),
    /// No file, but copies of it, so that a new studio would hide the loss.
    #[error("the studio's file {} is gone or empty, but there are copies of it", .0.display())]
    Lost(PathBuf),
    /// The log of a file that is not there.
    #[error("there is no studio file at {}, but its unfinished log lies there", .0.display())]
    LogAlone(PathBuf),
    /// The log beside a file is another file's.
    #[error("the log beside {} is not that file's; nothing was touched", .0.display())]
    ForeignLog(PathBuf),
    /// Its tables are not those that this program made.
    #[error("the studio file was altered by another hand: {0}")]
    Altered(String),
    /// A word in a row that this build does not know.
    #[error("{0} was written by a newer Stillcup")]
    Unknown(String),
    /// The system does not let us read it.
    #[error("{} cannot be read: {why}", .path.display())]
    Unreadable {
        /// The file.
        path: PathBuf,
        /// The system's reason.
        why: String,
    },
    /// Not a database, or somebody else's.
    #[error("{} is not a studio file", .0.display())]
    NotAStudio(PathBuf),
    /// Written by a later program.
    #[error(
        "the studio file has version {file}, this program knows up to version {ours}; \
         the file was not touched"
    )]
    Newer {
        /// The file's version.
        file: u32,
        /// The latest version this program knows.
        ours: u32,
    },
    /// Truncated, torn or otherwise broken.
    #[error("the studio file is damaged: {0}")]
    Damaged(String),
    /// Somebody else holds it.
    #[error("the studio file is held by another program")]
    Busy,
    /// It may not be written.
    #[error("the studio file, or the folder it stands in, may only be read, not written")]
    ReadOnly,
    /// It lies on another machine's disk, where two machines would not hear of each other.
    #[error(
        "{} lies on another machine's disk ({kind}), where locks do not hold between machines",
        .path.display()
    )]
    Unlocked {
        /// The file.
        path: PathBuf,
        /// Which file system, and the option that says so.
        kind: String,
    },
    /// It has two names, and would have a log under each.
    #[error("{} has a second name (a hard link), under which a log of its own would be kept", .0.display())]
    TwoNames(PathBuf),
    /// The disk is full.
    #[error("the disk is full; nothing was kept")]
    Full,
    /// The disk failed to read or write.
    #[error("the disk failed: {0}")]
    Disk(String),
    /// A migration step failed; the file stands as it was before that step.
    #[error("step {number} ({name}) of the file's renewal failed, the file stays as it was: {why}")]
    Step {
        /// The step's number.
        number: u32,
        /// The step's name.
        name: String,
        /// What failed.
        why: String,
    },
    /// The row is no longer what the change left.
    #[error("this cannot be taken back: {0}")]
    Moved(String),
    /// No change is left to undo.
    #[error("there is nothing to undo")]
    NothingToUndo,
    /// No undo is left to redo.
    #[error("there is nothing to redo")]
    NothingToRedo,
    /// No change with that number.
    #[error("there is no change {0}")]
    NoSuchChange(i64),
    /// A row to be changed is not there.
    #[error("there is no {table} {id}")]
    NoSuchRow {
        /// The table.
        table: String,
        /// The row's id.
        id: i64,
    },
    /// A name the studio file does not know (a table, or `table.column`).
    #[error("the studio file knows no {0}")]
    UnknownName(String),
    /// A number that is no number.
    #[error("{table}.{column} must be a finite number")]
    NotFinite {
        /// The table.
        table: String,
        /// The column.
        column: String,
    },
    /// The file's own rules refuse it.
    #[error("the studio file refuses this: {0}")]
    Rule(String),
    /// A row of another studio that does not fit.
    #[error("{} cannot be taken in: {}", inert(.what), inert(.why))]
    Foreign {
        /// Which row.
        what: String,
        /// Why it does not fit.
        why: String,
    },
    /// Rows of another studio that cannot all be true.
    #[error("the file contradicts itself: {}", inert(&.0.join("; ")))]
    Contradicts(Vec<String>),
    /// A write reached more rows than the one it named, so it could not be taken back.
    #[error("a write to {0} reached further rows, which would not be recorded")]
    Unrecorded(String),
    /// Looked up again after an error: it was not kept.
    #[error("this was not kept: {0}")]
    NotKept(String),
    /// After an error it could not be found out whether it was kept.
    #[error("it is not confirmed whether this was kept ({uid}): {why}")]
    Unconfirmed {
        /// The uid under which to look again.
        uid: String,
        /// What failed.
        why: String,
    },
    /// A file that would be overwritten.
    #[error("{} is already there and is never overwritten", .0.display())]
    Exists(PathBuf),
    /// A place where nothing is to be written.
    #[error("{} is {is} and is never written over", .path.display())]
    NotToWrite {
        /// The place.
        path: PathBuf,
        /// What stands there, in words.
        is: &'static str,
    },
    /// A backup that is not whole.
    #[error("the backup {} is not whole: {why}", .path.display())]
    BadBackup {
        /// The backup.
        path: PathBuf,
        /// What is wrong with it.
        why: String,
    },
    /// The system refused something beside the database.
    #[error("{}: {why}", .path.display())]
    System {
        /// The file or folder.
        path: PathBuf,
        /// The system's reason.
        why: String,
    },
    /// Anything else SQLite says.
    #[error("the studio file answers: {0}")]
    Sql(String),
}

impl LogbookError {
    /// Whether what was asked makes no sense, rather than the store having failed.
    #[must_use]
    pub const fn is_refusal(&self) -> bool {
        matches!(
            self,
            Self::Moved(_)
                | Self::NothingToUndo
                | Self::NothingToRedo
                | Self::NoSuchChange(_)
                | Self::NotToWrite { .. }
                | Self::Foreign { .. }
                | Self::Contradicts(_)
        )
    }

    /// Whether a copy would help: the file is damaged, lost or somebody else's.
    #[must_use]
    pub const fn wants_a_copy(&self) -> bool {
        matches!(
            self,
            Self::Damaged(_)
                | Self::NotAStudio(_)
                | Self::Lost(_)
                | Self::LogAlone(_)
                | Self::ForeignLog(_)
                | Self::Altered(_)
                | Self::Gone(_)
                | Self::BadBackup { .. }
        )
    }

    /// Whether the file can perhaps be read, though not written.
    #[must_use]
    pub const fn leaves_reading(&self) -> bool {
        matches!(
            self,
            Self::ReadOnly
                | Self::Unlocked { .. }
                | Self::TwoNames(_)
                | Self::Full
                | Self::Busy
                | Self::Damaged(_)
                | Self::Disk(_)
                | Self::Unreadable { .. }
                | Self::System { .. }
        )
    }

    /// What to do next.
    #[must_use]
    pub const fn hint(&self) -> &'static str {
        match self {
            Self::Missing(_) => "check the path, or start a new studio there",
            Self::Folder(_) => "name a file inside it",
            Self::NotAFile(_) => "name a file",
            Self::Gone(_) => "put it back where it was; no copy of it is known here",
            Self::Replaced(_) => "look at what is there now, then do it again",
            Self::Lost(_) => "none of them is whole; to begin anew, move them away first",
            Self::LogAlone(_) => "put the file back where it was; no copy of it is known here",
            Self::ForeignLog(_) => "move the log away (its name ends in -wal), then look again",
            Self::Altered(_) => "what it holds can still be read by any reader of SQLite files",
            Self::Unknown(_) => "use the newer program",
            Self::Unreadable { .. } | Self::ReadOnly => {
                "check the permissions of the file and its folder"
            }
            Self::Unlocked { .. } => {
                "what is there can be read; keep the studio on a disk of this machine, and bring it over by backup and restore"
            }
            Self::TwoNames(_) => {
                "what is there can be read; take a copy with backup in place of the second name, and remove that"
            }
            Self::NotAStudio(_) => "check the path; the file was left as it is",
            Self::Newer { .. } => "use the newer program, or a backup made before the renewal",
            Self::Damaged(_) => {
                "no whole copy is known here; what can be read may be taken out: stillcup export FILE"
            }
            Self::Busy => "close the other program, or try again in a moment",
            Self::Full => "free some space on the disk, then do it again",
            Self::Disk(_) => "look after the disk, and take a backup to another one",
            Self::Step { .. } => "the copy made before the renewal stands beside the file",
            Self::Moved(_) => "undo the later change first",
            Self::NothingToUndo | Self::NothingToRedo | Self::NoSuchChange(_) => "see the history",
            Self::NoSuchRow { .. } => "read it again; it may have been removed meanwhile",
            Self::UnknownName(_) | Self::Unrecorded(_) | Self::Sql(_) => {
                "this is a fault of the program; nothing was kept"
            }
            Self::NotFinite { .. } | Self::Rule(_) => "check what was entered",
            Self::Foreign { .. } => {
                "nothing was changed; export it again from the studio it came from"
            }
            Self::Contradicts(_) => {
                "nothing was changed; where it is so all the same, say --even-so"
            }
            Self::NotKept(_) => "do it again",
            Self::Unconfirmed { .. } => "open the studio again and look before doing it twice",
            Self::Exists(_) | Self::NotToWrite { .. } => "choose another name",
            Self::BadBackup { .. } => "choose another backup",
            Self::System { .. } => "check the folder, its permissions and the space left",
        }
    }

    /// The same, naming the file where SQLite did not.
    pub(super) fn at(self, path: &std::path::Path) -> Self {
        match self {
            Self::NotAStudio(_) => Self::NotAStudio(path.into()),
            Self::Unreadable { why, .. } => Self::Unreadable {
                path: path.into(),
                why,
            },
            other => other,
        }
    }

    /// An error of the file system, with the path it concerns.
    pub(super) fn system(path: &std::path::Path, err: &std::io::Error) -> Self {
        use std::io::ErrorKind;
        match err.kind() {
            ErrorKind::StorageFull => Self::Full,
            ErrorKind::ReadOnlyFilesystem => Self::ReadOnly,
            ErrorKind::QuotaExceeded => Self::System {
                path: path.into(),
                why: "no more is allowed to you on this disk".into(),
            },
            ErrorKind::FileTooLarge => Self::System {
                path: path.into(),
                why: "no file may grow so large here".into(),
            },
            _ => Self::System {
                path: path.into(),
                why: err.to_string(),
            },
        }
    }
}

impl From<rusqlite::Error> for LogbookError {
    fn from(err: rusqlite::Error) -> Self {
        if let rusqlite::Error::FromSqlConversionFailure(_, _, why) = &err
            && let Some(NewerWord(what)) = why.downcast_ref()
        {
            return Self::Unknown(what.clone());
        }
        let why = err.to_string();
        if is_no_value(&err) {
            return Self::Damaged(why);
        }
        match err.sqlite_error_code() {
            Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => Self::Busy,
            Some(ErrorCode::ReadOnly) => Self::ReadOnly,
            Some(ErrorCode::SystemIoFailure) => of_disk(&err),
            Some(ErrorCode::DiskFull) => Self::Full,
            Some(ErrorCode::DatabaseCorrupt) => Self::Damaged(why),
            Some(ErrorCode::NotADatabase) => Self::NotAStudio(PathBuf::new()),
            Some(ErrorCode::CannotOpen | ErrorCode::PermissionDenied) => Self::Unreadable {
                path: PathBuf::new(),
                why: "the system does not let it be opened".to_owned(),
            },
            Some(ErrorCode::ConstraintViolation) => Self::Rule(why),
            _ => Self::Sql(why),
        }
    }
}

/// A word that this build does not know, on its way through SQLite's own errors.
#[derive(Debug, Error)]
#[error("{0} is not known to this build")]
pub(super) struct NewerWord(pub(super) String);

/// What failed on the disk, by SQLite's own code.
fn of_disk(err: &rusqlite::Error) -> LogbookError {
    let code = err.sqlite_error().map_or(0, |err| err.extended_code);
    LogbookError::Disk(match code {
        // The log's index could not grow, and SQLite does not tell why: there was no room for it.
        ffi::SQLITE_IOERR_SHMSIZE => return LogbookError::Full,
        ffi::SQLITE_IOERR_CORRUPTFS => "its file system is damaged".into(),
        ffi::SQLITE_IOERR_READ | ffi::SQLITE_IOERR_SHORT_READ => "it could not be read".into(),
        ffi::SQLITE_IOERR_WRITE => "it could not be written".into(),
        ffi::SQLITE_IOERR_FSYNC | ffi::SQLITE_IOERR_DIR_FSYNC => {
            "it did not confirm what was written".into()
        }
        ffi::SQLITE_IOERR_TRUNCATE => "a file could not be cut".into(),
        ffi::SQLITE_IOERR_DELETE | ffi::SQLITE_IOERR_DELETE_NOENT => {
            "a file could not be removed".into()
        }
        ffi::SQLITE_IOERR_FSTAT | ffi::SQLITE_IOERR_ACCESS => "it could not be looked at".into(),
        ffi::SQLITE_IOERR_LOCK
        | ffi::SQLITE_IOERR_RDLOCK
        | ffi::SQLITE_IOERR_UNLOCK
        | ffi::SQLITE_IOERR_CHECKRESERVEDLOCK
        | ffi::SQLITE_IOERR_SHMLOCK => "its file system does not lock files".into(),
        ffi::SQLITE_IOERR_SHMOPEN | ffi::SQLITE_IOERR_SHMMAP => {
            "its file system does not share memory between programs".into()
        }
        ffi::SQLITE_IOERR_NOMEM => "there is no memory left".into(),
        other => format!("{err} (SQLite's code {other})"),
    })
}

/// Whether a row holds what no version of this program writes there.
fn is_no_value(err: &rusqlite::Error) -> bool {
    use rusqlite::Error::{
        FromSqlConversionFailure, IntegralValueOutOfRange, InvalidColumnType, Utf8Error,
    };
    matches!(
        err,
        FromSqlConversionFailure(..)
            | IntegralValueOutOfRange(..)
            | InvalidColumnType(..)
            | Utf8Error(..)
    )
}
