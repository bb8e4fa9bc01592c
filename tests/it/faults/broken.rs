//! Files that are no whole studio, under the real program: one sentence, the newest whole copy named with the command that
//! brings it back, and nothing touched. `STILLCUP_TEARS` sets how many large files are torn; 24 by default.

use super::program::{MORNING, begin, names, program, run};
use crate::terminal::hands::Hands;
use rand::{RngExt, SeedableRng, rngs::ChaCha8Rng};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::OnceLock;
use tempfile::TempDir;

/// Everything in a folder and the folders in it, by name.
fn contents(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut found = BTreeMap::new();
    for name in names(folder) {
        let path = folder.join(&name);
        if path.is_dir() {
            let inside = contents(&path).into_iter();
            found.extend(inside.map(|(inner, bytes)| (format!("{name}/{inner}"), bytes)));
        } else if path.is_file() {
            found.insert(name, std::fs::read(&path).unwrap());
        } else {
            found.insert(name, Vec::new());
        }
    }
    found
}

/// A studio with a copy of each of two days and one that is no whole copy and newer than both.
fn with_copies() -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("the studio.db");
    begin(&file);
    for day in ["2026-11-26T09:00:00+01:00", "2026-11-27T09:30:00+01:00"] {
        run(&file, day, &["read", "K7", "2.6"]).done();
    }
    let copies = folder.path().join("the studio.db-copies");
    let spoilt = copies.join("studio-20261128T080000000Z.db");
    std::fs::write(spoilt, b"a copy that was torn while it was written").unwrap();
    (folder, file)
}

/// What a file can be in place of a studio.
fn breakages(whole: &[u8]) -> Vec<(&'static str, Vec<u8>)> {
    let mut torn = whole.to_vec();
    let middle = whole.len() / 2 / 4096 * 4096;
    torn[middle..middle + 8192].fill(0);
    let mut header = whole.to_vec();
    header[..100].fill(0xff);
    let theirs = {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("theirs.db");
        let conn = rusqlite::Connection::open(&path).unwrap();
        conn.execute_batch("PRAGMA application_id = 7; CREATE TABLE theirs (x)")
            .unwrap();
        drop(conn);
        std::fs::read(path).unwrap()
    };
    vec![
        ("torn", torn),
        ("its head overwritten", header),
        ("cut within a page", whole[..whole.len() - 77].to_vec()),
        (
            "cut at a page",
            whole[..whole.len() / 2 / 4096 * 4096].to_vec(),
        ),
        ("its first bytes alone", whole[..16].to_vec()),
        (
            "noise",
            (0..9000_u32)
                .map(|n| (n.wrapping_mul(2_654_435_761) >> 13) as u8)
                .collect(),
        ),
        ("a text", b"{\"format\":\"stillcup studio\"}".to_vec()),
        ("another program's", theirs),
        ("nothing", Vec::new()),
    ]
}

#[test]
fn a_broken_file_is_left_and_its_newest_whole_copy_named() {
    let (folder, file) = with_copies();
    let whole = std::fs::read(&file).unwrap();
    let now = "2026-11-29T10:00:00+01:00";
    for (what, bytes) in breakages(&whole) {
        std::fs::write(&file, &bytes).unwrap();
        let before = contents(folder.path());
        for words in [
            &["cups"][..],
            &["mix", "River blue", "--volume", "50ml"],
            &["backup"],
            &["undo"],
            &[],
        ] {
            let said = run(&file, now, words);
            // What can still be read is read; nothing is written, and the way back is told either way.
            let told = match said.code {
                Some(0) => {
                    assert_eq!(words, ["cups"], "{what}: {said:?}");
                    assert!(said.out.contains("! read only: "), "{what}: {said:?}");
                    said.out
                }
                // The screen would be shown, if there were a terminal.
                Some(1) if words.is_empty() => continue,
                _ => said.failed(3).1,
            };
            // The second in the list: the newest is no whole one.
            assert!(
                told.contains("restore 2 (taken Fri 09:30: "),
                "{what}: {told}"
            );
            assert!(
                told.contains("studio-20261127T083000000Z.db"),
                "{what}: {told}"
            );
            assert_eq!(contents(folder.path()), before, "{what}: {words:?}");
        }
    }
}

#[test]
fn the_command_that_is_named_brings_it_back() {
    let (_folder, file) = with_copies();
    std::fs::write(&file, b"overwritten").unwrap();
    let now = "2026-11-29T10:00:00+01:00";
    let (_, hint) = run(&file, now, &["cups"]).failed(3);
    let named = hint.split_once(": stillcup ").unwrap().1;
    let named = named.split_once(" (taken").unwrap().0;
    // As it is said, by a shell, without the studio named in any other way.
    let mut shell = Command::new("sh");
    shell
        .arg("-c")
        .arg(format!("\"$0\" {named}"))
        .arg(env!("CARGO_BIN_EXE_stillcup"));
    shell.env_remove("STILLCUP_STUDIO").env("STILLCUP_NOW", now);
    assert!(shell.status().unwrap().success(), "{named}");
    // Taken on the first use of the day, before that day's reading.
    let life = run(&file, now, &["cup", "K7"]).done();
    assert_eq!(life.matches("mound 2.6 s").count(), 1, "{life}");
}

#[test]
fn newest_passes_over_a_copy_of_a_day_to_come() {
    let (folder, file) = with_copies();
    let copies = folder.path().join("the studio.db-copies");
    std::fs::remove_file(copies.join("studio-20261128T080000000Z.db")).unwrap();
    run(&file, "2036-01-01T12:00:00+01:00", &["cups"]).done();
    std::fs::write(&file, b"overwritten").unwrap();
    let now = "2026-11-27T10:00:00+01:00";
    let (_, hint) = run(&file, now, &["cups"]).failed(3);
    assert!(hint.contains("restore 2 (taken 09:30: "), "{hint}");
    let said = run(&file, now, &["restore", "newest"]).done();
    assert!(said.contains("studio-20261127T083000000Z.db"), "{said}");
}

#[test]
fn without_a_whole_copy_none_is_promised() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("studio.db");
    std::fs::write(&file, [0xA5; 9000]).unwrap();
    let (sentence, hint) = run(&file, MORNING, &["cups"]).failed(3);
    assert!(sentence.contains("is not a studio file"), "{sentence}");
    assert!(!hint.contains("restore 1"), "{hint}");
}

#[test]
fn a_folder_a_pipe_and_a_device_are_named_for_what_they_are() {
    let folder = tempfile::tempdir().unwrap();
    let pipe = folder.path().join("pipe");
    assert!(
        Command::new("mkfifo")
            .arg(&pipe)
            .status()
            .unwrap()
            .success()
    );
    for words in [&["cups"][..], &["starters"], &[]] {
        let (sentence, _) = run(&pipe, MORNING, words).failed(3);
        assert!(sentence.contains("is a pipe or a device"), "{sentence}");
        let (sentence, _) = run(Path::new("/dev/zero"), MORNING, words).failed(3);
        assert!(sentence.contains("is a pipe or a device"), "{sentence}");
        let (sentence, _) = run(folder.path(), MORNING, words).failed(3);
        assert!(sentence.contains("is a folder"), "{sentence}");
    }
    assert_eq!(names(folder.path()), ["pipe"]);
}

/// A closed studio too large to be read whole at each opening.
fn large() -> (TempDir, PathBuf, Vec<u8>) {
    static WHOLE: OnceLock<Vec<u8>> = OnceLock::new();
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("studio.db");
    let whole = WHOLE.get_or_init(|| {
        program(&file, MORNING).arg("demo").output().unwrap();
        std::fs::read(&file).unwrap()
    });
    assert!(whole.len() > 1 << 20, "{}", whole.len());
    std::fs::write(&file, whole).unwrap();
    (folder, file, whole.clone())
}

/// Some bytes changed, or whole pages turned to noise or to nothing.
fn tear(whole: &[u8], draws: &mut ChaCha8Rng) -> Vec<u8> {
    let mut torn = whole.to_vec();
    match draws.random_range(0..3) {
        0 => {
            for _ in 0..draws.random_range(1..200) {
                let at = draws.random_range(100..torn.len());
                torn[at] ^= draws.random_range(1..=255_u8);
            }
        }
        kind => {
            for _ in 0..draws.random_range(1..12) {
                let page = draws.random_range(1..torn.len() / 4096) * 4096;
                for byte in &mut torn[page..page + 4096] {
                    *byte = if kind == 1 { draws.random() } else { 0 };
                }
            }
        }
    }
    torn
}

fn lay(folder: &Path, file: &Path, bytes: &[u8]) {
    for name in names(folder) {
        if name.starts_with("studio.db-") && folder.join(&name).is_file() {
            std::fs::remove_file(folder.join(name)).unwrap();
        }
    }
    std::fs::write(file, bytes).unwrap();
}

#[test]
fn a_large_file_torn_inside_ends_in_a_sentence_whichever_page_is_met() {
    let tears = std::env::var("STILLCUP_TEARS");
    let tears: u32 = tears.ok().and_then(|n| n.parse().ok()).unwrap_or(24);
    let (folder, file, whole) = large();
    let mut draws = ChaCha8Rng::seed_from_u64(11);
    let mut failed = 0;
    for tear_number in 0..tears {
        lay(folder.path(), &file, &tear(&whole, &mut draws));
        for words in [
            &["cups"][..],
            &["pours"],
            &["findings"],
            &["history", "--limit", "500"],
            &["mix", "Heather", "--volume", "100ml"],
            &["undo"],
        ] {
            let said = run(&file, MORNING, words);
            assert!(
                matches!(said.code, Some(0 | 1 | 3)),
                "{tear_number} {words:?}: {said:?}"
            );
            if said.code == Some(3) {
                let (sentence, _) = said.broke_off(3);
                assert!(
                    ["damaged", "not a studio", "altered", "newer Stillcup"]
                        .iter()
                        .any(|what| sentence.contains(what)),
                    "{sentence}"
                );
                failed += 1;
            }
        }
    }
    assert!(failed > tears, "the tears are met: {failed}");
}

#[test]
fn a_screen_on_a_large_torn_file_says_so_and_can_be_left() {
    let (folder, file, whole) = large();
    let mut draws = ChaCha8Rng::seed_from_u64(12);
    for _ in 0..6 {
        lay(folder.path(), &file, &tear(&whole, &mut draws));
        let mut hands = Hands::on_file(&file, MORNING);
        let shown = hands.see("the Bench, or a sentence", |screen| {
            let shown = screen.contents();
            shown.contains("Bench") || shown.contains("stillcup: ")
        });
        if !shown.contains("Bench") {
            continue;
        }
        for (key, screen) in [
            ("2", "Pour"),
            ("3", "Rack"),
            ("4", "Findings"),
            ("5", "Shelf"),
            ("6", "Plan"),
            ("7", "Recipes"),
        ] {
            hands.press(key);
            hands.see_text(screen);
        }
        hands.press("q");
        assert!(hands.see_closed().1);
    }
}

/// The large studio, whose copy was taken today before the first page of a table or index was lost.
fn torn_after_its_copy(lost: &str) -> (TempDir, PathBuf) {
    let (folder, file, whole) = large();
    run(&file, MORNING, &["cups"]).done();
    let conn = rusqlite::Connection::open(&file).unwrap();
    let root = "SELECT rootpage FROM sqlite_schema WHERE name = ?1";
    let page: i64 = conn.query_row(root, [lost], |row| row.get(0)).unwrap();
    let page = usize::try_from(page).unwrap();
    drop(conn);
    let mut torn = whole;
    torn[(page - 1) * 4096..page * 4096].fill(0);
    lay(folder.path(), &file, &torn);
    (folder, file)
}

#[test]
fn a_large_file_is_read_whole_beside_the_screen_and_what_fails_is_said_with_the_way_back() {
    let (_folder, file) = torn_after_its_copy("measurement_of");
    let mut hands = Hands::on_file(&file, MORNING);
    let shown = hands.see_text("read only: ");
    assert!(shown.contains("damaged"), "{shown}");
    hands.see_text("restore");
    hands.press("q");
    assert!(hands.see_closed().1);
    // It is known from then on: nothing is written, what can be read is read and goes out.
    let (sentence, hint) = run(&file, MORNING, &["mix", "Heather", "--volume", "100ml"]).failed(3);
    assert!(sentence.contains("damaged"), "{sentence}");
    assert!(hint.contains("restore 1 (taken"), "{hint}");
    let out = file.with_file_name("out.json");
    for words in [&["cups"][..], &["export", out.to_str().unwrap()]] {
        let said = run(&file, MORNING, words).done();
        assert!(said.contains("! read only: "), "{said}");
    }
    // What is brought back is another file, and whole.
    run(&file, MORNING, &["restore", "1"]).done();
    let said = run(&file, MORNING, &["mix", "Heather", "--volume", "100ml"]).done();
    assert!(!said.contains("read only"), "{said}");
}

#[test]
fn damage_that_a_command_met_is_known_to_the_next() {
    let (_folder, file) = torn_after_its_copy("trial");
    let mix = ["mix", "Heather", "--volume", "100ml"];
    run(&file, MORNING, &mix).done();
    let (sentence, _) = run(&file, MORNING, &["trials"]).failed(3);
    assert!(sentence.contains("damaged"), "{sentence}");
    let (_, hint) = run(&file, MORNING, &mix).failed(3);
    assert!(hint.contains("restore 1 (taken"), "{hint}");
}

#[test]
fn a_large_file_that_is_whole_leaves_no_word_and_no_log_behind() {
    let (folder, file, _) = large();
    let mut hands = Hands::on_file(&file, MORNING);
    hands.see_text("Bench");
    hands.press("q");
    let (shown, ended_well) = hands.see_closed();
    assert!(ended_well && !shown.contains("read only"), "{shown}");
    assert!(
        !names(folder.path())
            .iter()
            .any(|name| name.ends_with("-wal"))
    );
}
