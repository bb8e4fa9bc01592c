//! Colours: sRGB to linear light to CIELAB, and how far two of them stand apart (CIEDE2000).
//!
//! sRGB: IEC 61966-2-1. The matrix is Lindbloom's for sRGB and D65 (white .95047 1 1.08883, read at second hand);
//! CIELAB with the exact constants 216/24389 and 24389/27 (CIE 15). CIEDE2000: Sharma, Wu and Dalal, "The CIEDE2000
//! color-difference formula", Color Research and Application 30, 2005, 21-30.

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

/// CIELAB (D65) of an 8-bit sRGB colour.
#[must_use]
pub fn lab_of(rgb: [u8; 3]) -> [f64; 3] {
    lab(rgb.map(|value| to_linear(f64::from(value) / 255.0)))
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

/// The difference of two colours in CIELAB as CIEDE2000 has it, its three weights 1.
#[must_use]
pub fn ciede2000(one: [f64; 3], other: [f64; 3]) -> f64 {
    let chroma = |lab: [f64; 3]| lab[1].hypot(lab[2]);
    let seventh = |c: f64| (c.powi(7) / (c.powi(7) + 25_f64.powi(7))).sqrt();
    let stretch = 1.0 + 0.5 * (1.0 - seventh((chroma(one) + chroma(other)) / 2.0));
    let polar = |lab: [f64; 3]| {
        let a = lab[1] * stretch;
        let hue = lab[2].atan2(a).to_degrees().rem_euclid(360.0);
        (
            a.hypot(lab[2]),
            if a == 0.0 && lab[2] == 0.0 { 0.0 } else { hue },
        )
    };
    let ((c1, h1), (c2, h2)) = (polar(one), polar(other));
    let turn = turned(c1 * c2, h1, h2);
    let (lightness, chroma) = (other[0] - one[0], c2 - c1);
    let hue = 2.0 * (c1 * c2).sqrt() * (turn / 2.0).to_radians().sin();
    let weights = Weights::new(
        (one[0] + other[0]) / 2.0,
        (c1 + c2) / 2.0,
        middle(c1 * c2, h1, h2),
    );
    let (l, c, h) = (lightness / weights.l, chroma / weights.c, hue / weights.h);
    let rotation = -(2.0 * weights.swing).to_radians().sin() * 2.0 * seventh((c1 + c2) / 2.0);
    (l * l + c * c + h * h + rotation * c * h).sqrt()
}

/// The turn from one hue to the other, the short way round.
fn turned(product: f64, from: f64, to: f64) -> f64 {
    match to - from {
        _ if product == 0.0 => 0.0,
        turn if turn > 180.0 => turn - 360.0,
        turn if turn < -180.0 => turn + 360.0,
        turn => turn,
    }
}

/// The hue half way between two, as the formula has it.
fn middle(product: f64, one: f64, other: f64) -> f64 {
    let sum = one + other;
    match (one - other).abs() {
        _ if product == 0.0 => sum,
        apart if apart <= 180.0 => sum / 2.0,
        _ if sum < 360.0 => (sum + 360.0) / 2.0,
        _ => (sum - 360.0) / 2.0,
    }
}

/// What CIEDE2000 divides each difference by, and how far it turns blue.
struct Weights {
    l: f64,
    c: f64,
    h: f64,
    swing: f64,
}

impl Weights {
    fn new(lightness: f64, chroma: f64, hue: f64) -> Self {
        let cosine = |degrees: f64| degrees.to_radians().cos();
        let t = 1.0 - 0.17 * cosine(hue - 30.0)
            + 0.24 * cosine(2.0 * hue)
            + 0.32 * cosine(3.0 * hue + 6.0)
            - 0.20 * cosine(4.0 * hue - 63.0);
        let off = (lightness - 50.0).powi(2);
        Self {
            l: 1.0 + 0.015 * off / (20.0 + off).sqrt(),
            c: 1.0 + 0.045 * chroma,
            h: 1.0 + 0.015 * chroma * t,
            swing: 30.0 * (-((hue - 275.0) / 25.0).powi(2)).exp(),
        }
    }
}
