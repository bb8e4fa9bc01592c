//! Why a file was not read as a photo.

use crate::studio::SystemFault;

/// Why a file was not read as a photo.
#[derive(Debug, Clone, PartialEq)]
pub enum PhotoProblem {
    /// The system does not give the file.
    System(SystemFault),
    /// A folder, a pipe or a device.
    NoFile,
    /// Nothing is in it.
    Empty,
    /// It is none of the formats that are read.
    Other(OtherFile),
    /// It stops before its end.
    CutShort,
    /// It cannot be decoded; the decoder's own reason.
    Damaged(String),
    /// A HEIC whose pictures are coded otherwise than phones do.
    Codec(&'static str),
    /// A HEIC with something that is not read; the decoder's own word for it.
    OtherHeic(String),
    /// It moves.
    Animated,
    /// It has more pixels than are read, across and down.
    TooLarge(u32, u32),
    /// It has too few to measure anything.
    TooSmall(u32, u32),
    /// More bytes than a photo has, and the most that are read.
    TooHeavy(u64),
}

/// What a file is that is no photo.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OtherFile {
    /// An AVIF.
    Avif,
    /// A film or another container.
    Film,
    /// A GIF.
    Gif,
    /// A BMP.
    Bmp,
    /// A TIFF, or the raw file of a camera.
    Tiff,
    /// A PDF.
    Pdf,
    /// Nothing that is known.
    Unknown,
}
