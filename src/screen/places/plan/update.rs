//! What the Plan's keys change, and what is to be done about them.

use super::next::is_to_mix;
use super::{Ask, Asked, Deed, KEYS, Plan, SHEET, Sheet, Wish, forms};
use crate::screen::kit::desk::Desk;
use crate::screen::kit::keys::key_of;
use crate::screen::kit::message::{Message, Tone};
use crate::screen::kit::place;
use crate::studio::orders::{PlanOrder, RepeatOrder};
use crate::studio::{self, Step, local};
use crate::trade::ids::RecipeId;
use crate::trade::instant::Now;
use crate::trade::moment::Moment;
use crate::trade::text::inert;
use std::collections::HashSet;

type Next = place::Next<Ask, Deed>;

/// Takes a wish.
pub fn update(plan: &mut Plan, wish: Wish, desk: &mut Desk) -> Option<Next> {
    let early = plan.early.take();
    match wish {
        Wish::Order => ask(plan, desk),
        Wish::Open => {
            open(plan, desk);
            None
        }
        Wish::Close => {
            close(plan, desk);
            None
        }
        Wish::Keep => keep(plan, desk),
        Wish::Mix | Wish::MixSteps => mix(plan, wish, early, desk),
        Wish::Tick => plan.tick(desk).map(Next::Do),
        Wish::Untick => {
            if !plan.untick() {
                desk.refuse("Nothing is in the cup yet: Esc leads back to the plans");
            }
            None
        }
    }
}

/// What the sheet that is open was asked for, to be changed; else paint for a panel.
fn ask(plan: &Plan, desk: &Desk) -> Option<Next> {
    match plan.open.as_ref().map(|open| &open.asked) {
        Some(Asked::Repeat(order)) => {
            Next::ask(Ask::Repeat(order.pour), forms::repeat(order, desk))
        }
        _ => Next::ask(Ask::Order, forms::order(plan, desk)),
    }
}

fn open(plan: &mut Plan, desk: &mut Desk) {
    let found = plan.kept.get(plan.at).zip(plan.chosen_sheet.clone());
    let Some((page, worked)) = found else {
        let new = key_of(KEYS, &Wish::Order);
        let words = match plan.kept.is_empty() {
            true => format!("No plan is kept: {new} plans paint for a panel"),
            false => "A recipe of that plan is gone: only what was mixed can be shown".to_owned(),
        };
        return desk.refuse(&words);
    };
    let pour_at = page.plan.pour_at.filter(|at| *at > desk.beat.now.at);
    if let Some(pour) = page.plan.repeats {
        let order = RepeatOrder {
            panel: Some(page.plan.panels.panel),
            edge: page.plan.panels.edge,
            pour_at,
            ..RepeatOrder::of(pour)
        };
        let number = page.plan.id;
        plan.open = Some(Sheet {
            kept: Some(number),
            ..Sheet::new(Asked::Repeat(order), worked)
        });
        return;
    }
    let mut recipes: Vec<_> = worked
        .layers
        .iter()
        .map(|layer| RecipeId(layer.recipe.id))
        .collect();
    let mut seen = HashSet::new();
    recipes.retain(|recipe| seen.insert(*recipe));
    let order = PlanOrder {
        panels: page.plan.panels,
        way: page.plan.way.clone(),
        pour_at,
        film: Some(worked.film.mid),
        recipes,
        holds: None,
        note: page.plan.note.clone(),
        fresh: false,
    };
    let number = page.plan.id;
    plan.open = Some(Sheet {
        kept: Some(number),
        ..Sheet::new(Asked::Paint(order), worked)
    });
}

/// A plan that is not kept is left only at the second word.
fn close(plan: &mut Plan, desk: &mut Desk) {
    let unkept = |open: &&mut Sheet| open.kept.is_none() && !open.leaving;
    if let Some(open) = plan.open.as_mut().filter(unkept) {
        open.leaving = true;
        let keep = key_of(SHEET, &Wish::Keep);
        let words = format!("This plan is not kept: {keep} keeps it, Esc again throws it away");
        return desk.say(Message::new(Tone::Odd, &words));
    }
    plan.open = None;
}

fn keep(plan: &Plan, desk: &mut Desk) -> Option<Next> {
    let open = plan.open.as_ref()?;
    if let Some(number) = open.kept {
        desk.refuse(&format!("It is kept already, as plan {number}"));
        return None;
    }
    Some(Next::Do(Deed::Keep(Box::new(open.asked.clone()))))
}

fn mix(plan: &mut Plan, wish: Wish, early: Option<(i64, Wish)>, desk: &mut Desk) -> Option<Next> {
    let number = match &plan.open {
        Some(open) => open.kept,
        None => plan.chosen().map(|page| page.plan.id),
    };
    if number.is_none() {
        let words = match plan.open.is_some() {
            true => format!("Keep it first: {}", key_of(SHEET, &Wish::Keep)),
            false => {
                let new = key_of(KEYS, &Wish::Order);
                format!("No plan is kept: {new} plans paint for a panel")
            }
        };
        desk.refuse(&words);
    }
    let number = number?;
    if let Some(words) =
        too_early(plan, number, wish, desk).filter(|_| early != Some((number, wish)))
    {
        plan.early = Some((number, wish));
        desk.say(Message::new(Tone::Odd, &words));
        return None;
    }
    Some(Next::Do(match wish {
        Wish::MixSteps => Deed::MixSteps(number),
        _ => Deed::Mix(number),
    }))
}

/// That a plan has its next cup mixed on another day: it is mixed now at the second word alone.
fn too_early(plan: &Plan, number: i64, wish: Wish, desk: &Desk) -> Option<String> {
    let now = &desk.beat.now;
    let page = plan.kept.iter().find(|page| page.plan.id == number)?;
    let sheet = match &plan.open {
        Some(open) => Some(&open.worked),
        None => plan.chosen_sheet.as_ref(),
    };
    let steps = sheet?.schedule.iter();
    let mixed = steps.filter(|step| step.deed == studio::Deed::Mix);
    let of = |step: &Step| {
        let mut lines = page.cups.iter().filter(|line| is_to_mix(line));
        let line = lines.find(|line| step.cup.as_ref() == Some(&line.variant))?;
        Some((line, step.at))
    };
    let (line, due) = mixed.filter_map(of).min_by_key(|(_, at)| *at)?;
    let words = || {
        let (at, again) = (local(due, now), key_of(KEYS, &wish));
        let cup = inert(&line.variant.to_string()).into_owned();
        format!("Plan {number} has {cup} mixed {at}: {again} again mixes it now")
    };
    is_another_day(due, now).then(words)
}

/// Whether an instant is of a day to come.
pub(super) fn is_another_day(due: Moment, now: &Now) -> bool {
    let day = |at: Moment| now.zone.tell(at).date_naive();
    due > now.at && day(due) != day(now.at)
}
