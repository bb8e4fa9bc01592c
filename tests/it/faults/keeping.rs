//! Commits, undo and renewal with the disk failing at every point in turn, once and for good.

use super::disk::{Disk, Fault, MARK};
use crate::store::{NOON, SHAPE, ask, dump, studio};
use rusqlite::ffi;
use std::path::{Path, PathBuf};
use stillcup::logbook::{Logbook, LogbookError};

const CODES: [i32; 3] = [
    ffi::SQLITE_IOERR_WRITE,
    ffi::SQLITE_FULL,
    ffi::SQLITE_IOERR_FSYNC,
];

/// A folder whose files' writes can be failed.
fn marked() -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::Builder::new().prefix(MARK).tempdir().unwrap();
    let path = folder.path().join("studio.db");
    (folder, path)
}

fn add(book: &mut Logbook, name: &str) -> Result<i64, LogbookError> {
    book.commit("put up", NOON, |w| {
        // Wide enough that one commit takes several pages.
        w.insert("jar", &[("label", "x".repeat(9000).into())])?;
        w.insert("shelf", &[("name", name.into())])
    })
}

fn holds(path: &Path, name: &str) -> bool {
    ask::<i64>(
        path,
        &format!("SELECT count(*) FROM shelf WHERE name = '{name}'"),
    ) == 1
}

/// Data and record agree, and no page is broken.
fn hold_whole(path: &Path) {
    assert_eq!(ask::<String>(path, "PRAGMA integrity_check"), "ok");
    let net = "SELECT sum(CASE kind WHEN 'undo' THEN -1 ELSE 1 END) FROM change";
    assert_eq!(
        ask::<i64>(path, "SELECT count(*) FROM shelf"),
        ask::<i64>(path, net)
    );
}

/// Runs `body` with each code, once and for good, at each point in turn until none is struck any more.
fn everywhere(body: impl Fn(&Disk, Fault)) {
    let disk = Disk::take();
    for code in CODES {
        for sticky in [false, true] {
            let mut fault = Fault {
                after: 0,
                code,
                sticky,
            };
            loop {
                body(&disk, fault);
                if !disk.struck() {
                    break;
                }
                fault.after += 1;
            }
            assert!(
                fault.after >= 3,
                "too few points to mean anything: {fault:?}"
            );
        }
    }
}

#[test]
fn a_commit_is_kept_or_not_as_it_is_said() {
    everywhere(|disk, fault| {
        let (_folder, path) = marked();
        let mut book = Logbook::open_or_create(&path, SHAPE).unwrap();
        add(&mut book, "a").unwrap();
        disk.fail(fault);
        let said = add(&mut book, "b");
        disk.mend();
        assert!(
            !matches!(said, Err(LogbookError::Program(_))),
            "a kind of its own: {said:?}"
        );
        let kept = match said {
            Ok(_) => true,
            // Neither is said: it is one of both, and stays so.
            Err(LogbookError::Unconfirmed { .. }) => holds(&path, "b"),
            Err(_) => false,
        };
        add(&mut book, "c").unwrap();
        assert_eq!(holds(&path, "b"), kept, "{fault:?}");
        drop(book);
        assert_eq!(holds(&path, "b"), kept, "{fault:?}");
        hold_whole(&path);
        drop(Logbook::open(&path, SHAPE).unwrap());
    });
}

#[test]
fn an_undo_is_kept_or_not_as_it_is_said() {
    everywhere(|disk, fault| {
        let (_folder, path) = marked();
        let mut book = Logbook::open_or_create(&path, SHAPE).unwrap();
        add(&mut book, "a").unwrap();
        add(&mut book, "b").unwrap();
        disk.fail(fault);
        let said = book.undo(NOON);
        disk.mend();
        let undone = match said {
            Ok(_) => true,
            Err(LogbookError::Unconfirmed { .. }) => !holds(&path, "b"),
            Err(_) => false,
        };
        drop(book);
        assert_eq!(!holds(&path, "b"), undone, "{fault:?}");
        hold_whole(&path);
    });
}

#[test]
fn a_studio_begun_on_a_failing_disk_is_begun_again() {
    everywhere(|disk, fault| {
        let (_folder, path) = marked();
        disk.fail(fault);
        let begun = Logbook::open_or_create(&path, SHAPE).map(drop);
        disk.mend();
        let mut book = Logbook::open_or_create(&path, SHAPE)
            .unwrap_or_else(|err| panic!("{err:?} after {begun:?} at {fault:?}"));
        add(&mut book, "a").unwrap();
        hold_whole(&path);
    });
}

#[test]
fn a_copy_onto_a_failing_disk_is_whole_or_not_there() {
    let (_source, mut book) = studio();
    add(&mut book, "a").unwrap();
    everywhere(|disk, fault| {
        let (folder, path) = marked();
        disk.fail(fault);
        let copied = book.copy_to(&path, &|_, _| ());
        disk.mend();
        assert_eq!(path.exists(), copied.is_ok(), "{fault:?}");
        let files = std::fs::read_dir(folder.path()).unwrap().count();
        assert_eq!(files, usize::from(copied.is_ok()), "{fault:?}");
        if copied.is_ok() {
            assert_eq!(dump(&path), dump(book.path()));
        }
    });
}
