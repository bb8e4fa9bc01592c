//! What the Trials' keys change, and what is to be done about them.

use super::words::seen;
use super::{Deed, Place, Wish, forms};
use crate::screen::Screen;
use crate::screen::kit::message::{Message, Tone};
use crate::screen::shell::action::Action;
use crate::screen::shell::effect::Effect;
use crate::screen::shell::keys::key_of;
use crate::screen::shell::model::{Model, Over};
use crate::studio::TrialLine;

/// Takes a wish.
pub fn update(model: &mut Model, wish: Wish) -> Vec<Effect> {
    let key = |wish| key_of(Action::Trials(wish));
    if wish == Wish::New {
        let form = forms::new(&model.beat.now);
        model.ask(form);
        return Vec::new();
    }
    if model.trials.chosen().is_none() {
        model.refuse(&format!(
            "There is no trial yet: {} sets one up",
            key(Wish::New)
        ));
        return Vec::new();
    }
    match wish {
        Wish::Runs => model.trials.place = Place::Runs,
        Wish::Rows => back(model),
        Wish::Effects => effects(model),
        wish => return on_run(model, wish),
    }
    Vec::new()
}

fn back(model: &mut Model) {
    model.trials.place = Place::Rows;
    model.trials.run = None;
}

fn effects(model: &mut Model) {
    let trials = &mut model.trials;
    if trials.found.is_some() {
        trials.place = Place::Effects;
        trials.from = 0;
        return;
    }
    let told = trials.chosen().map(|page| {
        let (judged, all) = (page.judged(), page.runs.len());
        format!("{judged} of {all} runs are judged: too early to tell")
    });
    model.refuse(&told.unwrap_or_default());
}

/// Wishes about the run in hand.
fn on_run(model: &mut Model, wish: Wish) -> Vec<Effect> {
    let waiting = match wish {
        Wish::Judge => model.trials.to_judge(),
        _ => None,
    };
    let in_hand = model.trials.line();
    let in_hand = in_hand.map(|(page, line)| (page.id, page.blind, line.clone()));
    let Some((trial, blind, line)) = in_hand else {
        model.refuse("Every run of it is judged or given up");
        return Vec::new();
    };
    let poured = line.pour.map(|_| line.run);
    let next = || {
        let page = model.trials.called(trial)?;
        page.to_judge().map(|line| line.run)
    };
    let run = waiting.or(poured).or_else(next).unwrap_or(line.run);
    match wish {
        Wish::Pour => pour(model, trial, &line),
        Wish::Judge => judge(model, trial, run),
        Wish::Skip => skip(model, trial, &line),
        Wish::Link => return vec![Effect::Trials(Deed::Link(trial, line.run))],
        _ if blind && line.pour.is_some() && !model.trials.is_over() => {
            let words = "It has its picture: its settings stay hidden until all runs are judged";
            model.refuse(words);
        }
        _ => return vec![Effect::Trials(Deed::Settings(trial, line.run))],
    }
    Vec::new()
}

fn pour(model: &mut Model, trial: i64, line: &TrialLine) {
    let run = line.run;
    if let Some(pour) = line.pour {
        return model.refuse(&format!("Run {run} was poured already: pour {pour}"));
    }
    model.trials.to_pour = Some((trial, run));
    model.screen = Screen::Pour;
    let settings = model.trials.called(trial).map(|page| seen(page, line));
    let settings = settings.unwrap_or_default();
    let words = format!("The next pour is run {run} of trial {trial}: {settings}");
    model.say(Message::new(Tone::Done, &words));
}

/// A picture that was judged before is judged again dry.
fn judge(model: &mut Model, trial: i64, run: usize) {
    let line = model.trials.called(trial).and_then(|page| page.run(run));
    let Some((pour, judged)) = line.and_then(|line| Some((line.pour?, line.cells.is_some())))
    else {
        return model.refuse(&format!("Run {run} is not poured yet"));
    };
    model.over = Some(Over::Judging(pour, judged));
}

fn skip(model: &mut Model, trial: i64, line: &TrialLine) {
    if line.is_over() {
        let over = match line.cells {
            Some(_) => "judged",
            None => "given up",
        };
        return model.refuse(&format!("Run {} is {over} already", line.run));
    }
    model.ask(forms::skip(trial, line.run));
}
