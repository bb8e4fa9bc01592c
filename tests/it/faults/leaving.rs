//! Every file that leaves, against what may go wrong where it goes: a sentence each, nothing half-written, what stood there stays.

use super::denied::{House, allow};
use super::full::SmallDisk;
use super::program::{MORNING, Said, begin, names, run};
use std::path::{Path, PathBuf};
use tempfile::TempDir;

/// Each file that leaves: the words before its path, and its ending.
const LEAVING: [(&[&str], &str); 9] = [
    (&["labels", "--living", "--out"], "pdf"),
    (&["session", "1", "--out"], "pdf"),
    (&["certificate", "1", "--out"], "pdf"),
    (&["certificate", "1", "--out"], "html"),
    (&["report", "--out"], "html"),
    (&["calendar", "--out"], "ics"),
    (&["ledger", "--csv"], "csv"),
    (&["csv", "cups"], "csv"),
    (&["export"], "json"),
];

/// What is needed for all of them: a kept plan and a poured picture.
const NEEDED: [&[&str]; 2] = [
    &[
        "plan",
        "--panel",
        "20x30cm",
        "--recipe",
        "River blue",
        "--keep",
    ],
    &["pour", "--panel", "20x30cm", "--layer", "K7:60ml"],
];

fn studio() -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("s.db");
    begin(&file);
    for words in NEEDED {
        run(&file, MORNING, words).done();
    }
    (folder, file)
}

/// Writes each file to where `at` leads, replacing what is there.
fn each(at: impl Fn(&str) -> PathBuf, run: impl Fn(&[&str]) -> Said, seen: impl Fn(&Path, Said)) {
    for (words, ending) in LEAVING {
        let target = at(ending);
        let path = target.display().to_string();
        let said = run(&[words, &[path.as_str(), "--replace"]].concat());
        seen(&target, said);
    }
}

#[test]
fn a_folder_that_is_missing_is_named_and_not_made() {
    let (folder, file) = studio();
    let at = |ending: &str| folder.path().join(format!("missing/deep/out.{ending}"));
    each(
        at,
        |words| run(&file, MORNING, words),
        |_, said| {
            let (sentence, _) = said.failed(1);
            assert!(sentence.contains("missing/deep"), "{sentence}");
        },
    );
    assert!(!folder.path().join("missing").exists());
}

#[test]
fn a_folder_in_the_place_of_the_file_is_said_so() {
    let (folder, file) = studio();
    for ending in ["pdf", "html", "ics", "csv", "json"] {
        std::fs::create_dir(folder.path().join(format!("out.{ending}"))).unwrap();
    }
    let at = |ending: &str| folder.path().join(format!("out.{ending}"));
    each(
        at,
        |words| run(&file, MORNING, words),
        |target, said| {
            let (sentence, _) = said.failed(1);
            assert!(
                sentence.contains(&target.display().to_string()),
                "{sentence}"
            );
            assert_eq!(names(target), [""; 0]);
        },
    );
}

/// A name that would move a cursor or turn the writing round, and one as long as no file system takes.
#[test]
fn an_odd_name_is_written_to_and_told_harmlessly_and_one_too_long_is_a_sentence() {
    let (folder, file) = studio();
    let odd = |ending: &str| {
        folder
            .path()
            .join(format!("a\u{1b}[2J\n\u{202e}b.{ending}"))
    };
    each(
        odd,
        |words| run(&file, MORNING, words),
        |target, said| {
            assert!(target.is_file());
            let said = said.done();
            assert!(
                !said.contains(['\u{1b}', '\u{202e}']) && said.lines().count() <= 3,
                "{said:?}"
            );
        },
    );
    let before = names(folder.path());
    let long = |ending: &str| {
        folder
            .path()
            .join(format!("{}.{ending}", "long".repeat(100)))
    };
    each(
        long,
        |words| run(&file, MORNING, words),
        |_, said| {
            said.failed(3);
        },
    );
    assert_eq!(names(folder.path()), before);
}

#[test]
fn a_full_disk_leaves_what_stood_there_and_nothing_beside_it() {
    let Some(disk) = SmallDisk::mounted(64 << 10) else {
        println!("skipped: nothing may be mounted here");
        return;
    };
    let (_folder, file) = studio();
    let at = |ending: &str| disk.folder.path().join(format!("out.{ending}"));
    for ending in ["pdf", "html", "ics", "csv", "json"] {
        std::fs::write(at(ending), "the old one").unwrap();
    }
    let filled = std::fs::write(disk.folder.path().join("ballast"), vec![7; 128 << 10]);
    assert!(filled.is_err(), "the disk is full");
    let before = names(disk.folder.path());
    each(
        at,
        |words| run(&file, MORNING, words),
        |target, said| {
            let (sentence, hint) = said.failed(3);
            let named = sentence.contains("the disk is full");
            assert!(named && hint.contains("space"), "{sentence} {hint}");
            assert_eq!(std::fs::read_to_string(target).unwrap(), "the old one");
            assert_eq!(names(disk.folder.path()), before);
        },
    );
}

#[test]
fn a_folder_that_may_not_be_written_in_is_a_sentence() {
    let house = House::new();
    for words in NEEDED {
        house.run(words).done();
    }
    let shut = house.shut();
    let at = |ending: &str| shut.join(format!("out.{ending}"));
    each(
        at,
        |words| house.run(words),
        |target, said| {
            let (sentence, hint) = said.failed(3);
            let path = target.display().to_string();
            assert!(
                sentence.contains(&path) && hint.contains("permissions"),
                "{sentence} {hint}"
            );
        },
    );
    assert_eq!(names(&shut), [""; 0]);
    allow(&shut, 0o755);
}
