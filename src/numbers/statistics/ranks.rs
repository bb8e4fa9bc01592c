//! Tests that only ask for order: Mann and Whitney's, Spearman's, Kendall's. Ties share their rank.

use super::distribution::{Z95, normal_two_sided, t_two_sided};
use super::proportion::Interval;
use statrs::function::factorial::ln_binomial;

/// A statistic with its two-sided p.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ranked {
    /// U or rho.
    pub value: f64,
    /// The two-sided p.
    pub p: f64,
    /// Whether p was counted, and not taken from a limiting curve.
    pub exact: bool,
}

/// The rank of each value, from 1; equal values share the mean of theirs.
#[must_use]
pub fn midranks(values: &[f64]) -> Vec<f64> {
    let mut order: Vec<usize> = (0..values.len()).collect();
    order.sort_by(|&i, &j| values[i].total_cmp(&values[j]));
    let mut ranks = vec![0.0; values.len()];
    for run in order.chunk_by(|&i, &j| values[i] == values[j]) {
        let below = run.iter().map(|&i| values[i]).next().map_or(0, |v| {
            order.partition_point(|&i| values[i].total_cmp(&v).is_lt())
        });
        let rank = below as f64 + (run.len() as f64 + 1.0) / 2.0;
        run.iter().for_each(|&i| ranks[i] = rank);
    }
    ranks
}

/// The sum of t^3 - t over runs of equal values.
fn tie_sum(values: &[f64]) -> f64 {
    runs(values).iter().map(|t| t * t * t - t).sum()
}

fn runs(values: &[f64]) -> Vec<f64> {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    sorted
        .chunk_by(|a, b| a == b)
        .map(|run| run.len() as f64)
        .collect()
}

fn usable(values: &[f64]) -> bool {
    !values.is_empty() && values.iter().all(|v| v.is_finite())
}

/// Mann and Whitney's U of the first sample. Exact without ties up to 50 a side; else the normal curve,
/// corrected for ties and continuity. None when a side is empty or all values are one.
#[must_use]
pub fn mann_whitney(first: &[f64], second: &[f64]) -> Option<Ranked> {
    if !usable(first) || !usable(second) {
        return None;
    }
    let all = [first, second].concat();
    let (n, m, total) = (first.len() as f64, second.len() as f64, all.len() as f64);
    let u = midranks(&all)[..first.len()].iter().sum::<f64>() - n * (n + 1.0) / 2.0;
    let ties = tie_sum(&all);
    if ties == 0.0 && first.len().max(second.len()) <= 50 {
        return Some(Ranked {
            value: u,
            p: u_exact(first.len(), second.len(), u),
            exact: true,
        });
    }
    let variance = n * m / 12.0 * (total + 1.0 - ties / (total * (total - 1.0)));
    if variance <= 1e-12 {
        return None;
    }
    let z = ((u - n * m / 2.0).abs() - 0.5).max(0.0) / variance.sqrt();
    Some(Ranked {
        value: u,
        p: normal_two_sided(z),
        exact: false,
    })
}

fn u_exact(n: usize, m: usize, u: f64) -> f64 {
    let near = u.min((n * m) as f64 - u) as usize;
    (2.0 * u_chances(n, m, near).iter().sum::<f64>()).min(1.0)
}

/// The chances of the lowest U, up to `most`, which is at most half the highest: the coefficients of Gauss's binomial,
/// the product over i of (1 - q^(m + i)) / (1 - q^i), one factor at a time, so that every stage is a count.
fn u_chances(n: usize, m: usize, most: usize) -> Vec<f64> {
    let mut ways = vec![0.0_f64; most + 1];
    ways[0] = 1.0;
    for i in 1..=n {
        for u in (m + i..=most).rev() {
            ways[u] -= ways[u - m - i];
        }
        for u in i..=most {
            ways[u] += ways[u - i];
        }
    }
    let all = ln_binomial((n + m) as u64, n as u64);
    ways.iter().map(|c| (c.ln() - all).exp()).collect()
}

/// Spearman's rho: Pearson's correlation of the midranks; p by t with n - 2 degrees of freedom. None with
/// fewer than three pairs or when either side does not vary.
#[must_use]
pub fn spearman(x: &[f64], y: &[f64]) -> Option<Ranked> {
    if x.len() != y.len() || x.len() < 3 || !usable(x) || !usable(y) {
        return None;
    }
    let rho = pearson(&midranks(x), &midranks(y))?;
    let freedom = x.len() as f64 - 2.0;
    let t = rho * (freedom / (1.0 - rho * rho).max(0.0)).sqrt();
    Some(Ranked {
        value: rho,
        p: t_two_sided(t, freedom),
        exact: false,
    })
}

/// How far two orders of the same things agree.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Agreement {
    /// Kendall's tau-b: 1 the same order, 0 none, -1 the other way round.
    pub tau: f64,
    /// Its 95 % interval.
    pub interval: Interval,
    /// How many things were ordered.
    pub pairs: usize,
}

/// Kendall's tau-b (ties on either side taken out), its interval by Fisher's transform with a variance of
/// .437 / (n - 4) (Fieller, Hartley and Pearson, Biometrika 44, 1957; from memory). None with fewer than ten pairs or
/// where either side does not vary.
#[must_use]
pub fn agreement(x: &[f64], y: &[f64]) -> Option<Agreement> {
    const LEAST: usize = 10;
    let n = x.len();
    if n < LEAST || n != y.len() || !usable(x) || !usable(y) {
        return None;
    }
    let tau = kendall(x, y)?;
    let wide = Z95 * (0.437 / (n as f64 - 4.0)).sqrt();
    let middle = tau.clamp(-0.999, 0.999).atanh();
    Some(Agreement {
        tau,
        interval: Interval {
            low: (middle - wide).tanh(),
            high: (middle + wide).tanh(),
        },
        pairs: n,
    })
}

/// Kendall's tau-b; none where a side does not vary.
#[must_use]
pub fn kendall(x: &[f64], y: &[f64]) -> Option<f64> {
    let sign = |a: f64, b: f64| f64::from(i8::from(a > b) - i8::from(a < b));
    let (mut both, mut xs, mut ys) = (0.0, 0.0, 0.0);
    for i in 0..x.len().min(y.len()) {
        for j in 0..i {
            let (a, b) = (sign(x[i], x[j]), sign(y[i], y[j]));
            both += a * b;
            xs += a * a;
            ys += b * b;
        }
    }
    (xs > 0.0 && ys > 0.0).then(|| both / (xs * ys).sqrt())
}

/// Pearson's correlation; none where a side does not vary.
pub(super) fn pearson(x: &[f64], y: &[f64]) -> Option<f64> {
    let n = x.len() as f64;
    let (mx, my) = (x.iter().sum::<f64>() / n, y.iter().sum::<f64>() / n);
    let (mut xx, mut yy, mut xy) = (0.0, 0.0, 0.0);
    for (a, b) in x.iter().zip(y) {
        xx += (a - mx).powi(2);
        yy += (b - my).powi(2);
        xy += (a - mx) * (b - my);
    }
    (xx > 0.0 && yy > 0.0).then(|| (xy / (xx * yy).sqrt()).clamp(-1.0, 1.0))
}
