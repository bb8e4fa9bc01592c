//! A cell's edge cut anew: half way between the cell's own colour and the ground beside it, in linear light, where a blur
//! leaves the edge in its place.

use super::colour::{Linear, from_linear, to_linear};
use super::plane::Plane;
use std::sync::LazyLock;

/// How far from the first edge the new one is looked for, in pixels.
pub const BAND: f32 = 3.0;
/// Levels of luma by which the two colours must differ for luma alone to be used: JPEG keeps it whole, and colours blurred.
const LUMA: f32 = 25.0;

static ENCODED: LazyLock<Vec<f32>> = LazyLock::new(|| {
    (0..=4096)
        .map(|step| 255.0 * from_linear(f64::from(step) / 4096.0) as f32)
        .collect()
});
static DECODED: LazyLock<Vec<f32>> = LazyLock::new(|| {
    (0..=2550)
        .map(|step| to_linear(f64::from(step) / 2550.0) as f32)
        .collect()
});

/// Luma, 0 to 255, of a colour in linear light (ITU-R BT.601 weights, as JPEG's).
#[must_use]
pub fn luma(light: Linear) -> f32 {
    let [r, g, b] = light.map(|one| ENCODED[(one.clamp(0.0, 1.0) * 4096.0) as usize]);
    0.299 * r + 0.587 * g + 0.114 * b
}

/// How a pixel is told to be cell or ground.
#[derive(Debug, Clone, Copy)]
pub enum Cut {
    /// By its luma in linear light: on the ground's side up to this, times the sign.
    Luma(f32, f32),
    /// By where it stands on the straight line from the ground's colour to the cell's.
    Line(Linear, f32),
}

fn straight(luma: f32) -> f32 {
    DECODED[(luma * 10.0).clamp(0.0, 2550.0) as usize]
}

impl Cut {
    /// Between a cell's colour and the ground's.
    #[must_use]
    pub fn between(cell: Linear, ground: Linear) -> Self {
        let (own, under) = (luma(cell), luma(ground));
        if (own - under).abs() > LUMA {
            let sign = (own - under).signum();
            return Self::Luma(sign * (straight(own) + straight(under)) / 2.0, sign);
        }
        let way: Linear = std::array::from_fn(|k| cell[k] - ground[k]);
        let half = (0..3).map(|k| way[k] * (cell[k] + ground[k]) / 2.0).sum();
        Self::Line(way, half)
    }

    /// Whether a pixel is the cell's.
    #[must_use]
    #[inline]
    pub fn holds(&self, light: Linear) -> bool {
        match self {
            Self::Luma(half, sign) => sign * straight(luma(light)) > *half,
            Self::Line(way, half) => {
                way[0] * light[0] + way[1] * light[1] + way[2] * light[2] > *half
            }
        }
    }
}

/// The median of each channel over some pixels; none of none.
#[must_use]
pub fn median(light: &Plane<Linear>, places: &[usize]) -> Option<Linear> {
    // A few hundred tell the median of a cell as well as all.
    let step = (places.len() / 400).max(1);
    let one = |k: usize| {
        let mut values: Vec<f32> = places
            .iter()
            .step_by(step)
            .map(|&at| light.values[at][k])
            .collect();
        super::table::quantile(&mut values, 0.5)
    };
    (!places.is_empty()).then(|| std::array::from_fn(one))
}
