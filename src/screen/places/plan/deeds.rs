//! What the Plan does through the studio.

use super::{Asked, KEYS, Plan, Sheet, Wish, sheet};
use crate::screen::kit::desk::Desk;
use crate::screen::kit::handover::Handover;
use crate::screen::kit::keys::key_of;
use crate::screen::kit::place::Outcome;
use crate::studio::{Answer, Mixed, PlanSheet, Refusal, Settings, Studio, local};
use crate::tell;
use crate::trade::amount::show_volume;
use crate::trade::ids::CupId;
use crate::trade::instant::Now;
use crate::trade::text::inert;

/// A deed of the Plan.
#[derive(Debug, Clone)]
pub enum Deed {
    /// Work out what would follow, beside the form.
    Draft(Box<Asked>),
    /// Work it out and show it.
    Work(Box<Asked>),
    /// Keep it.
    Keep(Box<Asked>),
    /// Mix the next cup of the plan of the number.
    Mix(i64),
    /// Show the plan's next cup part by part.
    MixSteps(i64),
    /// Mix the cup whose parts were ticked off.
    MixTicked(i64),
}

/// Does a deed.
///
/// # Errors
/// Where the studio refuses, or the store fails.
pub fn perform(
    plan: &mut Plan,
    studio: &mut Studio,
    deed: Deed,
    desk: &mut Desk,
) -> Answer<Outcome> {
    let now = desk.beat.now;
    Ok(match deed {
        Deed::Draft(asked) => draft(studio, &asked, &now)?,
        Deed::Work(asked) => {
            let asked = asked.sensed(studio, &now)?;
            let worked = asked.work(studio, &now)?;
            plan.open = Some(Sheet::new(asked, worked));
            Outcome {
                closes: true,
                ..Outcome::default()
            }
        }
        Deed::Keep(asked) => {
            let kept = asked.keep(studio, &now)?;
            plan.open = None;
            plan.wanted = Some(kept.plan);
            let (number, mix) = (kept.plan, key_of(KEYS, &Wish::Mix));
            Outcome {
                remarks: kept.sheet.warnings.into(),
                ..Outcome::wrote(format!("Kept as plan {number}: {mix} mixes its next cup"))
            }
        }
        Deed::Mix(number) => {
            let done = mixed(studio, number, None, desk)?;
            plan.forget_ticks();
            done
        }
        Deed::MixSteps(number) => match plan.next_cup(studio, number, desk)? {
            true => Outcome::default(),
            false => return Err(Refusal::PlanDone(number).into()),
        },
        Deed::MixTicked(number) => plan.mix_ticked(studio, number, desk)?,
    })
}

/// The plan's next cup, mixed; where a place is meant, only the cup of that.
///
/// # Errors
/// As [`perform`].
pub fn mixed(
    studio: &mut Studio,
    plan: i64,
    place: Option<usize>,
    desk: &mut Desk,
) -> Answer<Outcome> {
    let now = desk.beat.now;
    let mixed = match place {
        Some(place) => studio.mix_in_place(plan, place, &now)?,
        None => studio.mix_from_plan(plan, &now)?,
    };
    desk.hand(Handover::Cup(CupId(mixed.standing.cup.id)));
    Ok(written(mixed, &studio.settings()?, &now))
}

/// What would follow; an order that makes no sense yet says why in its place.
fn draft(studio: &Studio, asked: &Asked, now: &Now) -> Answer<Outcome> {
    let settings = studio.settings()?;
    let lines = match asked.work(studio, now) {
        Ok(worked) => draft_lines(&worked, &settings, now),
        Err(error) => vec![inert(&tell::words(&error, settings.measures, now)).into_owned()],
    };
    Ok(Outcome::aside(lines))
}

fn draft_lines(worked: &PlanSheet, settings: &Settings, now: &Now) -> Vec<String> {
    let volume = |ml| show_volume(ml, settings.measures);
    let mut lines = vec![format!("{:>9}  in all", volume(worked.total))];
    lines.extend(worked.layers.iter().map(|layer| {
        let name = layer.variant_ref().to_string();
        let cups = tell::plans::in_cups(layer, settings.measures);
        format!("{:>9}  {}{cups}", volume(layer.ml), inert(&name))
    }));
    lines.extend(sheet::lacks(worked, settings.measures, now));
    let differs = worked.repeat.iter().flat_map(|one| &one.differs);
    lines.extend(differs.map(|one| tell::words(one, settings.measures, now)));
    lines.push(sheet::costs(worked, settings));
    let begin = worked.schedule.first().map(|step| local(step.at, now));
    let pour = local(worked.pour_at, now);
    lines.extend(begin.map(|begin| format!("begin {begin}, pour {pour}")));
    lines
}

/// What to write on the lid, and what goes in.
fn written(mixed: Mixed, settings: &Settings, now: &Now) -> Outcome {
    let volume = |ml| show_volume(ml, settings.measures);
    let standing = &mixed.standing;
    let mark = standing.cup.mark.to_string();
    let parts = mixed.parts.iter();
    let parts: Vec<_> = parts
        .map(|part| format!("{} {}", volume(part.ml), part.name))
        .collect();
    let words = format!(
        "Write {mark} on the lid: {}, {}: {}; {}",
        standing.title(),
        volume(standing.cup.volume),
        parts.join(", "),
        tell::words(standing, settings.measures, now)
    );
    Outcome {
        remarks: mixed.remarks,
        ..Outcome::wrote(words)
    }
}
