//! What to try next: what a painter gives away who follows it, and whether "believed 8 of 10" holds.

use super::{Claim, Measured, Seeds};
use rand::rngs::ChaCha8Rng;
use rand::{RngExt, SeedableRng};
use stillcup::numbers::statistics::pool::{Record, next_try, places};

const VARIANTS: usize = 8;
const POURS: usize = 100;

/// The rows of this file.
pub fn claims() -> Vec<Claim> {
    let regret = |name: &str, wanted, turns: bool| {
        let name = format!("next: regret over 100 pours, 8 variants .2 to .7, {name}");
        Claim::new(name, wanted, (3, 100), move |seeds| {
            let all: Vec<f64> = seeds.each().map(|seed| regret(seed, turns)).collect();
            Measured::mean(&all)
        })
    };
    let believed = Claim::new(
        "next: believed 8 of 10, 4 colours",
        0.75..=0.85,
        (40, 400),
        believed,
    );
    vec![
        regret("still", 0.0..=14.0, false),
        regret("reversed at pour 50", 0.0..=18.0, true),
        believed,
    ]
}

/// Shares evenly from .2 to .7, shuffled.
fn shares(rng: &mut ChaCha8Rng) -> Vec<f64> {
    let mut shares: Vec<f64> = (0..VARIANTS)
        .map(|at| 0.2 + 0.5 * at as f64 / 7.0)
        .collect();
    (1..VARIANTS)
        .rev()
        .for_each(|at| shares.swap(at, rng.random_range(0..=at)));
    shares
}

/// What is given away by pouring each time what is to be tried next, a pour every other day.
fn regret(seed: u64, turns: bool) -> f64 {
    let mut rng = ChaCha8Rng::seed_from_u64(seed);
    let mut shares = shares(&mut rng);
    let mut poured: Vec<(usize, bool)> = Vec::new();
    let mut lost = 0.0;
    for pour in 0..POURS {
        if turns && pour == POURS / 2 {
            shares.iter_mut().for_each(|share| *share = 0.9 - *share);
        }
        let records = records(&poured, 2.0);
        let next = next_try(&records, &places(&records)).unwrap_or(0);
        lost += 0.7 - shares[next];
        poured.push((next, rng.random_bool(shares[next])));
    }
    lost
}

fn records(poured: &[(usize, bool)], days: f64) -> Vec<Record> {
    let mut records = vec![Record::default(); VARIANTS];
    for (age, (variant, good)) in (1..).zip(poured.iter().rev()) {
        records[*variant].add(*good, f64::from(age) * days, 180.0);
    }
    records
}

/// Variants whose shares lie around .45, with few pours each.
fn believed(seeds: Seeds) -> Measured {
    let (mut held, mut all) = (0, 0);
    for seed in seeds.each() {
        let mut rng = ChaCha8Rng::seed_from_u64(seed);
        let shares = [(); 4].map(|()| rng.random_range(0.2..0.7));
        let record = |share: f64| {
            let pours = rng.random_range(3..25);
            let good = (0..pours).filter(|_| rng.random_bool(share)).count();
            Record {
                good: good as f64,
                pours: f64::from(pours),
            }
        };
        let records: Vec<Record> = shares.map(record).into();
        for (place, share) in places(&records).iter().zip(shares) {
            let (low, high) = (place.belief.quantile(0.1), place.belief.quantile(0.9));
            held += usize::from((low..=high).contains(&share));
            all += 1;
        }
    }
    Measured::share(held, all)
}
