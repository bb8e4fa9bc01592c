//! Pours in the order of time, and factors as columns on one scale: what cannot be a column is left out, and why.

use super::super::exact::fisher;
use super::super::findings::{Choice, Factor, FactorKind, FactorValue, Observation};
use super::super::proportion::Tally;
use super::super::ranks::{mann_whitney, pearson};
use super::super::sides::number;
use super::{Lack, Outcome};
use std::collections::BTreeMap;
use std::ops::Range;

/// Pours further apart than this belong to different sessions.
const SESSION_HOURS: f64 = 6.0;
/// A factor missing on more than one pour in this many is left out.
const GAPS: usize = 5;
/// Missing so unevenly over the outcomes that it cannot be chance.
const UNEVEN: f64 = 0.01;
/// A correlation from this on is the same thing said twice.
const TWINS: f64 = 0.9;
/// A column of which the others leave less than this to say is derived from them.
const OWN_SHARE: f64 = 0.05;
/// A word on fewer pours than this goes with the other rare ones.
const RARE: usize = 3;
/// How many bends time may take beside its straight line: what drifts slowly is not laid on a factor that drifts too.
pub(super) const BENDS: usize = 4;
/// No measured value counts as further out than this, in steps of two standard deviations.
const FAR: f64 = 2.5;

/// The pours that have the outcome, oldest first.
pub(super) struct Pours<'a> {
    /// 1 and 0 for good and not; the value otherwise.
    pub y: Vec<f64>,
    /// Whether the outcome is good or not.
    pub by_share: bool,
    /// Days from the first.
    pub hours: Vec<f64>,
    /// The rows of each session.
    pub sessions: Vec<Range<usize>>,
    rows: Vec<&'a Observation>,
}

impl<'a> Pours<'a> {
    /// Pours of which the outcome is not known are left out.
    pub fn of(rows: &'a [Observation], hours: &[f64], outcome: &Outcome) -> Self {
        let y = |place: usize| match outcome {
            Outcome::Good => Some(f64::from(u8::from(rows[place].good))),
            Outcome::Score => Some(f64::from(rows[place].cells)),
            Outcome::Measured(values) => values.get(place).copied().flatten(),
        };
        let at = |place: usize| hours.get(place).copied().unwrap_or(0.0);
        let known = |place: usize| Some((place, y(place).filter(|v| v.is_finite())?));
        let mut kept: Vec<(usize, f64)> = (0..rows.len()).filter_map(known).collect();
        kept.sort_by(|a, b| at(a.0).total_cmp(&at(b.0)));
        let hours: Vec<f64> = kept.iter().map(|one| at(one.0)).collect();
        Self {
            y: kept.iter().map(|one| one.1).collect(),
            by_share: *outcome == Outcome::Good,
            sessions: sessions(&hours),
            hours,
            rows: kept.iter().map(|one| &rows[one.0]).collect(),
        }
    }

    /// Time: a straight line on two standard deviations, then ever quicker bends, each from -1 to 1; noughts where all
    /// was poured at once.
    pub fn time(&self) -> Vec<Vec<f64>> {
        let at: Vec<Option<f64>> = self.hours.iter().map(|at| Some(*at)).collect();
        let Some(line) = scaled(&at) else {
            return vec![vec![0.0; self.hours.len()]; 1 + BENDS];
        };
        let (first, last) = (self.hours[0], self.hours[self.hours.len() - 1]);
        let bend = |k: usize| -> Vec<f64> {
            let turn = (k + 1) as f64 * std::f64::consts::PI / (last - first);
            self.hours
                .iter()
                .map(|at| ((at - first) * turn).cos())
                .collect()
        };
        [line.values]
            .into_iter()
            .chain((1..=BENDS).map(bend))
            .collect()
    }

    fn value(&self, row: usize, place: usize) -> &FactorValue {
        self.rows[row]
            .factors
            .get(place)
            .unwrap_or(&FactorValue::Missing)
    }
}

fn sessions(hours: &[f64]) -> Vec<Range<usize>> {
    let mut sessions: Vec<Range<usize>> = Vec::new();
    for (row, at) in hours.iter().enumerate() {
        match sessions.last_mut() {
            Some(last) if at - hours[row - 1] <= SESSION_HOURS => last.end = row + 1,
            _ => sessions.push(row..row + 1),
        }
    }
    sessions
}

/// One factor as columns: one for a number or two words, one a word for more.
#[derive(Debug, Clone)]
pub(super) struct Block {
    /// Its place in the list of factors.
    pub place: usize,
    /// Its columns' places.
    pub columns: Range<usize>,
    /// What its columns stand for; nothing for a number. Of two choices the column is the second's.
    pub choices: Vec<Choice>,
    /// What one unit of its column is in the factor's unit.
    pub step: f64,
}

impl Block {
    /// Whether its words have a column each.
    pub fn is_many(&self) -> bool {
        self.columns.len() > 1
    }
}

/// Every factor that can be weighed, as columns.
pub(super) struct Columns {
    /// The columns, each centred, one value a pour.
    pub all: Vec<Vec<f64>>,
    /// The factors they belong to.
    pub blocks: Vec<Block>,
    /// Those that cannot be weighed.
    pub left_out: Vec<(usize, Lack)>,
}

struct Scaled {
    values: Vec<f64>,
    step: f64,
}

impl Columns {
    pub fn of(factors: &[Factor], pours: &Pours<'_>) -> Self {
        let mut columns = Self {
            all: Vec::new(),
            blocks: Vec::new(),
            left_out: Vec::new(),
        };
        for (place, factor) in factors.iter().enumerate() {
            if let Err(lack) = columns.take(place, factor, pours) {
                columns.left_out.push((place, lack));
            }
        }
        columns
    }

    fn take(&mut self, place: usize, factor: &Factor, pours: &Pours<'_>) -> Result<(), Lack> {
        missing(place, factor, pours)?;
        let (columns, choices, step) = match factor.kind {
            FactorKind::Number => {
                let values: Vec<Option<f64>> = (0..pours.y.len())
                    .map(|row| number(pours.value(row, place)))
                    .collect();
                let column = scaled(&values).ok_or(Lack::Same)?;
                (vec![column.values], Vec::new(), column.step)
            }
            FactorKind::Word => {
                let (columns, choices) = worded(place, pours)?;
                (columns, choices, 1.0)
            }
        };
        let from = self.all.len();
        self.all.extend(columns);
        self.blocks.push(Block {
            place,
            columns: from..self.all.len(),
            choices,
            step,
        });
        Ok(())
    }

    /// How two blocks of one column each go together; 0 for others.
    pub fn correlation(&self, a: usize, b: usize) -> f64 {
        let (a, b) = (&self.blocks[a], &self.blocks[b]);
        if a.is_many() || b.is_many() {
            return 0.0;
        }
        pearson(&self.all[a.columns.start], &self.all[b.columns.start]).unwrap_or(0.0)
    }

    /// Of some blocks those that say the same, together; each is in one group.
    pub fn groups(&self, of: &[usize]) -> Vec<Vec<usize>> {
        let mut groups: Vec<Vec<usize>> = Vec::new();
        for &at in of {
            let twin = |group: &&mut Vec<usize>| {
                group
                    .iter()
                    .any(|had| self.correlation(*had, at).abs() >= TWINS)
            };
            match groups.iter_mut().find(twin) {
                Some(group) => group.push(at),
                None => groups.push(vec![at]),
            }
        }
        groups
    }

    /// Whether one of three blocks is made of the other two.
    pub fn is_derived(&self, of: [usize; 3]) -> bool {
        let [a, b, c] = of;
        let r = [
            self.correlation(a, b),
            self.correlation(a, c),
            self.correlation(b, c),
        ];
        // The determinant of the correlations over that of two of them is what they leave of the third.
        let whole = 1.0 + 2.0 * r[0] * r[1] * r[2] - r.iter().map(|r| r * r).sum::<f64>();
        let least = r.iter().map(|r| 1.0 - r * r).fold(f64::INFINITY, f64::min);
        let most = r.iter().map(|r| 1.0 - r * r).fold(0.0, f64::max);
        least > 0.0 && whole / most < OWN_SHARE
    }
}

fn missing(place: usize, factor: &Factor, pours: &Pours<'_>) -> Result<(), Lack> {
    let written = |row: &usize| match (factor.kind, pours.value(*row, place)) {
        (FactorKind::Number, value) => number(value).is_some(),
        (FactorKind::Word, value) => value.choice().is_some(),
    };
    let (with, without): (Vec<usize>, Vec<usize>) = (0..pours.y.len()).partition(written);
    if without.len() * GAPS > pours.y.len() {
        return Err(Lack::Written(with.len()));
    }
    if goes_with_outcome(&with, &without, pours) {
        return Err(Lack::WrittenByOutcome(with.len()));
    }
    Ok(())
}

/// By whichever outcome: what was left unwritten on bad days hides something, whatever the pours are weighed by.
fn goes_with_outcome(with: &[usize], without: &[usize], pours: &Pours<'_>) -> bool {
    let of = |rows: &[usize], y: &dyn Fn(usize) -> f64| -> Vec<f64> {
        rows.iter().map(|row| y(*row)).collect()
    };
    let good = |row: usize| f64::from(u8::from(pours.rows[row].good));
    let cells = |row: usize| f64::from(pours.rows[row].cells);
    let own = |row: usize| pours.y[row];
    let by_share = fisher(tally(&of(with, &good)), tally(&of(without, &good)));
    let by_rank =
        |y: &dyn Fn(usize) -> f64| mann_whitney(&of(with, y), &of(without, y)).map(|test| test.p);
    let tests = [
        by_share.map(|test| test.two_sided),
        by_rank(&cells),
        by_rank(&own),
    ];
    tests.into_iter().flatten().any(|p| p < UNEVEN)
}

fn tally(y: &[f64]) -> Tally {
    let count = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
    Tally::new(
        count(y.iter().filter(|y| **y > 0.5).count()),
        count(y.len()),
    )
}

/// Centred, on two standard deviations or the distance of two values; what is missing stands in the middle.
fn scaled(values: &[Option<f64>]) -> Option<Scaled> {
    let known: Vec<f64> = values.iter().flatten().copied().collect();
    let n = known.len() as f64;
    let mean = known.iter().sum::<f64>() / n;
    let low = known.iter().copied().fold(f64::INFINITY, f64::min);
    let high = known.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let squares: f64 = known.iter().map(|v| (v - mean).powi(2)).sum();
    let step = match known.iter().all(|v| *v == low || *v == high) {
        true => high - low,
        false => 2.0 * (squares / (n - 1.0)).sqrt(),
    };
    if !(step.is_finite() && step > 0.0) {
        return None;
    }
    let one = |value: &Option<f64>| value.map_or(0.0, |v| ((v - mean) / step).clamp(-FAR, FAR));
    Some(Scaled {
        values: values.iter().map(one).collect(),
        step,
    })
}

/// A column a choice, or one for two choices; rare ones are one.
fn worded(place: usize, pours: &Pours<'_>) -> Result<(Vec<Vec<f64>>, Vec<Choice>), Lack> {
    let n = pours.y.len();
    let chosen: Vec<Option<Choice>> = (0..n).map(|row| pours.value(row, place).choice()).collect();
    let mut counts: BTreeMap<&Choice, usize> = BTreeMap::new();
    let known = chosen.iter().flatten();
    known.for_each(|choice| *counts.entry(choice).or_default() += 1);
    let often = counts.iter().filter(|(_, count)| **count >= RARE);
    let mut choices: Vec<&Choice> = often.map(|(choice, _)| *choice).collect();
    if counts.len() < 2 {
        return Err(Lack::Same);
    }
    if choices.is_empty() || choices.len() * 5 > n {
        return Err(Lack::Words);
    }
    if counts.len() == 2 {
        choices = counts.keys().copied().collect();
    }
    let known = chosen.iter().flatten().count() as f64;
    let column = |of: &&Choice| -> Vec<f64> {
        let share = counts[of] as f64 / known;
        let one = |choice: &Option<Choice>| {
            let choice = choice.as_ref();
            choice.map_or(0.0, |choice| f64::from(u8::from(choice == *of)) - share)
        };
        chosen.iter().map(one).collect()
    };
    let columns = match choices.as_slice() {
        [_, second] if counts.len() == 2 => vec![column(second)],
        _ => choices.iter().map(column).collect(),
    };
    Ok((columns, choices.into_iter().cloned().collect()))
}
