//! Intervals for a share of good pours.
//!
//! Source: E. B. Wilson (1927), J. Am. Stat. Assoc. 22, 209-212; checked against Newcombe (1998), table I.

/// Good pours among all.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Tally {
    /// How many were good.
    pub good: usize,
    /// How many there were.
    pub pours: usize,
}

/// The upper 2.5 % point of the standard normal distribution.
const Z: f64 = 1.959_963_984_540_054;

/// Wilson's 95 % interval; `None` without a pour.
#[must_use]
pub fn wilson(tally: Tally) -> Option<(f64, f64)> {
    if tally.pours == 0 {
        return None;
    }
    let n = tally.pours as f64;
    let p = tally.good as f64 / n;
    let middle = (p + Z * Z / (2.0 * n)) / (1.0 + Z * Z / n);
    let half = Z / (1.0 + Z * Z / n) * (p * (1.0 - p) / n + Z * Z / (4.0 * n * n)).sqrt();
    Some(((middle - half).max(0.0), (middle + half).min(1.0)))
}
