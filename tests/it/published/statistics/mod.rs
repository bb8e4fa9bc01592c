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

/// The numbers of a table with a head; cells that are none are left out.
fn table(text: &str) -> Vec<Vec<f64>> {
    let cells = |line: &str| line.split(',').filter_map(|c| c.parse().ok()).collect();
    text.lines().skip(1).map(cells).collect()
}
