//! What an action changes, and what is to be done about it. Pure: no store, no clock, no terminal.

use crate::screen::Screen;
use crate::screen::kit::beat::Beat;
use crate::screen::kit::form::{After, Edit};
use crate::screen::kit::place::Hands;
use crate::screen::kit::step::Step;
use crate::screen::places::plan;
use crate::screen::shell::action::Action;
use crate::screen::shell::ask::{Ask, Asked, changed, fault_after, keep};
use crate::screen::shell::effect::Effect;
use crate::screen::shell::handing::{self, follow};
use crate::screen::shell::model::{Model, Over, PageKind};
use crate::screen::shell::view::body_height;
use crate::screen::shell::{help, seeking};

/// Takes an action that falls on a beat.
pub fn update(model: &mut Model, action: Action, beat: Beat) -> Vec<Effect> {
    model.desk.beat = beat;
    model.desk.message = None;
    if !matches!(action, Action::Undo | Action::Redo) {
        model.asked = None;
    }
    if action != Action::Plan(plan::Wish::Close) {
        model.plan.stay();
    }
    let effect = taken(model, action);
    let mut effects: Vec<_> = effect.into_iter().collect();
    effects.extend(handing::over(model));
    effects
}

fn taken(model: &mut Model, action: Action) -> Option<Effect> {
    let desk = &mut model.desk;
    match action {
        Action::Bench(wish) => {
            let next = model.bench.update(wish, desk);
            follow(model, next, Ask::Bench, Effect::Bench)
        }
        Action::Pour(wish) => {
            let next = model.pour.update(wish, desk);
            follow(model, next, Ask::Pour, Effect::Pour)
        }
        Action::Judging(wish) => {
            let next = model.judging.update(wish, desk);
            follow(model, next, Ask::Judging, Effect::Judging)
        }
        Action::Photos(wish) => {
            let next = model.photos.update(wish, desk);
            follow(model, next, Ask::Photos, Effect::Photos)
        }
        Action::Outgoing(kind) => {
            let next = model.outgoing.update(kind, desk);
            follow(model, next, Ask::Outgoing, Effect::Outgoing)
        }
        Action::Rack(wish) => {
            let next = model.rack.update(wish, desk);
            follow(model, next, Ask::Rack, Effect::Rack)
        }
        Action::Shelf(wish) => {
            let next = model.shelf.update(wish, desk);
            follow(model, next, Ask::Shelf, Effect::Shelf)
        }
        Action::Recipes(wish) => {
            let next = model.recipes.update(wish, desk);
            follow(model, next, Ask::Recipes, Effect::Recipes)
        }
        Action::Findings(wish) => {
            let next = model.findings.update(wish, desk);
            follow(model, next, Ask::Findings, Effect::Findings)
        }
        Action::Plan(wish) => {
            let next = model.plan.update(wish, desk);
            follow(model, next, Ask::Plan, Effect::Plan)
        }
        Action::Trials(wish) => {
            let next = model.trials.update(wish, desk);
            follow(model, next, Ask::Trials, Effect::Trials)
        }
        Action::Form(edit) => edited(model, edit),
        action => everywhere(model, action),
    }
}

/// What holds in every place.
fn everywhere(model: &mut Model, action: Action) -> Option<Effect> {
    match action {
        Action::Go(screen) => {
            go(model, screen);
        }
        Action::NextHand => next_hand(model),
        Action::Seek(key) => seeking::take(model, key),
        Action::WriteOut => {
            model.over = None;
            model.outgoing.ask(model.subject());
        }
        Action::Help => model.help(),
        Action::Messages => model.open(PageKind::Messages),
        Action::Quit => model.leaving = true,
        Action::Back => back(model),
        Action::Step(step) => take_step(model, step),
        Action::History => return Some(Effect::History),
        Action::UndoChosen => return chosen_deed(model).map(Effect::UndoOne),
        Action::Redo => return Some(Effect::Redo),
        _ => {
            let (place, desk) = model.place_mut(model.screen);
            return (!place.take_back(desk)).then_some(Effect::Undo);
        }
    }
    None
}

/// The number of the deed that is chosen in the history.
fn chosen_deed(model: &mut Model) -> Option<i64> {
    let Some(Over::Page(page)) = &model.over else {
        return None;
    };
    let PageKind::History(done) = &page.kind else {
        return None;
    };
    let done = done.get(page.from)?;
    if !done.stands {
        model
            .desk
            .refuse("That is taken back already: U does again what was taken back last");
        return None;
    }
    Some(done.change)
}

/// Goes to a screen; from within it, to its lines.
fn go(model: &mut Model, screen: Screen) {
    let within = model.over.is_none() && !model.photos.is_open();
    model.over = None;
    model.photos.close();
    model.judging.close();
    model.outgoing.close();
    if screen != model.screen {
        model.place_mut(model.screen).0.leave();
    } else if within {
        model.place_mut(screen).0.close();
    }
    model.screen = screen;
}

/// On the Bench it is the next one after the chosen; from elsewhere the one that wants it most.
fn next_hand(model: &mut Model) {
    let on_bench = model.screen == Screen::Bench;
    model.photos.close();
    if model.bench.next_hand(on_bench, &mut model.desk) {
        model.screen = Screen::Bench;
    }
}

fn back(model: &mut Model) {
    match model.over.take() {
        Some(Over::Form(asked)) => model.leave(*asked),
        Some(Over::Page(page)) => model.over = page.beneath.map(|page| Over::Page(*page)),
        Some(Over::Seeking(sought)) => seeking::leave(model, &sought),
        None if model.outgoing.is_open() => model.outgoing.close(),
        None if model.judging.is_open() => model.judging.close(),
        None if model.photos.is_open() => model.photos.close(),
        None => model.place_mut(model.screen).0.close(),
    }
}

fn take_step(model: &mut Model, step: Step) {
    let step = step.by_page(model.desk.page_lines);
    let high = body_height(model);
    if let Some(Over::Page(page)) = &mut model.over {
        page.from = match &page.kind {
            PageKind::Help(context) => {
                let pages = help::pages(*context, model.desk.size.0.into(), high);
                turned(step).from(page.from, pages.len())
            }
            kind => step.from(page.from, lines(kind, model.desk.said.len())),
        };
        return;
    }
    if model.photos.is_open() {
        return model.photos.step(step);
    }
    let (place, desk) = model.place_mut(model.screen);
    place.step(step, desk);
}

/// A page of the help is turned whole.
const fn turned(step: Step) -> Step {
    match step {
        Step::By(..0) | Step::PageUp => Step::Up,
        Step::By(_) | Step::PageDown => Step::Down,
        other => other,
    }
}

/// How many lines a page may be moved by; the view shows no more than there are.
fn lines(kind: &PageKind, said: usize) -> usize {
    match kind {
        PageKind::History(done) => done.len(),
        PageKind::Messages => said,
        PageKind::Sheet(sheet) => sheet.at_most(),
        PageKind::Help(_) => 1,
    }
}

fn edited(model: &mut Model, edit: Edit) -> Option<Effect> {
    let Some(Over::Form(mut asked)) = model.over.take() else {
        return None;
    };
    let in_hand = asked.form.at;
    match asked.form.edit(edit) {
        After::Moved => model.over = Some(Over::Form(asked)),
        After::Changed => {
            let before = asked.form.fault.take();
            let fault = fault_after(model, &asked, in_hand, before.clone());
            match fault {
                // Step by step: it is put right before the next one, or left for later with the same key again.
                Some(fault) if asked.form.is_guided() && before.as_ref() != Some(&fault) => {
                    asked.form.blame(fault);
                }
                fault => asked.form.fault = fault,
            }
            let effect = changed(model, &mut asked);
            model.over = Some(Over::Form(asked));
            return effect;
        }
        After::Keep => return kept(model, asked),
    }
    None
}

/// A form whose deed is still to be done stays until it was.
fn kept(model: &mut Model, mut asked: Box<Asked>) -> Option<Effect> {
    if let Some(fault) = asked.form.unchosen() {
        asked.form.blame(fault);
        model.over = Some(Over::Form(asked));
        return None;
    }
    let effect = match keep(model, &asked) {
        Ok(None) => return None,
        Ok(effect) => effect,
        Err(fault) => {
            asked.form.blame(fault);
            None
        }
    };
    model.over = Some(Over::Form(asked));
    effect
}
