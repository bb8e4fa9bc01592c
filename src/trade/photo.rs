//! A photo of a picture, and what was measured in it.

use crate::trade::moment::Moment;
use crate::trade::units::{Millimetres, Share};

/// Who says when a photo was taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TakenBy {
    /// The camera, in the photo.
    Exif,
    /// The date of its file.
    File,
    /// The painter.
    Said,
}

impl TakenBy {
    /// Its word in the store.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Exif => "exif",
            Self::File => "file",
            Self::Said => "said",
        }
    }

    /// The kind of a word.
    #[must_use]
    pub fn of_word(word: &str) -> Option<Self> {
        [Self::Exif, Self::File, Self::Said]
            .into_iter()
            .find(|one| one.word() == word)
    }
}

/// A photo of a pour.
#[derive(Debug, Clone, PartialEq)]
pub struct Photo {
    /// The store's number.
    pub id: i64,
    /// The pour it shows.
    pub pour: i64,
    /// The SHA-256 of the original, in hexadecimal: its name.
    pub sha256: String,
    /// Its format's name, the ending of its name.
    pub format: String,
    /// The original's size in bytes.
    pub bytes: i64,
    /// Pixels across and down, upright.
    pub pixels: (u32, u32),
    /// When it was taken.
    pub taken: Moment,
    /// Who says so.
    pub taken_by: TakenBy,
    /// The film was dry.
    pub dry: bool,
    /// The panel's corners as the painter said them.
    pub corners: Option<String>,
    /// A small JPEG in base64.
    pub thumbnail: Option<String>,
    /// Anything else.
    pub note: Option<String>,
}

impl Photo {
    /// The name of the original in its folder.
    #[must_use]
    pub fn file_name(&self) -> String {
        format!("{}.{}", self.sha256, self.format)
    }
}

/// What was measured in a photo.
#[derive(Debug, Clone, PartialEq)]
pub struct Measurement {
    /// The store's number.
    pub id: i64,
    /// The photo.
    pub photo: i64,
    /// When it was measured.
    pub at: Moment,
    /// By which version of the method.
    pub method: String,
    /// The panel's corners, `x,y` four times.
    pub corners: String,
    /// How they came about.
    pub how: String,
    /// Cells in sight.
    pub cells: i64,
    /// To a square decimetre.
    pub per_dm2: Option<f64>,
    /// The part of what is in sight that they cover.
    pub share: Share,
    /// The part that glare hides.
    pub glare: Share,
    /// The median diameter.
    pub median: Option<Millimetres>,
    /// The mean diameter.
    pub mean: Option<Millimetres>,
    /// A tenth are smaller.
    pub p10: Option<Millimetres>,
    /// A tenth are larger.
    pub p90: Option<Millimetres>,
    /// The 80 % band of the median.
    pub band: Option<(Millimetres, Millimetres)>,
    /// The coefficient of variation of the diameters.
    pub evenness: Option<f64>,
    /// The mean distance to the nearest neighbour.
    pub spacing: Option<Millimetres>,
    /// The same over that of chance.
    pub spacing_ratio: Option<f64>,
    /// The mean roundness.
    pub roundness: Option<f64>,
    /// `#rrggbb` and its share, one a word.
    pub colours: String,
}

/// What was measured of a pour, with whether its film was dry.
#[derive(Debug, Clone, PartialEq)]
pub struct PourMeasured {
    /// The pour.
    pub pour: i64,
    /// Whether the film was dry.
    pub dry: bool,
    /// What was measured.
    pub what: Measurement,
}

/// The measurement of a pour that counts: the last of a dry film, else the last of a wet one; of one of both alone where
/// `dry` says which. `all` is in the order the photos were taken, and of one photo in the order they were measured.
#[must_use]
pub fn counting(all: &[PourMeasured], dry: Option<bool>) -> Option<&Measurement> {
    let last = |dry: bool| all.iter().rev().find(move |one| one.dry == dry);
    let counts = match dry {
        Some(dry) => last(dry),
        None => last(true).or_else(|| last(false)),
    };
    counts.map(|one| &one.what)
}
