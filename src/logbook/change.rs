//! The only way to write: a commit is its data and its record, in one transaction.

use super::faults::ProgramFault;
use super::open::begin;
use super::shape::Shape;
use super::value::{Row, Value};
use super::{Kind, Logbook, LogbookError, Stamp, confirm, migrate};
use crate::trade::act::Act;
use rusqlite::{Connection, Transaction, params_from_iter};
use serde_json::{Value as Json, json};

/// One row a commit touched: as it was and as it was left; `None` where there is no row.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Touch {
    pub(super) table: String,
    pub(super) id: i64,
    pub(super) before: Option<Row>,
    pub(super) after: Option<Row>,
}

impl Touch {
    fn to_json(&self) -> Json {
        let side = |row: &Option<Row>| row.as_ref().map_or(Json::Null, Row::to_json);
        let (before, after) = (side(&self.before), side(&self.after));
        json!({ "table": self.table, "id": self.id, "before": before, "after": after })
    }

    /// Every row of a change's record; `None` where it is none.
    pub(super) fn all_in(record: &str) -> Option<Vec<Self>> {
        let rows: Vec<Json> = serde_json::from_str(record).ok()?;
        rows.iter().map(Self::from_json).collect()
    }

    fn from_json(read: &Json) -> Option<Self> {
        let side = |name: &str| match read.get(name)? {
            Json::Null => Some(None),
            row => Row::from_json(row).map(Some),
        };
        Some(Self {
            table: read.get("table")?.as_str()?.to_owned(),
            id: read.get("id")?.as_i64()?,
            before: side("before")?,
            after: side("after")?,
        })
    }
}

/// What is written into the record beside the rows.
pub(super) struct Entry<'a> {
    pub(super) uid: &'a str,
    pub(super) at: Stamp,
    pub(super) kind: Kind,
    pub(super) what: &'a Did,
    pub(super) target: Option<i64>,
}

/// What a commit did: as ids and quantities, or in words alone.
#[derive(Debug, Clone, PartialEq)]
pub struct Did {
    pub(super) label: String,
    pub(super) act: Option<Act>,
}

impl From<Act> for Did {
    fn from(act: Act) -> Self {
        Self {
            label: act.word().to_owned(),
            act: Some(act),
        }
    }
}

impl From<&str> for Did {
    fn from(label: &str) -> Self {
        Self {
            label: label.to_owned(),
            act: None,
        }
    }
}

impl From<String> for Did {
    fn from(label: String) -> Self {
        Self { label, act: None }
    }
}

/// Writes rows within a commit. A write that fails spoils the whole commit.
#[derive(Debug)]
pub struct Writer<'a> {
    conn: &'a Connection,
    shape: &'a Shape,
    touched: Vec<Touch>,
    spoilt: Option<LogbookError>,
}

impl<'a> Writer<'a> {
    pub(super) const fn new(conn: &'a Connection, shape: &'a Shape) -> Self {
        Self {
            conn,
            shape,
            touched: Vec::new(),
            spoilt: None,
        }
    }

    /// Adds a row and tells its id, which is the file's to give unless `values` names one.
    ///
    /// # Errors
    /// [`LogbookError::Rule`] where the file's rules refuse it, or a name or number that may not be written.
    pub fn insert(&mut self, table: &str, values: &[(&str, Value)]) -> Result<i64, LogbookError> {
        self.attempt(|writer| {
            let columns: Vec<String> = writer.named(table, values)?;
            let marks = vec!["?"; columns.len()].join(", ");
            let sql = match columns.len() {
                0 => format!("INSERT INTO \"{table}\" DEFAULT VALUES"),
                _ => format!(
                    "INSERT INTO \"{table}\" ({}) VALUES ({marks})",
                    columns.join(", ")
                ),
            };
            writer.run(table, &sql, values.iter().map(|(_, value)| value))?;
            let id = writer.conn.last_insert_rowid();
            writer.note(table, id, None)?;
            Ok(id)
        })
    }

    /// Changes some columns of a row; a change that changes nothing is not recorded.
    ///
    /// # Errors
    /// [`LogbookError::NoSuchRow`], or as [`Writer::insert`].
    pub fn update(
        &mut self,
        table: &str,
        id: i64,
        values: &[(&str, Value)],
    ) -> Result<(), LogbookError> {
        self.attempt(|writer| {
            let before = writer.must_have(table, id)?;
            let columns = writer.named(table, values)?;
            if values.is_empty() {
                return Ok(());
            }
            if columns.iter().any(|column| column == "\"id\"") {
                return Err(LogbookError::Program(ProgramFault::Id));
            }
            let set = columns.join(" = ?, ");
            let sql = format!("UPDATE \"{table}\" SET {set} = ? WHERE id = ?");
            let key = Value::Integer(id);
            let bound = values
                .iter()
                .map(|(_, value)| value)
                .chain(std::iter::once(&key));
            writer.run(table, &sql, bound)?;
            writer.note(table, id, Some(before))
        })
    }

    /// Removes a row.
    ///
    /// # Errors
    /// [`LogbookError::NoSuchRow`]; [`LogbookError::Rule`] where another row still refers to it.
    pub fn delete(&mut self, table: &str, id: i64) -> Result<(), LogbookError> {
        self.attempt(|writer| {
            let before = writer.must_have(table, id)?;
            let sql = format!("DELETE FROM \"{table}\" WHERE id = ?");
            writer.run(table, &sql, [&Value::Integer(id)].into_iter())?;
            writer.note(table, id, Some(before))
        })
    }

    /// The connection, to read what stands so far.
    pub(super) const fn conn(&self) -> &'a Connection {
        self.conn
    }

    /// The row as it stands so far.
    pub(super) fn row(&self, table: &str, id: i64) -> Result<Option<Row>, LogbookError> {
        let columns = self.shape.columns(table)?;
        let list: Vec<String> = columns.iter().map(|name| format!("\"{name}\"")).collect();
        let sql = format!("SELECT {} FROM \"{table}\" WHERE id = ?1", list.join(", "));
        let mut read = self.conn.prepare_cached(&sql)?;
        let mut found = read.query([id])?;
        let Some(row) = found.next()? else {
            return Ok(None);
        };
        let pair = |(at, name): (usize, &String)| -> Result<_, LogbookError> {
            Ok((name.clone(), Value::from_sql(row.get_ref(at)?)?))
        };
        columns
            .iter()
            .enumerate()
            .map(pair)
            .collect::<Result<_, _>>()
            .map(|row| Some(Row(row)))
    }

    /// What was touched, in order; or the error that spoilt the commit, even where the caller passed over it.
    pub(super) fn finish(self) -> Result<Vec<Touch>, LogbookError> {
        self.spoilt.map_or(Ok(self.touched), Err)
    }

    // After an error SQLite may have rolled back by itself: one more write would then be kept without a record.
    fn attempt<T>(
        &mut self,
        write: impl FnOnce(&mut Self) -> Result<T, LogbookError>,
    ) -> Result<T, LogbookError> {
        if let Some(err) = &self.spoilt {
            return Err(err.clone());
        }
        write(self).inspect_err(|err| self.spoilt = Some(err.clone()))
    }

    /// The columns, quoted, once each name is known to the file and each number is one.
    fn named(&self, table: &str, values: &[(&str, Value)]) -> Result<Vec<String>, LogbookError> {
        self.shape.columns(table)?;
        for (column, value) in values {
            self.shape.check(table, column)?;
            if !value.is_storable() {
                let (table, column) = (table.to_owned(), (*column).to_owned());
                return Err(LogbookError::NotFinite { table, column });
            }
        }
        Ok(values
            .iter()
            .map(|(column, _)| format!("\"{column}\""))
            .collect())
    }

    fn must_have(&self, table: &str, id: i64) -> Result<Row, LogbookError> {
        let missing = || LogbookError::NoSuchRow {
            table: table.to_owned(),
            id,
        };
        self.row(table, id)?.ok_or_else(missing)
    }

    fn run<'v>(
        &self,
        table: &str,
        sql: &str,
        values: impl Iterator<Item = &'v Value>,
    ) -> Result<(), LogbookError> {
        let before = self.conn.total_changes();
        self.conn
            .prepare_cached(sql)?
            .execute(params_from_iter(values))?;
        // Cascades and triggers are counted too; they would go unrecorded, and undo would not bring them back.
        match self.conn.total_changes() - before {
            1 => Ok(()),
            _ => Err(LogbookError::Unrecorded(table.to_owned())),
        }
    }

    fn note(&mut self, table: &str, id: i64, before: Option<Row>) -> Result<(), LogbookError> {
        let after = self.row(table, id)?;
        if before != after {
            self.touched.push(Touch {
                table: table.to_owned(),
                id,
                before,
                after,
            });
        }
        Ok(())
    }
}

impl Logbook {
    /// Does what `write` does, as one change under `label`: all of it and its record are kept, or nothing.
    ///
    /// A commit that changed nothing writes nothing.
    ///
    /// # Errors
    /// What `write` answers, and then nothing is kept; [`LogbookError::Busy`], [`LogbookError::Full`] and others
    /// of the file; [`LogbookError::NotKept`] or [`LogbookError::Unconfirmed`] where keeping itself failed.
    pub fn commit<T, E>(
        &mut self,
        label: &str,
        at: Stamp,
        write: impl FnOnce(&mut Writer<'_>) -> Result<T, E>,
    ) -> Result<T, E>
    where
        E: From<LogbookError>,
    {
        self.commit_as(at, |writer| Ok((write(writer)?, label)))
    }

    /// The same where only the doing tells what was done: `write` answers that too.
    ///
    /// # Errors
    /// As [`Logbook::commit`].
    pub fn commit_as<T, D, E>(
        &mut self,
        at: Stamp,
        write: impl FnOnce(&mut Writer<'_>) -> Result<(T, D), E>,
    ) -> Result<T, E>
    where
        D: Into<Did>,
        E: From<LogbookError>,
    {
        self.regain()?;
        let uid = confirm::new_uid(at);
        let (value, number, outcome) = {
            let tx = self.begin_change()?;
            let mut writer = Writer::new(&tx, &self.shape);
            let (value, did) = write(&mut writer)?;
            let touched = writer.finish()?;
            if changes_nothing(&touched) {
                return Ok(value);
            }
            let entry = Entry {
                uid: &uid,
                at,
                kind: Kind::Do,
                what: &did.into(),
                target: None,
            };
            record(&tx, &entry, &touched)?;
            let number = tx.last_insert_rowid();
            (value, number, tx.execute_batch("COMMIT"))
        };
        self.confirm(&uid, outcome)?;
        self.own.push(number);
        Ok(value)
    }

    /// A transaction on a file that still stands in its place and still has the shape this program knows.
    pub(super) fn begin_change(&self) -> Result<Transaction<'_>, LogbookError> {
        self.in_place()?;
        if let Some(why) = &self.barred {
            return Err(why.clone());
        }
        let tx = begin(&self.conn)?;
        let file: u32 = tx
            .prepare_cached("PRAGMA user_version")?
            .query_row([], |row| row.get(0))?;
        let ours = migrate::latest(self.steps);
        if file == ours {
            Ok(tx)
        } else {
            Err(LogbookError::Newer { file, ours })
        }
    }
}

/// Writes the record of what was touched.
pub(super) fn record(
    conn: &Connection,
    entry: &Entry<'_>,
    touched: &[Touch],
) -> Result<(), LogbookError> {
    let rows = Json::Array(touched.iter().map(Touch::to_json).collect()).to_string();
    let (at_ms, offset) = (entry.at.at_ms, entry.at.offset_min);
    let (kind, label) = (entry.kind.word(), entry.what.label.trim());
    let act = entry.what.act.as_ref();
    let act = act.and_then(|act| serde_json::to_string(act).ok());
    let Some(act) = act else {
        let said = (entry.uid, at_ms, offset, kind, label, entry.target, rows);
        let sql = "INSERT INTO change (uid, at_ms, offset_min, kind, label, target, \"rows\") \
                   VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)";
        conn.prepare_cached(sql)?.execute(said)?;
        return Ok(());
    };
    let said = (
        entry.uid,
        at_ms,
        offset,
        kind,
        label,
        entry.target,
        rows,
        act,
    );
    let sql = "INSERT INTO change (uid, at_ms, offset_min, kind, label, target, \"rows\", act) \
               VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)";
    conn.prepare_cached(sql)?.execute(said)?;
    Ok(())
}

/// Whether each row ends as it began.
fn changes_nothing(touched: &[Touch]) -> bool {
    touched.iter().all(|touch| {
        let same = |other: &&Touch| other.table == touch.table && other.id == touch.id;
        let first = touched
            .iter()
            .find(same)
            .and_then(|first| first.before.as_ref());
        let last = touched
            .iter()
            .rev()
            .find(same)
            .and_then(|last| last.after.as_ref());
        first == last
    })
}
