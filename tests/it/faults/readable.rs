//! What cannot be written can be read all the same, and is said to be read only.

use super::program::{MORNING, program, run, studio};
use crate::terminal::hands::Hands;
use rusqlite::Connection;
use std::path::Path;

/// Asks all that only reads, and hears each time why nothing may be written.
fn read_all(file: &Path, why: &str) {
    let out = tempfile::tempdir().unwrap();
    let export = out.path().join("out.json").display().to_string();
    for words in [
        &["cups"][..],
        &["cup", "K7"],
        &["findings"],
        &["history"],
        &["export", &export],
    ] {
        let said = run(file, MORNING, words).done();
        assert!(
            said.contains("! read only: ") && said.contains(why),
            "{words:?}: {said}"
        );
    }
    run(file, MORNING, &["read", "K7", "2.8"]).failed(3);
}

#[test]
fn a_file_that_another_program_holds_whole_is_read_and_a_write_waits_and_says_so() {
    let (_folder, file) = studio();
    let other = Connection::open(&file).unwrap();
    other
        .execute_batch(
            "PRAGMA locking_mode = EXCLUSIVE; UPDATE material SET hazard = 'held' WHERE id = 1",
        )
        .unwrap();
    let said = run(&file, MORNING, &["cups"]).done();
    assert!(
        said.contains("K7") && said.contains("held by another program"),
        "{said}"
    );
    drop(other);
}

#[test]
fn a_write_lock_stops_no_reading_and_a_write_says_that_it_waits() {
    let (_folder, file) = studio();
    let other = Connection::open(&file).unwrap();
    other.execute_batch("BEGIN IMMEDIATE").unwrap();
    let said = run(&file, MORNING, &["cups"]);
    assert!(!said.err.contains("waiting"), "{said:?}");
    assert!(said.done().contains("K7"));
    let said = run(&file, MORNING, &["read", "K7", "2.8"]);
    assert_eq!(said.code, Some(3));
    let lines: Vec<&str> = said.err.lines().collect();
    assert!(
        lines[0].contains("waiting for it") && lines[1].contains("held by another"),
        "{said:?}"
    );
    // One that waits goes through when the lock ends.
    let mut child = program(&file, MORNING)
        .args(["read", "K7", "2.8"])
        .stderr(std::process::Stdio::piped())
        .stdout(std::process::Stdio::null())
        .spawn()
        .unwrap();
    let mut line = String::new();
    let mut err = std::io::BufReader::new(child.stderr.take().unwrap());
    std::io::BufRead::read_line(&mut err, &mut line).unwrap();
    assert!(line.contains("waiting for it"), "{line}");
    other.execute_batch("ROLLBACK").unwrap();
    assert!(child.wait().unwrap().success());
}

#[test]
fn a_screen_keeps_the_form_while_the_file_is_held_and_does_the_deed_when_it_is_free() {
    let (_folder, file) = studio();
    let mut hands = Hands::on_file(&file, MORNING);
    hands.see_text("resting K7");
    let other = Connection::open(&file).unwrap();
    other.execute_batch("BEGIN IMMEDIATE").unwrap();
    hands.press("m");
    hands.type_amount("river");
    hands.press("Tab");
    hands.type_amount("75 ml");
    hands.press("Enter");
    let shown = hands.see_text("held by another program");
    assert!(
        shown.contains("75 ml") && shown.contains("Mix a cup"),
        "{shown}"
    );
    other.execute_batch("ROLLBACK").unwrap();
    hands.see_text("on the lid: River blue v1, 75 ml");
    hands.press("q");
    assert!(hands.see_closed().1);
}

#[test]
fn a_damaged_page_is_said_once_with_the_way_back_and_nothing_is_written_over_it() {
    let (_folder, file) = studio();
    let root: i64 = crate::store::ask(
        &file,
        "SELECT rootpage FROM sqlite_schema WHERE name = 'judgement'",
    );
    let mut bytes = std::fs::read(&file).unwrap();
    let at = usize::try_from(root - 1).unwrap() * 4096;
    bytes[at..at + 4096].fill(0xA5);
    std::fs::write(&file, &bytes).unwrap();
    read_all_damaged(&file);
    let (sentence, hint) = run(&file, MORNING, &["read", "K7", "2.8"]).failed(3);
    assert!(
        sentence.contains("damaged") && hint.contains("restore 1"),
        "{sentence} {hint}"
    );
    assert!(std::fs::read(&file).unwrap() == bytes);
    let hands = Hands::on_file(&file, MORNING);
    let shown = hands.see_text("read only: ");
    assert!(shown.contains("K7"), "{shown}");
}

fn read_all_damaged(file: &Path) {
    for words in [&["cups"][..], &["cup", "K7"], &["history"], &["materials"]] {
        let said = run(file, MORNING, words).done();
        assert!(
            said.contains("! read only: the studio file is damaged"),
            "{words:?}: {said}"
        );
        assert!(said.contains("restore 1"), "{said}");
    }
}

#[test]
fn an_import_that_is_bad_says_nothing_of_the_studio() {
    let (folder, file) = studio();
    let out = folder.path().join("out.json");
    run(&file, MORNING, &["export", out.to_str().unwrap()]).done();
    let text = std::fs::read_to_string(&out).unwrap();
    let other = folder.path().join("other.db");
    for (from, to) in [
        ("\"kind\":\"do\"", "\"kind\":\"dug\""),
        ("\"kind\":\"mixed\"", "\"kind\":\"warmed\""),
        ("\"rows\":\"[", "\"rows\":\"{"),
        ("\"offset_min\":60", "\"offset_min\":99999"),
    ] {
        assert!(text.contains(from), "{from}");
        std::fs::write(&out, text.replacen(from, to, 1)).unwrap();
        let (sentence, hint) = run(&other, MORNING, &["import", out.to_str().unwrap()]).failed(1);
        assert!(
            !sentence.contains("damaged") && !hint.contains("restore"),
            "{sentence} {hint}"
        );
    }
}

#[test]
fn a_file_on_a_medium_that_may_only_be_read_is_read() {
    let (folder, file) = studio();
    let mounted = std::process::Command::new("mount")
        .args(["--bind", "-o", "ro"])
        .arg(folder.path())
        .arg(folder.path())
        .output();
    if !mounted.is_ok_and(|done| done.status.success()) {
        println!("nothing may be mounted here: only permissions are tested");
        return;
    }
    let remounted = std::process::Command::new("mount")
        .args(["-o", "remount,bind,ro"])
        .arg(folder.path())
        .status();
    let read_only = std::fs::write(folder.path().join("x"), "").is_err();
    if remounted.unwrap().success() && read_only {
        read_all(&file, "may only be read");
    }
    let _ = std::process::Command::new("umount")
        .arg("-l")
        .arg(folder.path())
        .status();
    assert!(read_only);
}
