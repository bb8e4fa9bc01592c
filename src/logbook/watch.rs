//! Hearing of other programs' writes.

use super::{Logbook, LogbookError};
use rusqlite::Connection;

pub(super) fn data_version(conn: &Connection) -> Result<i64, LogbookError> {
    Ok(conn.pragma_query_value(None, "data_version", |row| row.get(0))?)
}

impl Logbook {
    /// Whether another connection has written since this was last asked (or since opening). Our own writes do not count.
    ///
    /// # Errors
    /// [`LogbookError::Gone`] where the file was removed; [`LogbookError::Replaced`], once, where another studio was
    /// put in its place, which is then the one that is open; where the file cannot be read.
    pub fn changed_since(&mut self) -> Result<bool, LogbookError> {
        self.follow()?;
        self.regain()?;
        let now = Some(data_version(&self.conn)?);
        let before = std::mem::replace(&mut self.seen, now);
        Ok(before != now)
    }
}
