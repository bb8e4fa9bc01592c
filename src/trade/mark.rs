//! Marks: the two or three characters on a cup's lid.

use serde::Serialize;
use std::fmt;

/// Letters that cannot be taken for a digit when written with a wet finger (no I, L, O).
const LETTERS: &[u8] = b"ABCDEFGHJKMNPQRSTUVWXYZ";
/// Digits that cannot be taken for a letter (no 0, 1).
const DIGITS: &[u8] = b"23456789";

/// A cup's mark, in capitals.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize)]
#[serde(transparent)]
pub struct Mark(String);

/// Why a text is no mark.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum MarkProblem {
    /// Not two or three characters long.
    Length,
    /// A character that is easily misread, or none that is written on a lid.
    Character(char),
}

impl Mark {
    /// Reads a mark, raising its letters to capitals.
    ///
    /// # Errors
    /// [`MarkProblem`] where the length or a character is wrong.
    pub fn parse(text: &str) -> Result<Self, MarkProblem> {
        let text = text.trim();
        if !(2..=3).contains(&text.chars().count()) {
            return Err(MarkProblem::Length);
        }
        text.chars()
            .map(raised)
            .collect::<Result<String, _>>()
            .map(Self)
    }

    /// The first mark that `taken` does not hold, going on after `last`: letter and digit, then a
    /// letter and two digits once every short one is on a living cup.
    #[must_use]
    pub fn next_free(last: Option<&Self>, taken: impl Fn(&Self) -> bool) -> Option<Self> {
        let short = LETTERS.len() * DIGITS.len();
        let start = last.and_then(Self::place).map_or(0, |place| place + 1);
        let rounds = (0..short).map(|step| Self::at_place((start + step) % short));
        let long = (0..short * DIGITS.len()).map(Self::long_at);
        rounds.chain(long).find(|mark| !taken(mark))
    }

    /// The characters.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// How many characters differ from another mark, for naming near ones.
    #[must_use]
    pub fn distance(&self, other: &str) -> usize {
        let other = other.to_uppercase();
        let longest = self.0.chars().count().max(other.chars().count());
        let same = self
            .0
            .chars()
            .zip(other.chars())
            .filter(|(a, b)| a == b)
            .count();
        longest - same
    }

    // Digits move slowest, so that marks of one day begin with different letters.
    fn at_place(place: usize) -> Self {
        let letter = LETTERS[place % LETTERS.len()];
        let digit = DIGITS[place / LETTERS.len() % DIGITS.len()];
        Self(format!("{}{}", char::from(letter), char::from(digit)))
    }

    fn long_at(place: usize) -> Self {
        let last = DIGITS[place % DIGITS.len()];
        Self(format!(
            "{}{}",
            Self::at_place(place / DIGITS.len()),
            char::from(last)
        ))
    }

    fn place(&self) -> Option<usize> {
        let [letter, digit] = *self.0.as_bytes() else {
            return None;
        };
        let letter = LETTERS.iter().position(|&one| one == letter)?;
        let digit = DIGITS.iter().position(|&one| one == digit)?;
        Some(digit * LETTERS.len() + letter)
    }
}

fn raised(character: char) -> Result<char, MarkProblem> {
    let raised = character.to_ascii_uppercase();
    let known = u8::try_from(raised).is_ok_and(|c| LETTERS.contains(&c) || DIGITS.contains(&c));
    if known {
        Ok(raised)
    } else {
        Err(MarkProblem::Character(character))
    }
}

impl fmt::Display for Mark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::HashSet;

    #[test]
    fn marks_are_read_in_any_case_and_shown_in_capitals() {
        assert_eq!(Mark::parse(" k7 ").unwrap().as_str(), "K7");
    }

    #[test]
    fn what_is_easily_misread_is_refused() {
        for text in ["K0", "O7", "I2", "L2", "K1", "k\u{1b}"] {
            assert!(
                matches!(Mark::parse(text), Err(MarkProblem::Character(_))),
                "{text}"
            );
        }
        assert_eq!(Mark::parse("K"), Err(MarkProblem::Length));
        assert_eq!(Mark::parse("K234"), Err(MarkProblem::Length));
    }

    #[test]
    fn a_thousand_living_cups_all_get_different_marks() {
        let mut taken = HashSet::new();
        let mut last = None;
        for _ in 0..1000 {
            let mark = Mark::next_free(last.as_ref(), |mark| taken.contains(mark)).unwrap();
            assert!(taken.insert(mark.clone()));
            last = Some(mark);
        }
    }

    #[test]
    fn a_freed_mark_is_not_given_again_at_once() {
        let last = Mark::parse("B2").unwrap();
        assert_eq!(
            Mark::next_free(Some(&last), |_| false).unwrap().as_str(),
            "C2"
        );
    }
}
