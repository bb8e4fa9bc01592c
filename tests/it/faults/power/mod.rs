//! The power falls. Every call by which the real process changes a file is heard (`strace`) and done again on a disk that
//! keeps apart what was synced; before every sync and every change of a name, and after every word that the process
//! says, the power falls on it, with what was not synced kept, dropped, half-written or out of order. What is left is
//! opened as the next command would: it is the state last acknowledged, or for a deed on its way the one before or after
//! it; and so is every copy, export and photo.

mod disk;
mod oracle;
mod trace;

use super::program::{self, MORNING};
use disk::{Disk, Fall, Files};
use oracle::{Rehearsal, Told};
use std::io::{BufRead, BufReader, Read};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdout, Command, Stdio};
use tempfile::TempDir;

const ONE: &[u8] = include_bytes!("../../store/released/0001.db");
const SIX: &[u8] = include_bytes!("../../store/released/0006.db");

/// How what was not synced is lost; `STILLCUP_POWER` draws of a mixture, two by default.
fn falls() -> Vec<Fall> {
    let draws = std::env::var("STILLCUP_POWER").ok();
    let draws = draws.and_then(|n| n.parse().ok()).unwrap_or(2);
    let whole = [
        Fall::Dropped,
        Fall::Kept,
        Fall::NamesAlone,
        Fall::BytesAlone,
    ];
    whole
        .into_iter()
        .chain((0..draws).map(Fall::Mixed))
        .collect()
}

/// A deed of [`rehearse`]: the log is folded in while a screen stays open.
const FOLDED: &str = "the log is folded in";

/// A folder, the studio in it, and whether calls can be heard at all.
fn stage() -> Option<(TempDir, PathBuf)> {
    if !trace::can_hear() {
        println!("skipped: no strace here, so the power does not fall");
        return None;
    }
    let folder = tempfile::tempdir().unwrap();
    let root = folder.path().canonicalize().unwrap();
    Some((folder, root.join("s.db")))
}

/// Runs deeds one after the other, each heard; a word `@name` is a file in the studio's folder.
fn rehearse(file: &Path, deeds: &[&str]) -> Rehearsal {
    let root = file.parent().unwrap();
    let first = Disk::read(root);
    let mut seen = first.clone();
    let mut processes = Vec::new();
    for deed in deeds {
        let words: Vec<String> = deed.split('|').map(|word| named(word, root)).collect();
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        let calls = match *deed {
            FOLDED => trace::run_child(file, "faults::power::fold_the_log_in"),
            _ => trace::run(file, MORNING, &words),
        };
        seen.close_all();
        calls.iter().for_each(|call| seen.apply(call));
        let same = stored(&Disk::read(root)) == stored(&seen);
        assert!(same, "every call of {deed} was heard");
        processes.push(calls);
    }
    Rehearsal { first, processes }
}

/// Its files, but for memory that is shared.
fn stored(disk: &Disk) -> Files {
    let mut files = disk.seen();
    files.retain(|path, _| !path.ends_with("s.db-shm"));
    files
}

/// Not a test of its own: what a long session does now and then, so that the log is begun anew.
#[test]
#[ignore = "run as a child by the tests below"]
fn fold_the_log_in() {
    let Some(file) = std::env::var_os(trace::STUDIO) else {
        return;
    };
    let conn = rusqlite::Connection::open(file).unwrap();
    let all = "PRAGMA wal_checkpoint(PASSIVE)";
    let folded: (i64, i64) = conn
        .query_row(all, [], |row| Ok((row.get(1)?, row.get(2)?)))
        .unwrap();
    assert!(folded.0 > 0 && folded.0 == folded.1, "{folded:?}");
}

fn named(word: &str, root: &Path) -> String {
    match word.strip_prefix('@') {
        Some(name) => root.join(name).display().to_string(),
        None => word.to_owned(),
    }
}

fn holds(told: &Told) {
    println!("{} falls, {} different states", told.falls, told.states);
    assert!(told.states > 15, "too few to mean anything: {told:?}");
    let first: Vec<&String> = told.faults.iter().take(8).collect();
    assert!(told.faults.is_empty(), "{}: {first:#?}", told.faults.len());
}

/// What a folder holds before the first deed that is heard.
fn begun(file: &Path, deeds: &[&str]) {
    program::begin(file);
    let root = file.parent().unwrap();
    for deed in deeds {
        let words: Vec<String> = deed.split('|').map(|word| named(word, root)).collect();
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        program::run(file, MORNING, &words).done();
    }
}

fn photo() -> String {
    let folder = env!("CARGO_MANIFEST_DIR");
    format!("photo|1|{folder}/tests/data/cells/panel_easy.png")
}

fn outlives(file: &Path, deeds: &[&str]) {
    holds(&rehearse(file, deeds).fall_everywhere(&falls(), true));
}

#[test]
fn a_studio_that_begins_outlives_the_power() {
    let Some((_folder, file)) = stage() else {
        return;
    };
    outlives(
        &file,
        &[
            "material|add|Blue paint|--kind|paint",
            "material|add|Water|--kind|thinner",
        ],
    );
}

#[test]
fn a_day_of_deeds_outlives_the_power() {
    let Some((_folder, file)) = stage() else {
        return;
    };
    begun(&file, &[]);
    outlives(
        &file,
        &[
            "read|K7|3.6",
            "thin|K7|4.5ml|--mound|2.6",
            "stir|K7|4m",
            "look|K7|clear",
            "open|K7",
            "cap|K7",
            "undo",
            "redo",
            "pour|--panel|40x30cm|--layer|K7:80ml",
            "judge|1|--cells|4|--kept",
            "title|1|River in May|--asking|240",
        ],
    );
}

/// The log grows, is folded in and begins anew, with nobody closing the file.
#[test]
fn deeds_beside_an_open_screen_outlive_the_power() {
    let Some((_folder, file)) = stage() else {
        return;
    };
    begun(&file, &["pour|--panel|40x30cm|--layer|K7:80ml"]);
    let mut screen = Open::on(&file);
    let photo = photo();
    let deeds = [
        "read|K7|3.6",
        "read|K7|3.5",
        FOLDED,
        "read|K7|3.4",
        &photo,
        FOLDED,
        "undo",
        "read|K7|3.3",
    ];
    outlives(&file, &deeds);
    screen.close();
}

/// Another program that has the studio open. Not this one: whoever reads a file as bytes gives up all locks that the same
/// program has on it.
struct Open(Child, BufReader<ChildStdout>);

impl Open {
    fn on(file: &Path) -> Self {
        let mut command = Command::new(std::env::current_exe().unwrap());
        command.args(["--exact", "faults::power::hold_it_open", "--ignored"]);
        command.arg("--nocapture").env(trace::STUDIO, file);
        command.stdin(Stdio::piped()).stdout(Stdio::piped());
        let mut child = command.spawn().unwrap();
        let mut said = BufReader::new(child.stdout.take().unwrap());
        let lines = said.by_ref().lines().map_while(Result::ok);
        assert!({ lines }.any(|line| line == HELD));
        Self(child, said)
    }

    fn close(&mut self) {
        drop(self.0.stdin.take());
        std::io::copy(&mut self.1, &mut std::io::sink()).unwrap();
        assert!(self.0.wait().unwrap().success());
    }
}

const HELD: &str = "it is open";

/// Not a test of its own: has the studio open until its input ends.
#[test]
#[ignore = "run as a child by the test above"]
fn hold_it_open() {
    let Some(file) = std::env::var_os(trace::STUDIO) else {
        return;
    };
    let conn = rusqlite::Connection::open(file).unwrap();
    let sql = "SELECT count(*) FROM cup";
    let cups: i64 = conn.query_row(sql, [], |row| row.get(0)).unwrap();
    println!("\n{HELD}");
    std::io::copy(&mut std::io::stdin(), &mut std::io::sink()).unwrap();
    assert!(cups > 0);
}

#[test]
fn what_leaves_the_studio_outlives_the_power() {
    let Some((folder, file)) = stage() else {
        return;
    };
    begun(&file, &["pour|--panel|40x30cm|--layer|K7:80ml"]);
    std::fs::remove_dir_all(folder.path().join("s.db-copies")).unwrap();
    outlives(
        &file,
        &[
            "cups",
            "backup|@copy.db",
            "export|@out.json",
            "csv|cups|@cups.csv",
            "mix|River blue|--volume|90ml",
            "csv|cups|@cups.csv|--replace",
            &photo(),
        ],
    );
}

#[test]
fn a_restore_outlives_the_power() {
    let Some((_folder, file)) = stage() else {
        return;
    };
    begun(&file, &["backup|@older.db", "read|K7|3.6"]);
    outlives(&file, &["restore|@older.db", "read|K7|2.9", "restore|1"]);
}

/// Were the log of the lost file to come back, it would be taken for that of the file that is brought back.
#[test]
fn a_restore_over_the_log_of_a_lost_file_outlives_the_power() {
    let Some((_folder, file)) = stage() else {
        return;
    };
    begun(&file, &["backup|@older.db"]);
    let log = file.with_file_name("s.db-wal");
    let source = rusqlite::Connection::open(&file).unwrap();
    let name = "UPDATE material SET name = 'Only in the log' WHERE name = 'Water'";
    source.execute_batch(name).unwrap();
    let kept = std::fs::read(&log).unwrap();
    drop(source);
    std::fs::write(&log, kept).unwrap();
    std::fs::remove_file(&file).unwrap();
    // Few calls, of which the order of two matters: more draws of what is kept.
    let often: Vec<Fall> = (2..40).map(Fall::Mixed).chain(falls()).collect();
    holds(&rehearse(&file, &["restore|@older.db"]).fall_everywhere(&often, true));
}

#[test]
fn a_renewal_outlives_the_power() {
    for (version, bytes) in [(1, ONE), (6, SIX)] {
        let Some((_folder, file)) = stage() else {
            return;
        };
        std::fs::write(&file, bytes).unwrap();
        println!("from version {version}");
        outlives(&file, &["cups"]);
    }
}

#[test]
fn a_disk_that_keeps_nothing_is_found_out() {
    let Some((_folder, file)) = stage() else {
        return;
    };
    begun(&file, &[]);
    let told = rehearse(&file, &["read|K7|3.6"]).fall_everywhere(&[Fall::Dropped], false);
    assert!(
        !told.faults.is_empty(),
        "nothing was synced, and nothing was missed"
    );
}
