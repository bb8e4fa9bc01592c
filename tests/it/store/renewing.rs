//! Renewing older files: a copy first, one step at a time, all or nothing, and one program at a time.

use super::{SHAPE, add_shelf, ask, dump, nowhere, studio};
use std::path::Path;
use std::sync::Barrier;
use stillcup::logbook::{Logbook, LogbookError, Step};

const COLOUR: Step = Step {
    number: 3,
    name: "colour",
    sql: "ALTER TABLE shelf ADD COLUMN colour TEXT NOT NULL DEFAULT 'bare';",
};
const LATER: &[Step] = &[SHAPE[0], SHAPE[1], COLOUR];
const BROKEN: Step = Step {
    number: 4,
    name: "broken",
    sql: "CREATE TABLE half (id INTEGER PRIMARY KEY); INSERT INTO nowhere VALUES (1);",
};

fn names(folder: &Path) -> Vec<String> {
    let entries = std::fs::read_dir(folder).unwrap();
    let mut names: Vec<String> = entries
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

#[test]
fn an_older_file_is_copied_and_renewed() {
    let (folder, mut book) = studio();
    let path = book.path().to_owned();
    add_shelf(&mut book, "upper");
    drop(book);
    drop(Logbook::open(&path, LATER).unwrap());
    assert_eq!(ask::<i64>(&path, "PRAGMA user_version"), 3);
    assert_eq!(ask::<String>(&path, "SELECT colour FROM shelf"), "bare");
    let copy = folder.path().join("studio.db.version-2");
    assert_eq!(names(folder.path()), ["studio.db", "studio.db.version-2"]);
    assert_eq!(ask::<i64>(&copy, "PRAGMA user_version"), 2);
    assert_eq!(dump(&copy), ["shelf 1 upper"]);
}

#[test]
fn a_new_file_needs_no_copy() {
    let (folder, path) = nowhere();
    drop(Logbook::open_or_create(&path, LATER).unwrap());
    assert_eq!(names(folder.path()), ["studio.db"]);
}

#[test]
fn a_step_that_fails_midway_leaves_the_step_before() {
    const TO_BROKEN: &[Step] = &[SHAPE[0], SHAPE[1], COLOUR, BROKEN];
    let (_folder, mut book) = studio();
    let path = book.path().to_owned();
    add_shelf(&mut book, "upper");
    drop(book);
    let err = Logbook::open(&path, TO_BROKEN).unwrap_err();
    assert!(
        matches!(
            &err,
            LogbookError::Step { number: 4, name: "broken", why } if matches!(**why, LogbookError::Program(_))
        ),
        "{err:?}"
    );
    assert_eq!(ask::<i64>(&path, "PRAGMA user_version"), 3);
    let half = "SELECT count(*) FROM sqlite_schema WHERE name = 'half'";
    assert_eq!(ask::<i64>(&path, half), 0);
    drop(Logbook::open(&path, LATER).unwrap());
    assert_eq!(dump(&path), ["shelf 1 upper"]);
}

#[test]
fn a_step_that_leaves_loose_ends_is_refused() {
    const LOOSE: &[Step] = &[
        SHAPE[0],
        SHAPE[1],
        Step {
            number: 3,
            name: "loose",
            sql: "DELETE FROM shelf; INSERT INTO jar (shelf) VALUES (5);",
        },
    ];
    let (_folder, mut book) = studio();
    let path = book.path().to_owned();
    add_shelf(&mut book, "upper");
    drop(book);
    let err = Logbook::open(&path, LOOSE).unwrap_err();
    assert!(
        matches!(err, LogbookError::Step { number: 3, .. }),
        "{err:?}"
    );
    assert_eq!(dump(&path), ["shelf 1 upper"]);
}

#[test]
fn a_step_that_ends_its_own_transaction_is_refused() {
    const ENDS: &[Step] = &[
        SHAPE[0],
        SHAPE[1],
        Step {
            number: 3,
            name: "ends",
            sql: "COMMIT;",
        },
    ];
    let (_folder, path) = nowhere();
    let err = Logbook::open_or_create(&path, ENDS).unwrap_err();
    assert!(
        matches!(err, LogbookError::Step { number: 3, .. }),
        "{err:?}"
    );
    assert_eq!(ask::<i64>(&path, "PRAGMA user_version"), 2);
}

#[test]
fn a_step_may_rebuild_a_table_others_refer_to() {
    const REBUILD: &[Step] = &[
        SHAPE[0],
        SHAPE[1],
        Step {
            number: 3,
            name: "rebuild",
            sql: "CREATE TABLE shelf2 (id INTEGER PRIMARY KEY, name TEXT NOT NULL) STRICT;
                  INSERT INTO shelf2 SELECT id, name FROM shelf;
                  DROP TABLE shelf;
                  ALTER TABLE shelf2 RENAME TO shelf;",
        },
    ];
    let (_folder, mut book) = studio();
    let path = book.path().to_owned();
    let shelf = add_shelf(&mut book, "upper");
    super::add_jar(&mut book, Some(shelf), 1.0);
    let before = dump(&path);
    drop(book);
    let mut book = Logbook::open(&path, REBUILD).unwrap();
    assert_eq!(dump(&path), before);
    let gone = book.commit("take down", super::NOON, |w| w.delete("shelf", shelf));
    assert!(
        matches!(gone, Err(LogbookError::Rule(_))),
        "keys must be enforced again"
    );
}

#[test]
fn programs_that_start_and_renew_at_once_all_succeed() {
    for _round in 0..10 {
        let (folder, path) = nowhere();
        let start = Barrier::new(4);
        std::thread::scope(|scope| {
            for nth in 0..4 {
                let (path, start) = (&path, &start);
                scope.spawn(move || {
                    start.wait();
                    let mut book = Logbook::open_or_create(path, LATER).unwrap();
                    add_shelf(&mut book, &format!("shelf {nth}"));
                });
            }
        });
        assert_eq!(ask::<i64>(&path, "SELECT count(*) FROM shelf"), 4);
        assert_eq!(ask::<i64>(&path, "PRAGMA user_version"), 3);
        let unfinished = |name: &String| name.contains("partial");
        assert!(!names(folder.path()).iter().any(unfinished));
    }
}
