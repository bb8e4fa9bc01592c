//! Where to look next on a surface: the settings whose improvement on the best so far is expected to be largest.
//!
//! Jones, Schonlau and Welch, Journal of Global Optimization 13:455 (1998), equation 15. Places are tried in the order of
//! Halton's sequence (1960), then the best few are bettered one setting at a time: no random source.

use super::distribution::{normal_cdf, normal_density};
use super::gaussian_process::{Guess, Surface};
use std::ops::RangeInclusive;

/// Places tried before the best are bettered, for each setting.
const TRIED: usize = 250;
/// The best of them that are bettered.
const BETTERED: usize = 3;
const PRIMES: [usize; 8] = [2, 3, 5, 7, 11, 13, 17, 19];

/// How much better than `best` a place is expected to be, being worse counted as nothing.
#[must_use]
pub fn expected_improvement(guess: Guess, best: f64) -> f64 {
    let gain = guess.mean - best;
    if guess.sd <= 0.0 {
        return gain.max(0.0);
    }
    let z = gain / guess.sd;
    (gain * normal_cdf(z) + guess.sd * normal_density(z)).max(0.0)
}

/// The place in the ranges where `objective` is largest; settings in the order of the ranges, eight at most.
#[must_use]
pub fn best_place(ranges: &[RangeInclusive<f64>], objective: impl Fn(&[f64]) -> f64) -> Vec<f64> {
    let tried = TRIED * ranges.len().max(1);
    let mut places: Vec<(f64, Vec<f64>)> = (1..=tried)
        .map(|at| halton(at, ranges))
        .map(|place| (objective(&place), place))
        .collect();
    places.sort_by(|a, b| b.0.total_cmp(&a.0));
    places.truncate(BETTERED);
    let bettered = places
        .into_iter()
        .map(|one| bettered(one, ranges, &objective));
    let best = bettered.max_by(|a, b| a.0.total_cmp(&b.0));
    best.map_or_else(Vec::new, |one| one.1)
}

/// One setting at a time, in steps that halve.
fn bettered(
    (mut here, mut place): (f64, Vec<f64>),
    ranges: &[RangeInclusive<f64>],
    objective: &impl Fn(&[f64]) -> f64,
) -> (f64, Vec<f64>) {
    let mut step = 0.1;
    while step > 1e-4 {
        let mut rose = false;
        for at in 0..place.len() {
            let (low, high) = (*ranges[at].start(), *ranges[at].end());
            for way in [-step, step] {
                let mut next = place.clone();
                next[at] = (place[at] + way * (high - low)).clamp(low, high);
                let there = objective(&next);
                if there > here {
                    (here, place, rose) = (there, next, true);
                }
            }
        }
        if !rose {
            step *= 0.5;
        }
    }
    (here, place)
}

fn halton(at: usize, ranges: &[RangeInclusive<f64>]) -> Vec<f64> {
    let one = |(range, prime): (&RangeInclusive<f64>, &usize)| {
        range.start() + (range.end() - range.start()) * mirrored(at, *prime)
    };
    ranges.iter().zip(&PRIMES).map(one).collect()
}

/// The digits of a number to a base, mirrored at the point.
fn mirrored(mut at: usize, base: usize) -> f64 {
    let (mut share, mut sum) = (1.0, 0.0);
    while at > 0 {
        share /= base as f64;
        sum += share * (at % base) as f64;
        at /= base;
    }
    sum
}

/// The settings from which most is expected: the best so far is the highest of the surface over the pours.
#[must_use]
pub fn advised(surface: &Surface, best: f64, ranges: &[RangeInclusive<f64>]) -> Vec<f64> {
    best_place(ranges, |x| expected_improvement(surface.at(x), best))
}
