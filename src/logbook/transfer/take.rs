//! Taking rows in: into an empty studio exactly as they were, into another as one change of its own.

use super::layout::{Holds, TABLES, Table};
use super::merge::Merge;
use super::{Record, contradictions};
use crate::logbook::damage::{Damage, NewerWord};
use crate::logbook::foreign::{Contradiction, Contradictions, Differing, Misfit};
use crate::logbook::{Logbook, LogbookError, Stamp, Value, rows};
use rusqlite::{Connection, OptionalExtension, params_from_iter};
use std::collections::HashMap;

/// Something that bears another name or mark here than in the file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Renamed {
    /// `material`, `recipe`, `cup` or `variant`.
    pub what: &'static str,
    /// As the file has it.
    pub was: String,
    /// As it is called here.
    pub is: String,
}

/// What an import did.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Taken {
    /// Whether the studio was empty, so that it is now the file's twin, history and numbers included.
    pub exact: bool,
    /// How many rows came in, those under others not counted.
    pub new: u64,
    /// How many were here already and were left as they are.
    pub known: u64,
    /// Those of them that differ in the file, and in what; the first hundred.
    pub differing: Vec<Differing>,
    /// What had to give way to a name, mark or number in use here.
    pub renamed: Vec<Renamed>,
    /// How many changes of the file's history were left out: a studio keeps only its own.
    pub history_left: u64,
    /// What cannot all be true, and was taken in even so.
    pub contradictions: Contradictions,
}

/// Where an import puts its rows, in the order of [`TABLES`].
#[derive(Debug)]
pub struct Intake<'a, 'w> {
    how: How<'a, 'w>,
    last: (usize, i64),
    taken: Taken,
}

#[derive(Debug)]
enum How<'a, 'w> {
    Exact(Exact<'a>),
    Merge(Box<Merge<'a, 'w>>),
}

impl<'a, 'w> Intake<'a, 'w> {
    fn new(how: How<'a, 'w>) -> Self {
        let taken = Taken {
            exact: matches!(how, How::Exact(_)),
            ..Taken::default()
        };
        Self {
            how,
            last: (0, 0),
            taken,
        }
    }

    /// Takes one row in, with those under it.
    ///
    /// # Errors
    /// [`LogbookError::Foreign`] where it does not fit; then nothing of the import may be kept.
    pub fn put(&mut self, record: &Record) -> Result<(), LogbookError> {
        self.in_order(record)?;
        admit(record)?;
        match &mut self.how {
            How::Exact(exact) => exact.insert_whole(record).map(|()| self.taken.new += 1),
            How::Merge(merge) => merge.put(record, &mut self.taken),
        }
        .map_err(of_the_file)
    }

    /// Tables and numbers rise, so that what comes in goes out again byte for byte.
    fn in_order(&mut self, record: &Record) -> Result<(), LogbookError> {
        let known = TABLES
            .iter()
            .position(|table| table.name == record.table.name);
        let here = (known.unwrap_or(0), record.id());
        if here <= self.last {
            return Err(refusal(record, Misfit::Order));
        }
        self.last = here;
        Ok(())
    }
}

impl Logbook {
    /// Takes in what `feed` puts: all of it, or nothing; what cannot all be true only where it is said to be so.
    ///
    /// An empty studio becomes the file's twin. Elsewhere rows with a known uid are left as they are, and all
    /// that is new is one change under `label`.
    ///
    /// # Errors
    /// What `feed` answers; [`LogbookError::Foreign`] where a row does not fit; [`LogbookError::Contradicts`]; as
    /// [`Logbook::commit`].
    pub fn take_in<E: From<LogbookError>>(
        &mut self,
        label: &str,
        at: Stamp,
        even_so: bool,
        feed: impl FnOnce(&mut Intake<'_, '_>) -> Result<(), E>,
    ) -> Result<Taken, E> {
        self.regain()?;
        let tx = self.begin_change()?;
        if !is_empty(&tx)? {
            drop(tx);
            return self.merge_in(label, at, even_so, feed);
        }
        tx.pragma_update(None, "cache_size", CACHE_KIB)
            .map_err(LogbookError::from)?;
        let mut intake = Intake::new(How::Exact(Exact::into(&tx)));
        feed(&mut intake)?;
        let mut taken = intake.taken;
        rows::check(&tx).map_err(of_the_file)?;
        let mut said: Vec<Contradiction> = contradictions::of_cups(&tx)?.into_values().collect();
        said.extend(contradictions::unhistoric(&tx)?);
        taken.contradictions = unless(even_so, said)?;
        let newest = newest_change(&tx)?;
        let outcome = tx.execute_batch("COMMIT");
        drop(tx);
        self.confirm(&newest, outcome)?;
        Ok(taken)
    }

    fn merge_in<E: From<LogbookError>>(
        &mut self,
        label: &str,
        at: Stamp,
        even_so: bool,
        feed: impl FnOnce(&mut Intake<'_, '_>) -> Result<(), E>,
    ) -> Result<Taken, E> {
        self.commit(label, at, |write| {
            let conn = write.conn();
            let before = contradictions::of_cups(conn)?;
            let mut intake = Intake::new(How::Merge(Box::new(Merge::new(write))));
            feed(&mut intake)?;
            let mut taken = intake.taken;
            rows::check(conn).map_err(of_the_file)?;
            let mut after = contradictions::of_cups(conn)?;
            after.retain(|id, said| before.get(id) != Some(said));
            taken.contradictions = unless(even_so, after.into_values().collect())?;
            Ok(taken)
        })
    }
}

fn unless(even_so: bool, said: Vec<Contradiction>) -> Result<Contradictions, LogbookError> {
    let said = contradictions::shortened(said);
    match said.said.is_empty() || even_so {
        true => Ok(said),
        false => Err(LogbookError::Contradicts(said)),
    }
}

/// What is wrong with rows that come in is wrong with their file, and not with the studio.
fn of_the_file(err: LogbookError) -> LogbookError {
    let (rows, why) = match err {
        LogbookError::Damaged(Damage::Row(row, fault)) => (vec![row.into()], Misfit::Row(fault)),
        LogbookError::Damaged(damage) => (Vec::new(), Misfit::File(damage)),
        LogbookError::Unknown(NewerWord { row, column }) => {
            (vec![row.into()], Misfit::Newer(column))
        }
        other => return other,
    };
    LogbookError::Foreign { rows, why }
}

fn is_empty(conn: &Connection) -> Result<bool, LogbookError> {
    for table in TABLES {
        let sql = format!("SELECT EXISTS (SELECT 1 FROM \"{}\")", table.name);
        if conn.query_row(&sql, [], |row| row.get(0))? {
            return Ok(false);
        }
    }
    Ok(true)
}

fn newest_change(conn: &Connection) -> Result<String, LogbookError> {
    let sql = "SELECT uid FROM change ORDER BY id DESC LIMIT 1";
    let found = conn.query_row(sql, [], |row| row.get(0)).optional()?;
    Ok(found.unwrap_or_default())
}

/// How much of the file an import holds in memory (SQLite takes a negative size as KiB): its rows come in an order that
/// suits no index, and a page that has to go is written again and again.
const CACHE_KIB: i64 = -65_536;

/// How many uids are remembered with their numbers: a cup's entries all name it, and few materials name the rest.
const REMEMBERED: usize = 1_000;

/// An import into an empty studio: each row exactly as the file has it.
#[derive(Debug)]
struct Exact<'a> {
    conn: &'a Connection,
    /// Statements by table and by the columns that are said.
    statements: HashMap<(&'static str, Vec<&'static str>), String>,
    /// Numbers by table and uid.
    numbers: HashMap<(&'static str, String), i64>,
}

impl<'a> Exact<'a> {
    fn into(conn: &'a Connection) -> Self {
        Self {
            conn,
            statements: HashMap::new(),
            numbers: HashMap::new(),
        }
    }

    fn insert_whole(&mut self, record: &Record) -> Result<(), LogbookError> {
        self.insert(record, None)?;
        for child in &record.children {
            self.insert(child, Some(record.id()))
                .map_err(|err| within(record, err))?;
        }
        Ok(())
    }

    fn insert(&mut self, record: &Record, parent: Option<i64>) -> Result<(), LogbookError> {
        let values = resolved(record, parent, |table, uid| self.number(table, uid))?;
        let names = values.iter().map(|(name, _)| *name).collect();
        let table = record.table.name;
        let said = self.statements.entry((table, names));
        let sql = said.or_insert_with_key(|(table, names)| statement(table, names));
        let bound = params_from_iter(values.iter().map(|(_, value)| value));
        self.conn
            .prepare_cached(sql)?
            .execute(bound)
            .map_err(|err| within(record, err.into()))?;
        Ok(())
    }

    fn number(&mut self, table: &'static str, uid: &str) -> Result<Option<i64>, LogbookError> {
        let key = (table, uid.to_owned());
        if let Some(known) = self.numbers.get(&key) {
            return Ok(Some(*known));
        }
        let found = find(self.conn, table, "uid", uid)?;
        if self.numbers.len() >= REMEMBERED {
            self.numbers.clear();
        }
        self.numbers.extend(found.map(|id| (key, id)));
        Ok(found)
    }
}

fn statement(table: &str, names: &[&str]) -> String {
    let columns: Vec<_> = names.iter().map(|name| format!("\"{name}\"")).collect();
    let marks = vec!["?"; names.len()].join(", ");
    let columns = columns.join(", ");
    format!("INSERT INTO \"{table}\" ({columns}) VALUES ({marks})")
}

/// The columns a row says, each reference as the number it has here.
pub(super) fn resolved(
    record: &Record,
    parent: Option<i64>,
    mut number: impl FnMut(&'static str, &str) -> Result<Option<i64>, LogbookError>,
) -> Result<Vec<(&'static str, Value)>, LogbookError> {
    let mut values = Vec::with_capacity(record.fields.len() + 1);
    for (column, field) in record.table.columns.iter().zip(&record.fields) {
        let value = match (column.holds, field) {
            (_, None) => continue,
            (Holds::To(other), Some(Value::Text(uid))) => {
                let missing = || refusal(record, Misfit::Missing(column.said()));
                Value::Integer(number(other, uid)?.ok_or_else(missing)?)
            }
            (_, Some(value)) => value.clone(),
        };
        values.push((column.name, value));
    }
    values.extend(
        record
            .table
            .parent
            .zip(parent)
            .map(|(name, id)| (name, id.into())),
    );
    Ok(values)
}

/// The number of the row whose `key` is this.
pub(super) fn find(
    conn: &Connection,
    table: &str,
    key: &str,
    value: &str,
) -> Result<Option<i64>, LogbookError> {
    let sql = format!("SELECT id FROM \"{table}\" WHERE \"{key}\" = ?1");
    let mut read = conn.prepare_cached(&sql)?;
    Ok(read.query_row([value], |row| row.get(0)).optional()?)
}

/// Refuses values that no studio writes.
fn admit(record: &Record) -> Result<(), LogbookError> {
    for (column, field) in record.table.columns.iter().zip(&record.fields) {
        if field.as_ref().is_some_and(|value| !column.admits(value)) {
            return Err(refusal(record, Misfit::Range(column.said())));
        }
    }
    if record.id() == 0 || record.text(record.table.key).is_none() && record.table.parent.is_none()
    {
        return Err(refusal(record, Misfit::Unnamed));
    }
    let mut last = (0, 0);
    for child in &record.children {
        admit(child).map_err(|err| within(record, err))?;
        let here = (place_of(record.table, child), child.id());
        if here <= last {
            return Err(refusal(record, Misfit::OrderBeneath));
        }
        last = here;
    }
    Ok(())
}

fn place_of(table: &Table, child: &Record) -> usize {
    let place = table
        .children
        .iter()
        .position(|one| one.name == child.table.name);
    place.unwrap_or(0)
}

pub(super) fn refusal(record: &Record, why: Misfit) -> LogbookError {
    LogbookError::Foreign {
        rows: vec![record.row_name()],
        why,
    }
}

/// The same, naming the row, where the store's own rules refused it.
pub(super) fn within(record: &Record, err: LogbookError) -> LogbookError {
    match err {
        LogbookError::Rule(rule) => refusal(record, Misfit::Rule(rule)),
        LogbookError::Foreign { mut rows, why } => {
            rows.push(record.row_name());
            LogbookError::Foreign { rows, why }
        }
        other => other,
    }
}
