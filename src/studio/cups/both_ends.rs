//! Paint that one cup gave to another stands in both lives: put right in one, the other follows.

use crate::logbook::{Reader, Writer};
use crate::studio::cups::{amend, tend};
use crate::studio::{Answer, Refusal, lookup};
use crate::trade::cup::{Cup, Entry};
use crate::trade::instant::Now;
use crate::trade::units::Millilitres;

/// The same paint in the other cup's life.
pub(super) struct OtherEnd {
    cup: Cup,
    entry: Entry,
}

/// The entry that says the same of the other cup; `None` where paint went from no cup to another, or where it went in as the
/// other was mixed.
pub(super) fn of(read: &Reader<'_>, cup: &Cup, entry: &Entry) -> Answer<Option<OtherEnd>> {
    let Some((other, ml)) = entry.what.shared_with() else {
        return Ok(None);
    };
    let other = read.cup(other)?.ok_or(Refusal::CupGone)?;
    let same = |one: &Entry| one.at == entry.at && one.what.shared_with() == Some((cup.id, ml));
    let found = read.entries(other.id)?.into_iter().find(same);
    Ok(found.map(|entry| OtherEnd { cup: other, entry }))
}

impl OtherEnd {
    /// Refuses more than the giving cup still holds beside what it gave.
    pub(super) fn refuse_too_much(
        &self,
        read: &Reader<'_>,
        own: &Cup,
        is: &Entry,
        even_so: bool,
    ) -> Answer<()> {
        let other_gives = self.entry.what.drawn().is_some();
        let gives = if other_gives { &self.cup } else { own };
        let more = is.what.amount().get() - self.entry.what.amount().get();
        tend::refuse_too_much(read, gives, Millilitres(more.max(0.0)), even_so)
    }

    /// Says the same as the entry that was put right.
    pub(super) fn follow(&self, write: &mut Writer<'_>, is: &Entry, now: &Now) -> Answer<()> {
        lookup::instant_of(&self.cup, Some(is.at), now)?;
        let entry = Entry {
            id: self.entry.id,
            at: is.at,
            backdated: is.backdated,
            what: self.entry.what.with_amount(is.what.amount()),
        };
        write.change_entry(self.cup.id, &entry)?;
        amend::respend(write, &self.cup, now)
    }

    /// Goes with the entry that is struck.
    pub(super) fn strike(&self, write: &mut Writer<'_>, now: &Now) -> Answer<()> {
        write.strike_entry(self.entry.id)?;
        amend::respend(write, &self.cup, now)
    }
}
