//! What a file is, by its first bytes.

use crate::studio::OtherFile;
use std::path::Path;

/// A format of photos that is read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Format {
    /// JPEG.
    Jpeg,
    /// PNG.
    Png,
    /// WebP.
    WebP,
    /// HEIC: what phones make.
    Heic,
}

impl Format {
    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Jpeg => "jpeg",
            Self::Png => "png",
            Self::WebP => "webp",
            Self::Heic => "heic",
        }
    }

    /// Whether a path has the ending of a photo.
    #[must_use]
    pub fn may_be(path: &Path) -> bool {
        let ending = path
            .extension()
            .map(|one| one.to_string_lossy().to_lowercase());
        let known = ["jpg", "jpeg", "png", "webp", "heic", "heif"];
        ending.is_some_and(|ending| known.contains(&ending.as_str()))
    }

    /// What the first bytes of a file tell.
    ///
    /// # Errors
    /// What it is instead.
    pub fn of(bytes: &[u8]) -> Result<Self, OtherFile> {
        let brand = || bytes.get(8..12).unwrap_or_default();
        match bytes {
            [0xff, 0xd8, 0xff, ..] => Ok(Self::Jpeg),
            [0x89, b'P', b'N', b'G', 0x0d, 0x0a, 0x1a, 0x0a, ..] => Ok(Self::Png),
            [b'R', b'I', b'F', b'F', ..] if brand() == b"WEBP" => Ok(Self::WebP),
            [_, _, _, _, b'f', b't', b'y', b'p', ..] => match brand() {
                b"avif" | b"avis" => Err(OtherFile::Avif),
                b"heic" | b"heix" | b"heim" | b"heis" | b"mif1" | b"msf1" | b"hevc" | b"hevx" => {
                    Ok(Self::Heic)
                }
                _ => Err(OtherFile::Film),
            },
            [b'G', b'I', b'F', b'8', ..] => Err(OtherFile::Gif),
            [b'B', b'M', ..] => Err(OtherFile::Bmp),
            [b'I', b'I', b'*', 0, ..] | [b'M', b'M', 0, b'*', ..] => Err(OtherFile::Tiff),
            [b'%', b'P', b'D', b'F', ..] => Err(OtherFile::Pdf),
            _ => Err(OtherFile::Unknown),
        }
    }
}
