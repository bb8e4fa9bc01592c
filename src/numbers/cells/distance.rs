//! How far each pixel of a mask is from the nearest outside it, exactly: Felzenszwalb and Huttenlocher, "Distance
//! transforms of sampled functions", Theory of Computing 8, 2012, 415-428.

use super::plane::{Mask, Plane};

const FAR: f32 = 1e12;

/// The squared distance in pixels from each pixel to the nearest that does not belong; [`f32::INFINITY`]-like where all belong.
#[must_use]
pub fn squared(mask: &Mask) -> Plane<f32> {
    let (width, height) = (mask.width, mask.height);
    let mut plane = down(mask);
    let mut work = Envelope::new(width);
    for y in 0..height {
        work.lower(&mut plane.values[y * width..(y + 1) * width]);
    }
    plane
}

/// The distance of each pixel, of a mask that is taken to end at the plane's edge or (`padded`) to have nothing beyond it.
#[must_use]
pub fn distance(mask: &Mask) -> Plane<f32> {
    squared(mask).map(f32::sqrt)
}

/// The squared distances within each column.
fn down(mask: &Mask) -> Plane<f32> {
    let (width, height) = (mask.width, mask.height);
    let mut plane = Plane::filled(width, height, 0.0_f32);
    let mut steps = vec![1e6_f32; width];
    for y in 0..height {
        for (x, step) in steps.iter_mut().enumerate() {
            *step = if mask.at(x, y) { *step + 1.0 } else { 0.0 };
            plane.values[y * width + x] = *step;
        }
    }
    steps.fill(1e6);
    for y in (0..height).rev() {
        for (x, step) in steps.iter_mut().enumerate() {
            let value = &mut plane.values[y * width + x];
            *step = if *value == 0.0 { 0.0 } else { *step + 1.0 };
            let least = value.min(*step);
            *value = (least * least).min(FAR);
        }
    }
    plane
}

/// The lower envelope of parabolas over one row.
struct Envelope {
    roots: Vec<usize>,
    from: Vec<f32>,
    values: Vec<f32>,
}

impl Envelope {
    fn new(width: usize) -> Self {
        Self {
            roots: vec![0; width],
            from: vec![0.0; width + 1],
            values: vec![0.0; width],
        }
    }

    fn lower(&mut self, row: &mut [f32]) {
        if row.iter().all(|&value| value == 0.0) {
            return;
        }
        self.values.copy_from_slice(row);
        let last = self.build();
        let mut k = 0;
        for (x, out) in row.iter_mut().enumerate() {
            while k < last && self.from[k + 1] < x as f32 {
                k += 1;
            }
            let off = x as f32 - self.roots[k] as f32;
            *out = off * off + self.values[self.roots[k]];
        }
    }

    /// Lays the parabolas; the index of the last one.
    fn build(&mut self) -> usize {
        let f = &self.values;
        let meet = |p: usize, q: usize| {
            let (pf, qf) = (p as f64, q as f64);
            ((f64::from(f[q]) + qf * qf - f64::from(f[p]) - pf * pf) / (2.0 * (qf - pf))) as f32
        };
        let mut k = 0;
        self.roots[0] = 0;
        self.from[0] = f32::NEG_INFINITY;
        for q in 1..f.len() {
            let mut at = meet(self.roots[k], q);
            while k > 0 && at <= self.from[k] {
                k -= 1;
                at = meet(self.roots[k], q);
            }
            if at > self.from[k] {
                k += 1;
            }
            self.roots[k] = q;
            self.from[k] = if k == 0 { f32::NEG_INFINITY } else { at };
        }
        k
    }
}
