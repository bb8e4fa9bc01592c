//! Kept plans worked out anew, so that their days can be shown.

use crate::studio::{Answer, PlanLine, PlanOrder, PlanPage, PlanSheet, Studio, StudioError};
use crate::trade::instant::Now;
use crate::trade::units::{Millilitres, Millimetres};

/// The recipe's name in `River blue v2`.
pub fn recipe_of(title: &str) -> &str {
    title.rsplit_once(" v").map_or(title, |(name, _)| name)
}

/// What was asked for in a kept plan, of the cups that fit.
fn order(page: &PlanPage, fits: impl Fn(&&PlanLine) -> bool) -> (PlanOrder, Millilitres) {
    let lines: Vec<_> = page.cups.iter().filter(fits).collect();
    let recipes = lines.iter().map(|line| recipe_of(&line.title).to_owned());
    let order = PlanOrder {
        panels: page.plan.panels,
        way: page.plan.way.clone(),
        pour_at: page.plan.pour_at,
        film: None,
        recipes: recipes.collect(),
    };
    (order, lines.iter().map(|line| line.planned).sum())
}

/// A kept plan's sheet by today's recipes, prices and shelf; `None` where a recipe of it is gone.
///
/// # Errors
/// Where the store cannot be read.
pub fn sheet(studio: &Studio, page: &PlanPage, now: &Now) -> Answer<Option<PlanSheet>> {
    let Some(mut all) = worked(studio, order(page, |_| true), now)? else {
        return Ok(None);
    };
    if page.cups.iter().all(|line| line.mark.is_none()) {
        return Ok(Some(all));
    }
    // What is mixed was taken from the shelf already, and its time is not to come.
    let to_mix = order(page, |line| line.mark.is_none());
    let rest = match to_mix.0.recipes.is_empty() {
        true => None,
        false => worked(studio, to_mix, now)?,
    };
    (all.lacks, all.warnings) = rest
        .map(|rest| (rest.lacks, rest.warnings))
        .unwrap_or_default();
    Ok(Some(all))
}

/// Works an order out with the film that makes as much paint as was planned: the film itself is not kept.
fn worked(
    studio: &Studio,
    (order, planned): (PlanOrder, Millilitres),
    now: &Now,
) -> Answer<Option<PlanSheet>> {
    let Some(first) = fitting(studio.plan(&order, now))? else {
        return Ok(None);
    };
    let film = first.film.get() * planned.get() / first.total.get();
    let order = PlanOrder {
        film: Some(Millimetres(film)).filter(|film| film.is_finite()),
        ..order
    };
    Ok(fitting(studio.plan(&order, now))?.or(Some(first)))
}

fn fitting(worked: Answer<PlanSheet>) -> Answer<Option<PlanSheet>> {
    match worked {
        Ok(sheet) => Ok(Some(sheet)),
        Err(StudioError::Refused(_)) => Ok(None),
        Err(error) => Err(error),
    }
}
