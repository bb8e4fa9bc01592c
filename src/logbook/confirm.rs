//! After an error while keeping: was it kept? A commit that reported an I/O error may still have landed,
//! so it is looked up by an id made before, in the file opened afresh.

use super::gate::Gate;
use super::{Logbook, LogbookError, Stamp, open};
use rusqlite::{Connection, ErrorCode, OptionalExtension};
use uuid::{NoContext, Timestamp, Uuid};

/// Whether a commit is in the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Landing {
    /// It is kept.
    Landed,
    /// It is not kept, and will not be.
    NotLanded,
}

/// A fresh id that sorts by its instant (RFC 9562, version 7).
pub(super) fn new_uid(at: Stamp) -> String {
    let millis = u64::try_from(at.at_ms).unwrap_or(0);
    let nanos = u32::try_from(millis % 1000).unwrap_or(0) * 1_000_000;
    Uuid::new_v7(Timestamp::from_unix(NoContext, millis / 1000, nanos)).to_string()
}

impl Logbook {
    /// Turns SQLite's answer to COMMIT into what is true of the file.
    pub(super) fn confirm(
        &mut self,
        uid: &str,
        outcome: rusqlite::Result<()>,
    ) -> Result<(), LogbookError> {
        let Err(err) = outcome else {
            // Kept, but in a file that nobody finds any more, is lost.
            self.in_place()?;
            self.wrote = true;
            return Ok(());
        };
        let refused = err.sqlite_error_code() == Some(ErrorCode::ConstraintViolation);
        let err = LogbookError::from(err);
        if refused {
            return Err(err);
        }
        let unsure = |why: LogbookError| LogbookError::Unconfirmed {
            uid: uid.to_owned(),
            why: Box::new(err.clone()),
            then: Box::new(why),
        };
        match self.reopen().and_then(|()| find(&self.conn, uid)) {
            Ok(Landing::Landed) => {
                self.wrote = true;
                Ok(())
            }
            Ok(Landing::NotLanded) if err == LogbookError::Full => Err(err),
            Ok(Landing::NotLanded) => Err(LogbookError::NotKept(Box::new(err))),
            Err(why) => Err(unsure(why)),
        }
    }

    /// Opens the file again where that failed before.
    pub(super) fn regain(&mut self) -> Result<(), LogbookError> {
        if self.adrift { self.reopen() } else { Ok(()) }
    }

    // The old connection goes first: only then does SQLite read the log afresh and not from its own shared memory.
    fn reopen(&mut self) -> Result<(), LogbookError> {
        self.adrift = true;
        let _passed = Gate::pass(&self.path)?;
        self.in_place()?;
        self.conn = Connection::open_in_memory()?;
        self.conn = open::connect(&self.path)?;
        self.keep_patience()?;
        self.adrift = false;
        Ok(())
    }
}

fn find(conn: &Connection, uid: &str) -> Result<Landing, LogbookError> {
    let sql = "SELECT 1 FROM change WHERE uid = ?1";
    let found: Option<i64> = conn.query_row(sql, [uid], |row| row.get(0)).optional()?;
    Ok(if found.is_some() {
        Landing::Landed
    } else {
        Landing::NotLanded
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn uids_differ_and_sort_by_their_instant() {
        let uid = |at_ms| {
            new_uid(Stamp {
                at_ms,
                offset_min: 0,
            })
        };
        assert!(uid(1_000) < uid(1_001) && uid(-5) < uid(1));
        let many: BTreeSet<String> = (0..1000).map(|_| uid(7)).collect();
        assert_eq!(many.len(), 1000);
    }
}
