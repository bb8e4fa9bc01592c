//! Recipes, their numbered variants and the parts of each.

use crate::trade::moment::Moment;
use crate::trade::range::Window;
use crate::trade::units::{Minutes, Seconds, Share};
use crate::trade::words::word_enum;
use chrono::TimeDelta;
use serde::Serialize;
use std::collections::{HashMap, HashSet};

word_enum! {
    /// Where in the stack a mixture goes, lowest first; a medium goes into other mixtures.
    LayerKind {
        /// The lowest coat, the thickest.
        Base = "base",
        /// The colours, a little thinner.
        Colour = "colour",
        /// The top coat that opens the cells, the thinnest.
        Activator = "activator",
        /// A part of other mixtures, mixed ahead in a bottle.
        Medium = "medium",
    }
}

/// A named mixture.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Recipe {
    /// The store's number.
    pub id: i64,
    /// Its name, unique whatever the case.
    pub name: String,
    /// Where in the stack it goes.
    pub layer: LayerKind,
    /// Whether it is no longer offered.
    pub retired: bool,
}

/// What one variant of a recipe is called wherever it is shown: `River blue v2`. It is never read back.
#[must_use]
pub fn variant_title(recipe: &str, number: i64) -> String {
    format!("{recipe} v{number}")
}

/// What a part is: something bought, or another recipe.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum PartOf {
    /// A material, by its number.
    Material(i64),
    /// A recipe, by its number: its newest variant at the time of mixing.
    Recipe(i64),
}

/// A share of a variant: so many parts of one thing.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Part {
    /// What goes in.
    pub of: PartOf,
    /// How many parts of it; only the proportion to the others counts.
    pub share: f64,
}

/// What a mixture is meant to do: its mound, its waits and its limit of thinner.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Targets {
    /// The mound it should have; a medium has none.
    pub window: Option<Window>,
    /// How long it stands until its bubbles are gone.
    pub rest: TimeDelta,
    /// After how long it wants a look and thinner again.
    pub recheck_after: TimeDelta,
    /// How long it is stirred.
    pub stir: Option<Minutes>,
    /// The most thinner a cup may get, as a share of its volume.
    pub limit: Share,
}

word_enum! {
    /// What a variant is meant to do, by name.
    Target {
        /// The mound it should have.
        Mound = "mound",
        /// How long it rests.
        Rest = "rest",
        /// After how long it is looked at again.
        Recheck = "again",
        /// How long it is stirred.
        Stir = "stir",
        /// The most thinner.
        Limit = "limit",
    }
}

impl Targets {
    /// What a layer asks unless its recipe says otherwise (common practice, no source):
    /// a colour cup rests 12 h, an activator not at all; all are looked at again after 60 min;
    /// thinner stays under a quarter of the cup.
    #[must_use]
    pub fn usual(layer: LayerKind) -> Self {
        let of = |low, high| Window {
            low: Seconds(low),
            high: Seconds(high),
        };
        let (window, hours) = match layer {
            LayerKind::Base => (Some(of(3.0, 4.0)), 12),
            LayerKind::Colour => (Some(of(2.0, 3.0)), 12),
            LayerKind::Activator => (Some(of(1.0, 2.0)), 0),
            LayerKind::Medium => (None, 12),
        };
        Self {
            window,
            rest: TimeDelta::hours(hours),
            recheck_after: TimeDelta::minutes(60),
            stir: None,
            limit: Share(0.25),
        }
    }
}

/// One numbered version of a recipe. It is never rewritten.
#[derive(Debug, Clone, PartialEq)]
pub struct Variant {
    /// The store's number.
    pub id: i64,
    /// Whose variant it is.
    pub recipe: i64,
    /// Its number within the recipe, from 1.
    pub number: i64,
    /// The variant it was changed from.
    pub parent: Option<i64>,
    /// When it was written down.
    pub at: Moment,
    /// Whether its shares are by weight rather than by volume.
    pub by_weight: bool,
    /// What goes in, in order.
    pub parts: Vec<Part>,
    /// What it is meant to do.
    pub targets: Targets,
    /// What was changed, or anything else.
    pub note: Option<String>,
}

/// Whether making `recipe` of `parts` would lead back to itself, given what every other recipe is made of.
#[must_use]
pub fn leads_to_itself(recipe: i64, parts: &[Part], made_of: &HashMap<i64, Vec<i64>>) -> bool {
    let mut open: Vec<i64> = recipes_in(parts).collect();
    let mut seen = HashSet::new();
    while let Some(next) = open.pop() {
        if next == recipe {
            return true;
        }
        if seen.insert(next) {
            open.extend(made_of.get(&next).into_iter().flatten());
        }
    }
    false
}

/// A recipe that leads to itself, or is more than `most` recipes deep; `None` where none is.
///
/// Each recipe is looked at once after all that it is made of, without recursion: a file may hold any chain.
#[must_use]
pub fn too_deep(made_of: &HashMap<i64, Vec<i64>>, most: usize) -> Option<i64> {
    let mut depths: HashMap<i64, usize> = HashMap::new();
    let mut open: HashSet<i64> = HashSet::new();
    let mut todo: Vec<i64> = made_of.keys().copied().collect();
    while let Some(&recipe) = todo.last() {
        let parts = made_of.get(&recipe).map_or(&[][..], Vec::as_slice);
        if depths.contains_key(&recipe) {
            todo.pop();
        } else if open.insert(recipe) {
            let unknown = parts.iter().filter(|part| !depths.contains_key(part));
            todo.extend(unknown.copied());
        } else {
            // All it is made of was looked at, or is still open above it and so leads to it.
            let below: Option<Vec<usize>> =
                parts.iter().map(|part| depths.get(part).copied()).collect();
            let depth = below.map(|below| below.into_iter().max().map_or(0, |deepest| deepest + 1));
            match depth {
                Some(depth) if depth <= most => drop(depths.insert(recipe, depth)),
                _ => return Some(recipe),
            }
            todo.pop();
        }
    }
    None
}

/// The recipes among parts.
pub fn recipes_in(parts: &[Part]) -> impl Iterator<Item = i64> {
    parts.iter().filter_map(|part| match part.of {
        PartOf::Recipe(recipe) => Some(recipe),
        PartOf::Material(_) => None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_goes_round_or_too_deep_is_found_and_what_branches_is_not() {
        let made = |pairs: &[(i64, &[i64])]| -> HashMap<i64, Vec<i64>> {
            pairs
                .iter()
                .map(|(of, parts)| (*of, parts.to_vec()))
                .collect()
        };
        assert_eq!(too_deep(&made(&[(1, &[1])]), 32), Some(1));
        assert!(too_deep(&made(&[(1, &[2]), (2, &[3]), (3, &[1])]), 32).is_some());
        let diamond = made(&[(1, &[2, 3]), (2, &[4]), (3, &[4]), (4, &[])]);
        assert_eq!(
            (too_deep(&diamond, 2), too_deep(&diamond, 1)),
            (None, Some(1))
        );
        let chain: HashMap<i64, Vec<i64>> = (0..100_000).map(|n| (n, vec![n + 1])).collect();
        assert!(
            too_deep(&chain, 32).is_some(),
            "without a stack that overflows"
        );
    }

    fn part(recipe: i64) -> Part {
        Part {
            of: PartOf::Recipe(recipe),
            share: 1.0,
        }
    }

    #[test]
    fn a_recipe_in_itself_is_found_at_any_depth() {
        let made_of = HashMap::from([(2, vec![3]), (3, vec![1])]);
        assert!(leads_to_itself(1, &[part(1)], &HashMap::new()));
        assert!(leads_to_itself(1, &[part(2)], &made_of));
        assert!(!leads_to_itself(4, &[part(2)], &made_of));
    }

    #[test]
    fn an_older_cycle_elsewhere_does_not_hang_the_search() {
        let made_of = HashMap::from([(2, vec![3]), (3, vec![2])]);
        assert!(!leads_to_itself(1, &[part(2)], &made_of));
    }
}
