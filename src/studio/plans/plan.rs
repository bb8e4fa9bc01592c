//! Planning: panels and a time to pour give the paint per cup and material, what the shelf lacks, what it
//! costs, and when to begin what.

use crate::logbook::Reader;
use crate::numbers::film::{self, Split};
use crate::numbers::technique;
use crate::studio::cups::filling::Filling;
use crate::studio::cups::forecast::Forecast;
use crate::studio::cups::learned::Learned;
use crate::studio::cups::mixture::{Mixture, summed};
use crate::studio::file::settings;
use crate::studio::orders::PlanOrder;
use crate::studio::plans::chosen::{chosen_recipes, shared};
use crate::studio::plans::repeat::Repeat;
use crate::studio::plans::schedule::{self, Days, Deed, Step, Wait};
use crate::studio::plans::standing::{self, Spare, Standing, Usable};
use crate::studio::pours::own_pours::OwnPours;
use crate::studio::{
    Answer, Limit, Note, Refusal, Studio, VariantRef, Warning, lookup, shelf::stock,
};
use crate::trade::act::Act;
use crate::trade::cup::{Put, PutFrom};
use crate::trade::instant::Now;
use crate::trade::mark::Mark;
use crate::trade::moment::{self, Moment, later};
use crate::trade::plan::{Panels, Plan, PlannedCup};
use crate::trade::recipe::{PartOf, Recipe, Variant};
use crate::trade::units::{
    Band, Grams, Hours, Millilitres, Millimetres, Seconds, Share, SquareMillimetres,
};
use chrono::TimeDelta;
use rust_decimal::Decimal;
use std::collections::BTreeMap;

/// What a plan's film and split rest on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Basis {
    /// Practice, with the split of the trade's word for the technique where it has one.
    Practice(Option<&'static str>),
    /// So many of the studio's own pours.
    Yours(usize),
    /// They stand as the plan was kept.
    Kept,
    /// They are those of this pour.
    Repeats(i64),
}

/// A plan worked out.
#[derive(Debug, Clone)]
pub struct PlanSheet {
    /// What it is for.
    pub panels: Panels,
    /// The technique.
    pub way: Option<String>,
    /// Everything that gets painted.
    pub area: SquareMillimetres,
    /// The whole wet film, with its band.
    pub film: Band<Millimetres>,
    /// What film and split rest on.
    pub basis: Basis,
    /// All the paint together.
    pub total: Millilitres,
    /// The cups, lowest layer first.
    pub layers: Vec<PlanLayer>,
    /// What the shelf lacks.
    pub lacks: Vec<Lack>,
    /// When the pour begins.
    pub pour_at: Moment,
    /// What to do when, in order.
    pub schedule: Vec<Step>,
    /// What it costs; `None` where a price is unknown.
    pub cost: Option<Decimal>,
    /// What no price or pack is known of.
    pub unpriced: Vec<String>,
    /// What a careful painter would want to know.
    pub warnings: Vec<Warning>,
    /// What of it stands ready in bottles, and what is taken from the shelf.
    pub notes: Vec<Note>,
    /// What it is to try, in the painter's words.
    pub note: Option<String>,
    /// The picture that it makes once more.
    pub repeat: Option<Repeat>,
}

/// One cup of a plan.
#[derive(Debug, Clone)]
pub struct PlanLayer {
    /// Where it goes.
    pub recipe: Recipe,
    /// By which variant.
    pub variant: Variant,
    /// How much.
    pub ml: Millilitres,
    /// In how many cups.
    pub cups: u32,
    /// What goes in.
    pub parts: Vec<PlanPart>,
    /// What its cup was in the picture that is made once more.
    pub as_was: AsWas,
    /// The cup that stands for it already: it is not mixed, and has no parts here.
    pub standing: Option<Standing>,
}

/// What a cup was when the picture was poured that is made once more; nothing in any other plan.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct AsWas {
    /// How long it had stood since it was stirred.
    pub stood: Option<Hours>,
    /// The mound it had.
    pub mound: Option<Seconds>,
}

impl AsWas {
    /// What a planned cup is to be.
    pub(crate) const fn of(cup: &PlannedCup) -> Self {
        Self {
            stood: cup.stood,
            mound: cup.mound,
        }
    }
}

/// One part of a planned cup.
#[derive(Debug, Clone)]
pub struct PlanPart {
    /// The material's or recipe's name.
    pub name: String,
    /// By volume.
    pub ml: Millilitres,
    /// By weight, where the density is known.
    pub g: Option<Grams>,
    /// What it costs, where the price is known.
    pub cost: Option<Decimal>,
}

/// A material of which the shelf holds too little.
#[derive(Debug, Clone)]
pub struct Lack {
    /// Its name.
    pub name: String,
    /// What is needed.
    pub needed: Millilitres,
    /// What is there.
    pub left: Millilitres,
}

/// A plan that was just kept.
#[derive(Debug, Clone)]
pub struct PlanKept {
    /// Its number.
    pub plan: i64,
    /// What follows from it.
    pub sheet: PlanSheet,
}

impl Studio {
    /// Works a plan out without keeping it.
    ///
    /// # Errors
    /// Where a recipe is gone, there is none yet, or the panels are outside what can be planned.
    pub fn plan(&self, order: &PlanOrder, now: &Now) -> Answer<PlanSheet> {
        let read = self.book.read()?;
        work_out(&read, &*self.memory.recall(&read)?, order, now)
    }

    /// Keeps a plan.
    ///
    /// # Errors
    /// As [`Studio::plan`].
    pub fn keep_plan(&mut self, order: &PlanOrder, now: &Now) -> Answer<PlanKept> {
        let memory = &self.memory;
        self.book.commit_as(now.at.into(), |write| {
            let learned = memory.recall(&write.read())?;
            let sheet = work_out(&write.read(), &learned, order, now)?;
            let cups = sheet.layers.iter().flat_map(PlanLayer::planned).collect();
            let plan = Plan {
                id: 0,
                at: now.at,
                panels: order.panels,
                way: order.way.clone(),
                pour_at: Some(sheet.pour_at),
                cups,
                note: order.note.clone(),
                repeats: None,
            };
            let plan = write.add_plan(&plan)?;
            let act = Act::Planned {
                plan,
                count: order.panels.count,
                panel: order.panels.panel,
            };
            Ok((PlanKept { plan, sheet }, act))
        })
    }
}

impl PlanLayer {
    /// What it is mixed by.
    #[must_use]
    pub fn variant_ref(&self) -> VariantRef {
        VariantRef {
            id: self.variant.id,
            recipe: self.recipe.name.clone(),
            number: self.variant.number,
        }
    }

    /// The cups it is mixed in, each as full as the others; or the one that stands for it.
    fn planned(&self) -> impl Iterator<Item = PlannedCup> + use<> {
        let each = PlannedCup {
            variant: self.variant.id,
            ml: (self.ml / f64::from(self.cups.max(1))).stored(),
            cup: self.standing.as_ref().map(|one| one.cup),
            stood: None,
            mound: None,
        };
        std::iter::repeat_n(each, self.cups.max(1) as usize)
    }
}

/// More cups than this are no plan for a bench (ours).
const MOST_CUPS: u32 = 1000;

fn work_out(
    read: &Reader<'_>,
    learned: &Learned,
    order: &PlanOrder,
    now: &Now,
) -> Answer<PlanSheet> {
    check(order)?;
    let mixture = &learned.mixture;
    let own = OwnPours::read(read, mixture, order.way.as_deref())?;
    let (split, basis) = split(order.way.as_deref(), &own);
    let film = film_of(order, &own);
    let area = film::painted_area(&order.panels)?;
    let covered = match (order.film, basis) {
        // A pour's paint was divided by its panel's top, so what ran over the edges is in the studio's own film already.
        (None, Basis::Yours(_)) => film::painted_area(&order.panels.tops())?,
        _ => area,
    };
    let total = film::volume(covered, film.mid, Share(0.0))?;
    let mut spare = match order.fresh {
        true => Spare::default(),
        false => Spare::read(read, learned, order.pour_at, now)?,
    };
    let mut layers = Vec::new();
    for (recipe, share) in shared(chosen_recipes(read, order, &split)?, &split) {
        let variant = lookup::variant_of(read, &recipe, None)?;
        let ml = (total * share.get()).stored();
        let stands = spare.take(variant.id, ml, order.pour_at);
        let rest = standing::left_to_mix(ml, stands.iter().map(|(_, ml)| *ml).sum()).stored();
        let stands = stands
            .into_iter()
            .map(|(cup, ml)| PlanLayer::standing(&recipe, &variant, ml, cup));
        layers.extend(stands);
        if rest.is_nothing() {
            continue;
        }
        let cups = order.holds.map(|holds| film::cups_for(rest, holds));
        let cups = cups.transpose()?.map_or(1, |(cups, _)| cups);
        layers.push(PlanLayer::of(mixture, recipe, variant, rest, cups)?);
    }
    let cups = layers.iter().map(|layer| layer.cups);
    if cups.fold(0_u32, u32::saturating_add) > MOST_CUPS {
        return Err(Refusal::TooManyCups { most: MOST_CUPS }.into());
    }
    let paint = Paint {
        panels: order.panels,
        way: order.way.clone(),
        area,
        film,
        basis,
        total,
        to_mix: layers
            .iter()
            .filter(|layer| layer.standing.is_none())
            .cloned()
            .collect(),
        layers,
        since: None,
    };
    let sheet = paint.sheet(read, mixture, order.pour_at, now)?;
    Ok(PlanSheet {
        note: order.note.clone(),
        ..sheet
    })
}

/// The split of the studio's own pours, else that of the trade's word for the technique.
pub(in crate::studio) fn split(way: Option<&str>, own: &OwnPours) -> (Split, Basis) {
    if let Some((split, film)) = own.split().zip(own.film()) {
        return (split, Basis::Yours(film.readings));
    }
    let known = way.and_then(technique::technique);
    let split = known.map_or(technique::COMMON, |one| one.split);
    (split, Basis::Practice(known.map(|one| one.word)))
}

fn film_of(order: &PlanOrder, own: &OwnPours) -> Band<Millimetres> {
    let usual = || own.film().unwrap_or_else(film::practice_film).band;
    order.film.map_or_else(usual, Band::exactly)
}

/// A plan for as soon as can be is no plan for too soon while it is read and kept (ours).
const MINUTES: TimeDelta = TimeDelta::minutes(10);

/// Paint that is to be mixed, before it is known what that costs and when to begin.
pub(crate) struct Paint {
    pub(crate) panels: Panels,
    pub(crate) way: Option<String>,
    pub(crate) area: SquareMillimetres,
    pub(crate) film: Band<Millimetres>,
    pub(crate) basis: Basis,
    pub(crate) total: Millilitres,
    pub(crate) layers: Vec<PlanLayer>,
    /// Those whose paint must still come from the shelf.
    pub(crate) to_mix: Vec<PlanLayer>,
    /// When it was planned; now otherwise.
    pub(crate) since: Option<Moment>,
}

impl Paint {
    /// What it costs, what the shelf lacks for it, and its day.
    pub(crate) fn sheet(
        self,
        read: &Reader<'_>,
        mixture: &Mixture,
        pour_at: Option<Moment>,
        now: &Now,
    ) -> Answer<PlanSheet> {
        let mixed = self.layers.iter().filter(|layer| layer.standing.is_none());
        let all = needed(mixture, mixed)?;
        let filling = Filling::planned(read, mixture, &parts(mixture, self.to_mix.iter())?)?;
        let lacks = lacks(read, &materials(&filling.puts), now)?;
        let priced = |(id, ml): (&i64, &Millilitres)| mixture.cost(PartOf::Material(*id), *ml);
        let unpriced = all.iter().filter(|one| priced((one.0, one.1)).is_none());
        let unpriced = unpriced.map(|(id, _)| mixture.name(PartOf::Material(*id)));
        let forecast = Forecast::learn(read, mixture)?;
        let waits = |layers: &[PlanLayer]| -> Vec<Wait> {
            layers.iter().map(|layer| wait(layer, &forecast)).collect()
        };
        let days = Days {
            from: self.since.unwrap_or(now.at),
            zone: now.zone,
            quiet: settings::quiet(read)?,
        };
        let to_mix = waits(&self.to_mix);
        let ready = schedule::earliest(&to_mix, now.at);
        let pour_at = pour_at.unwrap_or_else(|| self.earliest(&waits, &days));
        let late = later(pour_at, MINUTES) < ready && !self.to_mix.is_empty();
        let late = late.then_some(Warning::TooSoon { ready });
        let schedule = schedule::backwards(&waits(&self.layers), pour_at, &days);
        let night = self.at_night(
            &schedule,
            &Days {
                from: now.at,
                ..days
            },
        );
        Ok(PlanSheet {
            panels: self.panels,
            way: self.way,
            area: self.area,
            film: self.film,
            basis: self.basis,
            total: self.total,
            lacks,
            pour_at,
            schedule,
            cost: all_shown(&self.layers),
            unpriced: unpriced.collect(),
            warnings: late.into_iter().chain(night).collect(),
            notes: standing::notes(&self.layers)
                .into_iter()
                .chain(stands(filling))
                .collect(),
            note: None,
            repeat: None,
            layers: self.layers,
        })
    }

    /// The earliest that all of it can be poured: mixed or standing, once it has cleared.
    fn earliest(&self, waits: &dyn Fn(&[PlanLayer]) -> Vec<Wait>, days: &Days) -> Moment {
        let stands = self.layers.iter().filter(|layer| layer.standing.is_some());
        let (mut all, stands): (_, Vec<_>) = (self.to_mix.clone(), stands.cloned().collect());
        let clear = stands.iter().filter_map(|layer| match layer.standing {
            Some(Standing {
                usable: Usable::Clears(at),
                ..
            }) => Some(at),
            _ => None,
        });
        let clear = clear.max();
        all.extend(stands);
        let earliest = schedule::earliest_by_day(&waits(&all), days);
        clear.map_or(earliest, |at| earliest.max(at))
    }

    /// What is still to be done in quiet hours; the mixing of a cup that is mixed is not.
    fn at_night(&self, schedule: &[Step], days: &Days) -> Option<Warning> {
        let to_come = |step: &Step| match &step.cup {
            Some(cup) if step.deed == Deed::Mix => {
                self.to_mix.iter().any(|one| one.variant.id == cup.id)
            }
            _ => true,
        };
        let mut steps = schedule::at_night(schedule, days);
        steps.retain(to_come);
        (!steps.is_empty()).then_some(Warning::AtNight(steps))
    }
}

/// What all parts cost, each as it is shown, so that a reader who adds them up finds the same.
fn all_shown(layers: &[PlanLayer]) -> Option<Decimal> {
    let parts = layers.iter().flat_map(|layer| &layer.parts);
    summed(parts.map(|part| Some(part.cost?.round_dp(2))))
}

/// Refuses what no plan is for.
fn check(order: &PlanOrder) -> Answer<()> {
    let refuse = |limit| Err(Refusal::Range(limit).into());
    if !(1..=1000).contains(&order.panels.count) {
        return refuse(Limit::Panels);
    }
    if !(0.0..=200.0).contains(&order.panels.edge.get()) {
        return refuse(Limit::Edge);
    }
    if order
        .holds
        .is_some_and(|holds| !(1.0..=20_000.0).contains(&holds.get()))
    {
        return refuse(Limit::CupHolds);
    }
    if order
        .film
        .is_some_and(|film| !(0.05..=10.0).contains(&film.get()))
    {
        return refuse(Limit::Film);
    }
    Ok(())
}

impl PlanLayer {
    /// A layer with what goes into it.
    pub(crate) fn of(
        mixture: &Mixture,
        recipe: Recipe,
        variant: Variant,
        ml: Millilitres,
        cups: u32,
    ) -> Answer<Self> {
        let part = |(of, ml): (PartOf, Millilitres)| {
            let line = mixture.line(of, ml);
            PlanPart {
                name: line.name,
                ml,
                g: line.g,
                cost: mixture.cost(of, ml),
            }
        };
        let parts = mixture.volumes(&variant, ml)?.into_iter().map(part);
        Ok(Self {
            parts: parts.collect(),
            recipe,
            variant,
            ml,
            cups,
            as_was: AsWas::default(),
            standing: None,
        })
    }

    /// A layer, or a part of one, for which a cup stands.
    pub(super) fn standing(
        recipe: &Recipe,
        variant: &Variant,
        ml: Millilitres,
        standing: Standing,
    ) -> Self {
        Self {
            recipe: recipe.clone(),
            variant: variant.clone(),
            ml,
            cups: 1,
            parts: Vec::new(),
            as_was: AsWas::default(),
            standing: Some(standing),
        }
    }
}

/// What is needed of every part of some layers together.
fn parts<'a>(
    mixture: &Mixture,
    layers: impl Iterator<Item = &'a PlanLayer>,
) -> Answer<Vec<(PartOf, Millilitres)>> {
    let mut parts: Vec<(PartOf, Millilitres)> = Vec::new();
    for layer in layers {
        for (of, ml) in mixture.volumes(&layer.variant, layer.ml)? {
            match parts.iter_mut().find(|(one, _)| *one == of) {
                Some((_, all)) => *all += ml,
                None => parts.push((of, ml)),
            }
        }
    }
    Ok(parts)
}

/// What every material is needed of, were nothing mixed yet.
fn needed<'a>(
    mixture: &Mixture,
    layers: impl Iterator<Item = &'a PlanLayer>,
) -> Answer<BTreeMap<i64, Millilitres>> {
    let mut puts = Vec::new();
    for (of, ml) in parts(mixture, layers)? {
        mixture.expand(of, ml, &mut puts)?;
    }
    Ok(materials(&puts))
}

/// The materials among what goes in.
fn materials(puts: &[Put]) -> BTreeMap<i64, Millilitres> {
    let material = |put: &Put| match put.from {
        PutFrom::Material(id) => Some((id, put.ml)),
        PutFrom::Cup(_) => None,
    };
    puts.iter().filter_map(material).collect()
}

/// What stands ready of the parts, and what is to be known of it.
fn stands(filling: Filling<'_>) -> Vec<Note> {
    let mut served: Vec<(String, Millilitres, Vec<Mark>)> = Vec::new();
    for line in &filling.lines {
        let Some(mark) = line.from.clone() else {
            served.retain(|(part, ..)| *part != line.name);
            continue;
        };
        match served.iter_mut().find(|(part, ..)| *part == line.name) {
            Some((_, ml, from)) => {
                *ml += line.ml;
                from.push(mark);
            }
            None => served.push((line.name.clone(), line.ml, vec![mark])),
        }
    }
    let serves = |(part, needed, from)| Note::BottleServes { part, needed, from };
    let served = served.into_iter().map(serves);
    served.chain(filling.notes).collect()
}

/// The materials of which the shelf holds too little; one that never was counted or bought is not among them.
fn lacks(read: &Reader<'_>, needed: &BTreeMap<i64, Millilitres>, now: &Now) -> Answer<Vec<Lack>> {
    let lack = |line: stock::ShelfLine| {
        let needed = *needed.get(&line.material.id)?;
        let left = line.left.filter(|left| *left < needed)?;
        Some(Lack {
            name: line.material.name,
            needed,
            left,
        })
    };
    let wanted = stock::shelf_of(read, now, |one| needed.contains_key(&one.id))?;
    Ok(wanted.into_iter().filter_map(lack).collect())
}

fn wait(layer: &PlanLayer, forecast: &Forecast) -> Wait {
    Wait {
        cup: layer.variant_ref(),
        layer: layer.recipe.layer,
        rest: forecast.rest_planned(&layer.variant),
        stood: layer
            .as_was
            .stood
            .map(|stood| moment::milliseconds(stood.get() * 3_600_000.0)),
        stir: schedule::stirring(&layer.variant),
        stands: layer.standing.is_some(),
    }
}
