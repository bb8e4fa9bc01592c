//! A smooth surface through few noisy pours: a Gaussian process with a Matern 5/2 kernel of its own length for each
//! setting, noise, an effect shared by the pours of a session, and a drift in time beside the settings, so that what
//! changed with the months is not laid on a setting that changed too.
//!
//! Rasmussen and Williams, Gaussian Processes for Machine Learning (2006), equations 2.23 to 2.30, 5.9, 5.12; a session is
//! left out whole (the block form of 5.12). Formulas from memory, checked against scikit-learn.

use super::ascend::ascend;
use nalgebra::{Cholesky, DMatrix, DVector, Dyn};
use std::cell::Cell;

/// The pours: settings brought to about 0 to 1, the outcome on its own scale, and the number of the session.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Samples {
    /// One row a pour, one value a setting.
    pub x: Vec<Vec<f64>>,
    /// The outcome.
    pub y: Vec<f64>,
    /// The session.
    pub sessions: Vec<usize>,
    /// When, 0 for the first and 1 for the last; empty where nothing drifts.
    pub times: Vec<f64>,
}

impl Samples {
    /// The same pours without their settings: what time and sessions tell alone.
    #[must_use]
    pub fn without_settings(&self) -> Self {
        Self {
            x: vec![Vec::new(); self.x.len()],
            ..self.clone()
        }
    }

    /// How far apart in time two pours are, in units of a length; none where nothing drifts.
    fn apart(&self, i: usize, j: usize, length: f64) -> Option<f64> {
        Some((self.times.get(i)? - self.times.get(j)?).abs() / length)
    }
}

/// What the surface is thought to be like, as standard deviations and lengths.
#[derive(Debug, Clone, PartialEq)]
pub struct Hyper {
    /// How far the surface goes up and down.
    pub signal: f64,
    /// Over which distance each setting changes it.
    pub lengths: Vec<f64>,
    /// How far pours of the same settings differ.
    pub noise: f64,
    /// How far sessions differ.
    pub session: f64,
    /// How far everything goes up and down with time.
    pub drift: f64,
    /// Over which share of the whole time it does so.
    pub drift_length: f64,
}

/// The mean and the standard deviation of a belief.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Guess {
    /// The mean.
    pub mean: f64,
    /// The standard deviation.
    pub sd: f64,
}

/// A surface fitted to pours.
#[derive(Debug, Clone)]
pub struct Surface {
    samples: Samples,
    hyper: Hyper,
    whole: Cholesky<f64, Dyn>,
    pull: DVector<f64>,
    middle: f64,
    scale: f64,
}

/// Steps of the climb to the likeliest surface.
const STEPS: usize = 24;

impl Surface {
    /// The surface of given hyperparameters, the outcome taken as it is, its mean 0. None where the covariance is not sound.
    #[must_use]
    pub fn with(samples: &Samples, hyper: Hyper) -> Option<Self> {
        Self::scaled(samples, hyper, 0.0, 1.0)
    }

    /// The likeliest surface under weak priors. None of fewer than two pours, or of an outcome that never changes.
    #[must_use]
    pub fn fit(samples: &Samples) -> Option<Self> {
        Self::fit_watched(samples, &|_| {})
    }

    /// As [`Surface::fit`]; `watch` is told each time another surface is tried, and of how many by then.
    #[must_use]
    pub fn fit_watched(samples: &Samples, watch: &dyn Fn(usize)) -> Option<Self> {
        let tried = Cell::new(0);
        let another = || {
            tried.set(tried.get() + 1);
            watch(tried.get());
        };
        let (middle, scale) = middle_and_scale(&samples.y)?;
        let units = Samples {
            y: samples.y.iter().map(|y| (y - middle) / scale).collect(),
            ..samples.clone()
        };
        let settings = samples.x.first()?.len();
        let start = start(settings);
        let hyper = ascend(&start, STEPS, |at| {
            another();
            posterior(&units, at)
        });
        Self::scaled(samples, of_logs(&hyper), middle, scale)
    }

    fn scaled(samples: &Samples, hyper: Hyper, middle: f64, scale: f64) -> Option<Self> {
        let y = DVector::from_iterator(
            samples.y.len(),
            samples.y.iter().map(|y| (y - middle) / scale),
        );
        let whole = Cholesky::new(covariance(samples, &hyper))?;
        Some(Self {
            pull: whole.solve(&y),
            samples: samples.clone(),
            hyper,
            whole,
            middle,
            scale,
        })
    }

    /// What it is thought to be like, on the scale of the outcome.
    #[must_use]
    pub fn hyper(&self) -> Hyper {
        Hyper {
            signal: self.hyper.signal * self.scale,
            lengths: self.hyper.lengths.clone(),
            noise: self.hyper.noise * self.scale,
            session: self.hyper.session * self.scale,
            drift: self.hyper.drift * self.scale,
            drift_length: self.hyper.drift_length,
        }
    }

    /// The log marginal likelihood of the outcome, on the scale it was fitted on.
    #[must_use]
    pub fn log_likelihood(&self) -> f64 {
        let n = self.samples.y.len() as f64;
        let fit: f64 = self
            .samples
            .y
            .iter()
            .zip(self.pull.iter())
            .map(|(y, pull)| (y - self.middle) / self.scale * pull)
            .sum();
        let whole: f64 = self.whole.l_dirty().diagonal().iter().map(|v| v.ln()).sum();
        -0.5 * fit - whole - 0.5 * n * (2.0 * std::f64::consts::PI).ln()
    }

    /// How far all is above its middle, or under it, by now; of the settings it says nothing.
    #[must_use]
    pub fn drift_now(&self) -> Guess {
        let now = self.samples.times.iter().copied().fold(0.0, f64::max);
        let to = |time: &f64| {
            let apart = (time - now).abs() / self.hyper.drift_length;
            self.hyper.drift.powi(2) * matern(apart)
        };
        let k: Vec<f64> = self.samples.times.iter().map(to).collect();
        if k.is_empty() {
            return Guess { mean: 0.0, sd: 0.0 };
        }
        let mut left = DVector::from_vec(k);
        let mean = left.dot(&self.pull);
        self.whole.l_dirty().solve_lower_triangular_mut(&mut left);
        let variance = self.hyper.drift.powi(2) - left.norm_squared();
        Guess {
            mean: self.scale * mean,
            sd: self.scale * variance.max(0.0).sqrt(),
        }
    }

    /// The surface at some settings, of a session that was not poured yet and without noise or drift.
    #[must_use]
    pub fn at(&self, x: &[f64]) -> Guess {
        let to = |row: &Vec<f64>| {
            self.hyper.signal.powi(2) * matern(distance(row, x, &self.hyper.lengths))
        };
        let k = DVector::from_iterator(self.samples.x.len(), self.samples.x.iter().map(to));
        let mean = k.dot(&self.pull);
        let mut left = k;
        self.whole.l_dirty().solve_lower_triangular_mut(&mut left);
        let variance = self.hyper.signal.powi(2) - left.norm_squared();
        Guess {
            mean: self.middle + self.scale * mean,
            sd: self.scale * variance.max(0.0).sqrt(),
        }
    }

    /// What the other sessions say of each pour: its session is left out whole.
    #[must_use]
    pub fn left_out(&self) -> Vec<f64> {
        let inverse = self.whole.inverse();
        let mut told = self.samples.y.clone();
        for rows in sessions(&self.samples.sessions) {
            let block =
                DMatrix::from_fn(rows.len(), rows.len(), |i, j| inverse[(rows[i], rows[j])]);
            let pull = DVector::from_fn(rows.len(), |i, _| self.pull[rows[i]]);
            if let Some(block) = Cholesky::new(block) {
                let off = block.solve(&pull);
                rows.iter()
                    .enumerate()
                    .for_each(|(i, row)| told[*row] -= self.scale * off[i]);
            }
        }
        told
    }

    /// How much of what differs between pours it tells of sessions it has not seen: 1 all, 0 or less no more than their
    /// mean does. Both lean on the mean of all pours.
    #[must_use]
    pub fn skill(&self) -> f64 {
        1.0 - self.missed() / self.missed_by_mean().max(f64::MIN_POSITIVE)
    }

    /// The same beside what time tells alone: `time` is fitted to the same pours without their settings.
    #[must_use]
    pub fn skill_beside(&self, time: &Self) -> f64 {
        let alone = time.missed().min(self.missed_by_mean());
        1.0 - self.missed() / alone.max(f64::MIN_POSITIVE)
    }

    /// How far a difference that it tells is borne out by sessions it has not seen: the slope of what was judged on what the
    /// other sessions told, between 0 and 1.
    #[must_use]
    pub fn borne_out(&self) -> f64 {
        let told = self.left_out();
        let n = told.len() as f64;
        let mean = told.iter().sum::<f64>() / n;
        let both = self.samples.y.iter().zip(&told);
        let both = both.map(|(y, told)| ((y - self.middle) * (told - mean), (told - mean).powi(2)));
        let (along, own) = both.fold((0.0, 0.0), |sum, one| (sum.0 + one.0, sum.1 + one.1));
        match own > 0.0 {
            true => (along / own).clamp(0.0, 1.0),
            false => 0.0,
        }
    }

    /// The mean of all pours.
    #[must_use]
    pub const fn middle(&self) -> f64 {
        self.middle
    }

    /// The squares of what is missed of each pour by what the other sessions say.
    fn missed(&self) -> f64 {
        let both = self.samples.y.iter().zip(self.left_out());
        both.map(|(y, told)| (y - told).powi(2)).sum()
    }

    fn missed_by_mean(&self) -> f64 {
        let y = self.samples.y.iter();
        y.map(|y| (y - self.middle).powi(2)).sum()
    }
}

/// The rows of each session.
fn sessions(of: &[usize]) -> Vec<Vec<usize>> {
    let most = of.iter().copied().max().map_or(0, |most| most + 1);
    let mut rows = vec![Vec::new(); most];
    of.iter()
        .enumerate()
        .for_each(|(row, session)| rows[*session].push(row));
    rows.retain(|rows| !rows.is_empty());
    rows
}

fn middle_and_scale(y: &[f64]) -> Option<(f64, f64)> {
    let n = y.len() as f64;
    let mean = y.iter().sum::<f64>() / n;
    let scale = (y.iter().map(|v| (v - mean).powi(2)).sum::<f64>() / (n - 1.0)).sqrt();
    (scale.is_finite() && scale > 0.0).then_some((mean, scale))
}

fn distance(a: &[f64], b: &[f64], lengths: &[f64]) -> f64 {
    let gaps = a.iter().zip(b).zip(lengths);
    gaps.map(|((a, b), length)| ((a - b) / length).powi(2))
        .sum::<f64>()
        .sqrt()
}

fn matern(r: f64) -> f64 {
    let s = 5.0_f64.sqrt() * r;
    (1.0 + s + s * s / 3.0) * (-s).exp()
}

/// How the kernel falls with the log of a length, for each square of the gap in it.
fn steepness(r: f64) -> f64 {
    let s = 5.0_f64.sqrt() * r;
    5.0 / 3.0 * (1.0 + s) * (-s).exp()
}

fn covariance(samples: &Samples, hyper: &Hyper) -> DMatrix<f64> {
    let n = samples.x.len();
    let mut whole = DMatrix::zeros(n, n);
    for i in 0..n {
        for j in 0..=i {
            let r = distance(&samples.x[i], &samples.x[j], &hyper.lengths);
            let mut k = hyper.signal.powi(2) * matern(r);
            if samples.sessions[i] == samples.sessions[j] {
                k += hyper.session.powi(2);
            }
            if let Some(apart) = samples.apart(i, j, hyper.drift_length) {
                k += hyper.drift.powi(2) * matern(apart);
            }
            if i == j {
                k += hyper.noise.powi(2);
            }
            whole[(i, j)] = k;
            whole[(j, i)] = k;
        }
    }
    whole
}

/// Weak priors on the logs, for an outcome of standard deviation 1: centre and standard deviation of signal, noise,
/// session, drift and its length, then each setting's length.
const PRIORS: [(f64, f64); 6] = [
    (-0.5, 1.0),
    (-0.35, 1.0),
    (-1.6, 1.0),
    (-1.2, 1.0),
    (-1.2, 0.7),
    (-0.3, 1.0),
];
/// What stands before the settings' lengths.
const OTHERS: usize = 5;

/// Where the climb begins: the middle of the priors.
fn start(settings: usize) -> Vec<f64> {
    (0..OTHERS + settings).map(|at| prior(at).0).collect()
}

const fn prior(at: usize) -> (f64, f64) {
    PRIORS[if at < OTHERS { at } else { OTHERS }]
}

fn of_logs(at: &[f64]) -> Hyper {
    Hyper {
        signal: at[0].exp(),
        noise: at[1].exp(),
        session: at[2].exp(),
        drift: at[3].exp(),
        drift_length: at[4].exp(),
        lengths: at[OTHERS..].iter().map(|log| log.exp()).collect(),
    }
}

/// The log posterior of the hyperparameters' logs, and its slope. None where the covariance is not sound.
fn posterior(samples: &Samples, at: &[f64]) -> Option<(f64, Vec<f64>)> {
    if at.iter().any(|log| !(-12.0..6.0).contains(log)) {
        return None;
    }
    let hyper = of_logs(at);
    let surface = Surface::scaled(samples, hyper.clone(), 0.0, 1.0)?;
    let mut slope = slope(&surface, &hyper);
    let mut value = surface.log_likelihood();
    for (at, (log, slope)) in at.iter().zip(&mut slope).enumerate() {
        let (centre, sd) = prior(at);
        let off = (log - centre) / sd;
        value -= 0.5 * off * off;
        *slope -= off / sd;
    }
    Some((value, slope))
}

/// The slope of the likelihood: half the trace of (pull pull' - K^-1) times how K changes.
fn slope(surface: &Surface, hyper: &Hyper) -> Vec<f64> {
    let (samples, n) = (&surface.samples, surface.samples.x.len());
    let inverse = surface.whole.inverse();
    let mut slope = vec![0.0; OTHERS + hyper.lengths.len()];
    for i in 0..n {
        for j in 0..=i {
            let twice = if i == j { 0.5 } else { 1.0 };
            let weight = twice * (surface.pull[i] * surface.pull[j] - inverse[(i, j)]);
            let r = distance(&samples.x[i], &samples.x[j], &hyper.lengths);
            slope[0] += weight * 2.0 * hyper.signal.powi(2) * matern(r);
            if i == j {
                slope[1] += weight * 2.0 * hyper.noise.powi(2);
            }
            if samples.sessions[i] == samples.sessions[j] {
                slope[2] += weight * 2.0 * hyper.session.powi(2);
            }
            if let Some(apart) = samples.apart(i, j, hyper.drift_length) {
                slope[3] += weight * 2.0 * hyper.drift.powi(2) * matern(apart);
                slope[4] += weight * hyper.drift.powi(2) * steepness(apart) * apart * apart;
            }
            let common = weight * hyper.signal.powi(2) * steepness(r);
            for (at, length) in hyper.lengths.iter().enumerate() {
                let gap = (samples.x[i][at] - samples.x[j][at]) / length;
                slope[OTHERS + at] += common * gap * gap;
            }
        }
    }
    slope
}
