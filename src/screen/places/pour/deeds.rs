//! What the Pour does through the studio.

use crate::exchange::fill_air;
use crate::screen::kit::amounts::start;
use crate::screen::kit::correct;
use crate::screen::kit::place::Outcome;
use crate::studio::orders::CorrectOrder;
use crate::studio::{Answer, CupStatus, LayerOrder, PourOrder, Poured, StartOverOrder, Studio};
use crate::tell;
use crate::trade::instant::Now;
use crate::trade::moment::Moment;
use crate::trade::pour::Air;

/// A deed of the Pour.
#[derive(Debug, Clone)]
pub enum Deed {
    /// Pour; for a run of a trial, if it is one.
    Pour(Box<PourOrder>, Option<(i64, usize)>),
    /// Work out how much of each of these cups the panel takes, and put them on the stack.
    Propose(Vec<CupStatus>),
    /// Put a cup on top of the stack.
    Put(LayerOrder),
    /// Another amount of the layer at a place.
    Set(usize, LayerOrder),
    /// Put the pour of the number right.
    Correct(i64, Box<CorrectOrder>),
    /// Scrape the pour of the number and begin again.
    StartOver(i64, Box<StartOverOrder>),
}

/// Does a deed; answers the number of the pour that it made, too.
///
/// # Errors
/// Where the studio refuses, or the store fails.
pub fn perform(studio: &mut Studio, deed: Deed, now: &Now) -> Answer<(Outcome, Option<i64>)> {
    let settings = studio.settings()?;
    let fill = |studio: &Studio, air: &mut Option<Air>, at: Option<Moment>| {
        fill_air(air, at, (studio, &settings), now)
    };
    let (done, unread) = match deed {
        Deed::Pour(mut order, None) => {
            let unread = fill(studio, &mut order.air, order.at);
            (studio.pour(&order, now)?, unread)
        }
        Deed::Pour(mut order, Some(run)) => {
            let unread = fill(studio, &mut order.air, order.at);
            (studio.pour_run(&order, run, now)?, unread)
        }
        // The stack is the place's own, and is put there.
        Deed::Propose(_) | Deed::Put(_) | Deed::Set(..) => return Ok((Outcome::default(), None)),
        Deed::Correct(pour, order) => {
            let done = correct::perform(studio, pour, &order, now)?;
            return Ok((done, None));
        }
        Deed::StartOver(pour, mut order) => {
            let unread = fill(studio, &mut order.air, order.at);
            (studio.start_over(pour, &order, now)?, unread)
        }
    };
    let pour = done.pour.id;
    let unread = unread.map(|fault| tell::words(&fault, settings.measures, now));
    Ok((said(poured(studio, done), unread), Some(pour)))
}

fn said(outcome: Outcome, unread: Option<String>) -> Outcome {
    let more = unread.map(|why| format!("; {why}")).unwrap_or_default();
    let wrote = outcome.wrote.map(|words| words + &more);
    Outcome { wrote, ..outcome }
}

fn poured(studio: &Studio, poured: Poured) -> Outcome {
    let (number, go) = (poured.pour.id, start(poured.pour.go));
    let cups = poured.marks.join(", ");
    // It is written down already: what cannot be looked up is only left unsaid.
    let run = studio.open_run_of(number).ok().flatten();
    let what = run.map(|(trial, run)| format!(", run {run} of trial {trial}"));
    let what = what.unwrap_or_default();
    let words = format!("Pour {number}{go}{what}: {cups}. d judges it, o starts over");
    Outcome {
        remarks: poured.remarks,
        ..Outcome::wrote(words)
    }
}
