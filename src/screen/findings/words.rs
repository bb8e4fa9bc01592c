//! What was found, in sentences.

use super::{ENOUGH, Findings, Wish};
use crate::screen::action::Action;
use crate::screen::keys::key_of;
use crate::screen::model::Model;
use crate::screen::pour;
use crate::studio::{Findings as Found, VariantTally};
use crate::trade::text::inert;

/// What was found, and what the hands may do about it.
pub fn headline(model: &Model) -> String {
    let findings = &model.findings;
    let Some(found) = &findings.found else {
        return "Reading what worked.".to_owned();
    };
    let when = findings.window.words();
    if found.pours == 0 {
        return unjudged(&when);
    }
    let (enough, early): (Vec<_>, Vec<_>) = found.variants.iter().partition(|row| ranked(row));
    match enough.as_slice() {
        [] => too_early(found, &when),
        [first, others @ ..] => leads(first, others, early.len(), &when),
    }
}

fn unjudged(when: &str) -> String {
    let judge = key_of(Action::Pour(pour::Wish::Judge));
    format!("No pour was judged {when}: {judge} on the Pour judges one.")
}

/// Whether a variant has pours enough to be ranked.
pub fn ranked(row: &VariantTally) -> bool {
    row.pours >= ENOUGH
}

fn too_early(found: &Found, when: &str) -> String {
    let most = found.variants.iter().max_by_key(|row| row.pours);
    let most = most.map(|row| format!(" Most: {}.", tally(row)));
    format!(
        "Too early to tell: {} {when}, no variant in {ENOUGH} of them.{}",
        counted(found.pours, "judged pour"),
        most.unwrap_or_default()
    )
}

fn leads(first: &VariantTally, others: &[&VariantTally], early: usize, when: &str) -> String {
    if first.good == 0 {
        let tried = others.len() + 1;
        return format!(
            "Nothing gave good cells {when} yet, of {} poured {ENOUGH} times or more.",
            counted(tried, "variant")
        );
    }
    // Its lower edge is the highest; one whose upper edge reaches it may be as good.
    let near: Vec<_> = others
        .iter()
        .filter(|row| row.wilson.1 >= first.wilson.0)
        .collect();
    let mut said = format!("{} leads: {}", title(first), of(first));
    match near.as_slice() {
        [] => {}
        [one] => said += &format!("; {} may be as good: {}", title(one), of(one)),
        more => said += &format!("; {} others may be as good", more.len()),
    }
    if early > 0 {
        said += "; too early to rank the others";
    }
    said + "."
}

/// `River blue v3`, safe to show.
pub fn title(row: &VariantTally) -> String {
    format!("{} v{}", inert(&row.recipe), row.variant)
}

/// `9 of 12 good`.
pub fn of(row: &VariantTally) -> String {
    format!("{} of {} good", row.good, row.pours)
}

fn tally(row: &VariantTally) -> String {
    format!("{}, {}", title(row), of(row))
}

/// `1 pour`, `2 pours`.
pub fn counted(number: usize, word: &str) -> String {
    let plural = if number == 1 { "" } else { "s" };
    format!("{number} {word}{plural}")
}

/// The chosen row in a sentence, beneath it.
pub fn beneath(row: &VariantTally) -> String {
    let open = key_of(Action::Findings(Wish::Behind));
    let pours = format!("{open} shows its {}", counted(row.pours, "pour"));
    let (low, high) = (row.wilson.0 * 100.0, row.wilson.1 * 100.0);
    let edges = format!("as few as {low:.0} or as many as {high:.0} in 100 may be good");
    if ranked(row) {
        return format!("{edges}; {pours}");
    }
    format!(
        "too early to tell: {}, from {ENOUGH} on it is ranked; {edges}; {pours}",
        counted(row.pours, "judged pour")
    )
}

/// What the numbers stand for, once for all rows.
pub fn legend(findings: &Findings) -> String {
    let Some(found) = &findings.found else {
        return String::new();
    };
    format!(
        "{} of {} good, that is cells {} or more. A pour counts for each variant in it. \
         ● the rate, ├─┤ its 95 % interval; the surest first.",
        found.good,
        counted(found.pours, "judged pour"),
        found.bar
    )
}
