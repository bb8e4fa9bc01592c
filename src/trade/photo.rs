//! A photo of a picture, and what was measured in it.

use crate::trade::moment::Moment;
use crate::trade::units::{Millimetres, Share};

/// One of a picture's main colours.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Patch {
    /// Red, green and blue in sRGB.
    pub rgb: [u8; 3],
    /// How much of the picture it covers.
    pub share: Share,
}

impl Patch {
    /// Its name: `#3a5f9b`.
    #[must_use]
    pub fn name(&self) -> String {
        let [r, g, b] = self.rgb;
        format!("#{r:02x}{g:02x}{b:02x}")
    }

    /// Colours as they are kept: `#3a5f9b:0.412 #ffffff:0.300`.
    #[must_use]
    pub fn written(all: &[Self]) -> String {
        let one = |one: &Self| format!("{}:{:.3}", one.name(), one.share.get());
        all.iter().map(one).collect::<Vec<_>>().join(" ")
    }

    /// The colours of such a text; `None` where a word of it is none.
    #[must_use]
    pub fn read_all(text: &str) -> Option<Vec<Self>> {
        text.split_whitespace().map(Self::read).collect()
    }

    fn read(word: &str) -> Option<Self> {
        let (name, share) = word.split_once(':')?;
        let digits = name.strip_prefix('#').filter(|one| one.len() == 6)?;
        let [_, r, g, b] = u32::from_str_radix(digits, 16).ok()?.to_be_bytes();
        let share = share.parse().ok().filter(|one| (0.0..=1.0).contains(one))?;
        Some(Self {
            rgb: [r, g, b],
            share: Share(share),
        })
    }
}

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
    /// Its main colours, the largest share first.
    pub colours: Vec<Patch>,
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn colours_are_read_as_they_were_written() {
        let text = "#3a5f9b:0.412 #ffffff:0.300";
        let read = Patch::read_all(text).unwrap();
        assert_eq!(read[0].rgb, [0x3a, 0x5f, 0x9b]);
        assert_eq!(Patch::written(&read), text);
        assert_eq!(Patch::read_all(""), Some(Vec::new()));
        for nonsense in [
            "nonsense",
            "#3a5f9b",
            "#3a5f:0.4",
            "#3a5f9b:4",
            "#3a5f9b:NaN",
        ] {
            assert_eq!(Patch::read_all(nonsense), None, "{nonsense}");
        }
    }
}
