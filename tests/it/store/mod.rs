//! The store on real files, under a small shape of its own.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a helper of a test fails the test, as the test itself may"
)]

mod backups;
mod opening;
mod released;
mod renewing;
mod schema;
mod sharing;
mod taking_back;
mod walking;
mod writing;

use std::path::{Path, PathBuf};
use stillcup::logbook::{Logbook, LogbookError, STEPS, Stamp, Step, Value, Writer};
use tempfile::TempDir;

/// A row refers to another, a name is unique, and each kind of value is there.
const SHELF: &str = "
    CREATE TABLE shelf (id INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE) STRICT;
    CREATE TABLE jar (
        id INTEGER PRIMARY KEY,
        shelf INTEGER REFERENCES shelf (id),
        label TEXT,
        grams REAL,
        lids INTEGER CHECK (lids >= 0)
    ) STRICT;";

/// The record, then the shelf.
pub const SHAPE: &[Step] = &[
    STEPS[0],
    Step {
        number: 2,
        name: "shelf",
        sql: SHELF,
    },
];

pub const NOON: Stamp = Stamp {
    at_ms: 1_772_362_800_000,
    offset_min: 60,
};

/// A folder and the path of a studio in it that is not there yet.
pub fn nowhere() -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("studio.db");
    (folder, path)
}

/// A new studio.
pub fn studio() -> (TempDir, Logbook) {
    let (folder, path) = nowhere();
    (folder, Logbook::open_or_create(path, SHAPE).unwrap())
}

/// Commits under `label` what is expected to be kept.
pub fn commit<T>(
    book: &mut Logbook,
    label: &str,
    write: impl FnOnce(&mut Writer<'_>) -> Result<T, LogbookError>,
) -> T {
    book.commit(label, NOON, write).unwrap()
}

/// A shelf by name.
pub fn add_shelf(book: &mut Logbook, name: &str) -> i64 {
    commit(book, &format!("put up {name}"), |w| {
        w.insert("shelf", &[("name", name.into())])
    })
}

/// A jar of some grams.
pub fn add_jar(book: &mut Logbook, shelf: Option<i64>, grams: f64) -> i64 {
    let values = [
        ("shelf", shelf.into()),
        ("grams", grams.into()),
        ("label", "jar".into()),
    ];
    commit(book, "set down a jar", |w| w.insert("jar", &values))
}

/// Every row of both tables, through a connection of its own.
pub fn dump(path: &Path) -> Vec<String> {
    let conn = rusqlite::Connection::open(path).unwrap();
    let sql = "SELECT 'shelf ' || id || ' ' || name FROM shelf UNION ALL
               SELECT 'jar ' || id || ' ' || ifnull(shelf, '-') || ' ' || ifnull(label, '-')
                      || ' ' || ifnull(printf('%!.20g', grams), '-') || ' ' || ifnull(lids, '-')
               FROM jar ORDER BY 1";
    let mut read = conn.prepare(sql).unwrap();
    let rows = read.query_map([], |row| row.get(0)).unwrap();
    rows.collect::<Result<_, _>>().unwrap()
}

/// One answer of the file to a query.
pub fn ask<T: rusqlite::types::FromSql>(path: &Path, sql: &str) -> T {
    rusqlite::Connection::open(path)
        .unwrap()
        .query_row(sql, [], |row| row.get(0))
        .unwrap()
}

/// The value of a column, short to write.
pub fn grams(x: f64) -> (&'static str, Value) {
    ("grams", x.into())
}
