//! What to pour next: the likely best, the one that teaches most, and a repeat as a control.

use crate::numbers::statistics::choice::{
    Belief, bayes_upper_bounds, better, chance_of_best, expected_loss, thompson,
};
use crate::numbers::statistics::proportion::Tally;
use crate::studio::{Findings, RecipeBook, VariantTally};
use crate::trade::recipe::{LayerKind, Variant};
use crate::trade::words::word_enum;

word_enum! {
    /// Why a thing is suggested.
    SuggestionKind {
        /// It is likely the best.
        Best = "best",
        /// It would teach the most.
        Learn = "learn",
        /// It shows whether anything else changed.
        Control = "control",
    }
}

/// A variant to pour next.
#[derive(Debug, Clone, PartialEq)]
pub struct Suggestion {
    /// The recipe's name.
    pub recipe: String,
    /// The variant's number.
    pub variant: i64,
    /// The number of the recipe's newest variant, which a plan takes.
    pub newest: i64,
    /// Why it is suggested.
    pub kind: SuggestionKind,
    /// The same in words.
    pub why: String,
    /// The probability that it is the best of all.
    pub chance_of_best: f64,
    /// The share of good pours that is given away, on average, by pouring it and not the one most likely to beat it.
    pub loss: f64,
}

/// The variants to choose among, and what is believed of each.
struct Field<'a> {
    among: Vec<&'a VariantTally>,
    beliefs: Vec<Belief>,
    chances: Vec<f64>,
    pours: u32,
    /// Whether another than a colour stands before them all.
    behind_other: bool,
}

/// Three suggestions, or fewer where there are not so many variants: among colours, where the studio has them, for a
/// base lies under every pour.
pub(in crate::studio) fn next(found: &Findings, cards: &RecipeBook) -> Vec<Suggestion> {
    let mut next = suggested(found);
    for one in &mut next {
        let recipe = cards
            .recipes
            .values()
            .find(|other| other.name == one.recipe);
        let own = |variant: &&Variant| recipe.is_some_and(|recipe| variant.recipe == recipe.id);
        let numbers = cards.variants.values().filter(own);
        one.newest = numbers.map(|own| own.number).max().unwrap_or(one.variant);
    }
    next
}

fn suggested(found: &Findings) -> Vec<Suggestion> {
    let field = Field::of(found);
    let Some(best) = field.best() else {
        return Vec::new();
    };
    let learn = field.learn(best);
    let control = field.control(best, learn);
    let mut next = vec![field.tell(best, SuggestionKind::Best, best)];
    next.extend(learn.map(|place| field.tell(place, SuggestionKind::Learn, best)));
    next.push(field.tell(control, SuggestionKind::Control, best));
    next
}

impl<'a> Field<'a> {
    fn of(found: &'a Findings) -> Self {
        let all = || found.variants.iter();
        let mut among: Vec<_> = all().filter(|one| one.layer == LayerKind::Colour).collect();
        if among.is_empty() {
            among = all().collect();
        }
        let beliefs: Vec<Belief> = among.iter().map(|one| Belief::after(tally(one))).collect();
        let first = |at: &&VariantTally| at.layer != LayerKind::Colour;
        let only_colours = among.len() < found.variants.len();
        Self {
            behind_other: only_colours && found.variants.first().as_ref().is_some_and(first),
            chances: chance_of_best(&beliefs),
            among,
            beliefs,
            pours: count(found.pours),
        }
    }

    /// By the lower tenth of what is believed, so that one lucky pour never leads.
    fn best(&self) -> Option<usize> {
        let low = |at: &usize| self.among[*at].posterior.low10;
        // Of two alike the first is taken, as on the list.
        let places = (0..self.among.len()).rev();
        places.max_by(|a, b| low(a).total_cmp(&low(b)))
    }

    /// Thompson's draw among the others: each comes up as often as it may be the best of them, so that what was
    /// poured little is tried, and what was poured often and came out badly is let be. The seed is the count of judged
    /// pours: the same until one more is judged.
    fn learn(&self, best: usize) -> Option<usize> {
        let others: Vec<usize> = (0..self.among.len()).filter(|at| *at != best).collect();
        let beliefs: Vec<Belief> = others.iter().map(|&at| self.beliefs[at]).collect();
        let drawn = thompson(&beliefs, u64::from(self.pours))?;
        others.get(drawn).copied()
    }

    /// What was poured most often, for that is known best: another than those two, where there is one.
    fn control(&self, best: usize, learn: Option<usize>) -> usize {
        let free = |at: &usize| *at != best && Some(*at) != learn;
        let often = |at: &usize| self.among[*at].pours;
        let other = (0..self.among.len()).filter(free).max_by_key(often);
        other.unwrap_or(best)
    }

    fn tell(&self, at: usize, kind: SuggestionKind, best: usize) -> Suggestion {
        let one = self.among[at];
        Suggestion {
            recipe: one.recipe.clone(),
            variant: one.variant,
            newest: one.variant,
            kind,
            why: self.why(at, kind, best),
            chance_of_best: self.chances[at],
            loss: self.loss(at),
        }
    }

    /// The most that one of the others would give on average, were it poured instead.
    fn loss(&self, at: usize) -> f64 {
        let others = (0..self.beliefs.len()).filter(|other| *other != at);
        let losses = others.map(|other| expected_loss(self.beliefs[other], self.beliefs[at]));
        losses.fold(0.0, f64::max)
    }

    fn why(&self, at: usize, kind: SuggestionKind, best: usize) -> String {
        let one = self.among[at];
        let of = format!("{} of {} good", one.good, one.pours);
        let in_100 = |share: f64| format!("{:.0} in 100", share * 100.0);
        match kind {
            SuggestionKind::Best if one.good == 0 => {
                format!("nothing gave good cells yet: {of}, and no other did better")
            }
            SuggestionKind::Best => {
                let loss = self.loss(at);
                let lost = match loss < 0.005 {
                    true => "less than 1 good pour in 100 is lost".to_owned(),
                    false => format!("about {:.0} good pours in 100 are lost", loss * 100.0),
                };
                let best = match self.behind_other {
                    true => "likely the best colour",
                    false => "likely the best",
                };
                format!("{best}: {of}; if wrong, {lost}")
            }
            SuggestionKind::Learn => {
                let upper =
                    bayes_upper_bounds(&self.beliefs[at..=at], self.pours.saturating_add(1));
                let upper = upper.first().copied().unwrap_or(1.0);
                let beats = better(self.beliefs[best], self.beliefs[at]);
                format!(
                    "teaches the most: {of} so far; as many as {} may be, and its chance to beat the best is {}",
                    in_100(upper),
                    in_100(beats)
                )
            }
            SuggestionKind::Control => format!(
                "a repeat, as a control: {of}; the same again shows whether anything else changed"
            ),
        }
    }
}

fn tally(one: &VariantTally) -> Tally {
    Tally::new(count(one.good), count(one.pours))
}

fn count(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::studio::{Posterior, TimeWindow};

    fn found(tallies: &[(&str, usize, usize)]) -> Findings {
        let variant = |(name, good, pours): &(&str, usize, usize)| VariantTally {
            recipe: (*name).to_owned(),
            variant: 1,
            pours: *pours,
            good: *good,
            rate: 0.5,
            wilson: (0.0, 1.0),
            layer: LayerKind::Colour,
            posterior: Posterior {
                mean: 0.5,
                low10: 0.1,
                high90: 0.9,
            },
            behind: Vec::new(),
        };
        Findings {
            window: TimeWindow::default(),
            bar: 4,
            pours: tallies.iter().map(|one| one.2).sum(),
            good: tallies.iter().map(|one| one.1).sum(),
            too_early: false,
            variants: tallies.iter().map(variant).collect(),
        }
    }

    fn told(tallies: &[(&str, usize, usize)]) -> Vec<(SuggestionKind, String)> {
        let next = suggested(&found(tallies)).into_iter();
        next.map(|one| (one.kind, one.recipe)).collect()
    }

    #[test]
    fn three_variants_give_three_different_suggestions_and_always_the_same() {
        let studio = [("Teal", 12, 16), ("Rust", 6, 10), ("Ash", 10, 33)];
        let first = told(&studio);
        assert_eq!(first[0], (SuggestionKind::Best, "Teal".to_owned()));
        assert_eq!(first[1].0, SuggestionKind::Learn);
        assert_eq!(first[2].0, SuggestionKind::Control);
        assert_ne!(first[1].1, first[2].1);
        assert_eq!(told(&studio), first);
    }

    #[test]
    fn one_variant_is_repeated_as_a_control_and_none_gives_nothing() {
        let kinds: Vec<_> = told(&[("Teal", 1, 1)])
            .into_iter()
            .map(|one| one.0)
            .collect();
        assert_eq!(kinds, [SuggestionKind::Best, SuggestionKind::Control]);
        assert_eq!(told(&[]), []);
    }

    #[test]
    fn what_only_failed_is_not_called_the_best() {
        let next = suggested(&found(&[("Teal", 0, 6), ("Rust", 0, 9)]));
        assert!(
            next[0]
                .why
                .starts_with("nothing gave good cells yet: 0 of 6")
        );
        assert!(next.iter().all(|one| !one.why.contains("NaN")));
    }

    // P(B>A) and the loss of two: Beta(4,8) and Beta(6,6), COMPUTED with mpmath at 30 digits, 0.806501547987616
    // and 0.0210548750393.
    #[test]
    fn the_chances_and_the_loss_are_those_of_the_counts() {
        let next = suggested(&found(&[("Teal", 5, 10), ("Rust", 3, 10)]));
        assert!((next[0].chance_of_best - 0.806_501_547_987_616).abs() < 1e-9);
        assert!((next[0].loss - 0.021_054_875_039_3).abs() < 1e-9);
    }

    #[test]
    fn what_may_be_better_is_drawn_more_often_than_what_hardly_can() {
        // Judged once more the draw is another; over many counts the little-poured variant leads.
        let drawn = |more: usize| {
            let mut found = found(&[("Teal", 12, 16), ("Rust", 2, 4), ("Ash", 3, 33)]);
            found.pours += more;
            suggested(&found)[1].recipe.clone()
        };
        let rust = (0..60).filter(|more| drawn(*more) == "Rust").count();
        assert!(rust > 50, "{rust} of 60");
    }
}
