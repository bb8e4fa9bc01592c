//! The sides of a factor: over its cut and not over it, or one side for each choice, with the pours on each.
//!
//! A cut is the median, fixed before looking at how pours came out. It and every value are first rounded to what the
//! instrument has, so that what is said and the counts say the same.

use super::findings::{Choice, Factor, FactorKind, FactorValue, Observation};
use super::proportion::Tally;
use std::collections::BTreeMap;

/// The pours on one side of a factor.
#[derive(Debug, Clone, PartialEq)]
pub struct Side {
    /// Which side it is.
    pub which: Which,
    /// How they came out.
    pub tally: Tally,
    /// Their places among the rows given.
    pub rows: Vec<usize>,
}

/// Which side of a factor.
#[derive(Debug, Clone, PartialEq)]
pub enum Which {
    /// Over the cut.
    Over(Cut),
    /// Not over it.
    NotOver(Cut),
    /// At the cut, which nothing is over.
    At(Cut),
    /// Under it.
    Under(Cut),
    /// More than nothing.
    Some,
    /// Nothing.
    None,
    /// One of the few things that it may be.
    Chosen(Choice),
    /// One of the rarest of many.
    Others,
}

/// Where a factor's numbers are parted.
#[derive(Debug, Clone, PartialEq)]
pub struct Cut {
    /// The number, as the instrument shows it.
    pub at: f64,
    /// The least step that it shows.
    pub step: f64,
    /// The unit's text; empty for none.
    pub unit: String,
}

/// A factor's sides; the upper one first, or yes before no, or the words in the order of their letters.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Sides {
    /// Each side that could be; one of a number's may hold no pour.
    pub each: Vec<Side>,
    /// Places of the pours on which the factor was not written down.
    pub missing: Vec<usize>,
}

impl Sides {
    /// The sides of the factor at a place of every row.
    #[must_use]
    pub fn of(factor: &Factor, place: usize, rows: &[Observation]) -> Self {
        match factor.kind {
            FactorKind::Number => Self::of_numbers(factor, place, rows),
            FactorKind::Word => Self::of_words(place, rows),
        }
    }

    /// How many pours are on one of the sides.
    #[must_use]
    pub fn pours(&self) -> usize {
        self.each.iter().map(|side| side.rows.len()).sum()
    }

    /// How many sides hold a pour.
    #[must_use]
    pub fn taken(&self) -> usize {
        self.each.iter().filter(|s| !s.rows.is_empty()).count()
    }

    fn of_numbers(factor: &Factor, place: usize, rows: &[Observation]) -> Self {
        let mut sides = Self::default();
        let mut values = Vec::new();
        for (row, one) in rows.iter().enumerate() {
            match one.factors.get(place).and_then(number) {
                Some(value) => values.push((row, (value / factor.step).round(), value)),
                None => sides.missing.push(row),
            }
        }
        let Some(cut) = median(values.iter().map(|v| v.1)) else {
            return sides;
        };
        let top = !values.iter().any(|v| v.1 > cut);
        let (upper, lower): (Vec<_>, Vec<_>) = values
            .into_iter()
            .partition(|v| v.1 > cut || (top && v.1 == cut));
        let none = !top && lower.iter().all(|v| v.2 == 0.0);
        let cut = Cut {
            at: cut * factor.step,
            step: factor.step,
            unit: factor.unit.clone(),
        };
        let each = halves_of(cut, top, none);
        let places = |side: Vec<(usize, f64, f64)>| side.into_iter().map(|v| v.0).collect();
        let halves: [Vec<usize>; 2] = [places(upper), places(lower)];
        let each = each.into_iter().zip(halves);
        sides.each = each.map(|(which, half)| side(which, half, rows)).collect();
        sides
    }

    fn of_words(place: usize, rows: &[Observation]) -> Self {
        let mut choices: BTreeMap<Choice, Vec<usize>> = BTreeMap::new();
        let mut missing = Vec::new();
        for (row, one) in rows.iter().enumerate() {
            match one.factors.get(place).and_then(FactorValue::choice) {
                Some(choice) => choices.entry(choice).or_default().push(row),
                None => missing.push(row),
            }
        }
        // Yes is what no is held against.
        let is_answer = |choice: &Choice| matches!(choice, Choice::Answer(_));
        let turned = choices.len() == 2 && choices.keys().all(is_answer);
        let each = choices.into_iter();
        let each = each.map(|(choice, places)| side(Which::Chosen(choice), places, rows));
        let mut each: Vec<Side> = each.collect();
        if turned {
            each.reverse();
        }
        Self { each, missing }
    }
}

/// The upper and the lower side; where the lower is all noughts it is plainly none.
fn halves_of(cut: Cut, top: bool, none: bool) -> [Which; 2] {
    match (top, none) {
        (true, _) => [Which::At(cut.clone()), Which::Under(cut)],
        (false, true) => [Which::Some, Which::None],
        (false, false) => [Which::Over(cut.clone()), Which::NotOver(cut)],
    }
}

/// The finite number a value holds.
pub(super) const fn number(value: &FactorValue) -> Option<f64> {
    match value {
        FactorValue::Number(v) if v.is_finite() => Some(*v),
        _ => None,
    }
}

fn side(which: Which, places: Vec<usize>, rows: &[Observation]) -> Side {
    Side {
        which,
        tally: tally(&places, rows),
        rows: places,
    }
}

/// How the pours at some places came out.
pub(super) fn tally(places: &[usize], rows: &[Observation]) -> Tally {
    let good = places.iter().filter_map(|&place| rows.get(place));
    let good = good.filter(|row| row.good).count();
    let count = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
    Tally::new(count(good), count(places.len()))
}

/// The lower of the two middle values, so that the cut is a value that was written down.
fn median(values: impl Iterator<Item = f64>) -> Option<f64> {
    let mut sorted: Vec<f64> = values.collect();
    sorted.sort_by(f64::total_cmp);
    sorted.get(sorted.len().saturating_sub(1) / 2).copied()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rows(values: &[f64]) -> Vec<Observation> {
        let row = |(place, value): (usize, &f64)| Observation {
            good: place % 2 == 0,
            cells: 3,
            factors: vec![FactorValue::Number(*value)],
        };
        values.iter().enumerate().map(row).collect()
    }

    fn sides(step: f64, values: &[f64]) -> Vec<(Which, Vec<usize>)> {
        let factor = Factor {
            name: "mound".into(),
            kind: FactorKind::Number,
            unit: "s".into(),
            step,
        };
        let sides = Sides::of(&factor, 0, &rows(values));
        let told = sides.each.into_iter();
        told.map(|side| (side.which, side.rows)).collect()
    }

    fn cut(tenths: f64) -> Cut {
        Cut {
            at: tenths * 0.1,
            step: 0.1,
            unit: "s".into(),
        }
    }

    #[test]
    fn the_cut_has_the_stopwatchs_digits_and_the_counts_go_by_it() {
        // The median is 2.728, which a stopwatch calls 2.7; so does it call 2.74, which is not over it then.
        let told = sides(0.1, &[2.1, 2.6, 2.728, 2.74, 2.8]);
        assert_eq!(told[0], (Which::Over(cut(27.0)), vec![4]));
        assert_eq!(told[1], (Which::NotOver(cut(27.0)), vec![0, 1, 2, 3]));
    }

    #[test]
    fn a_cut_at_the_top_and_one_at_nothing_are_told_so() {
        let told = sides(1.0, &[48.9, 55.2, 54.8, 55.4]);
        let at = |which: &Which| match which {
            Which::At(cut) | Which::Under(cut) => cut.at,
            other => panic!("{other:?}"),
        };
        assert_eq!((at(&told[0].0), &told[0].1), (55.0, &vec![1, 2, 3]));
        assert!(matches!(told[1].0, Which::Under(_)));
        let told = sides(1.0, &[0.0, 0.0, 2.0]);
        assert_eq!(told[0], (Which::Some, vec![2]));
        assert_eq!(told[1], (Which::None, vec![0, 1]));
        // What is only nearly nothing is not called nothing.
        assert!(matches!(
            sides(1.0, &[0.0, 0.3, 2.0])[1].0,
            Which::NotOver(_)
        ));
    }

    #[test]
    fn yes_stands_before_no_and_words_by_their_letters() {
        let factor = Factor {
            name: "spin reversed".into(),
            kind: FactorKind::Word,
            unit: String::new(),
            step: 1.0,
        };
        let of = |values: Vec<FactorValue>| {
            let rows: Vec<Observation> = values
                .into_iter()
                .map(|value| Observation {
                    good: true,
                    cells: 4,
                    factors: vec![value],
                })
                .collect();
            let each = Sides::of(&factor, 0, &rows).each.into_iter();
            each.map(|side| side.which).collect::<Vec<_>>()
        };
        let answer = |yes| Which::Chosen(Choice::Answer(yes));
        let answers = [false, true, false].map(FactorValue::Answer).to_vec();
        assert_eq!(of(answers), [answer(true), answer(false)]);
        // A technique called so is a word as any other.
        let words = ["yes", "no"].map(|word| FactorValue::Word(word.to_owned()));
        let word = |word: &str| Which::Chosen(Choice::Word(word.to_owned()));
        assert_eq!(of(words.to_vec()), [word("no"), word("yes")]);
    }

    #[test]
    fn what_is_not_written_down_is_counted_apart() {
        let factor = Factor {
            name: "air".into(),
            kind: FactorKind::Number,
            unit: String::new(),
            step: 1.0,
        };
        let sides = Sides::of(&factor, 0, &rows(&[1.0, f64::NAN, 2.0]));
        assert_eq!((sides.missing.as_slice(), sides.pours()), (&[1][..], 2));
        assert_eq!(Sides::of(&factor, 7, &rows(&[1.0])).pours(), 0);
    }
}
