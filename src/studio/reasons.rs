//! What went with good pours, and what to try next.

use crate::numbers::statistics::choice::{Belief, bayes_upper_bounds, chance_of_best};
use crate::numbers::statistics::findings::{Finding, find};
use crate::numbers::statistics::joint::{Joint, joint};
use crate::numbers::statistics::proportion::Tally;
use crate::studio::{Answer, Asked, Findings, Studio, VariantTally, factors};
use crate::trade::instant::Now;
use crate::trade::recipe::LayerKind;
use crate::trade::words::word_enum;

/// What went with good pours in a window of time.
#[derive(Debug, Clone)]
pub struct Reasons {
    /// Every factor, the surest first.
    pub factors: Vec<Finding>,
    /// The few that matter, together; or why there is no such fit yet.
    pub fit: Result<Joint, String>,
    /// What to try next.
    pub next: Vec<Suggestion>,
}

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
    /// Why it is suggested.
    pub kind: SuggestionKind,
    /// The same in words.
    pub why: String,
    /// The probability that it is the best of all.
    pub chance_of_best: f64,
}

impl Studio {
    /// What went with good pours in a window of time, and what to try next.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn reasons(&self, asked: &Asked, found: &Findings, now: &Now) -> Answer<Reasons> {
        let judged = self.judged(asked)?;
        let read = self.book.read()?;
        let (factors, rows) = factors::table(&read, &judged, found.bar, now)?;
        let mut findings = find(&factors, &rows);
        let fit = joint(&factors, &rows, &findings);
        let key = |one: &Finding| one.p.unwrap_or(f64::INFINITY);
        findings.sort_by(|a, b| key(a).total_cmp(&key(b)));
        Ok(Reasons {
            factors: findings,
            fit,
            next: next(found),
        })
    }
}

/// The likely best, the one that teaches most, and the best known again as a control: among colours, where the
/// studio has them, for a base lies under every pour.
fn next(found: &Findings) -> Vec<Suggestion> {
    let colours: Vec<&VariantTally> = found
        .variants
        .iter()
        .filter(|one| one.layer == LayerKind::Colour)
        .collect();
    let all: Vec<&VariantTally> = found.variants.iter().collect();
    let among = if colours.is_empty() { all } else { colours };
    let beliefs: Vec<Belief> = among.iter().map(|one| Belief::after(tally(one))).collect();
    let chances = chance_of_best(&beliefs);
    let uppers = bayes_upper_bounds(&beliefs, u32::try_from(found.pours + 1).unwrap_or(u32::MAX));
    let highest = |values: &[f64], but: &[Option<usize>]| {
        let places = (0..among.len()).filter(|place| !but.contains(&Some(*place)));
        places.max_by(|a, b| values[*a].total_cmp(&values[*b]))
    };
    // The tallies come in the order of what is believed of them, so that one lucky pour never leads.
    let best = (!among.is_empty()).then_some(0);
    let learn = highest(&uppers, &[best]);
    let often: Vec<f64> = among.iter().map(|one| one.pours as f64).collect();
    let control = highest(&often, &[best, learn]);
    let told = |place: Option<usize>, kind| {
        let place = place?;
        Some(suggestion(among[place], kind, chances[place]))
    };
    [
        told(best, SuggestionKind::Best),
        told(learn, SuggestionKind::Learn),
        told(control, SuggestionKind::Control),
    ]
    .into_iter()
    .flatten()
    .collect()
}

fn suggestion(one: &VariantTally, kind: SuggestionKind, chance: f64) -> Suggestion {
    let (good, pours) = (one.good, one.pours);
    let why = match kind {
        SuggestionKind::Best => format!("likely the best: {good} of {pours} good"),
        SuggestionKind::Learn => format!(
            "would teach the most: only {good} of {pours} good so far, and it may be better"
        ),
        SuggestionKind::Control => {
            format!("as a control: poured most often, {good} of {pours} good")
        }
    };
    Suggestion {
        recipe: one.recipe.clone(),
        variant: one.variant,
        kind,
        why,
        chance_of_best: chance,
    }
}

fn tally(one: &VariantTally) -> Tally {
    let count = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
    Tally::new(count(one.good), count(one.pours))
}
