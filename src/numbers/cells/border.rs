//! A side of the panel found to a part of a pixel: along many normals of a first guess the steps in colour are looked up,
//! and the straight line that most of them lie on is fitted.

use super::colour::{Lab, apart};
use super::homography::Point;
use super::plane::Plane;
use super::quad::meeting;
use super::table::quantile;

/// Normals along a side.
pub(super) const NORMALS: usize = 140;
/// How near a step must be to the line to speak for it, in pixels.
const NEAR: f64 = 1.5;
/// The filter of a step, from outside in, over 5.
const STEP: [f32; 7] = [1.0, 2.0, 2.0, 0.0, -2.0, -2.0, -1.0];
/// The least step that counts.
const LEAST: f32 = 1.2;

/// One step in colour along a normal.
#[derive(Debug, Clone, Copy)]
struct Candidate {
    /// How far out of the guessed line.
    offset: f64,
    /// How strong it is, in CIELAB.
    strength: f32,
}

/// A line over a side, by how far it is out of the guess at its two ends; and what speaks for it.
#[derive(Debug, Clone, Copy)]
pub struct Side {
    /// Two points of the line.
    pub line: (Point, Point),
    /// The share of the normals in the picture whose step is on the line.
    pub support: f64,
    /// The same in the worst third.
    pub worst_third: f64,
    /// How much of the step is still there a few pixels beside the line.
    pub lasting: f64,
}

/// The looked-up normals of one guessed side.
struct Look {
    from: Point,
    to: Point,
    out: Point,
    /// Of each normal in the picture: where along the side, and its steps.
    seen: Vec<(f64, Vec<Candidate>)>,
}

/// The colour at a place, by straight lines between four pixels.
pub(super) fn colour_at(picture: &Plane<Lab>, at: Point) -> Lab {
    let (x, y) = (at.x - 0.5, at.y - 0.5);
    let (left, top) = (x.floor(), y.floor());
    let (u, v) = ((x - left) as f32, (y - top) as f32);
    let (left, top) = (left as isize, top as isize);
    let (a, b) = (picture.near(left, top), picture.near(left + 1, top));
    let (c, d) = (picture.near(left, top + 1), picture.near(left + 1, top + 1));
    std::array::from_fn(|k| {
        let (up, low) = (a[k] + (b[k] - a[k]) * u, c[k] + (d[k] - c[k]) * u);
        up + (low - up) * v
    })
}

fn moved(from: Point, along: Point, by: f64) -> Point {
    Point {
        x: from.x + along.x * by,
        y: from.y + along.y * by,
    }
}

/// The mean colour over five places along the side.
fn along_mean(picture: &Plane<Lab>, at: Point, along: Point) -> Lab {
    let mut sum = [0.0; 3];
    for step in -2..=2 {
        let seen = colour_at(picture, moved(at, along, f64::from(step)));
        (0..3).for_each(|k| sum[k] += seen[k] / 5.0);
    }
    sum
}

/// The steps along a normal, within a reach each way, the strongest of each dome to a part of a pixel.
fn steps(
    picture: &Plane<Lab>,
    at: Point,
    along: Point,
    out: Point,
    reach: usize,
) -> Vec<Candidate> {
    let far = reach as isize + 3;
    let profile: Vec<Lab> = (-far..=far)
        .map(|s| along_mean(picture, moved(at, out, s as f64), along))
        .collect();
    let strength: Vec<f32> = profile
        .windows(7)
        .map(|seven| {
            let mut sum = [0.0_f32; 3];
            for (colour, weight) in seven.iter().zip(STEP) {
                (0..3).for_each(|k| sum[k] += colour[k] * weight / 5.0);
            }
            apart(sum, [0.0; 3])
        })
        .collect();
    let outer = strength.len() * 5 / 8;
    let least = LEAST.max(2.5 * quantile(&mut strength[outer..].to_vec(), 0.5));
    (1..strength.len() - 1)
        .filter(|&k| {
            strength[k] > least && strength[k] >= strength[k - 1] && strength[k] > strength[k + 1]
        })
        .map(|k| {
            let (before, here, after) = (strength[k - 1], strength[k], strength[k + 1]);
            let bend = before - 2.0 * here + after;
            let part = if bend < 0.0 {
                0.5 * (before - after) / bend
            } else {
                0.0
            };
            Candidate {
                offset: k as f64 + f64::from(part) - reach as f64,
                strength: here,
            }
        })
        .collect()
}

impl Look {
    fn new(picture: &Plane<Lab>, from: Point, to: Point, reach: usize) -> Self {
        let long = from.to(to).max(1e-9);
        let along = Point {
            x: (to.x - from.x) / long,
            y: (to.y - from.y) / long,
        };
        let out = Point {
            x: along.y,
            y: -along.x,
        };
        let inside = |p: Point| {
            p.x > 2.0
                && p.y > 2.0
                && p.x < picture.width as f64 - 2.0
                && p.y < picture.height as f64 - 2.0
        };
        let seen = (0..NORMALS)
            .map(|k| 0.04 + 0.92 * k as f64 / (NORMALS - 1) as f64)
            .map(|t| (t, moved(from, along, t * long)))
            .filter(|(_, at)| inside(*at))
            .map(|(t, at)| (t, steps(picture, at, along, out, reach)))
            .collect();
        Self {
            from,
            to,
            out,
            seen,
        }
    }

    /// The line that gathers the most votes, one a normal, by its offsets at both ends.
    fn voted(&self, reach: usize) -> (f64, f64) {
        let step = if reach > 24 { 2.0 } else { 1.0 };
        let bins = (2.0 * reach as f64 / step) as usize + 1;
        let votes: Vec<(f64, Vec<f32>)> = self
            .seen
            .iter()
            .map(|(t, found)| (*t, vote(found, reach, step, bins)))
            .collect();
        let mut best = (f32::MIN, 0, 0);
        for start in 0..bins {
            for end in 0..bins {
                let (a, b) = (start as f64, end as f64 - start as f64);
                let sum: f32 = votes
                    .iter()
                    .map(|(t, vote)| vote[(a + b * t + 0.5) as usize])
                    .sum();
                // Of equals the one nearer to the guess.
                let off = (start as f32 - reach as f32 / step as f32).abs()
                    + (end as f32 - reach as f32 / step as f32).abs();
                let sum = sum - 1e-4 * off;
                if sum > best.0 {
                    best = (sum, start, end);
                }
            }
        }
        let offset = |bin: usize| bin as f64 * step - reach as f64;
        (offset(best.1), offset(best.2))
    }

    /// The line fitted to the steps that lie on it, looked up anew six times.
    fn fitted(&self, guess: (f64, f64)) -> (f64, f64) {
        let mut line = guess;
        for pass in 0..6 {
            let near = if pass < 2 { 1.5 * NEAR } else { NEAR };
            let mut sums = [0.0; 5];
            for (t, found) in &self.seen {
                let expected = line.0 + (line.1 - line.0) * t;
                let Some(one) = closest(found, expected, near) else {
                    continue;
                };
                let off = (one.offset - expected) / near;
                let weight = (1.0 - off * off).powi(2) * weight(one);
                let terms = [1.0, *t, t * t, one.offset, t * one.offset];
                (0..5).for_each(|k| sums[k] += weight * terms[k]);
            }
            let [n, t, tt, o, to] = sums;
            let down = n * tt - t * t;
            if down < 1e-9 {
                break;
            }
            let slope = (n * to - t * o) / down;
            let start = (o - slope * t) / n;
            line = (start, start + slope);
        }
        line
    }

    fn side(&self, picture: &Plane<Lab>, offsets: (f64, f64)) -> Side {
        let line = (
            moved(self.from, self.out, offsets.0),
            moved(self.to, self.out, offsets.1),
        );
        let (mut all, mut on, mut lasting) = ([0_u32; 3], [0_u32; 3], Vec::new());
        for (t, found) in &self.seen {
            let third = ((t * 3.0) as usize).min(2);
            all[third] += 1;
            let expected = offsets.0 + (offsets.1 - offsets.0) * t;
            if let Some(one) = closest(found, expected, NEAR) {
                on[third] += 1;
                let at = Point {
                    x: line.0.x + (line.1.x - line.0.x) * t,
                    y: line.0.y + (line.1.y - line.0.y) * t,
                };
                lasting.push(self.lasting(picture, at) / one.strength);
            }
        }
        let share = |on: u32, all: u32| {
            if all == 0 {
                1.0
            } else {
                f64::from(on) / f64::from(all)
            }
        };
        let whole: u32 = all.iter().sum();
        Side {
            line,
            support: if whole == 0 {
                0.0
            } else {
                share(on.iter().sum(), whole)
            },
            worst_third: (0..3).map(|k| share(on[k], all[k])).fold(1.0, f64::min),
            lasting: f64::from(quantile(&mut lasting, 0.5)),
        }
    }

    /// How far the colours 4 to 9 pixels inside and outside of a point of the line stand apart.
    fn lasting(&self, picture: &Plane<Lab>, at: Point) -> f32 {
        let mean = |sign: f64| {
            let mut sum = [0.0; 3];
            for step in 4..=9 {
                let seen = colour_at(picture, moved(at, self.out, sign * f64::from(step)));
                (0..3).for_each(|k| sum[k] += seen[k] / 6.0);
            }
            sum
        };
        apart(mean(1.0), mean(-1.0))
    }
}

fn weight(one: &Candidate) -> f64 {
    0.35 + 0.65 * f64::from(one.strength.min(12.0)) / 12.0
}

fn vote(found: &[Candidate], reach: usize, step: f64, bins: usize) -> Vec<f32> {
    let mut votes = vec![0.0_f32; bins + 1];
    for one in found {
        let bin = (one.offset + reach as f64) / step;
        let spread = (NEAR / step).max(0.75);
        let from = (bin - spread).ceil().max(0.0) as usize;
        let to = ((bin + spread).floor().max(0.0) as usize).min(bins - 1);
        for vote in votes.iter_mut().take(to + 1).skip(from) {
            *vote = vote.max(weight(one) as f32);
        }
    }
    votes
}

fn closest(found: &[Candidate], expected: f64, near: f64) -> Option<&Candidate> {
    let off = |one: &&Candidate| (one.offset - expected).abs();
    found
        .iter()
        .filter(|one| off(one) <= near)
        .min_by(|a, b| off(a).total_cmp(&off(b)))
}

/// The four sides around a guess, each looked for within a reach; clockwise from the top.
#[must_use]
pub fn sides(picture: &Plane<Lab>, guess: &[Point; 4], reach: f64) -> [Side; 4] {
    let reach = reach.round().max(3.0) as usize;
    std::array::from_fn(|k| {
        let look = Look::new(picture, guess[k], guess[(k + 1) % 4], reach);
        let line = look.fitted(look.voted(reach));
        look.side(picture, line)
    })
}

/// The corners where four sides meet: of the first and the last, of the second and the first, and so on.
#[must_use]
pub fn corners(sides: &[Side; 4]) -> Option<[Point; 4]> {
    let mut out = [Point { x: 0.0, y: 0.0 }; 4];
    for (k, corner) in out.iter_mut().enumerate() {
        *corner = meeting(sides[(k + 3) % 4].line, sides[k].line)?;
    }
    Some(out)
}

/// The steps nearest to a curve at points with their outward directions, the strongest within a reach of each.
#[must_use]
pub fn strongest(picture: &Plane<Lab>, at: Point, out: Point, reach: usize) -> Option<Point> {
    let along = Point {
        x: -out.y,
        y: out.x,
    };
    let found = steps(picture, at, along, out, reach);
    let best = found
        .iter()
        .max_by(|a, b| a.strength.total_cmp(&b.strength))?;
    Some(moved(at, out, best.offset))
}
