//! What is believed of a variant's measured cells: "believed 8 of 10", in studios that are not normal.

use super::{Claim, Measured, Seeds};
use rand::rngs::ChaCha8Rng;
use rand::{RngExt, SeedableRng};
use stillcup::numbers::statistics::shrunk_means::shrunk_means;

/// The rows of this file.
pub fn claims() -> Vec<Claim> {
    let row = |name: &str, variants: usize, pours: (usize, usize), apart: f64| {
        let name = format!("measured: believed 8 of 10, {name}");
        Claim::new(name, 0.75..=0.87, (60, 600), move |seeds| {
            held(seeds, variants, pours, apart)
        })
    };
    vec![
        row(
            "3 variants of 2 to 6 pours, apart as one pour",
            3,
            (2, 6),
            1.0,
        ),
        row("5 variants of 1 to 4 pours, half as far", 5, (1, 4), 0.5),
        row("8 variants of 3 to 20 pours, twice as far", 8, (3, 20), 2.0),
    ]
}

/// Variants evenly spread (no normal), pours around them with a long upper tail: what a diameter does.
fn held(seeds: Seeds, variants: usize, pours: (usize, usize), apart: f64) -> Measured {
    let (mut held, mut all) = (0, 0);
    for seed in seeds.each() {
        let mut rng = ChaCha8Rng::seed_from_u64(seed);
        let truths: Vec<f64> = (0..variants)
            .map(|_| 10.0 + apart * 12_f64.sqrt() * (rng.random::<f64>() - 0.5))
            .collect();
        let mut tail = |_| -> f64 {
            // Two waits: mean 2, standard deviation 1.414.
            let wait = |rng: &mut ChaCha8Rng| -(1.0 - rng.random::<f64>()).ln();
            (wait(&mut rng) + wait(&mut rng) - 2.0) / 2_f64.sqrt()
        };
        let groups: Vec<Vec<f64>> = truths
            .iter()
            .enumerate()
            .map(|(at, truth)| {
                let count = pours.0 + (seed as usize * 7 + at * 5) % (pours.1 - pours.0 + 1);
                (0..count).map(|pour| truth + tail(pour)).collect()
            })
            .collect();
        for (told, truth) in shrunk_means(&groups, None)
            .unwrap_or_default()
            .iter()
            .zip(&truths)
        {
            held += usize::from((told.low10..=told.high90).contains(truth));
            all += 1;
        }
    }
    Measured::share(held, all)
}
