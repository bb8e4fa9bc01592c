//! A studio that another hand altered, a log of another file's, a file of our mark alone: named for what it is, and
//! nothing written into it.

use super::program::{MORNING, alter, names, run, studio};
use rusqlite::Connection;
use std::path::Path;

/// The sentence of a command that is refused with not a byte of the file changed.
fn refused(file: &Path) -> String {
    let before = std::fs::read(file).unwrap();
    let (sentence, _) = run(file, MORNING, &["read", "K7", "2.8"]).failed(3);
    let (second, _) = run(file, MORNING, &["cups"]).failed(3);
    assert_eq!(sentence, second);
    assert!(std::fs::read(file).unwrap() == before);
    sentence
}

#[test]
fn what_another_hand_put_into_the_schema_is_named() {
    for (sql, named) in [
        (
            "CREATE TRIGGER t AFTER INSERT ON entry BEGIN DELETE FROM cup; END",
            "trigger t",
        ),
        ("CREATE VIEW v AS SELECT 1", "view v"),
        ("CREATE TABLE extra (id INTEGER PRIMARY KEY)", "table extra"),
        ("DROP INDEX cup_living_mark", "index cup_living_mark"),
        ("ALTER TABLE cup ADD COLUMN more TEXT", "table cup"),
    ] {
        let (_folder, file) = studio();
        alter(&file, sql);
        let sentence = refused(&file);
        assert!(
            sentence.contains("altered") && sentence.contains(named),
            "{sentence}"
        );
    }
}

#[test]
fn a_file_of_our_mark_without_our_tables_is_refused() {
    for sql in [
        "PRAGMA application_id = 1400128368; VACUUM",
        "PRAGMA application_id = 1400128368; PRAGMA user_version = 5; CREATE TABLE theirs (x)",
    ] {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("s.db");
        alter(&file, sql);
        assert!(refused(&file).contains("altered"));
        assert_eq!(names(folder.path()), ["s.db"]);
    }
}

#[test]
fn a_row_that_no_command_writes_is_damage_with_its_table_and_number_and_the_rest_is_read() {
    for (sql, named) in [
        ("UPDATE entry SET mound_s = -1 WHERE id = 1", "entry 1"),
        ("UPDATE material SET density = 0 WHERE id = 1", "material 1"),
        (
            "PRAGMA foreign_keys = 0; UPDATE cup SET variant_id = 77",
            "cup 1",
        ),
        (
            "PRAGMA ignore_check_constraints = 1; UPDATE put SET material_id = NULL, source_cup_id = cup_id",
            "put 1",
        ),
        ("UPDATE cup SET at_ms = 9223372036854775807", "cup 1"),
    ] {
        let (_folder, file) = studio();
        alter(&file, sql);
        let (sentence, hint) = run(
            &file,
            MORNING,
            &["material", "add", "Moss", "--kind", "paint"],
        )
        .failed(3);
        assert!(
            sentence.contains("damaged") && sentence.contains(named),
            "{sentence}"
        );
        assert!(hint.contains("restore 1"), "{hint}");
        let said = run(&file, MORNING, &["materials"]).done();
        assert!(
            said.contains("! read only: ") && said.contains(named) && said.contains("Blue paint"),
            "{said}"
        );
    }
}

#[test]
fn recipes_that_go_round_are_damage_and_never_a_crash() {
    let (_folder, file) = studio();
    run(
        &file,
        MORNING,
        &[
            "recipe",
            "add",
            "Sky",
            "--layer",
            "colour",
            "--part",
            "River blue 1",
        ],
    )
    .done();
    alter(
        &file,
        "UPDATE part SET material_id = NULL, recipe_id = (SELECT id FROM recipe WHERE name = 'Sky') WHERE id = 1",
    );
    for words in [
        &["recipes"][..],
        &["cost", "K7"],
        &["plan", "40x50cm"],
        &["shelf"],
        &["findings"],
        &["cups"],
    ] {
        let said = run(&file, MORNING, words);
        assert!(matches!(said.code, Some(0..=3)), "{words:?}: {said:?}");
    }
    let (sentence, _) = run(&file, MORNING, &["mix", "Sky", "--volume", "50ml"]).failed(3);
    assert!(sentence.contains("would go into itself"), "{sentence}");
}

#[test]
fn an_entry_of_a_kind_to_come_is_a_newer_programs_and_stops_nothing_else() {
    let (_folder, file) = studio();
    alter(&file, "UPDATE entry SET kind = 'warmed' WHERE id = 1");
    let (sentence, hint) = run(&file, MORNING, &["cup", "K7"]).failed(3);
    assert!(
        sentence.contains("newer Stillcup") && !sentence.contains("damaged"),
        "{sentence}"
    );
    assert!(hint.contains("newer program"), "{hint}");
    run(
        &file,
        MORNING,
        &["material", "add", "Moss", "--kind", "paint"],
    )
    .done();
}

// Each of these words is one of a list that a later build may have made longer; other lists the file itself checks.
#[test]
fn every_word_of_a_list_that_is_not_known_is_a_newer_programs() {
    for (change, words) in [
        (
            "UPDATE entry SET kind = 'looked', word = 'foamy' WHERE id = 1",
            &["cup", "K7"][..],
        ),
        (
            "UPDATE entry SET kind = 'ended', word = 'given' WHERE id = 1",
            &["cup", "K7"],
        ),
    ] {
        let (_folder, file) = studio();
        alter(&file, change);
        let (sentence, _) = run(&file, MORNING, words).failed(3);
        let newer = sentence.contains("newer Stillcup") && !sentence.contains("damaged");
        assert!(newer, "{change}: {sentence}");
    }
}

#[test]
fn the_log_of_another_studio_is_refused_and_a_file_emptied_beside_its_log_is_lost() {
    let (folder, file) = studio();
    let (_other, theirs) = studio();
    let open = Connection::open(&theirs).unwrap();
    let _: i64 = open
        .query_row("SELECT count(*) FROM cup", [], |row| row.get(0))
        .unwrap();
    run(&theirs, MORNING, &["read", "K7", "2.8"]).done();
    let log = folder.path().join("s.db-wal");
    std::fs::copy(theirs.with_file_name("s.db-wal"), &log).unwrap();
    let sentence = refused(&file);
    assert!(sentence.contains("is not that file's"), "{sentence}");
    // With no copies: the file is cut to nothing.
    std::fs::remove_dir_all(folder.path().join("s.db-copies")).unwrap();
    std::fs::write(&file, b"").unwrap();
    let bytes = std::fs::read(&log).unwrap();
    let sentence = refused(&file);
    assert!(sentence.contains("log lies there"), "{sentence}");
    assert!(
        std::fs::read(&log).unwrap() == bytes,
        "the log may hold all there is"
    );
}
