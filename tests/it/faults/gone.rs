//! A studio's file that is removed or replaced while a program has it open: noticed and said, and nothing is written
//! where nobody would ever find it.

use super::program::{MORNING, begin, names, run};
use crate::terminal::hands::Hands;
use std::io::Read;
use std::path::{Path, PathBuf};
use stillcup::studio::{StoreError, Studio, StudioError};
use tempfile::TempDir;

fn studio() -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("studio.db");
    begin(&file);
    (folder, file)
}

/// A screen on the studio with a mix typed in.
fn typing(file: &Path) -> Hands {
    let mut hands = Hands::on_file(file, MORNING);
    hands.see_text("resting K7");
    hands.press("m");
    hands.type_amount("river");
    hands.press("Tab");
    hands.type_amount("75 ml");
    hands.see_text("75 ml           Blue paint");
    hands
}

fn cups(file: &Path) -> i64 {
    crate::store::ask(file, "SELECT count(*) FROM cup")
}

#[test]
fn a_file_removed_under_a_screen_is_told_of_without_a_key() {
    let (folder, file) = studio();
    let hands = Hands::on_file(&file, MORNING);
    hands.see_text("resting K7");
    let aside = folder.path().join("elsewhere.db");
    std::fs::rename(&file, &aside).unwrap();
    hands.see_text("is gone; nothing was kept");
}

#[test]
fn what_is_typed_stays_and_is_kept_once_the_file_is_back() {
    let (folder, file) = studio();
    let mut hands = typing(&file);
    let aside = folder.path().join("elsewhere.db");
    std::fs::rename(&file, &aside).unwrap();
    hands.press("Enter");
    let shown = hands.see_text("is gone; nothing was kept");
    assert!(
        shown.contains("75 ml") && shown.contains("Mix a cup"),
        "{shown}"
    );
    assert_eq!(
        names(folder.path())
            .iter()
            .filter(|name| *name == "studio.db")
            .count(),
        0,
        "none is made in its place"
    );
    std::fs::rename(&aside, &file).unwrap();
    assert_eq!(cups(&file), 1, "nothing went into the file that was gone");
    hands.press("Enter");
    hands.see_text("on the lid: River blue v1, 75 ml");
    assert_eq!(cups(&file), 2);
}

#[test]
fn a_file_brought_back_from_a_copy_meanwhile_is_followed() {
    let (_folder, file) = studio();
    run(&file, "2026-11-25T10:30:00+01:00", &["backup"]).done();
    let mut hands = typing(&file);
    std::fs::remove_file(&file).unwrap();
    hands.press("Enter");
    hands.see_text("is gone; nothing was kept");
    // A command finds it lost, and does not begin an empty one in its place.
    let (sentence, hint) = run(&file, "2026-11-25T10:40:00+01:00", &["cups"]).failed(3);
    assert!(
        sentence.contains("gone or empty, but there are copies"),
        "{sentence}"
    );
    assert!(hint.contains("restore 1"), "{hint}");
    run(&file, "2026-11-25T10:40:00+01:00", &["restore", "newest"]).done();
    hands.see_text("another file was put in the place of");
    hands.press("Enter");
    hands.see_text("on the lid: River blue v1, 75 ml");
    assert_eq!(cups(&file), 2);
    assert_eq!(
        crate::store::ask::<String>(&file, "PRAGMA integrity_check"),
        "ok"
    );
    hands.press("q");
    assert!(hands.see_closed().1);
    assert_eq!(cups(&file), 2, "nor does leaving undo it");
}

#[test]
fn another_studio_put_in_its_place_is_told_of_and_shown() {
    let (folder, file) = studio();
    let other = folder.path().join("other.db");
    begin(&other);
    run(
        &other,
        MORNING,
        &["mix", "River blue", "--volume", "90ml", "--mark", "X9"],
    )
    .done();
    let mut hands = Hands::on_file(&file, MORNING);
    hands.see_text("resting K7");
    let aside = folder.path().join("elsewhere.db");
    std::fs::rename(&file, &aside).unwrap();
    let old = std::fs::read(&aside).unwrap();
    std::fs::rename(&other, &file).unwrap();
    hands.see_text("another file was put in the place of");
    hands.see_text("resting X9");
    hands.press("l Enter");
    hands.see_text("on the lid: River blue v1, 90 ml");
    assert_eq!(cups(&file), 3);
    assert_eq!(
        std::fs::read(&aside).unwrap(),
        old,
        "the file moved away is left as it was"
    );
}

/// Half of a file, and once that is read, another file's end.
struct Removing<'a> {
    halves: [&'a [u8]; 2],
    file: &'a Path,
}

impl Read for Removing<'_> {
    fn read(&mut self, buffer: &mut [u8]) -> std::io::Result<usize> {
        let [first, second] = &mut self.halves;
        if !first.is_empty() {
            return first.read(buffer);
        }
        let _removed_once = std::fs::remove_file(self.file);
        second.read(buffer)
    }
}

/// An import reads its file while it writes: what is removed meanwhile must not swallow it.
#[test]
fn a_file_removed_under_a_long_command_is_told_of() {
    let (folder, file) = studio();
    let json = folder.path().join("studio.json");
    run(&file, MORNING, &["export", json.to_str().unwrap()]).done();
    let other = folder.path().join("other.db");
    let mut studio = Studio::open(&other).unwrap();
    let bytes = std::fs::read(&json).unwrap();
    let (first, second) = bytes.split_at(bytes.len() / 2);
    let removing = Removing {
        halves: [first, second],
        file: &other,
    };
    let now = crate::terminal::now();
    let err = stillcup::exchange::import(&mut studio, removing, &now).unwrap_err();
    assert!(
        matches!(err, StudioError::Store(StoreError::Gone(_))),
        "{err:?}"
    );
    assert!(!other.exists());
}

/// The log of a lost file is not taken for that of a new one, nor for that of a copy.
#[test]
fn the_log_of_a_lost_file_harms_no_other() {
    let (folder, file) = studio();
    let copy = folder.path().join("copy.db");
    run(&file, MORNING, &["backup", copy.to_str().unwrap()]).done();
    let log = folder.path().join("studio.db-wal");
    let kept = {
        let conn = rusqlite::Connection::open(&file).unwrap();
        conn.execute_batch("PRAGMA wal_autocheckpoint = 0; UPDATE cup SET volume_ml = 77")
            .unwrap();
        std::fs::read(&log).unwrap()
    };
    std::fs::remove_file(&file).unwrap();
    std::fs::remove_dir_all(folder.path().join("studio.db-copies")).unwrap();
    std::fs::write(&log, &kept).unwrap();
    let (sentence, _) = run(&file, MORNING, &["cups"]).failed(3);
    assert!(
        sentence.contains("its unfinished log lies there"),
        "{sentence}"
    );
    assert!(!file.exists());
    assert_eq!(std::fs::read(&log).unwrap(), kept);
    run(&file, MORNING, &["restore", copy.to_str().unwrap()]).done();
    assert_eq!(
        crate::store::ask::<f64>(&file, "SELECT volume_ml FROM cup"),
        120.0
    );
    assert_eq!(
        crate::store::ask::<String>(&file, "PRAGMA integrity_check"),
        "ok"
    );
    let aside = names(folder.path());
    assert!(
        aside
            .iter()
            .any(|name| name.contains(".aside-") && name.ends_with("-wal")),
        "{aside:?}"
    );
}
