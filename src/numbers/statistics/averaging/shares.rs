//! A share's model: logistic, with normal priors and a random effect of the session, its evidence by Laplace.

use super::columns::Pours;
use super::models::{Fit, Fits, always};
use nalgebra::{Cholesky, DMatrix, DVector};
use std::ops::Range;

/// Standard deviations of the priors: intercept, time, a column on two standard deviations, one word of many. A word of
/// many may differ from another by as much as one of two: the difference of two has 1.2.
const INTERCEPT: f64 = 5.0;
const TIME: f64 = 2.5;
const SLOPE: f64 = 1.2;
const WORD: f64 = 0.85;
/// Spreads between sessions that are tried, in log-odds; their prior is half a normal of this standard deviation.
const SPREADS: [f64; 5] = [0.0, 0.35, 0.7, 1.1, 1.6];
const SPREAD_PRIOR: f64 = 0.8;
/// Newton's steps at most, and when they are small enough.
const STEPS: usize = 40;
const CLOSE: f64 = 1e-7;

/// The pours as a share's model sees them.
pub(super) struct Shares<'a> {
    y: &'a [f64],
    sessions: &'a [Range<usize>],
    always: Vec<Vec<f64>>,
    columns: &'a [Vec<f64>],
    spreads: Vec<f64>,
}

impl<'a> Shares<'a> {
    pub fn new(pours: &'a Pours<'_>, columns: &'a [Vec<f64>]) -> Self {
        let apart = pours.sessions.iter().all(|one| one.len() == 1);
        Self {
            y: &pours.y,
            sessions: &pours.sessions,
            always: [vec![1.0; pours.y.len()]]
                .into_iter()
                .chain(pours.time())
                .collect(),
            columns,
            spreads: SPREADS[..if apart { 1 } else { SPREADS.len() }].to_vec(),
        }
    }
}

impl Fits for Shares<'_> {
    fn nodes(&self) -> usize {
        self.spreads.len()
    }

    fn fit(&self, columns: &[usize], many: &[bool], node: usize, guess: &[f64]) -> Option<Fit> {
        let own = columns.iter().map(|at| &self.columns[*at]);
        let slope = many.iter().map(|many| if *many { WORD } else { SLOPE });
        let sds = always(INTERCEPT, TIME).chain(slope);
        let ascent = Ascent {
            y: self.y,
            sessions: self.sessions,
            x: self.always.iter().chain(own).map(Vec::as_slice).collect(),
            precision: sds.map(|sd| 1.0 / (sd * sd)).collect(),
            spread: self.spreads[node],
        };
        let mut fit = ascent.top(guess)?;
        fit.evidence -= 0.5 * (self.spreads[node] / SPREAD_PRIOR).powi(2);
        Some(fit)
    }
}

/// One model on its way to the top: coefficients, and each session's own effect in units of the spread.
struct Ascent<'a> {
    y: &'a [f64],
    sessions: &'a [Range<usize>],
    x: Vec<&'a [f64]>,
    precision: Vec<f64>,
    spread: f64,
}

/// A place on the way.
struct Place {
    b: Vec<f64>,
    own: Vec<f64>,
    /// What each pour's outcome is over its chance, and the chance's own spread.
    left: Vec<f64>,
    weight: Vec<f64>,
    height: f64,
}

/// How it bends at a place, with the sessions' effects taken out.
struct Bend {
    core: Cholesky<f64, nalgebra::Dyn>,
    cross: Vec<f64>,
    sessions: Vec<f64>,
}

impl Ascent<'_> {
    fn top(&self, guess: &[f64]) -> Option<Fit> {
        let d = self.x.len();
        let mut b = vec![0.0; d];
        b.iter_mut().zip(guess).for_each(|(b, guess)| *b = *guess);
        let mut here = self.place(b, vec![0.0; self.sessions.len()]);
        for _ in 0..STEPS {
            let bend = self.bend(&here)?;
            let (step, own) = self.step(&here, &bend);
            let longest = step
                .iter()
                .chain(&own)
                .fold(0.0, |most: f64, v| most.max(v.abs()));
            if longest < CLOSE.sqrt() {
                // One more step from so near is exact to the digits that matter.
                here = self.moved(&here, &step, &own, 1.0);
                if longest < CLOSE {
                    break;
                }
                continue;
            }
            let mut share = (4.0 / longest).min(1.0);
            let mut there = self.moved(&here, &step, &own, share);
            while there.height < here.height && share > 1e-4 {
                share *= 0.5;
                there = self.moved(&here, &step, &own, share);
            }
            here = there;
        }
        let bend = self.bend(&here)?;
        Some(self.told(&here, &bend))
    }

    fn told(&self, here: &Place, bend: &Bend) -> Fit {
        let core: f64 = bend.core.l_dirty().diagonal().iter().map(|v| v.ln()).sum();
        let sessions: f64 = bend.sessions.iter().map(|v| v.ln()).sum();
        let prior: f64 = self.precision.iter().map(|v| v.ln()).sum();
        Fit {
            evidence: here.height + 0.5 * prior - core - 0.5 * sessions,
            means: DVector::from_column_slice(&here.b),
            covariance: bend.core.inverse(),
            freedom: f64::INFINITY,
        }
    }

    fn moved(&self, from: &Place, step: &[f64], own: &[f64], share: f64) -> Place {
        let add = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| a + share * b).collect();
        self.place(add(&from.b, step), add(&from.own, own))
    }

    fn place(&self, b: Vec<f64>, own: Vec<f64>) -> Place {
        let n = self.y.len();
        let mut eta = vec![0.0; n];
        for (x, b) in self.x.iter().zip(&b) {
            eta.iter_mut().zip(*x).for_each(|(e, x)| *e += b * x);
        }
        for (rows, own) in self.sessions.iter().zip(&own) {
            eta[rows.clone()]
                .iter_mut()
                .for_each(|e| *e += self.spread * own);
        }
        let (mut left, mut weight) = (vec![0.0; n], vec![0.0; n]);
        let mut height = 0.0;
        for (row, e) in eta.iter().enumerate() {
            let small = (-e.abs()).exp();
            let p = if *e >= 0.0 { 1.0 } else { small } / (1.0 + small);
            left[row] = self.y[row] - p;
            weight[row] = p * (1.0 - p);
            height += self.y[row] * e - e.max(0.0) - small.ln_1p();
        }
        let prior: f64 = b.iter().zip(&self.precision).map(|(b, p)| b * b * p).sum();
        height -= 0.5 * (prior + own.iter().map(|v| v * v).sum::<f64>());
        Place {
            b,
            own,
            left,
            weight,
            height,
        }
    }

    fn bend(&self, at: &Place) -> Option<Bend> {
        let d = self.x.len();
        let weighed: Vec<Vec<f64>> = self.x.iter().map(|x| times(x, &at.weight)).collect();
        let mut core = DMatrix::zeros(d, d);
        for j in 0..d {
            for k in 0..=j {
                core[(j, k)] = dot(&weighed[j], self.x[k]);
            }
            core[(j, j)] += self.precision[j];
        }
        let mut cross = Vec::with_capacity(self.sessions.len() * d);
        let mut sessions = Vec::with_capacity(self.sessions.len());
        for rows in self.sessions {
            let sum = |of: &[f64]| of[rows.clone()].iter().sum::<f64>();
            let own = 1.0 + self.spread * self.spread * sum(&at.weight);
            let from = cross.len();
            cross.extend(weighed.iter().map(|column| self.spread * sum(column)));
            for j in 0..d {
                for k in 0..=j {
                    core[(j, k)] -= cross[from + j] * cross[from + k] / own;
                }
            }
            sessions.push(own);
        }
        core.fill_upper_triangle_with_lower_triangle();
        Some(Bend {
            core: Cholesky::new(core)?,
            cross,
            sessions,
        })
    }

    fn step(&self, at: &Place, bend: &Bend) -> (Vec<f64>, Vec<f64>) {
        let d = self.x.len();
        let pull = |j: usize| dot(self.x[j], &at.left) - self.precision[j] * at.b[j];
        let mut core = DVector::from_fn(d, |j, _| pull(j));
        let own: Vec<f64> = (0..self.sessions.len())
            .map(|s| {
                let left: f64 = at.left[self.sessions[s].clone()].iter().sum();
                self.spread * left - at.own[s]
            })
            .collect();
        for (s, own) in own.iter().enumerate() {
            for j in 0..d {
                core[j] -= bend.cross[s * d + j] * own / bend.sessions[s];
            }
        }
        let step = bend.core.solve(&core);
        let own = (0..own.len()).map(|s| {
            let cross = &bend.cross[s * d..(s + 1) * d];
            (own[s] - dot(cross, step.as_slice())) / bend.sessions[s]
        });
        let own = own.collect();
        (step.as_slice().to_vec(), own)
    }
}

fn times(a: &[f64], b: &[f64]) -> Vec<f64> {
    a.iter().zip(b).map(|(a, b)| a * b).collect()
}

/// In four sums side by side, which the machine adds at once.
fn dot(a: &[f64], b: &[f64]) -> f64 {
    let mut sums = [0.0; 4];
    let (first, second) = (a.chunks_exact(4), b.chunks_exact(4));
    let rest = first.remainder().iter().zip(second.remainder());
    let rest: f64 = rest.map(|(a, b)| a * b).sum();
    for (a, b) in first.zip(second) {
        for i in 0..4 {
            sums[i] += a[i] * b[i];
        }
    }
    sums.iter().sum::<f64>() + rest
}
