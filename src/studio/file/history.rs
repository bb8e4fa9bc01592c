//! What was done, taken back and done again.

use crate::logbook::{Candidate, Change, HistoryPage};
use crate::studio::{Answer, Studio};
use crate::trade::instant::Now;
use crate::trade::moment::Moment;
use chrono::TimeDelta;

/// Clocks of one machine differ by less, and are put right by less.
const SLACK: TimeDelta = TimeDelta::minutes(1);

/// More rows than this are no painter's deed but an import.
const MOST_TOUCHED: usize = 200;

/// What a change touched.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LastTouched {
    /// The cups, by number, in the order they were written.
    pub cups: Vec<i64>,
    /// Whether a pour was among it.
    pub pours: bool,
}

/// What is odd about the clock.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ClockOddity {
    /// It stands before the last thing done here.
    Behind {
        /// What it says.
        clock: Moment,
        /// When the last thing was done.
        last: Moment,
    },
    /// An entry of a living cup is ahead of it.
    EntryAhead {
        /// The cup.
        mark: String,
        /// The entry's instant, where one can be told.
        at: Option<Moment>,
    },
}

impl Studio {
    /// What is odd about the clock: it stands before what was done last, or before an entry of a living cup.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn clock_oddity(&self, now: &Now) -> Answer<Option<ClockOddity>> {
        let last = self.history(1)?.into_iter().next();
        let at = last.and_then(|change| change.at.local());
        let ahead = at.filter(|at| at.signed_duration_since(now.at) > SLACK);
        let Some(at) = ahead else {
            return self.entry_ahead(now);
        };
        let (clock, last) = (now.at, at);
        Ok(Some(ClockOddity::Behind { clock, last }))
    }

    /// The clock stood wrong once, and what was written down then is still ahead of it.
    fn entry_ahead(&self, now: &Now) -> Answer<Option<ClockOddity>> {
        let beyond = (now.at + SLACK).into();
        let ahead = self.book.read()?.living_entry_after(beyond)?;
        Ok(ahead.map(|(mark, at)| ClockOddity::EntryAhead {
            mark,
            at: at.local(),
        }))
    }

    /// What was done, newest first.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn history(&self, limit: u32) -> Answer<Vec<Change>> {
        Ok(self.book.history(limit, None)?)
    }

    /// A page of what was done, newest first: what came before the change of a number, without so many of the newest.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn history_paged(&self, before: Option<i64>, skip: u32, limit: u32) -> Answer<Vec<Change>> {
        Ok(self.book.history_paged(HistoryPage {
            before,
            skip,
            limit,
        })?)
    }

    /// How much was ever done.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn count_changes(&self) -> Answer<u64> {
        Ok(self.book.count_changes()?)
    }

    /// Takes the last deed back; the answer says which it was.
    ///
    /// # Errors
    /// Where nothing is left to take back, or what it wrote has moved on since.
    pub fn undo(&mut self, now: &Now) -> Answer<Change> {
        Ok(self.book.undo(now.at.into())?)
    }

    /// What this very program would take back: the last thing done through it that still stands, else the last of all,
    /// and by whom it was done.
    ///
    /// # Errors
    /// Where nothing is left to take back, or the store cannot be read.
    pub fn to_undo(&mut self) -> Answer<Candidate> {
        Ok(self.book.own_or_newest()?)
    }

    /// What the newest change touched: the cups by number, and whether pours are among it.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn last_touched(&self) -> Answer<LastTouched> {
        let read = self.book.read()?;
        let newest = read.newest_change()?;
        let rows = read
            .touched_after(newest - 1, MOST_TOUCHED)?
            .unwrap_or_default();
        Ok(LastTouched {
            cups: rows
                .iter()
                .flat_map(|row| row.cups.iter().copied())
                .collect(),
            pours: rows.iter().any(|row| row.table == "pour"),
        })
    }

    /// Takes one deed back by its number, wherever it stands in the history; the answer says which it was.
    ///
    /// # Errors
    /// Where there is none of the number, it was taken back already, or what it wrote has moved on since.
    pub fn undo_one(&mut self, change: i64, now: &Now) -> Answer<Change> {
        Ok(self.book.undo_one(change, now.at.into())?)
    }

    /// Does the last deed again that was taken back; the answer says which it was.
    ///
    /// # Errors
    /// Where nothing was taken back last, or what it wrote has moved on since.
    pub fn redo(&mut self, now: &Now) -> Answer<Change> {
        Ok(self.book.redo(now.at.into())?)
    }
}
