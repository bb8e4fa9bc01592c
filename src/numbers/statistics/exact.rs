//! Fisher's exact test of a two-by-two table, and the conditional odds ratio.

use super::distribution::halve;
use super::proportion::Tally;
use statrs::function::factorial::ln_binomial;

/// What the exact test says of two tallies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fisher {
    /// The chance, margins kept, of as many good in the first or more.
    pub greater: f64,
    /// The chance of as many good in the first or fewer.
    pub less: f64,
    /// The chance of a table no likelier than this one.
    pub two_sided: f64,
    /// The conditional maximum likelihood odds ratio; 0 or infinite at the edge of what the margins allow.
    pub odds_ratio: f64,
}

/// Compares two tallies. None when a margin is empty, for then there is nothing to test.
#[must_use]
pub fn fisher(a: Tally, b: Tally) -> Option<Fisher> {
    let good = a.good + b.good;
    let all = a.pours + b.pours;
    if a.pours == 0 || b.pours == 0 || good == 0 || good == all {
        return None;
    }
    let low = good.saturating_sub(b.pours);
    let logs = log_weights(a.pours, b.pours, good);
    let chances = tilt(&logs, 0.0);
    let seen = (a.good - low) as usize;
    let limit = chances[seen] * (1.0 + 1e-7);
    Some(Fisher {
        greater: chances[seen..].iter().sum::<f64>().min(1.0),
        less: chances[..=seen].iter().sum::<f64>().min(1.0),
        two_sided: chances
            .iter()
            .filter(|&&c| c <= limit)
            .sum::<f64>()
            .min(1.0),
        odds_ratio: odds_ratio(&logs, seen),
    })
}

fn log_weights(first: u32, second: u32, good: u32) -> Vec<f64> {
    (good.saturating_sub(second)..=good.min(first))
        .map(|k| {
            ln_binomial(u64::from(first), u64::from(k))
                + ln_binomial(u64::from(second), u64::from(good - k))
        })
        .collect()
}

fn tilt(logs: &[f64], log_odds: f64) -> Vec<f64> {
    let tilted: Vec<f64> = logs
        .iter()
        .enumerate()
        .map(|(k, l)| l + k as f64 * log_odds)
        .collect();
    let top = tilted.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let weights: Vec<f64> = tilted.iter().map(|l| (l - top).exp()).collect();
    let total: f64 = weights.iter().sum();
    weights.iter().map(|w| w / total).collect()
}

fn odds_ratio(logs: &[f64], seen: usize) -> f64 {
    if seen == 0 {
        return 0.0;
    }
    if seen + 1 == logs.len() {
        return f64::INFINITY;
    }
    let mean = |b: f64| {
        tilt(logs, b)
            .iter()
            .enumerate()
            .map(|(k, c)| k as f64 * c)
            .sum::<f64>()
    };
    halve(-50.0, 50.0, |b| mean(b) < seen as f64).exp()
}
