//! What the Trials' keys change, and what is to be done about them.

use super::words::seen;
use super::{Ask, Deed, KEYS, Place, Trials, Wish, forms};
use crate::screen::kit::desk::Desk;
use crate::screen::kit::handover::{Handover, RunInHand};
use crate::screen::kit::keys::key_of;
use crate::screen::kit::message::{Message, Tone};
use crate::screen::kit::place;
use crate::studio::TrialLine;

type Next = place::Next<Ask, Deed>;

/// Takes a wish.
pub fn update(trials: &mut Trials, wish: Wish, desk: &mut Desk) -> Option<Next> {
    if wish == Wish::New {
        return Next::ask(Ask::New, forms::new(&desk.beat.now));
    }
    if trials.chosen().is_none() {
        let new = key_of(KEYS, &Wish::New);
        desk.refuse(&format!("There is no trial yet: {new} sets one up"));
        return None;
    }
    match wish {
        Wish::Runs => trials.place = Place::Runs,
        Wish::Rows => {
            trials.place = Place::Rows;
            trials.run = None;
        }
        Wish::Effects => effects(trials, desk),
        wish => return on_run(trials, wish, desk),
    }
    None
}

fn effects(trials: &mut Trials, desk: &mut Desk) {
    if trials.found.is_some() {
        trials.place = Place::Effects;
        trials.from = 0;
        return;
    }
    let told = trials.chosen().map(|page| {
        let (judged, all) = (page.judged(), page.runs.len());
        format!("{judged} of {all} runs are judged: too early to tell")
    });
    desk.refuse(&told.unwrap_or_default());
}

/// Wishes about the run in hand.
fn on_run(trials: &Trials, wish: Wish, desk: &mut Desk) -> Option<Next> {
    let waiting = match wish {
        Wish::Judge => trials.to_judge(),
        _ => None,
    };
    let Some((page, line)) = trials.line() else {
        desk.refuse("Every run of it is judged or given up");
        return None;
    };
    let trial = page.id;
    let poured = line.pour.map(|_| line.run);
    let next = || page.to_judge().map(|line| line.run);
    let run = waiting.or(poured).or_else(next).unwrap_or(line.run);
    match wish {
        Wish::Pour => pour(trials, trial, line, desk),
        Wish::Judge => judge(trials, trial, run, desk),
        Wish::Skip => return skip(trial, line, desk),
        Wish::Link => return Some(Next::Do(Deed::Link(trial, line.run))),
        _ if page.blind && line.pour.is_some() && !trials.is_over() => {
            desk.refuse("It has its picture: its settings stay hidden until all runs are judged");
        }
        _ => return Some(Next::Do(Deed::Settings(trial, line.run))),
    }
    None
}

fn pour(trials: &Trials, trial: i64, line: &TrialLine, desk: &mut Desk) {
    let run = line.run;
    if let Some(pour) = line.pour {
        return desk.refuse(&format!("Run {run} was poured already: pour {pour}"));
    }
    let settings = trials.called(trial).map(|page| seen(page, line));
    let settings = settings.unwrap_or_default();
    let words = format!("The next pour is run {run} of trial {trial}: {settings}");
    desk.hand(Handover::PourRun(RunInHand {
        trial,
        run,
        settings,
    }));
    desk.say(Message::new(Tone::Done, &words));
}

/// A picture that was judged before is judged again dry.
fn judge(trials: &Trials, trial: i64, run: usize, desk: &mut Desk) {
    let line = trials.called(trial).and_then(|page| page.run(run));
    match line.and_then(|line| Some((line.pour?, line.cells.is_some()))) {
        Some((pour, dry)) => desk.hand(Handover::Judge {
            pour,
            dry,
            seen: None,
        }),
        None => desk.refuse(&format!("Run {run} is not poured yet")),
    }
}

fn skip(trial: i64, line: &TrialLine, desk: &mut Desk) -> Option<Next> {
    if line.is_over() {
        let over = match line.cells {
            Some(_) => "judged",
            None => "given up",
        };
        desk.refuse(&format!("Run {} is {over} already", line.run));
        return None;
    }
    Next::ask(Ask::Skip(trial, line.run), forms::skip(trial, line.run))
}
