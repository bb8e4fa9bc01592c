//! What was done, taken back and done again.

use crate::logbook::Change;
use crate::studio::{Answer, Studio};
use crate::trade::instant::Now;

impl Studio {
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

    /// Does the last deed again that was taken back; the answer says which it was.
    ///
    /// # Errors
    /// Where nothing was taken back last, or what it wrote has moved on since.
    pub fn redo(&mut self, now: &Now) -> Answer<String> {
        Ok(self.book.redo(now.at.into())?.label)
    }
}
