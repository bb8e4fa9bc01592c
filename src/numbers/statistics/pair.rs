//! Two factors at once: how pours came out on each side of both.
//!
//! The cells lean on one another as variants do, so that a cell of two lucky pours never leads.

use super::beta_binomial::{Belief, standings};
use super::findings::LEAST_ROWS;
use super::proportion::Tally;
use super::sides::{Sides, Which};

/// A factor of more words than this has its rarest ones put together.
const MOST: usize = 6;

/// The pours on one side of either factor.
#[derive(Debug, Clone, PartialEq)]
pub struct Cell {
    /// The place of the first factor's side.
    pub down: usize,
    /// The place of the second factor's side.
    pub across: usize,
    /// How they came out.
    pub tally: Tally,
    /// What is believed of it, by all cells together; none without a pour.
    pub standing: Option<Belief>,
    /// Their places among the rows given.
    pub rows: Vec<usize>,
}

/// A table of two factors.
#[derive(Debug, Clone, PartialEq)]
pub struct Pair {
    /// Both factors' names.
    pub names: [String; 2],
    /// The first factor's sides.
    pub down: Vec<Which>,
    /// The second factor's sides.
    pub across: Vec<Which>,
    /// Every cell, the first factor's first side first.
    pub cells: Vec<Cell>,
    /// Pours on which one of the two, or both, were not written down.
    pub lacking: usize,
    /// What is to be said of it.
    pub verdict: PairVerdict,
}

/// What is to be said of two factors.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PairVerdict {
    /// They are never both written down.
    NeverBoth,
    /// Both were the same on every pour that has both.
    AllAlike,
    /// No pour with both was good.
    NoneGood,
    /// Every pour with both was good.
    AllGood,
    /// So few pours have both: too early.
    TooFew(usize),
    /// They always went together.
    AsOne,
    /// The surest cell and the least sure stand against each other.
    Compared {
        /// Whether their ranges do not meet.
        apart: bool,
    },
}

/// The table of two factors, by their names and sides; `good` says how each row came out.
#[must_use]
pub fn pair(names: [&str; 2], sides: [&Sides; 2], good: &[bool]) -> Pair {
    let [(down, of_down), (across, of_across)] = sides.map(|one| placed(one, good.len()));
    let mut cells: Vec<Cell> = (0..down.len() * across.len())
        .map(|at| Cell {
            down: at / across.len(),
            across: at % across.len(),
            tally: Tally::default(),
            standing: None,
            rows: Vec::new(),
        })
        .collect();
    let mut lacking = 0;
    for (row, both) in of_down.iter().zip(&of_across).enumerate() {
        match both {
            (Some(d), Some(a)) => cells[d * across.len() + a].take(row, good[row]),
            _ => lacking += 1,
        }
    }
    believe(&mut cells);
    let mut pair = Pair {
        names: names.map(str::to_owned),
        down,
        across,
        cells,
        lacking,
        verdict: PairVerdict::NeverBoth,
    };
    pair.verdict = pair.compared();
    pair
}

impl Cell {
    fn take(&mut self, row: usize, good: bool) {
        self.rows.push(row);
        self.tally.good = self.tally.good.saturating_add(u32::from(good));
        self.tally.pours = self.tally.pours.saturating_add(1);
    }
}

/// A factor's sides, and for each row the place of its side.
fn placed(sides: &Sides, rows: usize) -> (Vec<Which>, Vec<Option<usize>>) {
    let mut by_size: Vec<usize> = (0..sides.each.len()).collect();
    by_size.sort_by_key(|&place| std::cmp::Reverse(sides.each[place].rows.len()));
    let kept = if by_size.len() > MOST { MOST - 1 } else { MOST };
    let mut kept: Vec<usize> = by_size.into_iter().take(kept).collect();
    kept.sort_unstable();
    let own = kept.iter().map(|&place| sides.each[place].which.clone());
    let mut told: Vec<Which> = own.collect();
    if kept.len() < sides.each.len() {
        told.push(Which::Others);
    }
    let mut of = vec![None; rows];
    for (place, side) in sides.each.iter().enumerate() {
        let to = kept.binary_search(&place).unwrap_or(kept.len());
        let own = side.rows.iter().filter(|&&row| row < rows);
        own.for_each(|&row| of[row] = Some(to));
    }
    (told, of)
}

fn believe(cells: &mut [Cell]) {
    let poured = cells.iter().filter(|cell| cell.tally.pours > 0);
    let tallies: Vec<Tally> = poured.map(|cell| cell.tally).collect();
    let poured = cells.iter_mut().filter(|cell| cell.tally.pours > 0);
    for (cell, standing) in poured.zip(standings(&tallies)) {
        cell.standing = Some(standing);
    }
}

impl Pair {
    /// Whether it is too early to tell one cell from another.
    #[must_use]
    pub const fn too_early(&self) -> bool {
        !matches!(self.verdict, PairVerdict::Compared { .. })
    }

    /// How many pours have both.
    #[must_use]
    pub fn pours(&self) -> usize {
        self.cells.iter().map(|cell| cell.rows.len()).sum()
    }

    /// The cells that hold a pour, the surest good ones first.
    #[must_use]
    pub fn ranked(&self) -> Vec<&Cell> {
        let mut cells: Vec<(&Cell, f64)> = self
            .cells
            .iter()
            .filter_map(|cell| Some((cell, cell.standing?.low10)))
            .collect();
        cells.sort_by(|a, b| b.1.total_cmp(&a.1));
        cells.into_iter().map(|(cell, _)| cell).collect()
    }

    /// What is to be said of it.
    fn compared(&self) -> PairVerdict {
        let ranked = self.ranked();
        let [best, .., worst] = ranked.as_slice() else {
            return match ranked.len() {
                0 => PairVerdict::NeverBoth,
                _ => PairVerdict::AllAlike,
            };
        };
        let n = self.pours();
        let good: usize = ranked.iter().map(|cell| cell.tally.good as usize).sum();
        match good {
            0 => PairVerdict::NoneGood,
            all if all == n => PairVerdict::AllGood,
            _ if n < LEAST_ROWS => PairVerdict::TooFew(n),
            _ if self.as_one() => PairVerdict::AsOne,
            _ => PairVerdict::Compared {
                apart: best.tally.wilson().low > worst.tally.wilson().high,
            },
        }
    }

    /// Whether each factor's side always says the other's.
    fn as_one(&self) -> bool {
        let alone = |of: &dyn Fn(&Cell) -> usize| {
            let mut taken: Vec<usize> = self.ranked().iter().map(|cell| of(cell)).collect();
            taken.sort_unstable();
            taken.windows(2).all(|two| two[0] != two[1])
        };
        alone(&|cell| cell.down) && alone(&|cell| cell.across)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::numbers::statistics::findings::Choice;
    use crate::numbers::statistics::sides::Side;

    fn word(word: &str) -> Which {
        Which::Chosen(Choice::Word(word.to_owned()))
    }

    /// Sides by the word of each row; a blank is not written down.
    fn sides(words: &[&str]) -> Sides {
        let mut each: Vec<Side> = Vec::new();
        let mut missing = Vec::new();
        for (row, word) in words.iter().enumerate() {
            if word.is_empty() {
                missing.push(row);
                continue;
            }
            let which = self::word(word);
            let at = each.iter().position(|side| side.which == which);
            let at = at.unwrap_or_else(|| {
                each.push(Side {
                    which,
                    tally: Tally::default(),
                    rows: Vec::new(),
                });
                each.len() - 1
            });
            each[at].rows.push(row);
        }
        Sides { each, missing }
    }

    fn table(first: &[&str], second: &[&str], good: &[bool]) -> Pair {
        pair(["rest", "air"], [&sides(first), &sides(second)], good)
    }

    #[test]
    fn each_pour_falls_in_its_cell_and_what_lacks_one_is_counted() {
        // Counted by hand: long and dry 8 of 8, long and wet 4 of 8, short and dry 2 of 4, short and wet 0 of 8.
        let first: Vec<&str> = [vec!["long"; 16], vec!["short"; 12], vec!["", "long"]].concat();
        let second: Vec<&str> = [
            vec!["dry"; 8],
            vec!["wet"; 8],
            vec!["dry"; 4],
            vec!["wet"; 8],
            vec!["dry", ""],
        ]
        .concat();
        let good: Vec<bool> = (0..30).map(|i| i < 12 || (16..18).contains(&i)).collect();
        let pair = table(&first, &second, &good);
        let told: Vec<(u32, u32)> = pair
            .cells
            .iter()
            .map(|cell| (cell.tally.good, cell.tally.pours))
            .collect();
        assert_eq!(told, [(8, 8), (4, 8), (2, 4), (0, 8)]);
        assert_eq!(
            (pair.lacking, pair.pours(), pair.too_early()),
            (2, 28, false)
        );
        assert_eq!(pair.verdict, PairVerdict::Compared { apart: true });
    }

    #[test]
    fn one_lucky_pour_does_not_lead() {
        let first: Vec<&str> = [vec!["long"; 20], vec!["short"]].concat();
        let second: Vec<&str> = [vec!["dry"; 19], vec!["wet", "dry"]].concat();
        let good: Vec<bool> = (0..21).map(|i| i < 16 || i == 20).collect();
        let pair = table(&first, &second, &good);
        let first = pair.ranked()[0];
        let sides = [&pair.down[first.down], &pair.across[first.across]];
        assert_eq!(sides, [&word("long"), &word("dry")]);
    }

    #[test]
    fn what_cannot_be_compared_is_said() {
        let mixed: Vec<bool> = (0..24).map(|i| i % 2 == 0).collect();
        let halves: Vec<&str> = (0..24).map(|i| ["a", "b"][i / 12]).collect();
        let thirds: Vec<&str> = (0..24).map(|i| ["c", "d"][i % 3 / 2]).collect();
        let same = ["a"; 24];
        for (first, second, good, told) in [
            (&[][..], &[][..], &[][..], PairVerdict::NeverBoth),
            (&["a"], &["b"], &[true], PairVerdict::AllAlike),
            (&halves, &thirds, &[true; 24], PairVerdict::AllGood),
            (&halves, &thirds, &[false; 24], PairVerdict::NoneGood),
            (&same, &same, &mixed, PairVerdict::AllAlike),
            (&halves, &halves, &mixed, PairVerdict::AsOne),
            (
                &halves[6..16],
                &thirds[6..16],
                &mixed[6..16],
                PairVerdict::TooFew(10),
            ),
            (&[""; 24], &thirds, &mixed, PairVerdict::NeverBoth),
        ] {
            let pair = table(first, second, good);
            assert_eq!(pair.verdict, told);
            assert!(pair.too_early());
            let mean = |cell: &Cell| cell.standing.is_none_or(|one| one.mean.is_finite());
            assert!(pair.cells.iter().all(mean));
        }
    }

    #[test]
    fn many_words_are_put_together_and_no_pour_is_lost() {
        let words: Vec<String> = (0..40).map(|i| format!("way {}", i % 11)).collect();
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        let good: Vec<bool> = (0..40).map(|i| i % 3 == 0).collect();
        let pair = table(&words, &words, &good);
        assert_eq!((pair.down.len(), pair.pours()), (MOST, 40));
        assert_eq!(pair.down.last(), Some(&Which::Others));
    }
}
