//! Taking rows into a studio that has rows of its own: what is known stays, what is new gets new numbers.

use super::layout::Gives;
use super::take::{find, refusal, resolved, within};
use super::{Record, Renamed, Taken, give};
use crate::logbook::foreign::{Differing, Misfit};
use crate::logbook::{LogbookError, Value, Writer};
use crate::trade::mark::Mark;
use std::collections::HashSet;

/// The most rows one change may bring: undo holds them all at once.
const MOST_ROWS: usize = 200_000;
/// The most bytes of them.
const MOST_BYTES: usize = 32 << 20;
/// The most rows that are said to differ.
const MOST_SAID: usize = 100;

/// An import into a studio with rows of its own.
#[derive(Debug)]
pub(super) struct Merge<'a, 'w> {
    write: &'a mut Writer<'w>,
    /// The ids of rows made by this import: a second row of one is the file's mistake.
    made: HashSet<(&'static str, String)>,
    rows: usize,
    bytes: usize,
}

impl<'a, 'w> Merge<'a, 'w> {
    pub(super) fn new(write: &'a mut Writer<'w>) -> Self {
        Self {
            write,
            made: HashSet::new(),
            rows: 0,
            bytes: 0,
        }
    }

    pub(super) fn put(&mut self, record: &Record, taken: &mut Taken) -> Result<(), LogbookError> {
        let table = record.table;
        if table.name == "change" {
            taken.history_left += 1;
            return Ok(());
        }
        // A studio's settings are its own.
        if table.name == "setting" {
            return Ok(());
        }
        let key = record.text(table.key).unwrap_or_default();
        match find(self.write.conn(), table.name, table.key, key)? {
            Some(_) if self.made.contains(&(table.name, key.to_owned())) => {
                Err(refusal(record, Misfit::Twice))
            }
            Some(id) => self.keep(record, id, taken),
            None => self.add(record, key, taken),
        }
    }

    /// Leaves a known row as it is; only a cup that the file has seen end ends here too, as its entries say.
    fn keep(&mut self, record: &Record, id: i64, taken: &mut Taken) -> Result<(), LogbookError> {
        taken.known += 1;
        let Some(ours) = give::one(self.write.conn(), record.table, id)? else {
            return Ok(());
        };
        let ended = record.value("spent_at_ms").filter(|at| **at != Value::Null);
        if let (Some(at), Some(Value::Null)) = (ended, ours.value("spent_at_ms")) {
            self.write
                .update(record.table.name, id, &[("spent_at_ms", at.clone())])?;
        }
        let (mut columns, beneath) = differing(&ours, record);
        if let Some(given) = self.rename_on_conflict(record, id)? {
            columns.retain(|column| *column != given);
        }
        let differs = (!columns.is_empty() || beneath) && taken.differing.len() < MOST_SAID;
        taken.differing.extend(differs.then(|| Differing {
            row: ours.row_name(),
            columns,
            beneath,
        }));
        Ok(())
    }

    /// The column in which a known row had to give way when it came in, so that it says nothing that it is another one
    /// here. A mark or a number is never changed by hand.
    fn rename_on_conflict(
        &self,
        record: &Record,
        id: i64,
    ) -> Result<Option<&'static str>, LogbookError> {
        Ok(match record.table.gives {
            Gives::Nothing => None,
            Gives::Mark => Some("mark"),
            Gives::NumberIn(_) => Some("number"),
            Gives::Name => {
                let name = record.text("name").unwrap_or_default();
                let there = find(self.write.conn(), record.table.name, "name", name)?;
                there.filter(|there| *there != id).map(|_| "name")
            }
        })
    }

    fn add(&mut self, record: &Record, key: &str, taken: &mut Taken) -> Result<(), LogbookError> {
        self.rows += 1 + record.children.len();
        self.bytes += record.weight();
        if self.rows > MOST_ROWS || self.bytes > MOST_BYTES {
            let (rows, bytes) = (MOST_ROWS, MOST_BYTES);
            return Err(LogbookError::Foreign {
                rows: Vec::new(),
                why: Misfit::TooMuch { rows, bytes },
            });
        }
        let id = self.insert(record, None, taken)?;
        for child in &record.children {
            self.insert(child, Some(id), taken)
                .map_err(|err| within(record, err))?;
        }
        self.made.insert((record.table.name, key.to_owned()));
        taken.new += 1;
        Ok(())
    }

    fn insert(
        &mut self,
        record: &Record,
        parent: Option<i64>,
        taken: &mut Taken,
    ) -> Result<i64, LogbookError> {
        let mut values = resolved(record, parent, |table, uid| {
            find(self.write.conn(), table, "uid", uid)
        })?;
        values.retain(|(name, _)| *name != "id");
        if let Some(renamed) = self.give_way(record, &mut values)? {
            taken.renamed.push(renamed);
        }
        let made = self.write.insert(record.table.name, &values);
        made.map_err(|err| within(record, err))
    }

    /// Gives a row another name, mark or number where its own is in use here.
    fn give_way(
        &self,
        record: &Record,
        values: &mut [(&'static str, Value)],
    ) -> Result<Option<Renamed>, LogbookError> {
        let (column, free) = match record.table.gives {
            Gives::Nothing => return Ok(None),
            Gives::Name => ("name", self.free_name(record)?),
            Gives::Mark => ("mark", self.free_mark(record)?),
            Gives::NumberIn(parent) => ("number", self.free_number(record, parent, values)?),
        };
        let Some(place) = values.iter().position(|(name, _)| *name == column) else {
            return Ok(None);
        };
        let Some(free) = free.filter(|free| *free != values[place].1) else {
            return Ok(None);
        };
        let was = shown(&values[place].1);
        values[place].1 = free;
        Ok(Some(Renamed {
            what: record.table.name,
            was,
            is: shown(&values[place].1),
        }))
    }

    fn free_name(&self, record: &Record) -> Result<Option<Value>, LogbookError> {
        let (name, table) = (record.text("name").unwrap_or_default(), record.table.name);
        if find(self.write.conn(), table, "name", name)?.is_none() {
            return Ok(None);
        }
        for number in 2..=MOST_ROWS {
            let ending = format!(" {number}");
            let room = 80 - ending.len();
            let next: String = name.chars().take(room).chain(ending.chars()).collect();
            if find(self.write.conn(), table, "name", &next)?.is_none() {
                return Ok(Some(next.into()));
            }
        }
        Err(refusal(record, Misfit::NoNameLeft))
    }

    fn free_mark(&self, record: &Record) -> Result<Option<Value>, LogbookError> {
        let spent = !matches!(record.value("spent_at_ms"), None | Some(Value::Null));
        let mark = record.text("mark").and_then(|text| Mark::parse(text).ok());
        let Some(mark) = mark.filter(|_| !spent) else {
            return Ok(None);
        };
        let sql = "SELECT EXISTS (SELECT 1 FROM cup WHERE mark = ?1 AND spent_at_ms IS NULL)";
        let mut read = self.write.conn().prepare_cached(sql)?;
        if !read.query_row([mark.as_str()], |row| row.get(0))? {
            return Ok(None);
        }
        let taken = self.living()?;
        let free = Mark::next_free(Some(&mark), |mark| taken.contains(mark));
        let free = free.ok_or_else(|| refusal(record, Misfit::NoMarkLeft))?;
        Ok(Some(free.as_str().into()))
    }

    fn living(&self) -> Result<HashSet<Mark>, LogbookError> {
        let cups = self.write.read().living_cups()?;
        Ok(cups.into_iter().map(|cup| cup.mark).collect())
    }

    fn free_number(
        &self,
        record: &Record,
        parent: &str,
        values: &[(&'static str, Value)],
    ) -> Result<Option<Value>, LogbookError> {
        let table = record.table.name;
        let value = |wanted: &str| values.iter().find(|(name, _)| *name == wanted);
        let (Some((_, parent_id)), Some((_, number))) = (value(parent), value("number")) else {
            return Ok(None);
        };
        let sql = format!(
            "SELECT count(*) FILTER (WHERE number = ?2), coalesce(max(number), 0) + 1 \
             FROM \"{table}\" WHERE \"{parent}\" = ?1"
        );
        let mut read = self.write.conn().prepare_cached(&sql)?;
        let (there, next): (i64, i64) =
            read.query_row([parent_id, number], |row| Ok((row.get(0)?, row.get(1)?)))?;
        Ok((there > 0).then_some(next.into()))
    }
}

fn shown(value: &Value) -> String {
    match value {
        Value::Text(text) => text.clone(),
        Value::Integer(number) => number.to_string(),
        Value::Real(number) => number.to_string(),
        Value::Null => String::new(),
    }
}

/// What the file says otherwise, and whether what hangs under it differs; the numbers of rows do not count, they are each
/// file's own.
fn differing(ours: &Record, theirs: &Record) -> (Vec<&'static str>, bool) {
    let columns = ours.table.columns.iter();
    let pairs = columns.zip(ours.fields.iter().zip(&theirs.fields));
    let found = pairs
        .filter(|(column, (ours, theirs))| {
            column.name != "id" && theirs.is_some() && ours != theirs
        })
        .map(|(column, _)| column.said());
    let same = ours.children.len() == theirs.children.len()
        && ours
            .children
            .iter()
            .zip(&theirs.children)
            .all(|(ours, theirs)| {
                let (columns, beneath) = differing(ours, theirs);
                ours.table.name == theirs.table.name && columns.is_empty() && !beneath
            });
    (found.collect(), !same)
}
