//! Whether a file has the tables, indexes, triggers and views of its version, and no others: what another hand put there
//! could change what a deed does.

use super::faults::Alteration;
use super::{LogbookError, Steps};
use rusqlite::Connection;
use std::collections::BTreeMap;

/// Each thing by its kind and name, as it was declared.
type Schema = BTreeMap<(String, String), Option<String>>;

/// Refuses a file whose things are not those that the steps up to `version` make.
pub(super) fn refuse_altered(
    conn: &Connection,
    steps: &Steps,
    version: u32,
) -> Result<(), LogbookError> {
    let (ours, theirs) = (made_by(steps, version)?, of(conn)?);
    match difference(&ours, &theirs) {
        None => Ok(()),
        Some(what) => Err(LogbookError::Altered(what)),
    }
}

fn made_by(steps: &Steps, version: u32) -> Result<Schema, LogbookError> {
    let conn = Connection::open_in_memory()?;
    conn.pragma_update(None, "foreign_keys", false)?;
    for step in steps.iter().filter(|step| step.number <= version) {
        conn.execute_batch(step.sql)?;
    }
    of(&conn)
}

fn of(conn: &Connection) -> Result<Schema, LogbookError> {
    // What SQLite itself measures of a file (ANALYZE) changes nothing of what it holds.
    let sql = "SELECT type, name, sql FROM sqlite_schema WHERE name NOT GLOB 'sqlite_stat*'";
    let mut read = conn.prepare(sql)?;
    let things = read.query_map([], |row| Ok(((row.get(0)?, row.get(1)?), row.get(2)?)))?;
    Ok(things.collect::<rusqlite::Result<_>>()?)
}

fn difference(ours: &Schema, theirs: &Schema) -> Option<Alteration> {
    let lacks = ours.keys().find(|thing| !theirs.contains_key(*thing));
    let more = theirs.keys().find(|thing| !ours.contains_key(*thing));
    let other = ours
        .iter()
        .find(|(thing, sql)| theirs.get(*thing) != Some(sql));
    if let Some((kind, name)) = more.cloned() {
        return Some(Alteration::Added { kind, name });
    }
    if let Some((kind, name)) = lacks.cloned() {
        return Some(Alteration::Lacking { kind, name });
    }
    let (kind, name) = other?.0.clone();
    Some(Alteration::Other { kind, name })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::logbook::STEPS;

    #[test]
    fn what_was_added_taken_away_or_changed_is_named() {
        let latest = u32::try_from(STEPS.len()).unwrap();
        let add = |thing: &str, name: &str| {
            let (kind, name) = (thing.to_owned(), name.to_owned());
            Alteration::Added { kind, name }
        };
        let of_cup = || Alteration::Other {
            kind: "table".to_owned(),
            name: "cup".to_owned(),
        };
        let lacking = Alteration::Lacking {
            kind: "index".to_owned(),
            name: "cup_mark".to_owned(),
        };
        for (sql, what) in [
            (
                "CREATE TRIGGER t AFTER INSERT ON cup BEGIN SELECT 1; END",
                add("trigger", "t"),
            ),
            ("CREATE VIEW v AS SELECT 1", add("view", "v")),
            ("CREATE TABLE other (id INTEGER)", add("table", "other")),
            ("CREATE INDEX i ON cup(note)", add("index", "i")),
            ("DROP INDEX cup_mark", lacking),
            ("ALTER TABLE cup ADD COLUMN more TEXT", of_cup()),
            (
                "ALTER TABLE cup ADD COLUMN made REAL AS (volume_ml * 2)",
                of_cup(),
            ),
        ] {
            let conn = Connection::open_in_memory().unwrap();
            for step in STEPS {
                conn.execute_batch(step.sql).unwrap();
            }
            conn.execute_batch("ANALYZE").unwrap();
            assert_eq!(refuse_altered(&conn, STEPS, latest), Ok(()));
            conn.execute_batch(sql).unwrap();
            let err = refuse_altered(&conn, STEPS, latest);
            assert_eq!(err, Err(LogbookError::Altered(what)));
        }
    }
}
