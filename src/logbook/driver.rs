//! What SQLite answers, by its codes: its own sentences go no further than this file.

use super::LogbookError;
use super::damage::{Damage, NewerWord, RowAt, RowFault};
use super::faults::{DiskFault, ProgramFault, Rule, SystemFault};
use rusqlite::types::Type;
use rusqlite::{Error, ErrorCode, Row, ffi};
use std::fmt;
use std::path::PathBuf;

impl From<Error> for LogbookError {
    fn from(err: Error) -> Self {
        if is_no_value(&err) {
            return Self::Damaged(Damage::Value);
        }
        match err.sqlite_error_code() {
            Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => Self::Busy,
            Some(ErrorCode::ReadOnly) => Self::ReadOnly,
            Some(ErrorCode::SystemIoFailure) => of_disk(&err),
            Some(ErrorCode::DiskFull) => Self::Full,
            Some(ErrorCode::DatabaseCorrupt) => Self::Damaged(Damage::Pages),
            Some(ErrorCode::NotADatabase) => Self::NotAStudio(PathBuf::new()),
            Some(ErrorCode::CannotOpen | ErrorCode::PermissionDenied) => Self::Unreadable {
                path: PathBuf::new(),
                why: SystemFault::NotOpened,
            },
            Some(ErrorCode::ConstraintViolation) => Self::Rule(of_rule(&err)),
            _ => Self::Program(ProgramFault::Driver {
                code: err.sqlite_error().map(|err| err.extended_code),
                said: err.to_string(),
            }),
        }
    }
}

/// SQLite's own code, with what exactly failed.
fn extended_code(err: &Error) -> i32 {
    err.sqlite_error().map_or(0, |err| err.extended_code)
}

fn of_rule(err: &Error) -> Rule {
    match extended_code(err) {
        ffi::SQLITE_CONSTRAINT_UNIQUE
        | ffi::SQLITE_CONSTRAINT_PRIMARYKEY
        | ffi::SQLITE_CONSTRAINT_ROWID => Rule::Unique,
        ffi::SQLITE_CONSTRAINT_FOREIGNKEY => Rule::Reference,
        ffi::SQLITE_CONSTRAINT_NOTNULL => Rule::Empty,
        ffi::SQLITE_CONSTRAINT_CHECK => Rule::Check,
        ffi::SQLITE_CONSTRAINT_DATATYPE => Rule::Kind,
        other => Rule::Code(other),
    }
}

fn of_disk(err: &Error) -> LogbookError {
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

/// The error of a row that cannot be read, with its table, number and column as SQLite itself took the value from them.
pub(super) fn of_row(row: &Row<'_>, err: Error) -> LogbookError {
    let Some((place, unfit)) = place_of(row, &err) else {
        return err.into();
    };
    let (row, column) = origin(row, place);
    match unfit {
        Some(Unfit::Newer(_)) => LogbookError::Unknown(NewerWord { row, column }),
        Some(Unfit::Nothing(columns)) => {
            LogbookError::Damaged(Damage::Row(row, RowFault::Nothing(columns)))
        }
        Some(Unfit::Value(_)) | None => {
            LogbookError::Damaged(Damage::Row(row, RowFault::Value(column)))
        }
    }
}

/// The place of the column that was not taken, and why, where our own readers said so.
fn place_of(row: &Row<'_>, err: &Error) -> Option<(usize, Option<Unfit>)> {
    match err {
        Error::FromSqlConversionFailure(place, _, why) => match why.downcast_ref::<Unfit>() {
            Some(unfit) => Some((
                row.as_ref().column_index(unfit.column()).ok()?,
                Some(*unfit),
            )),
            None => Some((*place, None)),
        },
        Error::IntegralValueOutOfRange(place, _)
        | Error::InvalidColumnType(place, ..)
        | Error::Utf8Error(place, _) => Some((*place, None)),
        _ => None,
    }
}

/// The row and the column of a table that a column of an answer was taken from. What is reckoned comes from none.
fn origin(row: &Row<'_>, place: usize) -> (RowAt, String) {
    let columns: Vec<_> = row.as_ref().columns_with_metadata().collect();
    let taken = columns.get(place);
    let table = taken.and_then(|one| one.table_name()).unwrap_or_default();
    let column = taken.map(|one| one.origin_name().unwrap_or(one.name()));
    let id = columns
        .iter()
        .position(|one| one.table_name() == Some(table) && one.origin_name() == Some("id"));
    let at = RowAt {
        table: table.to_owned(),
        id: id.and_then(|id| row.get(id).ok()),
    };
    (at, column.unwrap_or_default().to_owned())
}

/// Why a value was not taken, on its way through SQLite's own errors.
#[derive(Debug, Clone, Copy)]
pub(super) enum Unfit {
    /// The value in a column is none that a studio holds.
    Value(&'static str),
    /// A word in a column that this build does not know: a later one may have written it.
    Newer(&'static str),
    /// None of these columns says anything, and one of them must.
    Nothing(&'static [&'static str]),
}

impl Unfit {
    fn column(self) -> &'static str {
        match self {
            Self::Value(column) | Self::Newer(column) => column,
            Self::Nothing(columns) => columns.first().copied().unwrap_or_default(),
        }
    }

    /// As an error of the library, which asks for one that can be printed.
    pub(super) fn into_error(self) -> Error {
        Error::FromSqlConversionFailure(0, Type::Text, Box::new(self))
    }
}

impl fmt::Display for Unfit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{self:?}")
    }
}

impl std::error::Error for Unfit {}

/// Whether a row holds what no version of this program writes there.
const fn is_no_value(err: &Error) -> bool {
    matches!(
        err,
        Error::FromSqlConversionFailure(..)
            | Error::IntegralValueOutOfRange(..)
            | Error::InvalidColumnType(..)
            | Error::Utf8Error(..)
    )
}
