//! Choosing a name by typing some of its letters.

use crate::studio::meant;
use nucleo_matcher::pattern::{AtomKind, CaseMatching, Normalization, Pattern};
use nucleo_matcher::{Config, Matcher, Utf32Str};
use std::cmp::Reverse;

/// Names to choose among, and those that fit what was typed, the best first.
///
/// A name is chosen by what was typed or by turning to it; where neither was done, none is.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Pick {
    names: Vec<String>,
    /// What each name stands for, where that is another text.
    meanings: Vec<String>,
    hits: Vec<usize>,
    at: Option<usize>,
}

impl Pick {
    /// All names, none of them chosen.
    pub fn among(names: Vec<String>) -> Self {
        let hits = (0..names.len()).collect();
        Self {
            names,
            hits,
            ..Self::default()
        }
    }

    /// The same, each name standing for another text: its name and what it stands for.
    pub fn meaning(pairs: Vec<(String, String)>) -> Self {
        let (names, meanings) = pairs.into_iter().unzip();
        Self {
            meanings,
            ..Self::among(names)
        }
    }

    /// All names, in their order.
    pub fn names(&self) -> &[String] {
        &self.names
    }

    /// Narrows the names to those that hold every word typed: one that is it comes first, then those that begin so;
    /// accents and case do not count.
    pub fn narrow(&mut self, typed: &str) {
        let typed = typed.trim();
        if typed.is_empty() {
            return self.show("");
        }
        let pattern = Pattern::new(
            typed,
            CaseMatching::Ignore,
            Normalization::Smart,
            AtomKind::Substring,
        );
        let mut matcher = Matcher::new(Config::DEFAULT);
        let mut buffer = Vec::new();
        let mut score = |name: &str| pattern.score(Utf32Str::new(name, &mut buffer), &mut matcher);
        let scored = self.names.iter().enumerate();
        let mut scored: Vec<_> = scored
            .filter_map(|(place, name)| Some((likeness(name, typed), score(name)?, place)))
            .collect();
        scored.sort_by_key(|&(like, score, place)| (Reverse((like, score)), place));
        self.hits = scored.into_iter().map(|(_, _, place)| place).collect();
        // As a command takes a name; one that only holds what was typed is turned to.
        let place = meant(typed, self.names.iter());
        self.at = place.and_then(|place| self.hits.iter().position(|hit| *hit == place));
    }

    /// The names that fit what was typed.
    pub fn fitting(&self) -> impl Iterator<Item = &String> {
        self.hits.iter().filter_map(|&hit| self.names.get(hit))
    }

    /// Shows every name, the given one chosen where it is among them.
    pub fn show(&mut self, chosen: &str) {
        self.hits = (0..self.names.len()).collect();
        self.at = self.names.iter().position(|name| name == chosen);
    }

    /// The next name, or the one before.
    pub fn turn(&mut self, forward: bool) {
        let count = self.hits.len();
        let last = count.checked_sub(1);
        self.at = match (self.at, forward) {
            (Some(at), true) => last.map(|_| (at + 1) % count),
            (Some(at), false) => last.map(|last| (at + last) % count),
            (None, true) => last.map(|_| 0),
            (None, false) => last,
        };
    }

    /// The name chosen; `None` where none is, or none fits.
    pub fn chosen(&self) -> Option<&str> {
        self.names.get(self.place()?).map(String::as_str)
    }

    /// What the name chosen stands for: itself, unless another text was given.
    pub fn meant(&self) -> Option<&str> {
        let meaning = self.meanings.get(self.place()?);
        meaning.map(String::as_str).or_else(|| self.chosen())
    }

    /// The place of the name chosen among all.
    fn place(&self) -> Option<usize> {
        self.hits.get(self.at?).copied()
    }

    /// Names that fit, with whether each is the chosen one: as many as `room` around the chosen.
    pub fn shown(&self, room: usize) -> impl Iterator<Item = (&str, bool)> {
        let first = self.at.map_or(0, |at| (at + 1).saturating_sub(room));
        let hits = self.hits.iter().enumerate().skip(first).take(room);
        hits.filter_map(|(place, &hit)| {
            Some((self.names.get(hit)?.as_str(), Some(place) == self.at))
        })
    }
}

/// 2 for a name that is what was typed, 1 for one that begins so, 0 for one that only holds it.
fn likeness(name: &str, typed: &str) -> u8 {
    let (name, typed) = (name.to_lowercase(), typed.to_lowercase());
    u8::from(name == typed) + u8::from(name.starts_with(&typed))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_in_any_order_find_a_name_and_accents_do_not_count() {
        let names = ["Deep blue", "Ümbra glaze", "Cell opener"].map(String::from);
        let mut pick = Pick::among(names.to_vec());
        assert_eq!(pick.chosen(), None, "nothing was typed yet");
        pick.narrow("umb");
        assert_eq!(pick.chosen(), Some("Ümbra glaze"));
        pick.narrow("blue de");
        assert_eq!(pick.chosen(), None, "found, and taken once it is turned to");
        pick.turn(true);
        assert_eq!(pick.chosen(), Some("Deep blue"));
        for strange in ["zzz", "dpbl", "Sunny"] {
            pick.narrow(strange);
            assert_eq!(pick.chosen(), None, "{strange}");
            pick.turn(true);
            assert_eq!(pick.chosen(), None, "{strange}");
        }
    }

    #[test]
    fn the_very_name_comes_before_longer_ones_that_hold_it() {
        let names = ["Sky blue", "Blue tint", "Blue"].map(String::from);
        let mut pick = Pick::among(names.to_vec());
        pick.narrow("blue");
        assert_eq!(pick.chosen(), Some("Blue"));
        pick.narrow("blue t");
        assert_eq!(pick.chosen(), Some("Blue tint"));
    }

    // As on the command line: what may mean several names means none until one is turned to.
    #[test]
    fn what_several_names_fit_chooses_none_of_them() {
        let names = ["Fluid black", "Fluid white", "Sea blue"].map(String::from);
        let mut pick = Pick::among(names.to_vec());
        pick.narrow("fluid");
        assert_eq!(pick.chosen(), None);
        assert_eq!(pick.fitting().count(), 2);
        pick.turn(true);
        assert_eq!(pick.chosen(), Some("Fluid black"));
        pick.narrow("blue");
        assert_eq!((pick.chosen(), pick.fitting().count()), (None, 1));
        pick.narrow("fluid w");
        assert_eq!(pick.chosen(), Some("Fluid white"));
    }

    #[test]
    fn a_name_may_stand_for_another_text() {
        let pairs = [("8, a half", "8"), ("8 for a curve", "face-centred")];
        let pairs = pairs.map(|(name, text)| (name.to_owned(), text.to_owned()));
        let mut pick = Pick::meaning(pairs.to_vec());
        assert_eq!(pick.meant(), None);
        pick.show("8 for a curve");
        assert_eq!(pick.meant(), Some("face-centred"));
        assert_eq!(pick.chosen(), Some("8 for a curve"));
    }

    #[test]
    fn turning_goes_round() {
        let mut pick = Pick::among(vec!["a".into(), "b".into()]);
        pick.turn(false);
        assert_eq!(pick.chosen(), Some("b"));
        pick.turn(true);
        assert_eq!(pick.chosen(), Some("a"));
        pick.turn(false);
        assert_eq!(pick.chosen(), Some("b"));
    }
}
