//! What can go wrong with a studio file: kinds with what they are about. An error of the store has no words of its own:
//! `tell` has them, and what to do next on each face.

use super::damage::{Damage, NewerWord};
use super::faults::{
    Alteration, BackupFault, DiskFault, Occupied, ProgramFault, Rule, SystemFault,
};
use super::foreign::{Contradictions, Misfit, RowName};
use super::moved::Moved;
use std::path::PathBuf;

/// Why the studio file could not be opened, read or written.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum LogbookError {
    /// No file stands there.
    Missing(PathBuf),
    /// The path is a folder.
    Folder(PathBuf),
    /// The path is a pipe or a device.
    NotAFile(PathBuf),
    /// The file was removed while it was open.
    Gone(PathBuf),
    /// Another file was put in its place while it was open.
    Replaced(PathBuf),
    /// No file, but copies of it, so that a new studio would hide the loss.
    Lost(PathBuf),
    /// The log of a file that is not there.
    LogAlone(PathBuf),
    /// The log beside a file is another file's.
    ForeignLog(PathBuf),
    /// Its tables are not those that this program made.
    Altered(Alteration),
    /// A word in a row that this build does not know.
    Unknown(NewerWord),
    /// The system does not let us read it.
    Unreadable {
        /// The file.
        path: PathBuf,
        /// The system's reason.
        why: SystemFault,
    },
    /// Not a database, or somebody else's.
    NotAStudio(PathBuf),
    /// Written by a later program.
    Newer {
        /// The file's version.
        file: u32,
        /// The latest version this program knows.
        ours: u32,
    },
    /// Truncated, torn or otherwise broken.
    Damaged(Damage),
    /// Somebody else holds it.
    Busy,
    /// It may not be written.
    ReadOnly,
    /// It lies on another machine's disk, where two machines would not hear of each other.
    Unlocked {
        /// The file.
        path: PathBuf,
        /// Which file system, by the name that the system gives it.
        kind: String,
        /// The option of its mounting that says so, where one does.
        option: Option<String>,
    },
    /// It has two names, and would have a log under each.
    TwoNames(PathBuf),
    /// The disk is full.
    Full,
    /// The disk failed to read or write.
    Disk(DiskFault),
    /// A migration step failed; the file stands as it was before that step.
    Step {
        /// The step's number.
        number: u32,
        /// The step's name.
        name: &'static str,
        /// What failed.
        why: Box<Self>,
    },
    /// The row is no longer what the change left.
    Moved(Moved),
    /// No change is left to undo.
    NothingToUndo,
    /// No undo is left to redo.
    NothingToRedo,
    /// No change with that number.
    NoSuchChange(i64),
    /// A row to be changed is not there.
    NoSuchRow {
        /// The table.
        table: String,
        /// The row's id.
        id: i64,
    },
    /// A name the studio file does not know.
    UnknownName {
        /// The table.
        table: String,
        /// The column, where the table is known.
        column: Option<String>,
    },
    /// A number that is no number.
    NotFinite {
        /// The table.
        table: String,
        /// The column.
        column: String,
    },
    /// The file's own rules refuse it.
    Rule(Rule),
    /// A row of another studio that does not fit.
    Foreign {
        /// The row, then those that it stands under; none where it is the file.
        rows: Vec<RowName>,
        /// Why it does not fit.
        why: Misfit,
    },
    /// Rows of another studio that cannot all be true.
    Contradicts(Contradictions),
    /// A write reached more rows than the one it named, so it could not be taken back.
    Unrecorded(String),
    /// Looked up again after an error: it was not kept.
    NotKept(Box<Self>),
    /// After an error it could not be found out whether it was kept.
    Unconfirmed {
        /// The uid under which to look again.
        uid: String,
        /// What failed.
        why: Box<Self>,
        /// What failed when it was looked up.
        then: Box<Self>,
    },
    /// A file that would be overwritten.
    Exists(PathBuf),
    /// A place where nothing is to be written.
    NotToWrite {
        /// The place.
        path: PathBuf,
        /// What stands there.
        is: Occupied,
    },
    /// A backup that is not whole.
    BadBackup {
        /// The backup.
        path: PathBuf,
        /// What is wrong with it.
        why: BackupFault,
    },
    /// The system refused something beside the database.
    System {
        /// The file or folder.
        path: PathBuf,
        /// The system's reason.
        why: SystemFault,
    },
    /// A fault of the program itself.
    Program(ProgramFault),
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
    #[must_use]
    pub fn system(path: &std::path::Path, err: &std::io::Error) -> Self {
        use std::io::ErrorKind;
        match err.kind() {
            ErrorKind::StorageFull => Self::Full,
            ErrorKind::ReadOnlyFilesystem => Self::ReadOnly,
            _ => Self::System {
                path: path.into(),
                why: SystemFault::of(err),
            },
        }
    }
}
