//! The plane seen at an angle: the projective map that takes four points to four others, and pictures straightened by it.
//!
//! Hartley and Zisserman, Multiple View Geometry, 2nd edition, 4.1 (from memory): eight linear equations, solved by LU.

use super::colour::{LINEAR, Linear};
use super::plane::{Plane, by_rows};
use nalgebra::{Matrix3, SMatrix, SVector, Vector3};

/// A place in a picture, in pixels from its top left corner; a pixel's middle is at its column and row plus a half.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// From the left.
    pub x: f64,
    /// From the top.
    pub y: f64,
}

impl Point {
    /// How far another is.
    #[must_use]
    pub fn to(self, other: Self) -> f64 {
        (self.x - other.x).hypot(self.y - other.y)
    }
}

/// A picture of 8-bit sRGB colours, row by row.
#[derive(Debug, Clone, PartialEq)]
pub struct Pixels {
    /// Pixels in a row.
    pub width: usize,
    /// Rows.
    pub height: usize,
    /// Red, green, blue of each pixel.
    pub rgb: Vec<u8>,
}

impl Pixels {
    /// The length of the diagonal.
    #[must_use]
    pub fn diagonal(&self) -> f64 {
        (self.width as f64).hypot(self.height as f64)
    }
}

/// A projective map of the plane.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Homography(Matrix3<f64>);

impl Homography {
    /// The map that takes four points to four others, in the same order; none where three of them stand on a line.
    #[must_use]
    pub fn between(from: [Point; 4], to: [Point; 4]) -> Option<Self> {
        let mut left = SMatrix::<f64, 8, 8>::zeros();
        let mut right = SVector::<f64, 8>::zeros();
        for k in 0..4 {
            let (p, q) = (from[k], to[k]);
            let x = [p.x, p.y, 1.0, 0.0, 0.0, 0.0, -p.x * q.x, -p.y * q.x];
            let y = [0.0, 0.0, 0.0, p.x, p.y, 1.0, -p.x * q.y, -p.y * q.y];
            for column in 0..8 {
                left[(2 * k, column)] = x[column];
                left[(2 * k + 1, column)] = y[column];
            }
            (right[2 * k], right[2 * k + 1]) = (q.x, q.y);
        }
        let solved = left.lu().solve(&right)?;
        let map = Matrix3::new(
            solved[0], solved[1], solved[2], solved[3], solved[4], solved[5], solved[6], solved[7],
            1.0,
        );
        (map.iter().all(|value| value.is_finite()) && map.determinant().abs() > 1e-12)
            .then_some(Self(map))
    }

    /// Where a point is taken.
    #[must_use]
    pub fn apply(&self, point: Point) -> Point {
        let taken = self.0 * Vector3::new(point.x, point.y, 1.0);
        Point {
            x: taken.x / taken.z,
            y: taken.y / taken.z,
        }
    }

    /// Where the points of one row are taken, by their x.
    fn along(&self, y: f64) -> impl Fn(f64) -> Point {
        let [step, start] = [
            self.0.column(0).into_owned(),
            self.0.column(1) * y + self.0.column(2),
        ];
        move |x| {
            let one = 1.0 / (step[2] * x + start[2]);
            Point {
                x: (step[0] * x + start[0]) * one,
                y: (step[1] * x + start[1]) * one,
            }
        }
    }

    /// One of its three columns.
    #[must_use]
    pub fn column(&self, at: usize) -> [f64; 3] {
        let column = self.0.column(at.min(2));
        [column[0], column[1], column[2]]
    }

    /// The map back.
    #[must_use]
    pub fn inverse(&self) -> Option<Self> {
        self.0.try_inverse().map(Self)
    }
}

/// A picture straightened, in linear light: pixel (x, y) of `width * height` is looked up where `map` takes its middle.
/// Where the map shrinks, `samples` squared places are averaged.
#[must_use]
pub fn straightened(
    from: &Pixels,
    map: &Homography,
    width: usize,
    height: usize,
    samples: usize,
) -> Plane<Linear> {
    let table: &[f32; 256] = &LINEAR;
    let part = 1.0 / (samples * samples) as f32;
    let offsets: Vec<f64> = (0..samples)
        .map(|k| (k as f64 + 0.5) / samples as f64)
        .collect();
    by_rows(width, height, [0.0; 3], |y, row| {
        for v in &offsets {
            let along = map.along(y as f64 + v);
            for (x, out) in row.iter_mut().enumerate() {
                for u in &offsets {
                    let seen = between_pixels(from, table, along(x as f64 + u));
                    (0..3).for_each(|k| out[k] += seen[k] * part);
                }
            }
        }
    })
}

/// The light at a place, by straight lines between the four pixels around it.
#[inline]
fn between_pixels(from: &Pixels, table: &[f32; 256], at: Point) -> Linear {
    let x = (at.x - 0.5).clamp(0.0, (from.width - 1) as f64);
    let y = (at.y - 0.5).clamp(0.0, (from.height - 1) as f64);
    let (left, top) = (x as usize, y as usize);
    let (u, v) = ((x - left as f64) as f32, (y - top as f64) as f32);
    let right = (left + 1).min(from.width - 1);
    let low = (top + 1).min(from.height - 1);
    let pixel = |x: usize, y: usize| -> [f32; 3] {
        let at = 3 * (y * from.width + x);
        let seen = &from.rgb[at..at + 3];
        [
            table[seen[0] as usize],
            table[seen[1] as usize],
            table[seen[2] as usize],
        ]
    };
    let (a, b, c, d) = (
        pixel(left, top),
        pixel(right, top),
        pixel(left, low),
        pixel(right, low),
    );
    let (wa, wb, wc, wd) = ((1.0 - u) * (1.0 - v), u * (1.0 - v), (1.0 - u) * v, u * v);
    std::array::from_fn(|k| a[k] * wa + b[k] * wb + c[k] * wc + d[k] * wd)
}
