//! The table of what the program claims against what simulated studios say: claim, wanted, measured, draws.
//!
//! `cargo bench --bench truth` measures all; words behind `--` choose rows by name (`-- rest morning`), and `-- seed 7`
//! makes other studios. `-- from 160` goes on at that row, where a run was stopped.

#[path = "../../tests/it/truth/mod.rs"]
mod truth;

use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;
use truth::{Claim, Measured, Seeds, claims};

fn main() {
    let words = std::env::args().skip(1);
    let mut words: Vec<String> = words.filter(|word| !word.starts_with("--")).collect();
    let seed = number_behind("seed", &mut words).unwrap_or(0);
    let from = number_behind("from", &mut words).unwrap_or(1).max(1);
    let named = |claim: &Claim| words.iter().all(|word| claim.name.contains(word.as_str()));
    let rows = claims().into_iter().filter(named);
    let chosen: Vec<Claim> = rows.skip(from as usize - 1).collect();
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

/// The number that stands behind a word; both are taken out of the words.
fn number_behind(name: &str, words: &mut Vec<String>) -> Option<u64> {
    let at = words.iter().position(|word| word == name)?;
    let number = words.get(at + 1)?.parse().ok()?;
    words.drain(at..at + 2);
    Some(number)
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
