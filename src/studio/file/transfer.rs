//! The whole studio out and in, row by row; what a file of it looks like is the exchange's business.

use crate::logbook::{FileWriter, Intake, LogbookError, Record, Sheet, Taken, Value};
use crate::studio::Studio;
use crate::trade::instant::Now;
use std::path::Path;

impl Studio {
    /// Writes a file that goes out of the studio, by the one door there is: see [`Logbook::write_file`].
    ///
    /// # Errors
    /// As there.
    ///
    /// [`Logbook::write_file`]: crate::logbook::Logbook::write_file
    pub fn write_file<E: From<LogbookError>>(
        &self,
        path: &Path,
        replace: bool,
        fill: impl FnOnce(&mut FileWriter<'_>) -> Result<(), E>,
    ) -> Result<(), E> {
        self.book.write_file(path, replace, fill)
    }

    /// Hands out every row of the studio, history included, from one snapshot.
    ///
    /// # Errors
    /// What `each` answers; where the store cannot be read.
    pub fn give_out<E: From<LogbookError>>(
        &self,
        each: impl FnMut(&Record) -> Result<(), E>,
    ) -> Result<(), E> {
        self.book.give_out(each)
    }

    /// Takes another studio's rows in: all that `feed` puts, or nothing; what cannot all be true only `even_so`.
    ///
    /// # Errors
    /// What `feed` answers; where a row does not fit or the store refuses.
    pub fn take_in<E: From<LogbookError>>(
        &mut self,
        now: &Now,
        even_so: bool,
        feed: impl FnOnce(&mut Intake<'_, '_>) -> Result<(), E>,
    ) -> Result<Taken, E> {
        self.memory.forget();
        self.book
            .take_in("took in another studio", now.at.into(), even_so, feed)
    }

    /// Hands out a plain table: its head, then its rows.
    ///
    /// # Errors
    /// What `head` or `each` answers; where the store cannot be read.
    pub fn sheet<E: From<LogbookError>>(
        &self,
        sheet: Sheet,
        head: impl FnOnce(&[&str]) -> Result<(), E>,
        each: impl FnMut(&[Value]) -> Result<(), E>,
    ) -> Result<(), E> {
        self.book.sheet(sheet, head, each)
    }

    /// The version of the store's shape, as a file of the studio names it.
    #[must_use]
    pub fn version(&self) -> u32 {
        self.book.version()
    }
}
