//! A photo's file to its pixels: limits before decoding, upright, transparent parts on white.

use super::exif::{Taken, taken};
use super::{Format, LEAST_SIDE, MOST_BYTES, MOST_PIXELS, MOST_SIDE};
use crate::numbers::cells::Pixels;
use crate::studio::{PhotoProblem, SystemFault};
use chrono::{DateTime, Utc};
use image::codecs::{jpeg::JpegDecoder, png::PngDecoder, webp::WebPDecoder};
use image::{DynamicImage, ImageDecoder, Limits};
use std::fs::File;
use std::io::{Cursor, Read};
use std::path::{Path, PathBuf};

/// The most memory that a decoder may take for itself, in bytes.
const MOST_MEMORY: u64 = 320_000_000;

/// A photo that was read.
#[derive(Debug, Clone)]
pub struct Photo {
    /// Its format.
    pub format: Format,
    /// Its pixels, upright.
    pub pixels: Pixels,
    /// When it was taken, if its EXIF tells.
    pub taken: Option<Taken>,
}

/// Reads a photo's bytes, as many as a photo may have.
///
/// # Errors
/// [`PhotoProblem`].
pub fn read_photo(path: &Path) -> Result<Vec<u8>, PhotoProblem> {
    let about = std::fs::metadata(path).map_err(system)?;
    if !about.is_file() {
        return Err(PhotoProblem::NoFile);
    }
    let mut bytes = Vec::new();
    let read = File::open(path).and_then(|file| file.take(MOST_BYTES + 1).read_to_end(&mut bytes));
    read.map_err(system)?;
    match bytes.len() as u64 {
        0 => Err(PhotoProblem::Empty),
        long if long > MOST_BYTES => Err(PhotoProblem::TooHeavy(MOST_BYTES)),
        _ => Ok(bytes),
    }
}

/// When a photo was taken, by its EXIF alone; its pixels are not read.
#[must_use]
pub fn photo_taken(bytes: &[u8]) -> Option<Taken> {
    let raw = |mut decoder: Box<dyn ImageDecoder + '_>| decoder.exif_metadata().ok().flatten();
    let file = || Cursor::new(bytes);
    match Format::of(bytes).ok()? {
        Format::Jpeg => taken(&raw(Box::new(JpegDecoder::new(file()).ok()?))?),
        Format::Png => taken(&raw(Box::new(
            PngDecoder::with_limits(file(), limits()).ok()?,
        ))?),
        Format::WebP => taken(&raw(Box::new(WebPDecoder::new(file()).ok()?))?),
        Format::Heic => heic_taken(bytes),
    }
}

/// The date of a photo's file.
#[must_use]
pub fn file_date(path: &Path) -> Option<DateTime<Utc>> {
    let changed = std::fs::metadata(path).ok()?.modified().ok()?;
    let since = changed.duration_since(std::time::UNIX_EPOCH).ok()?;
    DateTime::from_timestamp_millis(i64::try_from(since.as_millis()).ok()?)
}

/// The files of a folder whose ending is a photo's, by name.
///
/// # Errors
/// [`PhotoProblem::System`].
pub fn photos_in(folder: &Path) -> Result<Vec<PathBuf>, PhotoProblem> {
    let entries = std::fs::read_dir(folder).map_err(system)?;
    let is_photo = |path: &PathBuf| path.is_file() && Format::may_be(path);
    let mut paths: Vec<PathBuf> = entries
        .filter_map(|entry| Some(entry.ok()?.path()))
        .filter(is_photo)
        .collect();
    paths.sort();
    Ok(paths)
}

/// A photo from its bytes.
///
/// # Errors
/// [`PhotoProblem`].
pub fn open_photo(bytes: &[u8]) -> Result<Photo, PhotoProblem> {
    let format = Format::of(bytes).map_err(PhotoProblem::Other)?;
    let file = || Cursor::new(bytes);
    match format {
        Format::Jpeg if !ends(bytes) => Err(PhotoProblem::CutShort),
        Format::Jpeg => decoded(JpegDecoder::new(file()).map_err(damaged)?, format),
        Format::Png => png(bytes),
        Format::WebP => {
            let decoder = WebPDecoder::new(file()).map_err(damaged)?;
            match decoder.has_animation() {
                false => decoded(decoder, format),
                true => Err(PhotoProblem::Animated),
            }
        }
        Format::Heic => heic(bytes),
    }
}

fn system(err: std::io::Error) -> PhotoProblem {
    PhotoProblem::System(SystemFault::of(&err))
}

fn damaged(err: image::ImageError) -> PhotoProblem {
    PhotoProblem::Damaged(err.to_string())
}

fn png(bytes: &[u8]) -> Result<Photo, PhotoProblem> {
    if let Some((width, height)) = png_size(bytes) {
        sized(width, height)?;
    }
    let decoder = PngDecoder::with_limits(Cursor::new(bytes), limits()).map_err(damaged)?;
    match decoder.is_apng().map_err(damaged)? {
        false => decoded(decoder, Format::Png),
        true => Err(PhotoProblem::Animated),
    }
}

/// The size that a PNG's header tells, which its decoder refuses before it tells it.
fn png_size(bytes: &[u8]) -> Option<(u32, u32)> {
    let number = |at: usize| Some(u32::from_be_bytes(bytes.get(at..at + 4)?.try_into().ok()?));
    Some((number(16)?, number(20)?))
}

fn limits() -> Limits {
    let mut limits = Limits::default();
    limits.max_image_width = Some(MOST_SIDE);
    limits.max_image_height = Some(MOST_SIDE);
    limits.max_alloc = Some(MOST_MEMORY);
    limits
}

/// Refuses what has too many pixels or too few, before any of them is read.
fn sized(width: u32, height: u32) -> Result<(), PhotoProblem> {
    let many = u64::from(width) * u64::from(height) > MOST_PIXELS;
    if many || width.max(height) > MOST_SIDE {
        return Err(PhotoProblem::TooLarge(width, height));
    }
    match width.min(height) < LEAST_SIDE {
        true => Err(PhotoProblem::TooSmall(width, height)),
        false => Ok(()),
    }
}

fn decoded(mut decoder: impl ImageDecoder, format: Format) -> Result<Photo, PhotoProblem> {
    let (width, height) = decoder.dimensions();
    sized(width, height)?;
    decoder
        .set_limits(limits())
        .map_err(|_| PhotoProblem::TooLarge(width, height))?;
    // Odd metadata is no reason to refuse a picture.
    let turn = decoder.orientation().ok();
    let taken = decoder
        .exif_metadata()
        .ok()
        .flatten()
        .and_then(|raw| taken(&raw));
    let mut picture = DynamicImage::from_decoder(decoder).map_err(damaged)?;
    if let Some(turn) = turn {
        picture.apply_orientation(turn);
    }
    Ok(Photo {
        format,
        pixels: pixels(picture),
        taken,
    })
}

/// The pixels in eight bits, what is transparent laid on white.
fn pixels(picture: DynamicImage) -> Pixels {
    let (width, height) = (picture.width() as usize, picture.height() as usize);
    if !picture.color().has_alpha() {
        return Pixels {
            width,
            height,
            rgb: picture.into_rgb8().into_raw(),
        };
    }
    let on_white = |value: u8, alpha: u8| {
        let alpha = u32::from(alpha);
        ((u32::from(value) * alpha + 255 * (255 - alpha) + 127) / 255) as u8
    };
    let rgba = picture.into_rgba8().into_raw();
    let rgb = rgba
        .chunks_exact(4)
        .flat_map(|p| [p[0], p[1], p[2]].map(|value| on_white(value, p[3])))
        .collect();
    Pixels { width, height, rgb }
}

/// Whether a JPEG's end stands somewhere after its picture begins; what cameras append after it does not matter.
fn ends(bytes: &[u8]) -> bool {
    let mut at = 2;
    while let Some(&[0xff, marker, high, low]) = bytes.get(at..at + 4) {
        let long = usize::from(u16::from_be_bytes([high, low]));
        if marker == 0xda {
            return bytes[at..].windows(2).any(|two| two == [0xff, 0xd9]);
        }
        at += match marker {
            0xff => 1,
            0x01 | 0xd0..=0xd8 => 2,
            _ => 2 + long.max(2),
        };
    }
    false
}

fn heic(bytes: &[u8]) -> Result<Photo, PhotoProblem> {
    if let Some(codec) = foreign_codec(bytes) {
        return Err(PhotoProblem::Codec(codec));
    }
    let failed = |err: heic_rs::Error| match err {
        heic_rs::Error::Unsupported(what) => PhotoProblem::OtherHeic(what.to_string()),
        other => PhotoProblem::Damaged(other.to_string()),
    };
    let about = heic_rs::probe(bytes).map_err(failed)?;
    sized(about.width, about.height)?;
    let options = heic_rs::DecodeOptions::default()
        .with_layout(heic_rs::PixelLayout::Rgb8)
        .with_max_pixels(Some(MOST_PIXELS));
    let picture = heic_rs::decode(bytes, &options).map_err(failed)?;
    let pixels = Pixels {
        width: picture.width as usize,
        height: picture.height as usize,
        rgb: picture.data,
    };
    Ok(Photo {
        format: Format::Heic,
        pixels,
        taken: heic_taken(bytes),
    })
}

/// Codecs that a HEIF's items may have beside HEVC, by their type (ISO/IEC 23008-12 and its registry, from memory).
const CODECS: [(&[u8; 4], &str); 7] = [
    (b"av01", "AV1"),
    (b"avc1", "H.264"),
    (b"jpeg", "JPEG"),
    (b"vvc1", "VVC"),
    (b"j2k1", "JPEG 2000"),
    (b"evc1", "EVC"),
    (b"unci", "no codec"),
];

/// What a HEIF's pictures are coded in, where none of them is HEVC. An item's entry is `infe`, version and flags, its number
/// and protection of two bytes each, its type.
fn foreign_codec(bytes: &[u8]) -> Option<&'static str> {
    let entries = bytes.windows(4).enumerate().filter(|one| one.1 == b"infe");
    let types: Vec<&[u8]> = entries
        .filter_map(|(at, _)| bytes.get(at + 12..at + 16))
        .collect();
    if [b"hvc1", b"hev1"]
        .iter()
        .any(|own| types.contains(&own.as_slice()))
    {
        return None;
    }
    let known = CODECS.iter();
    let mut foreign = known.filter(|(kind, _)| types.contains(&kind.as_slice()));
    foreign.next().map(|one| one.1)
}

fn heic_taken(bytes: &[u8]) -> Option<Taken> {
    let open = heic_rs::context::Context::open(bytes).ok()?;
    let item = heic_rs::probe(bytes).ok()?.primary_item;
    taken(open.exif(item).ok()??)
}
