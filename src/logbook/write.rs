//! What every table's writing shares: ids of our own, instants in two columns, and reading what stands so far.

use crate::logbook::read::Reader;
use crate::logbook::{Logbook, LogbookError, STEPS, Stamp, Value, Writer};
use crate::trade::moment::Moment;
use std::path::Path;

/// A new id, made by us, for a row a person made.
pub(super) fn uid() -> Value {
    Value::Text(uuid::Uuid::now_v7().to_string())
}

/// An instant as the columns `at_ms` and `offset_min`.
pub(super) fn moment(at: Moment) -> [Value; 2] {
    let stamp = Stamp::from(at);
    [stamp.at_ms.into(), stamp.offset_min.into()]
}

impl<'a> Writer<'a> {
    /// Whether a row of a table bears a name that was given for good.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn has_uid(&self, table: &'static str, uid: &str) -> Result<bool, LogbookError> {
        let sql = format!("SELECT id FROM \"{table}\" WHERE uid = ?1");
        let found: Option<i64> = self.read().first(&sql, [uid], |row| row.get(0))?;
        Ok(found.is_some())
    }

    /// Gives a row a name for good, by which it is known again.
    ///
    /// # Errors
    /// Where another row bears it.
    pub fn set_uid(&mut self, table: &'static str, id: i64, uid: &str) -> Result<(), LogbookError> {
        self.update(table, id, &[("uid", uid.into())])
    }

    /// A look at what stands so far, this commit's own writing included.
    #[must_use]
    pub const fn read(&self) -> Reader<'a> {
        Reader::within(self.conn())
    }
}

impl Logbook {
    /// Opens a studio's file at the newest version, making it where there is none.
    ///
    /// # Errors
    /// As [`Logbook::open_or_create`].
    pub fn open_studio(path: &Path) -> Result<Self, LogbookError> {
        Self::open_or_create(path, STEPS)
    }

    /// A snapshot of the studio as it is now.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn read(&self) -> Result<Reader<'_>, LogbookError> {
        Reader::snapshot(self.conn())
    }
}
