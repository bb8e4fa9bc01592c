//! Reading: one snapshot of the studio, from which every query of one question is answered.

use crate::logbook::LogbookError;
use crate::logbook::driver::{Unfit, of_row};
use crate::trade::moment::{self, Moment};
use rusqlite::{Connection, Params, Row, Transaction};

/// A look into the store. Outside a commit it is a snapshot: other writers do not change it.
pub struct Reader<'a> {
    conn: &'a Connection,
    _snapshot: Option<Transaction<'a>>,
}

/// What a query answers with.
pub type Read<T> = Result<T, LogbookError>;

impl<'a> Reader<'a> {
    /// A snapshot of the store as it is now.
    pub(crate) fn snapshot(conn: &'a Connection) -> Read<Self> {
        Ok(Self {
            conn,
            _snapshot: Some(conn.unchecked_transaction()?),
        })
    }

    /// A look from within a commit, which sees what the commit has written so far.
    pub(crate) const fn within(conn: &'a Connection) -> Self {
        Self {
            conn,
            _snapshot: None,
        }
    }

    /// Every row of a query, each made into a value.
    pub(crate) fn all<T, P: Params>(
        &self,
        sql: &str,
        params: P,
        mut make: impl FnMut(&Row<'_>) -> rusqlite::Result<T>,
    ) -> Read<Vec<T>> {
        let mut statement = self.conn.prepare_cached(sql)?;
        let mut rows = statement.query(params)?;
        let mut all = Vec::new();
        while let Some(row) = rows.next()? {
            all.push(make(row).map_err(|err| of_row(row, err))?);
        }
        Ok(all)
    }

    /// The first row of a query, if there is one.
    pub(crate) fn first<T, P: Params>(
        &self,
        sql: &str,
        params: P,
        make: impl FnOnce(&Row<'_>) -> rusqlite::Result<T>,
    ) -> Read<Option<T>> {
        let mut statement = self.conn.prepare_cached(sql)?;
        let mut rows = statement.query(params)?;
        let row = rows.next()?;
        row.map(|row| make(row).map_err(|err| of_row(row, err)))
            .transpose()
    }
}

/// The instant in the columns `at_ms` and `offset_min`.
pub(crate) fn moment_of(row: &Row<'_>) -> rusqlite::Result<Moment> {
    moment_in(row, "at_ms", "offset_min")
}

/// The instant in two columns.
pub(crate) fn moment_in(
    row: &Row<'_>,
    ms: &'static str,
    offset: &'static str,
) -> rusqlite::Result<Moment> {
    moment::from_parts(row.get(ms)?, row.get(offset)?).ok_or_else(|| unreadable(ms))
}

/// A word that must be one of an enumeration's; one that is not a later build may have written.
pub(crate) fn word_in<T>(
    row: &Row<'_>,
    column: &'static str,
    parse: impl Fn(&str) -> Option<T>,
) -> rusqlite::Result<T> {
    let word: String = row.get(column)?;
    parse(&word).ok_or_else(|| newer(column))
}

/// A text that must be read as something: of what is none, no later build has more.
pub(crate) fn parsed_in<T>(
    row: &Row<'_>,
    column: &'static str,
    parse: impl Fn(&str) -> Option<T>,
) -> rusqlite::Result<T> {
    let text: String = row.get(column)?;
    parse(&text).ok_or_else(|| unreadable(column))
}

/// A word that may be missing, but must be one of an enumeration's where it is there.
pub(crate) fn word_maybe<T>(
    row: &Row<'_>,
    column: &'static str,
    parse: impl Fn(&str) -> Option<T>,
) -> rusqlite::Result<Option<T>> {
    let word: Option<String> = row.get(column)?;
    word.map(|word| parse(&word).ok_or_else(|| newer(column)))
        .transpose()
}

/// The error for a value that no version of this program writes.
pub(crate) fn unreadable(column: &'static str) -> rusqlite::Error {
    Unfit::Value(column).into_error()
}

/// The error for a row in which none of these columns says anything, and one of them must.
pub(crate) fn says_nothing(columns: &'static [&'static str]) -> rusqlite::Error {
    Unfit::Nothing(columns).into_error()
}

/// The error for a word of a kind that this build does not know: a later one may have written it.
pub(crate) fn newer(column: &'static str) -> rusqlite::Error {
    Unfit::Newer(column).into_error()
}
