//! The cells of a photo of twelve megapixels, decoded and measured, against OpenCV and scikit-image where they are
//! installed: `STILLCUP_PYTHON` names a Python that has them, `python3` is tried otherwise.

use crate::table::{Goal, Ratio, Table};
use image::codecs::jpeg::JpegEncoder;
use image::{Rgb, RgbImage};
use std::path::Path;
use std::process::Command;
use std::time::{Duration, Instant};
use stillcup::exchange::photo::{open_photo, read_photo};
use stillcup::numbers::cells::Pixels;
use stillcup::numbers::cells::otsu::otsu;
use stillcup::numbers::cells::plane::Plane;
use stillcup::numbers::cells::regions::{filled, regions};
use stillcup::studio::{Corners, LEAST_CELL, MeasureOrder, PhotoProblem, measure_photo};
use stillcup::trade::panel::Panel;

/// The photo's sides.
const SIDES: (u32, u32) = (4000, 3000);

/// What a row is called, theirs by its name, the goal of the ratio, our steps.
type Row = (&'static str, &'static str, f64, Steps);
/// Steps that count cells.
type Steps = fn(&Path) -> anyhow::Result<usize>;

/// Adds the rows.
pub fn cells_against_libraries(table: &mut Table, folder: &Path) -> anyhow::Result<()> {
    let photo = folder.join("twelve.jpg");
    draw(&photo)?;
    let theirs = libraries(&photo);
    let rows: [Row; 3] = [
        (
            "cells of 12 MP, all steps / the same in OpenCV",
            "opencv_whole",
            0.5,
            whole,
        ),
        (
            "cells of 12 MP, lightness alone / the same in OpenCV",
            "opencv_plain",
            1.0,
            plain,
        ),
        (
            "cells of 12 MP, lightness alone / in scikit-image",
            "skimage_plain",
            1.0,
            plain,
        ),
    ];
    for (what, name, goal, ours) in rows {
        match theirs.iter().find(|(one, _)| one == name) {
            Some((_, theirs)) => {
                let ours = median_of_five(|| ours(&photo))?;
                table.add(what, Ratio::of_medians(*theirs, ours), Goal::AtMost(goal));
            }
            None => table.skip(what, "no Python with it here; see STILLCUP_PYTHON"),
        }
    }
    Ok(())
}

/// Light discs in rows on a dark ground, its light uneven.
fn draw(path: &Path) -> anyhow::Result<()> {
    let (width, height) = SIDES;
    let picture = RgbImage::from_fn(width, height, |x, y| {
        let middle = |at: u32| f64::from(at % 120) - 60.0;
        let radius = 20.0 + f64::from((x / 120 * 7 + y / 120 * 5) % 30);
        let light = 1.0 - 0.25 * f64::from(x) / f64::from(width);
        let paint = match middle(x).hypot(middle(y)) <= radius {
            true => [230.0, 190.0, 110.0],
            false => [39.0, 64.0, 116.0],
        };
        Rgb(paint.map(|value| (value * light) as u8))
    });
    let file = std::fs::File::create(path)?;
    JpegEncoder::new_with_quality(file, 92).encode_image(&picture)?;
    Ok(())
}

/// The median seconds of each library's steps, by name; nothing where none is installed.
fn libraries(photo: &Path) -> Vec<(String, Duration)> {
    let python = std::env::var("STILLCUP_PYTHON").unwrap_or_else(|_| "python3".to_owned());
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("benches/side/photo.py");
    let run = Command::new(python).arg(script).arg(photo).output();
    let told = run.map(|run| String::from_utf8_lossy(&run.stdout).into_owned());
    let told = told.unwrap_or_default();
    let row = |line: &str| {
        let mut words = line.split(' ');
        let name = words.next()?.to_owned();
        Some((name, Duration::from_secs_f64(words.next()?.parse().ok()?)))
    };
    told.lines().filter_map(row).collect()
}

fn median_of_five(mut steps: impl FnMut() -> anyhow::Result<usize>) -> anyhow::Result<Duration> {
    steps()?;
    let mut times = Vec::new();
    for _ in 0..5 {
        let start = Instant::now();
        std::hint::black_box(steps()?);
        times.push(start.elapsed());
    }
    times.sort();
    Ok(times[2])
}

fn decoded(photo: &Path) -> anyhow::Result<Pixels> {
    let unread = |why: PhotoProblem| anyhow::anyhow!("{}: {why:?}", photo.display());
    let bytes = read_photo(photo).map_err(unread)?;
    Ok(open_photo(&bytes).map_err(unread)?.pixels)
}

/// As `cells PHOTO --whole --panel 40x30cm` does it.
fn whole(photo: &Path) -> anyhow::Result<usize> {
    let order = MeasureOrder {
        panel: Panel::parse("40x30cm").ok(),
        corners: Corners::Whole,
        least: LEAST_CELL,
    };
    let found = measure_photo(&decoded(photo)?, &order, "the photo");
    Ok(found
        .map_err(|why| anyhow::anyhow!("{why:?}"))?
        .summary
        .cells)
}

/// Lightness, Otsu's threshold, holes filled, regions counted.
fn plain(photo: &Path) -> anyhow::Result<usize> {
    let pixels = decoded(photo)?;
    let lightness = Plane {
        width: pixels.width,
        height: pixels.height,
        values: pixels.rgb.chunks_exact(3).map(luma).collect(),
    };
    let mut counts = [0_u64; 256];
    lightness
        .values
        .iter()
        .for_each(|&value| counts[usize::from(value)] += 1);
    let cut = otsu(&counts).unwrap_or(255);
    let mask = lightness.map(|value: u8| usize::from(value) > cut);
    Ok(regions(&filled(&mask), true).regions.len())
}

/// Lightness by the weights of BT.601, in eight bits.
fn luma(rgb: &[u8]) -> u8 {
    let [r, g, b] = [0, 1, 2].map(|at| u32::from(rgb[at]));
    ((77 * r + 150 * g + 29 * b + 128) >> 8) as u8
}
