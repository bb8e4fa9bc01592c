//! What the Pour does through the studio.

use crate::screen::effect::Outcome;
use crate::screen::model::Model;
use crate::studio::{AgainOrder, Answer, JudgeOrder, PourOrder, Poured, Studio};
use crate::trade::instant::Now;

/// A deed of the Pour.
#[derive(Debug, Clone)]
pub enum Deed {
    /// Pour.
    Pour(Box<PourOrder>),
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
        Deed::Pour(order) => poured(studio.pour(&order, now)?),
        Deed::Again(pour, order) => poured(studio.again(pour, &order, now)?),
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

fn poured(poured: Poured) -> Outcome {
    let (number, go) = (poured.pour.id, poured.pour.go);
    let cups = poured.marks.join(", ");
    let words = format!("Pour {number}, go {go}: {cups}. d judges it, o starts over");
    Outcome {
        odd: poured.warnings,
        told: Some(Told::Poured),
        ..Outcome::wrote(words)
    }
}

/// Takes what came back into the desk.
pub fn take(model: &mut Model, told: Told) {
    match told {
        Told::Poured => model.pour.cleared(),
    }
}
