//! When an entry was really made that stands ahead of the clock: what was written down before and after it, of whatever
//! cup, bounds it; and what a session saw of its clock tells it to the second.

use crate::logbook::{Reader, Stamp};
use crate::studio::cups::learned::Learned;
use crate::studio::{Answer, Studio};
use crate::trade::cup::Entry;
use crate::trade::life::Made;
use crate::trade::moment::{Moment, later};
use chrono::TimeDelta;
use std::collections::HashMap;

/// A clock that was set back, as a session saw it beside a clock that never jumps.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct ClockJump {
    /// The changes written down in the session before it: after the first of these numbers, up to the second.
    after: i64,
    up_to: i64,
    by: TimeDelta,
}

impl Studio {
    /// Keeps in mind that the clock was set back `by` (below zero): what was written down in this session before, and
    /// stands ahead of the clock now, was made so much earlier than it says.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn clock_set_back(&self, by: TimeDelta) -> Answer<()> {
        let up_to = self.book.read()?.newest_change()?;
        let after = self.book.opened_at();
        self.memory.jumped(ClockJump { after, up_to, by });
        Ok(())
    }
}

impl Learned {
    /// Between which instants each entry was made that stands ahead of the clock, by its number.
    pub(crate) fn made(
        &self,
        read: &Reader<'_>,
        entries: &[Entry],
        now: Moment,
    ) -> Answer<HashMap<i64, Made>> {
        let ahead = entries.iter().filter(|entry| entry.at > now);
        let by_clock = ahead.filter(|entry| !entry.backdated);
        by_clock
            .map(|entry| Ok((entry.id, self.made_by(read, entry.at, now)?)))
            .collect()
    }

    fn made_by(&self, read: &Reader<'_>, at: Moment, now: Moment) -> Answer<Made> {
        let Some(change) = read.change_at(at.into())? else {
            return Ok(Made::default());
        };
        let around = read.written_around(change, now.into())?;
        let [after, before] = around.map(|stamp| stamp.and_then(Stamp::local));
        // Where the clock of either stood wrong as well, nothing bounds it from above.
        let before = before.filter(|before| after.is_none_or(|after| after <= *before));
        let seen = self.seen_at(change, at).filter(|seen| {
            after.is_none_or(|after| after <= *seen) && *seen <= before.unwrap_or(now)
        });
        Ok(Made {
            after: seen.or(after),
            before: seen.or(before),
        })
    }

    /// When a change of this session was written down, by the clock as it stands now.
    fn seen_at(&self, change: i64, at: Moment) -> Option<Moment> {
        let jumps = self.jumps.iter();
        let since = jumps.filter(|jump| (jump.after + 1..=jump.up_to).contains(&change));
        let by: Vec<TimeDelta> = since.map(|jump| jump.by).collect();
        (!by.is_empty()).then(|| by.into_iter().fold(at, later))
    }
}
