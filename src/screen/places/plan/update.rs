//! What the Plan's keys change, and what is to be done about them.

use super::{Deed, Sheet, Usual, Wish, forms, recipes};
use crate::screen::Screen;
use crate::screen::kit::form;
use crate::screen::kit::message::{Message, Tone};
use crate::screen::shell::action::Action;
use crate::screen::shell::effect::Effect;
use crate::screen::shell::keys::key_of;
use crate::screen::shell::model::Model;
use crate::studio::PlanOrder;

/// Takes a wish.
pub fn update(model: &mut Model, wish: Wish) -> Vec<Effect> {
    match wish {
        Wish::Order => return asked(model),
        Wish::Open => open(model),
        Wish::Close => close(model),
        Wish::Keep => return keep(model),
        Wish::Mix => return mix(model),
    }
    Vec::new()
}

fn asked(model: &mut Model) -> Vec<Effect> {
    let form = forms::order(model);
    model.ask(form);
    let open = model.form();
    open.map(|form| forms::changed(model, form))
        .unwrap_or_default()
}

/// Opens the form over the Plan with a panel, a way and recipes in it.
pub fn order_like(model: &mut Model, usual: Usual) -> Vec<Effect> {
    model.plan.open = None;
    // Another plan was wished for than the one that was left.
    model
        .put_by
        .retain(|form| !matches!(form.ask, form::Ask::Plan(_)));
    model.plan.usual = usual;
    // What was poured last is offered again the next time.
    model.plan.fresh = false;
    model.screen = Screen::Plan;
    asked(model)
}

fn open(model: &mut Model) {
    let plan = &mut model.plan;
    let found = plan.kept.get(plan.at).zip(plan.chosen_sheet.clone());
    let Some((page, worked)) = found else {
        let new = key_of(Action::Plan(Wish::Order));
        let words = match plan.kept.is_empty() {
            true => format!("No plan is kept: {new} plans paint for a panel"),
            false => "A recipe of that plan is gone: only what was mixed can be shown".to_owned(),
        };
        return model.refuse(&words);
    };
    let recipes = recipes(page.cups.iter().map(|line| line.title.as_str()));
    let order = PlanOrder {
        panels: page.plan.panels,
        way: page.plan.way.clone(),
        pour_at: page.plan.pour_at.filter(|at| *at > model.beat.now.at),
        film: Some(worked.film.mid),
        recipes,
        holds: None,
    };
    plan.open = Some(Sheet {
        order,
        worked,
        kept: Some(page.plan.id),
        stale: None,
        from: 0,
        leaving: false,
    });
}

/// A plan that is not kept is left only at the second word.
fn close(model: &mut Model) {
    let unkept = |open: &&mut Sheet| open.kept.is_none() && !open.leaving;
    if let Some(open) = model.plan.open.as_mut().filter(unkept) {
        open.leaving = true;
        let keep = key_of(Action::Plan(Wish::Keep));
        let words = format!("This plan is not kept: {keep} keeps it, Esc again throws it away");
        return model.say(Message::new(Tone::Odd, &words));
    }
    model.plan.open = None;
}

fn keep(model: &mut Model) -> Vec<Effect> {
    let Some(open) = &model.plan.open else {
        return Vec::new();
    };
    if let Some(number) = open.kept {
        model.refuse(&format!("It is kept already, as plan {number}"));
        return Vec::new();
    }
    vec![Effect::Plan(Deed::Keep(Box::new(open.order.clone())))]
}

fn mix(model: &mut Model) -> Vec<Effect> {
    let plan = &model.plan;
    let number = match &plan.open {
        Some(open) => open.kept,
        None => plan.chosen().map(|page| page.plan.id),
    };
    let Some(number) = number else {
        let (keep, new) = (Action::Plan(Wish::Keep), Action::Plan(Wish::Order));
        let words = match plan.open.is_some() {
            true => format!("Keep it first: {}", key_of(keep)),
            false => format!("No plan is kept: {} plans paint for a panel", key_of(new)),
        };
        model.refuse(&words);
        return Vec::new();
    };
    vec![Effect::Plan(Deed::Mix(number))]
}
