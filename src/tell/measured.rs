//! What is said of pours by what was measured of them.

use crate::numbers::statistics::findings::Finding;
use crate::numbers::statistics::ranks::Agreement;
use crate::studio::{MeasuredFindings, OutcomeKind};
use crate::trade::amount::Measures;
use crate::trade::length::show_length;
use crate::trade::units::Millimetres;

/// How many factors are shown where none is to be spoken of.
const SHOWN_ELSE: usize = 3;

/// What was measured, in words: `the share of the panel under cells`.
#[must_use]
pub const fn outcome(outcome: OutcomeKind) -> &'static str {
    match outcome {
        OutcomeKind::Good => "good pours",
        OutcomeKind::Cells => "your cells, 0 to 5",
        OutcomeKind::Share => "the share of the panel under cells",
        OutcomeKind::Diameter => "the diameter of cells, half of them under it",
        OutcomeKind::Evenness => "how much their diameters vary, less is evener",
        OutcomeKind::Number => "cells to a square decimetre",
    }
}

/// A value of it with its unit.
#[must_use]
pub fn value(outcome: OutcomeKind, value: f64, measures: Measures) -> String {
    match outcome {
        OutcomeKind::Diameter => show_length(Millimetres(value), measures),
        OutcomeKind::Share | OutcomeKind::Evenness => format!("{value:.1} %"),
        OutcomeKind::Good | OutcomeKind::Cells | OutcomeKind::Number => format!("{value:.1}"),
    }
}

/// What it rests on.
#[must_use]
pub fn head(found: &MeasuredFindings, measures: Measures) -> String {
    let what = outcome(found.outcome);
    match found.middle {
        None => format!(
            "{what}: no photo of these pours is measured yet. Keep one: stillcup photo POUR FILE"
        ),
        Some(middle) => format!(
            "{what}: {} measured, the middle at {}",
            pours(found.pours),
            value(found.outcome, middle, measures)
        ),
    }
}

fn pours(count: usize) -> String {
    format!("{count} {}", if count == 1 { "pour" } else { "pours" })
}

/// What is said beneath the variants: how far the painter's eye and the camera agree, and what went with it.
#[must_use]
pub fn beneath(found: &MeasuredFindings) -> Vec<String> {
    if found.pours == 0 {
        return Vec::new();
    }
    let agreed = found.agreement.map(|one| agreement(&one, found.outcome));
    agreed.into_iter().chain(factors(found)).collect()
}

/// What is said of factors, or of the few nearest to it.
#[must_use]
pub fn factors(found: &MeasuredFindings) -> Vec<String> {
    let words = |one: &Finding| super::findings::factor(one, found.outcome);
    if let Err(early) = found.basis {
        return vec![super::findings::too_early(early)];
    }
    let said = found.factors.iter().filter(|one| one.is_said());
    let lines: Vec<String> = said.map(words).collect();
    if !lines.is_empty() {
        return lines;
    }
    let near = found.factors.iter().take(SHOWN_ELSE).map(words);
    std::iter::once("no factor is likelier to matter than not".to_owned())
        .chain(near)
        .collect()
}

/// How far the painter's eye and the camera agree.
#[must_use]
pub fn agreement(one: &Agreement, outcome: OutcomeKind) -> String {
    let tau = match outcome.less_is_better() {
        true => -one.tau,
        false => one.tau,
    };
    let (low, high) = match outcome.less_is_better() {
        true => (-one.interval.high, -one.interval.low),
        false => (one.interval.low, one.interval.high),
    };
    let said = match (low > 0.0, high < 0.0) {
        (true, _) => "your cells, 0 to 5, go with it",
        (_, true) => "your cells, 0 to 5, go against it",
        _ => "whether your cells, 0 to 5, go with it cannot be told",
    };
    format!(
        "{said}: Kendall's tau-b {tau:.2} ({low:.2} to {high:.2}) over {} pours",
        one.pairs
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::numbers::statistics::proportion::Interval;

    #[test]
    fn agreement_is_told_the_way_that_better_goes() {
        let one = |tau, low, high| Agreement {
            tau,
            interval: Interval { low, high },
            pairs: 24,
        };
        let told = agreement(&one(0.4, 0.2, 0.6), OutcomeKind::Share);
        assert_eq!(
            told,
            "your cells, 0 to 5, go with it: Kendall's tau-b 0.40 (0.20 to 0.60) over 24 pours"
        );
        let even = agreement(&one(-0.4, -0.6, -0.2), OutcomeKind::Evenness);
        assert_eq!(even, told);
        assert!(agreement(&one(0.1, -0.2, 0.4), OutcomeKind::Number).contains("cannot be told"));
    }
}
