//! A form that is open: whose it is, what follows from an edit of it, and how it is kept.

use crate::screen::kit::form::{Fault, Form};
use crate::screen::kit::place::Hands;
use crate::screen::places::{
    bench, findings, judging, outgoing, photos, plan, pour, rack, recipes, shelf, trials,
};
use crate::screen::shell::effect::Effect;
use crate::screen::shell::model::Model;

/// Which form it is: whose, and for what.
#[derive(Debug, Clone, PartialEq)]
pub enum Ask {
    /// One of the Bench's.
    Bench(bench::Ask),
    /// One of the Pour's.
    Pour(pour::Ask),
    /// One of judging.
    Judging(judging::Ask),
    /// One of a pour's photos.
    Photos(photos::Ask),
    /// One of a file that leaves.
    Outgoing(outgoing::Ask),
    /// One of the Rack's.
    Rack(rack::Ask),
    /// One of the Shelf's.
    Shelf(shelf::Ask),
    /// One of the Recipes'.
    Recipes(recipes::Ask),
    /// One of the Findings'.
    Findings(findings::Ask),
    /// One of the Plan's.
    Plan(plan::Ask),
    /// One of the Trials'.
    Trials(trials::Ask),
}

/// A form, and which it is.
#[derive(Debug, Clone)]
pub struct Asked {
    /// Which.
    pub ask: Ask,
    /// The form.
    pub form: Form,
}

impl Asked {
    /// Whether another asks the same of the same thing.
    pub fn is_like(&self, other: &Self) -> bool {
        self.ask == other.ask && self.form.is_like(&other.form)
    }
}

/// What follows from an edit, or from having been opened.
pub fn changed(model: &Model, asked: &mut Asked) -> Option<Effect> {
    let (form, desk) = (&mut asked.form, &model.desk);
    form.tell_days(&desk.given());
    match &asked.ask {
        Ask::Bench(ask) => model.bench.changed(ask, form, desk).map(Effect::Bench),
        Ask::Pour(ask) => model.pour.changed(ask, form, desk).map(Effect::Pour),
        Ask::Judging(ask) => model.judging.changed(ask, form, desk).map(Effect::Judging),
        Ask::Photos(ask) => model.photos.changed(ask, form, desk).map(Effect::Photos),
        Ask::Outgoing(ask) => model
            .outgoing
            .changed(ask, form, desk)
            .map(Effect::Outgoing),
        Ask::Rack(ask) => model.rack.changed(ask, form, desk).map(Effect::Rack),
        Ask::Shelf(ask) => model.shelf.changed(ask, form, desk).map(Effect::Shelf),
        Ask::Recipes(ask) => model.recipes.changed(ask, form, desk).map(Effect::Recipes),
        Ask::Findings(ask) => model
            .findings
            .changed(ask, form, desk)
            .map(Effect::Findings),
        Ask::Plan(ask) => model.plan.changed(ask, form, desk).map(Effect::Plan),
        Ask::Trials(ask) => model.trials.changed(ask, form, desk).map(Effect::Trials),
    }
}

/// What is wrong with what is typed so far.
///
/// # Errors
/// The first fault, in its field.
fn check(model: &Model, asked: &Asked) -> Result<(), Fault> {
    let (form, desk) = (&asked.form, &model.desk);
    match &asked.ask {
        Ask::Bench(ask) => model.bench.check(ask, form, desk),
        Ask::Pour(ask) => model.pour.check(ask, form, desk),
        Ask::Judging(ask) => model.judging.check(ask, form, desk),
        Ask::Photos(ask) => model.photos.check(ask, form, desk),
        Ask::Outgoing(ask) => model.outgoing.check(ask, form, desk),
        Ask::Rack(ask) => model.rack.check(ask, form, desk),
        Ask::Shelf(ask) => model.shelf.check(ask, form, desk),
        Ask::Recipes(ask) => model.recipes.check(ask, form, desk),
        Ask::Findings(ask) => model.findings.check(ask, form, desk),
        Ask::Plan(ask) => model.plan.check(ask, form, desk),
        Ask::Trials(ask) => model.trials.check(ask, form, desk),
    }
}

/// What is to be said of a form after an edit of the field at `from`: what is wrong with that field, as soon as it is left;
/// else what was said before of another field, as long as anything is wrong.
pub fn fault_after(
    model: &Model,
    asked: &Asked,
    from: usize,
    before: Option<Fault>,
) -> Option<Fault> {
    let form = &asked.form;
    let edited = form.fields.get(from)?;
    let before = before.filter(|fault| fault.field.is_some_and(|id| id != edited.id));
    let left = form.at != from && (form.is_guided() || !edited.value().is_empty());
    if !left && before.is_none() {
        return None;
    }
    let fault = check(model, asked).err()?;
    match left && fault.field == Some(edited.id) {
        true => Some(fault),
        false => before,
    }
}

/// Takes what was typed. A deed that is still to be done keeps the form open until it was: a store that fails costs
/// no typing.
///
/// # Errors
/// The first fault, in its field.
pub fn keep(model: &mut Model, asked: &Asked) -> Result<Option<Effect>, Fault> {
    let (form, desk) = (&asked.form, &mut model.desk);
    Ok(match &asked.ask {
        Ask::Bench(ask) => model.bench.keep(ask, form, desk)?.map(Effect::Bench),
        Ask::Pour(ask) => model.pour.keep(ask, form, desk)?.map(Effect::Pour),
        Ask::Judging(ask) => model.judging.keep(ask, form, desk)?.map(Effect::Judging),
        Ask::Photos(ask) => model.photos.keep(ask, form, desk)?.map(Effect::Photos),
        Ask::Outgoing(ask) => model.outgoing.keep(ask, form, desk)?.map(Effect::Outgoing),
        Ask::Rack(ask) => model.rack.keep(ask, form, desk)?.map(Effect::Rack),
        Ask::Shelf(ask) => model.shelf.keep(ask, form, desk)?.map(Effect::Shelf),
        Ask::Recipes(ask) => model.recipes.keep(ask, form, desk)?.map(Effect::Recipes),
        Ask::Findings(ask) => model.findings.keep(ask, form, desk)?.map(Effect::Findings),
        Ask::Plan(ask) => model.plan.keep(ask, form, desk)?.map(Effect::Plan),
        Ask::Trials(ask) => model.trials.keep(ask, form, desk)?.map(Effect::Trials),
    })
}
