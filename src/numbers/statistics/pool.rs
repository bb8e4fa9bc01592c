//! The variants of one layer as a pool: what was poured long ago counts less, what was never poured is believed to be
//! like the others, and what to try next is what may well be best.
//!
//! Shares of good pours are beta-binomial with the grid of [`super::beta_binomial`], on counts that halve with age. The
//! next to try has the highest quantile at 1 - 1/t (Bayes-UCB; Kaufmann, Cappe and Garivier 2012, with c = 0), t the
//! counted pours of the pool and one.

use super::choice::{Belief, chance_of_best, expected_best};
use statrs::function::gamma::ln_gamma;

/// Cells a side of the grid.
const GRID: u32 = 24;
/// A cell with less of the belief than this is let go.
const FAINT: f64 = 1e-5;

/// A variant's pours, each by its age and whether it was good.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Record {
    /// Good pours, each counted for as much as its age leaves of it.
    pub good: f64,
    /// All pours, counted so.
    pub pours: f64,
}

impl Record {
    /// Adds a pour that is so many days old; it counts half after `half_life` days, a quarter after two.
    pub fn add(&mut self, good: bool, days: f64, half_life: f64) {
        let weight = (-days.max(0.0) / half_life).exp2();
        self.good += if good { weight } else { 0.0 };
        self.pours += weight;
    }
}

/// What is believed of one variant of a pool.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    /// The belief, as the beta distribution of its mean and spread.
    pub belief: Belief,
    /// The chance that it is the best of the pool.
    pub best: f64,
    /// What is given away on average by pouring it: the mean of the best share less its own.
    pub loss: f64,
    /// How good it may well be: the quantile that the next try goes by.
    pub upper: f64,
}

impl Place {
    /// What is given away on average where another is the best; none where that cannot be.
    #[must_use]
    pub fn loss_if_wrong(&self) -> Option<f64> {
        let wrong = 1.0 - self.best;
        (wrong > 1e-6).then(|| (self.loss / wrong).min(1.0))
    }
}

/// What is believed of every variant of a pool, in the order given.
#[must_use]
pub fn places(records: &[Record]) -> Vec<Place> {
    let beliefs = beliefs(records);
    let pours: f64 = records.iter().map(|one| one.pours).sum();
    let share = 1.0 - 1.0 / (pours + 1.0).max(2.0);
    let best = chance_of_best(&beliefs);
    let most = expected_best(&beliefs);
    let place = |(belief, best): (&Belief, f64)| Place {
        belief: *belief,
        best: best.clamp(0.0, 1.0),
        loss: (most - belief.mean()).max(0.0),
        upper: belief.quantile(share),
    };
    beliefs.iter().zip(best).map(place).collect()
}

/// Which to try next: the highest upper end; of equal ones the one poured less, then the first. None of none.
#[must_use]
pub fn next_try(records: &[Record], places: &[Place]) -> Option<usize> {
    let key = |at: &usize| (places[*at].upper, -records[*at].pours);
    (0..places.len()).rev().max_by(|a, b| {
        let (a, b) = (key(a), key(b));
        a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1))
    })
}

struct Cell {
    a: f64,
    b: f64,
    weight: f64,
}

fn beliefs(records: &[Record]) -> Vec<Belief> {
    let cells = cells(records);
    records.iter().map(|one| belief(&cells, one)).collect()
}

/// The beta distribution of the mixture's mean and spread.
fn belief(cells: &[Cell], of: &Record) -> Belief {
    let (mut mean, mut square) = (0.0, 0.0);
    for cell in cells {
        let (a, all) = (cell.a + of.good, cell.a + cell.b + of.pours);
        mean += cell.weight * a / all;
        square += cell.weight * a * (a + 1.0) / (all * (all + 1.0));
    }
    let variance = (square - mean * mean).max(1e-9);
    let strength = (mean * (1.0 - mean) / variance - 1.0).max(0.05);
    Belief::of_mean(mean, strength)
}

fn cells(records: &[Record]) -> Vec<Cell> {
    let middle = |i: u32| (f64::from(i) + 0.5) / f64::from(GRID);
    let at = (0..GRID).flat_map(|i| (0..GRID).map(move |j| (middle(i), middle(j))));
    let mut cells: Vec<Cell> = at
        .map(|(eta, u)| {
            let strength = 1.0 / u - 1.0;
            let (a, b) = (eta * strength, (1.0 - eta) * strength);
            let weight = records.iter().map(|one| log_likelihood(one, a, b)).sum();
            Cell { a, b, weight }
        })
        .collect();
    let top = cells
        .iter()
        .map(|c| c.weight)
        .fold(f64::NEG_INFINITY, f64::max);
    cells
        .iter_mut()
        .for_each(|c| c.weight = (c.weight - top).exp());
    cells.retain(|c| c.weight > FAINT);
    let whole: f64 = cells.iter().map(|c| c.weight).sum();
    cells.iter_mut().for_each(|c| c.weight /= whole);
    cells
}

fn log_likelihood(of: &Record, a: f64, b: f64) -> f64 {
    if of.pours <= 0.0 {
        return 0.0;
    }
    let rising = |x: f64, n: f64| ln_gamma(x + n) - ln_gamma(x);
    rising(a, of.good) + rising(b, of.pours - of.good) - rising(a + b, of.pours)
}
