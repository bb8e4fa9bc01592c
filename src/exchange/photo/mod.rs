//! Photo files: read within limits on pixels and memory, turned upright, their instant taken from EXIF; and what is drawn
//! over them written out.
//!
//! What a file is goes by its first bytes, never by its ending. A picture's place on earth is never read.

mod exif;
mod format;
mod listed;
mod open;
mod overlay;
mod thumbnail;

pub use exif::{Taken, taken_or_dated};
pub use format::Format;
pub use listed::{listed, path_typed};
pub use open::{Photo, file_date, open_photo, photo_taken, photos_in, read_photo};
pub use overlay::{overlaid, overlay_png, preview};
pub use thumbnail::{Thumb, opened_thumbnail, thumbnail};

use thiserror::Error;

/// The most pixels of a photo that are read.
pub const MOST_PIXELS: u64 = 80_000_000;
/// The longest side.
pub const MOST_SIDE: u32 = 30_000;
/// The shortest side of a photo that anything could be measured in.
pub const LEAST_SIDE: u32 = 48;
/// The largest file, in bytes.
pub const MOST_BYTES: u64 = 250_000_000;

/// Why a file was not read as a photo.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum PhotoProblem {
    /// The system does not give the file.
    #[error("{0} cannot be read: {1}")]
    System(String, String),
    /// A folder, a pipe or a device.
    #[error("{0} is no file")]
    NoFile(String),
    /// Nothing is in it.
    #[error("{0} is empty")]
    Empty(String),
    /// It is none of the formats that are read.
    #[error("{0} is {1}")]
    NotRead(String, &'static str),
    /// It stops before its end, or its middle is damaged.
    #[error("{0} is damaged or cut short: {1}")]
    Damaged(String, String),
    /// A HEIC of another kind than phones make.
    #[error("{0} is a HEIC that is not read: {1}")]
    OtherHeic(String, String),
    /// It moves.
    #[error("{0} is animated")]
    Animated(String),
    /// It has more pixels than are read.
    #[error("{0} has {1} x {2} pixels, more than are read")]
    TooLarge(String, u32, u32),
    /// It has too few to measure anything.
    #[error("{0} has {1} x {2} pixels, too few to measure anything")]
    TooSmall(String, u32, u32),
    /// More bytes than a photo has.
    #[error("{0} has more than {MOST_BYTES} bytes, which no photo has")]
    TooHeavy(String),
}

impl PhotoProblem {
    /// What to do next.
    #[must_use]
    pub const fn hint(&self) -> &'static str {
        match self {
            Self::System(..) => "check the path and its permissions",
            Self::NoFile(_) => "name one photo",
            Self::Empty(_) | Self::Damaged(..) => "copy the photo from the camera again",
            Self::NotRead(..) => "take a JPEG, PNG, WebP or HEIC",
            Self::OtherHeic(..) => "have the camera save it as JPEG",
            Self::Animated(_) => "take a still picture",
            Self::TooLarge(..) | Self::TooHeavy(_) => {
                "make it smaller first: 12 megapixels are plenty"
            }
            Self::TooSmall(..) => "take the photo itself, not its thumbnail",
        }
    }
}
