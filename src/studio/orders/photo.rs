//! A photo that is added to a pour: its file, whether the film is dry, a note.

use super::{Field, Hint, Typed};
use crate::studio::PhotoOrder;
use crate::trade::amount::Measures;

/// The fields of a photo.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PhotoField {
    /// The path of its file.
    File,
    /// Whether the film is wet or dry.
    Film,
    /// Anything else.
    Note,
}

impl Field for PhotoField {
    fn of(any: super::AnyField) -> Option<Self> {
        match any {
            super::AnyField::Photo(field) => Some(field),
            _ => None,
        }
    }

    fn label(self) -> &'static str {
        match self {
            Self::File => "photo",
            Self::Film => "film",
            Self::Note => "note",
        }
    }

    fn hint(self, _: Measures) -> Hint {
        Hint::Says(match self {
            Self::File => {
                "its path; ~ is home, Tab opens a folder; set photos-from says where new ones lie"
            }
            Self::Film => "wet or dry; told by its age otherwise",
            Self::Note => "anything else",
        })
    }
}

impl PhotoField {
    /// What a film is called, wet first.
    pub const FILMS: [&'static str; 2] = ["wet", "dry"];

    /// What was typed beside the file.
    #[must_use]
    pub fn order(typed: &Typed<Self>) -> PhotoOrder {
        let film = typed.text(Self::Film).map(str::trim);
        PhotoOrder {
            dry: Self::FILMS
                .iter()
                .position(|one| Some(*one) == film)
                .map(|at| at == 1),
            corners: None,
            note: typed.text(Self::Note).map(str::to_owned),
        }
    }
}
