//! What stands apart from the ground, parted into cells.

use super::blur::gauss;
use super::distance::squared;
use super::otsu::otsu_of;
use super::plane::{Mask, Plane};
use super::quad::{area, hull};
use super::regions::{Region, filled, opened3, regions};
use super::table::quantile;
use super::watershed::{flooded, lowered, tops};

/// The greatest difference from the ground that the histogram tells.
const TOP: f32 = 120.0;
/// Under this Otsu's threshold parts nothing but noise.
const NOTHING: f32 = 3.0;
/// The part of a dome's height that a neck must be lower to part it.
const NECK: f32 = 0.12;
/// The same at the picture's edge, where half a cell has odd domes.
const NECK_AT_EDGE: f32 = 0.3;
/// How far over the threshold a cell must come somewhere: noise comes hardly over it.
const CLEAR: f32 = 1.25;
/// The same of a piece of less than four times the least area.
const CLEAR_SMALL: f32 = 1.7;

/// A hole of fewer pixels has no shape.
const TINY: usize = 16;
/// The part of its hull that a hole in a cell fills; three discs that touch leave a hole of under a half.
const ROUND: f64 = 0.8;
/// The part of the threshold that ground differs from the fitted ground on the mean.
const GROUND: f32 = 0.6;

/// Where a cell begins.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Thresholds {
    /// Otsu's, between ground and cells.
    pub otsu: f32,
    /// The lower one that finds pale cells too.
    pub low: f32,
}

/// One cell as found: its pixels in a window.
#[derive(Debug, Clone)]
pub struct Piece {
    /// The window's first column.
    pub x: usize,
    /// The window's first row.
    pub y: usize,
    /// Its pixels.
    pub mask: Mask,
    /// How many they are.
    pub area: usize,
}

/// The thresholds of differences from the ground, over the open places; none where nothing stands apart.
#[must_use]
pub fn thresholds(delta: &Plane<f32>, open: &Mask) -> Option<Thresholds> {
    let seen = || {
        delta
            .values
            .iter()
            .zip(&open.values)
            .filter(|(_, open)| **open)
            .map(|(&value, _)| value)
    };
    let otsu = otsu_of(seen(), TOP, 480)?;
    if otsu < NOTHING {
        return None;
    }
    let mut below: Vec<f32> = seen().filter(|&value| value <= otsu).step_by(7).collect();
    let middle = quantile(&mut below, 0.5);
    let mut off: Vec<f32> = below.iter().map(|value| (value - middle).abs()).collect();
    let spread = 1.4826 * quantile(&mut off, 0.5);
    Some(Thresholds {
        otsu,
        low: otsu.min((middle + 5.0 * spread).max(0.4 * otsu)),
    })
}

/// The cells: regions over the threshold with at least so many pixels, parted at their necks.
#[must_use]
pub fn pieces(delta: &Plane<f32>, hidden: &Mask, low: f32, least: usize) -> Vec<Piece> {
    let mut over = delta.map(|value| value > low);
    over.values
        .iter_mut()
        .zip(&hidden.values)
        .for_each(|(one, &hidden)| *one &= !hidden);
    let found = regions(&whole(&opened3(&over), delta, low), true);
    let wanted: Vec<usize> = (0..found.regions.len())
        .filter(|&at| found.regions[at].area >= least)
        .collect();
    let part = |at: &usize| {
        parts(
            delta,
            &found.labels,
            *at as u32 + 1,
            &found.regions[*at],
            (low, least),
        )
    };
    let found = in_two(&wanted, part).into_iter().flatten();
    let clear = |piece: &Piece| {
        if piece.area < 4 * least {
            CLEAR_SMALL
        } else {
            CLEAR
        }
    };
    found
        .filter(|piece| reach(delta, piece) > clear(piece) * low)
        .collect()
}

/// A mask with its holes filled, but for those that lie between cells that touch: what shows through a cell is round, what
/// several cells leave free has corners that run in between them, and is ground, not a pale place.
fn whole(mask: &Mask, delta: &Plane<f32>, low: f32) -> Mask {
    let mut full = filled(mask);
    let mut holes = full.clone();
    let only = holes.values.iter_mut().zip(&mask.values);
    only.for_each(|(hole, &own)| *hole &= !own);
    let found = regions(&holes, false);
    for (at, region) in found.regions.iter().enumerate() {
        let (x, y) = (region.x.0, region.y.0);
        let (width, height) = (region.x.1 + 1 - x, region.y.1 + 1 - y);
        let window = found.labels.cut(x, y, width, height);
        let label = at as u32 + 1;
        if region.area < TINY || region.area as f64 > ROUND * area(&hull(&window, label)) {
            continue;
        }
        let under = delta.cut(x, y, width, height);
        let own = under.values.iter().zip(&window.values);
        let own = own.filter(|(_, one)| **one == label);
        if own.map(|(&value, _)| value).sum::<f32>() > GROUND * low * region.area as f32 {
            continue;
        }
        for row in 0..height {
            let from = (y + row) * full.width + x;
            let into = full.values[from..from + width].iter_mut();
            into.zip(window.row(row))
                .for_each(|(out, &own)| *out &= own != label);
        }
    }
    full
}

/// The difference from the ground that a fifth of a piece's pixels pass.
fn reach(delta: &Plane<f32>, piece: &Piece) -> f32 {
    let window = delta.cut(piece.x, piece.y, piece.mask.width, piece.mask.height);
    let own = window
        .values
        .iter()
        .zip(&piece.mask.values)
        .filter(|(_, own)| **own);
    quantile(&mut own.map(|(&value, _)| value).collect::<Vec<_>>(), 0.8)
}

/// The answers to all questions in their order, shared by two threads.
pub fn in_two<A: Sync, B: Send>(all: &[A], answer: impl Fn(&A) -> B + Sync) -> Vec<B> {
    let (first, second) = all.split_at(all.len() / 2);
    let answer = &answer;
    std::thread::scope(|scope| {
        let other = scope.spawn(move || second.iter().map(answer).collect::<Vec<B>>());
        let mut out: Vec<B> = first.iter().map(answer).collect();
        match other.join() {
            Ok(rest) => out.extend(rest),
            Err(cause) => std::panic::resume_unwind(cause),
        }
        out
    })
}

fn parts(
    delta: &Plane<f32>,
    labels: &Plane<u32>,
    label: u32,
    region: &Region,
    (low, least): (f32, usize),
) -> Vec<Piece> {
    let (width, height) = (region.x.1 + 1 - region.x.0, region.y.1 + 1 - region.y.0);
    let (x, y) = (region.x.0, region.y.0);
    let at_edge = region.at_edge(labels.width, labels.height);
    let own = labels.cut(x, y, width, height).map(|one| one == label);
    let whole = |mask: Mask, area| Piece { x, y, mask, area };
    let shares = shared(
        &delta.cut(x, y, width, height),
        &own,
        low,
        if at_edge { NECK_AT_EDGE } else { NECK },
    );
    let Some((shares, count)) = shares else {
        return vec![whole(own, region.area)];
    };
    (1..=count as u32)
        .map(|one| shares.map(|share| share == one))
        .map(|mask| (mask.count(), mask))
        .filter(|(area, _)| *area >= least)
        .map(|(area, mask)| whole(mask, area))
        .collect()
}

/// A region shared among the domes of its distance transform, if there are several. The domes are looked for in the pixels
/// over half of the region's own difference, where a blur has not closed the gaps; what they leave out has its own.
fn shared(delta: &Plane<f32>, own: &Mask, low: f32, neck: f32) -> Option<(Plane<u32>, usize)> {
    let surface = framed(own);
    let inner = strong(delta, own, low);
    let mut markers = tops(&lowered_by(
        &inner.map_or_else(|| surface.clone(), |inner| framed(&inner)),
        neck,
    ));
    let mut count = markers.1;
    let rest = tops(&lowered_by(&surface, neck));
    for dome in regions(&rest.0.map(|label| label > 0), true).regions {
        let (mx, my) = dome.middle();
        let (mx, my) = (
            (mx as usize).min(own.width - 1),
            (my as usize).min(own.height - 1),
        );
        let reach = surface.at(mx, my).max(1.0) as usize;
        let near = markers.0.cut(
            mx.saturating_sub(reach),
            my.saturating_sub(reach),
            2 * reach + 1,
            2 * reach + 1,
        );
        if near.values.iter().all(|&label| label == 0) && surface.at(mx, my) > 2.0 {
            count += 1;
            markers.0.values[my * own.width + mx] = count as u32;
        }
    }
    (count > 1).then(|| (flooded(&surface, &markers.0, own), count))
}

/// The smoothed distance transform of a mask that ends at its window, except along the picture's edge.
fn framed(own: &Mask) -> Plane<f32> {
    let mut wide = Plane::filled(own.width + 2, own.height + 2, false);
    for y in 0..own.height {
        wide.values[(y + 1) * (own.width + 2) + 1..][..own.width].copy_from_slice(own.row(y));
    }
    let far = squared(&wide)
        .cut(1, 1, own.width, own.height)
        .map(f32::sqrt);
    let mut smooth = gauss(&far, 1.0);
    smooth
        .values
        .iter_mut()
        .zip(&own.values)
        .for_each(|(value, &own)| *value = if own { *value } else { 0.0 });
    smooth
}

fn lowered_by(surface: &Plane<f32>, neck: f32) -> Plane<f32> {
    lowered(surface, |d| (d - 0.75).min((1.0 - neck) * d))
}

/// The pixels of a region that differ from the ground by over half of what its inner pixels do.
/// None where that is hardly over the threshold: the noise at the edge would make domes.
fn strong(delta: &Plane<f32>, own: &Mask, low: f32) -> Option<Mask> {
    let mut inside: Vec<f32> = delta
        .values
        .iter()
        .zip(&own.values)
        .filter(|(_, own)| **own)
        .map(|(&one, _)| one)
        .collect();
    let half = 0.5 * quantile(&mut inside, 0.75);
    if half < 1.3 * low {
        return None;
    }
    let mask = Plane {
        width: own.width,
        height: own.height,
        values: delta
            .values
            .iter()
            .zip(&own.values)
            .map(|(&value, &own)| own && value > half)
            .collect(),
    };
    Some(opened3(&filled(&mask)))
}
