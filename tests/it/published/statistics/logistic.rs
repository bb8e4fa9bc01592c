//! Logistic fits on separated data, against print.

use super::table;
use crate::published::near;
use nalgebra::{DMatrix, DVector};
use proptest::prelude::*;
use stillcup::numbers::statistics::logistic::*;

/// Rows and outcomes; the outcome is in the given column.
fn split(rows: &[Vec<f64>], outcome: usize) -> (Vec<Vec<f64>>, Vec<bool>) {
    let one = |r: &Vec<f64>| {
        let mut x = r.clone();
        let y = x.remove(outcome);
        (x, y > 0.5)
    };
    rows.iter().map(one).unzip()
}

fn endometrial() -> (Vec<Vec<f64>>, Vec<bool>) {
    split(&table(include_str!("../../../data/endometrial.csv")), 3)
}

fn sex2() -> (Vec<Vec<f64>>, Vec<bool>) {
    split(&table(include_str!("../../../data/sex2.csv")), 0)
}

fn orings() -> (Vec<Vec<f64>>, Vec<bool>) {
    // Erosion alone counts, as in the analyses quoted: 53 57 58 63, two of the four 70s and one of the two 75s.
    let rows = table(include_str!("../../../data/orings.csv"));
    let one = |r: &Vec<f64>| (vec![r[1]], r[4] > 0.0);
    rows.iter().map(one).unzip()
}

fn names(names: &[&str]) -> Vec<String> {
    names.iter().map(|n| (*n).to_owned()).collect()
}

#[track_caller]
fn values(fit: &[Coefficient], told: &[f64], within: f64) {
    assert_eq!(fit.len(), told.len());
    for (c, told) in fit.iter().zip(told) {
        assert!((c.value - told).abs() < within, "{} told {told}", c.value);
    }
}

#[track_caller]
fn errors(fit: &[Coefficient], told: &[f64], within: f64) {
    for (c, told) in fit.iter().zip(told) {
        assert!((c.error - told).abs() < within, "{} told {told}", c.error);
    }
}

/// The term's range and p on the log-odds scale of one unit.
#[track_caller]
fn range(term: &Term, low: f64, high: f64, p: f64) {
    near(term.interval.low.ln() / term.step, low, 1e-6);
    near(term.interval.high.ln() / term.step, high, 1e-6);
    near(term.p, p, 1e-6);
}

#[test]
fn firth_of_the_endometrial_data() {
    // Heinze and Schemper 2002's data; values READ in two packages' documents, ten digits COMPUTED.
    let (x, y) = endometrial();
    let fit = firth(&x, &y).unwrap();
    let told = [3.7745597136, 2.9292733532, -0.0347517599, -2.6041639253];
    values(&fit, &told, 1e-9);
    errors(
        &fit,
        &[1.48869166, 1.55076373, 0.03957815, 0.77601764],
        1e-7,
    );
}

#[test]
fn profile_of_the_endometrial_data() {
    // READ in the tests of a published package, eight digits COMPUTED.
    let (x, y) = endometrial();
    let fit = fit(&names(&["NV", "PI", "EH"]), &x, &y).unwrap();
    assert_eq!((fit.method, fit.n, &fit.why_not), ("firth", 79, &None));
    range(&fit.terms[0], 0.60972444, 7.85463171, 0.009123667547);
    range(&fit.terms[1], -0.12445872, 0.04045547, 0.3874822036);
    range(&fit.terms[2], -4.36518325, -1.23272106, 2.506867215e-05);
    near(fit.terms[0].odds_ratio.ln(), 2.9292733532, 1e-8);
}

#[test]
fn firth_of_the_sex2_data() {
    // A published package's example: coefficients READ in another's tests, the rest COMPUTED to full convergence.
    let (x, y) = sex2();
    assert_eq!(x.len(), 239);
    let raw = firth(&x, &y).unwrap();
    let told = [
        0.1202540491,
        -1.1059813314,
        -0.0688167271,
        2.2688746522,
        -2.1114081853,
        -0.7883169514,
        3.0960118274,
    ];
    values(&raw, &told, 1e-9);
    let told = [
        0.48554151, 0.42366013, 0.44379345, 0.54841596, 0.54308235, 0.41736757, 1.67500841,
    ];
    errors(&raw, &told, 1e-7);
    let fit = fit(&names(&["age", "oc", "vic", "vicl", "vis", "dia"]), &x, &y).unwrap();
    near(fit.terms[0].p, 0.006143471845, 1e-6);
    near(fit.terms[1].p, 0.8751911, 1e-6);
    range(&fit.terms[5], 0.77456817, 8.03029352, 0.004951873386);
}

#[test]
fn the_o_rings() {
    // Firth COMPUTED; maximum likelihood READ (15.0429, -.2322) and COMPUTED with a general library.
    let (x, y) = orings();
    values(
        &firth(&x, &y).unwrap(),
        &[11.9495151329, -0.1860419155],
        1e-8,
    );
    let fitted = fit(&names(&["temperature"]), &x, &y).unwrap();
    near(
        fitted.terms[0].interval.low.ln() / fitted.terms[0].step,
        -0.4195328123,
        1e-7,
    );
    near(
        fitted.terms[0].interval.high.ln() / fitted.terms[0].step,
        -0.0405285267,
        1e-7,
    );
    let plain = ridge(&x, &y, 0.0).unwrap();
    values(&plain, &[15.042901647702433, -0.23216274421859637], 1e-8);
    errors(&plain, &[7.3786363849, 0.1082365216], 1e-7);
}

fn chance(fit: &[Coefficient], row: &[f64]) -> f64 {
    let slopes = fit[1..].iter().zip(row).map(|(c, v)| c.value * v);
    1.0 / (1.0 + (-fit[0].value - slopes.sum::<f64>()).exp())
}

fn log_likelihood(fit: &[Coefficient], x: &[Vec<f64>], y: &[bool]) -> f64 {
    let one = |(row, y): (&Vec<f64>, &bool)| {
        let p = chance(fit, row);
        if *y { p.ln() } else { (1.0 - p).ln() }
    };
    x.iter().zip(y).map(one).sum()
}

/// Half the log of the determinant of the information.
fn penalty(fit: &[Coefficient], x: &[Vec<f64>]) -> f64 {
    let mut information = DMatrix::zeros(fit.len(), fit.len());
    for row in x {
        let p = chance(fit, row);
        let with_one =
            DVector::from_iterator(fit.len(), [1.0].into_iter().chain(row.iter().copied()));
        information += &with_one * with_one.transpose() * (p * (1.0 - p));
    }
    information.determinant().ln() / 2.0
}

#[test]
fn what_firths_fits_are_worth() {
    // The highest penalised log-likelihoods: endometrial COMPUTED, sex2 -132.5394 READ in a package's introduction, its
    // long digits COMPUTED; worked out here from our coefficients alone. The mean of the endometrial outcomes and that
    // of Firth's chances, which leans toward a half: COMPUTED.
    let (x, y) = endometrial();
    let fit = firth(&x, &y).unwrap();
    near(
        log_likelihood(&fit, &x, &y) + penalty(&fit, &x),
        -24.03726780069793,
        1e-12,
    );
    let mean = x.iter().map(|row| chance(&fit, row)).sum::<f64>() / x.len() as f64;
    near(mean, 0.378286585, 1e-8);
    near(
        y.iter().filter(|y| **y).count() as f64 / 79.0,
        0.379746835,
        1e-8,
    );
    let (x, y) = sex2();
    let fit = firth(&x, &y).unwrap();
    near(
        log_likelihood(&fit, &x, &y) + penalty(&fit, &x),
        -132.53937953284426,
        1e-12,
    );
}

#[test]
fn other_o_rings() {
    // The plain fit's log-likelihood, that without temperature, the deviance and the chance at 31 F: COMPUTED with
    // statsmodels 0.15.0.
    let (x, y) = orings();
    let plain = ridge(&x, &y, 0.0).unwrap();
    let worth = log_likelihood(&plain, &x, &y);
    near(worth, -10.157596343933418, 1e-12);
    near(-2.0 * worth, 20.315192687866837, 1e-12);
    let alike: Vec<Vec<f64>> = x.iter().map(|_| vec![0.0]).collect();
    near(
        log_likelihood(&ridge(&alike, &y, 1.0).unwrap(), &x, &y),
        -14.13357636734077,
        1e-10,
    );
    near(chance(&plain, &[31.0]), 0.9996087829, 1e-9);
    // Each of a flight's six rings for itself (COMPUTED likewise).
    let rows = table(include_str!("../../../data/orings.csv"));
    let rings = rows
        .iter()
        .flat_map(|r| (0..6).map(move |ring| (vec![r[1]], f64::from(ring) < r[4])));
    let (x, y): (Vec<Vec<f64>>, Vec<bool>) = rings.unzip();
    let fit = ridge(&x, &y, 0.0).unwrap();
    values(&fit, &[11.662989695265301, -0.2162336641136632], 1e-8);
    errors(&fit, &[3.2962632894, 0.0531770332], 1e-8);
}

#[test]
fn the_o_rings_of_a_textbook() {
    // Another set of 24 flights: values READ as printed, 10.875 (5.703) and -.17132 (.08344); the data from MEMORY, which
    // statsmodels 0.15.0 takes to the same digits.
    let failed = [53., 56., 57., 70., 70., 70., 75.];
    let held = [
        63., 66., 67., 67., 67., 68., 69., 70., 72., 73., 75., 76., 76., 78., 79., 80., 81.,
    ];
    let x: Vec<Vec<f64>> = failed.iter().chain(&held).map(|t| vec![*t]).collect();
    let y: Vec<bool> = (0..24).map(|i| i < failed.len()).collect();
    let fit = ridge(&x, &y, 0.0).unwrap();
    values(&fit[..1], &[10.875], 5e-4);
    values(&fit[1..], &[-0.17132], 5e-6);
    errors(&fit[..1], &[5.703], 5e-4);
    errors(&fit[1..], &[0.08344], 5e-6);
}

#[test]
fn ridge_of_the_endometrial_data() {
    // COMPUTED, raw scale, penalty 1, intercept free.
    let (x, y) = endometrial();
    let told = [2.8326736724, 1.6238169681, -0.0189279465, -2.0827241971];
    values(&ridge(&x, &y, 1.0).unwrap(), &told, 1e-9);
    // The same on columns of mean 0 and standard deviation 1 (both as told).
    let mean = [0.164556962, 17.3797468354, 1.6616455696];
    let sd = [0.3731494424, 9.9978251449, 0.6621322015];
    let scaled: Vec<Vec<f64>> = x
        .iter()
        .map(|r| (0..3).map(|j| (r[j] - mean[j]) / sd[j]).collect())
        .collect();
    let fit = ridge(&scaled, &y, 1.0).unwrap();
    let told = [-0.5945823846, 1.1633489466, -0.2641956242, -1.5494156479];
    values(&fit, &told, 1e-8);
    errors(
        &fit,
        &[0.3761925172, 0.5185844515, 0.3530748423, 0.4327025534],
        1e-8,
    );
}

#[test]
fn the_cautious_prior_as_odds() {
    // COMPUTED: minimum by a general library's trust-region method of the likelihood with the prior, columns
    // centred and on two standard deviations, the two-valued one left at 0 and 1.
    let (x, y) = endometrial();
    let fit = fit_ridge(&names(&["NV", "PI", "EH"]), &x, &y).unwrap();
    let told = [
        (
            1.0,
            9.267962509433723,
            1.555230512851094,
            55.2298378706598,
            0.014489566259550356,
        ),
        (
            19.99565028973989,
            0.6790309245475564,
            0.1999577536066749,
            2.305902062687093,
            0.5348851001533768,
        ),
        (
            1.3242644029887098,
            0.05931913030031658,
            0.013210443293576981,
            0.266361933614808,
            0.00022753271276718419,
        ),
    ];
    for (term, (step, odds, low, high, p)) in fit.terms.iter().zip(told) {
        near(term.step, step, 1e-12);
        near(term.odds_ratio, odds, 1e-8);
        near(term.interval.low, low, 1e-8);
        near(term.interval.high, high, 1e-8);
        near(term.p, p, 1e-7);
    }
}

#[test]
fn separated_pours_have_no_plain_fit() {
    // Quasi-separation: print gives the NV coefficient as infinite.
    let (x, y) = endometrial();
    assert_eq!(ridge(&x, &y, 0.0), None);
}

#[test]
fn steps_that_swing_about_the_top_still_reach_it() {
    // One poor pour of six, all told by one factor: plain scoring steps go to and fro by 1.6e-8 for ever. In closed form
    // half a pour more in each corner of the table: ln(11 * 3).
    let x = [0.0, 1.0, 1.0, 1.0, 1.0, 1.0].map(|v| vec![v]);
    let y = [false, true, true, true, true, true];
    values(&firth(&x, &y).unwrap()[1..], &[33.0f64.ln()], 1e-9);
}

#[test]
fn the_fallback_is_said() {
    // Two columns that are one: Firth's information has no inverse, the prior shares the effect out evenly.
    let x: Vec<Vec<f64>> = (0..40)
        .map(|i| vec![f64::from(i), 2.0 * f64::from(i)])
        .collect();
    let y: Vec<bool> = (0..40).map(|i| i % 3 != 0 && i > 10).collect();
    let fit = fit(&names(&["a", "b"]), &x, &y).unwrap();
    assert_eq!(fit.method, "ridge");
    assert!(fit.why_not.unwrap().contains("did not settle"));
    near(fit.terms[0].odds_ratio, fit.terms[1].odds_ratio, 1e-9);
}

#[test]
fn what_cannot_be_fitted_is_none() {
    assert_eq!(firth(&[], &[]), None);
    let tied = [vec![1.0, 1.0], vec![2.0, 2.0]];
    assert_eq!(firth(&tied, &[true, false]), None);
    assert_eq!(ridge(&[vec![f64::NAN]], &[true], 1.0), None);
    assert_eq!(fit(&names(&["one"]), &tied, &[true, false]), None);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn firth_is_finite_where_pours_are_wholly_apart(rows in prop::collection::vec((0.0f64..20.0, 0.0f64..9.0), 6..60), cut in 0.2f64..0.8) {
        // Every pour over a cut is good and none under it: without a penalty the slope has no end.
        let mut sorted: Vec<f64> = rows.iter().map(|r| r.0).collect();
        sorted.sort_by(f64::total_cmp);
        let cut = sorted[(cut * rows.len() as f64) as usize];
        let x: Vec<Vec<f64>> = rows.iter().map(|r| vec![r.0, r.1]).collect();
        let y: Vec<bool> = rows.iter().map(|r| r.0 >= cut).collect();
        prop_assume!(y.contains(&false));
        let alone: Vec<Vec<f64>> = rows.iter().map(|r| vec![r.0]).collect();
        prop_assert_eq!(ridge(&alone, &y, 0.0), None);
        let fit = fit(&names(&["a", "b"]), &x, &y).unwrap();
        prop_assert!(fit.terms.iter().all(|t| t.odds_ratio.is_finite() && t.odds_ratio > 0.0));
        prop_assert!(fit.terms[0].odds_ratio > 1.0);
        // Two values alone: Firth's penalty is half a pour more in each corner of the table, a closed form.
        let two: Vec<Vec<f64>> = y.iter().map(|good| vec![f64::from(u8::from(*good))]).collect();
        let good = y.iter().filter(|good| **good).count() as f64;
        let told = ((2.0 * good + 1.0) * (2.0 * (y.len() as f64 - good) + 1.0)).ln();
        prop_assert!((firth(&two, &y).unwrap()[1].value - told).abs() < 1e-7);
    }

    #[test]
    fn the_order_of_columns_and_pours_says_nothing(rows in prop::collection::vec((0.0f64..20.0, 0.0f64..9.0, any::<bool>()), 12..40)) {
        let x: Vec<Vec<f64>> = rows.iter().map(|r| vec![r.0, r.1]).collect();
        let y: Vec<bool> = rows.iter().map(|r| r.2).collect();
        let turned: Vec<Vec<f64>> = rows.iter().rev().map(|r| vec![r.1, r.0]).collect();
        let back: Vec<bool> = y.iter().rev().copied().collect();
        let both = fit(&names(&["a", "b"]), &x, &y).zip(fit(&names(&["b", "a"]), &turned, &back));
        prop_assert_eq!(both.is_some(), y.contains(&true) && y.contains(&false));
        let Some((one, other)) = both else { return Ok(()) };
        prop_assert_eq!(one.method, other.method);
        for (a, b) in one.terms.iter().zip(other.terms.iter().rev()) {
            prop_assert_eq!(&a.name, &b.name);
            prop_assert!((a.odds_ratio / b.odds_ratio - 1.0).abs() < 1e-6 && (a.p - b.p).abs() < 1e-6);
        }
    }

    #[test]
    fn the_prior_always_answers(rows in prop::collection::vec((0.0f64..20.0, any::<bool>(), any::<bool>()), 3..60)) {
        let x: Vec<Vec<f64>> = rows.iter().map(|r| vec![r.0, f64::from(u8::from(r.1))]).collect();
        let y: Vec<bool> = rows.iter().map(|r| r.2).collect();
        let fit = fit(&names(&["a", "b"]), &x, &y);
        // All of one kind: the intercept has no end.
        prop_assert_eq!(fit.is_some(), y.contains(&true) && y.contains(&false));
        let Some(fit) = fit else { return Ok(()) };
        for t in &fit.terms {
            prop_assert!(t.odds_ratio.is_finite() && t.odds_ratio > 0.0 && (0.0..=1.0).contains(&t.p));
            prop_assert!(t.interval.low <= t.odds_ratio && t.odds_ratio <= t.interval.high);
        }
    }
}

#[test]
fn on_many_rows_the_quick_range_is_the_profiles_to_the_digits_shown() {
    // One row fewer and the profile is climbed; the same rows otherwise, and a rare column that is never sure.
    let row = |i: u32| {
        let damp = f64::from(i * 37 % 100) / 10.0;
        let good = (i * 7919 % 1000) as f64 / 1000.0 < 0.3 + 0.04 * damp;
        (vec![damp, f64::from(u8::from(i % 401 == 5))], good)
    };
    let fit_of = |n: u32| {
        let (rows, good): (Vec<Vec<f64>>, Vec<bool>) = (0..n).map(row).unzip();
        fit_firth(&names(&["damp", "rare"]), &rows, &good).unwrap()
    };
    let (slow, quick) = (fit_of(1999), fit_of(2000));
    for (slow, quick) in slow.terms.iter().zip(&quick.terms) {
        near(slow.interval.low / quick.interval.low, 1.0, 0.01);
        near(slow.interval.high / quick.interval.high, 1.0, 0.01);
    }
}
