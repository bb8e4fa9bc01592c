//! One model against other code. COMPUTED: numpy 2.4.6 and scipy 1.17.1; the mode by BFGS and Newton on coefficients and
//! session effects together, Laplace's determinant of the whole Hessian; the measure's evidence from its marginal
//! covariance, the noise integrated under 1/variance, constants of the sample left out.

use super::columns::{Columns, Pours};
use super::measures::Measures;
use super::models::{ALWAYS, Fits};
use super::shares::Shares;
use super::*;
use crate::numbers::statistics::findings::{FactorKind, FactorValue};

const HOURS: [f64; 14] = [
    0., 1., 2., 30., 31., 60., 61., 62., 63., 90., 120., 121., 150., 151.,
];
const X: [f64; 14] = [
    0.5, -0.3, 0.9, -0.8, 0.1, 0.7, -0.2, -0.6, 0.4, 0.2, -0.9, 0.3, -0.1, 0.8,
];
const GOOD: [u8; 14] = [1, 0, 1, 0, 1, 1, 0, 0, 1, 1, 0, 0, 0, 1];
const MEASURED: [f64; 14] = [
    3.1, 2.0, 3.6, 1.2, 2.7, 3.9, 2.2, 1.9, 3.3, 2.4, 1.0, 2.1, 2.0, 3.7,
];

fn factors() -> [Factor; 1] {
    [Factor {
        name: "x".into(),
        kind: FactorKind::Number,
        unit: String::new(),
        step: 0.1,
    }]
}

fn rows() -> Vec<Observation> {
    let row = |(x, good): (&f64, &u8)| Observation {
        good: *good == 1,
        cells: 0,
        factors: vec![FactorValue::Number(*x)],
    };
    X.iter().zip(&GOOD).map(row).collect()
}

/// The evidence without the prior of the spread, the slope and its variance.
fn fitted(outcome: &Outcome, node: usize, spread_prior: f64) -> [f64; 3] {
    let rows = rows();
    let pours = Pours::of(&rows, &HOURS, outcome);
    assert_eq!(pours.sessions, [0..3, 3..5, 5..9, 9..10, 10..12, 12..14]);
    let columns = Columns::of(&factors(), &pours);
    let fit = match outcome {
        Outcome::Good => Shares::new(&pours, &columns.all).fit(&[0], &[false], node, &[]),
        _ => Measures::new(&pours, &columns.all).fit(&[0], &[false], node, &[]),
    };
    let fit = fit.unwrap();
    [
        fit.evidence + spread_prior,
        fit.means[ALWAYS],
        fit.covariance[(ALWAYS, ALWAYS)],
    ]
}

fn near(found: [f64; 3], told: [f64; 3]) {
    let close = |(a, b): (&f64, &f64)| (a - b).abs() < 1e-7 * b.abs();
    assert!(
        found.iter().zip(&told).all(close),
        "{found:?}, not {told:?}"
    );
}

#[test]
fn a_share_with_sessions_is_fitted_as_by_scipy() {
    near(
        fitted(&Outcome::Good, 2, 0.5 * (0.7_f64 / 0.8).powi(2)),
        [
            -11.429_769_631_857_51,
            1.920_273_003_411_372_4,
            0.842_181_148_403_729_7,
        ],
    );
}

#[test]
fn a_measure_with_sessions_is_fitted_as_by_numpy() {
    let values = MEASURED.iter().map(|value| Some(*value)).collect();
    near(
        fitted(&Outcome::Measured(values), 2, 0.5 * (0.5_f64 / 0.6).powi(2)),
        [
            -19.703_107_978_656_83,
            0.932_281_642_220_057_3,
            0.059_710_470_206_157_336,
        ],
    );
}

#[test]
fn pours_less_than_six_hours_apart_are_one_session() {
    let rows = rows();
    let hours: Vec<f64> = (0..14).map(|at| f64::from(at) * 6.0).collect();
    assert_eq!(Pours::of(&rows, &hours, &Outcome::Good).sessions.len(), 1);
    let hours: Vec<f64> = (0..14).map(|at| f64::from(at) * 6.1).collect();
    assert_eq!(Pours::of(&rows, &hours, &Outcome::Good).sessions.len(), 14);
}
