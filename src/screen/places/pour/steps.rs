//! What the steps of the stack say, from one layer to the next.

use crate::studio::{StackAdvice, StackStep};
use crate::tell;
use crate::trade::amount::Measures;
use crate::trade::instant::Now;
use crate::trade::length::show_length;
use crate::trade::units::Share;

/// From here on nothing is left of a doubt, and no percentage is said (ours).
const SURE: f64 = 99.5;

/// How sure it is that a layer is thinner than the one below it, or that it is not.
fn order(holds: Share) -> String {
    let (is, sure) = match holds.get() >= 0.5 {
        true => ("", holds),
        false => ("not ", Share(1.0 - holds.get())),
    };
    let percent = sure.get() * 100.0;
    if percent >= SURE {
        return format!("{is}thinner than the layer below");
    }
    let how = if tell::is_likely(sure) {
        "probably"
    } else {
        "perhaps"
    };
    format!("{how} {is}thinner than the layer below ({percent:.0} %)")
}

/// What one step of the ladder says: the chance that its order holds, cells by density as a band, and what would mend
/// it. Its faults stand among those of the stack.
pub fn words(step: &StackStep, measures: Measures, now: &Now) -> Vec<String> {
    let mut words = Vec::new();
    words.extend(step.order_holds.map(order));
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
