//! Tending a cup: reading, thinning, stirring, looking, capping, opening, ending.

use crate::logbook::{Reader, Writer};
use crate::numbers::surprise::surprise;
use crate::studio::cups::bench::CupStatus;
use crate::studio::cups::learned::Learned;
use crate::studio::orders::TendOrder;
use crate::studio::{
    Advice, Answer, Doubt, Far, FarOf, Refusal, Remarks, Studio, Unread, Warning, facts, lookup,
};
use crate::trade::act::{Act, Called};
use crate::trade::caution::Place;
use crate::trade::cup::{Cup, DrawnInto, Entry, Happened, Reading};
use crate::trade::ids::CupId;
use crate::trade::instant::Now;
use crate::trade::life::{Life, Waits};
use crate::trade::material::Material;
use crate::trade::moment::Moment;
use crate::trade::units::{Millilitres, Share};
use chrono::TimeDelta;

/// A cup that was tended: how it stands now, and what is odd.
#[derive(Debug, Clone)]
pub struct Tended {
    /// How it stands.
    pub standing: CupStatus,
    /// What was written down.
    pub entry: Entry,
    /// What a careful painter would want to know: a limit passed, readings that contradict.
    pub remarks: Remarks,
}

impl Studio {
    /// Tends a cup: reads, thins or stirs it, looks at it, caps, opens or ends it.
    ///
    /// # Errors
    /// Where the cup lives no more, the deed makes no sense for it, or the instant makes none.
    pub fn tend(&mut self, order: &TendOrder, now: &Now) -> Answer<Tended> {
        let memory = &self.memory;
        self.book.commit_as(now.at.into(), |write| {
            let learned = memory.recall(&write.read())?;
            let doubt = doubt(&write.read(), &learned, order, now)?;
            if let Some(doubt) = doubt.clone().filter(|_| !order.even_so) {
                return Err(Refusal::Doubted(doubt).into());
            }
            if !order.even_so {
                refuse_over_thinned(&write.read(), &learned, order)?;
                refuse_far_thinner(&write.read(), &learned, order, now)?;
            }
            refuse_twice(&write.read(), order, now)?;
            let (cup, before, entry) = tend_within(write, order, now)?;
            let standing = restand(&write.read(), &learned, &cup, now)?;
            let mut warnings = warnings(&before, &standing, &entry.what);
            warnings.extend(doubt.map(Warning::Doubted));
            let act = act(&cup, &entry);
            let remarks = Remarks::from(warnings).dated(entry.at, now);
            let tended = Tended {
                standing,
                entry,
                remarks,
            };
            Ok((tended, act))
        })
    }

    /// How much thinner would bring a cup back; nothing where it is not above its window.
    ///
    /// # Errors
    /// As above, and where it was never read.
    pub fn how_much(&self, mark: &str, now: &Now) -> Answer<Advice> {
        let read = self.book.read()?;
        let learned = self.memory.recall(&read)?;
        let standing = learned.stand(&read, lookup::living_cup(&read, mark)?, now)?;
        if standing.outlook.mound.is_none() {
            let why = match standing.life.mound() {
                _ if standing.life.gelled => Unread::Gelled,
                Some(_) => Unread::TooOld,
                None => Unread::Never,
            };
            return Err(Refusal::Unread(standing.cup.mark, why).into());
        }
        Ok(standing.advice())
    }

    /// The shelf's only thinner, where there is one alone.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub(crate) fn only_thinner(&self) -> Answer<Option<Material>> {
        only_thinner(&self.book.read()?)
    }

    /// Tends a cup without asking how it then stands, which costs more than the writing.
    pub(crate) fn jot(&mut self, cup: CupId, what: Happened, now: &Now) -> Answer<()> {
        self.book.commit_as(now.at.into(), |write| {
            let order = TendOrder {
                cup,
                what,
                at: None,
                even_so: true,
            };
            let (cup, _, entry) = tend_within(write, &order, now)?;
            Ok(((), act(&cup, &entry)))
        })
    }
}

/// A cup as the history keeps it.
pub(in crate::studio) fn called(cup: &Cup) -> Called {
    Called {
        id: cup.id,
        name: cup.mark.to_string(),
    }
}

/// What the history keeps of an entry.
fn act(cup: &Cup, entry: &Entry) -> Act {
    Act::Tended {
        cup: called(cup),
        what: entry.what.clone(),
    }
}

/// Writes an entry down inside a commit; answers the cup, its life before it, and the entry.
fn tend_within(write: &mut Writer<'_>, order: &TendOrder, now: &Now) -> Answer<(Cup, Life, Entry)> {
    let cup = lookup::living(&write.read(), order.cup)?;
    let (at, backdated) = lookup::instant_of(&cup, order.at, now)?;
    let before = life(&write.read(), &cup)?;
    let what = order.what.clone();
    refuse_senseless(&cup, &before, &what)?;
    if let Happened::Thinned { ml, .. } = &what {
        refuse_flood(&cup, &before, *ml)?;
    }
    let id = write.add_entry(cup.id, at, backdated, &what)?;
    mark_spent(write, &cup, at)?;
    let entry = Entry {
        id,
        at,
        backdated,
        what,
    };
    Ok((cup, before, entry))
}

/// What is odd about a reading, by what was expected of the cup when it was read. After a thinning only the window tells:
/// what thinner does is what is being learned.
fn doubt(
    read: &Reader<'_>,
    learned: &Learned,
    order: &TendOrder,
    now: &Now,
) -> Answer<Option<Doubt>> {
    let Some(mound) = order.what.reading().and_then(Reading::mound) else {
        return Ok(None);
    };
    let cup = lookup::living(read, order.cup)?;
    let at = order.at.unwrap_or(now.at);
    let before = learned.stand(read, cup, &Now { at, ..*now })?;
    let expected = before.outlook.mound.map(|mound| mound.band);
    let expected = expected.filter(|_| matches!(order.what, Happened::Read(_)));
    let window = before.variant.targets.window;
    let odd = surprise(mound, expected, learned.forecast.noise(), window);
    Ok(odd.map(|why| Doubt {
        mark: Some(before.cup.mark),
        said: mound,
        why,
    }))
}

/// Takes paint out of a cup, inside a commit.
pub(crate) fn draw(
    write: &mut Writer<'_>,
    cup: &Cup,
    ml: Millilitres,
    into: DrawnInto,
    when: (Moment, bool),
) -> Answer<()> {
    write.add_entry(cup.id, when.0, when.1, &Happened::Drawn { ml, into })?;
    mark_spent(write, cup, when.0)
}

/// Refuses to take out more than a cup holds, unless it was measured so.
pub(crate) fn refuse_too_much(
    read: &Reader<'_>,
    cup: &Cup,
    asked: Millilitres,
    even_so: bool,
) -> Answer<()> {
    let left = life(read, cup)?.left;
    if even_so || asked.get() <= left.get() + Millilitres::DROP.get() {
        return Ok(());
    }
    Err(Refusal::TooMuch {
        mark: cup.mark.clone(),
        left,
        asked,
    }
    .into())
}

/// Marks a cup as spent once it is ended or empty.
fn mark_spent(write: &mut Writer<'_>, cup: &Cup, at: Moment) -> Answer<()> {
    let life = life(&write.read(), cup)?;
    if life.ended.is_some() || life.left.is_nothing() {
        write.set_spent(cup.id, at)?;
    }
    Ok(())
}

/// What is left in a cup, its lid, its last reading and whether it ended hang on no wait.
pub(in crate::studio) fn life(read: &Reader<'_>, cup: &Cup) -> Answer<Life> {
    let waits = Waits {
        rest: TimeDelta::zero(),
        recheck_after: TimeDelta::zero(),
    };
    Ok(Life::of(cup, &read.entries(cup.id)?, waits))
}

pub(in crate::studio) fn restand(
    read: &Reader<'_>,
    learned: &Learned,
    cup: &Cup,
    now: &Now,
) -> Answer<CupStatus> {
    let cup = read.cup(cup.id)?.unwrap_or_else(|| cup.clone());
    // What was just written teaches too: the answer is what the Bench will say.
    learned.knowing(read, cup.id)?.stand(read, cup, now)
}

fn only_thinner(read: &Reader<'_>) -> Answer<Option<Material>> {
    let materials = read.materials()?;
    Ok(lookup::only_thinner(&materials).cloned())
}

fn refuse_senseless(cup: &Cup, before: &Life, what: &Happened) -> Answer<()> {
    let mark = cup.mark.clone();
    match what.lid() {
        Some(on) if on == before.capped => Err(Refusal::LidAlready { mark, on }.into()),
        _ => Ok(()),
    }
}

/// More thinner than the cup ever held is a slip of the finger: a wrong unit, a wrong cup.
pub(in crate::studio) fn refuse_flood(cup: &Cup, before: &Life, ml: Millilitres) -> Answer<()> {
    let most = cup.volume.max(before.left);
    if ml <= most {
        return Ok(());
    }
    Err(Refusal::TooMuchThinner {
        mark: cup.mark.clone(),
        holds: before.left,
        asked: ml,
    }
    .into())
}

fn warnings(before: &Life, after: &CupStatus, what: &Happened) -> Vec<Warning> {
    let mark = || after.cup.mark.clone();
    let mut found = Vec::new();
    if what.is_waste() {
        found.extend(facts::cautions(Place::Drains));
    }
    if let Happened::Thinned { reading, .. } = what {
        found.extend(over_thinned(after));
        let (was, now) = (before.mound(), reading.as_ref().and_then(Reading::mound));
        let thicker = was.zip(now).is_some_and(|(was, now)| now > was);
        found.extend(thicker.then(|| Warning::Thicker(mark())));
    }
    let went_back = after.life.clock_went_back;
    found.extend(went_back.then(|| Warning::ClockWentBack(mark())));
    found
}

/// Thinner beyond what the binder bears is asked about before it is written down: it may be another cup's.
fn refuse_over_thinned(read: &Reader<'_>, learned: &Learned, order: &TendOrder) -> Answer<()> {
    let Some((ml, _)) = order.what.thinned() else {
        return Ok(());
    };
    let cup = lookup::living(read, order.cup)?;
    let variant = learned.cards().variants.get(&cup.variant);
    let limit = variant.map(|variant| variant.targets.limit);
    let before = life(read, &cup)?;
    refuse_flood(&cup, &before, ml)?;
    let thinner = before.thinner + ml;
    let share = Share(thinner / (cup.volume + before.poured_in + ml));
    match limit.filter(|limit| share.get() > limit.get()) {
        Some(limit) => Err(Refusal::OverThinned {
            mark: cup.mark,
            share,
            limit,
        }
        .into()),
        None => Ok(()),
    }
}

/// So many times the most that a cup is likely to need is asked about (ours): what is in cannot be taken out.
const MANY_TIMES: f64 = 4.0;

fn refuse_far_thinner(
    read: &Reader<'_>,
    learned: &Learned,
    order: &TendOrder,
    now: &Now,
) -> Answer<()> {
    let Some((ml, _)) = order.what.thinned() else {
        return Ok(());
    };
    let cup = lookup::living(read, order.cup)?;
    let at = order.at.unwrap_or(now.at);
    let standing = learned.stand(read, cup, &Now { at, ..*now })?;
    let most = standing
        .outlook
        .advice
        .map(|advice| advice.likely.band.high);
    most.filter(|most| ml > *most).map_or(Ok(()), |most| {
        let mark = standing.cup.mark;
        let of = FarOf::Thinned { mark, most };
        Ok(Far::refuse_from(MANY_TIMES, of, ml.get(), most.get())?)
    })
}

/// The same look at the same cup within a minute is a key that was hit twice.
fn refuse_twice(read: &Reader<'_>, order: &TendOrder, now: &Now) -> Answer<()> {
    if !matches!(order.what, Happened::Looked(_)) || order.at.is_some() {
        return Ok(());
    }
    let last = read.entries(order.cup.0)?.pop();
    let minute = TimeDelta::zero()..TimeDelta::minutes(1);
    let just = |entry: &Entry| minute.contains(&now.at.signed_duration_since(entry.at));
    match last.filter(|entry| entry.what == order.what && just(entry)) {
        Some(_) => Err(Refusal::JustLooked.into()),
        None => Ok(()),
    }
}

fn over_thinned(cup: &CupStatus) -> Option<Warning> {
    let (share, limit) = over_limit(cup)?;
    Some(Warning::OverThinned {
        mark: cup.cup.mark.clone(),
        share,
        limit,
    })
}

/// The thinner's share of a cup and what its binder bears, where it is more.
pub(in crate::studio) fn over_limit(cup: &CupStatus) -> Option<(Share, Share)> {
    let limit = cup.variant.targets.limit;
    let share = cup.life.thinner_share(&cup.cup);
    (share.get() > limit.get()).then_some((share, limit))
}
