//! What to pour next: the likely best, the one that teaches most, and a repeat as a control.

use crate::numbers::statistics::pool::{Place, Record, next_try, places};
use crate::studio::{LookedBack, RecipeBook, VariantTally};
use crate::trade::instant::Now;
use crate::trade::recipe::{LayerKind, Variant};
use crate::trade::words::word_enum;
use std::collections::HashMap;

word_enum! {
    /// Why a thing is suggested.
    SuggestionKind {
        /// It is the surest of those poured, and the best where it is likelier than not.
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
    /// Judged pours with it, whatever their age.
    pub pours: usize,
    /// Good ones among them.
    pub good: usize,
    /// The probability that it is the best of its layer.
    pub chance_of_best: f64,
    /// The share of good pours that is given away on average by pouring it: the mean of the best less its own.
    pub loss: f64,
    /// The same where another is the best; none where that cannot be.
    pub loss_if_wrong: Option<f64>,
    /// The share it may well have, by which the one that teaches most is chosen.
    pub upper: f64,
    /// Whether a variant of another layer did better than all that are chosen among.
    pub behind_other: bool,
}

impl Suggestion {
    /// Whether it is likelier the best than not; else it is the surest of those poured.
    #[must_use]
    pub fn is_likely_best(&self) -> bool {
        self.chance_of_best >= 0.5
    }
}

/// The variants of a layer, and what is believed of each.
struct Pool {
    among: Vec<Candidate>,
    records: Vec<Record>,
    places: Vec<Place>,
    behind_other: bool,
}

/// A variant that may be poured.
#[derive(Debug, Clone, PartialEq)]
struct Candidate {
    recipe: String,
    variant: i64,
    newest: i64,
    pours: usize,
    good: usize,
}

/// Three suggestions, or fewer where there are not so many variants: among colours, where the studio has judged some,
/// for a base lies under every pour. A pour counts half after `half_life` days.
pub(in crate::studio) fn next(
    back: &LookedBack,
    book: &RecipeBook,
    half_life: f64,
    now: &Now,
) -> Vec<Suggestion> {
    let pool = Pool::of(back, book, half_life, now);
    pool.suggested()
}

impl Pool {
    fn of(back: &LookedBack, book: &RecipeBook, half_life: f64, now: &Now) -> Self {
        let judged = &back.found.variants;
        let of_layer = |layer| move |one: &&VariantTally| one.layer == layer;
        let layer = match judged.iter().find(of_layer(LayerKind::Colour)) {
            Some(colour) => Some(colour.layer),
            None => judged.first().map(|first| first.layer),
        };
        let among = layer.map_or_else(Vec::new, |layer| candidates(layer, judged, book));
        let records = records(&among, back, half_life, now);
        Self {
            behind_other: judged.first().map(|first| first.layer) != layer,
            places: places(&records),
            records,
            among,
        }
    }

    fn suggested(&self) -> Vec<Suggestion> {
        let Some(best) = self.best() else {
            return Vec::new();
        };
        let learn = self.learn(best);
        let control = self.control(best, learn);
        let kinds = [
            (Some(best), SuggestionKind::Best),
            (learn, SuggestionKind::Learn),
            (Some(control), SuggestionKind::Control),
        ];
        let tell = |(at, kind): (Option<usize>, SuggestionKind)| Some(self.tell(at?, kind));
        kinds.into_iter().filter_map(tell).collect()
    }

    /// By the lower tenth of what is believed, among those poured, so that one lucky pour never leads.
    fn best(&self) -> Option<usize> {
        let low = |at: &usize| self.places[*at].belief.quantile(0.1);
        let poured = (0..self.among.len()).filter(|at| self.among[*at].pours > 0);
        poured.rev().max_by(|a, b| low(a).total_cmp(&low(b)))
    }

    /// The one of the highest upper end, were the best not to be poured; never poured ones too.
    fn learn(&self, best: usize) -> Option<usize> {
        let others = |at: &usize| *at != best;
        let places: Vec<usize> = (0..self.among.len()).filter(others).collect();
        let records: Vec<Record> = places.iter().map(|at| self.records[*at].clone()).collect();
        let believed: Vec<Place> = places.iter().map(|at| self.places[*at]).collect();
        next_try(&records, &believed).and_then(|at| places.get(at).copied())
    }

    /// What was poured most often, for that is known best: another than those two, where there is one.
    fn control(&self, best: usize, learn: Option<usize>) -> usize {
        let free = |at: &usize| *at != best && Some(*at) != learn && self.among[*at].pours > 0;
        let often = |at: &usize| self.among[*at].pours;
        let other = (0..self.among.len()).filter(free).max_by_key(often);
        other.unwrap_or(best)
    }

    fn tell(&self, at: usize, kind: SuggestionKind) -> Suggestion {
        let (one, place) = (&self.among[at], &self.places[at]);
        Suggestion {
            recipe: one.recipe.clone(),
            variant: one.variant,
            newest: one.newest,
            kind,
            pours: one.pours,
            good: one.good,
            chance_of_best: place.best,
            loss: place.loss,
            loss_if_wrong: place.loss_if_wrong(),
            upper: place.upper,
            behind_other: self.behind_other,
        }
    }
}

/// Every variant of a layer: those judged in their order, then those that never were, the newest first.
fn candidates(layer: LayerKind, judged: &[VariantTally], book: &RecipeBook) -> Vec<Candidate> {
    let own = judged.iter().filter(|one| one.layer == layer);
    let mut among: Vec<Candidate> = own
        .map(|one| Candidate {
            recipe: one.recipe.clone(),
            variant: one.variant,
            newest: one.variant,
            pours: one.pours,
            good: one.good,
        })
        .collect();
    let mut newest: HashMap<&str, i64> = HashMap::new();
    let mut unpoured: Vec<(&Variant, &str)> = Vec::new();
    for variant in book.variants.values() {
        let recipe = book.recipes.get(&variant.recipe);
        let Some(recipe) = recipe.filter(|recipe| recipe.layer == layer) else {
            continue;
        };
        let most = newest.entry(&recipe.name).or_default();
        *most = (*most).max(variant.number);
        let known = |one: &Candidate| one.recipe == recipe.name && one.variant == variant.number;
        if !among.iter().any(known) {
            unpoured.push((variant, &recipe.name));
        }
    }
    unpoured.sort_by_key(|(variant, _)| std::cmp::Reverse(variant.id));
    among.extend(unpoured.into_iter().map(|(variant, recipe)| Candidate {
        recipe: recipe.to_owned(),
        variant: variant.number,
        newest: variant.number,
        pours: 0,
        good: 0,
    }));
    // What is no longer offered is not to be poured next.
    let retired = |name: &str| {
        let mut all = book.recipes.values();
        all.any(|recipe| recipe.retired && recipe.name == name)
    };
    among.retain(|one| !retired(&one.recipe));
    for one in &mut among {
        one.newest = newest
            .get(one.recipe.as_str())
            .copied()
            .unwrap_or(one.variant);
    }
    among
}

/// The pours behind each candidate, by their age.
fn records(among: &[Candidate], back: &LookedBack, half_life: f64, now: &Now) -> Vec<Record> {
    let bar = back.found.bar;
    let pours: HashMap<i64, (bool, f64)> = back
        .judged
        .iter()
        .map(|(page, cells)| {
            let days = (now.at - page.pour.at).num_minutes() as f64 / 1440.0;
            (page.pour.id, (*cells >= bar, days))
        })
        .collect();
    let record = |one: &Candidate| {
        let own =
            |tally: &&VariantTally| tally.recipe == one.recipe && tally.variant == one.variant;
        let behind = back.found.variants.iter().find(own);
        let mut record = Record::default();
        for number in behind.map_or(&[][..], |tally| &tally.behind) {
            if let Some((good, days)) = pours.get(number) {
                record.add(*good, *days, half_life);
            }
        }
        record
    };
    among.iter().map(record).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pool(tallies: &[(&str, usize, usize)]) -> Pool {
        let candidate = |(name, good, pours): &(&str, usize, usize)| Candidate {
            recipe: (*name).to_owned(),
            variant: 1,
            newest: 1,
            pours: *pours,
            good: *good,
        };
        let record = |(_, good, pours): &(&str, usize, usize)| Record {
            good: *good as f64,
            pours: *pours as f64,
        };
        let records: Vec<Record> = tallies.iter().map(record).collect();
        Pool {
            among: tallies.iter().map(candidate).collect(),
            places: places(&records),
            records,
            behind_other: false,
        }
    }

    fn told(tallies: &[(&str, usize, usize)]) -> Vec<(SuggestionKind, String)> {
        let next = pool(tallies).suggested().into_iter();
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
    fn what_was_never_poured_is_suggested_to_learn() {
        // Eight variants, six poured 45 times, two never: the two came never up, and they were the best.
        let poured = ["A", "B", "C", "D", "E", "F"].map(|name| (name, 14, 45));
        let all = [&poured[..], &[("G", 0, 0), ("H", 0, 0)]].concat();
        let next = told(&all);
        assert_eq!(next[1], (SuggestionKind::Learn, "G".to_owned()));
        assert_ne!(next[0].1, "G");
    }

    #[test]
    fn one_variant_is_repeated_as_a_control_and_none_gives_nothing() {
        let kinds: Vec<_> = told(&[("Teal", 1, 1)])
            .into_iter()
            .map(|one| one.0)
            .collect();
        assert_eq!(kinds, [SuggestionKind::Best, SuggestionKind::Control]);
        assert_eq!(told(&[]), []);
        // What was never poured is not called the best.
        assert_eq!(told(&[("Teal", 0, 0)]), []);
    }

    #[test]
    fn the_loss_is_that_of_the_best_of_all_and_more_where_another_is() {
        let next = pool(&[("Teal", 5, 10), ("Rust", 3, 10), ("Ash", 4, 10)]).suggested();
        let best = &next[0];
        let if_wrong = best.loss_if_wrong.unwrap();
        assert!((if_wrong * (1.0 - best.chance_of_best) - best.loss).abs() < 1e-9);
        assert!(if_wrong > best.loss && best.loss > 0.0);
    }
}
