//! Choosing a name by typing some of its letters.

use nucleo_matcher::pattern::{CaseMatching, Normalization, Pattern};
use nucleo_matcher::{Config, Matcher, Utf32Str};

/// Names to choose among, and those that fit what was typed, the best first.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Pick {
    names: Vec<String>,
    hits: Vec<usize>,
    at: usize,
}

impl Pick {
    /// All names, the first one chosen.
    pub fn among(names: Vec<String>) -> Self {
        let hits = (0..names.len()).collect();
        Self { names, hits, at: 0 }
    }

    /// All names, in their order.
    pub fn names(&self) -> &[String] {
        &self.names
    }

    /// Narrows the names to those that hold the letters typed, in their order; accents and case do not count.
    pub fn narrow(&mut self, typed: &str) {
        self.at = 0;
        let pattern = Pattern::parse(typed.trim(), CaseMatching::Ignore, Normalization::Smart);
        let mut matcher = Matcher::new(Config::DEFAULT);
        let mut buffer = Vec::new();
        let mut score = |name: &str| pattern.score(Utf32Str::new(name, &mut buffer), &mut matcher);
        let scored = self.names.iter().enumerate();
        let mut scored: Vec<_> = scored
            .filter_map(|(place, name)| Some((score(name)?, place)))
            .collect();
        scored.sort_by_key(|&(score, place)| (std::cmp::Reverse(score), place));
        self.hits = scored.into_iter().map(|(_, place)| place).collect();
    }

    /// Shows every name, the given one chosen where it is among them.
    pub fn show(&mut self, chosen: &str) {
        self.hits = (0..self.names.len()).collect();
        self.at = self
            .names
            .iter()
            .position(|name| name == chosen)
            .unwrap_or(0);
    }

    /// The next name, or the one before.
    pub fn turn(&mut self, forward: bool) {
        let count = self.hits.len().max(1);
        let step = if forward { 1 } else { count - 1 };
        self.at = (self.at + step) % count;
    }

    /// The name chosen; `None` where none fits.
    pub fn chosen(&self) -> Option<&str> {
        self.names.get(*self.hits.get(self.at)?).map(String::as_str)
    }

    /// Names that fit, with whether each is the chosen one: as many as `room` around the chosen.
    pub fn shown(&self, room: usize) -> impl Iterator<Item = (&str, bool)> {
        let first = (self.at + 1).saturating_sub(room);
        let hits = self.hits.iter().enumerate().skip(first).take(room);
        hits.filter_map(|(place, &hit)| Some((self.names.get(hit)?.as_str(), place == self.at)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_in_order_find_a_name_and_accents_do_not_count() {
        let names = ["Deep blue", "Ümbra glaze", "Cell opener"].map(String::from);
        let mut pick = Pick::among(names.to_vec());
        assert_eq!(pick.chosen(), Some("Deep blue"));
        pick.narrow("umb");
        assert_eq!(pick.chosen(), Some("Ümbra glaze"));
        pick.narrow("zzz");
        assert_eq!(pick.chosen(), None);
        pick.turn(true);
        assert_eq!(pick.chosen(), None);
    }

    #[test]
    fn turning_goes_round() {
        let mut pick = Pick::among(vec!["a".into(), "b".into()]);
        pick.turn(false);
        assert_eq!(pick.chosen(), Some("b"));
        pick.turn(true);
        assert_eq!(pick.chosen(), Some("a"));
    }
}
