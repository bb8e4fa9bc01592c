//! Glare: highlights so bright that the paint under them is not seen, and the halo around them.

use super::colour::{Linear, to_linear};
use super::plane::{Mask, Plane};
use super::regions::{grown, opened, regions};
use std::f64::consts::PI;

/// The 8-bit value that the darkest of red, green and blue reaches in a highlight.
const CLIPPED: f64 = 244.0;

/// What glare hides.
#[derive(Debug, Clone)]
pub struct Glare {
    /// What is not measured.
    pub hidden: Mask,
    /// What the ground is not fitted to.
    pub wide: Mask,
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
        };
    }
    let core = opened(&bright, (0.4 * per_mm) as f32);
    let reach =
        |part: f64, rim: f64| spread(&core, |area| part * (area / PI).sqrt() + rim * per_mm);
    Glare {
        hidden: reach(0.10, 0.5),
        wide: reach(0.35, 1.5),
    }
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
