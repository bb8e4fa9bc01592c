//! What an action changes, and what is to be done about it. Pure: no store, no clock, no terminal.

use crate::screen::kit::beat::Beat;
use crate::screen::kit::form::{After, Ask, Edit, Form};
use crate::screen::kit::step::Step;
use crate::screen::shell::action::Action;
use crate::screen::shell::effect::Effect;
use crate::screen::shell::model::{Model, Over, Page, PageKind};
use crate::screen::{
    Screen,
    places::{bench, findings, plan, pour, rack, recipes, shelf, trials},
};

/// Takes an action that falls on a beat.
pub fn update(model: &mut Model, action: Action, beat: Beat) -> Vec<Effect> {
    model.beat = beat;
    model.message = None;
    if action != Action::Plan(plan::Wish::Close) {
        model.plan.stay();
    }
    match action {
        Action::Go(screen) => model.screen = screen,
        Action::Help => help(model),
        Action::Messages => open(model, PageKind::Messages),
        Action::Quit => model.leaving = true,
        Action::Back => back(model),
        Action::Step(step) => take_step(model, step),
        Action::History => return vec![Effect::History],
        Action::Undo if model.screen == Screen::Pour && pour::put_back(model) => {}
        Action::Undo => return vec![Effect::Undo],
        Action::Redo => return vec![Effect::Redo],
        Action::Form(edit) => return edited(model, edit),
        Action::Press => return bench::press(model),
        Action::Bench(wish) => return bench::update(model, wish),
        Action::Pour(wish) => return pour::update(model, wish),
        Action::Rack(wish) => return rack::update(model, wish),
        Action::Shelf(wish) => return shelf::update(model, wish),
        Action::Recipes(wish) => return recipes::update(model, wish),
        Action::Findings(wish) => return findings::update(model, wish),
        Action::Plan(wish) => return plan::update(model, wish),
        Action::Trials(wish) => return trials::update(model, wish),
    }
    Vec::new()
}

fn help(model: &mut Model) {
    let context = model.context();
    open(model, PageKind::Help(context));
}

fn open(model: &mut Model, kind: PageKind) {
    model.over = Some(Over::Page(Page { kind, from: 0 }));
}

fn back(model: &mut Model) {
    if let Some(Over::Form(form)) = model.over.take() {
        model.leave(*form);
    }
}

fn take_step(model: &mut Model, step: Step) {
    if let Some(Over::Page(page)) = &mut model.over {
        page.from = step.from(page.from, lines(&page.kind, model.said.len()));
        return;
    }
    match model.screen {
        Screen::Bench => model.bench.step(step),
        Screen::Pour => model.pour.step(step),
        Screen::Rack => model.rack.step(step),
        Screen::Findings => model.findings.step(step),
        Screen::Shelf => model.shelf.step(step),
        Screen::Plan => model.plan.step(step),
        Screen::Recipes => model.recipes.step(step),
        Screen::Trials => model.trials.step(step),
    }
}

/// How many lines a page may be moved by; the view shows no more than there are.
fn lines(kind: &PageKind, said: usize) -> usize {
    match kind {
        PageKind::History(done) => done.len(),
        PageKind::Life(page) => 3 * (page.entries.len() + page.puts.len() + 8),
        PageKind::Pour(page) => page.layers.len() + page.judgements.len() + 10,
        PageKind::Messages => said,
        PageKind::Sheet(sheet) => sheet.at_most(),
        PageKind::Help(_) => 60,
    }
}

fn edited(model: &mut Model, edit: Edit) -> Vec<Effect> {
    let Some(Over::Form(mut form)) = model.over.take() else {
        return Vec::new();
    };
    let (done, effects) = match form.edit(edit) {
        After::Moved => (false, Vec::new()),
        After::Changed => (false, changed(model, &mut form)),
        After::Keep => kept(model, &mut form),
    };
    if !done {
        model.over = Some(Over::Form(form));
    }
    effects
}

fn changed(model: &Model, form: &mut Form) -> Vec<Effect> {
    form.fault = None;
    match form.ask.clone() {
        Ask::Bench(ask) => return bench::changed(&ask, form),
        Ask::Pour(_) => pour::changed(model, form),
        Ask::Rack(_) | Ask::Shelf(_) => {}
        Ask::Recipes(_) => recipes::changed(form),
        Ask::Findings(_) => {}
        Ask::Plan(_) => return plan::changed(model, form),
        Ask::Trials(_) => trials::changed(form, &model.beat.now),
    }
    Vec::new()
}

/// Whether the form is done with, and what is to be done. A form whose deed is still to be done stays until
/// it was: a store that fails costs no typing.
fn kept(model: &mut Model, form: &mut Form) -> (bool, Vec<Effect>) {
    if let Some(fault) = form.unchosen() {
        form.blame(fault);
        return (false, Vec::new());
    }
    let kept = match form.ask.clone() {
        Ask::Bench(ask) => bench::keep(model, &ask, form).map(|effects| (false, effects)),
        Ask::Pour(ask) => pour::keep(model, &ask, form).map(|()| (true, Vec::new())),
        Ask::Rack(_) => rack::keep(form).map(|effects| (false, effects)),
        Ask::Shelf(ask) => shelf::keep(model, &ask, form).map(|effects| (false, effects)),
        Ask::Recipes(ask) => recipes::keep(model, &ask, form).map(|effects| (false, effects)),
        Ask::Plan(_) => plan::keep(model, form).map(|effects| (false, effects)),
        Ask::Trials(ask) => trials::keep(model, ask, form).map(|effects| (false, effects)),
        Ask::Findings(ask) => findings::keep(model, ask, form).map(|()| (true, Vec::new())),
    };
    kept.unwrap_or_else(|fault| {
        form.blame(fault);
        (false, Vec::new())
    })
}
