//! What SQLite answers, by its codes: its own sentences go no further than this file.

use super::LogbookError;
use super::faults::{DiskFault, SystemFault};
use rusqlite::{ErrorCode, ffi};
use std::path::PathBuf;
use thiserror::Error;

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
                why: SystemFault::NotOpened,
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

/// SQLite's own code, with what exactly failed.
fn extended_code(err: &rusqlite::Error) -> i32 {
    err.sqlite_error().map_or(0, |err| err.extended_code)
}

fn of_disk(err: &rusqlite::Error) -> LogbookError {
    LogbookError::Disk(match extended_code(err) {
        // The log's index could not grow, and SQLite does not tell why: there was no room for it.
        ffi::SQLITE_IOERR_SHMSIZE => return LogbookError::Full,
        ffi::SQLITE_IOERR_CORRUPTFS => DiskFault::FileSystem,
        ffi::SQLITE_IOERR_READ | ffi::SQLITE_IOERR_SHORT_READ => DiskFault::Read,
        ffi::SQLITE_IOERR_WRITE => DiskFault::Write,
        ffi::SQLITE_IOERR_FSYNC | ffi::SQLITE_IOERR_DIR_FSYNC => DiskFault::Sync,
        ffi::SQLITE_IOERR_TRUNCATE => DiskFault::Cut,
        ffi::SQLITE_IOERR_DELETE | ffi::SQLITE_IOERR_DELETE_NOENT => DiskFault::Remove,
        ffi::SQLITE_IOERR_FSTAT | ffi::SQLITE_IOERR_ACCESS => DiskFault::Look,
        ffi::SQLITE_IOERR_LOCK
        | ffi::SQLITE_IOERR_RDLOCK
        | ffi::SQLITE_IOERR_UNLOCK
        | ffi::SQLITE_IOERR_CHECKRESERVEDLOCK
        | ffi::SQLITE_IOERR_SHMLOCK => DiskFault::Lock,
        ffi::SQLITE_IOERR_SHMOPEN | ffi::SQLITE_IOERR_SHMMAP => DiskFault::Memory,
        ffi::SQLITE_IOERR_NOMEM => DiskFault::NoMemory,
        other => DiskFault::Code(other),
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
