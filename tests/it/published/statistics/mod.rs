//! Statistics against print, or against another library. READ: read in a copy of the text named; COMPUTED: with a
//! general library (scipy 1.17, statsmodels 0.15, mpmath) or by other code; MEMORY: not read again.

mod averaging;
mod chances;
mod early;
mod factorial;
mod findings;
mod intervals;
mod least_squares;
mod order;
mod shares;
mod shrinkage;
mod simulated;
mod studios;
mod surface;

use stillcup::numbers::statistics::choice::{Belief, chance_of_best};

/// The chance that the second is truly the better of two, as the program has it for any number.
fn better(a: Belief, b: Belief) -> f64 {
    chance_of_best(&[a, b])[1]
}

/// The numbers of a table with a head; cells that are none are left out.
fn table(text: &str) -> Vec<Vec<f64>> {
    let cells = |line: &str| line.split(',').filter_map(|c| c.parse().ok()).collect();
    text.lines().skip(1).map(cells).collect()
}

/// Volume, of the table in McDonald's handbook, p. 212 (READ), with ties.
pub const VOLUME: [f64; 18] = [
    1760., 2040., 2440., 2550., 2730., 2740., 3010., 3080., 3370., 3740., 4910., 5090., 5090.,
    5380., 5850., 6730., 6990., 7960.,
];
/// And the pitch beside it.
pub const PITCH: [f64; 18] = [
    529., 566., 473., 461., 465., 532., 484., 527., 488., 485., 478., 434., 468., 449., 425., 389.,
    421., 416.,
];
