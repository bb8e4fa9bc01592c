//! What leaves the studio as a file: of what it is, and where it goes.

use super::{Field, Hint, Typed, Wrong};
use crate::studio::Refusal;
use crate::trade::amount::Measures;
use crate::trade::problem::{Misread, ParseProblem, Sought};

/// What leaves.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OutgoingKind {
    /// Labels for lids.
    Labels,
    /// A plan for the wall.
    Session,
    /// A certificate for a buyer.
    Certificate,
    /// A look back.
    Report,
    /// What was sold.
    Ledger,
    /// What is due.
    Calendar,
}

/// The fields of a file that leaves.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OutgoingField {
    /// The kept plan's number.
    Plan,
    /// The picture's number.
    Picture,
    /// The paper it is printed on.
    Paper,
    /// Whether the names of buyers go along.
    Names,
    /// The file.
    File,
}

impl Field for OutgoingField {
    fn of(any: super::AnyField) -> Option<Self> {
        match any {
            super::AnyField::Outgoing(field) => Some(field),
            _ => None,
        }
    }

    fn label(self) -> &'static str {
        match self {
            Self::Plan => "plan",
            Self::Picture => "picture",
            Self::Paper => "paper",
            Self::Names => "buyers",
            Self::File => "file",
        }
    }

    fn hint(self, _: Measures) -> Hint {
        match self {
            Self::Plan => Hint::SuchAs("3"),
            Self::Picture => Hint::SuchAs("12"),
            Self::Paper => Hint::Says("empty: as your measures have it"),
            Self::Names => Hint::Says("whether the names of buyers go along"),
            Self::File => Hint::Says("where it is written; ~ is your home"),
        }
    }
}

impl OutgoingField {
    /// Whether the names of buyers go along, in the order of no and yes.
    pub const NAMES: [&'static str; 2] = ["left out", "with their names"];

    /// Reads the number of a kept plan, or of a picture.
    ///
    /// # Errors
    /// Where none is typed, or it is no number.
    pub fn number(self, typed: &Typed<Self>) -> Result<i64, Wrong> {
        let of = match self {
            Self::Plan => Sought::Plan,
            _ => Sought::Picture,
        };
        typed.need(self, Refusal::Needed(self.label()), |text| {
            let no_number = |_| ParseProblem::new(text, of, Misread::NotOne);
            text.trim().parse().map_err(no_number)
        })
    }

    /// Whether the names of buyers go along; they do not where nothing is said.
    #[must_use]
    pub fn with_names(typed: &Typed<Self>) -> bool {
        typed.text(Self::Names) == Some(Self::NAMES[1])
    }

    /// The path of the file, as it was typed.
    ///
    /// # Errors
    /// Where none is typed, or it leads to a folder.
    pub fn file(typed: &Typed<Self>) -> Result<String, Wrong> {
        let missing = Refusal::Needed(Self::File.label());
        typed.need(Self::File, missing, |text| match text.trim() {
            folder if folder.ends_with('/') => {
                Err(ParseProblem::new(folder, Sought::File, Misread::NotOne))
            }
            path => Ok(path.to_owned()),
        })
    }
}
