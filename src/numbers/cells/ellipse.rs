//! An ellipse through points: the direct fit of Fitzgibbon, Pilu and Fisher (IEEE Transactions on Pattern Analysis and
//! Machine Intelligence 21, 1999, 476-480) in the stable form of Halir and Flusser (1998, from memory).

use super::homography::Point;
use nalgebra::{Matrix3, Vector3};
use std::f64::consts::PI;

/// An ellipse.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ellipse {
    /// Its middle.
    pub middle: Point,
    /// Half its long axis.
    pub a: f64,
    /// Half its short axis.
    pub b: f64,
    /// The turn of the long axis from the x axis towards y, in radians.
    pub turn: f64,
}

impl Ellipse {
    /// The area it encloses.
    #[must_use]
    pub fn area(&self) -> f64 {
        PI * self.a * self.b
    }

    /// Whether a point is within.
    #[must_use]
    pub fn holds(&self, point: Point) -> bool {
        let (u, v) = self.own(point);
        (u / self.a).powi(2) + (v / self.b).powi(2) <= 1.0
    }

    fn own(&self, point: Point) -> (f64, f64) {
        let (x, y) = (point.x - self.middle.x, point.y - self.middle.y);
        let (sin, cos) = self.turn.sin_cos();
        (x * cos + y * sin, y * cos - x * sin)
    }

    /// The point at a parameter, 0 to 2 pi, and the direction outwards there.
    #[must_use]
    pub fn at(&self, angle: f64) -> (Point, Point) {
        let (sin, cos) = self.turn.sin_cos();
        let turned = |u: f64, v: f64| Point {
            x: u * cos - v * sin,
            y: u * sin + v * cos,
        };
        let place = turned(self.a * angle.cos(), self.b * angle.sin());
        let (u, v) = (self.b * angle.cos(), self.a * angle.sin());
        let long = u.hypot(v).max(1e-12);
        let place = Point {
            x: place.x + self.middle.x,
            y: place.y + self.middle.y,
        };
        (place, turned(u / long, v / long))
    }

    /// The ellipse of the same middle and second moments as a set of pixels.
    #[must_use]
    pub fn of_moments(pixels: impl Iterator<Item = Point> + Clone) -> Option<Self> {
        let n = pixels.clone().count() as f64;
        if n < 6.0 {
            return None;
        }
        let sum = pixels
            .clone()
            .fold((0.0, 0.0), |s, p| (s.0 + p.x, s.1 + p.y));
        let middle = Point {
            x: sum.0 / n,
            y: sum.1 / n,
        };
        let (mut xx, mut xy, mut yy) = (1.0 / 12.0, 0.0, 1.0 / 12.0);
        for p in pixels {
            let (x, y) = (p.x - middle.x, p.y - middle.y);
            xx += x * x / n;
            xy += x * y / n;
            yy += y * y / n;
        }
        let (mean, off) = ((xx + yy) / 2.0, ((xx - yy) / 2.0).hypot(xy));
        let (a, b) = (
            2.0 * (mean + off).sqrt(),
            2.0 * (mean - off).max(0.0).sqrt(),
        );
        Some(Self {
            middle,
            a,
            b,
            turn: 0.5 * (2.0 * xy).atan2(xx - yy),
        })
    }

    /// The ellipse that fits points best by its algebraic distance; none where they lie on no ellipse.
    #[must_use]
    pub fn fitted(points: &[Point]) -> Option<Self> {
        if points.len() < 6 {
            return None;
        }
        let n = points.len() as f64;
        let mean = points
            .iter()
            .fold((0.0, 0.0), |s, p| (s.0 + p.x / n, s.1 + p.y / n));
        let scale = points
            .iter()
            .map(|p| (p.x - mean.0).hypot(p.y - mean.1))
            .sum::<f64>()
            / n;
        if scale < 1e-9 {
            return None;
        }
        let near = points
            .iter()
            .map(|p| ((p.x - mean.0) / scale, (p.y - mean.1) / scale));
        let [a, b, c, d, e, f] = conic(near)?;
        let own = Self::of_conic(a, b, c, d, e, f)?;
        let middle = Point {
            x: own.middle.x * scale + mean.0,
            y: own.middle.y * scale + mean.1,
        };
        Some(Self {
            middle,
            a: own.a * scale,
            b: own.b * scale,
            turn: own.turn,
        })
    }

    fn of_conic(a: f64, b: f64, c: f64, d: f64, e: f64, f: f64) -> Option<Self> {
        let down = 4.0 * a * c - b * b;
        if down <= 1e-12 {
            return None;
        }
        let middle = Point {
            x: (b * e - 2.0 * c * d) / down,
            y: (b * d - 2.0 * a * e) / down,
        };
        let level = f + (d * middle.x + e * middle.y) / 2.0;
        let (mean, off) = ((a + c) / 2.0, ((a - c) / 2.0).hypot(b / 2.0));
        let axis = |value: f64| (-level / value).sqrt();
        let (one, other) = (axis(mean + off), axis(mean - off));
        if !one.is_finite() || !other.is_finite() {
            return None;
        }
        let turn = 0.5 * b.atan2(a - c);
        let (long, short, turn) = if one > other {
            (one, other, turn)
        } else {
            (other, one, turn + PI / 2.0)
        };
        Some(Self {
            middle,
            a: long,
            b: short,
            turn,
        })
    }
}

/// The six numbers of the conic, a x2 + b xy + c y2 + d x + e y + f = 0.
fn conic(points: impl Iterator<Item = (f64, f64)>) -> Option<[f64; 6]> {
    let (mut s1, mut s2, mut s3) = (Matrix3::zeros(), Matrix3::zeros(), Matrix3::zeros());
    for (x, y) in points {
        let (square, flat) = (Vector3::new(x * x, x * y, y * y), Vector3::new(x, y, 1.0));
        s1 += square * square.transpose();
        s2 += square * flat.transpose();
        s3 += flat * flat.transpose();
    }
    let t = -s3.try_inverse()? * s2.transpose();
    let m = s1 + s2 * t;
    let reduced = Matrix3::from_rows(&[m.row(2) / 2.0, -m.row(1), m.row(0) / 2.0]);
    let own = reduced.complex_eigenvalues();
    let best = own
        .iter()
        .filter(|value| value.im.abs() < 1e-9 * (1.0 + value.re.abs()))
        .find_map(|value| {
            let v = null_vector(reduced - Matrix3::identity() * value.re);
            (4.0 * v[0] * v[2] - v[1] * v[1] > 0.0).then_some(v)
        })?;
    let flat = t * best;
    let all = [best[0], best[1], best[2], flat[0], flat[1], flat[2]];
    // The sign that makes the quadratic part positive.
    let sign = (best[0] + best[2]).signum();
    Some(all.map(|value| value * sign))
}

/// The direction that a matrix of rank two takes to nothing: the longest cross product of its rows.
fn null_vector(matrix: Matrix3<f64>) -> Vector3<f64> {
    let row = |k: usize| Vector3::new(matrix[(k, 0)], matrix[(k, 1)], matrix[(k, 2)]);
    let crosses = [
        row(0).cross(&row(1)),
        row(0).cross(&row(2)),
        row(1).cross(&row(2)),
    ];
    let [mut best, others @ ..] = crosses;
    for other in others {
        if other.norm_squared() > best.norm_squared() {
            best = other;
        }
    }
    best.try_normalize(1e-300).unwrap_or(best)
}
