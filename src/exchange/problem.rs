//! Why something could not be written out or read in: kinds, each one sentence and a hint. What the store refused is
//! worded in `tell`.

use crate::studio::{Refusal, StoreError, StudioError};
use crate::tell::{self, Face};
use thiserror::Error;

/// Why an export or import was not done; nothing was changed.
#[derive(Debug, Error)]
pub enum ExchangeError {
    /// The store refused; its words are in `tell`.
    #[error("the store refused: {0:?}")]
    Store(StoreError),
    /// The system refused to read or write.
    #[error("{path}: {why}")]
    System {
        /// The file, or what it is.
        path: String,
        /// The system's reason.
        why: String,
    },
    /// A folder, a pipe or a device.
    #[error("{0} is no file that could be read to its end")]
    NotAFile(String),
    /// A file that would be overwritten.
    #[error("{0} is already there")]
    There(String),
    /// The file stops before its end.
    #[error("the file ends in the middle, at line {0}")]
    CutShort(usize),
    /// It is not JSON.
    #[error("the file is not JSON: {0}")]
    NotJson(String),
    /// It is JSON, but not a studio.
    #[error("the file is no studio: {0}")]
    NotAStudio(String),
    /// A later program wrote it.
    #[error("the file has {what} {theirs}, this program knows up to {ours}")]
    Newer {
        /// `format version` or `schema`.
        what: &'static str,
        /// The file's.
        theirs: u64,
        /// Ours.
        ours: u64,
    },
    /// A list that does not say what its lines are.
    #[error("{0} is a list from a spreadsheet, and it is not said what its lines are")]
    KindUnsaid(String),
    /// It is no list that can be read.
    #[error("the file is no list that can be read: {0}")]
    NoSheet(String),
    /// Lines of a list that cannot be read.
    #[error("the list cannot be read: {0}")]
    Lines(String),
    /// More than a studio's file ever has.
    #[error("{0}")]
    TooLarge(&'static str),
}

impl From<StoreError> for ExchangeError {
    fn from(error: StoreError) -> Self {
        Self::Store(error)
    }
}

impl From<ExchangeError> for StudioError {
    fn from(error: ExchangeError) -> Self {
        match error {
            ExchangeError::Store(error) => Self::Store(error),
            ExchangeError::There(file) => Refusal::There(file).into(),
            other => {
                let (said, hint) = (other.to_string(), other.hint());
                Refusal::File { said, hint }.into()
            }
        }
    }
}

impl ExchangeError {
    /// What to do next.
    #[must_use]
    pub fn hint(&self) -> String {
        let said = match self {
            Self::Store(err) => return tell::store_hint(err, Face::CommandLine),
            Self::System { .. } => "check the path, its permissions and the space left",
            Self::There(_) => "take another name, or say --replace",
            Self::CutShort(_) => "nothing was changed; copy or export the file again",
            Self::NotAFile(_) => "name a file that stillcup export wrote",
            Self::NotJson(_) | Self::NotAStudio(_) | Self::TooLarge(_) => {
                "nothing was changed; take a file that stillcup export wrote"
            }
            Self::KindUnsaid(_) => {
                "say --as cups, pours, judgements, materials or stock; with --try nothing is written"
            }
            Self::NoSheet(_) => {
                "nothing was changed; --column \"Heading=field\" says what a column becomes, --try shows it"
            }
            Self::Lines(_) => {
                "nothing was changed; mend these lines, or leave their column out: --column \"Heading=-\""
            }
            Self::Newer { .. } => "nothing was changed; use the newer program",
        };
        said.to_owned()
    }

    /// What the system answered where a file was to be read.
    #[must_use]
    pub fn unread(path: &str, err: &std::io::Error) -> Self {
        Self::System {
            path: path.to_owned(),
            why: err.to_string(),
        }
    }

    /// What the system answered, and to what: a path, or a word for what was written.
    #[must_use]
    pub fn system(path: &str, err: &std::io::Error) -> Self {
        StoreError::system(path.as_ref(), err).into()
    }
}
