//! What many cells are together: sizes with a band, evenness, how far neighbours are.

use rand::{Rng, RngExt, SeedableRng, rngs::ChaCha8Rng};

/// The mean.
#[must_use]
pub fn mean(values: &[f64]) -> Option<f64> {
    (!values.is_empty()).then(|| values.iter().sum::<f64>() / values.len() as f64)
}

/// A quantile of sorted values, by straight lines between them (Hyndman and Fan's type 7, as numpy's).
#[must_use]
pub fn quantile(sorted: &[f64], share: f64) -> Option<f64> {
    let last = sorted.len().checked_sub(1)?;
    let at = share.clamp(0.0, 1.0) * last as f64;
    let (low, high) = (at.floor() as usize, at.ceil() as usize);
    Some(sorted[low] + (sorted[high] - sorted[low]) * at.fract())
}

/// The coefficient of variation, the standard deviation (n - 1) over the mean; none under two values.
#[must_use]
pub fn variation(values: &[f64]) -> Option<f64> {
    let mean = mean(values).filter(|_| values.len() > 1)?;
    let squares: f64 = values.iter().map(|value| (value - mean).powi(2)).sum();
    (mean > 0.0).then(|| (squares / (values.len() - 1) as f64).sqrt() / mean)
}

/// An 80 % band of the median by the bootstrap (percentile method, 400 draws); none under five values.
#[must_use]
pub fn median_band(sorted: &[f64], seed: u64) -> Option<(f64, f64)> {
    const DRAWS: usize = 400;
    if sorted.len() < 5 {
        return None;
    }
    let mut random = ChaCha8Rng::seed_from_u64(seed);
    let mut medians: Vec<f64> = (0..DRAWS)
        .filter_map(|_| median_of_draw(sorted, &mut random))
        .collect();
    medians.sort_by(f64::total_cmp);
    Some((quantile(&medians, 0.1)?, quantile(&medians, 0.9)?))
}

fn median_of_draw(sorted: &[f64], random: &mut impl Rng) -> Option<f64> {
    // Drawn places sorted are drawn values sorted.
    let mut drawn: Vec<usize> = (0..sorted.len())
        .map(|_| random.random_range(0..sorted.len()))
        .collect();
    drawn.sort_unstable();
    let values: Vec<f64> = drawn.into_iter().map(|at| sorted[at]).collect();
    quantile(&values, 0.5)
}

/// The mean distance to the nearest neighbour; none under two places.
#[must_use]
pub fn spacing(places: &[(f64, f64)]) -> Option<f64> {
    if places.len() < 2 {
        return None;
    }
    let mut sorted = places.to_vec();
    sorted.sort_by(|a, b| a.0.total_cmp(&b.0));
    let sum: f64 = (0..sorted.len()).map(|at| nearest(&sorted, at)).sum();
    Some(sum / sorted.len() as f64)
}

/// How far the nearest other place is, among places sorted from left to right.
fn nearest(sorted: &[(f64, f64)], at: usize) -> f64 {
    let here = sorted[at];
    let mut best = f64::MAX;
    let mut look = |other: &(f64, f64)| -> bool {
        best = best.min((other.0 - here.0).hypot(other.1 - here.1));
        (other.0 - here.0).abs() <= best
    };
    let _ = sorted[at + 1..].iter().all(&mut look);
    let _ = sorted[..at].iter().rev().all(&mut look);
    best
}

/// The mean distance to the nearest neighbour over that of places strewn at random: 1 at random, 0 all in one place,
/// 2.1491 the most even. Clark and Evans, "Distance to nearest neighbor as a measure of spatial relationships in
/// populations", Ecology 35, 1954, 445-453. The edge is not corrected for.
#[must_use]
pub fn spacing_ratio(places: &[(f64, f64)], area: f64) -> Option<f64> {
    let density = places.len() as f64 / area;
    spacing(places)
        .map(|found| found * 2.0 * density.sqrt())
        .filter(|ratio| ratio.is_finite())
}
