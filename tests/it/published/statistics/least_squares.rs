//! NIST's Statistical Reference Datasets for linear regression: certified values, READ in copies of the sets.
//! The reference demands at least ten of the certified digits where errors are not zero.

use super::table;
use crate::near::in_share;
use proptest::prelude::*;
use stillcup::numbers::statistics::least_squares::{Lines, LinesError, fit};

fn line(x: &[f64], y: &[f64], constant: bool) -> Lines {
    let rows: Vec<Vec<f64>> = x.iter().map(|v| vec![*v]).collect();
    fit(&rows, y, constant).unwrap()
}

/// The sum of the squares of what is left.
fn left(fit: &Lines) -> f64 {
    fit.residual.powi(2) * fit.freedom as f64
}

#[track_caller]
fn certified(fit: &Lines, told: &[(f64, f64)], within: f64) {
    assert_eq!(fit.coefficients.len(), told.len());
    for (c, (value, error)) in fit.coefficients.iter().zip(told) {
        in_share(c.value, *value, within);
        in_share(c.error, *error, within);
    }
}

#[test]
fn norris() {
    let text = include_str!("../../../data/norris.dat");
    let pairs: Vec<Vec<f64>> = text
        .lines()
        .skip(60)
        .map(|l| {
            l.split_whitespace()
                .filter_map(|v| v.parse().ok())
                .collect()
        })
        .filter(|p: &Vec<f64>| p.len() == 2)
        .collect();
    assert_eq!(pairs.len(), 36);
    let (y, x): (Vec<f64>, Vec<f64>) = pairs.iter().map(|p| (p[0], p[1])).unzip();
    let fit = line(&x, &y, true);
    let told = [
        (-0.262323073774029, 0.232818234301152),
        (1.00211681802045, 0.429796848199937e-3),
    ];
    certified(&fit, &told, 1e-11);
    in_share(fit.residual, 0.884796396144373, 1e-11);
    in_share(fit.r2, 0.999993745883712, 1e-14);
    in_share(left(&fit), 26.6173985294224, 1e-11);
    assert_eq!(fit.freedom, 34);
}

#[test]
fn longley() {
    let rows = table(include_str!("../../../data/longley.csv"));
    let y: Vec<f64> = rows.iter().map(|r| r[1]).collect();
    let x: Vec<Vec<f64>> = rows.iter().map(|r| r[2..].to_vec()).collect();
    let fit = fit(&x, &y, true).unwrap();
    let told = [
        (-3482258.63459582, 890420.383607373),
        (15.0618722713733, 84.9149257747669),
        (-0.358191792925910e-1, 0.334910077722432e-1),
        (-2.02022980381683, 0.488399681651699),
        (-1.03322686717359, 0.214274163161675),
        (-0.511041056535807e-1, 0.226073200069370),
        (1829.15146461355, 455.478499142212),
    ];
    certified(&fit, &told, 1e-10);
    in_share(fit.residual, 92936.0061673238f64.sqrt(), 1e-10);
    in_share(fit.r2, 0.995479004577296, 1e-13);
    in_share(left(&fit), 836424.055505915, 1e-10);
}

#[test]
fn wampler_one_and_two() {
    // The answers are exact; the five powers of 0 to 20 are nearly tied, which costs six of sixteen digits.
    let rows: Vec<Vec<f64>> = (0..=20)
        .map(|x| (1..=5).map(|k| f64::from(x).powi(k)).collect())
        .collect();
    let sum = |base: f64| -> Vec<f64> {
        (0..=20)
            .map(|x| (0..=5).map(|k| (f64::from(x) * base).powi(k)).sum())
            .collect()
    };
    for base in [1.0, 0.1] {
        let fit = fit(&rows, &sum(base), true).unwrap();
        for (k, c) in (0..).zip(&fit.coefficients) {
            in_share(c.value, f64::powi(base, k), 1e-9);
        }
        assert!(fit.residual < 1e-7 && fit.r2 > 1.0 - 1e-14);
    }
}

/// What NIST adds to the fifth-degree sum of 0 to 20 in the third set: symmetric, and square to every power.
const ADDED: [f64; 21] = [
    759., -2048., 2048., -2048., 2523., -2048., 2048., -2048., 1838., -2048., 2048., -2048., 1838.,
    -2048., 2048., -2048., 2523., -2048., 2048., -2048., 759.,
];

#[test]
fn wampler_three_to_five() {
    // Data and certified values from MEMORY; solved again in exact fractions, which gives every digit here. The noise is
    // that of the third set, times a hundred and ten thousand in the fourth and fifth: all coefficients stay 1.
    let rows: Vec<Vec<f64>> = (0..=20)
        .map(|x| (1..=5).map(|k| f64::from(x).powi(k)).collect())
        .collect();
    let errors = [
        2152.32624678170,
        2363.55173469681,
        779.343524331583,
        101.475507550350,
        5.64566512170752,
        0.112324854679312,
    ];
    // The more noise, the fewer of the coefficients' digits: NIST calls the last of higher difficulty for that.
    for (times, r2, within) in [
        (1.0, 0.999995559025820, 1e-9),
        (100.0, 0.957478440825662, 1e-8),
        (10_000.0, 0.224668921574940e-2, 1e-6),
    ] {
        let y: Vec<f64> = (0..=20)
            .zip(ADDED)
            .map(|(x, added)| (0..=5).map(|k| f64::from(x).powi(k)).sum::<f64>() + times * added)
            .collect();
        let fit = fit(&rows, &y, true).unwrap();
        for (c, error) in fit.coefficients.iter().zip(errors) {
            in_share(c.value, 1.0, within);
            in_share(c.error, times * error, 1e-9);
        }
        in_share(fit.residual, times * 2360.14502379268, 1e-12);
        in_share(fit.r2, r2, 1e-11);
    }
}

#[test]
fn through_the_origin() {
    let x: Vec<f64> = (60..=70).map(f64::from).collect();
    let y: Vec<f64> = (130..=140).map(f64::from).collect();
    let one = line(&x, &y, false);
    certified(&one, &[(2.07438016528926, 0.165289256198347e-1)], 1e-12);
    in_share(one.residual, 3.56753034006338, 1e-12);
    in_share(one.r2, 0.999365492298663, 1e-13);
    let two = line(&[4.0, 5.0, 6.0], &[3.0, 4.0, 4.0], false);
    certified(&two, &[(0.727272727272727, 0.420827318078432e-1)], 1e-12);
    in_share(two.residual, 0.369274472937998, 1e-12);
    // In exact fractions, COMPUTED.
    in_share(two.r2, 0.993348115299335, 1e-14);
}

#[test]
fn the_range_is_student_s() {
    // t at 97.5 % with 2 degrees of freedom is 4.30265 (any table, MEMORY; five digits after the point).
    let fit = line(&[4.0, 5.0, 6.0], &[3.0, 4.0, 4.0], false);
    let c = fit.coefficients[0];
    in_share((c.interval.high - c.value) / c.error, 4.30265, 2e-6);
    in_share((c.value - c.interval.low) / c.error, 4.30265, 2e-6);
}

#[test]
fn what_cannot_be_fitted_says_why() {
    let rows = |v: &[[f64; 2]]| v.iter().map(|r| r.to_vec()).collect::<Vec<_>>();
    let tied = rows(&[[1., 2.], [2., 4.], [3., 6.], [4., 8.]]);
    assert_eq!(fit(&tied, &[1., 2., 3., 4.], true), Err(LinesError::Tied));
    let flat = rows(&[[1., 5.], [2., 5.], [3., 5.], [4., 5.]]);
    assert_eq!(fit(&flat, &[1., 2., 3., 4.], true), Err(LinesError::Tied));
    let few = LinesError::TooFew { rows: 3, terms: 3 };
    assert_eq!(fit(&flat[..3], &[1., 2., 3.], true), Err(few));
    let odd = rows(&[[1., f64::NAN]]);
    assert_eq!(fit(&odd, &[1.], true), Err(LinesError::Ragged));
    assert_eq!(fit(&flat, &[1.], true), Err(LinesError::Ragged));
    assert!(fit(&[], &[], true).is_err());
}

proptest! {
    #[test]
    fn what_is_left_is_square_to_the_columns(x in prop::collection::vec((-9.0f64..9.0, -9.0f64..9.0, -9.0f64..9.0), 6..20)) {
        // The normal equations, which the code does not use.
        let rows: Vec<Vec<f64>> = x.iter().map(|v| vec![v.0, v.1]).collect();
        let y: Vec<f64> = x.iter().map(|v| v.2).collect();
        if let Ok(fit) = fit(&rows, &y, true) {
            let b: Vec<f64> = fit.coefficients.iter().map(|c| c.value).collect();
            let left = |(r, y): (&Vec<f64>, &f64)| y - b[0] - b[1] * r[0] - b[2] * r[1];
            let sum = |f: &dyn Fn(&Vec<f64>) -> f64| rows.iter().zip(&y).map(|p| left(p) * f(p.0)).sum::<f64>();
            let scale = 1e-9 * (1.0 + b[0].abs() + b[1].abs() + b[2].abs());
            prop_assert!(sum(&|_| 1.0).abs() < scale);
            prop_assert!(sum(&|r| r[0]).abs() < 10.0 * scale && sum(&|r| r[1]).abs() < 10.0 * scale);
        }
    }
}
