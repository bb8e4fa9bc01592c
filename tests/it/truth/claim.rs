//! One claim of the program about its numbers, and what simulated studios say of it.

// The tests and the bench each use their part.
#![allow(dead_code)]

use std::ops::RangeInclusive;

/// How often something was so.
#[derive(Debug, Clone, Copy)]
pub struct Measured {
    /// The share, or another figure that is a mean.
    pub value: f64,
    /// Its standard error.
    pub error: f64,
    /// How many draws stand behind it.
    pub draws: usize,
}

impl Measured {
    /// A share of draws.
    pub fn share(hits: usize, draws: usize) -> Self {
        let value = hits as f64 / draws.max(1) as f64;
        // Laplace's rule keeps the error of a share of nothing, or of all, above zero.
        let near = (hits as f64 + 1.0) / (draws as f64 + 2.0);
        let error = (near * (1.0 - near) / draws.max(1) as f64).sqrt();
        Self {
            value,
            error,
            draws,
        }
    }

    /// The mean of figures.
    pub fn mean(figures: &[f64]) -> Self {
        let draws = figures.len();
        let value = figures.iter().sum::<f64>() / draws.max(1) as f64;
        let squares: f64 = figures.iter().map(|x| (x - value) * (x - value)).sum();
        let error = (squares / (draws.max(2) - 1) as f64 / draws.max(1) as f64).sqrt();
        Self {
            value,
            error,
            draws,
        }
    }
}

/// What the program claims, and how to measure it.
pub struct Claim {
    /// What it says: `rest: 80 % band, median 4 h, 5 cups, morning`.
    pub name: String,
    /// Where the measured figure must lie.
    pub wanted: RangeInclusive<f64>,
    /// Measures it over so many studios, each made of its own seed.
    pub measure: Box<dyn Fn(Seeds) -> Measured + Send + Sync>,
    /// How many studios `cargo test` draws; 0 leaves it to the bench.
    pub few: usize,
    /// How many the bench draws.
    pub many: usize,
}

/// The seeds of a row's studios.
#[derive(Debug, Clone, Copy)]
pub struct Seeds {
    /// The first one.
    pub first: u64,
    /// How many.
    pub count: usize,
}

impl Seeds {
    /// Each of them.
    pub fn each(self) -> impl Iterator<Item = u64> {
        self.first..self.first + self.count as u64
    }
}

impl Claim {
    /// A claim that is measured by counting.
    pub fn new(
        name: impl Into<String>,
        wanted: RangeInclusive<f64>,
        draws: (usize, usize),
        measure: impl Fn(Seeds) -> Measured + Send + Sync + 'static,
    ) -> Self {
        Self {
            name: name.into(),
            wanted,
            measure: Box::new(measure),
            few: draws.0,
            many: draws.1,
        }
    }

    /// Whether what was measured lies where it must, give or take three standard errors.
    pub fn holds(&self, measured: Measured) -> bool {
        let slack = 3.0 * measured.error;
        let (low, high) = (self.wanted.start() - slack, self.wanted.end() + slack);
        (low..=high).contains(&measured.value)
    }
}
