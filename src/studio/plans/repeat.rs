//! A picture made once more: the same variants, its amounts on another panel, its rests, mounds and moves, and what
//! would differ today.

use crate::logbook::{Reader, Stock};
use crate::numbers::film;
use crate::studio::cups::learned::Learned;
use crate::studio::orders::RepeatOrder;
use crate::studio::plans::kept_plan::newer;
use crate::studio::plans::plan::{AsWas, Basis, Paint, PlanKept, PlanLayer};
use crate::studio::plans::schedule::stood_of;
use crate::studio::plans::standing::Standing;
use crate::studio::pours::as_poured::{self, AsPoured};
use crate::studio::{Answer, Note, PlanSheet, Refusal, Studio, VariantRef};
use crate::trade::act::Act;
use crate::trade::cup::{Cup, PutFrom};
use crate::trade::instant::Now;
use crate::trade::life::State;
use crate::trade::mark::Mark;
use crate::trade::material::Material;
use crate::trade::moment::Moment;
use crate::trade::panel::Panel;
use crate::trade::plan::{Panels, Plan, PlannedCup};
use crate::trade::pour::{Air, Move, Pour, PouredLayer};
use crate::trade::recipe::PartOf;
use crate::trade::units::{Band, Hours, Millilitres, Millimetres, Seconds, Share};
use std::collections::{BTreeMap, BTreeSet};

/// What a plan repeats.
#[derive(Debug, Clone)]
pub struct Repeat {
    /// The pour that it makes once more.
    pub pour: i64,
    /// What is poured, lowest first.
    pub layers: Vec<RepeatLayer>,
    /// What was done with the panel, in order.
    pub moves: Vec<Move>,
    /// What would differ today.
    pub differs: Vec<Differs>,
}

/// A layer that is poured once more.
#[derive(Debug, Clone)]
pub struct RepeatLayer {
    /// By what its cup is mixed.
    pub variant: VariantRef,
    /// How much is poured now.
    pub ml: Millilitres,
    /// How much was poured then.
    pub was_ml: Millilitres,
    /// What its cup was then.
    pub state: State,
    /// The mound it was thought to have then.
    pub mound: Option<Seconds>,
    /// How long it had stood then.
    pub stood: Hours,
    /// How much of the cup was thinner that went in after mixing.
    pub thinned: Share,
}

/// What would differ from the picture that is made once more.
#[derive(Debug, Clone, PartialEq)]
pub enum Differs {
    /// The room's air.
    Air {
        /// What it was.
        then: Air,
        /// What it is.
        now: Air,
    },
    /// Materials, by name, that were bought since the picture's cups were mixed, and when the last time.
    BoughtAnew(Vec<(String, Moment)>),
    /// A recipe has a newer variant; the picture's own is made.
    NewerVariant {
        /// The picture's own.
        made: VariantRef,
        /// The newest one's number.
        newest: i64,
    },
    /// A cup was thinned with other than what its recipe was last thinned with.
    Thinner {
        /// What the cup was mixed by.
        variant: VariantRef,
        /// With what it was thinned then.
        then: String,
        /// With what the recipe, else the studio, was thinned last.
        now: String,
    },
    /// A cup that stands already is taken.
    Serves {
        /// Its mark.
        mark: Mark,
        /// What it was mixed by.
        variant: VariantRef,
        /// What is left of it.
        left: Millilitres,
    },
    /// A cup will have stood for another time, because of the quiet hours.
    Stands {
        /// What the cup is mixed by.
        variant: VariantRef,
        /// How long it had stood then.
        then: Hours,
        /// How long it will have stood.
        now: Hours,
    },
    /// A cup was not ready when it was poured then.
    NotReadyThen {
        /// What it was mixed by.
        variant: VariantRef,
        /// What it was in place of ready.
        state: State,
    },
}

/// Air that is less far off than this is the same: as well as it can be read (ours).
const SAME_HEAT: f64 = 1.0;
const SAME_DAMP: f64 = 0.05;
/// Standing times that are less far apart are the same (ours).
const SAME_STAND: Hours = Hours(0.5);

impl Studio {
    /// Works out a plan that makes a picture once more, without keeping it.
    ///
    /// # Errors
    /// Where there is no such pour, a cup or a recipe of it is gone, or the panel cannot be planned.
    pub fn repeat(&self, order: &RepeatOrder, now: &Now) -> Answer<PlanSheet> {
        let read = self.book.read()?;
        let learned = self.memory.recall(&read)?;
        Ok(Once::again(&read, &learned, order, now)?.1)
    }

    /// Keeps it.
    ///
    /// # Errors
    /// As [`Studio::repeat`].
    pub fn keep_repeat(&mut self, order: &RepeatOrder, now: &Now) -> Answer<PlanKept> {
        let memory = &self.memory;
        self.book.commit_as(now.at.into(), |write| {
            let read = write.read();
            let learned = memory.recall(&read)?;
            let (once, sheet) = Once::again(&read, &learned, order, now)?;
            let plan = Plan {
                id: 0,
                at: now.at,
                panels: once.panels,
                way: sheet.way.clone(),
                pour_at: Some(sheet.pour_at),
                cups: once.cups,
                note: None,
                repeats: Some(order.pour),
            };
            let plan = write.add_plan(&plan)?;
            let act = Act::Planned {
                plan,
                count: 1,
                panel: once.panels.panel,
            };
            Ok((PlanKept { plan, sheet }, act))
        })
    }
}

/// A picture that is made once more, with the cups it takes.
struct Once {
    panels: Panels,
    cups: Vec<PlannedCup>,
}

impl Once {
    fn again(
        read: &Reader<'_>,
        learned: &Learned,
        order: &RepeatOrder,
        now: &Now,
    ) -> Answer<(Self, PlanSheet)> {
        let pour = read.pour(order.pour)?.ok_or(Refusal::NoPour(order.pour))?;
        let was = as_poured::layers(read, &pour)?;
        let was: Option<Vec<AsPoured>> = was.into_iter().collect();
        let was = was.ok_or(Refusal::NotRepeatable(pour.id))?;
        let panels = Panels {
            panel: order.panel.unwrap_or(pour.panel),
            count: 1,
            edge: order.edge,
        };
        let scale = scale(pour.panel, &panels)?;
        let mut cups = planned(&pour, &was, scale);
        let serving = match order.fresh {
            true => Vec::new(),
            false => serving(read, learned, &mut cups, now)?,
        };
        let standing = standing(read, learned, &cups, order.pour_at, now)?;
        let mut sheet = paint(learned, &pour, panels, &cups, &standing)?.sheet(
            read,
            &learned.mixture,
            order.pour_at,
            now,
        )?;
        // What serves stands among what differs.
        sheet
            .notes
            .retain(|note| !matches!(note, Note::CupServes { .. }));
        let mut repeat = repeat(learned, &pour, &was, scale);
        repeat.differs = differs(read, learned, &pour, &was, &sheet, now)?;
        repeat.differs.extend(
            order
                .air
                .or(room(read)?)
                .and_then(|now| air(pour.air?, now)),
        );
        repeat.differs.extend(serving);
        sheet.repeat = Some(repeat);
        Ok((Self { panels, cups }, sheet))
    }
}

/// What a kept plan repeats; `None` where the picture or a cup of it is gone.
pub(super) fn of_kept(
    read: &Reader<'_>,
    learned: &Learned,
    plan: &Plan,
    sheet: &PlanSheet,
    now: &Now,
) -> Answer<Option<Repeat>> {
    let pour = plan.repeats.map(|pour| read.pour(pour)).transpose()?;
    let Some(pour) = pour.flatten() else {
        return Ok(None);
    };
    let was = as_poured::layers(read, &pour)?;
    let Some(was) = was.into_iter().collect::<Option<Vec<AsPoured>>>() else {
        return Ok(None);
    };
    let mut repeat = repeat(learned, &pour, &was, scale(pour.panel, &plan.panels)?);
    repeat.differs = differs(read, learned, &pour, &was, sheet, now)?;
    repeat
        .differs
        .extend(room(read)?.and_then(|now| air(pour.air?, now)));
    Ok(Some(repeat))
}

/// How much more is painted than then, edges of one depth on both.
fn scale(was: Panel, panels: &Panels) -> Answer<f64> {
    let was = Panels {
        panel: was,
        ..*panels
    };
    Ok(film::painted_area(panels)?.get() / film::painted_area(&was)?.get())
}

/// The cups that a pour takes, each once, in the order in which they are poured first.
fn planned(pour: &Pour, was: &[AsPoured], scale: f64) -> Vec<PlannedCup> {
    let mut cups: Vec<(i64, PlannedCup)> = Vec::new();
    for (layer, was) in pour.layers.iter().zip(was) {
        let ml = (layer.ml * scale).stored();
        match cups.iter_mut().find(|(id, _)| *id == layer.cup) {
            Some((_, had)) => had.ml += ml,
            None => cups.push((
                layer.cup,
                PlannedCup {
                    variant: was.cup.variant,
                    ml,
                    cup: None,
                    stood: Some(was.stood),
                    mound: layer.mound,
                },
            )),
        }
    }
    cups.into_iter().map(|(_, cup)| cup).collect()
}

/// Cups that stand already and hold enough of a variant are taken for it, the oldest first.
fn serving(
    read: &Reader<'_>,
    learned: &Learned,
    cups: &mut [PlannedCup],
    now: &Now,
) -> Answer<Vec<Differs>> {
    let mut standing: Vec<(Cup, Millilitres)> = Vec::new();
    for cup in read.living_cups()? {
        if cups.iter().any(|one| one.variant == cup.variant) {
            let stands = learned.stand(read, cup, now)?;
            let serves = !stands.life.gelled && stands.state != State::Spent;
            standing.extend(serves.then_some((stands.cup, stands.life.left)));
        }
    }
    standing.sort_by_key(|(cup, _)| cup.id);
    let mut taken = Vec::new();
    for planned in cups {
        let enough = |one: &(Cup, Millilitres)| {
            one.0.variant == planned.variant && one.1 + Millilitres::DROP >= planned.ml
        };
        let Some(place) = standing.iter().position(enough) else {
            continue;
        };
        let (cup, left) = standing.remove(place);
        planned.cup = Some(cup.id);
        taken.push(Differs::Serves {
            mark: cup.mark,
            variant: variant_ref(learned, cup.variant),
            left,
        });
    }
    Ok(taken)
}

fn variant_ref(learned: &Learned, variant: i64) -> VariantRef {
    learned.cards().variant_ref(variant).unwrap_or_default()
}

/// The cups that serve, each as it stands.
fn standing(
    read: &Reader<'_>,
    learned: &Learned,
    cups: &[PlannedCup],
    pour_at: Option<Moment>,
    now: &Now,
) -> Answer<BTreeMap<i64, Standing>> {
    let mut found = BTreeMap::new();
    for id in cups.iter().filter_map(|cup| cup.cup) {
        if let Some(cup) = read.cup(id)? {
            let status = learned.stand(read, cup, now)?;
            found.insert(id, Standing::of(&status, pour_at));
        }
    }
    Ok(found)
}

/// What is mixed for it, and what stands.
fn paint(
    learned: &Learned,
    pour: &Pour,
    panels: Panels,
    cups: &[PlannedCup],
    standing: &BTreeMap<i64, Standing>,
) -> Answer<Paint> {
    let area = film::painted_area(&panels)?;
    let total: Millilitres = cups.iter().map(|cup| cup.ml).sum();
    let layers = |cups: &mut dyn Iterator<Item = &PlannedCup>| {
        cups.map(|cup| layer(learned, pour.id, cup, standing))
            .collect::<Answer<Vec<_>>>()
    };
    Ok(Paint {
        panels,
        way: pour.way.clone(),
        area,
        film: Band::exactly(Millimetres(total.get() * 1000.0 / area.get())),
        basis: Basis::Repeats(pour.id),
        total,
        layers: layers(&mut cups.iter())?,
        to_mix: layers(&mut cups.iter().filter(|cup| cup.cup.is_none()))?,
        since: None,
    })
}

fn layer(
    learned: &Learned,
    pour: i64,
    cup: &PlannedCup,
    standing: &BTreeMap<i64, Standing>,
) -> Answer<PlanLayer> {
    let cards = learned.cards();
    let variant = cards.variants.get(&cup.variant);
    let recipe = variant.and_then(|one| cards.recipes.get(&one.recipe));
    let found = variant.cloned().zip(recipe.cloned());
    let (variant, recipe) = found.ok_or(Refusal::NotRepeatable(pour))?;
    if let Some(stands) = cup.cup.and_then(|id| standing.get(&id)) {
        return Ok(PlanLayer::standing(
            &recipe,
            &variant,
            cup.ml,
            stands.clone(),
        ));
    }
    let layer = PlanLayer::of(&learned.mixture, recipe, variant, cup.ml, 1)?;
    Ok(PlanLayer {
        as_was: AsWas::of(cup),
        ..layer
    })
}

fn repeat(learned: &Learned, pour: &Pour, was: &[AsPoured], scale: f64) -> Repeat {
    let layer = |(layer, was): (&PouredLayer, &AsPoured)| RepeatLayer {
        variant: variant_ref(learned, was.cup.variant),
        ml: (layer.ml * scale).stored(),
        was_ml: layer.ml,
        state: layer.state,
        mound: layer.mound,
        stood: was.stood,
        thinned: was.thinned,
    };
    Repeat {
        pour: pour.id,
        layers: pour.layers.iter().zip(was).map(layer).collect(),
        moves: pour.moves.iter().map(Move::untimed).collect(),
        differs: Vec::new(),
    }
}

fn room(read: &Reader<'_>) -> Answer<Option<Air>> {
    let kept = read.setting("air")?;
    Ok(kept.and_then(|text| Air::parse(&text).ok()))
}

/// Where the air is another than it was.
fn air(then: Air, now: Air) -> Option<Differs> {
    let heat = then.celsius.zip(now.celsius);
    let damp = then.humidity.zip(now.humidity);
    let heat = heat.is_some_and(|(then, now)| (now.get() - then.get()).abs() >= SAME_HEAT);
    let damp = damp.is_some_and(|(then, now)| (now.get() - then.get()).abs() >= SAME_DAMP);
    (heat || damp).then_some(Differs::Air { then, now })
}

fn differs(
    read: &Reader<'_>,
    learned: &Learned,
    pour: &Pour,
    was: &[AsPoured],
    sheet: &PlanSheet,
    now: &Now,
) -> Answer<Vec<Differs>> {
    let mut found = stands(sheet);
    found.extend(not_ready(learned, pour, was));
    found.extend(thinners(learned, was));
    found.extend(newer_variants(learned, was));
    let bought = bought(read, learned, was, now)?;
    found.extend((!bought.is_empty()).then_some(Differs::BoughtAnew(bought)));
    Ok(found)
}

/// Cups that will have stood for another time than then, for they are not mixed at night.
fn stands(sheet: &PlanSheet) -> Vec<Differs> {
    let of = |layer: &PlanLayer| {
        let then = layer.as_was.stood?;
        let now = stood_of(&sheet.schedule, &layer.variant, sheet.pour_at)?;
        let far = (now.get() - then.get()).abs() >= SAME_STAND.get();
        far.then(|| Differs::Stands {
            variant: layer.variant_ref(),
            then,
            now,
        })
    };
    sheet.layers.iter().filter_map(of).collect()
}

fn not_ready<'a>(
    learned: &'a Learned,
    pour: &'a Pour,
    was: &'a [AsPoured],
) -> impl Iterator<Item = Differs> + 'a {
    let layers = pour.layers.iter().zip(was);
    let odd = layers.filter(|(layer, _)| layer.state != State::Ready);
    odd.map(|(layer, was)| Differs::NotReadyThen {
        variant: variant_ref(learned, was.cup.variant),
        state: layer.state,
    })
}

fn thinners(learned: &Learned, was: &[AsPoured]) -> Vec<Differs> {
    let name = |id| learned.mixture.name(PartOf::Material(id));
    let mut seen = BTreeSet::new();
    let of = |was: &AsPoured| {
        let usual = learned.forecast.usual_thinner(was.cup.variant)?;
        let other = was.thinners.last().copied().filter(|id| *id != usual)?;
        seen.insert(was.cup.id).then(|| Differs::Thinner {
            variant: variant_ref(learned, was.cup.variant),
            then: name(other),
            now: name(usual),
        })
    };
    was.iter().filter_map(of).collect()
}

fn newer_variants(learned: &Learned, was: &[AsPoured]) -> Vec<Differs> {
    let mut seen = BTreeSet::new();
    let of = |was: &AsPoured| {
        let newest = newer(learned.cards(), was.cup.variant)?;
        let made = variant_ref(learned, was.cup.variant);
        seen.insert(was.cup.variant)
            .then_some(Differs::NewerVariant { made, newest })
    };
    was.iter().filter_map(of).collect()
}

/// The materials of the cups that were bought again after the first of them was mixed; water is the same every day.
fn bought(
    read: &Reader<'_>,
    learned: &Learned,
    was: &[AsPoured],
    now: &Now,
) -> Answer<Vec<(String, Moment)>> {
    let mut used = BTreeSet::new();
    for was in was {
        used.extend(materials(read, was.cup.id, 0)?);
        used.extend(was.thinners.iter().copied());
    }
    let Some(mixed) = was.iter().map(|was| was.cup.mixed_at).min() else {
        return Ok(Vec::new());
    };
    let since = |one: &&Stock| !one.counted && one.at > mixed && one.at <= now.at;
    let stock = read.stock()?;
    let of = |id: &i64| {
        let own = stock.iter().filter(|one| one.material == *id);
        let last = own.filter(since).map(|one| one.at).max()?;
        let water = learned
            .mixture
            .material(*id)
            .is_some_and(Material::is_water);
        (!water).then(|| (learned.mixture.name(PartOf::Material(*id)), last))
    };
    Ok(used.iter().filter_map(of).collect())
}

/// Cups filled from cups are followed so deep; deeper only in a damaged store.
const DEEPEST: u8 = 32;

fn materials(read: &Reader<'_>, cup: i64, depth: u8) -> Answer<BTreeSet<i64>> {
    let mut found = BTreeSet::new();
    if depth > DEEPEST {
        return Ok(found);
    }
    for put in read.puts(cup)? {
        match put.from {
            PutFrom::Material(id) => {
                found.insert(id);
            }
            PutFrom::Cup(id) => found.extend(materials(read, id, depth + 1)?),
        }
    }
    Ok(found)
}
