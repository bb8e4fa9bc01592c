//! What was done, taken back and done again.

use crate::logbook::Change;
use crate::studio::{Answer, Studio, local};
use crate::trade::instant::Now;
use chrono::TimeDelta;

/// Clocks of one machine differ by less, and are put right by less.
const SLACK: TimeDelta = TimeDelta::minutes(1);

impl Studio {
    /// What is odd about the clock, in words: it stands before what was done last.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn clock_oddity(&self, now: &Now) -> Answer<Option<String>> {
        let last = self.history(1)?.into_iter().next();
        let at = last.and_then(|change| change.at.local());
        let ahead = at.filter(|at| at.signed_duration_since(now.at) > SLACK);
        Ok(ahead.map(|at| {
            format!(
                "the clock stands at {}, before the last thing done here ({}): the order of entry holds, but set it right",
                local(now.at, now),
                local(at, now)
            )
        }))
    }

    /// What was done, newest first.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn history(&self, limit: u32) -> Answer<Vec<Change>> {
        Ok(self.book.history(limit, None)?)
    }

    /// Takes the last deed back; the answer says which it was.
    ///
    /// # Errors
    /// Where nothing is left to take back, or what it wrote has moved on since.
    pub fn undo(&mut self, now: &Now) -> Answer<String> {
        Ok(self.book.undo(now.at.into())?.label)
    }

    /// Takes one deed back by its number, wherever it stands in the history; the answer says which it was.
    ///
    /// # Errors
    /// Where there is none of the number, it was taken back already, or what it wrote has moved on since.
    pub fn undo_one(&mut self, change: i64, now: &Now) -> Answer<String> {
        Ok(self.book.undo_one(change, now.at.into())?.label)
    }

    /// Does the last deed again that was taken back; the answer says which it was.
    ///
    /// # Errors
    /// Where nothing was taken back last, or what it wrote has moved on since.
    pub fn redo(&mut self, now: &Now) -> Answer<String> {
        Ok(self.book.redo(now.at.into())?.label)
    }
}
