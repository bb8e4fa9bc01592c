//! Adding paint to a cup: what brings one that is too thin back, and two cups poured together into one.

use crate::logbook::{Reader, Writer};
use crate::numbers::surprise::surprise;
use crate::numbers::thinning;
use crate::studio::cups::bench::CupStatus;
use crate::studio::cups::forecast::as_it_is;
use crate::studio::cups::learned::Learned;
use crate::studio::cups::tend::{self, Tended};
use crate::studio::orders::AddOrder;
use crate::studio::shelf::stock;
use crate::studio::{Answer, Doubt, Refusal, Remarks, Studio, Warning, lookup};
use crate::trade::act::Act;
use crate::trade::cup::{Cup, DrawnInto, Entry, Happened, Put, PutFrom, Reading};
use crate::trade::ids::CupId;
use crate::trade::instant::Now;
use crate::trade::moment::Moment;
use crate::trade::units::{Band, Estimate, Millilitres};
use std::collections::BTreeSet;

impl Studio {
    /// Adds paint to a cup, from the shelf or out of another cup.
    ///
    /// # Errors
    /// Where a cup lives no more, it is the same one or was filled from this one, or holds too little.
    pub fn add_paint(&mut self, order: &AddOrder, now: &Now) -> Answer<Tended> {
        let memory = &self.memory;
        self.book.commit_as(now.at.into(), |write| {
            let learned = memory.recall(&write.read())?;
            let doubt = doubt(&write.read(), &learned, order)?;
            if let Some(doubt) = doubt.clone().filter(|_| !order.even_so) {
                return Err(Refusal::Doubted(doubt).into());
            }
            let (cup, entry) = add_within(write, order, now)?;
            let read = write.read();
            let mut warnings = warnings(&read, &learned, &cup, &entry)?;
            warnings.extend(doubt.map(Warning::Doubted));
            let act = Act::Tended {
                cup: tend::called(&cup),
                what: entry.what.clone(),
            };
            let remarks = Remarks::from(warnings).dated(entry.at, now);
            let tended = Tended {
                standing: tend::restand(&read, &learned, &cup, now)?,
                entry,
                remarks,
            };
            Ok((tended, act))
        })
    }
}

/// What is odd about its reading: of other paint than was read only the window tells.
fn doubt(read: &Reader<'_>, learned: &Learned, order: &AddOrder) -> Answer<Option<Doubt>> {
    let Some(said) = order.reading.as_ref().and_then(Reading::mound) else {
        return Ok(None);
    };
    let cup = lookup::living(read, order.cup)?;
    let variant = learned.cards().variants.get(&cup.variant);
    let window = variant.and_then(|one| one.targets.window);
    let odd = surprise(said, None, 0.0, window);
    let mark = Some(cup.mark);
    Ok(odd.map(|why| Doubt { mark, said, why }))
}

fn add_within(write: &mut Writer<'_>, order: &AddOrder, now: &Now) -> Answer<(Cup, Entry)> {
    let cup = lookup::living(&write.read(), order.cup)?;
    let when = lookup::instant_of(&cup, order.at, now)?;
    let (ml, thinner) = match order.from {
        PutFrom::Material(_) => (order.ml.ok_or(Refusal::NoAmount)?, Millilitres::ZERO),
        PutFrom::Cup(source) => draw(write, &cup, CupId(source), order, when, now)?,
    };
    let what = Happened::Added {
        ml,
        from: order.from,
        thinner,
        reading: order.reading.clone(),
    };
    let id = write.add_entry(cup.id, when.0, when.1, &what)?;
    let entry = Entry {
        id,
        at: when.0,
        backdated: when.1,
        what,
    };
    Ok((cup, entry))
}

/// Takes paint out of another cup: how much, and how much of that is thinner.
fn draw(
    write: &mut Writer<'_>,
    cup: &Cup,
    source: CupId,
    order: &AddOrder,
    when: (Moment, bool),
    now: &Now,
) -> Answer<(Millilitres, Millilitres)> {
    let read = write.read();
    if source.0 == cup.id {
        return Err(Refusal::IntoItself(cup.mark.clone()).into());
    }
    let source = lookup::living(&read, source)?;
    lookup::instant_of(&source, order.at, now)?;
    if holds(&read, source.id, cup.id)? {
        let (from, into) = (source.mark, cup.mark.clone());
        return Err(Refusal::FilledFromIt { from, into }.into());
    }
    let life = tend::life(&read, &source)?;
    let ml = order.ml.unwrap_or(life.left).stored();
    tend::refuse_too_much(&read, &source, ml, order.even_so)?;
    let thinner = (ml * life.thinner_share(&source).get()).stored();
    tend::draw(write, &source, ml, DrawnInto::Cup(cup.id), when)?;
    Ok((ml, thinner))
}

/// Whether paint of one cup lies in another, through however many cups.
fn holds(read: &Reader<'_>, cup: i64, of: i64) -> Answer<bool> {
    let (mut open, mut seen) = (vec![cup], BTreeSet::new());
    while let Some(one) = open.pop() {
        if one == of {
            return Ok(true);
        }
        if seen.insert(one) {
            open.extend(sources(read, one)?);
        }
    }
    Ok(false)
}

/// The cups that a cup was filled from, when it was mixed and since.
fn sources(read: &Reader<'_>, cup: i64) -> Answer<Vec<i64>> {
    let all = all_in(read, cup)?.into_iter();
    let cups = all.filter_map(|from| match from {
        PutFrom::Cup(cup) => Some(cup),
        PutFrom::Material(_) => None,
    });
    Ok(cups.collect())
}

/// Where the paint in a cup came from, when it was mixed and since.
pub(in crate::studio) fn all_in(read: &Reader<'_>, cup: i64) -> Answer<Vec<PutFrom>> {
    let puts = read.puts(cup)?.into_iter().map(|put| put.from);
    let entries = read.entries(cup)?.into_iter();
    let added = entries.filter_map(|entry| Some(entry.what.added()?.1));
    Ok(puts.chain(added).collect())
}

fn warnings(
    read: &Reader<'_>,
    learned: &Learned,
    cup: &Cup,
    entry: &Entry,
) -> Answer<Vec<Warning>> {
    let Happened::Added { ml, from, .. } = entry.what else {
        return Ok(Vec::new());
    };
    match from {
        PutFrom::Material(_) => stock::overdrawn(read, &learned.mixture, &[Put { from, ml }]),
        PutFrom::Cup(source) => {
            let source = read.cup(source)?;
            let other = |source: &Cup| source.variant != cup.variant;
            let other = source.filter(other).and_then(|source| {
                let holds = learned.cards().variant_ref(source.variant)?;
                Some(Warning::Blended {
                    mark: cup.mark.clone(),
                    holds,
                })
            });
            Ok(other.into_iter().collect())
        }
    }
}

/// How much brings a cup that is too thin to the middle of its window: of another cup that is thicker, or of its paint
/// without thinner where none is named. `None` where that cannot be told, or no amount would.
#[must_use]
pub fn to_thicken(cup: &CupStatus, from: Option<&CupStatus>) -> Option<Estimate<Millilitres>> {
    let Some(from) = from else {
        return cup.outlook.paint;
    };
    let mound = cup.outlook.mound?;
    let window = cup.variant.targets.window?;
    let thin = as_it_is(&cup.cup, &cup.life, &mound.band, &cup.variant);
    let thicker = from.outlook.mound_mid()?;
    let likely = thinning::cup_to_thicken(thin, window, thicker)?;
    Some(Estimate {
        band: Band::exactly(likely),
        from: mound.from,
        readings: mound.readings,
    })
}

impl Studio {
    /// How much of another cup, or of its own paint without thinner, brings a cup that is too thin back; `None` where that
    /// cannot be told.
    ///
    /// # Errors
    /// Where one of the marks is on no living cup.
    pub fn how_much_paint(
        &self,
        cup: CupId,
        from: Option<CupId>,
        now: &Now,
    ) -> Answer<Option<Estimate<Millilitres>>> {
        let read = self.book.read()?;
        let learned = self.memory.recall(&read)?;
        let stand = |cup: CupId| learned.stand(&read, lookup::living(&read, cup)?, now);
        let from = from.map(stand).transpose()?;
        Ok(to_thicken(&stand(cup)?, from.as_ref()))
    }
}
