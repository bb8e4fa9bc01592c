//! How a panel lies to the camera. Seen at a slant a side looks shorter than it is, so that the sides' lengths in a photo
//! do not tell which is the longer; how the sides run towards each other does.
//!
//! A camera with square pixels whose axis meets the photo's middle sees a plane by a homography whose first two columns,
//! its calibration divided out, stand square to each other and are as long as the sides (Zhang, "A flexible new technique
//! for camera calibration", IEEE Transactions on Pattern Analysis and Machine Intelligence 22, 2000, 1330-1334, from
//! memory). The focal length is not known: the best of those that cameras have is taken, the usual ones of phones first.

use super::homography::{Homography, Point};

/// Focal lengths, in long sides of the photo, from a wide lens to a long one.
const FOCAL: (f64, f64) = (0.55, 3.2);
/// That of the main lens of most phones (26 mm on a frame of 36; common practice, no source).
const USUAL: f64 = 0.75;
/// What another focal length than the usual one costs, by its logarithm.
const UNUSUAL: f64 = 0.04;
const STEPS: u32 = 24;

/// How badly sides of this ratio, the first to the second, explain four corners in a photo of this size: about the part by
/// which one side would have to be longer. None where the corners are no plane seen by a camera.
#[must_use]
pub fn misfit(corners: &[Point; 4], ratio: f64, (width, height): (f64, f64)) -> Option<f64> {
    let long = width.max(height);
    let from = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)].map(|(x, y)| Point { x, y });
    let to = corners.map(|p| Point {
        x: (p.x - width / 2.0) / long,
        y: (p.y - height / 2.0) / long,
    });
    let map = Homography::between(from, to)?;
    let (low, high) = (FOCAL.0.ln(), FOCAL.1.ln());
    let focal = (0..=STEPS).map(|k| (low + (high - low) * f64::from(k) / f64::from(STEPS)).exp());
    let costs = focal.filter_map(|focal| {
        let off = off(&map, ratio, focal)?;
        Some(off + UNUSUAL * (focal / USUAL).ln().abs())
    });
    costs.min_by(f64::total_cmp)
}

/// The same for one focal length.
fn off(map: &Homography, ratio: f64, focal: f64) -> Option<f64> {
    let [along, down] = [0, 1].map(|k| {
        let [x, y, z] = map.column(k);
        [x / focal, y / focal, z]
    });
    let dot = |a: [f64; 3], b: [f64; 3]| a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
    let (a, b) = (dot(along, along).sqrt(), dot(down, down).sqrt());
    let askew = dot(along, down) / (a * b);
    let off = ((a / b).ln() - ratio.ln()).hypot(askew);
    off.is_finite().then_some(off)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The corners of a panel as a camera over it sees them, tilted by degrees about the photo's horizontal.
    fn seen(width: f64, height: f64, tilt: f64, focal: f64) -> [Point; 4] {
        let (sin, cos) = tilt.to_radians().sin_cos();
        [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)].map(|(u, v)| {
            let (x, y) = (u * width / 2.0, v * height / 2.0);
            let far = 900.0 - y * sin;
            Point {
                x: 1000.0 + focal * 2000.0 * x / far,
                y: 750.0 + focal * 2000.0 * y * cos / far,
            }
        })
    }

    #[test]
    fn an_upright_panel_at_a_slant_is_not_taken_for_one_that_lies() {
        let corners = seen(300.0, 400.0, 48.0, 0.72);
        let side = |a: usize, b: usize| corners[a].to(corners[b]);
        assert!(
            side(0, 1) + side(2, 3) > side(1, 2) + side(3, 0),
            "in the photo it is wider than high"
        );
        let misfit = |ratio| misfit(&corners, ratio, (2000.0, 1500.0)).unwrap();
        assert!(misfit(0.75) < 0.03, "{}", misfit(0.75));
        assert!(misfit(4.0 / 3.0) > 0.2, "{}", misfit(4.0 / 3.0));
    }

    #[test]
    fn seen_from_above_the_sides_tell_whatever_the_lens() {
        for focal in [0.6, 0.75, 1.5, 3.0] {
            let corners = seen(400.0, 300.0, 0.0, focal);
            let misfit = |ratio| misfit(&corners, ratio, (2000.0, 1500.0)).unwrap();
            assert!(misfit(4.0 / 3.0) < 0.02);
            assert!((misfit(0.75) - (16.0_f64 / 9.0).ln()).abs() < 0.02);
        }
    }
}
