//! Smoothing: a Gaussian in two passes, a box mean, and shrinking by areas.

use super::plane::{Plane, by_rows};

/// What can be smoothed: one number, or three of a colour.
pub trait Smooth: Copy + Send + Sync {
    /// Nothing of it.
    const NONE: Self;
    /// This and a part of another.
    #[must_use]
    fn plus(self, other: Self, part: f32) -> Self;
}

impl Smooth for f32 {
    const NONE: Self = 0.0;
    #[inline]
    fn plus(self, other: Self, part: f32) -> Self {
        self + other * part
    }
}

impl Smooth for [f32; 3] {
    const NONE: Self = [0.0; 3];
    #[inline]
    fn plus(self, o: Self, part: f32) -> Self {
        [
            self[0] + o[0] * part,
            self[1] + o[1] * part,
            self[2] + o[2] * part,
        ]
    }
}

/// The right half of a Gaussian's weights, the middle first, cut at three standard deviations.
fn weights(sigma: f32) -> Vec<f32> {
    let reach = (3.0 * sigma).ceil() as i32;
    let bell = |step: i32| (-0.5 * (step as f32 / sigma).powi(2)).exp();
    let sum: f32 = (-reach..=reach).map(bell).sum();
    (0..=reach).map(|step| bell(step) / sum).collect()
}

/// A plane smoothed by a Gaussian of a standard deviation in pixels; beyond the edge its last pixels go on.
#[must_use]
pub fn gauss<T: Smooth>(plane: &Plane<T>, sigma: f32) -> Plane<T> {
    let weights = weights(sigma);
    let down = by_rows(plane.width, plane.height, T::NONE, |y, row| {
        for (step, &weight) in weights.iter().enumerate() {
            let above = plane.row(y.saturating_sub(step));
            let below = plane.row((y + step).min(plane.height - 1));
            let below_weight = if step == 0 { 0.0 } else { weight };
            for ((out, &up), &low) in row.iter_mut().zip(above).zip(below) {
                *out = out.plus(up, weight).plus(low, below_weight);
            }
        }
    });
    by_rows(plane.width, plane.height, T::NONE, |y, row| {
        across(down.row(y), row, &weights)
    })
}

fn across<T: Smooth>(from: &[T], to: &mut [T], weights: &[f32]) {
    let (reach, last) = (weights.len() - 1, from.len() - 1);
    for (x, out) in to.iter_mut().enumerate() {
        let mut sum = T::NONE.plus(from[x], weights[0]);
        if x >= reach && x + reach <= last {
            for (step, &weight) in weights.iter().enumerate().skip(1) {
                sum = sum
                    .plus(from[x - step], weight)
                    .plus(from[x + step], weight);
            }
        } else {
            for (step, &weight) in weights.iter().enumerate().skip(1) {
                sum = sum.plus(from[x.saturating_sub(step)], weight);
                sum = sum.plus(from[(x + step).min(last)], weight);
            }
        }
        *out = sum;
    }
}

/// The mean over a square of `2 reach + 1` pixels; beyond the edge its last pixels go on.
#[must_use]
pub fn boxed(plane: &Plane<f32>, reach: usize) -> Plane<f32> {
    let part = 1.0 / (2 * reach + 1) as f32;
    let mut weights = vec![part; reach + 1];
    weights[0] = part;
    let down = by_rows(plane.width, plane.height, 0.0, |y, row| {
        for step in -(reach as isize)..=reach as isize {
            let from = plane.row((y as isize + step).clamp(0, plane.height as isize - 1) as usize);
            row.iter_mut()
                .zip(from)
                .for_each(|(out, value)| *out += value * part);
        }
    });
    by_rows(plane.width, plane.height, 0.0, |y, row| {
        across(down.row(y), row, &weights)
    })
}

/// A picture of 8-bit colours shrunk by area means so that its long side has at most `most` pixels; each pixel its mean, 0 to 255.
#[must_use]
pub fn shrunk(rgb: &[u8], width: usize, height: usize, most: usize) -> Plane<[f32; 3]> {
    let long = width.max(height);
    let scale = (long as f64 / most as f64).max(1.0);
    let (w, h) = (
        ((width as f64 / scale).round() as usize).max(1),
        ((height as f64 / scale).round() as usize).max(1),
    );
    let columns: Vec<(usize, usize)> = (0..w).map(|x| span(x, w, width)).collect();
    by_rows(w, h, [0.0; 3], |y, row| {
        let (top, bottom) = span(y, h, height);
        for (out, &(left, right)) in row.iter_mut().zip(&columns) {
            let mut sum = [0_u32; 3];
            for line in top..bottom {
                for pixel in
                    rgb[3 * (line * width + left)..3 * (line * width + right)].chunks_exact(3)
                {
                    (0..3).for_each(|k| sum[k] += u32::from(pixel[k]));
                }
            }
            let count = ((bottom - top) * (right - left)) as f32;
            *out = sum.map(|value| value as f32 / count);
        }
    })
}

/// The whole pixels that one pixel of a shrunken row covers, at least one.
fn span(at: usize, small: usize, large: usize) -> (usize, usize) {
    let from = at * large / small;
    (from, ((at + 1) * large / small).max(from + 1))
}
