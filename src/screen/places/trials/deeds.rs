//! What the Trials do through the studio.

use super::words::mixing;
use crate::screen::kit::place::Outcome;
use crate::studio::{Answer, Refusal, RunDone, RunFault, Studio, TrialOrder};
use crate::trade::instant::Now;

/// A deed of the Trials.
#[derive(Debug, Clone)]
pub enum Deed {
    /// Keep a trial.
    Design(Box<TrialOrder>),
    /// The newest pour was made for a run of a trial.
    Link(i64, usize),
    /// Give a run of a trial up, for a reason.
    Skip(i64, usize, String),
    /// Fetch a run's settings for the hand that mixes.
    Settings(i64, usize),
}

/// Does a deed.
///
/// # Errors
/// Where the studio refuses, or the store fails.
pub fn perform(studio: &mut Studio, deed: Deed, now: &Now) -> Answer<Outcome> {
    match deed {
        Deed::Design(order) => {
            let page = studio.design_trial(&order, now)?;
            let words = format!("Trial {} is kept: {} runs", page.id, page.runs.len());
            Ok(Outcome::wrote(words))
        }
        Deed::Link(trial, run) => {
            let none = || Refusal::Run {
                trial,
                fault: RunFault::NothingPoured,
            };
            let pour = studio.pour_at_hand(now)?.ok_or_else(none)?.pour.id;
            let done = studio.do_run(trial, pour, Some(run), now)?;
            let words = format!("Pour {pour} is run {run} of trial {trial}");
            Ok(told(words, done))
        }
        Deed::Skip(trial, run, why) => {
            let done = studio.skip_run(trial, run, &why, now)?;
            let words = format!("Run {run} of trial {trial} is given up: {why}");
            Ok(told(words, done))
        }
        Deed::Settings(trial, run) => {
            let page = studio.trial_page_open(trial)?;
            Ok(Outcome::page(mixing(&page, run)))
        }
    }
}

fn told(words: String, done: RunDone) -> Outcome {
    Outcome {
        remarks: done.remarks,
        ..Outcome::wrote(words)
    }
}
