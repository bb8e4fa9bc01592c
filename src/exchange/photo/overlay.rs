//! What was counted, drawn over the straightened picture, so that the painter can say no.

use crate::numbers::cells::Pixels;
use crate::numbers::cells::blur::shrunk;
use crate::numbers::cells::colour::from_linear;
use crate::numbers::cells::measure::Drawn;
use crate::studio::{Answer, FileFault, Made};
use image::codecs::png::PngEncoder;
use image::{ExtendedColorType, ImageEncoder};

/// The line around a cell: seen on light and on dark.
const LINE: [u8; 3] = [255, 0, 200];
/// The hatching over what is not measured.
const HATCH: [u8; 3] = [0, 255, 255];

/// The straightened picture as PNG, each counted cell outlined, what is left out hatched. Without metadata.
///
/// # Errors
/// Where the encoder fails.
pub fn overlay_png(drawn: &Drawn) -> Answer<Vec<u8>> {
    let (width, height) = (drawn.light.width, drawn.light.height);
    let mut bytes = Vec::new();
    let rgb = overlaid(drawn);
    let encoder = PngEncoder::new(&mut bytes);
    let written = encoder.write_image(&rgb, width as u32, height as u32, ExtendedColorType::Rgb8);
    match written {
        Ok(()) => Ok(bytes),
        Err(_) => Err(FileFault::NotMade(Made::Picture).into()),
    }
}

/// A picture made smaller for a screen: its longest side is `most` pixels, or it is left as it is.
#[must_use]
pub fn preview(rgb: Vec<u8>, width: usize, height: usize, most: usize) -> Pixels {
    if width.max(height) <= most {
        return Pixels { width, height, rgb };
    }
    let small = shrunk(&rgb, width, height, most);
    let bytes = small.values.iter().flatten();
    Pixels {
        width: small.width,
        height: small.height,
        rgb: bytes.map(|value| value.round() as u8).collect(),
    }
}

/// The pixels of the overlay, row by row.
#[must_use]
pub fn overlaid(drawn: &Drawn) -> Vec<u8> {
    let width = drawn.light.width;
    let shown = |at: usize| {
        drawn.light.values[at].map(|one| (from_linear(f64::from(one)) * 255.0).round() as u8)
    };
    let mut rgb = Vec::with_capacity(3 * drawn.light.values.len());
    for at in 0..drawn.light.values.len() {
        let (x, y) = (at % width, at / width);
        rgb.extend(match (is_outline(drawn, x, y), drawn.hidden.values[at]) {
            (true, _) => LINE,
            (false, true) if (x + y) % 6 < 2 => HATCH,
            _ => shown(at),
        });
    }
    rgb
}

/// Whether a pixel is a cell's and one beside it is not the same cell's.
fn is_outline(drawn: &Drawn, x: usize, y: usize) -> bool {
    let labels = &drawn.labels;
    let own = labels.at(x, y);
    let (x, y) = (x as isize, y as isize);
    own != 0
        && [(1, 0), (-1, 0), (0, 1), (0, -1)]
            .iter()
            .any(|(u, v)| labels.near(x + u, y + v) != own)
}
