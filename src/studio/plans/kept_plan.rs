//! Plans that were kept: their sheet as it was, the cups mixed from them, and what became of them.

use crate::logbook::Reader;
use crate::numbers::film;
use crate::studio::cups::learned::Learned;
use crate::studio::cups::mixture::Mixture;
use crate::studio::orders::MixOrder;
use crate::studio::plans::plan::{AsWas, Basis, Paint, PlanLayer};
use crate::studio::plans::{repeat, standing, went};
use crate::studio::{
    Answer, Deed, MixDraft, Mixed, Note, PlanSheet, Refusal, Step, Studio, VariantRef, Warning,
    cups::{bench, mix},
};
use crate::trade::cup::Cup;
use crate::trade::ids::VariantId;
use crate::trade::instant::Now;
use crate::trade::moment::{Moment, later};
use crate::trade::plan::{Plan, PlannedCup};
use crate::trade::units::{Band, Millilitres, Millimetres};
use chrono::TimeDelta;
use std::collections::HashSet;

/// A kept plan beside what happened.
#[derive(Debug, Clone)]
pub struct PlanPage {
    /// The plan.
    pub plan: Plan,
    /// For each cup, lowest first: its title, and of the cup mixed for it the mark, what it held and what was poured.
    pub cups: Vec<PlanLine>,
}

/// One cup of a kept plan beside what happened.
#[derive(Debug, Clone)]
pub struct PlanLine {
    /// What it is mixed by.
    pub variant: VariantRef,
    /// The number of its recipe's newest variant, where that is another one by now.
    pub newer: Option<i64>,
    /// What was planned.
    pub planned: Millilitres,
    /// The mark of the cup that was mixed for it.
    pub mark: Option<String>,
    /// What was mixed.
    pub mixed: Option<Millilitres>,
    /// What of it was poured on the plan's own panels.
    pub poured: Option<Millilitres>,
    /// Whether it went elsewhere: the place is to be mixed anew.
    pub gone: bool,
}

/// The cup of a plan that is mixed next.
#[derive(Debug, Clone)]
pub struct NextOfPlan {
    /// Its place among the plan's cups.
    pub place: usize,
    /// When its day has it mixed; `None` where no day is reckoned for it.
    pub due: Option<Moment>,
    /// What goes in.
    pub draft: MixDraft,
}

impl Studio {
    /// Every kept plan beside what happened, newest first.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn plans(&self) -> Answer<Vec<PlanPage>> {
        let read = self.book.read()?;
        let cards = bench::RecipeBook::read(&read)?;
        read.plans()?
            .into_iter()
            .map(|plan| page(&read, &cards, plan))
            .collect()
    }

    /// Mixes the next cup that a plan asks for: of those that are still to be mixed the one that its day has first.
    ///
    /// # Errors
    /// Where there is no such plan, or all its cups are mixed.
    pub fn mix_from_plan(&mut self, plan: i64, now: &Now) -> Answer<Mixed> {
        self.mix_planned(plan, None, now)
    }

    /// The same of the cup in a place, where it is still the next.
    ///
    /// # Errors
    /// As [`Studio::mix_from_plan`], and where another cup is the next by now.
    pub fn mix_in_place(&mut self, plan: i64, place: usize, now: &Now) -> Answer<Mixed> {
        self.mix_planned(plan, Some(place), now)
    }

    fn mix_planned(&mut self, plan: i64, meant: Option<usize>, now: &Now) -> Answer<Mixed> {
        let memory = &self.memory;
        self.book.commit_as(now.at.into(), |write| {
            let read = write.read();
            let learned = memory.recall(&read)?;
            let missing = || Refusal::NoPlan(plan);
            let kept = read.plan(plan)?.ok_or_else(missing)?;
            let done = || Refusal::PlanDone(plan);
            let (place, due) = next_place(&read, &learned, &kept, now)?.ok_or_else(done)?;
            if meant.is_some_and(|meant| meant != place) {
                return Err(Refusal::PlanWentOn(plan).into());
            }
            let planned = kept.cups[place];
            let order = MixOrder::of(VariantId(planned.variant), planned.ml);
            let mut mixed = mix::mix_within(write, &learned, &order, now)?;
            let nth = i64::try_from(place).unwrap_or(0) + 1;
            write.set_planned(plan, nth, mixed.standing.cup.id)?;
            let early = due.filter(|due| *due > later(now.at, EARLY));
            let early = early.map(|due| Warning::MixedEarly { plan, due });
            mixed.remarks.warnings.extend(early);
            let was = as_in_picture(&kept, &planned, &mixed.standing.cup);
            mixed.remarks.notes.extend(was);
            let act = mix::act(&learned, &mixed.standing.cup, Some(plan));
            Ok((mixed, act))
        })
    }

    /// What goes into the next cup of a plan, as [`Studio::mix_from_plan`] mixes it; `None` where all are mixed.
    ///
    /// # Errors
    /// Where there is no such plan, a part of it is gone, or the store cannot be read.
    pub fn next_of_plan(&self, plan: i64, now: &Now) -> Answer<Option<NextOfPlan>> {
        let read = self.book.read()?;
        let learned = self.memory.recall(&read)?;
        let kept = read.plan(plan)?.ok_or(Refusal::NoPlan(plan))?;
        let Some((place, due)) = next_place(&read, &learned, &kept, now)? else {
            return Ok(None);
        };
        let planned = kept.cups[place];
        let order = MixOrder::of(VariantId(planned.variant), planned.ml);
        let draft = mix::draft(&read, &learned.mixture, &order)?;
        Ok(Some(NextOfPlan { place, due, draft }))
    }

    /// A kept plan's sheet: its own variants and amounts, at today's prices and shelf; `None` where a variant of it is
    /// gone.
    ///
    /// # Errors
    /// Where there is no such plan, or the store cannot be read.
    pub fn kept_sheet(&self, plan: i64, now: &Now) -> Answer<Option<PlanSheet>> {
        let read = self.book.read()?;
        let missing = || Refusal::NoPlan(plan);
        let plan = read.plan(plan)?.ok_or_else(missing)?;
        sheet(&read, &*self.memory.recall(&read)?, &plan, now)
    }
}

fn sheet(
    read: &Reader<'_>,
    learned: &Learned,
    plan: &Plan,
    now: &Now,
) -> Answer<Option<PlanSheet>> {
    let (cards, mixture) = (learned.cards(), &learned.mixture);
    let known = |cup: &PlannedCup| cards.variants.contains_key(&cup.variant);
    if plan.cups.is_empty() || !plan.cups.iter().all(known) {
        return Ok(None);
    }
    let area = film::painted_area(&plan.panels)?;
    let total: Millilitres = plan.cups.iter().map(|cup| cup.ml).sum();
    let open = open_places(read, plan)?;
    let unmixed = plan.cups.iter().zip(open).filter(|(_, open)| *open);
    let unmixed = unmixed.map(|(cup, _)| cup);
    let paint = Paint {
        panels: plan.panels,
        way: plan.way.clone(),
        area,
        // All the paint on all that is painted: the film it was planned with.
        film: Band::exactly(Millimetres(total.get() * 1000.0 / area.get())),
        basis: plan.repeats.map_or(Basis::Kept, Basis::Repeats),
        total,
        layers: as_they_stand(read, learned, plan, now)?,
        // What is mixed was taken from the shelf already, and its time is not to come.
        to_mix: layers(cards, mixture, unmixed)?,
        since: Some(plan.at),
    };
    let mut sheet = paint.sheet(read, mixture, plan.pour_at, now)?;
    // One that repeats a picture keeps to its variants on purpose, and says so among what differs.
    if plan.repeats.is_none() {
        sheet.warnings.extend(changed(cards, &sheet.layers));
    }
    sheet.warnings.extend(went::warnings(read, plan)?);
    sheet.note.clone_from(&plan.note);
    sheet.repeat = repeat::of_kept(read, learned, plan, &sheet, now)?;
    Ok(Some(sheet))
}

/// Which cup of a plan is mixed next, and when its day has it; of those without a time the first.
fn next_place(
    read: &Reader<'_>,
    learned: &Learned,
    plan: &Plan,
    now: &Now,
) -> Answer<Option<(usize, Option<Moment>)>> {
    let open = open_places(read, plan)?.into_iter().enumerate();
    let due = |(place, _): (usize, bool)| {
        let variant = plan.cups[place].variant;
        Ok((place, mixing_due(read, learned, plan, variant, now)?))
    };
    let due = open.filter(|(_, open)| *open).map(due);
    let due = due.collect::<Answer<Vec<(usize, Option<Moment>)>>>()?;
    Ok(due
        .into_iter()
        .min_by_key(|(place, due)| (due.is_none(), *due, *place)))
}

/// Which of a plan's cups are still to be mixed, in their order.
fn open_places(read: &Reader<'_>, plan: &Plan) -> Answer<Vec<bool>> {
    let places = plan.cups.iter();
    places.map(|cup| went::is_open(read, plan, cup)).collect()
}

/// What the cup was in the picture that a plan makes once more.
fn as_in_picture(plan: &Plan, planned: &PlannedCup, cup: &Cup) -> Option<Note> {
    Some(Note::AsInPicture {
        mark: cup.mark.clone(),
        pour: plan.repeats?,
        mound: planned.mound,
        stood: planned.stood,
    })
}

/// A cup mixed so much before its time is worth a word (ours).
const EARLY: TimeDelta = TimeDelta::minutes(30);

/// When a plan has its next cup of a variant mixed, where that can be told.
fn mixing_due(
    read: &Reader<'_>,
    learned: &Learned,
    plan: &Plan,
    variant: i64,
    now: &Now,
) -> Answer<Option<Moment>> {
    let sheet = sheet(read, learned, plan, now)?;
    let mixed = |step: &&Step| {
        let of = step.cup.as_ref().map(|cup| cup.id);
        step.deed == Deed::Mix && of == Some(variant)
    };
    Ok(sheet.and_then(|sheet| Some(sheet.schedule.iter().find(mixed)?.at)))
}

/// The planned cups as layers, those that stood already apart, each as it stands now.
fn as_they_stand(
    read: &Reader<'_>,
    learned: &Learned,
    plan: &Plan,
    now: &Now,
) -> Answer<Vec<PlanLayer>> {
    let (cards, mixture) = (learned.cards(), &learned.mixture);
    let mut all = Vec::new();
    let mut run: Vec<&PlannedCup> = Vec::new();
    for planned in &plan.cups {
        let Some(standing) = standing::of_kept(read, learned, plan, planned, now)? else {
            run.push(planned);
            continue;
        };
        all.extend(layers(
            cards,
            mixture,
            std::mem::take(&mut run).into_iter(),
        )?);
        let variant = cards.variants.get(&planned.variant);
        let recipe = variant.and_then(|one| cards.recipes.get(&one.recipe));
        let both = variant.zip(recipe);
        all.extend(
            both.map(|(variant, recipe)| {
                PlanLayer::standing(recipe, variant, planned.ml, standing)
            }),
        );
    }
    all.extend(layers(cards, mixture, run.into_iter())?);
    Ok(all)
}

/// The planned cups as layers; cups of one variant that follow each other are one.
fn layers<'a>(
    cards: &bench::RecipeBook,
    mixture: &Mixture,
    cups: impl Iterator<Item = &'a PlannedCup>,
) -> Answer<Vec<PlanLayer>> {
    let mut runs: Vec<(i64, Millilitres, u32, AsWas)> = Vec::new();
    for cup in cups {
        let was = AsWas::of(cup);
        let same = |run: &&mut (i64, Millilitres, u32, AsWas)| run.0 == cup.variant && run.3 == was;
        match runs.last_mut().filter(same) {
            Some(run) => (run.1, run.2) = (run.1 + cup.ml, run.2 + 1),
            None => runs.push((cup.variant, cup.ml, 1, was)),
        }
    }
    let mut layers = Vec::new();
    for (variant, ml, cups, as_was) in runs {
        let variant = cards.variants.get(&variant);
        let recipe = variant.and_then(|one| cards.recipes.get(&one.recipe));
        if let (Some(variant), Some(recipe)) = (variant, recipe) {
            let layer = PlanLayer::of(mixture, recipe.clone(), variant.clone(), ml, cups)?;
            layers.push(PlanLayer { as_was, ..layer });
        }
    }
    Ok(layers)
}

/// The newest variant's number of a variant's recipe, where that is another one.
pub(super) fn newer(cards: &bench::RecipeBook, variant: i64) -> Option<i64> {
    let planned = cards.variants.get(&variant)?;
    let of_recipe = cards.variants.values();
    let numbers = of_recipe.filter(|one| one.recipe == planned.recipe);
    let newest = numbers.map(|one| one.number).max()?;
    (newest > planned.number).then_some(newest)
}

/// Which recipes have changed since: the plan keeps to the variants it was made with.
fn changed(cards: &bench::RecipeBook, layers: &[PlanLayer]) -> Vec<Warning> {
    let mut seen = HashSet::new();
    let once = layers.iter().filter(|layer| seen.insert(layer.variant.id));
    let changed = |layer: &PlanLayer| {
        Some(Warning::RecipeChanged {
            planned: cards.variant_ref(layer.variant.id)?,
            newest: newer(cards, layer.variant.id)?,
        })
    };
    once.filter_map(changed).collect()
}

fn page(read: &Reader<'_>, cards: &bench::RecipeBook, plan: Plan) -> Answer<PlanPage> {
    let line = |planned: &PlannedCup| {
        let went = went::of(read, &plan, planned)?;
        Ok(PlanLine {
            variant: cards.variant_ref(planned.variant).unwrap_or_default(),
            newer: newer(cards, planned.variant),
            planned: planned.ml,
            mark: went.as_ref().map(|went| went.cup.mark.to_string()),
            mixed: went.as_ref().map(|went| went.cup.volume),
            poured: went.as_ref().map(|went| went.poured),
            gone: went.is_some_and(|went| went.gone),
        })
    };
    let cups = plan.cups.iter().map(line).collect::<Answer<Vec<_>>>()?;
    Ok(PlanPage { plan, cups })
}
