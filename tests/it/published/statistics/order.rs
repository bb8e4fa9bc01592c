//! Tests that only ask for order, and the exact test, beyond those of `shares`: more print, and what must not matter.

use crate::near::near;
use proptest::prelude::*;
use stillcup::numbers::statistics::exact::fisher;
use stillcup::numbers::statistics::proportion::Tally;
use stillcup::numbers::statistics::ranks::{mann_whitney, spearman};

#[test]
fn a_second_correlation() {
    // McDonald's handbook: the data from MEMORY; rho -.3626323 and p .1526 READ in print, which the data give to every
    // digit; long digits COMPUTED with scipy 1.17.1 (`spearmanr`).
    let north = [
        39.217, 38.8, 39.467, 38.958, 38.6, 38.583, 39.733, 38.033, 38.9, 39.533, 39.133, 38.317,
        38.333, 38.367, 37.2, 37.967, 37.667,
    ];
    let kinds = [
        128., 137., 108., 118., 135., 94., 113., 118., 96., 98., 121., 152., 108., 118., 157.,
        125., 114.,
    ];
    let rho = spearman(&north, &kinds).unwrap();
    near(rho.value, -0.3626323, 5e-8);
    near(rho.value, -0.36263232087091846, 1e-12);
    near(rho.p, 0.1525669291175286, 1e-9);
}

#[test]
fn the_exact_test_as_printed() {
    // The tea taster in the manual of R: p 0.2429, conditional odds ratio 6.408309 (READ; its search for
    // the root is looser than ours).
    let tea = fisher(Tally::new(3, 4), Tally::new(1, 4)).unwrap();
    near(tea.greater, 0.2429, 5e-5);
    near(tea.odds_ratio, 6.408309, 1e-4);
    // The permeability data's one-sided p, .1272, is half the two-sided one, as there are no ties (MEMORY).
    let x = [0.80, 0.83, 1.89, 1.04, 1.45, 1.38, 1.91, 1.64, 0.73, 1.46];
    let u = mann_whitney(&x, &[1.15, 0.88, 0.90, 0.74, 1.21]).unwrap();
    near(u.p / 2.0, 0.1272, 5e-5);
}

#[test]
fn the_exact_p_of_many_without_ties() {
    // COMPUTED with scipy 1.17.1, `mannwhitneyu` by its exact method; by its normal curve it would be .1274.
    let x: Vec<f64> = (1..=50).map(|i| f64::from(i * 37 % 101)).collect();
    let y: Vec<f64> = (1..=45)
        .map(|i| f64::from(i * 53 % 101) * 0.83 + 0.31)
        .collect();
    let u = mann_whitney(&x, &y).unwrap();
    assert!(u.exact);
    near(u.value, 1330.0, 0.0);
    near(u.p, 0.12786241957115896, 1e-12);
}

fn turned(values: &[f64], by: usize) -> Vec<f64> {
    let mut turned = values.to_vec();
    turned.rotate_left(by % values.len());
    turned.reverse();
    turned
}

fn floats(values: &[u8]) -> Vec<f64> {
    values.iter().map(|v| f64::from(*v)).collect()
}

proptest! {
    #[test]
    fn the_order_of_pours_and_of_sides_says_nothing(
        x in prop::collection::vec(0u8..9, 3..20), y in prop::collection::vec(0u8..9, 3..20), by in 0usize..20,
    ) {
        let (x, y) = (floats(&x), floats(&y));
        let sides = mann_whitney(&x, &y).zip(mann_whitney(&turned(&y, by), &turned(&x, by)));
        prop_assert!(sides.is_none_or(|(a, b)| (a.p - b.p).abs() < 1e-12 && a.value + b.value == (x.len() * y.len()) as f64));
    }

    #[test]
    fn the_order_of_pairs_says_nothing(pairs in prop::collection::vec((0u8..9, 0u8..9), 3..20), by in 0usize..20) {
        let (x, y): (Vec<u8>, Vec<u8>) = pairs.into_iter().unzip();
        let (x, y) = (floats(&x), floats(&y));
        let (told, other) = (spearman(&x, &y), spearman(&turned(&x, by), &turned(&y, by)));
        prop_assert_eq!(told.is_some(), other.is_some());
        prop_assert!(told.zip(other).is_none_or(|(a, b)| (a.value - b.value).abs() < 1e-12 && (a.p - b.p).abs() < 1e-12));
        prop_assert!(told.is_none_or(|t| (-1.0..=1.0).contains(&t.value) && (0.0..=1.0).contains(&t.p)));
    }

    #[test]
    fn the_exact_test_does_not_mind_which_is_first(a in 0u32..20, b in 0u32..20, n in 1u32..20, m in 1u32..20) {
        let (a, b) = (Tally::new(a, n), Tally::new(b, m));
        let both = fisher(a, b).zip(fisher(b, a));
        prop_assert!(both.is_none_or(|(one, other)| (one.two_sided - other.two_sided).abs() < 1e-12));
        prop_assert!(both.is_none_or(|(one, other)| (one.greater - other.less).abs() < 1e-12));
    }
}
