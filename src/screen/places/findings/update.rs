//! What the Findings' keys change. Nothing here is written down.

use super::why::{Row, Why};
use super::{Ask, Deed, Findings, WHY, Wish, forms};
use crate::screen::kit::desk::Desk;
use crate::screen::kit::handover::{Handover, Usual};
use crate::screen::kit::keys::key_of;
use crate::screen::kit::message::{Message, Tone};
use crate::screen::kit::place;
use crate::screen::kit::sheet::Sheet;
use crate::studio::Suggestion;
use crate::tell;

type Next = place::Next<Ask, Deed>;

/// Takes a wish.
pub fn update(findings: &mut Findings, wish: Wish, desk: &mut Desk) -> Option<Next> {
    match wish {
        Wish::Look(window) => findings.look(window),
        Wish::MonthBefore => turn_month(findings, -1, desk),
        Wish::MonthAfter => turn_month(findings, 1, desk),
        Wish::Month => return Next::ask(Ask::Month, forms::month(desk)),
        Wish::Why => findings.ask_why(),
        Wish::Best => findings.ask_best(),
        Wish::Outcome => findings.turn_outcome(),
        Wish::Away => away(findings),
        Wish::Beside => beside(findings, desk),
        Wish::Statistics => statistics(findings, desk),
        Wish::Behind if !findings.behind_chosen().is_empty() => findings.behind = Some(0),
        Wish::Behind => nothing_behind(findings, desk),
        Wish::Rows => findings.behind = None,
        Wish::Pour => open_pour(findings, desk),
        Wish::Plan if findings.best.is_some() => plan_best(findings, desk),
        Wish::Plan => with_suggestion(findings, desk, plan_it),
        Wish::Mix => with_suggestion(findings, desk, mix_it),
    }
    None
}

/// The statistics behind the sentences, as a page.
fn statistics(findings: &Findings, desk: &mut Desk) {
    let why = findings.why.as_ref();
    if let Some(reasons) = why.and_then(|why| why.reasons.as_ref()) {
        let mut sheet = Sheet::titled("The statistics");
        let words = tell::findings::statistics(reasons);
        words.iter().for_each(|words| sheet.words(words));
        desk.show(sheet);
    }
}

fn nothing_behind(findings: &Findings, desk: &mut Desk) {
    let why = findings.why.as_ref();
    desk.refuse(match why {
        None if findings.measured.is_some() => "There is no row to open: no photo is measured",
        None => "There is no row to open: no pour of this window was judged",
        Some(_) => "No pour stands behind this row alone",
    });
}

fn away(findings: &mut Findings) {
    let left = findings.best.take().is_some();
    if left || (findings.why.is_none() && findings.measured.take().is_some()) {
        return;
    }
    if !findings.why.as_mut().is_some_and(Why::back) {
        findings.why = None;
    }
}

fn beside(findings: &mut Findings, desk: &mut Desk) {
    let done = findings.why.as_mut().map(Why::beside);
    if let Some(Err(why)) = done {
        desk.refuse(why);
    }
}

/// A wish about the chosen suggestion.
fn with_suggestion(
    findings: &Findings,
    desk: &mut Desk,
    deed: fn(&Findings, &Suggestion, &mut Desk),
) {
    let why = findings.why.as_ref().filter(|why| why.pair.is_none());
    match why.and_then(Why::chosen) {
        Some(Row::Next(one)) => deed(findings, one, desk),
        _ => desk.refuse("Choose one of what to try next: the first rows"),
    }
}

fn mix_it(_findings: &Findings, one: &Suggestion, desk: &mut Desk) {
    desk.hand(Handover::Mix {
        recipe: one.recipe.clone(),
        variant: Some(one.variant),
    });
}

/// The panel, the way and the stack of the last pour with it.
fn plan_it(findings: &Findings, one: &Suggestion, desk: &mut Desk) {
    let behind = findings.behind_chosen();
    let last = behind.first().map(|page| Usual::of(page));
    let alone = || Usual {
        recipes: vec![one.recipe.clone()],
        ..Usual::default()
    };
    desk.hand(Handover::Plan(last.unwrap_or_else(alone)));
    if one.newest != one.variant {
        let mix = key_of(WHY, &Wish::Mix);
        let (recipe, newest, variant) = (&one.recipe, one.newest, one.variant);
        let words = format!(
            "A plan takes {recipe} as it is now, v{newest}; {mix} on the Findings mixes v{variant}"
        );
        desk.say(Message::new(Tone::Odd, &words));
    }
}

/// The panel, the way and the stack of the last pour, with the advised film, and the other settings in the note.
fn plan_best(findings: &Findings, desk: &mut Desk) {
    let best = findings.best.as_ref().and_then(|best| best.found());
    let Some(advice) = best.and_then(|found| found.advice.as_ref()) else {
        return desk.refuse("Nothing is advised yet, so there is nothing to plan");
    };
    let last = findings.last_pour().map(Usual::of).unwrap_or_default();
    desk.hand(Handover::Plan(Usual {
        film: advice.film(),
        note: Some(tell::best::settings(advice)),
        ..last
    }));
}

fn turn_month(findings: &mut Findings, by: i32, desk: &mut Desk) {
    match findings.window.month_away(by, &desk.beat.now) {
        Some(window) => findings.look(window),
        None => desk.refuse("That month is still to come"),
    }
}

fn open_pour(findings: &Findings, desk: &mut Desk) {
    let pours = findings.behind_chosen();
    let chosen = findings.behind.and_then(|at| pours.get(at).copied());
    if let Some(page) = chosen {
        desk.show(super::page::sheet(desk, page));
    }
}
