//! A photo that is added to a pour: its file, whether the film is dry, a note.

use super::{Field, Hint, Typed, Wrong};
use crate::studio::{Corners, PhotoOrder};
use crate::trade::amount::Measures;

/// The fields of a photo.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PhotoField {
    /// The path of its file.
    File,
    /// Whether the film is wet or dry.
    Film,
    /// Where the panel's corners are in it.
    Corners,
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
            Self::Corners => "corners",
            Self::Note => "note",
        }
    }

    fn hint(self, _: Measures) -> Hint {
        Hint::Says(match self {
            Self::File => {
                "its path; ~ is home, Tab opens a folder; set photos-from says where new ones lie"
            }
            Self::Film => "wet or dry; told by its age otherwise",
            Self::Corners => "x,y x,y x,y x,y; looked for otherwise",
            Self::Note => "anything else",
        })
    }
}

impl PhotoField {
    /// What a film is called, wet first.
    pub const FILMS: [&'static str; 2] = ["wet", "dry"];

    /// What was typed beside the file.
    ///
    /// # Errors
    /// Corners that are not four pairs of numbers.
    pub fn order(typed: &Typed<Self>) -> Result<PhotoOrder, Wrong> {
        let film = typed.text(Self::Film).map(str::trim);
        Ok(PhotoOrder {
            dry: Self::FILMS
                .iter()
                .position(|one| Some(*one) == film)
                .map(|at| at == 1),
            corners: Self::corners(typed)?,
            note: typed.text(Self::Note).map(str::to_owned),
        })
    }

    /// The panel's corners; to be found where none were typed.
    ///
    /// # Errors
    /// As [`PhotoField::order`].
    pub fn corners(typed: &Typed<Self>) -> Result<Corners, Wrong> {
        let corners = typed.read(Self::Corners, Corners::parse)?;
        Ok(corners.unwrap_or_default())
    }
}
