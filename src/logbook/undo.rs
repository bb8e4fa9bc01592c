//! Undo and redo: a change turned round is a change of its own.
//!
//! Undo takes the newest thing done that still stands; redo takes back the newest undo, until something new is done.

use super::change::{Did, Entry, Touch, Writer, record};
use super::damage::Damage;
use super::foreign::RowName;
use super::history::{self, Mark, find_change};
use super::moved::{HowMoved, Moved};
use super::value::{Row, Value};
use super::{Change, Kind, Logbook, LogbookError, Stamp, confirm};
use rusqlite::{Connection, ErrorCode, OptionalExtension};

/// A thing done that may be taken back.
#[derive(Debug, Clone, PartialEq)]
pub struct Candidate {
    /// Which.
    pub change: Change,
    /// By whom.
    pub whose: Whose,
}

/// By whom a thing was done.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Whose {
    /// Through this very logbook.
    Own,
    /// By another process, since this logbook was opened.
    Others,
    /// Before it was opened.
    Earlier,
}

type Pick = Result<i64, LogbookError>;

impl Logbook {
    /// Takes back the newest thing done that still stands, and tells which.
    ///
    /// # Errors
    /// [`LogbookError::NothingToUndo`]; [`LogbookError::Moved`] where a row has moved on; as [`Logbook::commit`].
    pub fn undo(&mut self, at: Stamp) -> Result<Change, LogbookError> {
        self.turn_round(at, Kind::Undo, newest_done)
    }

    /// What [`Logbook::undo`] would take back, were it asked by this process: the newest thing done through this very
    /// logbook that still stands, else the newest of all.
    ///
    /// # Errors
    /// [`LogbookError::NothingToUndo`]; where the file cannot be read.
    pub fn own_or_newest(&mut self) -> Result<Candidate, LogbookError> {
        self.regain()?;
        let own = &self.own;
        let done =
            |mark: Mark| (mark.kind == Kind::Do && own.contains(&mark.id)).then_some(mark.id);
        let lowest = own.first().copied().unwrap_or(i64::MAX);
        if let Some(id) = history::walk(&self.conn, lowest, done)? {
            return Ok(Candidate {
                change: find_change(&self.conn, id)?,
                whose: Whose::Own,
            });
        }
        let change = find_change(&self.conn, newest_done(&self.conn)?)?;
        let whose = match change.id > self.opened_at {
            true => Whose::Others,
            false => Whose::Earlier,
        };
        Ok(Candidate { change, whose })
    }

    /// Takes back the newest undo that still stands, unless something new was done since.
    ///
    /// # Errors
    /// [`LogbookError::NothingToRedo`]; [`LogbookError::Moved`] where a row has moved on; as [`Logbook::commit`].
    pub fn redo(&mut self, at: Stamp) -> Result<Change, LogbookError> {
        self.turn_round(at, Kind::Redo, newest_undo)
    }

    /// Takes back the thing done under this number, wherever it stands in the history.
    ///
    /// # Errors
    /// [`LogbookError::NoSuchChange`]; [`LogbookError::Moved`] where it is undone already, is itself an undo,
    /// or a row has moved on; as [`Logbook::commit`].
    pub fn undo_one(&mut self, id: i64, at: Stamp) -> Result<Change, LogbookError> {
        self.turn_round(at, Kind::Undo, |conn| standing_done(conn, id))
    }

    /// Applies a change turned round, recorded as `kind`, and answers the change taken back.
    ///
    /// Rows turned round in their order pass the file's rules as they did the first time. Where they do not, it is
    /// tried again with the rules looked at only at the end, which is slow: it makes SQLite forget every statement.
    fn turn_round(
        &mut self,
        at: Stamp,
        kind: Kind,
        pick: impl Fn(&Connection) -> Pick,
    ) -> Result<Change, LogbookError> {
        match self.turn(at, kind, &pick, false) {
            Err(LogbookError::Moved(_)) => self.turn(at, kind, &pick, true),
            turned => turned,
        }
    }

    fn turn(
        &mut self,
        at: Stamp,
        kind: Kind,
        pick: impl Fn(&Connection) -> Pick,
        rules_last: bool,
    ) -> Result<Change, LogbookError> {
        self.regain()?;
        let uid = confirm::new_uid(at);
        let (change, outcome) = {
            let tx = self.begin_change()?;
            let change = find_change(&tx, pick(&tx)?)?;
            if rules_last {
                tx.execute_batch("PRAGMA defer_foreign_keys = ON")?;
            }
            let mut writer = Writer::new(&tx, &self.shape);
            for touch in touches(&tx, change.id)?.iter().rev() {
                apply(&mut writer, touch, change.id)?;
            }
            let touched = writer.finish()?;
            let what = Did {
                label: change.label.clone(),
                act: change.act.clone(),
            };
            record(
                &tx,
                &Entry {
                    uid: &uid,
                    at,
                    kind,
                    what: &what,
                    target: Some(change.id),
                },
                &touched,
            )?;
            (change, keep_whole(&tx)?)
        };
        self.confirm(&uid, outcome)?;
        Ok(Change {
            done: false,
            ..change
        })
    }
}

fn newest_done(conn: &Connection) -> Pick {
    let done = |mark: Mark| (mark.kind == Kind::Do).then_some(mark.id);
    history::walk(conn, 0, done)?.ok_or(LogbookError::NothingToUndo)
}

fn newest_undo(conn: &Connection) -> Pick {
    // Something done that still stands ends the search: redo is only for what was undone after it.
    let undo = |mark: Mark| match mark.kind {
        Kind::Do => Some(None),
        Kind::Undo => Some(Some(mark.id)),
        Kind::Redo => None,
    };
    history::walk(conn, 0, undo)?
        .flatten()
        .ok_or(LogbookError::NothingToRedo)
}

fn standing_done(conn: &Connection, id: i64) -> Pick {
    let change = find_change(conn, id)?;
    if change.kind != Kind::Do {
        return Err(LogbookError::Moved(Moved::NoDeed(id)));
    }
    match history::stands(conn, id)? {
        true => Ok(id),
        false => Err(LogbookError::Moved(Moved::Undone(Box::new(change)))),
    }
}

fn touches(conn: &Connection, id: i64) -> Result<Vec<Touch>, LogbookError> {
    let sql = "SELECT \"rows\" FROM change WHERE id = ?1";
    let text: String = conn
        .prepare_cached(sql)?
        .query_row([id], |row| row.get(0))?;
    let unreadable = || LogbookError::Damaged(Damage::Record(id));
    Touch::all_in(&text).ok_or_else(unreadable)
}

fn apply(writer: &mut Writer<'_>, touch: &Touch, change: i64) -> Result<(), LogbookError> {
    let Touch {
        table,
        id,
        before,
        after,
    } = touch;
    let now = writer.row(table, *id)?;
    if !still_as_left(after.as_ref(), now.as_ref()) {
        return Err(moved(writer.conn(), touch, now.as_ref(), change));
    }
    let put_back = match (after, before) {
        (Some(_), Some(row)) => writer.update(table, *id, &values(row, false)),
        (None, Some(row)) => writer.insert(table, &values(row, true)).map(drop),
        (Some(_), None) => writer.delete(table, *id),
        (None, None) => Ok(()),
    };
    put_back.map_err(|err| clashes(err, touch))
}

/// Columns that came with a later step are not in the record, and do not count as moved on.
fn still_as_left(left: Option<&Row>, now: Option<&Row>) -> bool {
    match (left, now) {
        (Some(left), Some(now)) => left.differing(now).is_empty(),
        (None, None) => true,
        _ => false,
    }
}

fn values(row: &Row, with_id: bool) -> Vec<(&str, Value)> {
    let wanted = row.0.iter().filter(|(name, _)| with_id || name != "id");
    wanted
        .map(|(name, value)| (name.as_str(), value.clone()))
        .collect()
}

fn clashes(err: LogbookError, touch: &Touch) -> LogbookError {
    let Touch {
        table, id, before, ..
    } = touch;
    match err {
        LogbookError::Rule(_) => {
            LogbookError::Moved(Moved::NoRoom(name(table, *id, before.as_ref())))
        }
        LogbookError::UnknownName { table, column } => {
            LogbookError::Moved(Moved::NoSuchName { table, column })
        }
        other => other,
    }
}

/// Which row moved on, how, and with which later change.
fn moved(conn: &Connection, touch: &Touch, now: Option<&Row>, change: i64) -> LogbookError {
    let Touch {
        table,
        id,
        before,
        after,
    } = touch;
    let how = match (after, now) {
        (Some(_), None) => HowMoved::Removed,
        (Some(_), Some(_)) => HowMoved::Changed,
        (None, _) => HowMoved::Back,
    };
    let by = later_change(conn, table, *id, change);
    let row = name(table, *id, now.or(after.as_ref()).or(before.as_ref()));
    LogbookError::Moved(Moved::Row { row, how, by })
}

/// A row by its mark or name, where it has one.
fn name(table: &str, id: i64, row: Option<&Row>) -> RowName {
    let text = |column: &str| match row?.get(column)? {
        Value::Text(text) => Some(text.clone()),
        _ => None,
    };
    RowName {
        table: table.to_owned(),
        id: Some(id),
        name: text("mark").or_else(|| text("name")),
    }
}

fn later_change(conn: &Connection, table: &str, id: i64, change: i64) -> Option<Box<Change>> {
    let sql = "SELECT change.id FROM change, json_each(change.\"rows\") AS touched \
               WHERE change.id > ?1 AND json_extract(touched.value, '$.table') = ?2 \
               AND json_extract(touched.value, '$.id') = ?3 ORDER BY change.id DESC LIMIT 1";
    let later = conn.query_row(sql, (change, table, id), |row| row.get(0));
    find_change(conn, later.ok()?).ok().map(Box::new)
}

/// Keys are checked only at the end of an undo; a refusal names the row that still refers to one taken away.
fn keep_whole(conn: &Connection) -> Result<rusqlite::Result<()>, LogbookError> {
    let outcome = conn.execute_batch("COMMIT");
    let code = outcome
        .as_ref()
        .err()
        .and_then(rusqlite::Error::sqlite_error_code);
    match code {
        Some(ErrorCode::ConstraintViolation) => Err(loose_end(conn)?),
        _ => Ok(outcome),
    }
}

fn loose_end(conn: &Connection) -> Result<LogbookError, LogbookError> {
    let sql = "SELECT \"table\", rowid, parent FROM pragma_foreign_key_check LIMIT 1";
    let read = |row: &rusqlite::Row<'_>| {
        let (table, id, parent): (String, Option<i64>, String) =
            (row.get(0)?, row.get(1)?, row.get(2)?);
        Ok((table, id.unwrap_or_default(), parent))
    };
    let Some((table, id, parent)) = conn.query_row(sql, [], read).optional()? else {
        return Ok(LogbookError::Moved(Moved::NeededSomewhere));
    };
    Ok(LogbookError::Moved(Moved::Needed {
        by: name(&table, id, None),
        with: later_change(conn, &table, id, 0),
        table: parent,
    }))
}
