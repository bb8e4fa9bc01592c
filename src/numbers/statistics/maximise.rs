//! The maximiser behind the logistic fits: columns on one scale, Newton's steps, and a stop where there is no top.
//!
//! Columns are centred; a two-valued one is put one apart, others are put on two standard deviations (Gelman,
//! Statistics in Medicine 27:2865, 2008; from memory). Firth's fit does not mind the scale.

use nalgebra::{Cholesky, DMatrix, DVector, Dyn};

/// Steps before a fit is given up.
const STEPS: usize = 200;
/// No log-odds beyond this is believed, for two standard deviations of anything.
const CAP: f64 = 15.0;

/// Pours ready to be fitted: a column of ones, then the scaled columns.
pub struct Scaled {
    x: DMatrix<f64>,
    y: DVector<f64>,
    centres: Vec<f64>,
    scales: Vec<f64>,
}

/// What is added to the likelihood.
pub enum Penalty {
    /// Half of this on each squared coefficient.
    Normal(DVector<f64>),
    /// Half the log of the determinant of the information.
    Firth,
}

/// Where a fit ended.
#[derive(Clone)]
pub struct Optimum {
    /// The coefficients, intercept first, on the scaled columns.
    pub b: DVector<f64>,
    /// Their covariance.
    pub covariance: DMatrix<f64>,
    /// The penalised log-likelihood.
    pub objective: f64,
}

impl Scaled {
    /// None when rows are ragged, empty or not finite.
    pub fn new(rows: &[Vec<f64>], good: &[bool]) -> Option<Self> {
        let width = rows.first()?.len();
        let sound = |r: &Vec<f64>| r.len() == width && r.iter().all(|v| v.is_finite());
        if rows.len() != good.len() || !rows.iter().all(sound) {
            return None;
        }
        let column = |j: usize| rows.iter().map(|r| r[j]).collect::<Vec<f64>>();
        let (centres, scales): (Vec<f64>, Vec<f64>) =
            (0..width).map(|j| centre_and_scale(&column(j))).unzip();
        let x = DMatrix::from_fn(rows.len(), width + 1, |i, j| match j {
            0 => 1.0,
            _ => (rows[i][j - 1] - centres[j - 1]) / scales[j - 1],
        });
        let y = DVector::from_fn(good.len(), |i, _| f64::from(u8::from(good[i])));
        Some(Self {
            x,
            y,
            centres,
            scales,
        })
    }

    /// Coefficients, the intercept counted.
    pub fn width(&self) -> usize {
        self.x.ncols()
    }

    /// Rows.
    pub fn rows(&self) -> usize {
        self.x.nrows()
    }

    /// What one unit of each scaled column is in the units given.
    pub fn scales(&self) -> &[f64] {
        &self.scales
    }

    /// Coefficients and their covariance for the columns as given.
    pub fn unscaled(&self, optimum: &Optimum) -> (DVector<f64>, DMatrix<f64>) {
        let mut back = DMatrix::identity(self.width(), self.width());
        for (j, (centre, scale)) in self.centres.iter().zip(&self.scales).enumerate() {
            back[(0, j + 1)] = -centre / scale;
            back[(j + 1, j + 1)] = 1.0 / scale;
        }
        (
            &back * &optimum.b,
            &back * &optimum.covariance * back.transpose(),
        )
    }

    /// Maximises from `start`; `held` is left as it is. None where the maximiser finds no top that can be believed.
    pub fn maximise(
        &self,
        penalty: &Penalty,
        start: &DVector<f64>,
        held: Option<usize>,
    ) -> Option<Optimum> {
        let mut b = start.clone();
        let mut here = self.objective(penalty, &b);
        let mut last = DVector::zeros(self.width());
        for _ in 0..STEPS {
            let information = self.penalised(penalty, &b);
            let whole = Cholesky::new(information.clone())?;
            let mut step = self.step(penalty, &b, &whole, information, held)?;
            let longest = step.amax();
            if longest < 1e-10 {
                let covariance = whole.inverse();
                return Some(Optimum {
                    b,
                    covariance,
                    objective: here,
                });
            }
            step *= (5.0 / longest).min(1.0);
            // Steps that leave out how the penalty bends may swing about the top for ever: the middle lies nearer.
            if step.dot(&last) < 0.0 && step.amax() > 0.5 * last.amax() {
                step *= 0.5;
            }
            for _ in 0..30 {
                let there = self.objective(penalty, &(&b + &step));
                if there >= here - digits(here) {
                    break;
                }
                step *= 0.5;
            }
            b += &step;
            last = step;
            here = self.objective(penalty, &b);
            if !b.iter().all(|v| v.abs() <= CAP) {
                return None;
            }
        }
        None
    }

    /// Newton's step; a held coefficient's row is cut out of the information.
    fn step(
        &self,
        penalty: &Penalty,
        b: &DVector<f64>,
        whole: &Cholesky<f64, Dyn>,
        mut information: DMatrix<f64>,
        held: Option<usize>,
    ) -> Option<DVector<f64>> {
        let mut score = self.score(penalty, b, whole);
        let Some(j) = held else {
            return Some(whole.solve(&score));
        };
        information.row_mut(j).fill(0.0);
        information.column_mut(j).fill(0.0);
        information[(j, j)] = 1.0;
        score[j] = 0.0;
        Some(Cholesky::new(information)?.solve(&score))
    }

    fn score(
        &self,
        penalty: &Penalty,
        b: &DVector<f64>,
        whole: &Cholesky<f64, Dyn>,
    ) -> DVector<f64> {
        let p = self.chances(b);
        match penalty {
            Penalty::Normal(weights) => self.x.tr_mul(&(&self.y - p)) - weights.component_mul(b),
            Penalty::Firth => {
                let spread = self.spread(&whole.inverse());
                let pull = DVector::from_fn(self.rows(), |i, _| {
                    let leverage = spread[i] * p[i] * (1.0 - p[i]);
                    self.y[i] - p[i] + leverage * (0.5 - p[i])
                });
                self.x.tr_mul(&pull)
            }
        }
    }

    fn objective(&self, penalty: &Penalty, b: &DVector<f64>) -> f64 {
        let own = self.log_likelihood(b);
        match penalty {
            Penalty::Normal(weights) => own - 0.5 * weights.dot(&b.component_mul(b)),
            Penalty::Firth => {
                let half = Cholesky::new(self.penalised(penalty, b))
                    .map(|c| c.l_dirty().diagonal().iter().map(|d| d.ln()).sum::<f64>());
                own + half.unwrap_or(f64::NEG_INFINITY)
            }
        }
    }

    fn penalised(&self, penalty: &Penalty, b: &DVector<f64>) -> DMatrix<f64> {
        let weights = self.chances(b).map(|p| p * (1.0 - p));
        let mut information = DMatrix::zeros(self.width(), self.width());
        for (j, k) in self.pairs() {
            let products = self.products(j, k).zip(&weights);
            let sum: f64 = products.map(|(product, weight)| product * weight).sum();
            information[(j, k)] = sum;
            information[(k, j)] = sum;
        }
        if let Penalty::Normal(weights) = penalty {
            (0..weights.len()).for_each(|j| information[(j, j)] += weights[j]);
        }
        information
    }

    /// What each row's own columns make of a matrix: x' M x.
    fn spread(&self, matrix: &DMatrix<f64>) -> Vec<f64> {
        let mut spread = vec![0.0; self.rows()];
        for (j, k) in self.pairs() {
            let times = matrix[(j, k)] * if j == k { 1.0 } else { 2.0 };
            let products = self.products(j, k);
            let each = spread.iter_mut().zip(products);
            each.for_each(|(sum, product)| *sum += times * product);
        }
        spread
    }

    /// Every two columns once, a column with itself too.
    fn pairs(&self) -> impl Iterator<Item = (usize, usize)> {
        let width = self.width();
        (0..width).flat_map(|j| (0..=j).map(move |k| (j, k)))
    }

    /// Two columns multiplied row by row, from their slices: a matrix of ten thousand rows is never copied.
    fn products(&self, j: usize, k: usize) -> impl Iterator<Item = f64> {
        let (rows, all) = (self.rows(), self.x.as_slice());
        let column = |at: usize| all[at * rows..(at + 1) * rows].iter();
        column(j).zip(column(k)).map(|(a, b)| a * b)
    }

    fn chances(&self, b: &DVector<f64>) -> DVector<f64> {
        (&self.x * b).map(|e| 1.0 / (1.0 + (-e).exp()))
    }

    fn log_likelihood(&self, b: &DVector<f64>) -> f64 {
        let e = &self.x * b;
        let one = |(e, y): (&f64, &f64)| y * e - (e.max(0.0) + (-e.abs()).exp().ln_1p());
        e.iter().zip(self.y.iter()).map(one).sum()
    }
}

/// As much of an objective as its digits cannot tell from nothing, on many pours; of a small one a little.
pub fn digits(objective: f64) -> f64 {
    1e-12 * objective.abs().max(1.0)
}

/// The mean, and the distance of the two values or two standard deviations; 1 where nothing varies.
fn centre_and_scale(values: &[f64]) -> (f64, f64) {
    let n = values.len() as f64;
    let mean = values.iter().sum::<f64>() / n;
    let low = values.iter().copied().fold(f64::INFINITY, f64::min);
    let high = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let two_valued = values.iter().all(|v| *v == low || *v == high);
    let squares: f64 = values.iter().map(|v| (v - mean).powi(2)).sum();
    let scale = if two_valued {
        high - low
    } else {
        2.0 * (squares / (n - 1.0)).sqrt()
    };
    let usable = scale.is_finite() && scale > 0.0;
    (mean, if usable { scale } else { 1.0 })
}
