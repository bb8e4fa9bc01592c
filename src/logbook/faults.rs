//! What exactly is wrong where an error of the store has kinds of its own: facts, worded in `tell`.

use super::LogbookError;

/// Why the system did not do something with a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum SystemFault {
    /// No more is allowed to this user on the disk.
    Quota,
    /// No file may grow so large there.
    TooLarge,
    /// It does not let the file be opened.
    NotOpened,
    /// Anything else, as the system itself says it.
    Said(String),
}

impl SystemFault {
    /// Why the system did not do something, by its kind; where no kind of ours fits, as it says it itself.
    #[must_use]
    pub fn of(err: &std::io::Error) -> Self {
        match err.kind() {
            std::io::ErrorKind::QuotaExceeded => Self::Quota,
            std::io::ErrorKind::FileTooLarge => Self::TooLarge,
            _ => Self::Said(err.to_string()),
        }
    }
}

/// How the disk failed, by SQLite's own code.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DiskFault {
    /// Its file system is damaged.
    FileSystem,
    /// It could not be read.
    Read,
    /// It could not be written.
    Write,
    /// It did not confirm what was written.
    Sync,
    /// A file could not be cut.
    Cut,
    /// A file could not be removed.
    Remove,
    /// A file could not be looked at.
    Look,
    /// Its file system does not lock files.
    Lock,
    /// Its file system does not share memory between programs.
    Memory,
    /// There is no memory left.
    NoMemory,
    /// Another of SQLite's codes.
    Code(i32),
}

/// What another hand did to the tables of a studio, each thing by its kind in SQLite (`table`, `index`) and its name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Alteration {
    /// It has none at all.
    NoTables,
    /// A thing that no studio of its version has.
    Added {
        /// Its kind.
        kind: String,
        /// Its name.
        name: String,
    },
    /// A thing is missing.
    Lacking {
        /// Its kind.
        kind: String,
        /// Its name.
        name: String,
    },
    /// A thing was declared otherwise.
    Other {
        /// Its kind.
        kind: String,
        /// Its name.
        name: String,
    },
}

/// What stands at a place where nothing is to be written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Occupied {
    /// A file of the studio itself.
    Own,
    /// Another studio.
    Studio,
    /// A folder.
    Folder,
    /// A pipe or a device.
    Device,
}

/// Why a backup cannot be brought back, or does not count.
#[derive(Debug, Clone, PartialEq)]
pub enum BackupFault {
    /// It is the studio itself.
    Itself,
    /// It is empty.
    Empty,
    /// An unfinished log lies beside it.
    LogBeside,
    /// It holds fewer or more rows than what it was made of.
    Rows {
        /// How many it holds.
        held: u64,
        /// How many there are.
        of: u64,
    },
    /// It cannot be read as a studio.
    Unread(Box<LogbookError>),
}

/// Which of the file's own rules refuses a row, by SQLite's code.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rule {
    /// Another row has its id, its uid, its name or its number.
    Unique,
    /// It refers to a row that is not there, or is referred to.
    Reference,
    /// A column that must say something says nothing.
    Empty,
    /// What it says is out of range, or contradicts itself.
    Check,
    /// A value is of another kind than its column.
    Kind,
    /// Another of SQLite's codes.
    Code(i32),
}

/// A fault of the program itself.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ProgramFault {
    /// A row with bytes in it, which no change records.
    Blob,
    /// A seed of more than 63 bits.
    Seed,
    /// The id of a row was to be changed.
    Id,
    /// A step of a renewal ended its own transaction.
    StepEnded,
    /// SQLite or its library did not understand what it was asked.
    Driver {
        /// SQLite's code, where it has one.
        code: Option<i32>,
        /// What the library says of it: for whoever mends the program, and shown on no face.
        said: String,
    },
}
