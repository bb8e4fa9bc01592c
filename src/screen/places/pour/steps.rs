//! What the steps of the stack say, from one layer to the next.

use crate::studio::{StackAdvice, StackStep};
use crate::tell;
use crate::trade::amount::Measures;
use crate::trade::instant::Now;
use crate::trade::length::show_length;

/// From here on nothing is left of a doubt, and no percentage is said (ours).
const SURE: f64 = 99.5;

/// What one step of the ladder says: the chance that its order holds, cells by density as a band, and what would mend
/// it. Its faults stand among those of the stack.
pub fn words(step: &StackStep, measures: Measures, now: &Now) -> Vec<String> {
    let mut words = Vec::new();
    if let Some(holds) = step.order_holds {
        let percent = holds.get() * 100.0;
        words.push(match percent >= 50.0 {
            true if percent >= SURE => "thinner than the layer below".to_owned(),
            false if percent <= 100.0 - SURE => "not thinner than the layer below".to_owned(),
            true => format!("probably thinner than the layer below ({percent:.0} %)"),
            false => format!(
                "probably not thinner than the layer below ({:.0} %)",
                100.0 - percent
            ),
        });
    }
    if let (Some(spacing), Some(shows)) = (step.spacing, step.shows_in) {
        words.push(format!(
            "heavier than the one below: cells about {} apart, {} (surface tension is not in this)",
            show_length(spacing.mid, measures),
            tell::shows(shows)
        ));
    }
    let unshown = step.spacing.is_none();
    let notes = step.check.notes.iter().filter(|_| unshown);
    words.extend(notes.map(|note| tell::words(note, measures, now)));
    let mends = |advice: &&StackAdvice| match advice {
        StackAdvice::Thin { .. } | StackAdvice::Swap { .. } | StackAdvice::Read { .. } => true,
        StackAdvice::ActivatorOnTop { .. } => false,
    };
    let advice = step.advice.as_ref().filter(mends);
    words.extend(advice.map(|advice| tell::words(advice, measures, now)));
    words
}
