//! Touching regions parted: markers at the domes of the distance transform, then flooded from the highest down.
//!
//! The domes are the regional maxima of the reconstruction of `d - h` under `d` (Vincent, "Morphological grayscale
//! reconstruction in image analysis", IEEE Transactions on Image Processing 2, 1993, 176-201); the flooding is that of
//! Meyer (from memory).

use super::plane::{Mask, Plane};
use std::cmp::Ordering;
use std::collections::{BinaryHeap, VecDeque};

/// A pixel waiting: the highest first, of equals the one that came first.
struct Waiting {
    height: f32,
    order: u32,
    at: u32,
    label: u32,
}

impl PartialEq for Waiting {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}
impl Eq for Waiting {}
impl PartialOrd for Waiting {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}
impl Ord for Waiting {
    fn cmp(&self, other: &Self) -> Ordering {
        self.height
            .total_cmp(&other.height)
            .then(other.order.cmp(&self.order))
    }
}

/// The eight pixels around one, as far as the plane reaches.
fn around(at: usize, width: usize, height: usize) -> impl Iterator<Item = usize> {
    let (x, y) = ((at % width) as isize, (at / width) as isize);
    let steps = [
        (-1, -1),
        (0, -1),
        (1, -1),
        (-1, 0),
        (1, 0),
        (-1, 1),
        (0, 1),
        (1, 1),
    ];
    steps.into_iter().filter_map(move |(u, v)| {
        let (x, y) = (x + u, y + v);
        let inside = x >= 0 && y >= 0 && (x as usize) < width && (y as usize) < height;
        inside.then(|| y as usize * width + x as usize)
    })
}

/// A surface lowered everywhere by `lower` and filled up again as far as it can be reached without passing over it: domes
/// that rise less over the saddles around them are gone. Vincent's hybrid: down, up, and a queue for what is left.
#[must_use]
pub fn lowered(surface: &Plane<f32>, lower: impl Fn(f32) -> f32) -> Plane<f32> {
    let (width, height) = (surface.width, surface.height);
    let mut out = surface.map(|value| lower(value).max(0.0));
    let count = out.values.len();
    for at in 0..count {
        let best = around(at, width, height)
            .filter(|&next| next < at)
            .map(|next| out.values[next]);
        out.values[at] = best.fold(out.values[at], f32::max).min(surface.values[at]);
    }
    let mut queue = VecDeque::new();
    for at in (0..count).rev() {
        if surface.values[at] <= 0.0 {
            continue;
        }
        let after = || around(at, width, height).filter(|&next| next > at);
        let best = after()
            .map(|next| out.values[next])
            .fold(out.values[at], f32::max);
        out.values[at] = best.min(surface.values[at]);
        if after().any(|next| {
            out.values[next] < out.values[at] && out.values[next] < surface.values[next]
        }) {
            queue.push_back(at);
        }
    }
    while let Some(at) = queue.pop_front() {
        for next in around(at, width, height) {
            let reached = out.values[at].min(surface.values[next]);
            if reached > out.values[next] {
                out.values[next] = reached;
                queue.push_back(next);
            }
        }
    }
    out
}

/// The regional maxima of a surface: joined pixels of one height, none beside them higher, above zero.
#[must_use]
pub fn tops(level: &Plane<f32>) -> (Plane<u32>, usize) {
    let (width, height) = (level.width, level.height);
    let mut labels = Plane::filled(width, height, 0_u32);
    let mut seen = Plane::filled(width, height, false);
    let mut count = 0;
    for start in 0..level.values.len() {
        if seen.values[start] || level.values[start] <= 0.0 {
            continue;
        }
        let value = level.values[start];
        let (mut flat, mut at, mut top) = (vec![start], 0, true);
        seen.values[start] = true;
        while at < flat.len() {
            for next in around(flat[at], width, height) {
                if level.values[next] > value {
                    top = false;
                } else if level.values[next] == value && !seen.values[next] {
                    seen.values[next] = true;
                    flat.push(next);
                }
            }
            at += 1;
        }
        if top {
            count += 1;
            flat.iter().for_each(|&at| labels.values[at] = count);
        }
    }
    (labels, count as usize)
}

/// The mask shared among its markers: flooded from the highest of the surface down.
#[must_use]
pub fn flooded(surface: &Plane<f32>, markers: &Plane<u32>, mask: &Mask) -> Plane<u32> {
    let mut labels = markers.clone();
    let mut queue = BinaryHeap::new();
    let mut order = 0;
    let mut push = |queue: &mut BinaryHeap<Waiting>, at: usize, label: u32| {
        order += 1;
        queue.push(Waiting {
            height: surface.values[at],
            order,
            at: at as u32,
            label,
        });
    };
    for (at, &label) in markers.values.iter().enumerate() {
        if label > 0 {
            push(&mut queue, at, label);
        }
    }
    while let Some(one) = queue.pop() {
        for next in around(one.at as usize, mask.width, mask.height) {
            if labels.values[next] == 0 && mask.values[next] {
                labels.values[next] = one.label;
                push(&mut queue, next, one.label);
            }
        }
    }
    labels
}
