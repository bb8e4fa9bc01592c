//! Logistic fits on separated data, against print.

use stillcup::numbers::statistics::logistic::{Coefficient, firth, ridge};

fn endometrial() -> (Vec<Vec<f64>>, Vec<bool>) {
    include_str!("../../../data/endometrial.csv")
        .lines()
        .skip(1)
        .map(|line| {
            line.split(',')
                .map(|c| c.parse::<f64>().unwrap())
                .collect::<Vec<_>>()
        })
        .map(|v| (v[..3].to_vec(), v[3] > 0.5))
        .unzip()
}

fn values(fit: &[Coefficient], told: &[f64], within: f64) {
    assert_eq!(fit.len(), told.len());
    for (c, told) in fit.iter().zip(told) {
        assert!((c.value - told).abs() < within, "{} told {told}", c.value);
    }
}

#[test]
fn firth_of_the_endometrial_data() {
    // Heinze and Schemper 2002's data; values READ in two packages' documents, ten digits COMPUTED.
    let (x, y) = endometrial();
    let fit = firth(&x, &y).unwrap();
    values(
        &fit,
        &[3.7745597136, 2.9292733532, -0.0347517599, -2.6041639253],
        1e-7,
    );
    for (c, told) in fit
        .iter()
        .zip([1.48869166, 1.55076373, 0.03957815, 0.77601764])
    {
        assert!((c.error - told).abs() < 1e-6, "{} told {told}", c.error);
    }
}

#[test]
fn ridge_of_the_endometrial_data() {
    // COMPUTED, raw scale, penalty 1, intercept free.
    let (x, y) = endometrial();
    let fit = ridge(&x, &y, 1.0).unwrap();
    values(
        &fit,
        &[2.8326736724, 1.6238169681, -0.0189279465, -2.0827241971],
        1e-7,
    );
}

#[test]
fn what_cannot_be_fitted_is_none() {
    assert_eq!(firth(&[], &[]), None);
    assert_eq!(
        firth(&[vec![1.0, 1.0], vec![2.0, 2.0]], &[true, false]),
        None
    );
    assert_eq!(ridge(&[vec![f64::NAN]], &[true], 1.0), None);
}
