//! A small picture of a photo, to be kept in the studio's own file: at most 320 pixels and 30 kB, without metadata.

use crate::numbers::cells::Pixels;
use crate::numbers::cells::blur::shrunk;
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use image::ExtendedColorType;
use image::codecs::jpeg::JpegEncoder;

/// The longest side.
const SIDE: usize = 320;
/// The most bytes.
const MOST: usize = 30_000;

/// The longest side of one that is shown on a page: a page of years has thousands.
const SHOWN: usize = 240;

/// A small picture as it goes out: re-encoded, so that nothing but its pixels leaves, whoever wrote it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Thumb {
    /// It as a JPEG.
    pub jpeg: Vec<u8>,
    /// How many pixels it is wide.
    pub width: usize,
    /// How many it is high.
    pub height: usize,
}

impl Thumb {
    /// A kept thumbnail; none where it is none.
    #[must_use]
    pub fn of(kept: &str) -> Option<Self> {
        Self::encoded(&opened_thumbnail(kept)?, SIDE)
    }

    /// The same, small enough for a page of many.
    #[must_use]
    pub fn small(kept: &str) -> Option<Self> {
        Self::encoded(&opened_thumbnail(kept)?, SHOWN)
    }

    /// It as an address that a page holds itself.
    #[must_use]
    pub fn address(&self) -> String {
        format!("data:image/jpeg;base64,{}", STANDARD.encode(&self.jpeg))
    }

    fn encoded(photo: &Pixels, side: usize) -> Option<Self> {
        let small = shrunk(&photo.rgb, photo.width, photo.height, side);
        let values = small.values.iter().flatten();
        let rgb: Vec<u8> = values.map(|value| value.round() as u8).collect();
        let (width, height) = (small.width, small.height);
        let jpeg = [80, 65, 45, 25, 10].into_iter().find_map(|quality| {
            let mut bytes = Vec::new();
            let mut encoder = JpegEncoder::new_with_quality(&mut bytes, quality);
            let (wide, high) = (width as u32, height as u32);
            let encoded = encoder.encode(&rgb, wide, high, ExtendedColorType::Rgb8);
            encoded.ok().filter(|()| bytes.len() <= MOST)?;
            Some(bytes)
        })?;
        Some(Self {
            jpeg,
            width,
            height,
        })
    }
}

/// The thumbnail as a JPEG in base64; none where none is small enough.
#[must_use]
pub fn thumbnail(photo: &Pixels) -> Option<String> {
    let thumb = Thumb::encoded(photo, SIDE)?;
    Some(STANDARD.encode(&thumb.jpeg))
}

/// The pixels of a thumbnail; none where it is none.
#[must_use]
pub fn opened_thumbnail(kept: &str) -> Option<Pixels> {
    let bytes = STANDARD.decode(kept).ok()?;
    let photo = super::open_photo(&bytes).ok()?;
    Some(photo.pixels)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_thumbnail_is_small_and_can_be_looked_at() {
        // Noise is the hardest to make small.
        let mut state = 1_u32;
        let noise = (0..900 * 700 * 3).map(|_| {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            (state >> 24) as u8
        });
        let photo = Pixels {
            width: 900,
            height: 700,
            rgb: noise.collect(),
        };
        let kept = thumbnail(&photo).unwrap();
        assert!(kept.len() <= MOST * 4 / 3 + 4);
        let seen = opened_thumbnail(&kept).unwrap();
        assert_eq!((seen.width, seen.height), (320, 249));
        assert!(opened_thumbnail("no base64 !").is_none());
    }
}
