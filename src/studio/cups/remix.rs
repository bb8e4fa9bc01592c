//! A mixing put right: how much it was, when it was, how it was stirred and read. What went in is scaled alike, and the
//! cups that paint was drawn from follow.

use crate::logbook::Writer;
use crate::studio::cups::mix::checked;
use crate::studio::cups::{amend, tend};
use crate::studio::orders::AmendOrder;
use crate::studio::{Answer, Refusal, lookup};
use crate::trade::cup::{Cup, Entry, Put, PutFrom};
use crate::trade::instant::Now;
use crate::trade::moment::Moment;
use crate::trade::units::Millilitres;

/// A mixing and what it really was.
pub(super) struct Remix<'a> {
    pub(super) cup: &'a Cup,
    /// The entry as it stands.
    pub(super) was: &'a Entry,
    /// The entry as it is to stand.
    pub(super) entry: &'a Entry,
    pub(super) order: &'a AmendOrder,
}

impl Remix<'_> {
    /// When a mixing really was: it must have come, and nothing of the cup's life may lie before it.
    pub(super) fn instant(
        write: &Writer<'_>,
        cup: &Cup,
        was: &Entry,
        at: Option<Moment>,
        now: &Now,
    ) -> Answer<(Moment, bool)> {
        let Some(at) = at else {
            return Ok((was.at, was.backdated));
        };
        let entries = write.read().entries(cup.id)?;
        let later = entries.iter().filter(|one| one.id != was.id);
        match later.map(|one| one.at).min() {
            Some(first) if at > first => {
                let mark = cup.mark.clone();
                Err(Refusal::MixedAfter { at, mark, first }.into())
            }
            _ => lookup::instant(Some(at), now),
        }
    }

    /// Writes it down: the cup, what went in, and the cups that it came from.
    pub(super) fn apply(&self, write: &mut Writer<'_>, now: &Now) -> Answer<()> {
        let volume = self.order.volume.map(checked).transpose()?;
        let volume = volume.unwrap_or(self.cup.volume);
        let puts = write.read().puts(self.cup.id)?;
        let share = volume / self.cup.volume;
        for put in &puts {
            if let PutFrom::Cup(source) = put.from {
                self.draw_anew(write, source, put.ml, share, now)?;
            }
        }
        let scaled = puts.iter().map(|put| Put {
            ml: (put.ml * share).stored(),
            ..*put
        });
        write.set_puts(self.cup.id, &scaled.collect::<Vec<_>>())?;
        write.set_mixed(self.cup.id, volume, self.entry.at)?;
        write.change_entry(self.cup.id, self.entry)?;
        self.refuse_overdrawn(write, volume)
    }

    /// The cup must have held what was taken out of it since.
    fn refuse_overdrawn(&self, write: &Writer<'_>, volume: Millilitres) -> Answer<()> {
        let entries = write.read().entries(self.cup.id)?;
        let sum = |amount: &dyn Fn(&Entry) -> Option<Millilitres>| -> Millilitres {
            entries.iter().filter_map(amount).sum()
        };
        let held = volume
            + sum(&|one| one.what.thinned().map(|(ml, _)| ml))
            + sum(&|one| one.what.added().map(|(ml, _)| ml));
        let taken = sum(&|one| one.what.drawn().map(|(ml, _)| ml));
        if self.order.even_so || taken.get() <= held.get() + Millilitres::DROP.get() {
            return Ok(());
        }
        Err(Refusal::TooMuch {
            mark: self.cup.mark.clone(),
            left: held,
            asked: taken,
        }
        .into())
    }

    /// A cup that paint was drawn from gave the share of what it gave, at the instant of the mixing.
    fn draw_anew(
        &self,
        write: &mut Writer<'_>,
        source: i64,
        gave: Millilitres,
        share: f64,
        now: &Now,
    ) -> Answer<()> {
        let source = write.read().cup(source)?.ok_or(Refusal::CupGone)?;
        let same = |one: &Entry| {
            one.at == self.was.at && one.what.shared_with() == Some((self.cup.id, gave))
        };
        let found = write.read().entries(source.id)?.into_iter().find(same);
        let Some(entry) = found else { return Ok(()) };
        lookup::instant_of(&source, Some(self.entry.at), now)?;
        let more = (gave * (share - 1.0)).get().max(0.0);
        tend::refuse_too_much(
            &write.read(),
            &source,
            Millilitres(more),
            self.order.even_so,
        )?;
        let entry = Entry {
            id: entry.id,
            at: self.entry.at,
            backdated: self.entry.backdated,
            what: entry.what.with_amount((gave * share).stored()),
        };
        write.change_entry(source.id, &entry)?;
        amend::respend(write, &source, now)
    }
}
