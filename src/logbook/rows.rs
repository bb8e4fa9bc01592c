//! Whether every row is one that a command could have written. Read whole for a small file at its opening, for a larger one
//! with each day's copy, and after every import.

use super::damage::{Damage, Impossible, NewerWord, RowAt, RowFault};
use super::transfer::sound;
use super::{LogbookError, STEPS, migrate};
use rusqlite::{Connection, OptionalExtension};

/// What no command ever writes: a table, a condition on its rows, and what of it cannot be.
const IMPOSSIBLE: &[(&str, &str, Impossible)] = &[
    (
        "material",
        "density <= 0 OR density > 25",
        Impossible::Density,
    ),
    ("material", "pack_ml <= 0", Impossible::Pack),
    ("material", "priced_ml <= 0", Impossible::Priced),
    ("stock", "ml < 0", Impossible::Stock),
    (
        "variant",
        "mound_low < 0 OR mound_high < mound_low OR rest_ms < 0 OR again_ms < 0 OR limit_share < 0",
        Impossible::Targets,
    ),
    (
        "cup",
        "depth_mm <= 0 OR diameter_mm <= 0",
        Impossible::CupSize,
    ),
    (
        "put",
        "source_cup_id = cup_id",
        Impossible::FilledFromItself,
    ),
    (
        "entry",
        "into_cup_id = cup_id OR from_cup_id = cup_id",
        Impossible::PouredIntoItself,
    ),
    (
        "entry",
        "ml < 0 OR minutes < 0 OR mound_s < 0 OR efflux_s < 0 OR thinner_ml < 0",
        Impossible::BelowNothing,
    ),
    ("layer", "mound_s < 0", Impossible::BelowNothing),
    (
        "judgement",
        "NOT (cells BETWEEN 0 AND 5 AND coalesce(evenness, 0) BETWEEN 0 AND 5 \
         AND coalesce(lacing, 0) BETWEEN 0 AND 5 AND coalesce(muddy, 0) BETWEEN 0 AND 5 \
         AND coalesce(crazed, 0) BETWEEN 0 AND 5 AND coalesce(pinholes, 0) BETWEEN 0 AND 5)",
        Impossible::Grade,
    ),
];

/// Reads every row of a studio once.
///
/// # Errors
/// [`LogbookError::Damaged`] with the table and number of the first row that no command could have written;
/// [`LogbookError::Unknown`] where a newer program could have.
pub(super) fn check(conn: &Connection) -> Result<(), LogbookError> {
    // A file of an older version is checked once it is renewed.
    let version: u32 = conn.pragma_query_value(None, "user_version", |row| row.get(0))?;
    let is_studio = "SELECT 1 FROM sqlite_schema WHERE type = 'table' AND name = 'judgement'";
    let has_tables = conn.query_row(is_studio, [], |_| Ok(())).optional()?;
    if version != migrate::latest(STEPS) || has_tables.is_none() {
        return Ok(());
    }
    sound::check(conn)?;
    refuse_impossible(conn)?;
    refuse_loose(conn)
}

/// The same of a studio of one's own, where rows that a newer program wrote are none of this one's business.
pub(super) fn check_own(conn: &Connection) -> Result<(), LogbookError> {
    newer_word(conn).map(drop)
}

/// The same; the first word that a newer program wrote, where there is one.
pub(super) fn newer_word(conn: &Connection) -> Result<Option<NewerWord>, LogbookError> {
    match check(conn) {
        Err(LogbookError::Unknown(word)) => Ok(Some(word)),
        other => other.map(|()| None),
    }
}

fn refuse_impossible(conn: &Connection) -> Result<(), LogbookError> {
    for (table, condition, why) in IMPOSSIBLE {
        let sql = format!("SELECT id FROM \"{table}\" WHERE {condition} LIMIT 1");
        let found: Option<i64> = conn.query_row(&sql, [], |row| row.get(0)).optional()?;
        if let Some(id) = found {
            let fault = RowFault::Impossible(*why);
            return Err(LogbookError::Damaged(Damage::row(*table, id, fault)));
        }
    }
    Ok(())
}

/// Refuses a row that refers to one that is not there.
fn refuse_loose(conn: &Connection) -> Result<(), LogbookError> {
    let sql = "SELECT \"table\", rowid, parent FROM pragma_foreign_key_check LIMIT 1";
    let loose = |row: &rusqlite::Row<'_>| -> rusqlite::Result<Damage> {
        let (table, id) = (row.get(0)?, row.get(1)?);
        let fault = RowFault::Reference(row.get(2)?);
        Ok(Damage::Row(RowAt { table, id }, fault))
    };
    match conn.query_row(sql, [], loose).optional()? {
        None => Ok(()),
        Some(what) => Err(LogbookError::Damaged(what)),
    }
}
