//! Putting a cup's life right: an entry changed or struck. The history keeps what it was.

use crate::logbook::{Reader, Writer};
use crate::numbers::surprise::surprise;
use crate::studio::cups::bench::CupStatus;
use crate::studio::cups::both_ends;
use crate::studio::cups::remix::Remix;
use crate::studio::cups::tend::{called, life, over_limit, refuse_flood, restand};
use crate::studio::orders::{AmendOrder, WhichEntry};
use crate::studio::{Answer, Doubt, Far, FarOf, Refusal, Remarks, Studio, Warning, lookup};
use crate::trade::act::Act;
use crate::trade::cup::{Cup, DrawnInto, Entry, Happened};
use crate::trade::ids::EntryId;
use crate::trade::instant::Now;
use crate::trade::mark::Mark;
use crate::trade::moment::Moment;
use crate::trade::units::{Millilitres, Share};

/// A cup's life that was put right.
#[derive(Debug, Clone)]
pub struct Amended {
    /// How the cup stands now, that the entry is or was of.
    pub standing: CupStatus,
    /// What the entry said.
    pub was: Entry,
    /// What it says; `None` where it was struck.
    pub entry: Option<Entry>,
    /// What a mixing was thought to be, and what it really was, where its amount was put right.
    pub volume: Option<[Millilitres; 2]>,
    /// What is wrong with it, or may be.
    pub remarks: Remarks,
}

/// What is odd about an entry: asked about before it is kept, as where it is written down at once, and said where it is kept.
#[derive(Debug, Clone)]
enum Odd {
    /// More thinner than the cup's binder bears.
    OverThinned {
        mark: Mark,
        share: Share,
        limit: Share,
    },
    /// A reading far from its window.
    Far(Doubt),
}

impl From<Odd> for Refusal {
    fn from(odd: Odd) -> Self {
        match odd {
            Odd::OverThinned { mark, share, limit } => Self::OverThinned { mark, share, limit },
            Odd::Far(doubt) => Self::Doubted(doubt),
        }
    }
}

impl From<Odd> for Warning {
    fn from(odd: Odd) -> Self {
        match odd {
            Odd::OverThinned { mark, share, limit } => Self::OverThinned { mark, share, limit },
            Odd::Far(doubt) => Self::Doubted(doubt),
        }
    }
}

impl Studio {
    /// An entry of the life of the cup of a mark: of a number, or the last.
    ///
    /// # Errors
    /// Where no cup bears the mark, or the entry is none of its life.
    pub fn entry_of(&self, mark: &str, which: WhichEntry) -> Answer<Entry> {
        let read = self.book.read()?;
        let cup = lookup::cup_marked(&read, mark)?;
        let entries = read.entries(cup.id)?;
        let found = match which {
            WhichEntry::Number(number) => entries.into_iter().find(|entry| entry.id == number),
            WhichEntry::Last => entries.into_iter().next_back(),
        };
        let missing = || match which {
            WhichEntry::Number(number) => Refusal::NoEntry(cup.mark.clone(), number),
            WhichEntry::Last => Refusal::NoEntries(cup.mark.clone()),
        };
        Ok(found.ok_or_else(missing)?)
    }

    /// Puts an entry right.
    ///
    /// # Errors
    /// Where there is no such entry, it belongs to more than one cup's life, nothing would change, the instant makes no
    /// sense, or the cup would live again while its mark is on another.
    pub fn amend(&mut self, order: &AmendOrder, now: &Now) -> Answer<Amended> {
        let memory = &self.memory;
        self.book.commit_as(now.at.into(), |write| {
            let learned = memory.recall(&write.read())?;
            let (cup, was) = entry(&write.read(), order.entry)?;
            let to = order.cup.filter(|to| to.0 != cup.id);
            let to = to.map(|to| lookup::living(&write.read(), to)).transpose()?;
            let home = to.as_ref().unwrap_or(&cup);
            let at = instant(write, order, &cup, home, &was, now)?;
            let entry = put_right(order, &was, at);
            if let Some(volume) = order.volume.filter(|_| !order.even_so) {
                let of = FarOf::Remixed(cup.mark.clone());
                Far::refuse(of, volume.get(), cup.volume.get())?;
            }
            let volume = order.volume.filter(|volume| *volume != cup.volume);
            if entry.what == was.what && entry.at == was.at && to.is_none() && volume.is_none() {
                return Err(Refusal::NothingAmended.into());
            }
            if was.what.is_mixing() {
                if to.is_some() {
                    refuse_shared(&was.what)?;
                }
                let (cup, was, entry) = (&cup, &was, &entry);
                Remix {
                    cup,
                    was,
                    entry,
                    order,
                }
                .apply(write, now)?;
            } else {
                change(write, order, (&cup, to.as_ref()), (&was, &entry), now)?;
            }
            respend(write, &cup, now)?;
            respend(write, home, now)?;
            let act = Act::Amended {
                cup: called(&cup),
                was: was.what.clone(),
                what: entry.what.clone(),
                to: to.as_ref().map(called),
                at: (entry.at != was.at).then_some(entry.at),
                volume: volume.map(|is| [cup.volume, is]),
            };
            let standing = restand(&write.read(), &learned, home, now)?;
            let asked = Asked {
                anew: was.what != entry.what,
                moved: to.is_some(),
                resized: volume.is_some(),
            };
            let odd = asked.odd(&standing, &entry.what);
            if let Some(odd) = odd.clone().filter(|_| !order.even_so) {
                return Err(Refusal::from(odd).into());
            }
            let mut remarks = Remarks::from(Vec::from_iter(odd.map(Warning::from)));
            if entry.at != was.at {
                remarks = remarks.dated(entry.at, now);
            }
            let entry = Some(entry);
            Ok((
                Amended {
                    standing,
                    was,
                    entry,
                    volume: volume.map(|is| [cup.volume, is]),
                    remarks,
                },
                act,
            ))
        })
    }

    /// Strikes an entry out of a cup's life.
    ///
    /// # Errors
    /// As [`Studio::amend`]; a mixing and paint that was taken out are struck with the deed that they belong to.
    pub fn strike(&mut self, id: EntryId, now: &Now) -> Answer<Amended> {
        let memory = &self.memory;
        self.book.commit_as(now.at.into(), |write| {
            let learned = memory.recall(&write.read())?;
            let (cup, was) = entry(&write.read(), id)?;
            match both_ends::of(&write.read(), &cup, &was)? {
                Some(other) => other.strike(write, now)?,
                None => refuse_shared(&was.what)?,
            }
            write.strike_entry(was.id)?;
            respend(write, &cup, now)?;
            let act = Act::Struck {
                cup: called(&cup),
                was: was.what.clone(),
            };
            let standing = restand(&write.read(), &learned, &cup, now)?;
            let (entry, remarks) = (None, Remarks::default());
            Ok((
                Amended {
                    standing,
                    was,
                    entry,
                    volume: None,
                    remarks,
                },
                act,
            ))
        })
    }
}

fn entry(read: &Reader<'_>, id: EntryId) -> Answer<(Cup, Entry)> {
    let (cup, entry) = read.entry(id.0)?.ok_or(Refusal::EntryGone)?;
    let cup = read.cup(cup)?.ok_or(Refusal::CupGone)?;
    Ok((cup, entry))
}

/// When an entry really was.
fn instant(
    write: &Writer<'_>,
    order: &AmendOrder,
    cup: &Cup,
    home: &Cup,
    was: &Entry,
    now: &Now,
) -> Answer<(Moment, bool)> {
    if was.what.is_mixing() {
        return Remix::instant(write, cup, was, order.at, now);
    }
    match order.at {
        Some(at) => lookup::instant_of(home, Some(at), now),
        None => lookup::instant_of(home, Some(was.at), now).map(|(at, _)| (at, was.backdated)),
    }
}

fn put_right(order: &AmendOrder, was: &Entry, (at, backdated): (Moment, bool)) -> Entry {
    Entry {
        id: was.id,
        at,
        backdated,
        what: order.what.clone().unwrap_or_else(|| was.what.clone()),
    }
}

/// Writes an entry down as it really was, and what it says of another cup.
fn change(
    write: &mut Writer<'_>,
    order: &AmendOrder,
    (cup, to): (&Cup, Option<&Cup>),
    (was, entry): (&Entry, &Entry),
    now: &Now,
) -> Answer<()> {
    let other = both_ends::of(&write.read(), cup, was)?;
    if to.is_some() || other.is_none() && entry.at != was.at {
        refuse_shared(&was.what)?;
    }
    let home = to.unwrap_or(cup);
    if let Some((ml, _)) = entry.what.thinned() {
        refuse_flood(home, &life(&write.read(), home)?, ml)?;
    }
    if let Some(other) = &other {
        other.refuse_too_much(&write.read(), cup, entry, order.even_so)?;
        other.follow(write, entry, now)?;
    }
    write.change_entry(home.id, entry)?;
    Ok(())
}

/// What was put right of an entry, of all that may make it odd.
#[derive(Debug, Clone, Copy)]
struct Asked {
    /// What it says.
    anew: bool,
    /// Whose it is.
    moved: bool,
    /// How much was mixed.
    resized: bool,
}

impl Asked {
    /// What is odd about what an entry says now: more thinner than its cup's binder bears, or another reading, far from its
    /// window. What was not touched is not asked about.
    fn odd(self, standing: &CupStatus, is: &Happened) -> Option<Odd> {
        let mark = &standing.cup.mark;
        // Thinner is another share of another amount.
        let thinner = is.thinned().is_some() && (self.anew || self.moved) || self.resized;
        if let Some((share, limit)) = thinner.then(|| over_limit(standing)).flatten() {
            let mark = mark.clone();
            return Some(Odd::OverThinned { mark, share, limit });
        }
        let said = is.reading().filter(|_| self.anew)?.mound()?;
        let why = surprise(said, None, 0.0, standing.variant.targets.window)?;
        let mark = Some(mark.clone());
        Some(Odd::Far(Doubt { mark, said, why }))
    }
}

/// What another cup or a pour hangs on does not stand alone.
fn refuse_shared(what: &Happened) -> Answer<()> {
    if let Happened::Drawn {
        into: DrawnInto::Pour(pour),
        ..
    } = what
    {
        return Err(Refusal::InPicture(*pour).into());
    }
    match what.is_shared() {
        true => Err(Refusal::NotAlone(what.kind()).into()),
        false => Ok(()),
    }
}

/// Whether a cup is spent follows from its entries, which are others now.
pub(in crate::studio) fn respend(write: &mut Writer<'_>, cup: &Cup, now: &Now) -> Answer<()> {
    let life = life(&write.read(), cup)?;
    let spent = life.ended.is_some() || life.left.is_nothing();
    if spent == cup.spent {
        return Ok(());
    }
    if spent {
        write.set_spent(cup.id, now.at)?;
        return Ok(());
    }
    let bearer = write.read().cup_marked(&cup.mark)?;
    if bearer.is_some_and(|other| other.id != cup.id && !other.spent) {
        return Err(Refusal::MarkInUse(cup.mark.clone()).into());
    }
    write.set_living(cup.id)?;
    Ok(())
}
