//! What the Pour does through the studio.

use crate::screen::effect::Outcome;
use crate::screen::model::Model;
use crate::studio::{AgainOrder, Answer, JudgeOrder, PourOrder, Poured, Studio};
use crate::trade::instant::Now;

/// A deed of the Pour.
#[derive(Debug, Clone)]
pub enum Deed {
    /// Pour; for a run of a trial, if it is one.
    Pour(Box<PourOrder>, Option<(i64, usize)>),
    /// Scrape the pour of the number and begin again.
    Again(i64, Box<AgainOrder>),
    /// Judge the pour of the number.
    Judge(i64, Box<JudgeOrder>),
}

/// What changes on the desk.
#[derive(Debug, Clone)]
pub enum Told {
    /// It was poured: the stack is done with.
    Poured,
}

/// Does a deed.
///
/// # Errors
/// Where the studio refuses, or the store fails.
pub fn perform(studio: &mut Studio, deed: Deed, now: &Now) -> Answer<Outcome> {
    Ok(match deed {
        Deed::Pour(order, run) => {
            let done = studio.pour(&order, now)?;
            poured(studio, done, run, now)
        }
        Deed::Again(pour, order) => {
            let run = studio.open_run_of(pour)?;
            let done = studio.again(pour, &order, now)?;
            poured(studio, done, run, now)
        }
        Deed::Judge(pour, order) => {
            let judged = studio.judge(pour, &order, now)?;
            let seen = if judged.dry { "dry" } else { "wet" };
            Outcome::wrote(format!(
                "Pour {pour} is judged, {seen}: cells {}",
                judged.cells
            ))
        }
    })
}

/// What was poured, made known as the run of a trial it was made for. A pour stands though the trial refuses it.
fn poured(
    studio: &mut Studio,
    mut poured: Poured,
    run: Option<(i64, usize)>,
    now: &Now,
) -> Outcome {
    let number = poured.pour.id;
    let Some((trial, run)) = run else {
        return told(poured, "");
    };
    match studio.do_run(trial, number, Some(run), now) {
        Ok(_) => told(poured, &format!(", run {run} of trial {trial}")),
        Err(error) => {
            let odd = format!("it is not run {run} of trial {trial}: {error}");
            poured.warnings.push(odd);
            told(poured, "")
        }
    }
}

fn told(poured: Poured, what: &str) -> Outcome {
    let (number, go) = (poured.pour.id, poured.pour.go);
    let cups = poured.marks.join(", ");
    let words = format!("Pour {number}, go {go}{what}: {cups}. d judges it, o starts over");
    Outcome {
        odd: poured.warnings,
        told: Some(Told::Poured),
        ..Outcome::wrote(words)
    }
}

/// Takes what came back into the desk.
pub fn take(model: &mut Model, told: Told) {
    match told {
        Told::Poured => {
            model.pour.cleared();
            model.trials.to_pour = None;
        }
    }
}
