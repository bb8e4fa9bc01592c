//! Planning: panels and a time to pour give the paint per cup and material, what the shelf lacks, what it
//! costs, and when to begin what.

use crate::logbook::Reader;
use crate::numbers::film::{self, FilmError, Split};
use crate::studio::forecast::Forecast;
use crate::studio::mixture::Mixture;
use crate::studio::own_pours::OwnPours;
use crate::studio::schedule::{self, Step, Wait};
use crate::studio::{Answer, MixOrder, Mixed, Refusal, Studio, bench, lookup, mix, shelf};
use crate::trade::amount::Amount;
use crate::trade::cup::PutFrom;
use crate::trade::instant::Now;
use crate::trade::moment::Moment;
use crate::trade::plan::{Panels, Plan, PlannedCup};
use crate::trade::pour::Pour;
use crate::trade::recipe::{LayerKind, PartOf, Recipe, Variant};
use crate::trade::units::{Backing, Grams, Millilitres, Millimetres, Share, SquareMillimetres};
use chrono::TimeDelta;
use rust_decimal::Decimal;
use std::collections::BTreeMap;

/// What is to be planned.
#[derive(Debug, Clone)]
pub struct PlanOrder {
    /// What is to be poured on.
    pub panels: Panels,
    /// The technique.
    pub way: Option<String>,
    /// When the pour is to begin; as soon as it can otherwise.
    pub pour_at: Option<Moment>,
    /// The whole wet film; the technique's own, or practice, otherwise.
    pub film: Option<Millimetres>,
    /// The recipes, lowest layer first; those of the last pour of the technique otherwise.
    pub recipes: Vec<String>,
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
    /// The whole wet film.
    pub film: Millimetres,
    /// Where film and split come from.
    pub from: Backing,
    /// How many of the studio's own pours stand behind them.
    pub pours: usize,
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
    pub warnings: Vec<String>,
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
    /// What goes in.
    pub parts: Vec<PlanPart>,
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
    /// `River blue v2`.
    pub title: String,
    /// What was planned.
    pub planned: Millilitres,
    /// The mark of the cup that was mixed for it.
    pub mark: Option<String>,
    /// What was mixed.
    pub mixed: Option<Millilitres>,
    /// What of it was poured.
    pub poured: Option<Millilitres>,
}

impl Studio {
    /// Works a plan out without keeping it.
    ///
    /// # Errors
    /// Where a recipe is unknown, there is none yet, or the panels are outside what can be planned.
    pub fn plan(&self, order: &PlanOrder, now: &Now) -> Answer<PlanSheet> {
        work_out(&self.book.read()?, order, now)
    }

    /// Keeps a plan; the answer is its number.
    ///
    /// # Errors
    /// As [`Studio::plan`].
    pub fn keep_plan(&mut self, order: &PlanOrder, now: &Now) -> Answer<i64> {
        let label = format!("planned {} x {}", order.panels.count, order.panels.panel);
        self.book.commit(&label, now.at.into(), |write| {
            let sheet = work_out(&write.read(), order, now)?;
            let cup = |layer: &PlanLayer| PlannedCup {
                variant: layer.variant.id,
                ml: layer.ml,
                cup: None,
            };
            let plan = Plan {
                id: 0,
                at: now.at,
                panels: order.panels,
                way: order.way.clone(),
                pour_at: Some(sheet.pour_at),
                cups: sheet.layers.iter().map(cup).collect(),
                note: None,
            };
            Ok(write.add_plan(&plan)?)
        })
    }

    /// Every kept plan beside what happened, newest first.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn plans(&self) -> Answer<Vec<PlanPage>> {
        let read = self.book.read()?;
        let cards = bench::Cards::read(&read)?;
        read.plans()?
            .into_iter()
            .map(|plan| page(&read, &cards, plan))
            .collect()
    }

    /// Mixes the next cup that a plan asks for.
    ///
    /// # Errors
    /// Where there is no such plan, or all its cups are mixed.
    pub fn mix_from_plan(&mut self, plan: i64, order: &MixOrder, now: &Now) -> Answer<Mixed> {
        let memory = &self.memory;
        self.book
            .commit(&format!("mixed from plan {plan}"), now.at.into(), |write| {
                let read = write.read();
                let learned = memory.recall(&read)?;
                let missing = || Refusal::OutOfModel(format!("there is no plan {plan}"));
                let kept = read.plan(plan)?.ok_or_else(missing)?;
                let done = || Refusal::Already(format!("every cup of plan {plan} is mixed"));
                let place = kept
                    .cups
                    .iter()
                    .position(|cup| cup.cup.is_none())
                    .ok_or_else(done)?;
                let cards = bench::Cards::read(&read)?;
                let planned = kept.cups[place];
                let variant = cards.variants.get(&planned.variant);
                let recipe = variant.and_then(|variant| cards.recipes.get(&variant.recipe));
                let order = MixOrder {
                    recipe: recipe.map(|recipe| recipe.name.clone()),
                    variant: variant.map(|variant| variant.number),
                    volume: Some(order.volume.unwrap_or(Amount::Volume(planned.ml))),
                    ..order.clone()
                };
                let mixed = mix::mix_within(write, &learned, &order, now)?;
                let nth = i64::try_from(place).unwrap_or(0) + 1;
                write.set_planned(plan, nth, mixed.standing.cup.id)?;
                Ok(mixed)
            })
    }
}

fn work_out(read: &Reader<'_>, order: &PlanOrder, now: &Now) -> Answer<PlanSheet> {
    let outside = |problem: FilmError| Refusal::OutOfModel(problem.to_string());
    check(order)?;
    let mixture = Mixture::read(read)?;
    let recipes = chosen_recipes(read, order)?;
    let own = OwnPours::read(read, &mixture, order.way.as_deref())?;
    let own_film = own.film();
    let film = order.film.or(own_film).unwrap_or_else(film::anchor_film);
    let area = film::painted_area(&order.panels).map_err(outside)?;
    let total = film::volume(area, film, Share(0.0)).map_err(outside)?;
    let split = own.split().unwrap_or(Split::SWIPE);
    let mut layers = Vec::new();
    for (recipe, share) in shared(recipes, &split) {
        layers.push(layer(
            read,
            &mixture,
            recipe,
            (total * share.get()).stored(),
        )?);
    }
    let needed = needed(&mixture, &layers)?;
    let lacks = lacks(read, &needed, now)?;
    let priced = |(id, ml): (&i64, &Millilitres)| mixture.cost(PartOf::Material(*id), *ml);
    let cost = needed.iter().map(priced).sum::<Option<Decimal>>();
    let unpriced = needed.iter().filter(|one| priced((one.0, one.1)).is_none());
    let unpriced = unpriced
        .map(|(id, _)| mixture.name(PartOf::Material(*id)))
        .collect();
    let forecast = Forecast::learn(read, &mixture)?;
    let waits: Vec<Wait> = layers.iter().map(|layer| wait(layer, &forecast)).collect();
    let earliest = schedule::earliest(&waits, now.at);
    let pour_at = order.pour_at.unwrap_or(earliest);
    let schedule = schedule::backwards(&waits, pour_at);
    let mut warnings = Vec::new();
    if pour_at < earliest {
        let could = crate::studio::local(earliest, now);
        warnings.push(format!(
            "too soon: mixed now, the cups are ready at {could}"
        ));
    }
    Ok(PlanSheet {
        panels: order.panels,
        way: order.way.clone(),
        area,
        film,
        from: if own_film.is_some() {
            Backing::Yours
        } else {
            Backing::Practice
        },
        pours: own_film.map_or(0, |_| own.count()),
        total,
        layers,
        lacks,
        pour_at,
        schedule,
        cost,
        unpriced,
        warnings,
    })
}

/// The recipes asked for; else those of the last pour of the technique; else the newest of each layer.
fn chosen_recipes(read: &Reader<'_>, order: &PlanOrder) -> Answer<Vec<Recipe>> {
    if !order.recipes.is_empty() {
        return order
            .recipes
            .iter()
            .map(|name| lookup::recipe_called(read, name))
            .collect();
    }
    if let Some(recipes) = last_poured(read, order.way.as_deref())? {
        return Ok(recipes);
    }
    let all = read.recipes()?;
    let newest = |layer| {
        all.iter()
            .filter(move |one| one.layer == layer)
            .max_by_key(|one| one.id)
    };
    let layers = [LayerKind::Base, LayerKind::Colour, LayerKind::Activator];
    let recipes: Vec<_> = layers.into_iter().filter_map(newest).cloned().collect();
    if recipes.is_empty() {
        return Err(Refusal::OutOfModel("there is no recipe to plan with yet".into()).into());
    }
    Ok(recipes)
}

fn last_poured(read: &Reader<'_>, way: Option<&str>) -> Answer<Option<Vec<Recipe>>> {
    let cards = bench::Cards::read(read)?;
    let pours = read.pours_since(i64::MIN)?;
    let fits = |pour: &&Pour| way.is_none() || pour.way.as_deref() == way;
    let Some(pour) = pours.iter().rev().find(fits) else {
        return Ok(None);
    };
    let mut recipes: Vec<Recipe> = Vec::new();
    for layer in &pour.layers {
        let variant = read
            .cup(layer.cup)?
            .and_then(|cup| cards.variants.get(&cup.variant));
        let recipe = variant.and_then(|variant| cards.recipes.get(&variant.recipe));
        recipes.extend(
            recipe
                .filter(|one| recipes.iter().all(|had| had.id != one.id))
                .cloned(),
        );
    }
    Ok((!recipes.is_empty()).then_some(recipes))
}

/// Refuses what no plan is for.
fn check(order: &PlanOrder) -> Answer<()> {
    let range = |what, range| Err(Refusal::Range { what, range }.into());
    if !(1..=1000).contains(&order.panels.count) {
        return range("the number of panels", "1 to 1000");
    }
    if !(0.0..=200.0).contains(&order.panels.edge.get()) {
        return range("the edge", "0 to 200 mm");
    }
    if order
        .film
        .is_some_and(|film| !(0.05..=10.0).contains(&film.get()))
    {
        return range("the wet film", "0.05 to 10 mm");
    }
    Ok(())
}

/// The recipes with their shares: colours share theirs evenly, and what no recipe takes goes to the others.
fn shared(recipes: Vec<Recipe>, split: &Split) -> Vec<(Recipe, Share)> {
    let mut count: BTreeMap<LayerKind, f64> = BTreeMap::new();
    for recipe in &recipes {
        *count.entry(recipe.layer).or_default() += 1.0;
    }
    let whole: f64 = count.keys().map(|layer| split.of(*layer).get()).sum();
    let share = |layer: LayerKind| {
        let all = if whole > 0.0 {
            split.of(layer).get() / whole
        } else {
            1.0 / count.len() as f64
        };
        Share(all / count.get(&layer).copied().unwrap_or(1.0))
    };
    let paired = recipes.into_iter().map(|recipe| {
        let share = share(recipe.layer);
        (recipe, share)
    });
    paired.filter(|(_, share)| share.get() > 0.0).collect()
}

fn layer(
    read: &Reader<'_>,
    mixture: &Mixture,
    recipe: Recipe,
    ml: Millilitres,
) -> Answer<PlanLayer> {
    let variant = lookup::variant_of(read, &recipe, None)?;
    let part = |(of, ml): (PartOf, Millilitres)| {
        let line = mixture.line(of, ml);
        PlanPart {
            name: line.name,
            ml,
            g: line.g,
            cost: mixture.cost(of, ml),
        }
    };
    let parts = mixture
        .volumes(&variant, ml)?
        .into_iter()
        .map(part)
        .collect();
    Ok(PlanLayer {
        recipe,
        variant,
        ml,
        parts,
    })
}

/// What every material is needed of.
fn needed(mixture: &Mixture, layers: &[PlanLayer]) -> Answer<BTreeMap<i64, Millilitres>> {
    let mut puts = Vec::new();
    for layer in layers {
        for (of, ml) in mixture.volumes(&layer.variant, layer.ml)? {
            mixture.expand(of, ml, &mut puts)?;
        }
    }
    let material = |put: &crate::trade::cup::Put| match put.from {
        PutFrom::Material(id) => Some((id, put.ml)),
        PutFrom::Cup(_) => None,
    };
    Ok(puts.iter().filter_map(material).collect())
}

/// The materials of which the shelf holds too little; one that never was counted or bought is not among them.
fn lacks(read: &Reader<'_>, needed: &BTreeMap<i64, Millilitres>, now: &Now) -> Answer<Vec<Lack>> {
    let lack = |line: shelf::ShelfLine| {
        let needed = *needed.get(&line.material.id)?;
        let left = line.left.filter(|left| *left < needed)?;
        Some(Lack {
            name: line.material.name,
            needed,
            left,
        })
    };
    Ok(shelf::shelf(read, now)?
        .into_iter()
        .filter_map(lack)
        .collect())
}

fn wait(layer: &PlanLayer, forecast: &Forecast) -> Wait {
    let targets = &layer.variant.targets;
    Wait {
        cup: format!("{} v{}", layer.recipe.name, layer.variant.number),
        layer: layer.recipe.layer,
        rest: forecast.rest_planned(&layer.variant),
        stir: targets.stir.map_or(TimeDelta::minutes(4), |stir| {
            TimeDelta::milliseconds((stir.get() * 60_000.0) as i64)
        }),
    }
}

fn page(read: &Reader<'_>, cards: &bench::Cards, plan: Plan) -> Answer<PlanPage> {
    let line = |planned: &PlannedCup| {
        let cup = planned.cup.map(|id| read.cup(id)).transpose()?.flatten();
        let drawn = cup
            .as_ref()
            .map(|cup| crate::studio::tend::poured_of(read, cup))
            .transpose()?;
        Ok(PlanLine {
            title: cards.title(planned.variant),
            planned: planned.ml,
            mark: cup.as_ref().map(|cup| cup.mark.to_string()),
            mixed: cup.map(|cup| cup.volume),
            poured: drawn,
        })
    };
    let cups = plan.cups.iter().map(line).collect::<Answer<Vec<_>>>()?;
    Ok(PlanPage { plan, cups })
}
