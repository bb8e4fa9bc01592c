//! The table of what the program claims against what simulated studios say: claim, wanted, measured, draws.
//!
//! `cargo bench --bench truth` measures all; words behind `--` choose rows by name (`-- rest morning`), and `-- seed 7`
//! makes other studios.

#[path = "../../tests/it/truth/mod.rs"]
mod truth;

use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;
use truth::{Claim, Measured, Seeds, claims};

fn main() {
    let (words, seed) = asked(std::env::args().skip(1));
    let named = |claim: &Claim| words.iter().all(|word| claim.name.contains(word.as_str()));
    let chosen: Vec<Claim> = claims().into_iter().filter(named).collect();
    println!(
        "{:<72} {:>12} {:>9} {:>7}",
        "claim", "wanted", "measured", "draws"
    );
    let missed = measure(&chosen, seed);
    println!(
        "{} of {} rows as wanted",
        chosen.len() - missed,
        chosen.len()
    );
}

/// The words that choose rows, and the number of the studios.
fn asked(words: impl Iterator<Item = String>) -> (Vec<String>, u64) {
    let words: Vec<String> = words.filter(|word| !word.starts_with("--")).collect();
    let at = words.iter().position(|word| word == "seed");
    let Some(at) = at else { return (words, 0) };
    let seed = words.get(at + 1).and_then(|word| word.parse().ok());
    let others = words.iter().enumerate();
    let others = others.filter(|(place, _)| *place != at && *place != at + 1);
    (
        others.map(|(_, word)| word.clone()).collect(),
        seed.unwrap_or(0),
    )
}

/// Measures every row, as many at once as there are processors, and prints each as it comes, since all take half an
/// hour; answers how many are not as wanted.
fn measure(claims: &[Claim], seed: u64) -> usize {
    let (next, missed) = (AtomicUsize::new(0), AtomicUsize::new(0));
    let work = || {
        while let Some(claim) = claims.get(next.fetch_add(1, Ordering::Relaxed)) {
            // Far apart, so that no two runs share a studio.
            let seeds = Seeds {
                first: 1_000_000 * (seed + 1),
                count: claim.many,
            };
            let measured = (claim.measure)(seeds);
            println!("{}", line(claim, measured));
            missed.fetch_add(usize::from(!claim.holds(measured)), Ordering::Relaxed);
        }
    };
    thread::scope(|scope| {
        let hands = thread::available_parallelism().map_or(1, usize::from);
        (0..hands).for_each(|_| drop(scope.spawn(work)));
    });
    missed.into_inner()
}

fn line(claim: &Claim, measured: Measured) -> String {
    let (low, high) = (claim.wanted.start(), claim.wanted.end());
    let wanted = format!("{low:.2} to {high:.2}");
    let mark = if claim.holds(measured) { "" } else { "  <-" };
    format!(
        "{:<72} {wanted:>12} {:>9.3} {:>7}{mark}",
        claim.name, measured.value, measured.draws
    )
}
