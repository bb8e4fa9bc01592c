//! Logistic fits that stay finite on few pours: a normal prior (ridge), and Firth's penalty.
//!
//! Firth (Biometrika 80, 1993); Heinze and Schemper (Statistics in Medicine 21, 2002): ranges and p come from the
//! profile of the penalised likelihood, the information kept whole. The ridge is the fallback: a prior of
//! standard deviation 1.5 on the log-odds of two standard deviations of each factor, chosen by simulation.

use super::distribution::{Z95, normal_two_sided};
use super::maximise::{Optimum, Penalty, Scaled};
use super::profile::profile;
use super::proportion::Interval;
use nalgebra::{DMatrix, DVector};

/// From so many rows on Wald's range stands for the profile's, which costs some twenty fits, where the coefficient is
/// so sure that the two differ by less than the digits that are shown.
const MANY: usize = 2000;
/// So sure: a standard error of its log-odds under this. A word of a few pours among many is not.
const SURE: f64 = 0.15;
/// One over the square of the prior's standard deviation.
const LAMBDA: f64 = 1.0 / (1.5 * 1.5);

/// A fitted coefficient, intercept first; on the log-odds scale of the columns as given.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Coefficient {
    /// Its value.
    pub value: f64,
    /// Its standard error.
    pub error: f64,
    /// Wald's two-sided p.
    pub wald_p: f64,
}

/// What one factor does to the odds, the others held.
#[derive(Debug, Clone, PartialEq)]
pub struct Term {
    /// Its name.
    pub name: String,
    /// The step the odds ratio is for, in the factor's unit: two standard deviations, or from the one value to
    /// the other where there are only two.
    pub step: f64,
    /// How many times the odds of a good pour one step makes.
    pub odds_ratio: f64,
    /// Its 95 % interval; an end may be 0 or infinite.
    pub interval: Interval,
    /// The two-sided p.
    pub p: f64,
}

/// A fit of several factors at once.
#[derive(Debug, Clone, PartialEq)]
pub struct Fitted {
    /// "firth" or "ridge".
    pub method: &'static str,
    /// One term a factor, in the order given.
    pub terms: Vec<Term>,
    /// The pours it rests on.
    pub n: usize,
    /// Why it is not Firth's fit, in a sentence.
    pub why_not: Option<String>,
}

/// The fit under a penalty of `lambda`/2 on each squared slope, the intercept free. Rows hold no intercept;
/// a `lambda` of 0 is plain maximum likelihood. None when rows are ragged, empty, not finite, or when the fit
/// has no top, as without a penalty on separated pours.
#[must_use]
pub fn ridge(rows: &[Vec<f64>], good: &[bool], lambda: f64) -> Option<Vec<Coefficient>> {
    let data = Scaled::new(rows, good)?;
    let scales = data.scales().to_vec();
    let one = |j: usize| match j {
        0 => 0.0,
        _ => lambda / scales[j - 1].powi(2),
    };
    let weights = DVector::from_fn(data.width(), |j, _| one(j));
    let optimum = top(&data, &Penalty::Normal(weights))?;
    Some(coefficients(data.unscaled(&optimum)))
}

/// Firth's fit. None when the rows cannot carry it or it does not settle.
#[must_use]
pub fn firth(rows: &[Vec<f64>], good: &[bool]) -> Option<Vec<Coefficient>> {
    let data = Scaled::new(rows, good)?;
    let optimum = top(&data, &Penalty::Firth)?;
    Some(coefficients(data.unscaled(&optimum)))
}

/// Firth's fit with ranges and p from the profile; the ridge, with the reason said, where Firth's does not
/// settle. One name a column. None when rows are ragged, empty or not finite, or when all came out alike.
#[must_use]
pub fn fit(names: &[String], rows: &[Vec<f64>], good: &[bool]) -> Option<Fitted> {
    if let Some(fitted) = fit_firth(names, rows, good) {
        return Some(fitted);
    }
    let why = "Firth's fit did not settle on these pours, so a cautious prior was used instead.";
    Some(Fitted {
        why_not: Some(why.into()),
        ..fit_ridge(names, rows, good)?
    })
}

/// Firth's fit alone, told as odds. None where it does not settle.
#[must_use]
pub fn fit_firth(names: &[String], rows: &[Vec<f64>], good: &[bool]) -> Option<Fitted> {
    let data = sound(names, rows, good)?;
    let optimum = top(&data, &Penalty::Firth)?;
    let is_sure = |j: usize| data.rows() >= MANY && root(&optimum.covariance, j) < SURE;
    let range = |j: usize| match is_sure(j) {
        true => Some(wald(&optimum, j)),
        false => profile(&data, &optimum, j),
    };
    let terms: Option<Vec<Term>> = (0..names.len())
        .map(|j| Some(term(&data, &optimum, names, j, range(j + 1)?)))
        .collect();
    Some(Fitted {
        method: "firth",
        terms: terms?,
        n: rows.len(),
        why_not: None,
    })
}

/// The ridge alone, told as odds with Wald's ranges. None when rows are ragged, empty or not finite, or when all
/// came out alike: then the free intercept has no top.
#[must_use]
pub fn fit_ridge(names: &[String], rows: &[Vec<f64>], good: &[bool]) -> Option<Fitted> {
    let data = sound(names, rows, good)?;
    let weights = DVector::from_fn(data.width(), |j, _| if j == 0 { 0.0 } else { LAMBDA });
    let optimum = top(&data, &Penalty::Normal(weights))?;
    Some(Fitted {
        method: "ridge",
        terms: (0..names.len())
            .map(|j| term(&data, &optimum, names, j, wald(&optimum, j + 1)))
            .collect(),
        n: rows.len(),
        why_not: None,
    })
}

/// Wald's 95 % interval and p of coefficient `j`.
fn wald(optimum: &Optimum, j: usize) -> (Interval, f64) {
    let (b, error) = (optimum.b[j], root(&optimum.covariance, j));
    let interval = Interval {
        low: b - Z95 * error,
        high: b + Z95 * error,
    };
    (interval, wald_p(b, error))
}

fn sound(names: &[String], rows: &[Vec<f64>], good: &[bool]) -> Option<Scaled> {
    let both = good.contains(&true) && good.contains(&false);
    Scaled::new(rows, good).filter(|d| both && d.width() == names.len() + 1)
}

fn top(data: &Scaled, penalty: &Penalty) -> Option<Optimum> {
    data.maximise(penalty, &DVector::zeros(data.width()), None)
}

fn term(
    data: &Scaled,
    optimum: &Optimum,
    names: &[String],
    j: usize,
    told: (Interval, f64),
) -> Term {
    let (interval, p) = told;
    Term {
        name: names.get(j).cloned().unwrap_or_default(),
        step: data.scales().get(j).copied().unwrap_or(1.0),
        odds_ratio: optimum.b[j + 1].exp(),
        interval: Interval {
            low: interval.low.exp(),
            high: interval.high.exp(),
        },
        p,
    }
}

fn coefficients((b, covariance): (DVector<f64>, DMatrix<f64>)) -> Vec<Coefficient> {
    let one = |(j, value): (usize, &f64)| {
        let error = root(&covariance, j);
        Coefficient {
            value: *value,
            error,
            wald_p: wald_p(*value, error),
        }
    };
    b.iter().enumerate().map(one).collect()
}

fn root(covariance: &DMatrix<f64>, j: usize) -> f64 {
    covariance[(j, j)].max(0.0).sqrt()
}

fn wald_p(value: f64, error: f64) -> f64 {
    if error > 0.0 {
        normal_two_sided(value / error)
    } else {
        1.0
    }
}
