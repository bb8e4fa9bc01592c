//! The ground that cells stand on: its colour and its uneven light, a polynomial over the picture for each of L, a and b,
//! fitted to the commonest colour and what is near it.

use super::colour::{Lab, apart};
use super::plane::{Mask, Plane, by_rows};
use super::quad::{area, hull};
use super::regions::regions;
use super::table::quantile;
use nalgebra::{SMatrix, SVector};

/// The ground's colour anywhere: terms 1, x, y, x2, xy, y2 of places from -1 to 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ground {
    terms: [[f32; 6]; 3],
    width: f32,
    height: f32,
}

/// The order of the polynomial in each round.
const ORDERS: [usize; 10] = [0, 1, 1, 2, 2, 2, 2, 2, 2, 2];

/// Common colours that the ground may be one of, at the most.
const MOST: usize = 4;
/// The part of the picture that must be left for another.
const FEWEST: f64 = 0.12;
/// How far from one the next must stand.
const UNLIKE: f32 = 16.0;
/// A colour is in pieces, if its largest has less than this of it.
const IN_PIECES: f64 = 0.4;
/// How near to the ground's colour is still ground.
const NEAR: f32 = 12.0;

/// Cells fill over three quarters of their hulls, what lies between them a third.
const ROUND: f64 = 0.6;
/// Fewer pixels have no shape.
const SHAPED: usize = 12;

/// How the pixels of a colour lie.
struct Lies {
    /// How many they are.
    pixels: usize,
    /// The part of them that the largest joined region has.
    largest: f64,
    /// The part of their regions' hulls that they fill: near 1 for cells, less for what lies between cells.
    full: f64,
}

impl Ground {
    /// The ground of a small picture in CIELAB, of the places that are open; none where nothing is open. It is the commonest
    /// colour, unless that lies in pieces: where cells are crowded there is more of their colours than of the ground, but
    /// they are round, and what is left of the ground between them is not: of what is not round there is most of the ground.
    #[must_use]
    pub fn of(picture: &Plane<Lab>, open: &Mask) -> Option<Self> {
        let seeds = common(picture, open).into_iter();
        let mut grounds = seeds.map(|seed| Self::around(seed, picture, open));
        let first = grounds.next()?;
        let lies = first.lies(picture, open);
        if lies.largest >= IN_PIECES {
            return Some(first);
        }
        let others = grounds.map(|one| (one.lies(picture, open), one));
        let between = std::iter::once((lies, first))
            .chain(others)
            .filter(|one| one.0.full < ROUND);
        let best = between.max_by_key(|one| one.0.pixels);
        Some(best.map_or(first, |one| one.1))
    }

    fn around(seed: Lab, picture: &Plane<Lab>, open: &Mask) -> Self {
        let flat = std::array::from_fn(|k| [seed[k], 0.0, 0.0, 0.0, 0.0, 0.0]);
        let mut ground = Self {
            terms: flat,
            width: picture.width as f32,
            height: picture.height as f32,
        };
        for order in ORDERS {
            ground = ground.nearer(picture, open, order);
        }
        ground
    }

    /// How what has its colour lies.
    fn lies(&self, picture: &Plane<Lab>, open: &Mask) -> Lies {
        let near = by_rows(picture.width, picture.height, false, |y, row| {
            for (x, out) in row.iter_mut().enumerate() {
                *out = open.at(x, y) && apart(picture.at(x, y), self.at(x, y)) < NEAR;
            }
        });
        let found = regions(&near, true);
        let pixels = near.count();
        let largest = found.regions.iter().map(|one| one.area).max().unwrap_or(0);
        let (mut own, mut around) = (0.0, 0.0);
        for (at, region) in found.regions.iter().enumerate() {
            if region.area < SHAPED {
                continue;
            }
            let (x, y) = (region.x.0, region.y.0);
            let (width, height) = (region.x.1 + 1 - x, region.y.1 + 1 - y);
            let window = found.labels.cut(x, y, width, height);
            own += region.area as f64;
            around += area(&hull(&window, at as u32 + 1));
        }
        Lies {
            pixels,
            largest: largest as f64 / pixels.max(1) as f64,
            full: own / f64::max(around, 1.0),
        }
    }

    /// The same ground under a picture of another size.
    #[must_use]
    pub fn under(self, width: usize, height: usize) -> Self {
        Self {
            width: width as f32,
            height: height as f32,
            ..self
        }
    }

    fn place(&self, x: usize, y: usize) -> (f32, f32) {
        (
            (2 * x + 1) as f32 / self.width - 1.0,
            (2 * y + 1) as f32 / self.height - 1.0,
        )
    }

    /// Its colour at a pixel.
    #[must_use]
    #[inline]
    pub fn at(&self, x: usize, y: usize) -> Lab {
        let (u, v) = self.place(x, y);
        self.terms
            .map(|t| t[0] + v * (t[2] + v * t[5]) + u * (t[1] + v * t[4] + u * t[3]))
    }

    /// Its colour in the middle.
    #[must_use]
    pub fn middle(&self) -> Lab {
        self.terms.map(|t| t[0])
    }

    fn nearer(&self, picture: &Plane<Lab>, open: &Mask, order: usize) -> Self {
        let off: Vec<(usize, f32)> = places(open)
            .map(|at| {
                (
                    at,
                    apart(
                        picture.values[at],
                        self.at(at % picture.width, at / picture.width),
                    ),
                )
            })
            .collect();
        let mut near: Vec<f32> = off
            .iter()
            .map(|one| one.1)
            .filter(|&far| far < 12.0)
            .collect();
        let most = (3.0 * quantile(&mut near, 0.5)).clamp(3.0, 12.0);
        let used = off.iter().filter(|(_, far)| *far < most).map(|(at, _)| *at);
        self.fitted(picture, used, [1, 3, 6][order])
            .unwrap_or(*self)
    }

    fn fitted(
        &self,
        picture: &Plane<Lab>,
        used: impl Iterator<Item = usize>,
        terms: usize,
    ) -> Option<Self> {
        let mut left = SMatrix::<f64, 6, 6>::zeros();
        let mut right = [SVector::<f64, 6>::zeros(); 3];
        for at in used {
            let (u, v) = self.place(at % picture.width, at / picture.width);
            let (u, v) = (f64::from(u), f64::from(v));
            let row = SVector::<f64, 6>::from([1.0, u, v, u * u, u * v, v * v]);
            left += row * row.transpose();
            for (k, sum) in right.iter_mut().enumerate() {
                *sum += row * f64::from(picture.values[at][k]);
            }
        }
        for k in terms..6 {
            left.fill_row(k, 0.0);
            left.fill_column(k, 0.0);
            left[(k, k)] = 1.0;
            right.iter_mut().for_each(|sum| sum[k] = 0.0);
        }
        let solver = left.cholesky()?;
        let terms = right.map(|sum| {
            let solved = solver.solve(&sum);
            std::array::from_fn(|k| solved[k] as f32)
        });
        Some(Self { terms, ..*self })
    }
}

/// The places of a mask that belong.
fn places(open: &Mask) -> impl Iterator<Item = usize> + '_ {
    open.values
        .iter()
        .enumerate()
        .filter(|(_, one)| **one)
        .map(|(at, _)| at)
}

/// The commonest colours that are not alike, the commonest first.
fn common(picture: &Plane<Lab>, open: &Mask) -> Vec<Lab> {
    let mut left: Vec<Lab> = places(open).map(|at| picture.values[at]).collect();
    let fewest = (left.len() as f64 * FEWEST) as usize;
    let mut found = Vec::new();
    while found.len() < MOST && left.len() > fewest {
        let Some(seed) = commonest(&left) else { break };
        left.retain(|&one| apart(one, seed) >= UNLIKE);
        found.push(seed);
    }
    found
}

/// The mean of the fullest bin of colours, bins 4 wide, together with the bins beside it.
fn commonest(colours: &[Lab]) -> Option<Lab> {
    let bin = |colour: Lab| colour.map(|value| (value / 4.0).floor() as i32);
    let mut counts = std::collections::BTreeMap::<[i32; 3], u32>::new();
    for &colour in colours {
        *counts.entry(bin(colour)).or_default() += 1;
    }
    let around = |[l, a, b]: [i32; 3]| -> u32 {
        let steps = (0..27).map(|k| [l + k / 9 - 1, a + k / 3 % 3 - 1, b + k % 3 - 1]);
        steps.filter_map(|at| counts.get(&at)).sum()
    };
    let best = *counts.keys().max_by_key(|&&at| around(at))?;
    let near = |colour: Lab| (0..3).all(|k| (bin(colour)[k] - best[k]).abs() <= 1);
    let chosen = || colours.iter().filter(|&&one| near(one));
    let n = chosen().count() as f32;
    Some(std::array::from_fn(|k| {
        chosen().map(|one| one[k]).sum::<f32>() / n
    }))
}
