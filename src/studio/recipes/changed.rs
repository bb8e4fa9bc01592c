//! What a variant changed of the one it came from, as facts.

use crate::studio::RecipePage;
use crate::trade::range::Window;
use crate::trade::recipe::Targets;
use crate::trade::units::{Minutes, Share};
use chrono::TimeDelta;

/// One thing that a variant changed.
#[derive(Debug, Clone, PartialEq)]
pub enum VariantChange {
    /// A part came in, so many of it.
    Added(String, f64),
    /// There is more or less of a part.
    Share {
        /// The part.
        part: String,
        /// How many of it there were.
        was: f64,
        /// How many there are.
        is: f64,
    },
    /// A part was left out.
    LeftOut(String),
    /// It aims at another mound.
    Mound(Window),
    /// It rests for another time.
    Rest {
        /// How long it rested.
        was: TimeDelta,
        /// How long it rests.
        is: TimeDelta,
    },
    /// It is looked at again after another time.
    RecheckAfter {
        /// After how long it was.
        was: TimeDelta,
        /// After how long it is.
        is: TimeDelta,
    },
    /// It is stirred for another time.
    Stir(Minutes),
    /// It may get another share of thinner.
    Limit(Share),
}

impl RecipePage {
    /// What a variant changed of its parent; empty for a first one.
    #[must_use]
    pub fn changed(&self, place: usize) -> Vec<VariantChange> {
        let Some(variant) = self.variants.get(place) else {
            return Vec::new();
        };
        let mut all = self.variants.iter();
        let Some(before) = all.position(|one| Some(one.id) == variant.parent) else {
            return Vec::new();
        };
        let mut changed = parts(&self.parts[before], &self.parts[place]);
        changed.extend(targets(&self.variants[before].targets, &variant.targets));
        changed
    }

    /// The number of the variant that one was changed from.
    #[must_use]
    pub fn parent(&self, place: usize) -> Option<i64> {
        let parent = self.variants.get(place)?.parent?;
        let mut all = self.variants.iter();
        all.find(|one| one.id == parent).map(|one| one.number)
    }
}

fn parts(before: &[(String, f64)], after: &[(String, f64)]) -> Vec<VariantChange> {
    let share = |parts: &[(String, f64)], name: &str| {
        let mut parts = parts.iter();
        parts.find(|(one, _)| one == name).map(|(_, share)| *share)
    };
    let kept = after.iter().filter_map(|(name, is)| {
        let part = name.clone();
        match share(before, name) {
            None => Some(VariantChange::Added(part, *is)),
            Some(was) if was != *is => Some(VariantChange::Share { part, was, is: *is }),
            Some(_) => None,
        }
    });
    let gone = before
        .iter()
        .filter(|(name, _)| share(after, name).is_none());
    let gone = gone.map(|(name, _)| VariantChange::LeftOut(name.clone()));
    kept.chain(gone).collect()
}

fn targets(before: &Targets, after: &Targets) -> Vec<VariantChange> {
    let mound = after.window.filter(|_| before.window != after.window);
    let rest = (before.rest != after.rest).then_some(VariantChange::Rest {
        was: before.rest,
        is: after.rest,
    });
    let (was, is) = (before.recheck_after, after.recheck_after);
    let recheck = (was != is).then_some(VariantChange::RecheckAfter { was, is });
    let stir = after.stir.filter(|_| before.stir != after.stir);
    let limit = Some(after.limit).filter(|limit| *limit != before.limit);
    let all = [
        mound.map(VariantChange::Mound),
        rest,
        recheck,
        stir.map(VariantChange::Stir),
        limit.map(VariantChange::Limit),
    ];
    all.into_iter().flatten().collect()
}
