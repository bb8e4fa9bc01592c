//! Logistic fits that stay finite on few pours: a normal prior (ridge), and Firth's penalty.
//!
//! Firth (Biometrika 80, 1993); Heinze and Schemper (Statistics in Medicine 21, 2002).

use super::distribution::normal_two_sided;
use nalgebra::{DMatrix, DVector};

/// A fitted coefficient, intercept first; on the log-odds scale.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Coefficient {
    /// Its value.
    pub value: f64,
    /// Its standard error.
    pub error: f64,
    /// Wald's two-sided p; the profile p is not computed here.
    pub wald_p: f64,
}

const STEPS: usize = 200;

/// The fit under a penalty of `lambda`/2 on each squared slope, the intercept free. Rows hold no intercept.
/// None when rows are ragged, empty, not finite, or the fit does not settle.
#[must_use]
pub fn ridge(rows: &[Vec<f64>], good: &[bool], lambda: f64) -> Option<Vec<Coefficient>> {
    let (x, y) = design(rows, good)?;
    let mut penalty = DMatrix::identity(x.ncols(), x.ncols()) * lambda;
    penalty[(0, 0)] = 0.0;
    let worth = |b: &DVector<f64>| log_likelihood(&x, &y, b) - 0.5 * b.dot(&(&penalty * b));
    let slope = |b: &DVector<f64>| {
        let p = chances(&x, b);
        let information = information(&x, &p) + &penalty;
        Some((
            x.transpose() * (&y - p) - &penalty * b,
            information.try_inverse()?,
        ))
    };
    climb(x.ncols(), worth, slope)
}

/// Firth's fit. None when the rows cannot carry it or it does not settle: fall back to [`ridge`], and say so.
#[must_use]
pub fn firth(rows: &[Vec<f64>], good: &[bool]) -> Option<Vec<Coefficient>> {
    let (x, y) = design(rows, good)?;
    let worth = |b: &DVector<f64>| {
        let information = information(&x, &chances(&x, b));
        log_likelihood(&x, &y, b) + 0.5 * information.determinant().ln()
    };
    let slope = |b: &DVector<f64>| {
        let p = chances(&x, b);
        let inverse = information(&x, &p).try_inverse()?;
        let pull = DVector::from_fn(x.nrows(), |i, _| {
            let leverage = (x.row(i) * &inverse * x.row(i).transpose())[0] * p[i] * (1.0 - p[i]);
            y[i] - p[i] + leverage * (0.5 - p[i])
        });
        Some((x.transpose() * pull, inverse))
    };
    climb(x.ncols(), worth, slope)
}

fn design(rows: &[Vec<f64>], good: &[bool]) -> Option<(DMatrix<f64>, DVector<f64>)> {
    let width = rows.first()?.len();
    let sound = |r: &Vec<f64>| r.len() == width && r.iter().all(|v| v.is_finite());
    if rows.len() != good.len() || !rows.iter().all(sound) {
        return None;
    }
    let x = DMatrix::from_fn(rows.len(), width + 1, |i, j| {
        if j == 0 { 1.0 } else { rows[i][j - 1] }
    });
    Some((
        x,
        DVector::from_fn(good.len(), |i, _| f64::from(u8::from(good[i]))),
    ))
}

fn chances(x: &DMatrix<f64>, b: &DVector<f64>) -> DVector<f64> {
    (x * b).map(|e| 1.0 / (1.0 + (-e).exp()))
}

fn information(x: &DMatrix<f64>, p: &DVector<f64>) -> DMatrix<f64> {
    let weighted = DMatrix::from_fn(x.nrows(), x.ncols(), |i, j| x[(i, j)] * p[i] * (1.0 - p[i]));
    x.transpose() * weighted
}

fn log_likelihood(x: &DMatrix<f64>, y: &DVector<f64>, b: &DVector<f64>) -> f64 {
    let e = x * b;
    let one = |(e, y): (&f64, &f64)| y * e - (e.max(0.0) + (-e.abs()).exp().ln_1p());
    e.iter().zip(y.iter()).map(one).sum()
}

/// Newton's climb, no step over 5, halved until the worth rises.
fn climb(
    width: usize,
    worth: impl Fn(&DVector<f64>) -> f64,
    slope: impl Fn(&DVector<f64>) -> Option<(DVector<f64>, DMatrix<f64>)>,
) -> Option<Vec<Coefficient>> {
    let mut b = DVector::zeros(width);
    for _ in 0..STEPS {
        let (score, inverse) = slope(&b)?;
        let mut step = &inverse * score;
        let longest = step.amax();
        if !longest.is_finite() {
            return None;
        }
        if longest < 1e-10 {
            return Some(coefficients(&b, &inverse));
        }
        step *= (5.0 / longest).min(1.0);
        let here = worth(&b);
        for _ in 0..30 {
            if worth(&(&b + &step)) >= here - 1e-12 {
                break;
            }
            step *= 0.5;
        }
        b += step;
    }
    None
}

fn coefficients(b: &DVector<f64>, inverse: &DMatrix<f64>) -> Vec<Coefficient> {
    let one = |(i, value): (usize, &f64)| {
        let error = inverse[(i, i)].max(0.0).sqrt();
        let wald_p = if error > 0.0 {
            normal_two_sided(value / error)
        } else {
            1.0
        };
        Coefficient {
            value: *value,
            error,
            wald_p,
        }
    };
    b.iter().enumerate().map(one).collect()
}
