//! The record as it is shown: each change, newest first, and whether it still stands.

use super::change::Touch;
use super::driver::of_row;
use super::read::{Read, Reader, word_in};
use super::value::{self, Value};
use super::{Logbook, LogbookError, Stamp};
use crate::trade::act::Act;
use rusqlite::{Connection, Row};
use std::collections::{BTreeSet, HashSet};

/// What a change is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Something the painter did.
    Do,
    /// It taken back.
    Undo,
    /// The taking back taken back.
    Redo,
}

impl Kind {
    /// The word in the file.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Do => "do",
            Self::Undo => "undo",
            Self::Redo => "redo",
        }
    }

    fn read(word: &str) -> Option<Self> {
        match word {
            "do" => Some(Self::Do),
            "undo" => Some(Self::Undo),
            "redo" => Some(Self::Redo),
            _ => None,
        }
    }
}

/// One recorded change.
#[derive(Debug, Clone, PartialEq)]
pub struct Change {
    /// Its number, rising.
    pub id: i64,
    /// The id made before it was kept.
    pub uid: String,
    /// When it was made.
    pub at: Stamp,
    /// What it is.
    pub kind: Kind,
    /// What the painter did, in words; an undo or redo has its target's.
    pub label: String,
    /// What the painter did, as ids and quantities; `None` in a change of an older version, or of a kind that this
    /// one does not know.
    pub act: Option<Act>,
    /// The change it takes back.
    pub target: Option<i64>,
    /// How many rows it touched.
    pub rows: u64,
    /// Whether it stands: no later change has taken it back.
    pub done: bool,
}

impl Change {
    /// Whether it is something the painter did, and not the taking back of such a thing.
    #[must_use]
    pub fn is_deed(&self) -> bool {
        self.kind == Kind::Do
    }

    /// Whether it took a deed back.
    #[must_use]
    pub fn is_undo(&self) -> bool {
        self.kind == Kind::Undo
    }
}

/// A change's place in the chain of undoing, and nothing more.
#[derive(Debug, Clone, Copy)]
pub(super) struct Mark {
    pub(super) id: i64,
    pub(super) kind: Kind,
}

/// Walks the changes that stand, newest first, down to `lowest`, until `visit` answers.
///
/// An undo or redo that stands takes its target out; whatever is taken out takes nothing out itself.
pub(super) fn walk<T>(
    conn: &Connection,
    lowest: i64,
    mut visit: impl FnMut(Mark) -> Option<T>,
) -> Result<Option<T>, LogbookError> {
    let mut taken_out = HashSet::new();
    let sql = "SELECT id, kind, target FROM change WHERE id >= ?1 ORDER BY id DESC";
    let mut read = conn.prepare_cached(sql)?;
    let mut rows = read.query([lowest])?;
    while let Some(row) = rows.next()? {
        let id: i64 = row.get(0)?;
        if taken_out.remove(&id) {
            continue;
        }
        let kind = word_in(row, "kind", Kind::read);
        let kind = kind.map_err(|err| of_row(row, err))?;
        taken_out.extend(row.get::<_, Option<i64>>(2)?);
        if let Some(answer) = visit(Mark { id, kind }) {
            return Ok(Some(answer));
        }
    }
    Ok(None)
}

/// Whether a change stands. Only what takes it back is looked at, so that an old one is told as quickly as the last.
pub(super) fn stands(conn: &Connection, id: i64) -> Result<bool, LogbookError> {
    let mut taken_out = HashSet::new();
    // Newest first, as `walk` goes: whatever is taken out takes nothing out itself.
    for later in takers(conn, id)?.into_iter().rev() {
        if !taken_out.contains(&later.0) {
            taken_out.insert(later.1);
        }
    }
    Ok(!taken_out.contains(&id))
}

/// The changes that take one back, or take back one that does, each with its target; the oldest first.
fn takers(conn: &Connection, id: i64) -> Result<BTreeSet<(i64, i64)>, LogbookError> {
    let mut found = BTreeSet::new();
    let mut targets = vec![id];
    let mut read = conn.prepare_cached("SELECT id FROM change WHERE target = ?1 AND id > ?1")?;
    while let Some(target) = targets.pop() {
        let mut rows = read.query([target])?;
        while let Some(row) = rows.next()? {
            let taker = row.get(0)?;
            found.insert((taker, target));
            targets.push(taker);
        }
    }
    Ok(found)
}

/// A longer record is no painter's deed but an import.
const MOST_RECORD: usize = 1 << 18;

/// A row that a change touched.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Touched {
    /// Its table.
    pub table: String,
    /// The cups it is, belongs to or belonged to.
    pub cups: Vec<i64>,
}

impl Reader<'_> {
    /// The number of the newest change; 0 where nothing was ever written.
    ///
    /// # Errors
    /// Where the store cannot be read; so of the reading below.
    pub fn newest_change(&self) -> Read<i64> {
        let newest = self.first("SELECT max(id) FROM change", [], |row| row.get(0))?;
        Ok(newest.flatten().unwrap_or(0))
    }

    /// The rows that changes after one touched; `None` where they are more than `limit`, or cannot be told.
    pub fn touched_after(&self, change: i64, limit: usize) -> Read<Option<Vec<Touched>>> {
        // Read here: SQLite prepares a question that goes through json_each anew each time.
        let sql = "SELECT \"rows\" FROM change WHERE id > ?1 ORDER BY id LIMIT ?2";
        let most = i64::try_from(limit).unwrap_or(i64::MAX);
        let records: Vec<String> = self.all(sql, [change, most], |row| row.get(0))?;
        let mut touched = Vec::new();
        for record in records {
            let Some(touches) = Touch::all_in(&record).filter(|_| record.len() <= MOST_RECORD)
            else {
                return Ok(None);
            };
            touched.extend(touches.iter().map(Touched::of));
        }
        Ok((touched.len() < limit).then_some(touched))
    }
}

impl Touched {
    fn of(touch: &Touch) -> Self {
        let of_cup = |row: &value::Row| match row.get("cup_id") {
            Some(Value::Integer(cup)) => Some(*cup),
            _ => None,
        };
        let rows = [&touch.before, &touch.after];
        // An entry that was moved to another cup touches both.
        let mut cups: Vec<i64> = rows.into_iter().flatten().filter_map(of_cup).collect();
        cups.extend((touch.table == "cup").then_some(touch.id));
        Self {
            cups,
            table: touch.table.clone(),
        }
    }
}

// All columns: a file made for a check may have the first step alone, and no `act`.
const COLUMNS: &str = "SELECT *, CASE WHEN json_valid(\"rows\") THEN json_array_length(\"rows\") END AS touched FROM change";

impl Reader<'_> {
    /// The name that the studio got with its first change, and the number of its last; nothing and zero where there is none.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn identity(&self) -> Read<(String, i64)> {
        let sql =
            "SELECT (SELECT uid FROM change ORDER BY id LIMIT 1), (SELECT MAX(id) FROM change)";
        let known = self.first(sql, [], |row| Ok((row.get(0)?, row.get(1)?)))?;
        let (uid, last): (Option<String>, Option<i64>) = known.unwrap_or_default();
        Ok((uid.unwrap_or_default(), last.unwrap_or_default()))
    }
}

/// Which changes of all there are, newest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct HistoryPage {
    /// Only those before the change of this number.
    pub before: Option<i64>,
    /// Without so many of the newest.
    pub skip: u32,
    /// At most so many.
    pub limit: u32,
}

impl Logbook {
    /// The newest `limit` changes, or those just before the change numbered `before`.
    ///
    /// # Errors
    /// Where the file cannot be read.
    pub fn history(&self, limit: u32, before: Option<i64>) -> Result<Vec<Change>, LogbookError> {
        let skip = 0;
        self.history_paged(HistoryPage {
            before,
            skip,
            limit,
        })
    }

    /// A page of the changes.
    ///
    /// # Errors
    /// Where the file cannot be read.
    pub fn history_paged(&self, page: HistoryPage) -> Result<Vec<Change>, LogbookError> {
        let tx = self.conn().unchecked_transaction()?;
        let sql = format!("{COLUMNS} WHERE id < ?1 ORDER BY id DESC LIMIT ?2 OFFSET ?3");
        let mut read = tx.prepare_cached(&sql)?;
        let before = page.before.unwrap_or(i64::MAX);
        let mut rows = read.query((before, page.limit, page.skip))?;
        let mut changes = Vec::new();
        while let Some(row) = rows.next()? {
            let mut change = read_change(row).map_err(|err| of_row(row, err))?;
            change.done = stands(&tx, change.id)?;
            changes.push(change);
        }
        Ok(changes)
    }

    /// How many changes there are.
    ///
    /// # Errors
    /// Where the file cannot be read.
    pub fn count_changes(&self) -> Result<u64, LogbookError> {
        // The index of the ids made before a change is kept: the records themselves are long.
        let sql = "SELECT count(*) FROM change INDEXED BY sqlite_autoindex_change_1";
        let count: i64 = self.conn().query_row(sql, [], |row| row.get(0))?;
        Ok(count.unsigned_abs())
    }

    /// The change numbered `id`.
    ///
    /// # Errors
    /// [`LogbookError::NoSuchChange`], or where the file cannot be read.
    pub fn change(&self, id: i64) -> Result<Change, LogbookError> {
        let tx = self.conn().unchecked_transaction()?;
        let mut change = find_change(&tx, id)?;
        change.done = stands(&tx, id)?;
        Ok(change)
    }
}

/// The change numbered `id`; whether it stands is not looked up.
pub(super) fn find_change(conn: &Connection, id: i64) -> Result<Change, LogbookError> {
    let sql = format!("{COLUMNS} WHERE id = ?1");
    let mut read = conn.prepare_cached(&sql)?;
    let mut rows = read.query([id])?;
    let row = rows.next()?.ok_or(LogbookError::NoSuchChange(id))?;
    read_change(row).map_err(|err| of_row(row, err))
}

/// Refuses a history of which a row cannot be read.
pub(super) fn check(conn: &Connection) -> Result<(), LogbookError> {
    let mut read = conn.prepare(COLUMNS)?;
    let mut rows = read.query([])?;
    while let Some(row) = rows.next()? {
        read_change(row).map_err(|err| of_row(row, err))?;
    }
    Ok(())
}

fn read_change(row: &Row<'_>) -> rusqlite::Result<Change> {
    let act: Option<String> = row.get("act").unwrap_or_default();
    Ok(Change {
        id: row.get("id")?,
        uid: row.get("uid")?,
        at: Stamp {
            at_ms: row.get("at_ms")?,
            offset_min: row.get("offset_min")?,
        },
        kind: word_in(row, "kind", Kind::read)?,
        label: row.get("label")?,
        act: act.and_then(|act| serde_json::from_str(&act).ok()),
        target: row.get("target")?,
        rows: u64::try_from(row.get::<_, i64>("touched")?).unwrap_or(0),
        done: true,
    })
}
