//! So many errors reach over chance in a trial whose error is pooled from few repeats and the smallest effects: simulated.
//!
//! As Ye and Hamada did for Lenth's error alone (Journal of Quality Technology 32:57, 2000), for both together. A row
//! is a number of effects, its columns 0 to 7 degrees of freedom from repeats. A test draws some again.

/// A number of effects, and its margin by 0 to 7 degrees of freedom from repeats.
type Row = (usize, [f64; 8]);

/// The margin that the largest of so many effects stays under in 95 of 100 trials of nothing.
pub(super) fn simultaneous(effects: usize, repeats: usize) -> f64 {
    between(&LARGEST, effects, repeats)
}

/// The margin of a range that holds what is true 95 times in 100, where the error comes from so many *other* effects: what
/// a thing itself adds to the error would make it wide where it needs it least.
pub(super) fn of_range(others: usize, repeats: usize) -> f64 {
    between(&APART, others, repeats)
}

/// On the straight line between the numbers of effects that were simulated.
fn between(rows: &[Row], effects: usize, repeats: usize) -> f64 {
    let at = |row: &Row| row.1[repeats.min(7)];
    let above = rows.iter().position(|row| row.0 >= effects);
    let above = above.unwrap_or(rows.len() - 1);
    let (low, high) = (&rows[above.saturating_sub(1)], &rows[above]);
    let width = high.0.saturating_sub(low.0).max(1) as f64;
    let share = (effects.saturating_sub(low.0) as f64 / width).clamp(0.0, 1.0);
    at(low) + share * (at(high) - at(low))
}

/// The 95 % points of the largest effect, in pooled errors, over 60,000 trials of nothing with normal noise (seed 1).
const LARGEST: [Row; 13] = [
    (3, [5.75, 3.49, 3.02, 2.84, 2.73, 2.66, 2.61, 2.58]),
    (4, [5.12, 3.26, 3.00, 2.88, 2.81, 2.75, 2.72, 2.70]),
    (5, [5.14, 4.03, 3.45, 3.20, 3.07, 2.97, 2.92, 2.87]),
    (6, [5.07, 4.00, 3.42, 3.22, 3.10, 3.04, 2.99, 2.95]),
    (7, [4.85, 4.09, 3.65, 3.40, 3.26, 3.16, 3.10, 3.05]),
    (9, [4.61, 4.08, 3.75, 3.54, 3.39, 3.30, 3.24, 3.18]),
    (11, [4.45, 4.04, 3.77, 3.63, 3.48, 3.38, 3.32, 3.26]),
    (13, [4.34, 3.99, 3.76, 3.64, 3.55, 3.45, 3.38, 3.33]),
    (15, [4.24, 3.97, 3.80, 3.67, 3.58, 3.49, 3.44, 3.38]),
    (19, [4.10, 3.91, 3.80, 3.69, 3.62, 3.55, 3.51, 3.47]),
    (23, [4.02, 3.90, 3.79, 3.71, 3.65, 3.61, 3.54, 3.51]),
    (27, [3.97, 3.86, 3.78, 3.73, 3.68, 3.62, 3.60, 3.57]),
    (31, [3.94, 3.85, 3.78, 3.73, 3.68, 3.64, 3.61, 3.58]),
];

/// The 95 % points of a normal deviate over the pooled error of so many others, over 400,000 draws (seed 1).
const APART: [Row; 15] = [
    (2, [3.22, 2.81, 2.57, 2.42, 2.33, 2.27, 2.22, 2.19]),
    (3, [4.37, 3.04, 2.65, 2.45, 2.34, 2.28, 2.24, 2.20]),
    (4, [3.36, 2.72, 2.49, 2.37, 2.29, 2.24, 2.20, 2.17]),
    (5, [3.40, 2.74, 2.50, 2.38, 2.30, 2.23, 2.20, 2.18]),
    (6, [3.00, 2.59, 2.42, 2.33, 2.27, 2.22, 2.18, 2.16]),
    (7, [2.96, 2.59, 2.41, 2.33, 2.26, 2.21, 2.18, 2.15]),
    (8, [2.78, 2.50, 2.37, 2.29, 2.23, 2.20, 2.17, 2.14]),
    (9, [2.71, 2.48, 2.36, 2.29, 2.24, 2.19, 2.17, 2.15]),
    (10, [2.60, 2.42, 2.31, 2.26, 2.21, 2.18, 2.16, 2.14]),
    (12, [2.49, 2.37, 2.28, 2.22, 2.19, 2.16, 2.14, 2.13]),
    (14, [2.42, 2.32, 2.26, 2.21, 2.18, 2.16, 2.13, 2.13]),
    (18, [2.31, 2.25, 2.21, 2.17, 2.15, 2.13, 2.12, 2.10]),
    (22, [2.24, 2.21, 2.17, 2.15, 2.13, 2.11, 2.10, 2.09]),
    (26, [2.20, 2.17, 2.15, 2.13, 2.11, 2.10, 2.09, 2.08]),
    (30, [2.17, 2.14, 2.12, 2.11, 2.10, 2.09, 2.08, 2.07]),
];
