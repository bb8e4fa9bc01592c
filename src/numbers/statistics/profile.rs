//! The profile of Firth's penalised likelihood: how far a coefficient may move before the objective falls too far.
//!
//! As in Heinze and Schemper (Statistics in Medicine 21, 2002): the coefficient is held, the others are fitted again,
//! and the information keeps all its columns throughout.

use super::distribution::chi2_tail;
use super::maximise::{Optimum, Penalty, Scaled, digits};
use super::proportion::Interval;
use nalgebra::DVector;

/// Half of chi-square's 95 % point at one degree of freedom.
const DROP: f64 = 3.841_458_820_694_124 / 2.0;
/// A range is open on a side where the objective has not fallen this far out, in log-odds.
const OPEN: f64 = 14.0;

/// The 95 % interval and the p of coefficient `j`, on the scaled columns. None when a fit does not settle.
pub fn profile(data: &Scaled, optimum: &Optimum, j: usize) -> Option<(Interval, f64)> {
    let held = |at: f64, from: &DVector<f64>| {
        let mut start = from.clone();
        start[j] = at;
        data.maximise(&Penalty::Firth, &start, Some(j))
    };
    let none = held(0.0, &optimum.b)?;
    let p = chi2_tail(2.0 * (optimum.objective - none.objective).max(0.0), 1.0);
    let low = edge(&held, optimum, j, -1.0)?;
    let high = edge(&held, optimum, j, 1.0)?;
    Some((Interval { low, high }, p))
}

/// Steps outward until the objective has fallen by more than is allowed, then closes in on the edge.
fn edge(
    held: &impl Fn(f64, &DVector<f64>) -> Option<Optimum>,
    optimum: &Optimum,
    j: usize,
    way: f64,
) -> Option<f64> {
    let target = optimum.objective - DROP;
    let mut step = 2.0 * optimum.covariance[(j, j)].max(1e-6).sqrt();
    let mut inner = (optimum.b[j], DROP, optimum.b.clone());
    loop {
        let at = inner.0 + way * step;
        if at.abs() > OPEN {
            return Some(way * f64::INFINITY);
        }
        let out = held(at, &inner.2)?;
        let over = out.objective - target;
        if over <= 0.0 {
            return close_in(held, (inner.0, inner.1), (at, over), target, &inner.2);
        }
        inner = (at, over, out.b);
        step *= 2.0;
    }
}

/// The Illinois rule between a point inside and one outside.
fn close_in(
    held: &impl Fn(f64, &DVector<f64>) -> Option<Optimum>,
    mut inner: (f64, f64),
    mut outer: (f64, f64),
    target: f64,
    from: &DVector<f64>,
) -> Option<f64> {
    let mut start = from.clone();
    let mut last = 0;
    for _ in 0..60 {
        let at = outer.0 - outer.1 * (outer.0 - inner.0) / (outer.1 - inner.1);
        let there = held(at, &start)?;
        let over = there.objective - target;
        start = there.b;
        if over.abs() < 10.0 * digits(target) || (outer.0 - inner.0).abs() < 1e-11 {
            return Some(at);
        }
        if over > 0.0 {
            inner = (at, over);
            outer.1 *= if last == 1 { 0.5 } else { 1.0 };
            last = 1;
        } else {
            outer = (at, over);
            inner.1 *= if last == -1 { 0.5 } else { 1.0 };
            last = -1;
        }
    }
    None
}
