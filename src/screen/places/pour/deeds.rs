//! What the Pour does through the studio.

use crate::screen::kit::place::Outcome;
use crate::studio::{AgainOrder, Answer, PourOrder, Poured, Studio};
use crate::trade::instant::Now;

/// A deed of the Pour.
#[derive(Debug, Clone)]
pub enum Deed {
    /// Pour; for a run of a trial, if it is one.
    Pour(Box<PourOrder>, Option<(i64, usize)>),
    /// Scrape the pour of the number and begin again.
    Again(i64, Box<AgainOrder>),
}

/// Does a deed.
///
/// # Errors
/// Where the studio refuses, or the store fails.
pub fn perform(studio: &mut Studio, deed: Deed, now: &Now) -> Answer<Outcome> {
    Ok(match deed {
        Deed::Pour(order, None) => {
            let done = studio.pour(&order, now)?;
            poured(studio, done)
        }
        Deed::Pour(order, Some(run)) => {
            let done = studio.pour_run(&order, run, now)?;
            poured(studio, done)
        }
        Deed::Again(pour, order) => {
            let done = studio.again(pour, &order, now)?;
            poured(studio, done)
        }
    })
}

fn poured(studio: &Studio, poured: Poured) -> Outcome {
    let (number, go) = (poured.pour.id, poured.pour.go);
    let cups = poured.marks.join(", ");
    // It is written down already: what cannot be looked up is only left unsaid.
    let run = studio.open_run_of(number).ok().flatten();
    let what = run.map(|(trial, run)| format!(", run {run} of trial {trial}"));
    let what = what.unwrap_or_default();
    let words = format!("Pour {number}, go {go}{what}: {cups}. d judges it, o starts over");
    Outcome {
        remarks: poured.remarks,
        ..Outcome::wrote(words)
    }
}
