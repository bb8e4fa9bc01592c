//! What the Findings' keys change. Nothing here is written down.

use super::why::{Row, Why};
use super::{Wish, forms};
use crate::screen::kit::message::{Message, Tone};
use crate::screen::kit::sheet::Sheet;
use crate::screen::places::plan::Usual;
use crate::screen::shell::action::Action;
use crate::screen::shell::effect::Effect;
use crate::screen::shell::model::{Model, Over, Page, PageKind};
use crate::screen::{
    places::{bench, plan},
    shell::keys,
};
use crate::studio::Suggestion;

/// Takes a wish.
pub fn update(model: &mut Model, wish: Wish) -> Vec<Effect> {
    let now = model.beat.now;
    let findings = &mut model.findings;
    match wish {
        Wish::Look(window) => findings.look(window),
        Wish::MonthBefore => turn_month(model, -1),
        Wish::MonthAfter => turn_month(model, 1),
        Wish::Month => model.ask(forms::month(&now)),
        Wish::Why => findings.ask_why(),
        Wish::Away => away(model),
        Wish::Beside => beside(model),
        Wish::Behind if !findings.behind_chosen().is_empty() => findings.behind = Some(0),
        Wish::Behind => nothing_behind(model),
        Wish::Rows => findings.behind = None,
        Wish::Pour => open_pour(model),
        Wish::Plan => return with_suggestion(model, plan_it),
        Wish::Mix => return with_suggestion(model, mix_it),
    }
    Vec::new()
}

/// A row without pours of its own: what is weighed together is read in full.
fn nothing_behind(model: &mut Model) {
    let why = model.findings.why.as_ref();
    if let Some(Row::Together(Ok(joint))) = why.and_then(Why::chosen) {
        let mut sheet = Sheet::titled("Weighed together");
        joint.words.iter().for_each(|words| sheet.words(words));
        let kind = PageKind::Sheet(sheet);
        model.over = Some(Over::Page(Page { kind, from: 0 }));
        return;
    }
    model.refuse(match why {
        None => "There is no row to open: no pour of this window was judged",
        Some(_) => "No pour stands behind this row alone",
    });
}

fn away(model: &mut Model) {
    let why = &mut model.findings.why;
    if !why.as_mut().is_some_and(Why::back) {
        *why = None;
    }
}

fn beside(model: &mut Model) {
    let done = model.findings.why.as_mut().map(Why::beside);
    if let Some(Err(why)) = done {
        model.refuse(why);
    }
}

/// A wish about the chosen suggestion.
fn with_suggestion(
    model: &mut Model,
    deed: fn(&mut Model, &Suggestion) -> Vec<Effect>,
) -> Vec<Effect> {
    let why = model.findings.why.as_ref().filter(|why| why.pair.is_none());
    let Some(Row::Next(one)) = why.and_then(Why::chosen) else {
        model.refuse("Choose one of what to try next: the first rows");
        return Vec::new();
    };
    let one = one.clone();
    deed(model, &one)
}

fn mix_it(model: &mut Model, one: &Suggestion) -> Vec<Effect> {
    bench::mix_variant(model, &one.recipe, one.variant)
}

/// The panel, the way and the stack of the last pour with it.
fn plan_it(model: &mut Model, one: &Suggestion) -> Vec<Effect> {
    let last = model
        .findings
        .behind_chosen()
        .first()
        .map(|page| Usual::of(page));
    let alone = || Usual {
        recipes: vec![one.recipe.clone()],
        ..Usual::default()
    };
    let effects = plan::order_like(model, last.unwrap_or_else(alone));
    if one.newest != one.variant {
        let mix = keys::key_of(Action::Findings(Wish::Mix));
        let (recipe, newest, variant) = (&one.recipe, one.newest, one.variant);
        let words = format!(
            "A plan takes {recipe} as it is now, v{newest}; {mix} on the Findings mixes v{variant}"
        );
        model.say(Message::new(Tone::Odd, &words));
    }
    effects
}

fn turn_month(model: &mut Model, by: i32) {
    let findings = &mut model.findings;
    match findings.window.month_away(by, &model.beat.now) {
        Some(window) => findings.look(window),
        None => model.refuse("That month is still to come"),
    }
}

fn open_pour(model: &mut Model) {
    let pours = model.findings.behind_chosen();
    let chosen = model.findings.behind.and_then(|at| pours.get(at).copied());
    if let Some(page) = chosen.cloned() {
        let kind = PageKind::Pour(Box::new(page));
        model.over = Some(Over::Page(Page { kind, from: 0 }));
    }
}
