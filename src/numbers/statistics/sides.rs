//! The sides of a factor: over its cut and not over it, or one side for each word, with the pours on each.
//!
//! A cut is the median, fixed before looking at how pours came out. It and every value are first rounded to what the
//! instrument has, so that the words and the counts say the same.

use super::findings::{Factor, FactorKind, FactorValue, Observation};
use super::proportion::Tally;
use std::collections::BTreeMap;

/// The pours on one side of a factor.
#[derive(Debug, Clone, PartialEq)]
pub struct Side {
    /// Which side it is: `over 12.1 h`, `not over 12.1 h`, or the word.
    pub name: String,
    /// How they came out.
    pub tally: Tally,
    /// Their places among the rows given.
    pub rows: Vec<usize>,
}

/// A factor's sides; the upper one first, or the words in the order of their letters.
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
        let names = names(&factor.shown(cut * factor.step), top, none);
        let places = |side: Vec<(usize, f64, f64)>| side.into_iter().map(|v| v.0).collect();
        let halves: [Vec<usize>; 2] = [places(upper), places(lower)];
        let each = names.into_iter().zip(halves);
        sides.each = each.map(|(name, half)| side(name, half, rows)).collect();
        sides
    }

    fn of_words(place: usize, rows: &[Observation]) -> Self {
        let mut words: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
        let mut missing = Vec::new();
        for (row, one) in rows.iter().enumerate() {
            match one.factors.get(place) {
                Some(FactorValue::Word(word)) => words.entry(word).or_default().push(row),
                _ => missing.push(row),
            }
        }
        let each = words.into_iter();
        let each = each.map(|(word, places)| side(word.to_owned(), places, rows));
        let mut each: Vec<Side> = each.collect();
        // Yes is what no is held against.
        let answers = [FactorValue::NO, FactorValue::YES];
        if each.iter().map(|side| side.name.as_str()).eq(answers) {
            each.reverse();
        }
        Self { each, missing }
    }
}

impl Factor {
    /// A value with the digits that the factor's instrument has, and its unit.
    #[must_use]
    pub fn shown(&self, value: f64) -> String {
        let tens = -self.step.log10();
        let digits = tens.ceil().clamp(0.0, 6.0) as usize;
        // What rounds to nothing has no sign.
        let value = if value == 0.0 { 0.0 } else { value };
        let number = match tens.fract() == 0.0 {
            true => format!("{value:.digits$}"),
            false => value.to_string(),
        };
        format!("{number} {}", self.unit).trim_end().to_owned()
    }
}

/// The upper and the lower side's name; where the lower is all noughts it is plainly none.
fn names(shown: &str, top: bool, none: bool) -> [String; 2] {
    match (top, none) {
        (true, _) => [format!("at {shown}"), format!("under {shown}")],
        (false, true) => ["some".into(), "none".into()],
        (false, false) => [format!("over {shown}"), format!("not over {shown}")],
    }
}

/// The finite number a value holds.
pub(super) const fn number(value: &FactorValue) -> Option<f64> {
    match value {
        FactorValue::Number(v) if v.is_finite() => Some(*v),
        _ => None,
    }
}

fn side(name: String, places: Vec<usize>, rows: &[Observation]) -> Side {
    Side {
        name,
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

    fn sides(step: f64, unit: &str, values: &[f64]) -> Vec<(String, Vec<usize>)> {
        let factor = Factor {
            name: "mound".into(),
            kind: FactorKind::Number,
            unit: unit.into(),
            step,
        };
        let sides = Sides::of(&factor, 0, &rows(values));
        let told = sides.each.into_iter();
        told.map(|side| (side.name, side.rows)).collect()
    }

    #[test]
    fn the_cut_has_the_stopwatchs_digits_and_the_counts_go_by_it() {
        // The median is 2.728, which a stopwatch calls 2.7; so does it call 2.74, which is not over it then.
        let told = sides(0.1, "s", &[2.1, 2.6, 2.728, 2.74, 2.8]);
        assert_eq!(told[0], ("over 2.7 s".to_owned(), vec![4]));
        assert_eq!(told[1], ("not over 2.7 s".to_owned(), vec![0, 1, 2, 3]));
    }

    #[test]
    fn a_cut_at_the_top_and_one_at_nothing_are_named_so() {
        let told = sides(1.0, "%", &[48.9, 55.2, 54.8, 55.4]);
        assert_eq!(told[0], ("at 55 %".to_owned(), vec![1, 2, 3]));
        assert_eq!(told[1].0, "under 55 %");
        let told = sides(1.0, "", &[0.0, 0.0, 2.0]);
        assert_eq!(told[0], ("some".to_owned(), vec![2]));
        assert_eq!(told[1], ("none".to_owned(), vec![0, 1]));
        // What is only nearly nothing is not called nothing.
        assert_eq!(sides(1.0, "%", &[0.0, 0.3, 2.0])[1].0, "not over 0 %");
        assert_eq!(sides(0.1, "s", &[-0.04, 1.0, -1.0])[0].0, "over 0.0 s");
    }

    #[test]
    fn halves_of_a_turn_are_shown_without_idle_noughts() {
        assert_eq!(sides(0.5, "", &[1.0, 1.2, 2.0])[0].0, "over 1");
        assert_eq!(sides(0.5, "", &[1.4, 1.5, 2.0])[0].0, "over 1.5");
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
