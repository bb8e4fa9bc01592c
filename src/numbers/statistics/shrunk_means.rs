//! Means of measured outcomes judged together: each leans on the others as far as its own readings allow.
//!
//! A normal around a normal: a reading lies around its group's mean, a group's mean around what all groups share. The
//! share of the spread that lies between groups is flat on 0 to 1, the whole spread is flat on its log, the middle of all
//! is flat; all of it is taken on a grid, so that few groups and few readings keep wide bands. With a known error this is
//! the shrinkage of Efron and Morris, "Data analysis using Stein's estimator and its generalizations", JASA 70, 1975
//! (their table is checked in `tests/it/published`; formulas from memory).

use super::distribution::{halve, normal_cdf};

/// Cells of the grid: shares of the spread between groups, and whole spreads.
const SHARES: u32 = 24;
const SPREADS: u32 = 24;
/// The whole spreads tried, as factors of the readings' own.
const NARROW: f64 = 0.25;
const WIDE: f64 = 4.0;
/// A cell with less of the belief than this is let go.
const FAINT: f64 = 1e-6;

/// What is believed of one group's mean.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShrunkMean {
    /// The mean of its readings.
    pub own: f64,
    /// The mean that is believed.
    pub mean: f64,
    /// One tenth of the belief lies below this.
    pub low10: f64,
    /// One tenth of the belief lies above this.
    pub high90: f64,
}

/// A group's readings in short.
#[derive(Debug, Clone, Copy)]
struct Group {
    count: f64,
    mean: f64,
    squares: f64,
}

/// One cell: the variance within a group and between groups, and how much the readings believe in it.
#[derive(Debug, Clone, Copy)]
struct Cell {
    within: f64,
    between: f64,
    middle: f64,
    middle_variance: f64,
    weight: f64,
}

/// What is believed of each group's mean, in the order given; none where a group is empty or a reading is no number.
/// `error` is a reading's standard deviation where it is known.
#[must_use]
pub fn shrunk_means(groups: &[Vec<f64>], error: Option<f64>) -> Option<Vec<ShrunkMean>> {
    let sound = |group: &Vec<f64>| !group.is_empty() && group.iter().all(|one| one.is_finite());
    if groups.is_empty() || !groups.iter().all(sound) {
        return None;
    }
    let groups: Vec<Group> = groups.iter().map(|group| Group::of(group)).collect();
    let cells = cells(&groups, error);
    Some(
        groups
            .iter()
            .map(|group| believed(&cells, *group))
            .collect(),
    )
}

impl Group {
    fn of(readings: &[f64]) -> Self {
        let count = readings.len() as f64;
        let mean = readings.iter().sum::<f64>() / count;
        Self {
            count,
            mean,
            squares: readings.iter().map(|one| (one - mean).powi(2)).sum(),
        }
    }
}

/// The variance of all readings around their common mean; of nothing where they are all one.
fn whole(groups: &[Group]) -> f64 {
    let count: f64 = groups.iter().map(|one| one.count).sum();
    let middle = groups.iter().map(|one| one.count * one.mean).sum::<f64>() / count;
    let apart = |one: &Group| one.squares + one.count * (one.mean - middle).powi(2);
    groups.iter().map(apart).sum::<f64>() / (count - 1.0).max(1.0)
}

fn cells(groups: &[Group], error: Option<f64>) -> Vec<Cell> {
    let whole = whole(groups).max(f64::MIN_POSITIVE);
    let middle = |at: u32, of: u32| (f64::from(at) + 0.5) / f64::from(of);
    let spreads = if error.is_some() { 1 } else { SPREADS };
    let grid = (0..SHARES).flat_map(|share| (0..spreads).map(move |spread| (share, spread)));
    let mut cells: Vec<Cell> = grid
        .map(|(share, spread)| {
            let share = middle(share, SHARES);
            let (within, between) = match error {
                Some(error) => (error * error, error * error * share / (1.0 - share)),
                None => {
                    let all = whole * NARROW * (WIDE / NARROW).powf(middle(spread, SPREADS));
                    (all * (1.0 - share), all * share)
                }
            };
            weighed(groups, within, between)
        })
        .collect();
    let top = cells
        .iter()
        .map(|one| one.weight)
        .fold(f64::NEG_INFINITY, f64::max);
    cells
        .iter_mut()
        .for_each(|one| one.weight = (one.weight - top).exp());
    cells.retain(|one| one.weight > FAINT);
    let sum: f64 = cells.iter().map(|one| one.weight).sum();
    cells.iter_mut().for_each(|one| one.weight /= sum);
    cells
}

/// The log-likelihood of all readings, the middle of all groups integrated out.
fn weighed(groups: &[Group], within: f64, between: f64) -> Cell {
    let precision = |one: &Group| 1.0 / (between + within / one.count);
    let sum: f64 = groups.iter().map(precision).sum();
    let middle = groups
        .iter()
        .map(|one| precision(one) * one.mean)
        .sum::<f64>()
        / sum;
    let inside = |one: &Group| -0.5 * ((one.count - 1.0) * within.ln() + one.squares / within);
    let outside =
        |one: &Group| 0.5 * (precision(one).ln() - precision(one) * (one.mean - middle).powi(2));
    Cell {
        within,
        between,
        middle,
        middle_variance: 1.0 / sum,
        weight: groups
            .iter()
            .map(|one| inside(one) + outside(one))
            .sum::<f64>()
            - 0.5 * sum.ln(),
    }
}

impl Cell {
    /// Mean and standard deviation of a group's own mean, were this cell the truth.
    fn of(&self, group: Group) -> (f64, f64) {
        let error = self.within / group.count;
        let keep = self.between / (self.between + error);
        let mean = keep * group.mean + (1.0 - keep) * self.middle;
        let variance = keep * error + (1.0 - keep).powi(2) * self.middle_variance;
        (mean, variance.max(0.0).sqrt())
    }
}

fn believed(cells: &[Cell], group: Group) -> ShrunkMean {
    let parts: Vec<(f64, f64, f64)> = cells
        .iter()
        .map(|cell| {
            let (mean, sd) = cell.of(group);
            (cell.weight, mean, sd.max(1e-12))
        })
        .collect();
    let below = |x: f64| -> f64 {
        parts
            .iter()
            .map(|(weight, mean, sd)| weight * normal_cdf((x - mean) / sd))
            .sum()
    };
    let far = |way: f64| -> f64 {
        let ends = parts.iter().map(|(_, mean, sd)| mean + way * 8.0 * sd);
        ends.fold(group.mean, if way < 0.0 { f64::min } else { f64::max })
    };
    let (low, high) = (far(-1.0), far(1.0));
    ShrunkMean {
        own: group.mean,
        mean: parts.iter().map(|(weight, mean, _)| weight * mean).sum(),
        low10: halve(low, high, |x| below(x) < 0.1),
        high90: halve(low, high, |x| below(x) < 0.9),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn means(groups: &[&[f64]]) -> Vec<ShrunkMean> {
        let groups: Vec<Vec<f64>> = groups.iter().map(|one| one.to_vec()).collect();
        shrunk_means(&groups, None).unwrap()
    }

    #[test]
    fn one_lucky_reading_leans_and_many_stand() {
        let told = means(&[
            &[9.0],
            &[5.0, 8.0, 3.0, 7.0, 4.0, 6.0],
            &[3.0, 6.0, 2.0, 5.0, 1.0, 4.0],
        ]);
        assert!(told[0].own - told[0].mean > 1.0, "{told:?}");
        assert!((told[1].mean - told[1].own).abs() < 0.7, "{told:?}");
        let wide = |one: &ShrunkMean| one.high90 - one.low10;
        assert!(wide(&told[0]) > 1.5 * wide(&told[1]), "{told:?}");
        told.iter()
            .for_each(|one| assert!(one.low10 < one.mean && one.mean < one.high90));
    }

    #[test]
    fn units_and_order_change_nothing_else() {
        let told = means(&[&[1.0, 2.0], &[3.0, 5.0, 4.0], &[2.0]]);
        let other = means(&[&[2.0 * 10.0 + 7.0], &[57.0, 37.0, 47.0], &[17.0, 27.0]]);
        for (one, same) in told.iter().zip(other.iter().rev()) {
            assert!((one.mean * 10.0 + 7.0 - same.mean).abs() < 1e-6);
            assert!((one.low10 * 10.0 + 7.0 - same.low10).abs() < 1e-6);
        }
    }

    #[test]
    fn equal_readings_and_none_break_nothing() {
        let told = means(&[&[2.0, 2.0], &[2.0]]);
        assert!(
            told.iter().all(|one| (one.mean - 2.0).abs() < 1e-6),
            "{told:?}"
        );
        assert_eq!(shrunk_means(&[], None), None);
        assert_eq!(shrunk_means(&[vec![]], None), None);
        assert_eq!(shrunk_means(&[vec![f64::NAN]], None), None);
        let alone = means(&[&[4.0]]);
        assert!((alone[0].mean - 4.0).abs() < 1e-6);
    }
}
