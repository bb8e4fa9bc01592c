//! What thinner does: the band of its strength, learned from readings that err.

use super::{Claim, Measured, Seeds};
use rand::{RngExt, SeedableRng, rngs::ChaCha8Rng};
use rand_distr::{Distribution, StandardNormal};
use stillcup::numbers::thinning::{Strength, Triple};
use stillcup::trade::units::{Seconds, Share};

/// The rows of this file.
pub fn claims() -> Vec<Claim> {
    let row = |triples: usize| {
        let name = format!("thinning: 80 % band of the strength, noise 10 %, {triples} triples");
        Claim::new(name, 0.75..=0.85, (300, 2000), move |seeds| {
            held(seeds, triples)
        })
    };
    [3, 10, 30].map(row).into()
}

fn held(seeds: Seeds, triples: usize) -> Measured {
    let hits = seeds.each().filter(|&seed| holds(seed, triples)).count();
    Measured::share(hits, seeds.count)
}

fn holds(seed: u64, triples: usize) -> bool {
    let mut rng = ChaCha8Rng::seed_from_u64(seed);
    let b = (6.9_f64.ln() + 0.367 * normal(&mut rng)).exp();
    let read: Vec<Triple> = (0..triples).map(|_| triple(&mut rng, b)).collect();
    let band = Strength::learn(&read, &[]).band();
    (band.low..=band.high).contains(&b)
}

fn triple(rng: &mut ChaCha8Rng, b: f64) -> Triple {
    let (before, added) = (rng.random_range(4.0..9.0), rng.random_range(0.03..0.15));
    let after: f64 = before * f64::exp(-b * added);
    let mut read = |mound: f64| Seconds(mound * (0.1 * normal(rng)).exp());
    Triple {
        before: read(before),
        added: Share(added),
        after: read(after),
    }
}

fn normal(rng: &mut ChaCha8Rng) -> f64 {
    StandardNormal.sample(rng)
}
