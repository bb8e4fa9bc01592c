//! What a person reads of the store's own errors: our words on both faces, keys on the screen and commands on the
//! command line, and never those of the library beneath.

use super::program::{MORNING, begin, run};
use crate::terminal::hands::Hands;
use rusqlite::Connection;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

fn studio() -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("s.db");
    begin(&file);
    (folder, file)
}

fn alter(file: &Path, sql: &str) {
    Connection::open(file).unwrap().execute_batch(sql).unwrap();
}

/// What the screen says of a file that may only be read, its lines joined as a person reads them.
fn said_on_the_screen(file: &Path) -> String {
    let mut hands = Hands::on_file(file, MORNING);
    let shown = hands.see_text("read only: ");
    hands.press("q");
    shown
}

// Where no copy is whole, the command line may name its own way out; the screen has no such command.
#[test]
fn damage_without_a_copy_names_a_command_on_the_command_line_alone() {
    let (_folder, file) = studio();
    std::fs::remove_dir_all(file.with_file_name("s.db-copies")).unwrap();
    alter(&file, "UPDATE entry SET mound_s = -1 WHERE id = 1");
    let (sentence, hint) = run(&file, MORNING, &["read", "K7", "2.8"]).failed(3);
    assert!(sentence.contains("entry 1"), "{sentence}");
    assert!(hint.contains("stillcup export"), "{hint}");
    let shown = said_on_the_screen(&file);
    assert!(shown.contains("no whole copy is known"), "{shown}");
    assert!(!shown.contains("stillcup"), "{shown}");
}
