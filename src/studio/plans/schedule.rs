//! What to do when, backwards from the pour. The times between steps are common practice, no source.

use crate::studio::VariantRef;
use crate::trade::instant::Zone;
use crate::trade::moment::{Moment, earlier, later, milliseconds, sum};
use crate::trade::quiet::Quiet;
use crate::trade::recipe::{LayerKind, Variant};
use crate::trade::units::Hours;
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
    /// How long it is to have stood by the pour, where a picture's cup had; as long as it must otherwise.
    pub(crate) stood: Option<TimeDelta>,
    /// How long it is stirred.
    pub(crate) stir: TimeDelta,
    /// Whether it stands already: it is only looked at again.
    pub(crate) stands: bool,
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
    if wait.stands {
        return LOOK;
    }
    if let Some(stood) = wait.stood {
        return if stood < LOOK {
            TimeDelta::zero()
        } else {
            LOOK
        };
    }
    if wait.rest.is_zero() && wait.layer == LayerKind::Activator {
        TimeDelta::zero()
    } else {
        LOOK
    }
}

/// How long the hands are at it before it rests.
fn work(wait: &Wait) -> TimeDelta {
    if wait.stands {
        return TimeDelta::zero();
    }
    sum(&[SHAKE, MIX, wait.stir])
}

fn lead(wait: &Wait) -> TimeDelta {
    if wait.stands {
        return LOOK;
    }
    if let Some(stood) = wait.stood {
        return sum(&[work(wait), stood]);
    }
    let before = sum(&[wait.rest, margin(wait)]);
    if before.is_zero() {
        ACTIVATOR.max(work(wait))
    } else {
        sum(&[work(wait), before])
    }
}

/// The days that a schedule is laid into.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Days {
    /// Nothing can be done before.
    pub(crate) from: Moment,
    /// The zone of the clock on the wall.
    pub(crate) zone: Zone,
    /// When nothing is to be done.
    pub(crate) quiet: Option<Quiet>,
}

impl Days {
    fn is_quiet(&self, at: Moment) -> bool {
        self.quiet.is_some_and(|quiet| quiet.holds(at, self.zone))
    }

    /// When work of some length that was to begin in quiet hours, or to reach into them, begins before them instead; as
    /// it was to where that is past already.
    fn ahead(&self, begin: Moment, work: TimeDelta) -> Moment {
        let end = later(begin, work);
        let hit = [end, begin].into_iter().find(|at| self.is_quiet(*at));
        let (Some(quiet), Some(hit)) = (self.quiet, hit) else {
            return begin;
        };
        let ahead = earlier(quiet.before(hit, self.zone), work);
        let fits = !self.is_quiet(ahead) && ahead >= self.from;
        if fits { ahead } else { begin }
    }

    /// The first instant from which work of some length lies in no quiet hours; where no day has room for it, as it was.
    fn room_for(&self, begin: Moment, work: TimeDelta) -> Moment {
        let Some(quiet) = self.quiet else {
            return begin;
        };
        let mut at = quiet.over(begin, self.zone);
        if self.is_quiet(later(at, work)) {
            at = quiet.over(later(at, work), self.zone);
        }
        let fits = !self.is_quiet(later(at, work));
        if fits { at } else { begin }
    }
}

/// How long before the pour the hands are at the cups again.
fn final_work(waits: &[Wait]) -> TimeDelta {
    let last = waits.iter().filter(|wait| margin(wait).is_zero());
    last.map(lead).max().map_or(LOOK, |lead| lead.max(LOOK))
}

/// The earliest a pour can begin if mixing begins now, day and night.
pub(crate) fn earliest(waits: &[Wait], now: Moment) -> Moment {
    let longest = waits.iter().map(lead).max();
    later(now, longest.unwrap_or(TimeDelta::zero()))
}

/// The earliest a pour can begin with every step outside the quiet hours.
pub(crate) fn earliest_by_day(waits: &[Wait], days: &Days) -> Moment {
    let longest = waits.iter().max_by_key(|wait| lead(wait));
    let Some(longest) = longest else {
        return days.room_for(days.from, TimeDelta::zero());
    };
    let begin = days.room_for(days.from, work(longest));
    let last = final_work(waits);
    let hands_on = earlier(later(begin, lead(longest)), last);
    later(days.room_for(hands_on, last), last)
}

/// Every step of every cup, in order of time; the pour last. No mixing lies in quiet hours where it can be done before.
pub(crate) fn backwards(waits: &[Wait], pour_at: Moment, days: &Days) -> Vec<Step> {
    let mut steps: Vec<Step> = waits
        .iter()
        .flat_map(|wait| steps_of(wait, pour_at, days))
        .collect();
    steps.sort_by_key(|step| step.at);
    // A cup that stands and one that is mixed for the same layer are looked at together.
    let mut seen = Vec::new();
    steps.retain(|step| {
        let again = seen.contains(step);
        seen.push(step.clone());
        !again || !matches!(step.deed, Deed::Look | Deed::Thin)
    });
    steps.push(Step {
        at: pour_at,
        deed: Deed::Pour,
        cup: None,
    });
    steps
}

/// When a cup is begun.
fn begin(wait: &Wait, pour_at: Moment, days: &Days) -> Moment {
    let begin = earlier(pour_at, lead(wait));
    match margin(wait).is_zero() {
        // It is mixed last: the evening before is no time for it.
        true => begin,
        false => days.ahead(begin, work(wait)),
    }
}

fn steps_of(wait: &Wait, pour_at: Moment, days: &Days) -> Vec<Step> {
    let begin = begin(wait, pour_at, days);
    let step = |at, deed| Step {
        at,
        deed,
        cup: Some(wait.cup.clone()),
    };
    if wait.stands {
        return vec![
            step(earlier(pour_at, LOOK), Deed::Look),
            step(earlier(pour_at, THIN), Deed::Thin),
        ];
    }
    let mut steps = vec![
        step(begin, Deed::Shake),
        step(later(begin, SHAKE), Deed::Mix),
        step(later(begin, SHAKE + MIX), Deed::Stir),
    ];
    if margin(wait) > TimeDelta::zero() {
        let clears = later(begin, sum(&[work(wait), wait.rest]));
        // A picture's cup may have been poured before it cleared.
        steps.extend((clears <= pour_at).then(|| step(clears, Deed::Clears)));
        steps.push(step(earlier(pour_at, LOOK), Deed::Look));
        steps.push(step(earlier(pour_at, THIN), Deed::Thin));
    }
    steps
}

/// How long a cup of a variant is stirred: 4 minutes where it does not say (common practice, no source).
pub(crate) fn stirring(variant: &Variant) -> TimeDelta {
    let stir = variant.targets.stir;
    stir.map_or(TimeDelta::minutes(4), |stir| {
        milliseconds(stir.get() * 60_000.0)
    })
}

/// How long a variant's cup will have stood by the pour.
pub(crate) fn stood_of(steps: &[Step], variant: &Variant, pour_at: Moment) -> Option<Hours> {
    let stirs = |step: &&Step| {
        step.deed == Deed::Stir && step.cup.as_ref().is_some_and(|cup| cup.id == variant.id)
    };
    let stirred = later(steps.iter().find(stirs)?.at, stirring(variant));
    let stood = (pour_at - stirred).num_milliseconds() as f64 / 3_600_000.0;
    Some(Hours(stood))
}

/// What the hands are to do in quiet hours all the same: one step of each cup's mixing, one look, and the pour.
pub(crate) fn at_night(steps: &[Step], days: &Days) -> Vec<Step> {
    let mut looked = false;
    let told = steps.iter().filter(|step| match step.deed {
        Deed::Mix | Deed::Pour => true,
        Deed::Look => !std::mem::replace(&mut looked, true),
        Deed::Shake | Deed::Stir | Deed::Clears | Deed::Thin => false,
    });
    let night = told.filter(|step| step.at >= days.from && days.is_quiet(step.at));
    night.cloned().collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use chrono::DateTime;

    fn at(clock: &str) -> Moment {
        DateTime::parse_from_rfc3339(&format!("2026-11-{clock}:00+01:00")).unwrap()
    }

    fn days(clock: &str) -> Days {
        let from = at(clock);
        Days {
            from,
            zone: Zone::Fixed(*from.offset()),
            quiet: Some(Quiet::USUAL),
        }
    }

    fn wait(cup: &str, layer: LayerKind, hours: i64) -> Wait {
        Wait {
            cup: VariantRef {
                recipe: cup.to_owned(),
                ..VariantRef::default()
            },
            layer,
            rest: TimeDelta::hours(hours),
            stood: None,
            stir: TimeDelta::minutes(4),
            stands: false,
        }
    }

    // By hand: pour 10:00, clear and looked at 09:20, stirred until 21:20 the day before, so stirring from 21:16,
    // mixing from 21:06, shaking from 21:01.
    #[test]
    fn a_twelve_hour_cup_is_begun_the_evening_before() {
        let steps = backwards(
            &[wait("blue", LayerKind::Colour, 12)],
            at("25T10:00"),
            &days("24T09:00"),
        );
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
        let steps = backwards(&waits, at("25T10:00"), &days("24T09:00"));
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
        let always = Days {
            quiet: None,
            ..days("24T18:30")
        };
        let steps = backwards(&waits, earliest(&waits, now), &always);
        assert_eq!(steps.first().map(|step| step.at), Some(now));
    }

    fn mixing(steps: &[Step]) -> Vec<Moment> {
        let mixed = steps.iter().filter(|step| step.deed == Deed::Mix);
        mixed.map(|step| step.at).collect()
    }

    // By hand: 8 h of rest before 09:20 end at 01:20, so it would be begun at 01:01. Its 19 minutes are done by 22:00
    // instead, from 21:41, with the parts together from 21:46; it clears at 06:00.
    #[test]
    fn what_would_be_mixed_at_night_is_mixed_in_the_evening() {
        let steps = backwards(
            &[wait("blue", LayerKind::Colour, 8)],
            at("25T10:00"),
            &days("24T09:00"),
        );
        assert_eq!(mixing(&steps), [at("24T21:46")]);
        let clears = steps.iter().find(|step| step.deed == Deed::Clears);
        assert_eq!(clears.map(|step| step.at), Some(at("25T06:00")));
        assert_eq!(at_night(&steps, &days("24T09:00")), []);
    }

    #[test]
    fn what_is_too_late_for_the_evening_stays_at_night_and_is_told() {
        let late = days("24T21:50");
        let steps = backwards(&[wait("blue", LayerKind::Colour, 8)], at("25T10:00"), &late);
        assert_eq!(mixing(&steps), [at("25T01:06")]);
        let night = at_night(&steps, &late);
        assert_eq!(night.len(), 1);
        assert_eq!((night[0].deed, night[0].at), (Deed::Mix, at("25T01:06")));
        let early = backwards(&[wait("blue", LayerKind::Colour, 8)], at("25T07:10"), &late);
        let night: Vec<_> = at_night(&early, &late)
            .iter()
            .map(|step| step.deed)
            .collect();
        assert_eq!(night, [Deed::Mix, Deed::Look]);
    }

    // By hand: begun at 18:30, stirred until 18:49, clear at 02:49 after 8 h; the look waits for 07:00, the pour for
    // 07:40. Begun at 21:50 the stirring would last until 22:09: it begins at 07:00 and is poured at 15:59.
    #[test]
    fn a_pour_as_soon_as_can_be_waits_for_the_morning() {
        let waits = [wait("blue", LayerKind::Colour, 8)];
        let soonest = |clock| earliest_by_day(&waits, &days(clock));
        assert_eq!(soonest("24T18:30"), at("25T07:40"));
        assert_eq!(soonest("24T21:50"), at("25T15:59"));
        // 12 h from 07:00 end at 19:19, and 40 minutes later it is evening; 15 h end at night.
        let longer = [wait("blue", LayerKind::Colour, 15)];
        assert_eq!(earliest_by_day(&longer, &days("24T23:00")), at("26T07:40"));
        for clock in ["24T18:30", "24T21:50", "24T23:00", "25T03:00"] {
            let days = days(clock);
            let steps = backwards(&waits, earliest_by_day(&waits, &days), &days);
            assert_eq!(at_night(&steps, &days), [], "{clock}");
        }
    }
}
