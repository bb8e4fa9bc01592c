//! What to do when, backwards from the pour. The times between steps are common practice, no source.

use crate::studio::VariantRef;
use crate::trade::moment::{Moment, earlier, later, sum};
use crate::trade::recipe::LayerKind;
use crate::trade::words::word_enum;
use chrono::TimeDelta;

/// What one cup asks for.
#[derive(Debug, Clone)]
pub(crate) struct Wait {
    /// What it is mixed by.
    pub(crate) cup: VariantRef,
    /// Where it goes.
    pub(crate) layer: LayerKind,
    /// How long it rests.
    pub(crate) rest: TimeDelta,
    /// How long it is stirred.
    pub(crate) stir: TimeDelta,
}

word_enum! {
    /// What the hands do.
    Deed {
        /// Bottles are shaken, so that what settled is one again.
        Shake = "shake",
        /// The parts are put together.
        Mix = "mix",
        /// It is stirred, slowly.
        Stir = "stir",
        /// Its bubbles are gone.
        Clears = "clears",
        /// It is looked at and its mound read.
        Look = "look",
        /// It is thinned, if it thickened.
        Thin = "thin",
        /// The pour begins.
        Pour = "pour",
    }
}

/// One step of a day.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Step {
    /// When it begins.
    pub at: Moment,
    /// What is done.
    pub deed: Deed,
    /// With which cup; the pour has none.
    pub cup: Option<VariantRef>,
}

const SHAKE: TimeDelta = TimeDelta::minutes(5);
const MIX: TimeDelta = TimeDelta::minutes(10);
/// From the first look at the cups to the pour.
const LOOK: TimeDelta = TimeDelta::minutes(40);
/// From thinning to the pour; well within the hour after which a cup is looked at again.
const THIN: TimeDelta = TimeDelta::minutes(20);
/// An activator is mixed last, between thinning and the pour.
const ACTIVATOR: TimeDelta = TimeDelta::minutes(15);

/// How long before the pour a cup must have cleared.
fn margin(wait: &Wait) -> TimeDelta {
    if wait.rest.is_zero() && wait.layer == LayerKind::Activator {
        TimeDelta::zero()
    } else {
        LOOK
    }
}

fn lead(wait: &Wait) -> TimeDelta {
    let before = sum(&[wait.rest, margin(wait)]);
    if before.is_zero() {
        ACTIVATOR.max(sum(&[SHAKE, MIX, wait.stir]))
    } else {
        sum(&[SHAKE, MIX, wait.stir, before])
    }
}

/// The earliest a pour can begin if mixing begins now.
pub(crate) fn earliest(waits: &[Wait], now: Moment) -> Moment {
    let longest = waits.iter().map(lead).max();
    later(now, longest.unwrap_or(TimeDelta::zero()))
}

/// Every step of every cup, in order of time; the pour last.
pub(crate) fn backwards(waits: &[Wait], pour_at: Moment) -> Vec<Step> {
    let mut steps: Vec<Step> = waits
        .iter()
        .flat_map(|wait| steps_of(wait, pour_at))
        .collect();
    steps.sort_by_key(|step| step.at);
    steps.push(Step {
        at: pour_at,
        deed: Deed::Pour,
        cup: None,
    });
    steps
}

fn steps_of(wait: &Wait, pour_at: Moment) -> Vec<Step> {
    let begin = earlier(pour_at, lead(wait));
    let step = |at, deed| Step {
        at,
        deed,
        cup: Some(wait.cup.clone()),
    };
    let mut steps = vec![
        step(begin, Deed::Shake),
        step(later(begin, SHAKE), Deed::Mix),
        step(later(begin, SHAKE + MIX), Deed::Stir),
    ];
    if margin(wait) > TimeDelta::zero() {
        steps.push(step(earlier(pour_at, LOOK), Deed::Clears));
        steps.push(step(earlier(pour_at, LOOK), Deed::Look));
        steps.push(step(earlier(pour_at, THIN), Deed::Thin));
    }
    steps
}

#[cfg(test)]
mod tests {
    use super::*;
    use chrono::DateTime;

    fn at(clock: &str) -> Moment {
        DateTime::parse_from_rfc3339(&format!("2026-11-{clock}:00+01:00")).unwrap()
    }

    fn wait(cup: &str, layer: LayerKind, hours: i64) -> Wait {
        Wait {
            cup: VariantRef {
                recipe: cup.to_owned(),
                ..VariantRef::default()
            },
            layer,
            rest: TimeDelta::hours(hours),
            stir: TimeDelta::minutes(4),
        }
    }

    // By hand: pour 10:00, clear and looked at 09:20, stirred until 21:20 the day before, so stirring from 21:16,
    // mixing from 21:06, shaking from 21:01.
    #[test]
    fn a_twelve_hour_cup_is_begun_the_evening_before() {
        let steps = backwards(&[wait("blue", LayerKind::Colour, 12)], at("25T10:00"));
        let told: Vec<_> = steps.iter().map(|step| (step.deed, step.at)).collect();
        let wanted = [
            (Deed::Shake, at("24T21:01")),
            (Deed::Mix, at("24T21:06")),
            (Deed::Stir, at("24T21:16")),
            (Deed::Clears, at("25T09:20")),
            (Deed::Look, at("25T09:20")),
            (Deed::Thin, at("25T09:40")),
            (Deed::Pour, at("25T10:00")),
        ];
        assert_eq!(told, wanted);
    }

    #[test]
    fn the_activator_is_mixed_last() {
        let waits = [
            wait("act", LayerKind::Activator, 0),
            wait("blue", LayerKind::Colour, 12),
        ];
        let steps = backwards(&waits, at("25T10:00"));
        let mixed: Vec<_> = steps
            .iter()
            .filter(|step| step.deed == Deed::Mix)
            .filter_map(|step| step.cup.as_ref())
            .map(|cup| cup.recipe.as_str())
            .collect();
        assert_eq!(mixed, ["blue", "act"]);
    }

    #[test]
    fn a_pour_at_the_earliest_begins_with_a_step_now() {
        let waits = [
            wait("blue", LayerKind::Colour, 12),
            wait("base", LayerKind::Base, 14),
        ];
        let now = at("24T18:30");
        let steps = backwards(&waits, earliest(&waits, now));
        assert_eq!(steps.first().map(|step| step.at), Some(now));
    }
}
