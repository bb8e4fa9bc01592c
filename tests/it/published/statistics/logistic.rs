//! Logistic fits on separated data, against print.

use super::table;
use crate::published::near;
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
