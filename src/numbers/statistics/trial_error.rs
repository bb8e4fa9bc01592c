//! How far chance reaches in a trial: the error of one run, and how many errors an effect must be to stand clear.
//!
//! From eight degrees of freedom on, repeats stand alone (Student's t, and for all effects together Sidak's share, Journal
//! of the American Statistical Association 62:626, 1967). Of fewer the variance is pooled with Lenth's pseudo standard
//! error (Technometrics 31:469, 1989), which counts a third of the effects as degrees of freedom; margins are those of
//! `trial_margins`. An effect's range takes its error from the others alone: one that is real and near the smallest would
//! else be among those the error is made from, and its range hold the truth less often than it says. Formulas from memory.

use super::distribution::t_quantile;
use super::effects::{Effect, ErrorSource, around};
use super::trial_margins::{of_range, simultaneous};

/// From so many degrees of freedom on repeats need no help.
const ENOUGH: f64 = 8.0;
/// Fewer effects say nothing of chance.
const LEAST: usize = 3;

/// The error of one run, and what it was made from.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Unit {
    /// Its standard deviation.
    pub error: f64,
    /// Its degrees of freedom.
    pub freedom: f64,
    /// Where it was taken from.
    pub from: ErrorSource,
    /// The effects' sizes, in errors of a run.
    sizes: Vec<f64>,
    /// The variance of repeats with its degrees of freedom; noughts where there are none.
    repeats: (f64, f64),
    floor: f64,
}

impl Unit {
    /// Gives the effects their ranges, and says which are clear; each comes with its error in units of that of a run, in
    /// the order their sizes were in.
    pub fn judge<'a>(&self, effects: impl Iterator<Item = (&'a mut Effect, f64)>) {
        let least = self.error * self.margin();
        let mut places = 0..;
        for (effect, factor) in effects {
            let place = if effect.with_blocks {
                None
            } else {
                places.next()
            };
            let range = around(effect.value, factor * self.reach(place));
            // What cannot be told from the days is clear of nothing but them.
            effect.is_clear =
                !effect.with_blocks && effect.value.abs() > factor * least && !range.holds(0.0);
            effect.interval = Some(range);
        }
    }

    /// Half the width of a range, in errors of one run; of an effect among the sizes, or of a thing apart from them.
    pub fn reach(&self, place: Option<usize>) -> f64 {
        if self.from == ErrorSource::Repeats {
            return self.error * t_quantile(0.975, self.freedom);
        }
        let mut others = self.sizes.clone();
        place.map(|place| others.remove(place));
        let margin = of_range(others.len(), self.repeats.1 as usize);
        pooled(others, self.repeats).0.max(self.floor) * margin
    }

    /// So many errors reach over all effects of 95 in 100 trials of nothing.
    fn margin(&self) -> f64 {
        let count = self.sizes.len();
        if self.from != ErrorSource::Repeats {
            return simultaneous(count, self.repeats.1 as usize);
        }
        let all = 0.95_f64.powf(1.0 / count.max(1) as f64);
        t_quantile(0.5 + 0.5 * all, self.freedom)
    }
}

/// The standard deviation that rounding alone gives a run, of a step between grades: whole numbers are grades, and their
/// step is the least there is between two that were given. None where they are measures.
pub(super) fn rounding(responses: &[f64]) -> f64 {
    if responses.iter().any(|y| y.fract() != 0.0) {
        return 0.0;
    }
    let mut grades = responses.to_vec();
    grades.sort_by(f64::total_cmp);
    let gaps = grades.windows(2).map(|two| two[1] - two[0]);
    let step = gaps.filter(|gap| *gap > 0.0).reduce(f64::min);
    step.unwrap_or(1.0) / 12.0_f64.sqrt()
}

/// The error of one run by the effects' sizes in units of it, and by repeats: their variance and degrees of freedom. None
/// where there are neither.
pub(super) fn unit_error(sizes: Vec<f64>, pure: Option<(f64, f64)>, floor: f64) -> Option<Unit> {
    let few = sizes.len() < LEAST;
    let alone = pure.filter(|(_, freedom)| *freedom >= ENOUGH || few);
    let ((error, freedom), from) = match (alone, pure) {
        (Some((variance, freedom)), _) => ((variance.sqrt(), freedom), ErrorSource::Repeats),
        (None, _) if few => return None,
        (None, Some(pure)) => (pooled(sizes.clone(), pure), ErrorSource::Pooled),
        (None, None) => (pooled(sizes.clone(), (0.0, 0.0)), ErrorSource::Lenth),
    };
    Some(Unit {
        error: error.max(floor),
        freedom,
        from,
        sizes,
        repeats: pure.unwrap_or((0.0, 0.0)),
        floor,
    })
}

/// The error of repeats and the smallest effects together, with its degrees of freedom.
fn pooled(sizes: Vec<f64>, (variance, repeats): (f64, f64)) -> (f64, f64) {
    let small = sizes.len() as f64 / 3.0;
    let freedom = repeats + small;
    let sum = repeats * variance + small * lenth(sizes).powi(2);
    ((sum / freedom).sqrt(), freedom)
}

/// Lenth's pseudo standard error: most effects are taken to be nothing.
fn lenth(sizes: Vec<f64>) -> f64 {
    let mut sizes = untied(sizes);
    let first = 1.5 * median(&mut sizes);
    sizes.retain(|size| *size < 2.5 * first);
    if sizes.is_empty() {
        0.0
    } else {
        1.5 * median(&mut sizes)
    }
}

/// Sizes that whole numbers made equal are spread over half of the step between sizes, so that a median is not that of a few
/// coarse steps: untouched, 9 in 100 trials of nothing with whole cells showed something clear, and not 5 (ours).
fn untied(mut sizes: Vec<f64>) -> Vec<f64> {
    const SAME: f64 = 1e-9;
    sizes.sort_by(f64::total_cmp);
    let gaps = sizes.windows(2).map(|two| two[1] - two[0]);
    let step = gaps.filter(|gap| *gap > SAME).fold(f64::INFINITY, f64::min);
    if !step.is_finite() {
        return sizes;
    }
    for alike in sizes.chunk_by_mut(|a, b| b - a <= SAME) {
        let (at, count) = (alike[0], alike.len() as f64);
        // What is nothing has one side only.
        let from = (at - 0.25 * step).max(0.0);
        let width = at + 0.25 * step - from;
        for (nth, size) in (0..).zip(alike.iter_mut()) {
            *size = from + width * (f64::from(nth) + 0.5) / count;
        }
    }
    sizes
}

fn median(values: &mut [f64]) -> f64 {
    values.sort_by(f64::total_cmp);
    let n = values.len();
    0.5 * (values[(n - 1) / 2] + values[n / 2])
}

#[cfg(test)]
mod tests {
    use super::*;
    use rand::rngs::ChaCha8Rng;
    use rand::{RngExt, SeedableRng};
    use rand_distr::{ChiSquared, Distribution, StandardNormal};

    #[test]
    fn without_repeats_the_margins_are_those_of_ye_and_hamada() {
        // MEMORY: their table at 5 %: the largest of seven effects 4.867, of fifteen 4.240.
        for (effects, all) in [(7, 4.867), (15, 4.240)] {
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
                sizes.iter().any(|size| *size > unit.error * unit.margin())
            };
            let share = (0..2000).map(trial).filter(|clear| *clear).count() as f64 / 2000.0;
            assert!(
                (0.035..0.065).contains(&share),
                "{effects} {repeats}: {share}"
            );
        }
    }

    #[test]
    fn a_range_holds_what_is_true_whatever_its_size() {
        let mut rng = ChaCha8Rng::seed_from_u64(12);
        for (effects, repeats, truth) in
            [(3, 0.0, 0.0), (7, 0.0, 2.1), (7, 2.0, 2.1), (15, 1.0, 9.0)]
        {
            let held = |_| {
                let mut sizes: Vec<f64> =
                    (0..effects).map(|_| rng.sample(StandardNormal)).collect();
                let off: f64 = sizes[0];
                sizes[0] += truth;
                sizes.iter_mut().for_each(|size| *size = size.abs());
                let pure = ChiSquared::new(repeats).map_or(0.0, |chi| chi.sample(&mut rng));
                let pure = (repeats > 0.0).then_some((pure / f64::max(repeats, 1.0), repeats));
                off.abs() <= unit_error(sizes, pure, 0.0).unwrap().reach(Some(0))
            };
            let share = (0..4000).map(held).filter(|held| *held).count() as f64 / 4000.0;
            assert!(
                (0.939..0.961).contains(&share),
                "{effects} {repeats} {truth}: {share}"
            );
        }
    }

    /// By hand: a step's standard deviation is itself over the root of twelve.
    #[test]
    fn grades_are_rounded_by_the_step_between_them() {
        let unit = 1.0 / 12.0_f64.sqrt();
        assert_eq!(rounding(&[3.0, 1.0, 1.0, 3.0, 1.0]), 2.0 * unit);
        assert_eq!(rounding(&[0.0, 3.0, 4.0]), unit);
        assert_eq!(rounding(&[2.0, 2.0]), unit);
        assert_eq!(rounding(&[2.0, 2.5]), 0.0);
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
