//! Ranges of a share, of a difference of two, and of a belief, against print.

use crate::near::near;
use proptest::prelude::*;
use stillcup::numbers::statistics::choice::Belief;
use stillcup::numbers::statistics::proportion::{Interval, Tally, difference};

#[track_caller]
fn both(found: Interval, low: f64, high: f64, within: f64) {
    near(found.low, low, within);
    near(found.high, high, within);
}

#[test]
fn newcombes_table_as_printed() {
    // Newcombe, Statistics in Medicine 17:857 (1998), table I, method 3; four printed digits, READ at second hand.
    // Its other methods are not computed here.
    let printed = [
        (81, 263, 0.2553, 0.3662),
        (15, 148, 0.0624, 0.1605),
        (0, 20, 0.0, 0.1611),
        (1, 29, 0.0061, 0.1718),
    ];
    for (good, pours, low, high) in printed {
        both(Tally::new(good, pours).wilson(), low, high, 5e-5);
    }
    // The worked input of a calculator on the web, as printed (READ).
    near(Tally::new(23, 60).share().unwrap(), 0.3833, 5e-5);
}

#[test]
fn ends_with_a_closed_form() {
    // Algebra: z2 / (n + z2) and n / (n + z2).
    let z2 = 1.959963984540054_f64.powi(2);
    for n in [1, 7, 10, 200] {
        let pours = f64::from(n);
        near(Tally::new(0, n).wilson().high, z2 / (pours + z2), 1e-14);
        near(Tally::new(n, n).wilson().low, pours / (pours + z2), 1e-14);
    }
    // COMPUTED.
    near(Tally::new(9, 10).wilson().low, 0.595850, 5e-7);
}

#[test]
fn the_middle_two_thirds_of_a_belief() {
    // One standard deviation to either side, of 5 good and 5 bad and of 1 and 9 after Jeffreys' prior: READ in the tests
    // of a general library of histograms. The share left out below is (1 - erf(1 / sqrt 2)) / 2, COMPUTED.
    let out = 0.15865525393145707;
    for (a, b, low, high) in [
        (5.5, 5.5, 0.34940656031996686, 0.6505934396800331),
        (1.5, 9.5, 0.041888372640752326, 0.23375944339475085),
    ] {
        let belief = Belief::new(a, b).unwrap();
        near(belief.quantile(out), low, 1e-12);
        near(belief.quantile(1.0 - out), high, 1e-12);
    }
}

#[test]
fn newcombes_difference_of_two_shares() {
    // Statistics in Medicine 17:873 (1998), table II, method 10: the cases are from MEMORY; digits COMPUTED with
    // statsmodels 0.15.0, `confint_proportions_2indep` by `newcomb`.
    for (a, n, b, m, low, high) in [
        (56, 70, 48, 80, 0.052431472402, 0.333872654037),
        (9, 10, 3, 10, 0.170522723935, 0.809017973535),
        (6, 7, 2, 7, 0.058227927482, 0.806249637524),
        (5, 56, 0, 29, -0.038137147904, 0.192560013855),
        (0, 10, 0, 20, -0.161125158053, 0.277532799863),
        (0, 10, 0, 10, -0.277532799863, 0.277532799863),
        (10, 10, 0, 20, 0.679086037142, 1.0),
        (10, 10, 0, 10, 0.607509350431, 1.0),
    ] {
        let (gap, range) = difference(Tally::new(a, n), Tally::new(b, m)).unwrap();
        near(
            gap,
            f64::from(a) / f64::from(n) - f64::from(b) / f64::from(m),
            1e-15,
        );
        both(range, low, high, 1e-12);
    }
    assert!(difference(Tally::new(0, 0), Tally::new(1, 2)).is_none());
}

proptest! {
    #[test]
    fn every_range_lies_in_the_possible_and_holds_the_share(good in 0u32..400, bad in 0u32..400) {
        let tally = Tally::new(good, good + bad);
        let range = tally.wilson();
        prop_assert!(0.0 <= range.low && range.low <= range.high && range.high <= 1.0);
        prop_assert!(tally.share().is_none_or(|share| range.holds(share)));
        // Good and bad change places.
        let other = Tally::new(bad, good + bad).wilson();
        prop_assert!((tally.wilson().low - (1.0 - other.high)).abs() < 1e-12);
    }

    #[test]
    fn a_difference_turns_its_sign_with_its_sides(a in 0u32..40, b in 0u32..40, n in 1u32..60, m in 1u32..60) {
        let (a, b) = (Tally::new(a, n), Tally::new(b, m));
        let (one, other) = (difference(a, b).unwrap(), difference(b, a).unwrap());
        prop_assert_eq!(one.0, -other.0);
        prop_assert!((one.1.low + other.1.high).abs() < 1e-12 && (one.1.high + other.1.low).abs() < 1e-12);
        prop_assert!(one.1.holds(one.0) && one.1.low >= -1.0 && one.1.high <= 1.0);
    }
}
