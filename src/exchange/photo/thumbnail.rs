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

/// The thumbnail as a JPEG in base64; none where none is small enough.
#[must_use]
pub fn thumbnail(photo: &Pixels) -> Option<String> {
    let small = shrunk(&photo.rgb, photo.width, photo.height, SIDE);
    let rgb: Vec<u8> = small
        .values
        .iter()
        .flatten()
        .map(|value| value.round() as u8)
        .collect();
    [80, 65, 45, 25, 10].into_iter().find_map(|quality| {
        let mut bytes = Vec::new();
        let mut encoder = JpegEncoder::new_with_quality(&mut bytes, quality);
        encoder
            .encode(
                &rgb,
                small.width as u32,
                small.height as u32,
                ExtendedColorType::Rgb8,
            )
            .ok()?;
        (bytes.len() <= MOST).then(|| STANDARD.encode(&bytes))
    })
}

/// The pixels of a thumbnail; none where it is none.
#[must_use]
pub fn opened_thumbnail(kept: &str) -> Option<Pixels> {
    let bytes = STANDARD.decode(kept).ok()?;
    super::open_photo(&bytes, "the thumbnail")
        .ok()
        .map(|photo| photo.pixels)
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
