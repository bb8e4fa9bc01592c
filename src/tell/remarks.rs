//! What a deed's warnings and notes say.

use crate::numbers::surprise::Surprise;
use crate::studio::{Deed, Doubt, Far, FarOf, Note, Remarks, Step, Warning, ends, local, said_day};
use crate::tell::{Told, models, plans, words};
use crate::trade::amount::{Measures, show_volume};
use crate::trade::instant::Now;
use crate::trade::mark::Mark;
use crate::trade::number::trimmed;
use crate::trade::text::inert;
use crate::trade::units::Millilitres;

/// The words of every warning.
#[must_use]
pub fn warnings(remarks: &Remarks, measures: Measures, now: &Now) -> Vec<String> {
    let all = remarks.warnings.iter();
    all.map(|one| words(one, measures, now)).collect()
}

/// The words of every note.
#[must_use]
pub fn notes(remarks: &Remarks, measures: Measures, now: &Now) -> Vec<String> {
    let all = remarks.notes.iter();
    all.map(|one| words(one, measures, now)).collect()
}

impl Told for Warning {
    fn told(&self, measures: Measures, now: &Now) -> String {
        match self {
            Self::Caution(caution) => caution.short.to_owned(),
            Self::OverThinned { mark, share, limit } => {
                let [share, limit] = [share, limit].map(|one| one.get() * 100.0);
                format!(
                    "{mark} now holds {share:.0} % thinner; over {limit:.0} % the binder crazes and dusts"
                )
            }
            Self::Thicker(mark) => {
                format!("{mark} was thinned and yet reads thicker: kept, and weighed")
            }
            Self::Doubted(doubt) => format!("kept all the same: {}", words(doubt, measures, now)),
            Self::WentElsewhere { mark, pours } => {
                let pours: Vec<_> = pours.iter().map(|pour| format!("picture {pour}")).collect();
                match pours.is_empty() {
                    true => format!("{mark}, mixed for this plan, is gone: it is to be mixed anew"),
                    false => format!(
                        "{mark}, mixed for this plan, lies on {}, another panel: it is to be mixed anew",
                        pours.join(" and ")
                    ),
                }
            }
            Self::ClockWentBack(mark) => {
                format!("the clock had stood later at an entry of {mark}: the order of entry holds")
            }
            Self::Overdrawn {
                material,
                needed,
                lacks,
            } => {
                let [needed, lacks] = [needed, lacks].map(|ml| show_volume(*ml, measures));
                format!(
                    "the shelf lacks {lacks} of {material}: {needed} went in; count it or write the purchase down"
                )
            }
            Self::DrawnResting { mark, clears_at } => {
                let clears = local(*clears_at, now);
                format!("{mark} still rests until {clears}: its bubbles go in with it")
            }
            Self::Blended { mark, holds } => {
                format!("{holds} was added to {mark}: it is no longer what its recipe says")
            }
            Self::Stack(fault) => words(fault, measures, now),
            Self::NotTheRun { trial, run, why } => {
                format!(
                    "it is not run {run} of trial {trial}: {}",
                    words(why.as_ref(), measures, now)
                )
            }
            Self::BeforeTheDesign(pour) => format!(
                "pour {pour} was made before the trial was designed: its setting was not drawn by lot"
            ),
            Self::OutOfTurn { first } => format!(
                "run {first} was to come first: the order was drawn so that the day's drift falls on no setting"
            ),
            Self::RunRepoured { run, had, counts } => {
                format!("run {run} was done with pour {had}; pour {counts} counts instead")
            }
            Self::RunAfterAll { run, counts } => {
                format!("run {run} was given up; pour {counts} counts after all")
            }
            Self::TooSoon { ready } => format!(
                "too soon: mixed now, the cups are ready at {}",
                local(*ready, now)
            ),
            Self::AtNight(steps) => {
                let steps: Vec<_> = steps.iter().map(|step| night_step(step, now)).collect();
                format!("in your quiet hours all the same: {}", steps.join("; "))
            }
            Self::MixedEarly { plan, due } => format!(
                "before its time: plan {plan} has it mixed {}; it will have stood longer",
                local(*due, now)
            ),
            Self::RecipeChanged { planned, newest } => format!(
                "{} has changed since: variant {newest} now, this plan is for {}",
                planned.recipe, planned.number
            ),
            Self::DryEarly(band) => {
                let (low, high) = ends(*band, now);
                format!(
                    "by its film and the room's air it is dry to the touch between {low} and {high}"
                )
            }
            Self::SoldUnpriced(pour) => format!(
                "picture {pour} stands in the ledger as sold without a price: write its sale down"
            ),
            Self::VarnishedEarly(band) => {
                let (low, high) = ends(*band, now);
                format!("by its film and the room's air it is ready between {low} and {high}")
            }
            Self::VarnishUndated(why) => models::drying(*why),
        }
    }
}

/// `mix River blue v1 01:06`.
fn night_step(step: &Step, now: &Now) -> String {
    let cup = step.cup.as_ref().filter(|_| step.deed == Deed::Mix);
    let cup = cup.map(|cup| format!(" {}", inert(&cup.to_string())));
    let (deed, at) = (step.deed, local(step.at, now));
    format!("{deed}{} {at}", cup.unwrap_or_default())
}

impl Told for Doubt {
    fn told(&self, _measures: Measures, _now: &Now) -> String {
        let said = trimmed(self.said.get(), 3);
        let of = self.mark.as_ref();
        let of = of.map(|mark| format!(" of {mark}")).unwrap_or_default();
        match self.why {
            Surprise::Expected(band) => {
                let [low, high] = [band.low, band.high].map(|one| trimmed(one.get(), 1));
                format!("{said} s{of} is far from the {low} to {high} s that were expected")
            }
            Surprise::Window(window) => format!("{said} s{of} is far from its window of {window}"),
        }
    }
}

impl Told for Far {
    fn told(&self, measures: Measures, _now: &Now) -> String {
        let many = self.times > 1.0;
        let far = match many {
            true => format!("that is {:.0} times", self.times),
            false => format!("that is {} % of", trimmed(self.times * 100.0, 1)),
        };
        let usual = match many {
            true => "what is usual",
            false => "the least that is usual",
        };
        match &self.of {
            FarOf::Price(material) => format!("{far} what {} cost before", inert(material)),
            FarOf::Bought(material) => {
                let material = inert(material);
                format!("{far} the most {material} that was bought at once before")
            }
            FarOf::Packs(material) => {
                format!(
                    "that is {:.0} packs of {} at once",
                    self.times,
                    inert(material)
                )
            }
            FarOf::Mixed(recipe) => format!("{far} {usual}: {}", inert(recipe)),
            FarOf::FirstMixed => format!("{far} {usual} of a cup"),
            FarOf::Remixed(mark) => format!("{far} what {mark} was thought to hold"),
            FarOf::Thinned { mark, most } => {
                let most = show_volume(*most, measures);
                format!("{far} the most that {mark} is likely to need, {most}")
            }
            FarOf::Sale(pour) => format!("{far} what was asked for picture {pour}"),
            FarOf::Asked(pour) => format!("{far} what was asked for picture {pour} before"),
        }
    }
}

impl Told for Note {
    fn told(&self, measures: Measures, now: &Now) -> String {
        match self {
            Self::Repeats { pour, of } => {
                format!("pour {pour} makes picture {of} once more: hold the two side by side")
            }
            Self::OtherDay(at) => format!("written down for {}", said_day(*at, now)),
            Self::AsInPicture {
                mark,
                pour,
                mound,
                stood,
            } => {
                let mound = mound.map(|mound| format!("mounded {:.1} s", mound.get()));
                let stood = stood.map(|stood| format!("had stood {}", plans::show_hours(stood)));
                let was: Vec<String> = [mound, stood].into_iter().flatten().collect();
                format!(
                    "{mark} is for picture {pour} once more: there it {}",
                    was.join(" and ")
                )
            }
            Self::Cells { activator, below } => {
                format!(
                    "{activator} is heavier than {below}: it sinks into it, and cells come of that"
                )
            }
            Self::FromShelf { part, ml } => {
                let ml = show_volume(*ml, measures);
                format!("no bottle of {part} stands: its {ml} are taken from the shelf")
            }
            Self::BottleShort { part, needed, had } => {
                let stands = standing(had, *needed, measures);
                format!("{stands} of {part}: the rest is taken from the shelf")
            }
            Self::BottleServes { part, needed, from } => {
                let needed = show_volume(*needed, measures);
                let from: Vec<String> = from.iter().map(ToString::to_string).collect();
                format!(
                    "the {part}, {needed}, stands ready in {}",
                    from.join(" and ")
                )
            }
            Self::CupServes {
                variant,
                from,
                mixed,
            } => plans::serves(variant, from, *mixed, measures, now),
            Self::OlderBottle {
                mark,
                holds,
                newest,
            } => format!("{mark} holds {holds}; variant {newest} is newer"),
            Self::BottleWithin { part, mark, ml } => {
                let ml = show_volume(*ml, measures);
                format!("the {part} in it, {ml}, is drawn from {mark}")
            }
        }
    }
}

/// `M9 has 320 ml and N2 10 ml of the 345 ml`.
pub(super) fn standing(
    had: &[(Mark, Millilitres)],
    needed: Millilitres,
    measures: Measures,
) -> String {
    let cups = had.iter().enumerate().map(|(nth, (mark, ml))| {
        let has = if nth == 0 { " has" } else { "" };
        format!("{mark}{has} {}", show_volume(*ml, measures))
    });
    let cups: Vec<String> = cups.collect();
    format!(
        "{} of the {}",
        cups.join(", "),
        show_volume(needed, measures)
    )
}
