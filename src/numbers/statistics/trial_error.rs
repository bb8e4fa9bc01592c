//! How far chance reaches in a trial: the error of one run, and how many errors an effect must be to stand clear.
//!
//! From eight degrees of freedom on, repeats stand alone (Student's t, and for all effects together Sidak's share, Journal
//! of the American Statistical Association 62:626, 1967). Of fewer the variance is pooled with Lenth's pseudo standard
//! error (Technometrics 31:469, 1989), which counts a third of the effects as degrees of freedom; its margins are
//! simulated, as Ye and Hamada did for Lenth's alone (Journal of Quality Technology 32:57, 2000). Formulas from memory.

use super::distribution::t_quantile;
use super::effects::{Effect, ErrorSource, around};

/// From so many degrees of freedom on repeats need no help.
const ENOUGH: f64 = 8.0;
/// Fewer effects say nothing of chance.
const LEAST: usize = 3;

/// The error of one run, and the margins.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Unit {
    /// Its standard deviation.
    pub error: f64,
    /// Its degrees of freedom.
    pub freedom: f64,
    /// Where it was taken from.
    pub from: ErrorSource,
    /// So many errors reach over 95 in 100 of effects that are nothing.
    individual: f64,
    /// So many reach over all effects of 95 in 100 trials of nothing.
    simultaneous: f64,
}

impl Unit {
    /// Gives an effect its interval, and says whether it is clear; `factor` is its error in units of that of a run.
    pub fn judge(&self, effect: &mut Effect, factor: f64) {
        let reach = self.error * factor;
        effect.interval = Some(around(effect.value, reach * self.individual));
        effect.is_clear = effect.value.abs() > reach * self.simultaneous;
    }
}

/// The standard deviation that rounding alone gives a run: of whole numbers a step of one; none otherwise.
pub(super) fn rounding(responses: &[f64]) -> f64 {
    let whole = responses.iter().all(|y| y.fract() == 0.0);
    if whole { (1.0_f64 / 12.0).sqrt() } else { 0.0 }
}

/// The error of one run by the effects' sizes in units of it, and by repeats: their variance and degrees of freedom. None
/// where there are neither.
pub(super) fn unit_error(sizes: Vec<f64>, pure: Option<(f64, f64)>, floor: f64) -> Option<Unit> {
    let count = sizes.len();
    let alone = pure.filter(|(_, freedom)| *freedom >= ENOUGH || count < LEAST);
    if let Some((variance, freedom)) = alone {
        return Some(of_repeats(variance.sqrt().max(floor), freedom, count));
    }
    if count < LEAST {
        return None;
    }
    let (variance, repeats) = pure.unwrap_or((0.0, 0.0));
    let small = count as f64 / 3.0;
    let pooled = (repeats * variance + small * lenth(sizes).powi(2)) / (repeats + small);
    Some(Unit {
        error: pooled.sqrt().max(floor),
        freedom: repeats + small,
        from: match pure {
            Some(_) => ErrorSource::Pooled,
            None => ErrorSource::Lenth,
        },
        individual: individual(count, repeats as usize),
        simultaneous: simultaneous(count, repeats as usize),
    })
}

fn of_repeats(error: f64, freedom: f64, effects: usize) -> Unit {
    let all = 0.95_f64.powf(1.0 / effects.max(1) as f64);
    Unit {
        error,
        freedom,
        from: ErrorSource::Repeats,
        individual: t_quantile(0.975, freedom),
        simultaneous: t_quantile(0.5 + 0.5 * all, freedom),
    }
}

/// Lenth's pseudo standard error: most effects are taken to be nothing.
fn lenth(mut sizes: Vec<f64>) -> f64 {
    let first = 1.5 * median(&mut sizes);
    sizes.retain(|size| *size < 2.5 * first);
    if sizes.is_empty() {
        0.0
    } else {
        1.5 * median(&mut sizes)
    }
}

fn median(values: &mut [f64]) -> f64 {
    values.sort_by(f64::total_cmp);
    let n = values.len();
    0.5 * (values[(n - 1) / 2] + values[n / 2])
}

/// The margin of one effect looked at alone, of so many, with so many degrees of freedom from repeats.
pub(super) fn individual(effects: usize, repeats: usize) -> f64 {
    between(effects, repeats, |margins| margins.0)
}

/// The margin of all effects together.
pub(super) fn simultaneous(effects: usize, repeats: usize) -> f64 {
    between(effects, repeats, |margins| margins.1)
}

/// On the straight line between the numbers of effects that were simulated.
fn between(effects: usize, repeats: usize, of: fn((f64, f64)) -> f64) -> f64 {
    let at = |row: &(usize, [(f64, f64); 8])| of(row.1[repeats.min(7)]);
    let above = SIMULATED.iter().position(|row| row.0 >= effects);
    let above = above.unwrap_or(SIMULATED.len() - 1);
    let (low, high) = (&SIMULATED[above.saturating_sub(1)], &SIMULATED[above]);
    let width = high.0.saturating_sub(low.0).max(1) as f64;
    let share = (effects.saturating_sub(low.0) as f64 / width).clamp(0.0, 1.0);
    at(low) + share * (at(high) - at(low))
}

/// By the number of effects, then by 0 to 7 degrees of freedom from repeats: the 95 % points of one effect and of the
/// largest, in pooled errors, over 60,000 trials of nothing with normal noise (seed 1). A test draws some again.
const SIMULATED: [(usize, [(f64, f64); 8]); 13] = [
    (
        3,
        [
            (2.27, 5.75),
            (2.15, 3.49),
            (2.08, 3.02),
            (2.04, 2.84),
            (2.02, 2.73),
            (2.00, 2.66),
            (1.99, 2.61),
            (1.98, 2.58),
        ],
    ),
    (
        4,
        [
            (2.00, 5.12),
            (2.00, 3.26),
            (1.99, 3.00),
            (1.98, 2.88),
            (1.98, 2.81),
            (1.98, 2.75),
            (1.98, 2.72),
            (1.97, 2.70),
        ],
    ),
    (
        5,
        [
            (2.33, 5.14),
            (2.19, 4.03),
            (2.13, 3.45),
            (2.09, 3.20),
            (2.08, 3.07),
            (2.05, 2.97),
            (2.04, 2.92),
            (2.03, 2.87),
        ],
    ),
    (
        6,
        [
            (2.17, 5.07),
            (2.10, 4.00),
            (2.07, 3.42),
            (2.05, 3.22),
            (2.03, 3.10),
            (2.02, 3.04),
            (2.02, 2.99),
            (2.01, 2.95),
        ],
    ),
    (
        7,
        [
            (2.29, 4.85),
            (2.19, 4.09),
            (2.13, 3.65),
            (2.09, 3.40),
            (2.07, 3.26),
            (2.05, 3.16),
            (2.04, 3.10),
            (2.03, 3.05),
        ],
    ),
    (
        9,
        [
            (2.24, 4.61),
            (2.17, 4.08),
            (2.12, 3.75),
            (2.09, 3.54),
            (2.07, 3.39),
            (2.05, 3.30),
            (2.04, 3.24),
            (2.03, 3.18),
        ],
    ),
    (
        11,
        [
            (2.20, 4.45),
            (2.15, 4.04),
            (2.10, 3.77),
            (2.09, 3.63),
            (2.07, 3.48),
            (2.05, 3.38),
            (2.05, 3.32),
            (2.03, 3.26),
        ],
    ),
    (
        13,
        [
            (2.17, 4.34),
            (2.13, 3.99),
            (2.09, 3.76),
            (2.08, 3.64),
            (2.06, 3.55),
            (2.05, 3.45),
            (2.04, 3.38),
            (2.03, 3.33),
        ],
    ),
    (
        15,
        [
            (2.15, 4.24),
            (2.12, 3.97),
            (2.09, 3.80),
            (2.07, 3.67),
            (2.06, 3.58),
            (2.05, 3.49),
            (2.04, 3.44),
            (2.03, 3.38),
        ],
    ),
    (
        19,
        [
            (2.11, 4.10),
            (2.09, 3.91),
            (2.08, 3.80),
            (2.06, 3.69),
            (2.05, 3.62),
            (2.04, 3.55),
            (2.04, 3.51),
            (2.03, 3.47),
        ],
    ),
    (
        23,
        [
            (2.09, 4.02),
            (2.08, 3.90),
            (2.07, 3.79),
            (2.05, 3.71),
            (2.04, 3.65),
            (2.04, 3.61),
            (2.03, 3.54),
            (2.02, 3.51),
        ],
    ),
    (
        27,
        [
            (2.08, 3.97),
            (2.06, 3.86),
            (2.05, 3.78),
            (2.04, 3.73),
            (2.04, 3.68),
            (2.03, 3.62),
            (2.03, 3.60),
            (2.02, 3.57),
        ],
    ),
    (
        31,
        [
            (2.06, 3.94),
            (2.05, 3.85),
            (2.05, 3.78),
            (2.04, 3.73),
            (2.03, 3.68),
            (2.03, 3.64),
            (2.02, 3.61),
            (2.02, 3.58),
        ],
    ),
];

#[cfg(test)]
mod tests {
    use super::*;
    use rand::rngs::ChaCha8Rng;
    use rand::{RngExt, SeedableRng};
    use rand_distr::{ChiSquared, Distribution, StandardNormal};

    #[test]
    fn without_repeats_the_margins_are_those_of_ye_and_hamada() {
        // MEMORY: their table at 5 %: of seven effects 2.297 and 4.867, of fifteen 2.156 and 4.240.
        for (effects, one, all) in [(7, 2.297, 4.867), (15, 2.156, 4.240)] {
            assert!((individual(effects, 0) - one).abs() < 0.03);
            assert!((simultaneous(effects, 0) - all).abs() < 0.06);
        }
    }

    #[test]
    fn of_trials_of_nothing_one_in_twenty_shows_something_clear() {
        let mut rng = ChaCha8Rng::seed_from_u64(9);
        for (effects, repeats) in [(7, 0.0), (7, 1.0), (15, 3.0), (10, 2.0)] {
            let trial = |_| {
                let bell = (0..effects).map(|_| rng.sample::<f64, _>(StandardNormal).abs());
                let sizes: Vec<f64> = bell.collect();
                let pure = ChiSquared::new(repeats).map_or(0.0, |chi| chi.sample(&mut rng));
                let pure = (repeats > 0.0).then_some((pure / f64::max(repeats, 1.0), repeats));
                let unit = unit_error(sizes.clone(), pure, 0.0).unwrap();
                sizes
                    .iter()
                    .any(|size| *size > unit.error * unit.simultaneous)
            };
            let share = (0..2000).map(trial).filter(|clear| *clear).count() as f64 / 2000.0;
            assert!(
                (0.035..0.065).contains(&share),
                "{effects} {repeats}: {share}"
            );
        }
    }

    #[test]
    fn two_equal_centre_runs_do_not_make_an_error_of_nothing() {
        // The issue: "-0.5 cells (-0.5 to -0.5)", clear.
        let sizes = vec![0.5, 0.7, 0.2, 0.9, 0.4, 0.1, 0.6];
        let unit = unit_error(sizes, Some((0.0, 1.0)), rounding(&[3.0, 4.0])).unwrap();
        assert!(unit.error >= (1.0_f64 / 12.0).sqrt() && unit.from == ErrorSource::Pooled);
        let alike = unit_error(vec![0.0; 7], Some((0.0, 1.0)), rounding(&[3.0; 10])).unwrap();
        assert!(alike.error > 0.28);
    }
}
