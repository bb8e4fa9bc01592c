//! What is to be done about an action, and how it is done: through the studio and nowhere else.

use crate::screen::kit::desk::Desk;
use crate::screen::kit::form::Fault;
use crate::screen::kit::message::{Message, Tone};
use crate::screen::kit::place::{Hands, Outcome};
use crate::screen::kit::refusal::words;
use crate::screen::places::{
    bench, findings, judging, outgoing, photos, plan, pour, rack, recipes, shelf, trials,
};
use crate::screen::shell::model::{Done, Model, Over, PageKind};
use crate::screen::shell::{handing, undo};
use crate::studio::{Answer, Change, Refusal, Remarks, StoreError, Studio, StudioError, local};
use crate::tell;
use crate::trade::instant::Now;
use crate::trade::text::inert;

/// How many deeds the history shows.
const SHOWN: u32 = 500;

/// Something to be done outside the model.
#[derive(Debug, Clone)]
pub enum Effect {
    /// Take the last deed back.
    Undo,
    /// Take back the change of a number.
    UndoOne(i64),
    /// Do again what was taken back.
    Redo,
    /// Fetch what was done.
    History,
    /// A deed of the Bench.
    Bench(bench::Deed),
    /// A deed of the Pour.
    Pour(pour::Deed),
    /// A deed of judging.
    Judging(judging::Deed),
    /// A deed with a pour's photos.
    Photos(photos::Deed),
    /// A file is told of, or written.
    Outgoing(outgoing::Deed),
    /// A deed of the Rack.
    Rack(rack::Deed),
    /// A deed of the Findings: there is none.
    Findings(findings::Deed),
    /// A deed of the Shelf.
    Shelf(shelf::Deed),
    /// A deed of the Recipes.
    Recipes(recipes::Deed),
    /// A deed of the Plan.
    Plan(plan::Deed),
    /// A deed of the Trials.
    Trials(trials::Deed),
}

/// Does one effect, and takes what came of it into the model.
pub fn perform(studio: &mut Studio, model: &mut Model, effect: Effect) {
    let done = done(studio, model, effect.clone());
    if done.as_ref().is_ok_and(|outcome| outcome.wrote.is_some()) {
        model.undone = match &effect {
            Effect::Undo | Effect::UndoOne(_) => model.undone + 1,
            Effect::Redo => model.undone.saturating_sub(1),
            _ => 0,
        };
    }
    if matches!(done, Err(StudioError::Store(StoreError::Busy))) {
        model.waiting = Some(effect);
    }
    match done {
        Ok(outcome) => accept(model, outcome),
        Err(error) => complain(model, &error),
    }
}

fn done(studio: &mut Studio, model: &mut Model, effect: Effect) -> Answer<Outcome> {
    let now = model.desk.beat.now;
    let desk = &mut model.desk;
    match effect {
        Effect::Undo => undo::undo(studio, model),
        Effect::UndoOne(change) => undo::one(studio, model, change),
        Effect::Redo => undo::redo(studio, model),
        Effect::History => {
            model.open(PageKind::History(history(studio, &now)?));
            Ok(Outcome::default())
        }
        Effect::Bench(deed) => model.bench.perform(studio, deed, desk),
        Effect::Pour(deed) => model.pour.perform(studio, deed, desk),
        Effect::Judging(deed) => model.judging.perform(studio, deed, desk),
        Effect::Photos(deed) => model.photos.perform(studio, deed, desk),
        Effect::Outgoing(deed) => model.outgoing.perform(studio, deed, desk),
        Effect::Rack(deed) => model.rack.perform(studio, deed, desk),
        Effect::Findings(deed) => model.findings.perform(studio, deed, desk),
        Effect::Shelf(deed) => model.shelf.perform(studio, deed, desk),
        Effect::Recipes(deed) => model.recipes.perform(studio, deed, desk),
        Effect::Plan(deed) => model.plan.perform(studio, deed, desk),
        Effect::Trials(deed) => model.trials.perform(studio, deed, desk),
    }
}

/// The history that is open goes on with what was done since; the deed that was chosen stays chosen.
pub fn follow_history(studio: &Studio, model: &mut Model) {
    let now = model.desk.beat.now;
    let Some(Over::Page(page)) = &mut model.over else {
        return;
    };
    let PageKind::History(done) = &mut page.kind else {
        return;
    };
    // Where it cannot be read now, what was read stays.
    let Ok(newer) = history(studio, &now) else {
        return;
    };
    let chosen = done.get(page.from).map(|one| one.change);
    let place = newer.iter().position(|one| Some(one.change) == chosen);
    // At the top one looks at the newest.
    page.from = place.filter(|_| page.from > 0).unwrap_or(0);
    *done = newer;
}

fn history(studio: &Studio, now: &Now) -> Answer<Vec<Done>> {
    let (names, measures) = (studio.names_today()?, studio.settings()?.measures);
    // A deed that was taken back is struck out where it stands: the undo itself is not a line.
    let changes = studio.history(SHOWN)?.into_iter();
    let changes = changes.filter(Change::is_deed);
    let line = |at: Option<_>| at.map(|at| local(at, now)).unwrap_or_default();
    Ok(changes
        .map(|change| Done {
            change: change.id,
            at: line(change.at.local()),
            stands: change.done,
            label: inert(&tell::change(&change, &names, measures)).into_owned(),
        })
        .collect())
}

/// A form closes only once it was kept.
fn accept(model: &mut Model, outcome: Outcome) {
    if let (Some(lines), Some(Over::Form(asked))) = (outcome.aside, &mut model.over) {
        asked.form.aside = lines;
    }
    if outcome.closes {
        model.over = None;
    }
    if let Some(words) = outcome.wrote {
        model.mark_stale();
        model.after_deed();
        model.over = None;
        let said = said(&model.desk, &words, &outcome.remarks);
        model.desk.say(said);
    }
    if let Some(sheet) = outcome.page {
        model.open(PageKind::Sheet(sheet));
    }
    let _ = handing::over(model);
}

/// What was done; then what is wrong about it, and what will happen.
fn said(desk: &Desk, words: &str, remarks: &Remarks) -> Message {
    let (measures, now) = (desk.measures(), &desk.beat.now);
    let warnings = tell::warnings(remarks, measures, now);
    let tone = match warnings.is_empty() {
        true => Tone::Done,
        false => Tone::Odd,
    };
    let mut all = vec![words.to_owned()];
    all.extend((!warnings.is_empty()).then(|| format!("But {}", warnings.join("; "))));
    all.extend(tell::notes(remarks, measures, now));
    Message::new(tone, &all.join(". "))
}

fn complain(model: &mut Model, error: &StudioError) {
    let words = words(error, model.desk.measures(), &model.desk.beat.now);
    let fault = Fault {
        field: None,
        words: words.clone(),
    };
    match &mut model.over {
        Some(Over::Form(asked)) if is_doubt(error) => asked.form.doubt(fault),
        Some(Over::Form(asked)) => asked.form.blame(fault),
        _ => model.desk.refuse(&words),
    }
}

const fn is_doubt(error: &StudioError) -> bool {
    matches!(
        error,
        StudioError::Refused(
            Refusal::Doubted(_)
                | Refusal::FarCount { .. }
                | Refusal::Far(_)
                | Refusal::There(_)
                | Refusal::TooMuch { .. }
                | Refusal::OverThinned { .. }
        )
    )
}
