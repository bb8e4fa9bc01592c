//! What a trial's pours say: each effect as the mean at high less the mean at low, and how sure it is.
//!
//! How far chance reaches is told in `trial_error`: from repeats, from the smallest effects, or from both.

use super::factorial::{DesignError, PlannedRun, Word, members, words_up_to};
use super::proportion::Interval;
use super::trial_error::{rounding, unit_error};
use crate::trade::trial::Level;

/// Where the error of the effects was taken from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ErrorSource {
    /// Runs at the same settings on the same day.
    Repeats,
    /// Lenth's pseudo standard error: most effects are taken to be nothing.
    Lenth,
    /// Both together, where repeats are few.
    Pooled,
    /// What a curve through the runs leaves.
    Left,
}

/// One effect.
#[derive(Debug, Clone, PartialEq)]
pub struct Effect {
    /// The factors it belongs to, counted from 0: one for a factor, two for a pair working together.
    pub factors: Vec<usize>,
    /// The other effects it cannot be told from, by their factors; the shortest first.
    pub aliases: Vec<Vec<usize>>,
    /// Whether it cannot be told from the differences between the days.
    pub with_blocks: bool,
    /// The mean at high less the mean at low, in the unit of the response.
    pub value: f64,
    /// Its 95 % interval, looked at alone; none where there is no error to take it from.
    pub interval: Option<Interval>,
    /// Whether it stands clear of chance among all that were looked at: of 100 trials of nothing, 95 show none that does.
    pub is_clear: bool,
}

/// All that was found.
#[derive(Debug, Clone, PartialEq)]
pub struct Analysis {
    /// The effects, factors first, then pairs, then the rest.
    pub effects: Vec<Effect>,
    /// The standard error of every effect, the largest where runs are missing; its degrees of freedom, and where it was taken from.
    pub error: Option<(f64, f64, ErrorSource)>,
    /// The mean of the centre runs less the mean of the corners, with its 95 % interval: other than 0 where
    /// halfway is not halfway between.
    pub curvature: Option<(f64, Option<Interval>)>,
}

/// Reads a trial's results, one finite number a run, in the order of the runs.
///
/// # Errors
/// Where runs and results do not belong together, or runs are missing so that effects mix.
pub fn effects(runs: &[PlannedRun], responses: &[f64]) -> Result<Analysis, DesignError> {
    let factors = checked(runs, responses)?;
    let corners: Vec<(&PlannedRun, f64)> = runs
        .iter()
        .zip(responses.iter().copied())
        .filter(|(r, _)| is_corner(r))
        .collect();
    let mut effects = contrasts(factors, &corners)?;
    // Each effect's error in units of the error of one run.
    let factor = (4.0 / corners.len() as f64).sqrt();
    let clear = effects.iter().filter(|e| !e.with_blocks);
    let sizes = clear.map(|e| e.value.abs() / factor).collect();
    let unit = unit_error(sizes, pure_error(runs, responses), rounding(responses));
    if let Some(unit) = &unit {
        unit.judge(effects.iter_mut().map(|effect| (effect, factor)));
    }
    let error = unit
        .as_ref()
        .map(|unit| (unit.error * factor, unit.freedom, unit.from));
    let reach = unit.map(|unit| unit.reach(None));
    Ok(Analysis {
        effects,
        error,
        curvature: curvature(runs, responses, reach),
    })
}

pub(super) fn checked(runs: &[PlannedRun], responses: &[f64]) -> Result<usize, DesignError> {
    let factors = runs.first().map_or(0, |r| r.levels.len());
    let sound = runs.len() == responses.len()
        && responses.iter().all(|v| v.is_finite())
        && runs.iter().all(|r| r.levels.len() == factors);
    if !sound || runs.is_empty() {
        return Err(DesignError::Ragged);
    }
    if !(1..=7).contains(&factors) {
        return Err(DesignError::Factors(factors));
    }
    Ok(factors)
}

pub(super) fn is_corner(run: &PlannedRun) -> bool {
    !run.levels.contains(&Level::Middle)
}

/// +1 or -1: the product of the signs of the word's factors.
pub(super) fn sign(levels: &[Level], word: Word) -> i32 {
    let low = |(i, l): (usize, &Level)| word >> i & 1 == 1 && *l == Level::Low;
    let lows = levels.iter().enumerate().filter(|v| low(*v)).count();
    if lows % 2 == 0 { 1 } else { -1 }
}

/// One effect a distinct column; words whose columns are the same, or opposite, are aliases.
fn contrasts(factors: usize, corners: &[(&PlannedRun, f64)]) -> Result<Vec<Effect>, DesignError> {
    let mut columns: Vec<(Vec<i32>, Effect)> = Vec::new();
    for word in words_up_to(factors, 7) {
        let column: Vec<i32> = corners.iter().map(|(r, _)| sign(&r.levels, word)).collect();
        let dots: Vec<usize> = columns
            .iter()
            .map(|(c, _)| dot(c, &column).unsigned_abs() as usize)
            .collect();
        let total = column.iter().sum::<i32>().unsigned_abs() as usize;
        if total == corners.len() && word.count_ones() > 1 {
            continue;
        }
        if let Some(same) = dots.iter().position(|d| *d == corners.len()) {
            columns[same].1.aliases.push(members(word));
            continue;
        }
        if total > 0 || dots.iter().any(|d| *d > 0) {
            return Err(DesignError::Unbalanced);
        }
        let effect = effect(word, &column, corners);
        columns.push((column, effect));
    }
    Ok(columns.into_iter().map(|c| c.1).collect())
}

fn effect(word: Word, column: &[i32], corners: &[(&PlannedRun, f64)]) -> Effect {
    let sum: f64 = column
        .iter()
        .zip(corners)
        .map(|(s, (_, y))| f64::from(*s) * y)
        .sum();
    Effect {
        factors: members(word),
        aliases: Vec::new(),
        with_blocks: follows_blocks(column, corners),
        value: sum / (corners.len() as f64 / 2.0),
        interval: None,
        is_clear: false,
    }
}

fn dot(a: &[i32], b: &[i32]) -> i32 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

/// Whether the column has one sign throughout each block.
pub(super) fn follows_blocks(column: &[i32], corners: &[(&PlannedRun, f64)]) -> bool {
    column.iter().zip(corners).all(|(s, (run, _))| {
        column
            .iter()
            .zip(corners)
            .all(|(t, (other, _))| run.block != other.block || s == t)
    })
}

/// The variance among runs of the same settings in the same block, with its degrees of freedom.
pub(super) fn pure_error(runs: &[PlannedRun], responses: &[f64]) -> Option<(f64, f64)> {
    let mut groups: Vec<(&PlannedRun, Vec<f64>)> = Vec::new();
    for (run, y) in runs.iter().zip(responses) {
        match groups.iter_mut().find(|(r, _)| *r == run) {
            Some((_, values)) => values.push(*y),
            None => groups.push((run, vec![*y])),
        }
    }
    let freedom: f64 = groups.iter().map(|g| g.1.len() as f64 - 1.0).sum();
    let squares: f64 = groups.iter().map(|g| squares(&g.1)).sum();
    (freedom > 0.0).then(|| (squares / freedom, freedom))
}

fn squares(values: &[f64]) -> f64 {
    let mean = mean(values);
    values.iter().map(|v| (v - mean).powi(2)).sum()
}

pub(super) fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len() as f64
}

/// `reach` is that of a range in errors of one run.
fn curvature(
    runs: &[PlannedRun],
    responses: &[f64],
    reach: Option<f64>,
) -> Option<(f64, Option<Interval>)> {
    let side = |corner: bool| -> Vec<f64> {
        let pairs = runs.iter().zip(responses);
        pairs
            .filter(|(r, _)| is_corner(r) == corner)
            .map(|(_, y)| *y)
            .collect()
    };
    let (corners, centres) = (side(true), side(false));
    if corners.is_empty() || centres.is_empty() {
        return None;
    }
    let value = mean(&centres) - mean(&corners);
    let spread = 1.0 / centres.len() as f64 + 1.0 / corners.len() as f64;
    let range = |reach: f64| around(value, reach * spread.sqrt());
    Some((value, reach.map(range)))
}

pub(super) fn around(value: f64, reach: f64) -> Interval {
    Interval {
        low: value - reach,
        high: value + reach,
    }
}
