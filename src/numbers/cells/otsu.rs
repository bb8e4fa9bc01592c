//! A threshold between two kinds of pixels: Otsu, "A threshold selection method from gray-level histograms", IEEE
//! Transactions on Systems, Man and Cybernetics 9, 1979, 62-66.

/// The last bin of the lower class, that which parts the histogram with the greatest variance between the classes; of
/// equals the lowest. None where all stands in one bin.
#[must_use]
pub fn otsu(counts: &[u64]) -> Option<usize> {
    let total: u64 = counts.iter().sum();
    let sum: f64 = counts
        .iter()
        .enumerate()
        .map(|(at, &n)| at as f64 * n as f64)
        .sum();
    let (mut below, mut below_sum) = (0_u64, 0.0);
    let mut best: Option<(f64, usize)> = None;
    for (at, &count) in counts.iter().enumerate() {
        below += count;
        below_sum += at as f64 * count as f64;
        if below == 0 || below == total {
            continue;
        }
        let (w0, w1) = (below as f64, (total - below) as f64);
        let between = (below_sum / w0 - (sum - below_sum) / w1).powi(2)
            * (w0 / total as f64)
            * (w1 / total as f64);
        if best.is_none_or(|(most, _)| between > most * (1.0 + 1e-12)) {
            best = Some((between, at));
        }
    }
    best.map(|(_, at)| at)
}

/// Otsu's threshold of values from 0 to a top, in bins: the upper edge of the last bin of the lower class.
#[must_use]
pub fn otsu_of(values: impl Iterator<Item = f32>, top: f32, bins: usize) -> Option<f32> {
    let mut counts = vec![0_u64; bins];
    let scale = bins as f32 / top;
    for value in values {
        counts[((value * scale) as usize).min(bins - 1)] += 1;
    }
    otsu(&counts).map(|at| (at + 1) as f32 / scale)
}
