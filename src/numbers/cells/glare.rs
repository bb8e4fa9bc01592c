//! Glare: highlights so bright that the paint under them is not seen, and the halo around them.

use super::colour::{Linear, to_linear};
use super::plane::{Mask, Plane};
use super::regions::{grown, opened, regions};
use std::f64::consts::PI;

/// The 8-bit value that the darkest of red, green and blue reaches in a highlight.
const CLIPPED: f64 = 244.0;
/// More bright places than this are not lamps but white paint in too much light.
const LAMPS: usize = 12;
/// The diameter in millimetres that half of them have at least: sparkles on a rough film are smaller.
const SPARKLE: f64 = 1.5;
/// So many times as large as half of the bright places, one is a lamp all the same.
const LARGE: usize = 12;

/// What glare hides.
#[derive(Debug, Clone)]
pub struct Glare {
    /// What is not measured.
    pub hidden: Mask,
    /// What the ground is not fitted to.
    pub wide: Mask,
    /// Bright places that were taken for white paint.
    pub white: usize,
}

/// The glare of a picture in linear light, smoothed by about a pixel, of so many pixels a millimetre.
#[must_use]
pub fn glare(light: &Plane<Linear>, per_mm: f64) -> Glare {
    let clipped = to_linear(CLIPPED / 255.0) as f32;
    let bright = light.map(|[r, g, b]| r.min(g).min(b) >= clipped);
    if bright.count() == 0 {
        return Glare {
            hidden: bright.clone(),
            wide: bright,
            white: 0,
        };
    }
    let (core, white) = lamps(opened(&bright, (0.4 * per_mm) as f32), per_mm);
    let reach =
        |part: f64, rim: f64| spread(&core, |area| part * (area / PI).sqrt() + rim * per_mm);
    Glare {
        hidden: reach(0.10, 0.5),
        wide: reach(0.35, 1.5),
        white,
    }
}

/// The bright places that are lamps, and how many are white paint: a lamp or a window is seen a few times, cells are many.
fn lamps(bright: Mask, per_mm: f64) -> (Mask, usize) {
    let found = regions(&bright, true);
    let mut areas: Vec<usize> = found.regions.iter().map(|one| one.area).collect();
    areas.sort_unstable();
    let half = areas.get(areas.len() / 2).copied().unwrap_or(0);
    if areas.len() <= LAMPS || (half as f64) < PI / 4.0 * (SPARKLE * per_mm).powi(2) {
        return (bright, 0);
    }
    let is_lamp = |label: u32| label > 0 && found.regions[label as usize - 1].area > LARGE * half;
    let lamps = found.labels.map(is_lamp);
    let white = areas.iter().filter(|&&area| area <= LARGE * half).count();
    (lamps, white)
}

/// Each region of a mask grown by a radius that depends on its area.
fn spread(core: &Mask, radius: impl Fn(f64) -> f64) -> Mask {
    let found = regions(core, true);
    let mut out = core.clone();
    for (at, region) in found.regions.iter().enumerate() {
        let reach = radius(region.area as f64);
        let rim = reach.ceil() as usize + 1;
        let (x, y) = (
            region.x.0.saturating_sub(rim),
            region.y.0.saturating_sub(rim),
        );
        let window = found
            .labels
            .cut(x, y, region.x.1 + 1 + rim - x, region.y.1 + 1 + rim - y);
        let larger = grown(&window.map(|label| label as usize == at + 1), reach as f32);
        for row in 0..larger.height {
            let to = (y + row) * out.width + x;
            let into = &mut out.values[to..to + larger.width];
            into.iter_mut()
                .zip(larger.row(row))
                .for_each(|(out, &one)| *out |= one);
        }
    }
    out
}
