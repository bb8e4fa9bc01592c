//! The factors of every judged pour, from what was logged without asking twice.

use crate::logbook::Reader;
use crate::numbers::statistics::findings::{Factor, FactorKind, FactorValue, Observation};
use crate::studio::cups::bench::RecipeBook;
use crate::studio::findings::logged::Logged;
use crate::studio::{Answer, PourPage};
use crate::trade::cup::{Cup, Entry, Put, PutFrom};
use crate::trade::instant::Now;
use crate::trade::life::{Life, State, Waits};
use crate::trade::moment::Moment;
use crate::trade::pour::PouredLayer;
use crate::trade::recipe::LayerKind;
use crate::trade::units::{Millilitres, Seconds};
use std::collections::{BTreeMap, HashMap};

/// A part is a factor of its own only where it was in some pours and not in others, or varied: in so many at least.
const PART_IN: usize = 8;

/// A part that is never more than so many percent of a pour is told to the tenth.
const SMALL: f64 = 10.0;

/// The cups that lie in the judged pours, with their entries and what went into them.
struct Poured {
    cups: HashMap<i64, Cup>,
    entries: HashMap<i64, Vec<Entry>>,
    puts: HashMap<i64, Vec<Put>>,
    names: HashMap<i64, String>,
    cards: RecipeBook,
}

/// What one pour had of every factor.
#[derive(Default)]
struct Row {
    /// Of those that every pour may have.
    logged: BTreeMap<Logged, FactorValue>,
    /// Each material's share of the whole in percent, by its name.
    shares: BTreeMap<String, f64>,
}

/// A factor, and where a row has it.
struct Place {
    factor: Factor,
    source: Source,
}

/// Where a row has the value of a factor.
enum Source {
    /// Among those that every pour may have.
    Logged(Logged),
    /// The share of the material of a name.
    Share(String),
}

impl Source {
    const fn logged(&self) -> Option<Logged> {
        match self {
            Self::Logged(one) => Some(*one),
            Self::Share(_) => None,
        }
    }
}

/// What is known of some pours.
pub(crate) struct Factors {
    /// The factors.
    pub(crate) factors: Vec<Factor>,
    /// Which of those that every pour may have each of them is; none of a material's share.
    pub(crate) logged: Vec<Option<Logged>>,
    /// A value of each of them for each pour, and how it came out.
    pub(crate) rows: Vec<Observation>,
}

/// Every judged pour's factors, and how it came out.
pub(crate) fn table(
    read: &Reader<'_>,
    judged: &[(PourPage, u8)],
    bar: u8,
    now: &Now,
) -> Answer<Factors> {
    let from = judged
        .iter()
        .map(|(page, _)| page.pour.at.timestamp_millis())
        .min();
    let poured = Poured::since(read, from.unwrap_or(i64::MAX))?;
    let rows: Vec<Row> = judged
        .iter()
        .map(|(page, _)| row(page, &poured, now))
        .collect();
    let logged = Logged::ALL.map(|one| Place {
        factor: one.factor(),
        source: Source::Logged(one),
    });
    let places: Vec<Place> = logged.into_iter().chain(part_factors(&rows)).collect();
    let observation = |((_, cells), row): (&(PourPage, u8), &Row)| Observation {
        good: *cells >= bar,
        cells: *cells,
        factors: places.iter().map(|place| place.value(row)).collect(),
    };
    let observations: Vec<Observation> = judged.iter().zip(&rows).map(observation).collect();
    let logged = places.iter().map(|place| place.source.logged()).collect();
    let mut factors: Vec<Factor> = places.into_iter().map(|place| place.factor).collect();
    for (place, factor) in factors.iter_mut().enumerate() {
        coarsen(factor, observations.iter().map(|row| &row.factors[place]));
    }
    Ok(Factors {
        factors,
        logged,
        rows: observations,
    })
}

/// Three digits are as many as anyone's noting of it deserves: a rest of a hundred hours is told to the hour.
fn coarsen<'a>(factor: &mut Factor, values: impl Iterator<Item = &'a FactorValue>) {
    let number = |value: &FactorValue| match value {
        FactorValue::Number(number) => number.abs(),
        _ => 0.0,
    };
    let most = values.map(number).fold(0.0, f64::max);
    while most >= factor.step * 1000.0 {
        factor.step *= 10.0;
    }
}

impl Place {
    fn value(&self, row: &Row) -> FactorValue {
        match &self.source {
            Source::Logged(one) => {
                let value = row.logged.get(one).cloned();
                value.unwrap_or(FactorValue::Missing)
            }
            // A part that was not in a pour had a share of nothing.
            Source::Share(of) => FactorValue::Number(row.shares.get(of).copied().unwrap_or(0.0)),
        }
    }
}

fn part_factors(rows: &[Row]) -> Vec<Place> {
    let mut seen: BTreeMap<&String, (usize, f64)> = BTreeMap::new();
    for (name, share) in rows.iter().flat_map(|row| &row.shares) {
        let (count, most) = seen.entry(name).or_default();
        *count += 1;
        *most = most.max(*share);
    }
    let often = seen.into_iter().filter(|(_, (count, _))| *count >= PART_IN);
    let place = |(material, (_, most)): (&String, (usize, f64))| Place {
        factor: Factor {
            name: format!("share of {material}"),
            kind: FactorKind::Number,
            unit: "%".into(),
            // Of a drop or two every tenth counts; a syringe has no tenths in what is a good part of a cup.
            step: if most < SMALL { 0.1 } else { 1.0 },
        },
        source: Source::Share(material.clone()),
    };
    often.map(place).collect()
}

impl Poured {
    fn since(read: &Reader<'_>, from_ms: i64) -> Answer<Self> {
        let names = read
            .materials()?
            .into_iter()
            .map(|one| (one.id, one.name))
            .collect();
        Ok(Self {
            cups: read
                .cups_poured_since(from_ms)?
                .into_iter()
                .map(|cup| (cup.id, cup))
                .collect(),
            entries: read.care_poured_since(from_ms)?,
            puts: read.puts_poured_since(from_ms)?,
            names,
            cards: RecipeBook::read(read)?,
        })
    }

    fn layer(&self, cup: i64) -> Option<LayerKind> {
        let variant = self.cards.variants.get(&self.cups.get(&cup)?.variant)?;
        self.cards
            .recipes
            .get(&variant.recipe)
            .map(|recipe| recipe.layer)
    }

    /// A cup's life up to an instant.
    fn life(&self, cup: i64, at: Moment) -> Option<Life> {
        let cup = self.cups.get(&cup)?;
        let variant = self.cards.variants.get(&cup.variant)?;
        let none = Vec::new();
        let entries = self.entries.get(&cup.id).unwrap_or(&none);
        let before: Vec<Entry> = entries
            .iter()
            .filter(|entry| entry.at <= at)
            .cloned()
            .collect();
        let waits = Waits {
            rest: variant.targets.rest,
            recheck_after: variant.targets.recheck_after,
        };
        Some(Life::of(cup, &before, waits))
    }
}

fn row(page: &PourPage, poured: &Poured, now: &Now) -> Row {
    let mut row = Row::default();
    waits(&mut row, page, poured);
    mounds(&mut row, page, poured);
    shares(&mut row, page, poured);
    handling(&mut row, page);
    place_and_time(&mut row, page, now);
    row
}

fn number(row: &mut Row, factor: Logged, value: Option<f64>) {
    if let Some(value) = value.filter(|value| value.is_finite()) {
        row.logged
            .insert(factor, FactorValue::Number(rounded(value)));
    }
}

/// What differs only in the last bits of a sum is the same: a rank test would hold it for an order.
fn rounded(value: f64) -> f64 {
    (value * 1e6).round() / 1e6
}

fn word(row: &mut Row, factor: Logged, word: &str) {
    row.logged
        .insert(factor, FactorValue::Word(word.to_owned()));
}

fn yes_no(row: &mut Row, factor: Logged, yes: bool) {
    row.logged.insert(factor, FactorValue::Answer(yes));
}

fn waits(row: &mut Row, page: &PourPage, poured: &Poured) {
    let at = page.pour.at;
    let hours = |from: Moment| (at - from).num_seconds() as f64 / 3600.0;
    let lives: Vec<(LayerKind, Life, Moment)> = page
        .pour
        .layers
        .iter()
        .filter_map(|layer| {
            let mixed = poured.cups.get(&layer.cup)?.mixed_at;
            Some((poured.layer(layer.cup)?, poured.life(layer.cup, at)?, mixed))
        })
        .collect();
    let resting = lives
        .iter()
        .filter(|(kind, ..)| *kind != LayerKind::Activator);
    let least = |all: &mut dyn Iterator<Item = f64>| all.reduce(f64::min);
    let most = |all: &mut dyn Iterator<Item = f64>| all.reduce(f64::max);
    number(
        row,
        Logged::Rest,
        least(&mut resting.map(|(_, life, _)| hours(life.stirred_at))),
    );
    let thinned = lives.iter().filter_map(|(_, life, _)| life.thinned_at);
    number(
        row,
        Logged::SinceThinning,
        most(&mut thinned.map(|at| hours(at) * 60.0)),
    );
    number(
        row,
        Logged::OldestCup,
        most(&mut lives.iter().map(|(.., mixed)| hours(*mixed))),
    );
    if !lives.is_empty() {
        yes_no(
            row,
            Logged::StoodOpen,
            lives.iter().any(|(_, life, _)| !life.capped),
        );
    }
    let ready = |layer: &PouredLayer| layer.state == State::Ready;
    yes_no(
        row,
        Logged::EveryCupReady,
        page.pour.layers.iter().all(ready),
    );
}

fn mounds(row: &mut Row, page: &PourPage, poured: &Poured) {
    let mean = |kind: LayerKind| {
        let layers = page
            .pour
            .layers
            .iter()
            .filter(|layer| poured.layer(layer.cup) == Some(kind));
        let mounds: Vec<f64> = layers
            .filter_map(|layer| layer.mound)
            .map(Seconds::get)
            .collect();
        (!mounds.is_empty()).then(|| mounds.iter().sum::<f64>() / mounds.len() as f64)
    };
    let [base, colours, activator] =
        [LayerKind::Base, LayerKind::Colour, LayerKind::Activator].map(mean);
    number(row, Logged::BaseMound, base);
    number(row, Logged::ColourMound, colours);
    number(row, Logged::ActivatorMound, activator);
    number(
        row,
        Logged::BaseGap,
        base.zip(colours).map(|(low, up)| low - up),
    );
    number(
        row,
        Logged::ActivatorGap,
        colours.zip(activator).map(|(low, up)| low - up),
    );
}

fn shares(row: &mut Row, page: &PourPage, poured: &Poured) {
    let whole: Millilitres = page.pour.layers.iter().map(|layer| layer.ml).sum();
    let activator = page
        .pour
        .layers
        .iter()
        .filter(|layer| poured.layer(layer.cup) == Some(LayerKind::Activator));
    let activator: Millilitres = activator.map(|layer| layer.ml).sum();
    number(row, Logged::ActivatorShare, Some(activator / whole * 100.0));
    // A millilitre over a square millimetre is a metre of it.
    let film = whole.get() * 1000.0 / page.pour.panel.area().get();
    number(row, Logged::Film, Some(film));
    let mut materials: BTreeMap<&String, f64> = BTreeMap::new();
    for layer in &page.pour.layers {
        let puts = poured.puts.get(&layer.cup).map_or(&[][..], Vec::as_slice);
        let in_cup: Millilitres = puts.iter().map(|put| put.ml).sum();
        for put in puts {
            if let PutFrom::Material(id) = put.from
                && let Some(name) = poured.names.get(&id)
            {
                *materials.entry(name).or_default() += put.ml / in_cup * (layer.ml / whole) * 100.0;
            }
        }
    }
    let known = materials.into_iter().filter(|(_, share)| share.is_finite());
    row.shares
        .extend(known.map(|(name, share)| (name.clone(), rounded(share))));
}

fn handling(row: &mut Row, page: &PourPage) {
    let pour = &page.pour;
    if let Some(way) = &pour.way {
        word(row, Logged::Technique, way);
    }
    let spins: Vec<_> = pour
        .moves
        .iter()
        .filter(|one| one.kind == crate::trade::pour::MoveKind::Spin)
        .collect();
    let turns: f64 = spins.iter().map(|spin| spin.times.unwrap_or(1.0)).sum();
    number(row, Logged::Spins, Some(turns));
    if !spins.is_empty() {
        let ways = |clockwise| spins.iter().any(|spin| spin.clockwise() == Some(clockwise));
        yes_no(row, Logged::SpinReversed, ways(true) && ways(false));
    }
    number(row, Logged::StartOver, Some((pour.go - 1) as f64));
}

fn place_and_time(row: &mut Row, page: &PourPage, now: &Now) {
    use chrono::{Datelike, Timelike};
    let air = page.pour.air;
    number(
        row,
        Logged::Temperature,
        air.and_then(|air| air.celsius).map(|one| one.get()),
    );
    number(
        row,
        Logged::Humidity,
        air.and_then(|air| air.humidity)
            .map(|one| one.get() * 100.0),
    );
    let here = now.zone.tell(page.pour.at);
    word(row, Logged::Weekday, &here.weekday().to_string());
    number(
        row,
        Logged::Hour,
        Some(f64::from(here.hour()) + f64::from(here.minute()) / 60.0),
    );
}

#[cfg(test)]
mod tests;
