//! What was found, in sentences.

use super::measured::Measured;
use super::why::Why;
use super::{Findings, KEYS, Pours, WHY, Wish};
use crate::numbers::statistics::averaging::Lack;
use crate::numbers::statistics::drift::Verdict;
use crate::numbers::statistics::findings::{Finding, Standing};
use crate::numbers::statistics::proportion::Tally;
use crate::screen::kit::keys::key_of;
use crate::studio::{
    Findings as Found, OutcomeKind, RANKED_FROM as ENOUGH, Suggestion, SuggestionKind, VariantTally,
};
use crate::tell;
use crate::trade::recipe::variant_title;
use crate::trade::text::inert;

/// What was found, and what the hands may do about it.
pub fn headline(findings: &Findings) -> String {
    let findings = &findings;
    let Some(found) = findings.found() else {
        return "Reading what worked.".to_owned();
    };
    let when = findings.window.words();
    if let Some(measured) = findings
        .measured
        .as_ref()
        .filter(|_| findings.why.is_none())
    {
        return headline_of_measured(measured, &when);
    }
    if found.pours == 0 {
        return unjudged(&when);
    }
    if let Some(best) = &findings.best {
        return best.headline();
    }
    if let Some(why) = &findings.why {
        return headline_of_why(why, found, &when);
    }
    let (early, enough): (Vec<_>, Vec<_>) = found.variants.iter().partition(|row| row.is_early());
    let [first, others @ ..] = enough.as_slice() else {
        return too_early(found, &when);
    };
    match found.variants.first() {
        Some(row) if row.is_early() && row.good > 0 => ahead(row, first),
        _ => leads(first, others, early.len(), &when),
    }
}

/// What was measured, of how many pours.
fn headline_of_measured(measured: &Measured, when: &str) -> String {
    let what = tell::measured::outcome(measured.outcome);
    match measured.found() {
        None => "Reading what the photos say.".to_owned(),
        Some(found) if found.pours == 0 => {
            format!("By {what}: nothing is measured {when}; p on the Rack keeps a photo.")
        }
        Some(found) => format!(
            "By {what}: {} {when}.",
            counted(found.pours, "measured pour")
        ),
    }
}

/// The pours behind a row of what the photos say.
pub fn of_measured<'a>(findings: &Findings, measured: &'a Measured) -> Option<Pours<'a>> {
    let row = measured.chosen()?;
    let title = format!(
        "The measured pours of {}, {}",
        variant_title(&inert(&row.recipe), row.variant),
        findings.window.words()
    );
    let pours = measured.behind();
    Some(Pours { title, pours })
}

/// A row that was judged seldom stands first: said so, with the first that was judged often enough.
fn ahead(row: &VariantTally, first: &VariantTally) -> String {
    let next = format!(
        "Of {ENOUGH} pours or more {} leads: {}",
        title(first),
        of(first)
    );
    format!("{}: {}, too early to tell. {next}.", title(row), of(row))
}

/// What stands out, or what is being set beside what.
fn headline_of_why(why: &Why, found: &Found, when: &str) -> String {
    let Some(reasons) = &why.reasons else {
        return "Looking at what went with good pours.".to_owned();
    };
    if let Some(pair) = &why.pair {
        let [first, second] = &pair.table.names;
        let (first, second) = (inert(first), inert(second));
        return format!("{first} beside {second}: how many pours were good.");
    }
    if let Some(first) = &why.first {
        let beside = key_of(WHY, &Wish::Beside);
        return format!(
            "{} beside which factor? Choose it, then {beside}.",
            inert(first)
        );
    }
    let pours = counted(found.pours, "judged pour");
    if found.too_early {
        return format!(
            "Too early to tell what went with good pours: {} of {pours} good. Judge more, good and bad ones.",
            found.good
        );
    }
    let said: Vec<_> = reasons.factors.iter().filter(|one| one.is_said()).collect();
    match said.as_slice() {
        [] => format!("No factor stands out among {pours}: what differs may be chance."),
        [first, rest @ ..] => {
            let more = match rest.len() {
                0 => String::new(),
                n => format!(", and {} more", counted(n, "factor")),
            };
            let first = told_name(first);
            format!("{first} went with good pours {when}{more}. Found by looking, not by a trial.")
        }
    }
}

/// A factor's name, with those that cannot be told from it.
fn told_name(one: &Finding) -> String {
    match &one.standing {
        Standing::Weighed { twins, .. } => tell::findings::named(&one.name, twins),
        _ => inert(&one.name).into_owned(),
    }
}

/// How sure a factor is, in a word or two.
pub fn verdict(one: &Finding) -> String {
    match &one.standing {
        Standing::Weighed { inclusion, .. } => tell::findings::in_100(*inclusion),
        Standing::Twin(_) => "goes with it".to_owned(),
        Standing::LeftOut(Lack::Written(1..) | Lack::WrittenByOutcome(_)) => "has gaps".to_owned(),
        Standing::LeftOut(_) => "no telling".to_owned(),
        Standing::TooEarly(_) => "too early".to_owned(),
    }
}

/// Whether pours changed with time, in a few words.
pub fn change(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::TooFew(_) | Verdict::OneStretch(_) => "as time went on: no telling",
        Verdict::AllAlike | Verdict::NoSign(_) => "as time went on: no sign of change",
        Verdict::Changed { trend, .. } if trend.value > 0.0 => "as time went on: up",
        Verdict::Changed { .. } => "as time went on: down",
    }
}

/// What a suggestion is for, in a word or two.
pub fn kind_word(one: &Suggestion) -> &'static str {
    match one.kind {
        SuggestionKind::Best if one.is_likely_best() => "likely best",
        SuggestionKind::Best => "surest",
        SuggestionKind::Learn => "teaches most",
        SuggestionKind::Control => "a control",
    }
}

/// The chosen suggestion's reason, and what its keys are.
pub fn beneath_next(one: &Suggestion) -> String {
    let [plan, mix] = [Wish::Plan, Wish::Mix].map(|wish| key_of(WHY, &wish));
    format!("{}. {plan} plans it, {mix} mixes it.", tell::next::why(one))
}

/// The chosen factor's sentence, and what its keys are.
pub fn beneath_factor(one: &Finding, outcome: OutcomeKind) -> String {
    let [beside, numbers] = [Wish::Beside, Wish::Statistics].map(|wish| key_of(WHY, &wish));
    let words = tell::findings::factor(one, outcome);
    format!("{words} {beside} sets it beside another; {numbers} shows the statistics.")
}

/// `; Enter shows its 12 pours`.
pub fn opens(pours: usize) -> String {
    let open = key_of(KEYS, &Wish::Behind);
    format!("; {open} shows its {}", counted(pours, "pour"))
}

/// `9 of 12 good`.
pub fn of_tally(tally: Tally) -> String {
    format!("{} of {} good", tally.good, tally.pours)
}

/// What the signs of a table stand for.
pub fn legend_of_pair() -> String {
    "● the rate, ├─┤ its 95 % interval; + is and.".to_owned()
}

fn unjudged(when: &str) -> String {
    format!("No pour was judged {when}: d on the Pour judges one.")
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
        said += "; too early to tell of the others";
    }
    said + "."
}

/// `River blue v3`, safe to show.
pub fn title(row: &VariantTally) -> String {
    variant_title(&inert(&row.recipe), row.variant)
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
    let open = key_of(KEYS, &Wish::Behind);
    let pours = format!("{open} shows its {}", counted(row.pours, "pour"));
    let (low, high) = (row.wilson.0 * 100.0, row.wilson.1 * 100.0);
    let edges = format!("as few as {low:.0} or as many as {high:.0} in 100 may be good");
    if !row.is_early() {
        return format!("{edges}; {pours}");
    }
    format!(
        "too early to tell: {}, from {ENOUGH} on its place counts; {edges}; {pours}",
        counted(row.pours, "judged pour")
    )
}

/// What the numbers stand for, once for all rows.
pub fn legend(findings: &Findings) -> String {
    let Some(found) = findings.found() else {
        return String::new();
    };
    let by_cells = match findings.by_cells {
        true => " What went with them is held against your cells, 0 to 5.",
        false => "",
    };
    format!(
        "{} of {} good, that is cells {} or more. A pour counts for each variant in it. \
         ● the rate, ├─┤ its 95 % interval; the surest first.{by_cells}",
        found.good,
        counted(found.pours, "judged pour"),
        found.bar
    )
}
