//! Copies, and bringing one back.

use super::{NOON, SHAPE, add_jar, add_shelf, ask, dump, studio};
use chrono::TimeDelta;
use std::path::{Path, PathBuf};
use stillcup::logbook::{Backups, Logbook, LogbookError, Stamp, restore};

fn backup(book: &Logbook, folder: &Path) -> PathBuf {
    Backups::new(folder.join("backups"))
        .take(book, NOON, &|_, _| ())
        .unwrap()
        .kept
        .path
}

fn entries(folder: &Path) -> Vec<String> {
    let read = std::fs::read_dir(folder).unwrap();
    let mut names: Vec<String> = read
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

#[test]
fn a_copy_is_whole_and_one_file_while_others_hold_the_source() {
    let (folder, mut book) = studio();
    add_shelf(&mut book, "upper");
    let other = rusqlite::Connection::open(book.path()).unwrap();
    other
        .execute_batch("BEGIN IMMEDIATE; INSERT INTO shelf (name) VALUES ('not kept yet')")
        .unwrap();
    let copy = folder.path().join("copy.db");
    let copied = book.copy_to(&copy, &|_, _| ()).unwrap();
    // One shelf, one change, and SQLite's own row for the change's AUTOINCREMENT.
    assert_eq!(
        (copied.rows, copied.bytes),
        (3, std::fs::metadata(&copy).unwrap().len())
    );
    other.execute_batch("ROLLBACK").unwrap();
    assert!(
        !entries(folder.path())
            .iter()
            .any(|name| name.contains("partial"))
    );
    assert!(!entries(folder.path()).contains(&"copy.db-wal".to_owned()));
    assert_eq!(dump(&copy), ["shelf 1 upper"]);
    assert_eq!(
        book.copy_to(&copy, &|_, _| ()),
        Err(LogbookError::Exists(copy.clone()))
    );
    let mut copy = Logbook::open(&copy, SHAPE).unwrap();
    assert_eq!(
        copy.undo(NOON).unwrap().label,
        "put up upper",
        "a copy can be undone in"
    );
}

#[test]
fn a_copy_into_nowhere_leaves_nothing() {
    let (folder, book) = studio();
    let before = entries(folder.path());
    assert!(
        book.copy_to(&folder.path().join("no/such/copy.db"), &|_, _| ())
            .is_err()
    );
    assert_eq!(entries(folder.path()), before);
}

#[test]
fn backups_are_listed_newest_first_and_thinned() {
    let (folder, book) = studio();
    let place = folder.path().join("backups");
    let backups = Backups::new(&place);
    assert_eq!(backups.list(), Ok(vec![]));
    for hour in 0..3 {
        let at = Stamp {
            at_ms: NOON.at_ms + hour * 3_600_000,
            offset_min: 60,
        };
        backups.take(&book, at, &|_, _| ()).unwrap();
    }
    std::fs::write(place.join("a letter.txt"), "hello").unwrap();
    let listed = backups.list().unwrap();
    let hours: Vec<i64> = listed
        .iter()
        .map(|kept| (kept.at.timestamp_millis() - NOON.at_ms) / 3_600_000)
        .collect();
    assert_eq!(hours, [2, 1, 0]);
    let now = NOON.utc().unwrap() + TimeDelta::hours(5);
    assert_eq!(backups.thin(now).unwrap(), listed[1..]);
    assert_eq!(backups.list().unwrap(), listed[..1]);
    assert!(place.join("a letter.txt").exists());
}

#[test]
fn a_restore_keeps_the_present_file_aside() {
    let (folder, mut book) = studio();
    let path = book.path().to_owned();
    add_shelf(&mut book, "upper");
    let kept = backup(&book, folder.path());
    add_jar(&mut book, None, 1.0);
    let present = dump(&path);
    drop(book);
    let aside = restore(&path, &kept, NOON, SHAPE).unwrap().aside.unwrap();
    assert_eq!(dump(&path), ["shelf 1 upper"]);
    assert_eq!(dump(&aside), present);
    assert!(kept.exists());
    let second = restore(&path, &kept, NOON, SHAPE).unwrap().aside.unwrap();
    assert_ne!(aside, second);
    assert_eq!(
        dump(&aside),
        present,
        "an older file aside is never overwritten"
    );
    Logbook::open(&path, SHAPE).unwrap().undo(NOON).unwrap();
}

#[test]
fn a_restore_takes_the_log_of_the_present_file_along() {
    let (folder, mut book) = studio();
    let path = book.path().to_owned();
    let kept = backup(&book, folder.path());
    add_shelf(&mut book, "only in the log");
    // As after a crash: the file and its log, held by nobody.
    let crashed = folder.path().join("crashed.db");
    for suffix in ["", "-wal"] {
        let from = format!("{}{suffix}", path.display());
        std::fs::copy(from, format!("{}{suffix}", crashed.display())).unwrap();
    }
    let aside = restore(&crashed, &kept, NOON, SHAPE)
        .unwrap()
        .aside
        .unwrap();
    assert_eq!(dump(&aside), ["shelf 1 only in the log"]);
    assert!(dump(&crashed).is_empty());
}

#[test]
fn a_restore_over_noise_or_nothing_works() {
    let (folder, mut book) = studio();
    add_shelf(&mut book, "upper");
    let kept = backup(&book, folder.path());
    let noise = folder.path().join("noise.db");
    std::fs::write(&noise, [7; 5000]).unwrap();
    let aside = restore(&noise, &kept, NOON, SHAPE).unwrap().aside.unwrap();
    assert_eq!(std::fs::read(aside).unwrap(), [7; 5000]);
    assert_eq!(dump(&noise), ["shelf 1 upper"]);
    let fresh = folder.path().join("fresh.db");
    assert_eq!(restore(&fresh, &kept, NOON, SHAPE).unwrap().aside, None);
    assert_eq!(dump(&fresh), ["shelf 1 upper"]);
}

#[test]
fn a_restore_is_refused_while_the_file_is_held() {
    let (folder, mut book) = studio();
    add_shelf(&mut book, "upper");
    let kept = backup(&book, folder.path());
    let before = entries(folder.path());
    assert_eq!(
        restore(book.path(), &kept, NOON, SHAPE),
        Err(LogbookError::Busy)
    );
    assert_eq!(entries(folder.path()), before);
    add_shelf(&mut book, "lower");
    assert_eq!(ask::<i64>(book.path(), "SELECT count(*) FROM shelf"), 2);
}

#[test]
fn a_backup_that_is_not_whole_or_not_ours_is_refused() {
    let (folder, mut book) = studio();
    let path = book.path().to_owned();
    add_shelf(&mut book, "upper");
    let kept = backup(&book, folder.path());
    drop(book);
    let before = std::fs::read(&path).unwrap();
    let whole = std::fs::read(&kept).unwrap();
    let mut torn = whole.clone();
    torn[8192..12288].fill(0xEE);
    for bad in [
        &whole[..whole.len() - 1],
        b"",
        b"not a backup at all",
        &torn[..],
    ] {
        std::fs::write(&kept, bad).unwrap();
        let err = restore(&path, &kept, NOON, SHAPE).unwrap_err();
        assert!(matches!(err, LogbookError::BadBackup { .. }), "{err:?}");
    }
    std::fs::write(&kept, &whole).unwrap();
    let newer = rusqlite::Connection::open(&kept).unwrap();
    newer.execute_batch("PRAGMA user_version = 5").unwrap();
    drop(newer);
    let err = restore(&path, &kept, NOON, SHAPE).unwrap_err();
    assert_eq!(err, LogbookError::Newer { file: 5, ours: 2 });
    assert_eq!(std::fs::read(&path).unwrap(), before);
}
