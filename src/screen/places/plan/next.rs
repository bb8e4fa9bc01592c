//! Which kept plan is to be acted on first, and what its next step is.

use super::{KEYS, Plan, SHEET, Wish, sheet};
use crate::screen::kit::desk::Desk;
use crate::screen::kit::keys::key_of;
use crate::studio::{Deed, PlanLine, PlanPage, PlanSheet, Step, local};
use crate::tell;
use crate::trade::amount::Measures;
use crate::trade::instant::Now;
use crate::trade::moment::later;
use crate::trade::text::inert;
use chrono::TimeDelta;

/// How long after its pour was due a plan is still thought to be under way.
const OVERDUE: TimeDelta = TimeDelta::hours(24);

/// The plan whose pour is nearest, of those whose cups are not all poured.
pub fn nearest<'a>(kept: &'a [PlanPage], now: &Now) -> Option<&'a PlanPage> {
    let open = |page: &&PlanPage| {
        let due = page
            .plan
            .pour_at
            .is_some_and(|at| later(at, OVERDUE) >= now.at);
        due && !page.cups.iter().all(is_poured)
    };
    let away = |page: &&PlanPage| {
        let away = page.plan.pour_at.map(|at| (at - now.at).abs());
        (away, page.plan.id)
    };
    kept.iter().filter(open).min_by_key(away)
}

/// Whether anything of it was poured.
pub fn is_poured(line: &PlanLine) -> bool {
    line.poured.is_some_and(|ml| ml.get() > 0.0)
}

/// Whether no cup stands for it: none was mixed, or it went elsewhere.
pub const fn is_to_mix(line: &PlanLine) -> bool {
    line.mark.is_none() || line.gone
}

/// What the hands must do next, in words.
pub fn headline(plan: &Plan, desk: &Desk) -> String {
    let now = &desk.beat.now;
    if let Some(open) = plan.open.as_ref().filter(|open| open.kept.is_none()) {
        return draft(desk, &open.worked, now);
    }
    if let Some((page, worked)) = &plan.nearest {
        return next(page, worked, desk.measures(), now);
    }
    let new = key_of(KEYS, &Wish::Order);
    match plan.kept.is_empty() {
        true => format!("No plan is kept: {new} plans paint for a panel and when to begin."),
        false => format!("Every plan is poured or past: {new} plans the next panel."),
    }
}

/// A sheet that is not kept yet.
fn draft(desk: &Desk, worked: &PlanSheet, now: &Now) -> String {
    let lacks = sheet::lacks(worked, desk.measures(), now);
    let lack = lacks.first();
    let keep = key_of(SHEET, &Wish::Keep);
    let first = worked.schedule.first();
    let begin = first.map(|step| format!("Begin {} with {}", when(step, now), cup(step)));
    let said = [
        begin.unwrap_or_default(),
        format!(
            "to pour {}; {keep} keeps the plan.",
            local(worked.pour_at, now)
        ),
        lack.map(|lack| format!("{lack}.")).unwrap_or_default(),
    ];
    said.join(" ").trim().to_owned()
}

fn when(step: &Step, now: &Now) -> String {
    if step.at <= now.at {
        return "now".to_owned();
    }
    local(step.at, now)
}

fn cup(step: &Step) -> String {
    let cup = step.cup.as_ref();
    let title = cup.map_or_else(|| "the pour".to_owned(), ToString::to_string);
    inert(&title).into_owned()
}

/// The next step of a plan under way.
fn next(page: &PlanPage, worked: &PlanSheet, measures: Measures, now: &Now) -> String {
    let number = page.plan.id;
    let Some(step) = worked.schedule.iter().find(|step| is_open(step, page, now)) else {
        return format!("Plan {number} has no step left.");
    };
    let pour = local(worked.pour_at, now);
    match step.deed {
        Deed::Shake | Deed::Mix | Deed::Stir => {
            let mix = key_of(KEYS, &Wish::Mix);
            let late = late(step, worked, measures, now);
            let (when, cup) = (when(step, now), cup(step));
            format!("Plan {number}: shake and mix {cup} {when} ({mix}), to pour {pour}.{late}")
        }
        Deed::Pour if step.at <= now.at => format!("Plan {number}: pour it; it was due {pour}."),
        Deed::Pour => format!("Plan {number}: pour it {pour}."),
        deed => {
            let at = local(step.at, now);
            format!(
                "Plan {number}: {deed} {} {at}, to pour {pour}.",
                marked(step, page)
            )
        }
    }
}

/// What follows from having begun too late.
fn late(step: &Step, worked: &PlanSheet, measures: Measures, now: &Now) -> String {
    if step.at >= now.at {
        return String::new();
    }
    let due = local(step.at, now);
    let warned = worked.warnings.iter();
    let warned = warned.map(|one| format!("; {}", tell::words(one, measures, now)));
    format!(" It was due {due}{}.", warned.collect::<String>())
}

/// Whether a step is still to be done: mixing until there is a cup, looking until its time is over.
fn is_open(step: &Step, page: &PlanPage, now: &Now) -> bool {
    let of_cup = |line: &&PlanLine| Some(&line.variant) == step.cup.as_ref();
    let mut lines = page.cups.iter().filter(of_cup);
    match step.deed {
        Deed::Shake | Deed::Mix | Deed::Stir => lines.any(is_to_mix),
        Deed::Look | Deed::Thin => step.at >= now.at && lines.any(|line| !is_poured(line)),
        Deed::Clears => false,
        Deed::Pour => true,
    }
}

/// Whether what a step is for has happened: its cup was mixed, or what comes after it was poured.
pub fn is_done(step: &Step, page: &PlanPage) -> bool {
    let of_cup = |line: &&PlanLine| step.cup.as_ref().is_none_or(|cup| *cup == line.variant);
    let mut lines = page.cups.iter().filter(of_cup);
    match step.deed {
        Deed::Shake | Deed::Mix | Deed::Stir => !lines.any(is_to_mix),
        _ => lines.all(is_poured),
    }
}

/// `K7 (River blue v1)`.
fn marked(step: &Step, page: &PlanPage) -> String {
    let title = cup(step);
    let mut lines = page.cups.iter();
    let line = lines.find(|line| Some(&line.variant) == step.cup.as_ref());
    match line.and_then(|line| line.mark.as_ref()) {
        Some(mark) => format!("{} ({title})", inert(mark)),
        None => title,
    }
}
