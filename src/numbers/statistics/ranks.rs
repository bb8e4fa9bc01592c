//! Tests that only ask for order: Mann-Whitney, Kruskal-Wallis, Spearman, Kendall. Ties share their rank.

use super::distribution::{chi2_tail, normal_two_sided, t_two_sided};
use statrs::function::factorial::ln_binomial;

/// A statistic with its two-sided p.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ranked {
    /// U, H, rho or tau.
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

/// Kruskal and Wallis' H over the groups, corrected for ties, p by chi-square. None with fewer than two
/// groups that hold anything, or when all values are one.
#[must_use]
pub fn kruskal_wallis(groups: &[Vec<f64>]) -> Option<Ranked> {
    let groups: Vec<&Vec<f64>> = groups.iter().filter(|g| !g.is_empty()).collect();
    let all: Vec<f64> = groups.iter().flat_map(|g| g.iter().copied()).collect();
    if groups.len() < 2 || !usable(&all) {
        return None;
    }
    let n = all.len() as f64;
    let correction = 1.0 - tie_sum(&all) / (n * n * n - n);
    if correction <= 1e-12 {
        return None;
    }
    let ranks = midranks(&all);
    let mut rest = ranks.as_slice();
    let mut sum = 0.0;
    for group in &groups {
        let (own, after) = rest.split_at(group.len());
        sum += own.iter().sum::<f64>().powi(2) / group.len() as f64;
        rest = after;
    }
    let h = (12.0 / (n * (n + 1.0)) * sum - 3.0 * (n + 1.0)) / correction;
    Some(Ranked {
        value: h,
        p: chi2_tail(h, groups.len() as f64 - 1.0),
        exact: false,
    })
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

/// Kendall's tau-b: exact p without ties up to 60 pairs, else the normal curve corrected for ties. None
/// with fewer than two pairs or when either side does not vary.
#[must_use]
pub fn kendall(x: &[f64], y: &[f64]) -> Option<Ranked> {
    if x.len() != y.len() || x.len() < 2 || !usable(x) || !usable(y) {
        return None;
    }
    let n = x.len() as f64;
    let pairs = n * (n - 1.0) / 2.0;
    let score = concordance(x, y);
    let (tx, ty) = (runs(x), runs(y));
    let tied = |t: &[f64]| t.iter().map(|t| t * (t - 1.0) / 2.0).sum::<f64>();
    let root = ((pairs - tied(&tx)) * (pairs - tied(&ty))).sqrt();
    if root <= 0.0 {
        return None;
    }
    let free = tied(&tx) + tied(&ty) == 0.0;
    if free && x.len() <= 60 {
        return Some(Ranked {
            value: score / root,
            p: tau_exact(x.len(), score),
            exact: true,
        });
    }
    let z = score / tau_variance(n, &tx, &ty).sqrt();
    Some(Ranked {
        value: score / root,
        p: normal_two_sided(z),
        exact: false,
    })
}

fn concordance(x: &[f64], y: &[f64]) -> f64 {
    let mut score = 0.0;
    for i in 1..x.len() {
        for j in 0..i {
            let product = (x[i] - x[j]) * (y[i] - y[j]);
            score += if product == 0.0 {
                0.0
            } else {
                product.signum()
            };
        }
    }
    score
}

fn tau_variance(n: f64, tx: &[f64], ty: &[f64]) -> f64 {
    let sum = |t: &[f64], f: fn(f64) -> f64| t.iter().map(|&v| f(v)).sum::<f64>();
    let first: fn(f64) -> f64 = |t| t * (t - 1.0) * (2.0 * t + 5.0);
    let second: fn(f64) -> f64 = |t| t * (t - 1.0) * (t - 2.0);
    let third: fn(f64) -> f64 = |t| t * (t - 1.0);
    let base = (first(n) - sum(tx, first) - sum(ty, first)) / 18.0;
    let triples = if n > 2.0 {
        sum(tx, second) * sum(ty, second) / (9.0 * second(n))
    } else {
        0.0
    };
    base + triples + sum(tx, third) * sum(ty, third) / (2.0 * third(n))
}

/// Counts permutations by their inversions: the chance of a score at least this far from none.
fn tau_exact(n: usize, score: f64) -> f64 {
    let mut chances = vec![1.0];
    for k in 2..=n {
        let mut next = vec![0.0; chances.len() + k - 1];
        for (i, c) in chances.iter().enumerate() {
            next[i..i + k]
                .iter_mut()
                .for_each(|slot| *slot += c / k as f64);
        }
        chances = next;
    }
    let pairs = (n * (n - 1) / 2) as f64;
    let far = |i: usize| (pairs - 2.0 * i as f64).abs() >= score.abs() - 1e-9;
    chances
        .iter()
        .enumerate()
        .filter(|(i, _)| far(*i))
        .map(|(_, c)| c)
        .sum::<f64>()
        .min(1.0)
}
