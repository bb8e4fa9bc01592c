//! Every schema that was released, as a small file of an invented studio, is opened and brought up.
//!
//! A file is never made again: it is what that release wrote, in small pages. A new step adds one.

use crate::faults::program::{MORNING, names, run};
use rusqlite::Connection;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use stillcup::logbook::{LogbookError, STEPS};
use stillcup::studio::{Studio, StudioError};
use stillcup::trade::instant::{Now, Zone};
use tempfile::TempDir;

const RELEASED: [&[u8]; 15] = [
    include_bytes!("released/0001.db"),
    include_bytes!("released/0002.db"),
    include_bytes!("released/0003.db"),
    include_bytes!("released/0004.db"),
    include_bytes!("released/0005.db"),
    include_bytes!("released/0006.db"),
    include_bytes!("released/0007.db"),
    include_bytes!("released/0008.db"),
    include_bytes!("released/0009.db"),
    include_bytes!("released/0010.db"),
    include_bytes!("released/0011.db"),
    include_bytes!("released/0012.db"),
    include_bytes!("released/0013.db"),
    include_bytes!("released/0014.db"),
    include_bytes!("released/0015.db"),
];

/// Each version and a fresh copy of its file.
fn each() -> impl Iterator<Item = (usize, TempDir, PathBuf)> {
    RELEASED.iter().enumerate().map(|(nth, bytes)| {
        let (folder, path) = super::nowhere();
        std::fs::write(&path, bytes).unwrap();
        (nth + 1, folder, path)
    })
}

fn version(path: &Path) -> usize {
    usize::try_from(super::ask::<i64>(path, "PRAGMA user_version")).unwrap()
}

type Texts = BTreeMap<String, Vec<String>>;

fn texts(path: &Path, sql: &str) -> Vec<String> {
    let conn = Connection::open(path).unwrap();
    let mut read = conn.prepare(sql).unwrap();
    let rows = read.query_map([], |row| row.get(0)).unwrap();
    rows.map(Result::unwrap).collect()
}

/// Every table and its columns.
fn columns(path: &Path) -> Texts {
    let tables = "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite%'";
    let of = |table: &String| {
        texts(
            path,
            &format!("SELECT name FROM pragma_table_info('{table}')"),
        )
    };
    let tables = texts(path, tables).into_iter();
    tables.map(|table| (table.clone(), of(&table))).collect()
}

/// Every row of these columns as SQLite itself writes its values.
fn held(path: &Path, columns: &Texts) -> Texts {
    let dump = |(table, names): (&String, &Vec<String>)| {
        let quoted: Vec<String> = names
            .iter()
            .map(|name| format!("quote(\"{name}\")"))
            .collect();
        let sql = format!(
            "SELECT {} FROM \"{table}\" ORDER BY id",
            quoted.join(" || ',' || ")
        );
        (table.clone(), texts(path, &sql))
    };
    columns.iter().map(dump).collect()
}

fn rows(path: &Path) -> Texts {
    held(path, &columns(path))
}

fn now() -> Now {
    let at = chrono::DateTime::parse_from_rfc3339(MORNING).unwrap();
    let zone = Zone::Fixed(*at.offset());
    Now { at, zone }
}

#[test]
fn each_step_has_its_file() {
    assert_eq!(
        RELEASED.len(),
        STEPS.len(),
        "keep a file of the schema that is released"
    );
    for (number, _folder, path) in each() {
        assert_eq!(version(&path), number);
        assert_eq!(super::ask::<String>(&path, "PRAGMA integrity_check"), "ok");
    }
}

#[test]
fn each_is_copied_first_and_brought_up_with_every_row() {
    for (number, folder, path) in each() {
        let known = columns(&path);
        let before = held(&path, &known);
        run(&path, MORNING, &["cups"]).done();
        assert_eq!(version(&path), STEPS.len(), "from {number}");
        // A column that came later is told by no older file.
        assert_eq!(held(&path, &known), before, "from {number}");
        assert_eq!(super::ask::<String>(&path, "PRAGMA integrity_check"), "ok");
        let loose = "SELECT count(*) FROM pragma_foreign_key_check";
        assert_eq!(super::ask::<i64>(&path, loose), 0);
        let copy = format!("studio.db.version-{number}");
        let older = number < STEPS.len();
        assert_eq!(names(folder.path()).contains(&copy), older, "from {number}");
        if older {
            let copy = folder.path().join(copy);
            assert_eq!((version(&copy), rows(&copy)), (number, before));
        }
    }
}

#[test]
fn the_history_of_each_is_read_and_goes_on() {
    for (number, _folder, path) in each() {
        let labels: Vec<String> = rows(&path)["change"].clone();
        let said = run(&path, MORNING, &["history", "--limit", "1000", "--json"]).done();
        let said: serde_json::Value = serde_json::from_str(&said).unwrap();
        let told = said["history"].as_array().unwrap();
        assert_eq!(told.len(), labels.len(), "from {number}");
        for (line, row) in told.iter().rev().zip(&labels) {
            let what = line["what"].as_str().unwrap().replace('\'', "''");
            // Since version 8 what was meant is kept, and worded when it is told.
            let meant = row.contains("{\"did\":");
            assert!(
                meant || row.contains(&format!("'{what}'")),
                "{what} in {row}"
            );
        }
        run(
            &path,
            MORNING,
            &["material", "add", "Moss", "--kind", "paint"],
        )
        .done();
        let said = run(&path, MORNING, &["undo"]).done();
        assert!(said.contains("added Moss"), "{said}");
        if number > 1 {
            assert!(
                run(&path, MORNING, &["cup", "K7"])
                    .done()
                    .contains("a little cold")
            );
            run(&path, MORNING, &["read", "K7", "2.4"]).done();
            assert!(run(&path, MORNING, &["pours"]).done().contains("swirl"));
        }
    }
}

/// On a file of its own each, so that one taken back does not stand in another's way.
#[test]
fn each_old_change_is_taken_back_or_refused_in_words() {
    for (number, folder, path) in each() {
        drop(Studio::open(&path).unwrap());
        let changes = Studio::open(&path).unwrap().history(u32::MAX).unwrap();
        let (mut taken_back, mut refused) = (0, 0);
        for change in changes {
            let own = folder.path().join(format!("{}.db", change.id));
            std::fs::copy(&path, &own).unwrap();
            let mut studio = Studio::open(&own).unwrap();
            let before = rows(&own);
            match studio.undo_one(change.id, &now()) {
                Ok(undone) => {
                    assert_eq!(undone.label, change.label);
                    let newest = studio.history(1).unwrap().remove(0);
                    assert_eq!(newest.target, Some(change.id));
                    taken_back += 1;
                }
                Err(StudioError::Store(LogbookError::Moved(why))) => {
                    assert_eq!(rows(&own), before, "{why:?}");
                    refused += 1;
                }
                Err(other) => panic!("change {} of version {number}: {other:?}", change.id),
            }
        }
        assert!(
            taken_back > 0 && refused > 0,
            "{number}: {taken_back}, {refused}"
        );
    }
}

#[test]
fn a_file_of_a_later_release_is_refused_with_both_versions() {
    let (_, folder, path) = each().last().unwrap();
    let conn = Connection::open(&path).unwrap();
    conn.execute_batch("PRAGMA journal_mode = DELETE; PRAGMA user_version = 57")
        .unwrap();
    drop(conn);
    let (bytes, beside) = (std::fs::read(&path).unwrap(), names(folder.path()));
    for words in [
        &["cups"][..],
        &["mix", "Fir", "--volume", "100ml"],
        &["backup"],
    ] {
        let (sentence, hint) = run(&path, MORNING, words).failed(3);
        let ours = format!("up to version {}", STEPS.len());
        assert!(
            sentence.contains("version 57") && sentence.contains(&ours),
            "{sentence}"
        );
        assert!(hint.contains("newer program"), "{hint}");
    }
    assert_eq!(
        (std::fs::read(&path).unwrap(), names(folder.path())),
        (bytes, beside)
    );
}
