//! Regions of a mask: joined pixels found by runs, holes filled, opened and closed by discs.

use super::distance::squared;
use super::plane::{Mask, Plane};

/// One joined region.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Region {
    /// Its pixels.
    pub area: usize,
    /// Its first and last column.
    pub x: (usize, usize),
    /// Its first and last row.
    pub y: (usize, usize),
    /// The sums of its columns and rows.
    pub sum: (f64, f64),
}

impl Region {
    /// Its middle, in pixels from the top left corner of the plane.
    #[must_use]
    pub fn middle(&self) -> (f64, f64) {
        let n = self.area as f64;
        (self.sum.0 / n + 0.5, self.sum.1 / n + 0.5)
    }

    /// Whether it reaches the edge of a plane.
    #[must_use]
    pub fn at_edge(&self, width: usize, height: usize) -> bool {
        self.x.0 == 0 || self.y.0 == 0 || self.x.1 + 1 == width || self.y.1 + 1 == height
    }

    fn add(&mut self, run: &Run) {
        let (from, to) = (run.from, run.to);
        self.area += to - from;
        self.x = (self.x.0.min(from), self.x.1.max(to - 1));
        self.y = (self.y.0.min(run.y), self.y.1.max(run.y));
        self.sum.0 += (from + to - 1) as f64 * (to - from) as f64 / 2.0;
        self.sum.1 += run.y as f64 * (to - from) as f64;
    }
}

/// The regions of a mask and which each pixel belongs to: 0 none, else its place in `regions` plus one.
#[derive(Debug, Clone)]
pub struct Regions {
    /// The label of each pixel.
    pub labels: Plane<u32>,
    /// One a label, from 1.
    pub regions: Vec<Region>,
}

struct Run {
    y: usize,
    from: usize,
    to: usize,
    parent: usize,
}

/// The regions of pixels that touch, by sides and corners too (`eight`) or by sides only.
#[must_use]
pub fn regions(mask: &Mask, eight: bool) -> Regions {
    let mut runs = runs(mask);
    join(&mut runs, usize::from(eight));
    let mut labels = Plane::filled(mask.width, mask.height, 0_u32);
    let mut names = vec![0_u32; runs.len()];
    let mut regions: Vec<Region> = Vec::new();
    for at in 0..runs.len() {
        let root = root(&mut runs, at);
        if names[root] == 0 {
            regions.push(Region {
                area: 0,
                x: (usize::MAX, 0),
                y: (usize::MAX, 0),
                sum: (0.0, 0.0),
            });
            names[root] = regions.len() as u32;
        }
        let (name, run) = (names[root], &runs[at]);
        regions[name as usize - 1].add(run);
        labels.values[run.y * mask.width + run.from..run.y * mask.width + run.to].fill(name);
    }
    Regions { labels, regions }
}

fn runs(mask: &Mask) -> Vec<Run> {
    let mut runs = Vec::new();
    for y in 0..mask.height {
        let row = mask.row(y);
        let mut x = 0;
        while x < row.len() {
            if !row[x] {
                x += 1;
                continue;
            }
            let from = x;
            while x < row.len() && row[x] {
                x += 1;
            }
            runs.push(Run {
                y,
                from,
                to: x,
                parent: runs.len(),
            });
        }
    }
    runs
}

/// Joins each run to those of the row above that it touches; `reach` 1 lets corners touch.
fn join(runs: &mut [Run], reach: usize) {
    let mut above = 0;
    for at in 0..runs.len() {
        let (y, from, to) = (runs[at].y, runs[at].from, runs[at].to);
        while above < at
            && (runs[above].y + 1 < y || (runs[above].y + 1 == y && runs[above].to + reach <= from))
        {
            above += 1;
        }
        let mut one = above;
        while one < at && runs[one].y + 1 == y && runs[one].from < to + reach {
            let (a, b) = (root(runs, one), root(runs, at));
            runs[a.max(b)].parent = a.min(b);
            one += 1;
        }
    }
}

fn root(runs: &mut [Run], mut at: usize) -> usize {
    while runs[at].parent != at {
        let up = runs[runs[at].parent].parent;
        runs[at].parent = up;
        at = up;
    }
    at
}

/// The mask with what it wholly encloses; a hole is joined by sides.
#[must_use]
pub fn filled(mask: &Mask) -> Mask {
    let outside = regions(&mask.map(|one| !one), false);
    let open: Vec<bool> = outside
        .regions
        .iter()
        .map(|one| one.at_edge(mask.width, mask.height))
        .collect();
    outside
        .labels
        .map(|label| label == 0 || !open[label as usize - 1])
}

/// The mask grown by a disc of a radius in pixels.
#[must_use]
pub fn grown(mask: &Mask, radius: f32) -> Mask {
    squared(&mask.map(|one| !one)).map(|far| far <= radius * radius)
}

/// The mask shrunk by a disc of a radius in pixels; beyond the plane it is taken to go on.
#[must_use]
pub fn shrunk(mask: &Mask, radius: f32) -> Mask {
    squared(mask).map(|far| far > radius * radius)
}

/// The mask closed by a disc: gaps narrower than it are filled.
#[must_use]
pub fn closed(mask: &Mask, radius: f32) -> Mask {
    shrunk(&grown(mask, radius), radius)
}

/// The mask opened by a disc: what is narrower than it is gone.
#[must_use]
pub fn opened(mask: &Mask, radius: f32) -> Mask {
    grown(&shrunk(mask, radius), radius)
}

/// The mask opened by a square of three pixels.
#[must_use]
pub fn opened3(mask: &Mask) -> Mask {
    square3(&square3(mask, true), false)
}

/// Each pixel: whether all (`all`) or any of the nine around it belong; beyond the plane its last pixels go on.
fn square3(mask: &Mask, all: bool) -> Mask {
    let pick = |a: bool, b: bool, c: bool| if all { a & b & c } else { a | b | c };
    let (width, height) = (mask.width, mask.height);
    let down = super::plane::by_rows(width, height, false, |y, row| {
        let (up, here, low) = (
            mask.row(y.saturating_sub(1)),
            mask.row(y),
            mask.row((y + 1).min(height - 1)),
        );
        for (x, out) in row.iter_mut().enumerate() {
            *out = pick(up[x], here[x], low[x]);
        }
    });
    super::plane::by_rows(width, height, false, |y, row| {
        let from = down.row(y);
        for (x, out) in row.iter_mut().enumerate() {
            *out = pick(
                from[x.saturating_sub(1)],
                from[x],
                from[(x + 1).min(width - 1)],
            );
        }
    })
}

/// The boundary's length of one label in a plane, by Crofton's formula in four directions, in pixels.
///
/// Counts the ends of runs along the rows, the columns and both diagonals (as scikit-image's `perimeter_crofton`).
#[must_use]
pub fn perimeter(labels: &Plane<u32>, label: u32, region: &Region) -> f64 {
    let has = |x: usize, y: usize| -> bool {
        // One pixel of nothing stands around the region.
        let inside = x >= 1 && y >= 1 && x - 1 < labels.width && y - 1 < labels.height;
        inside && labels.at(x - 1, y - 1) == label
    };
    let mut ends = [0_u32; 4];
    for y in region.y.0 + 1..=region.y.1 + 2 {
        for x in region.x.0 + 1..=region.x.1 + 2 {
            let (here, left, up, corner) =
                (has(x, y), has(x - 1, y), has(x, y - 1), has(x - 1, y - 1));
            ends[0] += u32::from(here != left);
            ends[1] += u32::from(here != up);
            ends[2] += u32::from(here != corner);
            ends[3] += u32::from(left != up);
        }
    }
    let [rows, columns, down, upward] = ends.map(f64::from);
    let diagonal = std::f64::consts::FRAC_1_SQRT_2;
    std::f64::consts::PI / 8.0 * (rows + columns + diagonal * (down + upward))
}
