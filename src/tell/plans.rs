//! What a plan rests on, and what the shelf lacks for it.

use crate::studio::{
    Basis, Differs, Lack, PlanLayer, PlanSheet, RepeatLayer, Standing, Usable, VariantRef, day,
    due, local,
};
use crate::tell::Told;
use crate::trade::amount::{Measures, show_volume};
use crate::trade::instant::Now;
use crate::trade::length::show_band;
use crate::trade::life::State;
use crate::trade::pour::Air;
use crate::trade::text::inert;
use crate::trade::units::{Hours, INCH, Millilitres, Millimetres};

impl Told for Basis {
    fn told(&self, _measures: Measures, _now: &Now) -> String {
        match self {
            Self::Practice(None) => "film and split from practice".to_owned(),
            Self::Practice(Some(word)) => format!("film and split from practice, {word}"),
            Self::Yours(pours) => format!("film and split yours, {pours} pours"),
            Self::Kept => "as it was kept".to_owned(),
            Self::Repeats(pour) => format!("as in picture {pour}"),
        }
    }
}

/// `720 ml in all on 2 x 40 x 50 cm: 4000 cm2, 1.80 mm wet, film and split from practice`.
#[must_use]
pub fn summary(sheet: &PlanSheet, measures: Measures, now: &Now) -> String {
    let panels = &sheet.panels;
    let edge = match panels.edge > Millimetres::ZERO {
        true => " with painted edges",
        false => "",
    };
    let (area, unit) = match measures {
        Measures::Metric => (sheet.area.get() / 100.0, "cm2"),
        Measures::UsCustomary => (sheet.area.get() / (INCH.get() * INCH.get()), "in2"),
    };
    let way = sheet.way.as_ref().map(|way| format!(", {way}"));
    format!(
        "{} in all on {} x {}{edge}{}: {area:.0} {unit}, {} wet, {}",
        show_volume(sheet.total, measures),
        panels.count,
        panels.panel.show(measures),
        way.unwrap_or_default(),
        show_band(sheet.film, measures),
        sheet.basis.told(measures, now)
    )
}

/// Where a planned layer comes from: `, stands in K7`, or `, 3 cups of 120 ml`; empty for the one cup that it is mixed in.
#[must_use]
pub fn in_cups(layer: &PlanLayer, measures: Measures) -> String {
    match (&layer.standing, layer.cups) {
        (Some(standing), _) => format!(", stands in {}", standing.mark),
        (None, 0 | 1) => String::new(),
        (None, cups) => {
            let each = show_volume(layer.ml / f64::from(cups), measures);
            format!(", {cups} cups of {each}")
        }
    }
}

/// `M9 has 320 ml of the 345 ml of Base white v1; 25 ml is mixed`.
pub(super) fn serves(
    variant: &VariantRef,
    from: &[(Standing, Millilitres)],
    mixed: Millilitres,
    measures: Measures,
    now: &Now,
) -> String {
    let had: Millilitres = from.iter().map(|(_, ml)| *ml).sum();
    let (name, whole) = (variant.to_string(), show_volume(had + mixed, measures));
    let (name, uses) = (inert(&name), from.iter().map(|(cup, _)| usable(cup, now)));
    let uses: String = uses.collect();
    if let ([(cup, _)], true) = (from, mixed.is_nothing()) {
        return format!("{} has the {whole} of {name}{uses}", cup.mark);
    }
    let cups = from
        .iter()
        .map(|(cup, ml)| format!("{} has {}", cup.mark, show_volume(*ml, measures)));
    let cups = cups.collect::<Vec<_>>().join(" and ");
    let rest = match mixed.is_nothing() {
        true => String::new(),
        false => format!("; {} is mixed", show_volume(mixed, measures)),
    };
    format!("{cups} of the {whole} of {name}{uses}{rest}")
}

/// How a cup that stands will be of use, where that is not as it is: `; M9 is ready until 18:31, read it before the pour`.
fn usable(cup: &Standing, now: &Now) -> String {
    let mark = &cup.mark;
    match cup.usable {
        Usable::Ready => String::new(),
        Usable::Until(at) => {
            let at = local(at, now);
            format!("; {mark} is ready until {at}, read it before the pour")
        }
        Usable::Clears(at) => format!("; {mark} clears {}", due(at, now)),
        Usable::Read => format!("; {mark} is to be read before the pour"),
    }
}

impl Told for Differs {
    fn told(&self, measures: Measures, now: &Now) -> String {
        match self {
            Self::Air { then, now } => air(*then, *now, measures),
            Self::BoughtAnew(all) => {
                let one = |(name, at): &(String, _)| format!("{} {}", inert(name), day(*at, now));
                let all: Vec<String> = all.iter().map(one).collect();
                format!("bought anew since: {}", all.join(", "))
            }
            Self::NewerVariant { made, newest } => format!(
                "{} has a variant {newest} by now; variant {} is made, as then",
                inert(&made.recipe),
                made.number
            ),
            Self::Thinner {
                variant,
                then,
                now: last,
            } => {
                let [name, then, last] =
                    [&variant.recipe, then, last].map(|text| inert(text).into_owned());
                format!("{name} was thinned with {then}; it was last thinned with {last}")
            }
            Self::Serves {
                mark,
                variant,
                left,
            } => {
                let (left, name) = (show_volume(*left, measures), variant.to_string());
                format!("{mark} stands with {left} of {}: it serves", inert(&name))
            }
            Self::Stands {
                variant,
                then,
                now: is,
            } => {
                let [then, is] = [then, is].map(|hours| show_hours(*hours));
                let name = variant.to_string();
                format!("{} will have stood {is}, {then} then", inert(&name))
            }
            Self::NotReadyThen { variant, state } => {
                let name = variant.to_string();
                format!("{} was not ready then: {}", inert(&name), was(*state))
            }
        }
    }
}

/// What a cup was in place of ready.
const fn was(state: State) -> &'static str {
    match state {
        State::Resting => "it still rested",
        State::Look => "it was not read since it cleared",
        State::Thick => "it was thick, or not looked at for too long",
        State::Thin => "it was too thin",
        State::Spent => "it was spent",
        State::Ready => "it was ready",
    }
}

/// `the room is 4 C warmer and 10 % damper: 21C,45% then, 25C,55% now`.
fn air(then: Air, now: Air, measures: Measures) -> String {
    let scale = match measures {
        Measures::Metric => (1.0, "C"),
        Measures::UsCustomary => (1.8, "F"),
    };
    let heat = then.celsius.zip(now.celsius);
    let heat = heat.map(|(then, now)| (now.get() - then.get()) * scale.0);
    let damp = then.humidity.zip(now.humidity);
    let damp = damp.map(|(then, now)| (now.get() - then.get()) * 100.0);
    let step = |by: Option<f64>, unit: &str, more: &str, less: &str| {
        let by = by.filter(|by| by.abs() >= 0.5)?;
        let word = if by > 0.0 { more } else { less };
        Some(format!("{:.0} {unit} {word}", by.abs()))
    };
    let steps = [
        step(heat, scale.1, "warmer", "cooler"),
        step(damp, "%", "damper", "drier"),
    ];
    let steps: Vec<String> = steps.into_iter().flatten().collect();
    let [then, now] = [then, now].map(|air| air.show(measures));
    format!(
        "the room is {}: {then} then, {now} now",
        steps.join(" and ")
    )
}

/// `14 h`, `40 min`.
pub fn show_hours(hours: Hours) -> String {
    match hours.get() {
        short if short < 1.5 => format!("{:.0} min", short * 60.0),
        long => format!("{long:.0} h"),
    }
}

/// A layer that is poured once more, for the list by the panel: `60 ml River blue v1: mound 2.6 s, stood 14 h, 4 % thinner`.
#[must_use]
pub fn layer(layer: &RepeatLayer, measures: Measures) -> String {
    let mound = layer
        .mound
        .map(|mound| format!("mound {:.1} s", mound.get()));
    let thinner = Some(layer.thinned.get() * 100.0).filter(|share| *share >= 0.5);
    let thinner = thinner.map(|share| format!("{share:.0} % thinner"));
    let stood = Some(format!("stood {}", show_hours(layer.stood)));
    let was: Vec<String> = [mound, stood, thinner].into_iter().flatten().collect();
    let name = layer.variant.to_string();
    let ml = show_volume(layer.ml, measures);
    format!("{ml} {}: {}", inert(&name), was.join(", "))
}

impl Told for Lack {
    fn told(&self, measures: Measures, _now: &Now) -> String {
        let [needed, left] = [self.needed, self.left].map(|ml| show_volume(ml, measures));
        let name = inert(&self.name);
        if self.left.get() < 0.0 {
            let short = show_volume(-self.left, measures);
            return format!(
                "the shelf lacks {name}: {needed} needed; the shelf is {short} short already"
            );
        }
        format!("the shelf lacks {name}: {needed} needed, {left} left")
    }
}
