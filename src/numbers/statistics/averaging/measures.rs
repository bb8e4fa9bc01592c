//! A measure's model: linear, with conjugate normal priors, the noise and a random effect of the session integrated.

use super::columns::Pours;
use super::models::{ALWAYS, Fit, Fits, always};
use nalgebra::{Cholesky, DMatrix, DVector};

/// Standard deviations of the priors, in units of the noise: as a share's, whose latent noise has 1.81.
const INTERCEPT: f64 = 100.0;
const TIME: f64 = 1.4;
const SLOPE: f64 = 0.66;
const WORD: f64 = 0.47;
/// Standard deviations between sessions that are tried, in units of the noise; half a normal before looking.
const SPREADS: [f64; 5] = [0.0, 0.25, 0.5, 0.9, 1.5];
const SPREAD_PRIOR: f64 = 0.6;

/// All products of columns, once for each spread.
pub(super) struct Measures {
    nodes: Vec<Node>,
    pours: f64,
}

struct Node {
    spread: f64,
    /// Products of intercept, time, all columns and the outcome, sessions taken out.
    products: DMatrix<f64>,
    /// The log of the determinant of the sessions' covariance.
    log_whole: f64,
}

impl Measures {
    pub fn new(pours: &Pours<'_>, columns: &[Vec<f64>]) -> Self {
        let n = pours.y.len();
        let ones = vec![1.0; n];
        let time = pours.time();
        let all = [&ones]
            .into_iter()
            .chain(&time)
            .chain(columns)
            .chain([&pours.y]);
        let all: Vec<&[f64]> = all.map(Vec::as_slice).collect();
        let table = DMatrix::from_fn(n, all.len(), |i, j| all[j][i]);
        let plain = table.tr_mul(&table);
        let sums = DMatrix::from_fn(pours.sessions.len(), all.len(), |s, j| {
            all[j][pours.sessions[s].clone()].iter().sum()
        });
        let apart = pours.sessions.iter().all(|one| one.len() == 1);
        let spreads = &SPREADS[..if apart { 1 } else { SPREADS.len() }];
        let node = |spread: &f64| {
            let ratio = spread * spread;
            let size = |s: usize| pours.sessions[s].len() as f64;
            let scaled = DMatrix::from_fn(sums.nrows(), sums.ncols(), |s, j| {
                sums[(s, j)] * ratio / (1.0 + ratio * size(s))
            });
            Node {
                spread: *spread,
                products: &plain - sums.tr_mul(&scaled),
                log_whole: (0..sums.nrows()).map(|s| (ratio * size(s)).ln_1p()).sum(),
            }
        };
        Self {
            nodes: spreads.iter().map(node).collect(),
            pours: n as f64,
        }
    }
}

impl Fits for Measures {
    fn nodes(&self) -> usize {
        self.nodes.len()
    }

    fn fit(&self, columns: &[usize], many: &[bool], node: usize, _: &[f64]) -> Option<Fit> {
        let node = &self.nodes[node];
        let places: Vec<usize> = (0..ALWAYS)
            .chain(columns.iter().map(|at| at + ALWAYS))
            .collect();
        let slope = many.iter().map(|many| if *many { WORD } else { SLOPE });
        let sds: Vec<f64> = always(INTERCEPT, TIME).chain(slope).collect();
        let d = places.len();
        let last = node.products.ncols() - 1;
        let products = |j: usize, k: usize| node.products[(places[j], places[k])];
        let core = DMatrix::from_fn(d, d, |j, k| {
            products(j, k) + if j == k { 1.0 / (sds[j] * sds[j]) } else { 0.0 }
        });
        let pull = DVector::from_fn(d, |j, _| node.products[(places[j], last)]);
        let core = Cholesky::new(core)?;
        let means = core.solve(&pull);
        let left = node.products[(last, last)] - means.dot(&pull);
        if left <= 0.0 {
            return None;
        }
        let bend: f64 = core.l_dirty().diagonal().iter().map(|v| v.ln()).sum();
        let prior: f64 = sds.iter().map(|sd| sd.ln()).sum();
        let evidence = -0.5 * self.pours * left.ln()
            - bend
            - prior
            - 0.5 * node.log_whole
            - 0.5 * (node.spread / SPREAD_PRIOR).powi(2);
        Some(Fit {
            evidence,
            means,
            covariance: core.inverse() * (left / self.pours),
            freedom: self.pours,
        })
    }
}
