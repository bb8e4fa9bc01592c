//! A trial's effects where some of its runs were given up: least squares over the runs that are left.
//!
//! Each run that is missing costs one effect: those of most factors are taken to be nothing, as is common where
//! a value is missing from a factorial (Draper and Stoneman, Technometrics 6:295, 1964; from memory). With no
//! repeats the error is Lenth's, each size first divided by its own error factor (ours). With nothing missing
//! the numbers are those of `effects`.

use super::effects::{
    Analysis, Effect, around, checked, effects, is_corner, mean, pure_error, sign,
};
use super::factorial::{DesignError, PlannedRun, Word, members, words_up_to};
use super::proportion::Interval;
use super::trial_error::{rounding, unit_error};
use nalgebra::{DMatrix, DVector};

/// A column is taken as told by the others when less than this share of its length is its own.
const OWN: f64 = 1e-9;

/// What is left of a coefficient that is nothing, after the arithmetic.
const NOISE: f64 = 1e-12;

/// What was found, and the effects that had to be taken as nothing, by their factors.
#[derive(Debug, Clone, PartialEq)]
pub struct Partial {
    /// The effects that can still be told.
    pub analysis: Analysis,
    /// Those that cannot.
    pub dropped: Vec<Vec<usize>>,
}

/// Reads a trial's results, none for a run that was given up, in the order of the runs.
///
/// # Errors
/// Where runs and results do not belong together, or a factor cannot be told any more.
pub fn effects_left(
    runs: &[PlannedRun],
    responses: &[Option<f64>],
) -> Result<Partial, DesignError> {
    let both = runs.iter().zip(responses);
    let left: Vec<(PlannedRun, f64)> = both
        .filter_map(|(run, y)| Some((run.clone(), (*y)?)))
        .collect();
    let (kept, values): (Vec<PlannedRun>, Vec<f64>) = left.iter().cloned().unzip();
    let corners = |runs: &[PlannedRun]| runs.iter().filter(|run| is_corner(run)).count();
    if corners(&kept) == corners(runs) {
        let analysis = effects(&kept, &values)?;
        let dropped = Vec::new();
        return Ok(Partial { analysis, dropped });
    }
    let factors = checked(&kept, &values).map_err(|error| match error {
        DesignError::Ragged if left.is_empty() => DesignError::GivenUp,
        other => other,
    })?;
    // The layout as planned says which effects are one and the same, and which follow the days.
    let zeros = vec![0.0; runs.len()];
    let planned = effects(runs, &zeros)?.effects;
    Columns::chosen(planned, runs, &left)
        .whole(factors)?
        .read(&kept, &values, &left)
}

/// What the runs that are left can tell: one column a constant, a day or an effect.
struct Columns {
    /// One column each, over the corners that are left.
    kept: Vec<(Term, DVector<f64>)>,
    dropped: Vec<Vec<usize>>,
    y: DVector<f64>,
}

enum Term {
    Constant,
    Day,
    Effect(Effect),
}

impl Columns {
    /// The effects that follow the days come first, then the days, then the others, those of most factors last.
    fn chosen(planned: Vec<Effect>, runs: &[PlannedRun], left: &[(PlannedRun, f64)]) -> Self {
        let corners: Vec<&(PlannedRun, f64)> = left.iter().filter(|r| is_corner(&r.0)).collect();
        let over = |of: &dyn Fn(&PlannedRun) -> f64| {
            DVector::from_iterator(corners.len(), corners.iter().map(|r| of(&r.0)))
        };
        let days = runs.iter().map(|run| run.block).max().unwrap_or(1);
        let (of_days, others): (Vec<_>, Vec<_>) = planned.into_iter().partition(|e| e.with_blocks);
        let effect = |effect: Effect| {
            let word = word(&effect);
            let column = over(&|run| f64::from(sign(&run.levels, word)));
            (Term::Effect(effect), column)
        };
        let mut all = vec![(Term::Constant, over(&|_| 1.0))];
        all.extend(of_days.into_iter().map(effect));
        all.extend((2..=days).map(|day| {
            let share = 1.0 / f64::from(days);
            let in_it = move |run: &PlannedRun| f64::from(u8::from(run.block == day)) - share;
            (Term::Day, over(&in_it))
        }));
        all.extend(others.into_iter().map(effect));
        let y = DVector::from_iterator(corners.len(), corners.iter().map(|r| r.1));
        Self::independent(all, y)
    }

    /// Keeps each column that those before it do not tell already (Gram and Schmidt, twice for the digits).
    fn independent(all: Vec<(Term, DVector<f64>)>, y: DVector<f64>) -> Self {
        let mut basis: Vec<DVector<f64>> = Vec::new();
        let (mut kept, mut dropped) = (Vec::new(), Vec::new());
        for (term, column) in all {
            let mut own = column.clone();
            for _ in 0..2 {
                for one in &basis {
                    own -= one * one.dot(&own);
                }
            }
            if own.norm() > OWN * column.norm() {
                basis.push(own.normalize());
                kept.push((term, column));
            } else if let Term::Effect(effect) = term {
                dropped.push(effect.factors);
            }
        }
        Self { kept, dropped, y }
    }

    /// Itself, if every factor can still be told.
    fn whole(self, factors: usize) -> Result<Self, DesignError> {
        let told = |factor: usize| !self.dropped.contains(&vec![factor]);
        if (0..factors).all(told) {
            return Ok(self);
        }
        Err(DesignError::GivenUp)
    }

    fn read(
        self,
        runs: &[PlannedRun],
        values: &[f64],
        left: &[(PlannedRun, f64)],
    ) -> Result<Partial, DesignError> {
        let (b, factor) = self.solved().ok_or(DesignError::GivenUp)?;
        let pure = pure_error(runs, values);
        let terms = self.kept.into_iter().map(|(term, _)| term);
        let told = terms.zip(b.iter().zip(&factor)).skip(1);
        let value = |b: f64| if b.abs() < NOISE { 0.0 } else { 2.0 * b };
        let mut effects: Vec<(Effect, f64)> = told
            .filter_map(|(term, (b, factor))| match term {
                Term::Effect(effect) => Some((
                    Effect {
                        value: value(*b),
                        ..effect
                    },
                    2.0 * factor,
                )),
                _ => None,
            })
            .collect();
        effects.sort_by_key(|(effect, _)| effect.factors.len());
        let clear = effects.iter().filter(|(effect, _)| !effect.with_blocks);
        let sizes = clear.map(|(effect, factor)| effect.value.abs() / factor);
        let unit = unit_error(sizes.collect(), pure, rounding(values));
        if let Some(unit) = &unit {
            unit.judge(effects.iter_mut().map(|(effect, factor)| (effect, *factor)));
        }
        let reach = unit.as_ref().map(|unit| unit.reach(None));
        let constant = (b[0], factor[0]);
        Ok(Partial {
            analysis: Analysis {
                curvature: curvature(left, constant, reach),
                error: unit.as_ref().map(|unit| {
                    let largest = effects.iter().map(|(_, factor)| *factor);
                    (
                        unit.error * largest.fold(0.0, f64::max),
                        unit.freedom,
                        unit.from,
                    )
                }),
                effects: effects.into_iter().map(|one| one.0).collect(),
            },
            dropped: self.dropped,
        })
    }

    /// The coefficients, and the error of each in units of the error of one run.
    fn solved(&self) -> Option<(DVector<f64>, Vec<f64>)> {
        let columns: Vec<DVector<f64>> = self.kept.iter().map(|(_, c)| c.clone()).collect();
        let split = DMatrix::from_columns(&columns).qr();
        let inverse = split.r().try_inverse()?;
        let b = &inverse * split.q().tr_mul(&self.y);
        let factor = inverse.row_iter().map(|row| row.norm()).collect();
        Some((b, factor))
    }
}

fn word(effect: &Effect) -> Word {
    let of = |word: &Word| members(*word) == effect.factors;
    words_up_to(7, 7).into_iter().find(of).unwrap_or(0)
}

/// The mean of the centre runs less the constant, which is the mean of the corners had none been given up.
fn curvature(
    left: &[(PlannedRun, f64)],
    (constant, factor): (f64, f64),
    reach: Option<f64>,
) -> Option<(f64, Option<Interval>)> {
    let centres = left.iter().filter(|(run, _)| !is_corner(run));
    let centres: Vec<f64> = centres.map(|(_, y)| *y).collect();
    if centres.is_empty() {
        return None;
    }
    let value = mean(&centres) - constant;
    let spread = 1.0 / centres.len() as f64 + factor * factor;
    let range = |reach: f64| around(value, reach * spread.sqrt());
    Some((value, reach.map(range)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::numbers::statistics::effects::ErrorSource;
    use crate::numbers::statistics::factorial::Design;
    use crate::numbers::statistics::trial_margins::of_range;
    use crate::trade::trial::Level;

    fn corner(place: usize, factors: usize, block: u32) -> PlannedRun {
        let level = |i: usize| match place >> i & 1 {
            0 => Level::Low,
            _ => Level::High,
        };
        PlannedRun {
            block,
            levels: (0..factors).map(level).collect(),
        }
    }

    fn without(values: &[f64], place: usize) -> Vec<Option<f64>> {
        let kept = |(at, y): (usize, &f64)| (at != place).then_some(*y);
        values.iter().enumerate().map(kept).collect()
    }

    fn value(found: &Partial, factors: &[usize]) -> (f64, f64) {
        let effect = found.analysis.effects.iter().find(|e| e.factors == factors);
        let effect = effect.unwrap();
        let reach = effect.interval.map_or(f64::NAN, |i| i.high - effect.value);
        (effect.value, reach)
    }

    fn near(got: (f64, f64), wanted: (f64, f64)) {
        let far = (got.0 - wanted.0).abs().max((got.1 - wanted.1).abs());
        assert!(far < 1e-6, "{got:?}, not {wanted:?}");
    }

    const CUBE: [f64; 8] = [1., 4., 1., 5., 2., 3., 1., 4.];

    // Computed with Python: numpy.linalg.inv for the effects and their factors, Lenth's error of the others by its definition.
    #[test]
    fn one_corner_of_a_cube_costs_the_effect_of_all_three() {
        let runs: Vec<_> = (0..8).map(|place| corner(place, 3, 1)).collect();
        let found = effects_left(&runs, &without(&CUBE, 5)).unwrap();
        assert_eq!(found.dropped, [vec![0, 1, 2]]);
        // The pseudo standard error of the other five effects, those alike spread over half a step: .625 seen from the
        // largest, .6875 from one that is nothing, .3984 from one of .5.
        let margin = of_range(5, 0);
        near(value(&found, &[0]), (3.0, 0.625 * margin));
        near(value(&found, &[1]), (0.0, 0.6875 * margin));
        near(value(&found, &[0, 1]), (0.5, 0.398_437_5 * margin));
        near(value(&found, &[1, 2]), (-0.5, 0.398_437_5 * margin));
        assert_eq!(found.analysis.error.unwrap().2, ErrorSource::Lenth);
    }

    // As above; residual standard deviation sqrt(1/3) with 3 degrees of freedom, pooled with the two other effects' 2/3.
    #[test]
    fn a_missing_repeat_costs_no_effect() {
        let runs: Vec<_> = (0..8).map(|place| corner(place % 4, 2, 1)).collect();
        let values = [2., 3., 1., 5., 3., 3., 2., 4.];
        let found = effects_left(&runs, &without(&values, 2)).unwrap();
        assert!(found.dropped.is_empty());
        let margin = of_range(2, 3);
        near(value(&found, &[0]), (1.5, 0.632_904_559_8 * margin));
        near(value(&found, &[1]), (0.5, 0.899_810_586_1 * margin));
        near(value(&found, &[0, 1]), (1.0, 0.761_278_828_4 * margin));
    }

    // As above: the column of all three is the day's, so another pair is given up.
    #[test]
    fn the_day_is_never_what_is_given_up() {
        let runs: Vec<_> = (0..8_usize)
            .map(|place| corner(place, 3, 1 + place.count_ones() % 2))
            .collect();
        let found = effects_left(&runs, &without(&CUBE, 0)).unwrap();
        assert_eq!(found.dropped, [vec![1, 2]]);
        let effect = |factors: &[usize]| value(&found, factors).0;
        for (factors, wanted) in [
            (&[0][..], 2.5),
            (&[2], -0.5),
            (&[0, 1], 1.0),
            (&[0, 1, 2], 0.0),
        ] {
            assert!((effect(factors) - wanted).abs() < 1e-9, "{factors:?}");
        }
    }

    #[test]
    fn with_nothing_missing_the_numbers_are_the_same() {
        let runs: Vec<_> = (0..8).map(|place| corner(place, 3, 1)).collect();
        let all: Vec<_> = CUBE.iter().map(|y| Some(*y)).collect();
        let found = effects_left(&runs, &all).unwrap();
        assert_eq!(found.analysis, effects(&runs, &CUBE).unwrap());
        let whole: Vec<_> = runs.iter().cloned().zip(CUBE).collect();
        let planned = effects(&runs, &[0.0; 8]).unwrap().effects;
        let solved = Columns::chosen(planned, &runs, &whole).read(&runs, &CUBE, &whole);
        for (one, other) in solved
            .unwrap()
            .analysis
            .effects
            .iter()
            .zip(&found.analysis.effects)
        {
            let ends = |e: &Effect| (e.value, e.interval.unwrap().low);
            near(ends(one), ends(other));
        }
    }

    #[test]
    fn every_design_without_any_one_run_still_tells_its_factors_or_says_it_cannot() {
        for (factors, count, days) in [
            (1, 4, 1),
            (2, 4, 1),
            (3, 4, 1),
            (3, 8, 2),
            (5, 16, 2),
            (4, 8, 1),
        ] {
            let runs = Design::plan(factors, count, days, 1, 7).unwrap().runs;
            let values: Vec<f64> = (0..runs.len())
                .map(|i| f64::from((i * 7 % 6) as u8))
                .collect();
            for gone in 0..runs.len() {
                match effects_left(&runs, &without(&values, gone)) {
                    Ok(found) => {
                        let effects = &found.analysis.effects;
                        assert!((0..factors).all(|f| effects.iter().any(|e| e.factors == [f])));
                        assert!(effects.iter().all(|e| e.value.is_finite()));
                    }
                    // A half of a cube has no run to spare.
                    Err(error) => assert_eq!((error, count), (DesignError::GivenUp, 4)),
                }
            }
        }
        let runs = Design::plan(2, 4, 1, 0, 7).unwrap().runs;
        assert_eq!(effects_left(&runs, &[None; 4]), Err(DesignError::GivenUp));
    }
}
