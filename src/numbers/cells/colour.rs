//! Colours: sRGB to linear light to CIELAB, and how far two of them stand apart in it.
//!
//! sRGB: IEC 61966-2-1. The matrix is Lindbloom's for sRGB and D65 (white .95047 1 1.08883, read at second hand);
//! CIELAB with the exact constants 216/24389 and 24389/27 (CIE 15).

use std::sync::LazyLock;

/// A colour in CIELAB: lightness, green to red, blue to yellow.
pub type Lab = [f32; 3];
/// A colour in linear light, each of red, green and blue 0 to 1.
pub type Linear = [f32; 3];

const TO_XYZ: [[f64; 3]; 3] = [
    [0.412_456_4, 0.357_576_1, 0.180_437_5],
    [0.212_672_9, 0.715_152_2, 0.072_175_0],
    [0.019_333_9, 0.119_192_0, 0.950_304_1],
];
const WHITE: [f64; 3] = [0.950_47, 1.0, 1.088_83];
const EPSILON: f64 = 216.0 / 24_389.0;
const KAPPA: f64 = 24_389.0 / 27.0;

/// Linear light of each 8-bit sRGB value.
pub static LINEAR: LazyLock<[f32; 256]> =
    LazyLock::new(|| std::array::from_fn(|value| to_linear(value as f64 / 255.0) as f32));

/// The steps of the table of the cube root; between them a straight line is within 0.001 of a lightness.
const STEPS: usize = 4096;
const TOP: f32 = 1.25;
static ROOT: LazyLock<Vec<f32>> = LazyLock::new(|| {
    let at = |step: usize| f64::from(TOP) * step as f64 / STEPS as f64;
    (0..=STEPS + 1)
        .map(|step| lifted(at(step)) as f32)
        .collect()
});

/// Linear light of an sRGB value, both 0 to 1.
#[must_use]
pub fn to_linear(value: f64) -> f64 {
    if value <= 0.040_45 {
        value / 12.92
    } else {
        ((value + 0.055) / 1.055).powf(2.4)
    }
}

/// The sRGB value of linear light, both 0 to 1; what is outside is clipped.
#[must_use]
pub fn from_linear(light: f64) -> f64 {
    let light = light.clamp(0.0, 1.0);
    if light <= 0.003_130_8 {
        light * 12.92
    } else {
        1.055 * light.powf(1.0 / 2.4) - 0.055
    }
}

fn lifted(t: f64) -> f64 {
    if t > EPSILON {
        t.cbrt()
    } else {
        (KAPPA * t + 16.0) / 116.0
    }
}

/// CIELAB (D65) of a colour in linear light.
#[must_use]
pub fn lab(light: [f64; 3]) -> [f64; 3] {
    let one = |row: usize| -> f64 {
        let sum: f64 = (0..3).map(|k| TO_XYZ[row][k] * light[k]).sum();
        lifted(sum / WHITE[row])
    };
    let (x, y, z) = (one(0), one(1), one(2));
    [116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)]
}

/// The table that `lab_by` needs, fetched once for a run of pixels.
pub fn roots() -> &'static [f32] {
    &ROOT
}

/// [`lab`] by a table, for whole pictures: within 0.001.
#[inline]
pub(super) fn lab_by(roots: &[f32], [r, g, b]: Linear) -> Lab {
    const M: [[f32; 3]; 3] = scaled();
    let one = |row: [f32; 3]| {
        let at = (row[0] * r + row[1] * g + row[2] * b).clamp(0.0, TOP) * (STEPS as f32 / TOP);
        let step = at as usize;
        let (low, high) = (roots[step], roots[step + 1]);
        low + (high - low) * (at - step as f32)
    };
    let (x, y, z) = (one(M[0]), one(M[1]), one(M[2]));
    [116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)]
}

/// The matrix with the white divided out.
const fn scaled() -> [[f32; 3]; 3] {
    let mut out = [[0.0; 3]; 3];
    let mut row = 0;
    while row < 3 {
        let mut k = 0;
        while k < 3 {
            out[row][k] = (TO_XYZ[row][k] / WHITE[row]) as f32;
            k += 1;
        }
        row += 1;
    }
    out
}

/// Linear light of a colour in CIELAB, not clipped.
#[must_use]
pub fn light_of(lab: [f64; 3]) -> [f64; 3] {
    let y = (lab[0] + 16.0) / 116.0;
    let dropped = |t: f64| {
        if t.powi(3) > EPSILON {
            t.powi(3)
        } else {
            (116.0 * t - 16.0) / KAPPA
        }
    };
    let xyz = [
        dropped(y + lab[1] / 500.0),
        dropped(y),
        dropped(y - lab[2] / 200.0),
    ];
    let xyz = nalgebra::Vector3::from_fn(|row, _| xyz[row] * WHITE[row]);
    let matrix = nalgebra::Matrix3::from_fn(|row, column| TO_XYZ[row][column]);
    let light = matrix.try_inverse().map_or(xyz, |inverse| inverse * xyz);
    [light[0], light[1], light[2]]
}

/// The 8-bit sRGB colour of a colour in CIELAB, clipped to what sRGB can show.
#[must_use]
pub fn rgb_of(lab: [f64; 3]) -> [u8; 3] {
    light_of(lab).map(|light| (from_linear(light) * 255.0).round() as u8)
}

/// The straight distance of two colours in CIELAB.
#[must_use]
#[inline]
pub fn apart(one: Lab, other: Lab) -> f32 {
    let d = [one[0] - other[0], one[1] - other[1], one[2] - other[2]];
    (d[0] * d[0] + d[1] * d[1] + d[2] * d[2]).sqrt()
}
