//! Shares, choices and tests against print. READ: read in a copy of the text named; COMPUTED: computed with a
//! general library (scipy 1.17, statsmodels 0.15, mpmath); MEMORY: not read again.

use super::{PITCH, VOLUME, better};
use crate::near::near;
use proptest::prelude::*;
use statrs::function::beta::ln_beta;
use stillcup::numbers::statistics::beta_binomial::{means, standings};
use stillcup::numbers::statistics::choice::*;
use stillcup::numbers::statistics::exact::fisher;
use stillcup::numbers::statistics::proportion::{Interval, Tally};
use stillcup::numbers::statistics::ranks::*;

fn both(found: Interval, low: f64, high: f64, within: f64) {
    near(found.low, low, within);
    near(found.high, high, within);
}

#[test]
fn intervals_of_a_share() {
    // Newcombe 1998 table I, four printed digits (READ at second hand); long digits COMPUTED.
    let w = |g, n| Tally::new(g, n).wilson();
    both(w(81, 263), 0.2552885198782742, 0.3662095769828, 1e-12);
    both(w(15, 148), 0.0623863995307363, 0.160487241723308, 1e-12);
    both(w(0, 20), 0.0, 0.1611251580528194, 1e-12);
    both(w(1, 29), 0.0061132142927627, 0.1717552187932029, 1e-12);
}

#[test]
fn lucky_few_and_steady_many() {
    // A closed form.
    near(Tally::new(10, 10).wilson().low, 0.7224672001, 1e-9);
    // The order of lucky few and steady many, COMPUTED.
    let lows = [
        (5, 5),
        (8, 10),
        (3, 3),
        (4, 5),
        (2, 2),
        (3, 5),
        (1, 1),
        (1, 2),
    ]
    .map(|(g, n)| Tally::new(g, n).wilson().low);
    let told = [
        0.565518, 0.490162, 0.438503, 0.375535, 0.342380, 0.230724, 0.206549, 0.094531,
    ];
    for (low, told) in lows.iter().zip(told) {
        near(*low, told, 1e-6);
    }
}

#[test]
fn fisher_exact() {
    // The tea taster: 17/70, 34/70 exactly; conditional odds ratio as printed 6.408309 (READ), COMPUTED 6.4083197.
    let tea = fisher(Tally::new(3, 4), Tally::new(1, 4)).unwrap();
    near(tea.greater, 17.0 / 70.0, 1e-12);
    near(tea.two_sided, 34.0 / 70.0, 1e-12);
    near(tea.odds_ratio, 6.408319658, 1e-6);
    let perfect = fisher(Tally::new(4, 4), Tally::new(0, 4)).unwrap();
    near(perfect.greater, 1.0 / 70.0, 1e-12);
    near(perfect.two_sided, 2.0 / 70.0, 1e-12);
    // Convicts, COMPUTED; the last is scipy's own example.
    let convicts = fisher(Tally::new(2, 12), Tally::new(15, 18)).unwrap();
    near(convicts.less, 4.65180943e-4, 1e-11);
    near(convicts.two_sided, 5.367241191e-4, 1e-11);
    near(convicts.odds_ratio, 0.0469366390, 1e-8);
    near(
        fisher(Tally::new(6, 8), Tally::new(1, 5))
            .unwrap()
            .two_sided,
        0.10256410256,
        1e-10,
    );
    assert!(fisher(Tally::new(0, 4), Tally::new(0, 4)).is_none());
}

#[test]
fn correlations_by_rank() {
    // McDonald's handbook, p. 212 (READ), with ties.
    let rho = spearman(&VOLUME, &PITCH).unwrap();
    near(rho.value, -0.7630357237807369, 1e-12);
    near(rho.p, 0.0002302039573359754, 1e-9);
}

#[test]
fn mann_whitney_with_and_without_ties() {
    // scipy's example (READ); Hollander and Wolfe's permeability (COMPUTED, data READ).
    let u = mann_whitney(&[19., 22., 16., 29., 24.], &[20., 11., 17., 12.]).unwrap();
    near(u.value, 17.0, 0.0);
    near(u.p, 1.0 / 9.0, 1e-12);
    let x = [0.80, 0.83, 1.89, 1.04, 1.45, 1.38, 1.91, 1.64, 0.73, 1.46];
    let u = mann_whitney(&x, &[1.15, 0.88, 0.90, 0.74, 1.21]).unwrap();
    near(u.value, 35.0, 0.0);
    near(u.p, 0.2544122544, 1e-10);
    // Ties: U 51.5, p .5966 (READ); long digits COMPUTED.
    let x = [1., 5., 9., 24., 56., 21., 3., 7., 21., 4.];
    let y = [12., 15., 5., 9., 9., 14., 56., 22., 3., 7., 32., 5.];
    let u = mann_whitney(&x, &y).unwrap();
    near(u.value, 51.5, 0.0);
    near(u.p, 0.5965969026279817, 1e-9);
}

/// The chance that the second is better by Miller's exact sum (Evan Miller 2015, READ); its first shape is whole.
fn by_sum((a, b): (f64, f64), (c, d): (f64, f64)) -> f64 {
    let term = |i: u32| {
        let i = f64::from(i);
        (ln_beta(a + i, d + b) - (d + i).ln() - ln_beta(1.0 + i, d) - ln_beta(a, b)).exp()
    };
    (0..c as u32).map(term).sum()
}

fn belief(a: f64, b: f64) -> Belief {
    Belief::new(a, b).unwrap()
}

#[test]
fn better_and_what_is_lost() {
    // Cook prints 0.713 for the first (READ); the rest COMPUTED with 30 digits.
    for (a, b, c, d, told) in [
        (3., 1., 91., 11., 0.712592804111936),
        (4., 8., 6., 6., 0.806501547987616),
        (2., 1., 1., 2., 1.0 / 6.0),
        (3., 2., 5., 2., 2.0 / 3.0),
        (2., 4., 5., 3., 29.0 / 33.0),
        (1., 6., 6., 1., 0.998917748917749),
        (11., 41., 21., 31., 0.984766302013853),
        (27., 3., 25., 5., 0.211361379434865),
    ] {
        near(better(belief(a, b), belief(c, d)), told, 1e-11);
        near(by_sum((a, b), (c, d)), told, 1e-11);
    }
    near(
        better(belief(1.5, 3.5), belief(3.5, 1.5)),
        0.921599053408524,
        1e-10,
    );
    near(
        better(belief(0.5, 2.5), belief(2.5, 0.5)),
        0.980337463193305,
        1e-10,
    );
    for (a, b, c, d, told) in [
        (3., 1., 91., 11., 0.0173281934133),
        (4., 8., 6., 6., 0.0210548750393),
        (11., 41., 21., 31., 0.00049060475099),
        (3., 2., 5., 2., 0.0554112554113),
    ] {
        // What is given away by the second is what the better of the two is above it.
        let pair = [belief(a, b), belief(c, d)];
        near(expected_best(&pair) - pair[1].mean(), told, 1e-11);
    }
}

fn seven() -> Vec<Belief> {
    [(3, 1), (4, 1), (1, 3), (0, 2), (2, 0), (5, 4), (1, 2)]
        .map(|(s, f)| Belief::after(Tally::new(s, s + f)))
        .to_vec()
}

#[test]
fn best_of_many_and_what_to_try() {
    // COMPUTED; the three arms have exact sevenths.
    let told = [
        0.1998129309,
        0.2757940005,
        0.0068882435,
        0.0065322812,
        0.4551128338,
        0.0345963838,
        0.0212633264,
    ];
    for (found, told) in chance_of_best(&seven()).iter().zip(told) {
        near(*found, told, 1e-9);
    }
    let three = chance_of_best(&[belief(2., 2.), belief(3., 1.), belief(1., 1.)]);
    for (found, told) in three.iter().zip([1.0 / 7.0, 9.0 / 14.0, 3.0 / 14.0]) {
        near(*found, told, 1e-10);
    }
    let told = [
        0.9385472848,
        0.9495436910,
        0.6934318332,
        0.6781702051,
        0.9887630938,
        0.7991873609,
        0.7850227717,
    ];
    // The Bayes upper bound after 30 pours is this quantile.
    for (belief, told) in seven().iter().zip(told) {
        near(belief.quantile(1.0 - 1.0 / 30.0), told, 1e-9);
    }
}

#[test]
fn variants_lean_on_each_other() {
    // COMPUTED on grids of 600 and 2400, which agree to 1e-6.
    let tallies =
        [(3, 4), (4, 5), (1, 4), (0, 2), (2, 2), (5, 9), (1, 3)].map(|(g, n)| Tally::new(g, n));
    let told = [
        0.629117, 0.662466, 0.412447, 0.372651, 0.676767, 0.548426, 0.459484,
    ];
    for (found, told) in means(&tallies, 300).iter().zip(told) {
        near(*found, told, 2e-5);
    }
    for (found, told) in standings(&tallies).iter().zip(told) {
        near(found.mean, told, 2e-3);
        assert!(found.low10 < found.mean && found.mean < found.high90);
    }
    // Efron and Morris' eighteen hitters, 45 at bat each (data READ; means COMPUTED).
    let hits = [
        18, 17, 16, 15, 14, 14, 13, 12, 11, 11, 10, 10, 10, 10, 10, 9, 8, 7,
    ];
    let hitters = hits.map(|h| Tally::new(h, 45));
    let found = means(&hitters, 300);
    near(found[0], 0.309386, 5e-4);
    near(found[17], 0.231592, 5e-4);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn better_is_symmetric(a in 0.3f64..40.0, b in 0.3f64..40.0, c in 0.3f64..40.0, d in 0.3f64..40.0) {
        // Cook's identities (READ).
        let g = better(belief(c, d), belief(a, b));
        prop_assert!((g - (1.0 - better(belief(a, b), belief(c, d)))).abs() < 1e-9);
        prop_assert!((g - better(belief(b, a), belief(d, c))).abs() < 1e-9);
    }

    #[test]
    fn order_of_rows_says_nothing(x in prop::collection::vec(0u8..9, 3..20), y in prop::collection::vec(0u8..9, 3..20)) {
        let f = |v: &[u8]| v.iter().map(|&v| f64::from(v)).collect::<Vec<_>>();
        let back = |v: &[u8]| f(&v.iter().rev().copied().collect::<Vec<_>>());
        prop_assert_eq!(mann_whitney(&f(&x), &f(&y)), mann_whitney(&back(&x), &back(&y)));
    }
}
