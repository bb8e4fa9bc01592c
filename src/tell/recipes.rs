//! What a variant is meant to do and what it changed, in words.

use crate::numbers::paint;
use crate::studio::{RecipePage, VariantChange};
use crate::tell::Told;
use crate::trade::amount::Measures;
use crate::trade::colour::Colour;
use crate::trade::duration::{show, show_stirring};
use crate::trade::instant::Now;
use crate::trade::range::Window;
use crate::trade::recipe::Targets;
use crate::trade::units::{Minutes, Share};
use chrono::TimeDelta;

/// What a variant is meant to do: `mound 2 to 3 s; stir 4 min; rests 12 h; look again after 1 h; thinner at most 25 %`.
#[must_use]
pub fn targets(targets: &Targets) -> String {
    let mut said = vec![mound(targets.window)];
    said.extend(targets.stir.map(stir));
    said.push(rest(targets.rest));
    said.push(recheck(targets.recheck_after));
    said.push(limit(targets.limit));
    said.join("; ")
}

/// What it asks of a cup that stands: `mound 2 to 3 s; rests 12 h; look again after 1 h`.
#[must_use]
pub fn asks(targets: &Targets) -> String {
    let of = [
        mound(targets.window),
        rest(targets.rest),
        recheck(targets.recheck_after),
    ];
    of.join("; ")
}

/// The same in the nearest plain word: `about blue`.
#[must_use]
pub fn about(colour: Colour) -> String {
    format!("about {}", paint::word(colour))
}

/// The colour its parts make, as far as that can be told: `about blue, if its paints tint alike`.
#[must_use]
pub fn colour(colour: Colour) -> String {
    format!("{}, if its paints tint alike", about(colour))
}

fn mound(window: Option<Window>) -> String {
    window.map_or_else(
        || "no mound asked".to_owned(),
        |window| format!("mound {window}"),
    )
}

fn stir(time: Minutes) -> String {
    format!("stir {}", show_stirring(time))
}

fn rest(time: TimeDelta) -> String {
    match time.is_zero() {
        true => "needs no rest".to_owned(),
        false => format!("rests {}", show(time)),
    }
}

fn recheck(after: TimeDelta) -> String {
    format!("look again after {}", show(after))
}

fn limit(share: Share) -> String {
    format!("thinner at most {:.0} %", share.get() * 100.0)
}

/// What a variant changed of the one it came from: `changed of v1: Blue 1 to 2`; `None` where that is nothing.
#[must_use]
pub fn changed(page: &RecipePage, place: usize, measures: Measures, now: &Now) -> Option<String> {
    let changed = page.changed(place);
    let changed: Vec<_> = changed.iter().map(|one| one.told(measures, now)).collect();
    let parent = page.parent(place).filter(|_| !changed.is_empty())?;
    Some(format!("changed of v{parent}: {}", changed.join(", ")))
}

impl Told for VariantChange {
    fn told(&self, _measures: Measures, _now: &Now) -> String {
        match self {
            Self::Added(part, share) => format!("{part} {share} added"),
            Self::Share { part, was, is } => format!("{part} {was} to {is}"),
            Self::LeftOut(part) => format!("{part} left out"),
            Self::Mound(window) => mound(Some(*window)),
            Self::Rest { was, is } => format!("rest {} to {}", show(*was), show(*is)),
            Self::RecheckAfter { was, is } => {
                format!("look again after {} to {}", show(*was), show(*is))
            }
            Self::Stir(time) => stir(*time),
            Self::Limit(share) => limit(*share),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_needs_no_rest_and_asks_no_mound_says_so() {
        let given = Targets {
            window: None,
            rest: TimeDelta::zero(),
            recheck_after: TimeDelta::minutes(60),
            stir: Some(Minutes(4.5)),
            limit: Share(0.25),
        };
        assert_eq!(
            targets(&given),
            "no mound asked; stir 4.5 min; needs no rest; look again after 1 h; thinner at most 25 %"
        );
        assert_eq!(
            asks(&given),
            "no mound asked; needs no rest; look again after 1 h"
        );
    }
}
