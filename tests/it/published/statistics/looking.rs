//! Looking at all factors at once: neither the order of pours nor that of factors may matter.

use super::studios::{factors, studio};
use proptest::prelude::*;
use stillcup::numbers::statistics::findings::*;
use stillcup::numbers::statistics::joint::{Joint, joint};

/// What is told of each factor, by its name; the places of pours aside.
fn told(mut found: Vec<Finding>) -> Vec<(String, Option<f64>, Option<f64>, String)> {
    found.sort_by(|a, b| a.name.cmp(&b.name));
    found
        .into_iter()
        .map(|f| (f.name, f.p, f.q, f.words))
        .collect()
}

fn fitted(factors: &[Factor], rows: &[Observation]) -> Joint {
    joint(factors, rows, &find(factors, rows)).unwrap()
}

/// The factors in another order, and every row's values with them.
fn turned(rows: &[Observation], by: usize) -> (Vec<Factor>, Vec<Observation>) {
    let mut factors = factors();
    factors.rotate_left(by);
    factors.reverse();
    let mut rows = rows.to_vec();
    for row in &mut rows {
        row.factors.rotate_left(by);
        row.factors.reverse();
    }
    (factors, rows)
}

#[track_caller]
fn same_fit(one: &Joint, other: &Joint) {
    assert_eq!(one.fitted.method, other.fitted.method);
    assert_eq!(one.fitted.terms.len(), other.fitted.terms.len());
    for (a, b) in one.fitted.terms.iter().zip(&other.fitted.terms) {
        assert_eq!(a.name, b.name);
        assert!(
            (a.odds_ratio / b.odds_ratio - 1.0).abs() < 1e-6,
            "{a:?} {b:?}"
        );
        assert!((a.p - b.p).abs() < 1e-6, "{a:?} {b:?}");
    }
}

#[test]
fn factors_of_the_same_p_are_taken_by_name() {
    // Two that are one: whichever stands first, the same one is kept and the other named.
    let mut rows = studio(60, 8.0, 4);
    for row in &mut rows {
        row.factors[17] = row.factors[0].clone();
    }
    let one = fitted(&factors(), &rows);
    let (factors, rows) = turned(&rows, 9);
    let other = fitted(&factors, &rows);
    same_fit(&one, &other);
    let same = |joint: &Joint| {
        joint
            .words
            .iter()
            .any(|w| w == "rest is left out: it always went with age of the oldest cup.")
    };
    assert!(same(&one) && same(&other), "{:?}", one.words);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn the_order_of_pours_says_nothing(seed: u64, pours in 8usize..70, by in 0usize..70) {
        let rows = studio(pours, 4.0, seed);
        let mut other = rows.clone();
        other.rotate_left(by % pours);
        other.reverse();
        let factors = factors();
        prop_assert_eq!(told(find(&factors, &rows)), told(find(&factors, &other)));
        if pours >= 40 {
            same_fit(&fitted(&factors, &rows), &fitted(&factors, &other));
        }
    }

    #[test]
    fn the_order_of_factors_says_nothing(seed: u64, pours in 8usize..70, by in 0usize..21) {
        let rows = studio(pours, 4.0, seed);
        let (other, turned) = turned(&rows, by);
        prop_assert_eq!(told(find(&factors(), &rows)), told(find(&other, &turned)));
        if pours >= 40 {
            same_fit(&fitted(&factors(), &rows), &fitted(&other, &turned));
        }
    }
}
