//! What is to be done about an action, and how it is done: through the studio and nowhere else.

use crate::screen::kit::message::{Message, Tone};
use crate::screen::shell::model::{Done, Model, Over, Page, PageKind};
use crate::screen::{
    kit::form::Fault,
    places::{bench, plan, pour, rack, recipes, shelf, trials},
};
use crate::studio::{Answer, Remarks, Studio, StudioError, local};
use crate::tell::{self, Face};
use crate::trade::amount::Measures;
use crate::trade::instant::Now;
use crate::trade::text::inert;

/// How many deeds the history shows.
const SHOWN: u32 = 500;

/// Something to be done outside the model.
#[derive(Debug, Clone)]
pub enum Effect {
    /// Take the last deed back.
    Undo,
    /// Do again what was taken back.
    Redo,
    /// Fetch what was done.
    History,
    /// A deed of the Bench.
    Bench(bench::Deed),
    /// A deed of the Pour.
    Pour(pour::Deed),
    /// A deed of the Rack.
    Rack(rack::Deed),
    /// A deed of the Shelf.
    Shelf(shelf::Deed),
    /// A deed of the Recipes.
    Recipes(recipes::Deed),
    /// A deed of the Plan.
    Plan(plan::Deed),
    /// A deed of the Trials.
    Trials(trials::Deed),
}

/// What came of an effect.
#[derive(Debug, Default)]
pub struct Outcome {
    /// What was written, in words; `None` where nothing was.
    pub wrote: Option<String>,
    /// What is wrong about it, and what will happen.
    pub remarks: Remarks,
    /// The cup it was about.
    pub mark: Option<String>,
    /// A page to be shown.
    pub page: Option<PageKind>,
    /// What follows from the form, beside it.
    pub aside: Option<Vec<String>>,
    /// What else changed in the model.
    pub told: Option<pour::Told>,
    /// What changed on the Plan.
    pub plan: Option<plan::Told>,
}

impl Outcome {
    /// Something was written.
    pub fn wrote(words: impl Into<String>) -> Self {
        Self {
            wrote: Some(words.into()),
            ..Self::default()
        }
    }
}

/// Does one effect.
///
/// # Errors
/// Where the studio refuses, or the store fails.
pub fn perform(studio: &mut Studio, effect: Effect, now: &Now) -> Answer<Outcome> {
    match effect {
        Effect::Undo => Ok(Outcome::wrote(format!("taken back: {}", studio.undo(now)?))),
        Effect::Redo => Ok(Outcome::wrote(format!("done again: {}", studio.redo(now)?))),
        Effect::History => Ok(Outcome {
            page: Some(PageKind::History(history(studio, now)?)),
            ..Outcome::default()
        }),
        Effect::Bench(deed) => bench::perform(studio, deed, now),
        Effect::Pour(deed) => pour::perform(studio, deed, now),
        Effect::Rack(deed) => rack::perform(studio, deed, now),
        Effect::Shelf(deed) => shelf::perform(studio, deed, now),
        Effect::Recipes(deed) => recipes::perform(studio, deed, now),
        Effect::Plan(deed) => plan::perform(studio, deed, now),
        Effect::Trials(deed) => trials::perform(studio, deed, now),
    }
}

fn history(studio: &Studio, now: &Now) -> Answer<Vec<Done>> {
    let changes = studio.history(SHOWN)?.into_iter();
    let line = |at: Option<_>| at.map(|at| local(at, now)).unwrap_or_default();
    Ok(changes
        .map(|change| Done {
            at: line(change.at.local()),
            kind: change.kind.word(),
            stands: change.done,
            label: inert(&change.label).into_owned(),
        })
        .collect())
}

/// Takes what came of an effect into the model. A form closes only once it was kept.
pub fn settle(model: &mut Model, answer: Answer<Outcome>) {
    match answer {
        Ok(outcome) => accept(model, outcome),
        Err(error) => complain(model, &error),
    }
}

fn accept(model: &mut Model, outcome: Outcome) {
    if let (Some(lines), Some(Over::Form(form))) = (outcome.aside, &mut model.over) {
        form.aside = lines;
    }
    if let Some(told) = outcome.told {
        pour::take(model, told);
    }
    if let Some(told) = outcome.plan {
        plan::take(model, told);
    }
    if let Some(mark) = &outcome.mark {
        model.bench.choose(mark);
    }
    if let Some(words) = outcome.wrote {
        model.spoil();
        model.pour.settle();
        model.over = None;
        let said = said(model, &words, &outcome.remarks);
        model.say(said);
    }
    if let Some(kind) = outcome.page {
        model.over = Some(Over::Page(Page { kind, from: 0 }));
    }
}

/// What was done; then what is wrong about it, and what will happen.
fn said(model: &Model, words: &str, remarks: &Remarks) -> Message {
    let (measures, now) = (model.known.measures(), &model.beat.now);
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

/// The words of an error, and what to do next in this room's keys.
pub fn words(error: &StudioError, measures: Measures, now: &Now) -> String {
    let (said, hint) = (
        tell::words(error, measures, now),
        tell::hint(error, Face::Screen),
    );
    inert(&format!("{said}: {hint}")).into_owned()
}

fn complain(model: &mut Model, error: &StudioError) {
    let words = words(error, model.known.measures(), &model.beat.now);
    match &mut model.over {
        Some(Over::Form(form)) => form.blame(Fault { field: None, words }),
        _ => model.refuse(&words),
    }
}
