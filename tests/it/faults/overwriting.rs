//! Whatever writes a file never writes over the studio, what SQLite keeps beside it, its copies or its photos, nor over
//! another studio, under whatever path they are named.

use super::program::{MORNING, begin, names, run};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

/// A studio with a day's copy, one kept by a restore and one photo.
fn studio() -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("s.db");
    begin(&file);
    run(&file, MORNING, &["restore", "1"]).done();
    run(&file, MORNING, &["cups"]).done();
    std::fs::create_dir(folder.path().join("s.db-photos")).unwrap();
    std::fs::write(folder.path().join("s.db-photos/a.jpg"), "photo").unwrap();
    (folder, file)
}

/// Every file under a folder, by its path, with its bytes.
fn contents(folder: &Path) -> BTreeMap<PathBuf, Vec<u8>> {
    let mut all = BTreeMap::new();
    for name in names(folder) {
        let path = folder.join(name);
        match path.is_dir() {
            true => all.extend(contents(&path)),
            false => drop(all.insert(path.clone(), std::fs::read(&path).unwrap())),
        }
    }
    all
}

/// Each file that is the studio's own.
fn own(file: &Path) -> Vec<PathBuf> {
    let own = contents(file.parent().unwrap()).into_keys().collect();
    assert_eq!(Vec::len(&own), 4, "studio, copy, aside, photo: {own:?}");
    own
}

/// The writers of files, each with its words before the path.
const WRITERS: [&[&str]; 2] = [&["csv", "cups"], &["export"]];

fn refuse(file: &Path, target: &Path) {
    let before = contents(file.parent().unwrap());
    for writer in WRITERS {
        for replace in [&["--replace"][..], &[]] {
            let path = target.display().to_string();
            let words = [writer, &[path.as_str()], replace].concat();
            let (sentence, _) = run(file, MORNING, &words).failed(1);
            assert!(sentence.contains(&path), "{sentence}");
        }
    }
    let unchanged = contents(file.parent().unwrap()) == before;
    assert!(unchanged, "{}", target.display());
}

#[test]
fn no_file_of_the_studio_is_written_over_under_any_of_its_names() {
    let (folder, file) = studio();
    let other = tempfile::tempdir().unwrap();
    for (nth, own) in own(&file).into_iter().enumerate() {
        refuse(&file, &own);
        let name = own.strip_prefix(folder.path()).unwrap();
        refuse(&file, &folder.path().join("s.db-copies/..").join(name));
        let link = other.path().join(format!("link{nth}"));
        std::os::unix::fs::symlink(&own, &link).unwrap();
        refuse(&file, &link);
        let twin = other.path().join(format!("twin{nth}"));
        std::fs::hard_link(&own, &twin).unwrap();
        refuse(&file, &twin);
    }
    let door = other.path().join("door");
    std::os::unix::fs::symlink(folder.path(), &door).unwrap();
    refuse(&file, &door.join("s.db"));
    refuse(&door.join("s.db"), &file);
}

#[test]
fn no_new_file_takes_a_name_that_sqlite_or_the_copies_would_take_for_theirs() {
    let (folder, file) = studio();
    for name in ["s.db-wal", "s.db-shm", "s.db-journal", "s.db-photos/b.csv"] {
        refuse(&file, &folder.path().join(name));
    }
    let dated = folder
        .path()
        .join("s.db-copies/studio-20270101T000000000Z.db");
    refuse(&file, &dated);
    let path = folder.path().join("s.db-wal").display().to_string();
    run(&file, MORNING, &["backup", &path]).failed(1);
    assert!(!folder.path().join("s.db-wal").exists());
}

#[test]
fn a_studio_reached_through_a_link_is_no_less_protected() {
    let (folder, file) = studio();
    let other = tempfile::tempdir().unwrap();
    let link = other.path().join("linked.db");
    std::os::unix::fs::symlink(&file, &link).unwrap();
    run(&link, MORNING, &["cups"]).done();
    for own in own(&file) {
        refuse(&link, &own);
    }
    refuse(&link, &folder.path().join("s.db-wal"));
    assert!(link.is_symlink());
}

#[test]
fn a_studio_of_another_name_a_pipe_and_a_device_are_not_written_over() {
    let (folder, file) = studio();
    let other = tempfile::tempdir().unwrap();
    let path = other.path().join("theirs.db");
    begin(&path);
    let pipe = other.path().join("pipe");
    let made = std::process::Command::new("mkfifo").arg(&pipe).status();
    assert!(made.unwrap().success());
    let before = std::fs::read(&path).unwrap();
    for target in [&path, &pipe, &other.path().to_path_buf()] {
        refuse(&file, target);
    }
    assert_eq!(std::fs::read(&path).unwrap(), before);
    drop(folder);
}

#[test]
fn a_file_of_ones_own_is_replaced_when_asked_and_a_link_stays_a_link() {
    let (_folder, file) = studio();
    let other = tempfile::tempdir().unwrap();
    let (sheet, link) = (other.path().join("cups.csv"), other.path().join("link.csv"));
    std::fs::write(&sheet, "old").unwrap();
    std::os::unix::fs::symlink(&sheet, &link).unwrap();
    let path = link.display().to_string();
    run(&file, MORNING, &["csv", "cups", &path, "--replace"]).done();
    assert!(link.is_symlink());
    assert!(std::fs::read_to_string(&sheet).unwrap().contains("mark"));
    assert_eq!(names(other.path()), ["cups.csv", "link.csv"]);
}
