//! Variants judged together: each leans on the others as far as the counts allow.
//!
//! A beta-binomial with mean eta and strength M; priors flat on eta and on u = 1/(1+M), after Albert (from
//! memory). The maximum of the likelihood alone runs to M without end on few pours, so it is not used.

use super::distribution::beta_cdf;
use super::proportion::Tally;
use statrs::function::gamma::ln_gamma;

/// Cells a side of the usual grid; means agree with a grid 15 times finer to about 0.001.
const GRID: u32 = 40;

/// What is believed of one variant after looking at all of them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Belief {
    /// The mean share of good pours.
    pub mean: f64,
    /// The point with one tenth of the belief below it; variants are ordered by this.
    pub low10: f64,
    /// The point with one tenth of the belief above it.
    pub high90: f64,
}

/// A cell of the grid: the common prior's shapes and how much the counts believe in it.
struct Cell {
    a: f64,
    b: f64,
    weight: f64,
}

/// The standing of each variant, in the order given.
#[must_use]
pub fn standings(tallies: &[Tally]) -> Vec<Belief> {
    let cells = posterior(tallies, GRID);
    tallies.iter().map(|t| standing(&cells, *t)).collect()
}

/// The posterior means alone, on a grid of the given cells a side (at least 2).
#[must_use]
pub fn means(tallies: &[Tally], grid: u32) -> Vec<f64> {
    let cells = posterior(tallies, grid.max(2));
    tallies.iter().map(|t| mean(&cells, *t)).collect()
}

fn posterior(tallies: &[Tally], grid: u32) -> Vec<Cell> {
    let middle = |i: u32| (f64::from(i) + 0.5) / f64::from(grid);
    let mut cells = Vec::with_capacity((grid * grid) as usize);
    for (i, j) in (0..grid).flat_map(|i| (0..grid).map(move |j| (i, j))) {
        let (eta, u) = (middle(i), middle(j));
        let strength = 1.0 / u - 1.0;
        let (a, b) = (eta * strength, (1.0 - eta) * strength);
        cells.push(Cell {
            a,
            b,
            weight: log_likelihood(tallies, a, b),
        });
    }
    let top = cells
        .iter()
        .map(|c| c.weight)
        .fold(f64::NEG_INFINITY, f64::max);
    cells
        .iter_mut()
        .for_each(|c| c.weight = (c.weight - top).exp());
    cells.retain(|c| c.weight > 1e-7);
    let total: f64 = cells.iter().map(|c| c.weight).sum();
    cells.iter_mut().for_each(|c| c.weight /= total);
    cells
}

fn log_likelihood(tallies: &[Tally], a: f64, b: f64) -> f64 {
    let one = |t: &Tally| ln_rising(a, t.good) + ln_rising(b, t.bad()) - ln_rising(a + b, t.pours);
    tallies.iter().map(one).sum()
}

/// The log of x (x + 1) ... (x + n - 1).
fn ln_rising(x: f64, n: u32) -> f64 {
    // So many factors cannot run over, and a product costs far less than two gammas.
    if n <= 48 {
        return (0..n).map(|i| x + f64::from(i)).product::<f64>().ln();
    }
    ln_gamma(x + f64::from(n)) - ln_gamma(x)
}

fn mean(cells: &[Cell], t: Tally) -> f64 {
    let (s, n) = (f64::from(t.good), f64::from(t.pours));
    cells
        .iter()
        .map(|c| c.weight * (c.a + s) / (c.a + c.b + n))
        .sum()
}

fn standing(cells: &[Cell], t: Tally) -> Belief {
    let (s, f) = (f64::from(t.good), f64::from(t.bad()));
    let cdf = |x: f64| {
        cells
            .iter()
            .map(|c| c.weight * beta_cdf(c.a + s, c.b + f, x))
            .sum::<f64>()
    };
    Belief {
        mean: mean(cells, t),
        low10: coarse(&cdf, 0.1),
        high90: coarse(&cdf, 0.9),
    }
}

/// The quantile to a ten-thousandth.
fn coarse(cdf: &impl Fn(f64) -> f64, share: f64) -> f64 {
    let (mut low, mut high) = (0.0, 1.0);
    while high - low > 1e-4 {
        let middle = 0.5 * (low + high);
        if cdf(middle) < share {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}
