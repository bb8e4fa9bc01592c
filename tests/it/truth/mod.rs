//! What the program's bands and alarms promise, held against simulated studios whose truth is known and which differ from
//! the models' assumptions. `cargo test` draws few studios of each; `cargo bench --bench truth` many, and prints the table.
//!
//! A row is a [`Claim`]: a file of this folder makes some, and [`claims`] lists them all.

mod averaging;
mod choosing;
mod claim;
mod rests;
mod settings;
pub mod shapes;
mod shrinking;
mod thickening;
mod thinning;
mod trials;

pub use claim::{Claim, Measured, Seeds};

/// Every claim.
pub fn claims() -> Vec<Claim> {
    let mut all = rests::claims();
    all.extend(thinning::claims());
    all.extend(thickening::claims());
    all.extend(trials::claims());
    all.extend(averaging::claims());
    all.extend(choosing::claims());
    all.extend(settings::claims());
    all.extend(shrinking::claims());
    all
}

/// A few studios of each claim.
#[cfg(test)]
#[test]
fn every_claim_holds_in_a_few_studios() {
    let broken: Vec<String> = claims()
        .iter()
        .filter(|claim| claim.few > 0)
        .filter_map(|claim| {
            let first = 0;
            let count = claim.few;
            let measured = (claim.measure)(Seeds { first, count });
            let told = || format!("{}: {measured:?}, wanted {:?}", claim.name, claim.wanted);
            (!claim.holds(measured)).then(told)
        })
        .collect();
    assert!(broken.is_empty(), "{}", broken.join("\n"));
}
