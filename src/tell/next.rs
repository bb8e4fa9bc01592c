//! What is said of a variant to pour next.

use super::findings::in_100;
use crate::studio::{Suggestion, SuggestionKind};

/// Why it is suggested, without a full stop.
#[must_use]
pub fn why(one: &Suggestion) -> String {
    let of = format!("{} of {} good", one.good, one.pours);
    match one.kind {
        SuggestionKind::Best if one.good == 0 => {
            format!("nothing gave good cells yet: {of}, and no other did better")
        }
        SuggestionKind::Best => best(one, &of),
        SuggestionKind::Learn if one.pours == 0 => format!(
            "teaches the most: never poured and judged; as many as {} may be good, as far as the others tell",
            in_100(one.upper)
        ),
        SuggestionKind::Learn => format!(
            "teaches the most: {of} so far; as many as {} may be, and its chance to be the best is {}",
            in_100(one.upper),
            in_100(one.chance_of_best)
        ),
        SuggestionKind::Control => format!(
            "a repeat, as a control: {of}; the same again shows whether anything else changed"
        ),
    }
}

fn best(one: &Suggestion, of: &str) -> String {
    let colour = if one.behind_other { " colour" } else { "" };
    let sure = in_100(one.chance_of_best);
    let best = match one.is_likely_best() {
        true => format!("likely the best{colour}, {sure}: {of}"),
        false => format!("the surest{colour} so far: {of}; its chance to be the best is {sure}"),
    };
    match one.loss_if_wrong {
        Some(lost) if lost >= 0.005 => format!(
            "{best}; where another is, about {:.0} good pours in 100 are lost",
            lost * 100.0
        ),
        _ => best,
    }
}
