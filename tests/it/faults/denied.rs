//! A file or a folder that may only be read: one sentence, nothing touched. Where the tests run as root, whom no
//! permission stops, the program runs as somebody else.

use super::program::{MORNING, Said, begin, dressed, names, run};
use rusqlite::Connection;
use std::fs::Permissions;
use std::os::unix::fs::{MetadataExt, PermissionsExt, chown};
use std::os::unix::process::CommandExt;
use std::path::{Path, PathBuf};
use std::process::Command;
use tempfile::TempDir;

/// The user and group that own nothing, by custom.
const NOBODY: u32 = 65534;

/// A studio in a folder of its own, and the program where anybody may run it.
pub(super) struct House {
    root: TempDir,
    folder: PathBuf,
    pub(super) file: PathBuf,
    program: PathBuf,
}

fn is_root(path: &Path) -> bool {
    std::fs::metadata(path).unwrap().uid() == 0
}

pub(super) fn allow(path: &Path, mode: u32) {
    std::fs::set_permissions(path, Permissions::from_mode(mode)).unwrap();
}

impl House {
    pub(super) fn new() -> Self {
        let root = tempfile::tempdir().unwrap();
        let folder = root.path().join("studio");
        std::fs::create_dir(&folder).unwrap();
        let file = folder.join("studio.db");
        begin(&file);
        let program = root.path().join("stillcup");
        std::fs::copy(env!("CARGO_BIN_EXE_stillcup"), &program).unwrap();
        for path in [root.path(), &program, &folder] {
            allow(path, 0o755);
        }
        let house = Self {
            root,
            folder,
            file,
            program,
        };
        house.give_away();
        house
    }

    /// Makes the studio as large as one of years: larger than what is copied at once.
    fn grow(&self) {
        let conn = Connection::open(&self.file).unwrap();
        let sql = "UPDATE variant SET note = printf('%.*c', 3000000, 'x') WHERE id = 1";
        assert_eq!(conn.execute(sql, []).unwrap(), 1);
    }

    /// Makes it all nobody's where we are root, so that only permissions stand in the way.
    fn give_away(&self) {
        if is_root(self.root.path()) {
            for path in [&self.folder, &self.file] {
                chown(path, Some(NOBODY), Some(NOBODY)).unwrap();
            }
        }
    }

    pub(super) fn run(&self, words: &[&str]) -> Said {
        let mut command = Command::new(&self.program);
        if is_root(self.root.path()) {
            command.uid(NOBODY).gid(NOBODY);
        }
        dressed(command, &self.file, MORNING)
            .args(words)
            .output()
            .unwrap()
            .into()
    }

    /// A folder beside the studio's in which nothing may be written.
    pub(super) fn shut(&self) -> PathBuf {
        let shut = self.root.path().join("shut");
        std::fs::create_dir(&shut).unwrap();
        allow(&shut, 0o555);
        shut
    }

    /// What must not change.
    fn state(&self) -> (Vec<u8>, Vec<String>) {
        (std::fs::read(&self.file).unwrap(), names(&self.folder))
    }
}

impl Drop for House {
    fn drop(&mut self) {
        // So that it can be cleared away.
        allow(&self.folder, 0o755);
    }
}

#[test]
fn what_may_only_be_read_is_said_so_and_left() {
    for (file, folder) in [(0o444, 0o755), (0o644, 0o555), (0o444, 0o555)] {
        let house = House::new();
        allow(&house.file, file);
        allow(&house.folder, folder);
        let before = house.state();
        for words in [
            &["material", "add", "Moss", "--kind", "paint"][..],
            &["undo"],
        ] {
            let (sentence, hint) = house.run(words).failed(3);
            assert!(
                sentence.contains("may only be read"),
                "{file:o} {folder:o} {words:?}: {sentence}"
            );
            assert!(hint.contains("permissions"), "{hint}");
        }
        for words in [&["cups"][..], &["cup", "K7"], &["history"], &["findings"]] {
            let said = house.run(words).done();
            assert!(
                said.contains("! read only: "),
                "{file:o} {folder:o}: {said}"
            );
        }
        assert_eq!(house.state(), before, "{file:o} {folder:o}");
        allow(&house.folder, 0o755);
        allow(&house.file, 0o644);
        house
            .run(&["material", "add", "Moss", "--kind", "paint"])
            .done();
    }
}

#[test]
fn what_may_not_even_be_read_is_said_so() {
    let house = House::new();
    allow(&house.file, 0o000);
    let (sentence, _) = house.run(&["cups"]).failed(3);
    assert!(
        sentence.contains("cannot be read") && !sentence.contains("immutable"),
        "{sentence}"
    );
}

#[test]
fn copies_that_cannot_be_written_stop_no_deed_and_are_not_passed_over() {
    let house = House::new();
    let copies = house.folder.join("studio.db-copies");
    let _ = std::fs::remove_dir_all(&copies);
    std::fs::create_dir(&copies).unwrap();
    allow(&copies, 0o555);
    let said = house
        .run(&["material", "add", "Moss", "--kind", "paint"])
        .done();
    assert!(said.contains("! no copy was taken today: "), "{said}");
    let said = house.run(&["materials", "--json"]);
    assert!(
        said.err.contains("no copy was taken today") && said.out.contains("Moss"),
        "{said:?}"
    );
    assert!(serde_json::from_str::<serde_json::Value>(&said.out).is_ok());
    house.run(&["backup"]).failed(3);
}

#[test]
fn a_folder_that_cannot_be_made_is_said_so() {
    let house = House::new();
    allow(&house.folder, 0o555);
    // Only the usual place is made; a named one in a missing folder is refused before that.
    let inside = house.folder.join("deep/studio.db");
    let mut command = Command::new(&house.program);
    if is_root(house.root.path()) {
        command.uid(NOBODY).gid(NOBODY);
    }
    let said: Said = dressed(command, &inside, MORNING)
        .env_remove("STILLCUP_STUDIO")
        .env("HOME", &house.folder)
        .env("XDG_DATA_HOME", house.folder.join("deep"))
        .arg("cups")
        .output()
        .unwrap()
        .into();
    said.failed(3);
    assert!(!house.folder.join("deep").exists());
    assert!(run(&house.file, MORNING, &["cups"]).done().contains("K7"));
}

/// A studio of years is copied once the answer was told: the day's copy holds the day's first deed, and where none can be
/// taken that is said apart from the answer.
#[test]
fn a_large_studio_answers_first_and_is_copied_afterwards() {
    let house = House::new();
    house.grow();
    let copies = house.folder.join("studio.db-copies");
    let _ = std::fs::remove_dir_all(&copies);
    let add = |name: &str| house.run(&["material", "add", name, "--kind", "paint"]);
    std::fs::create_dir(&copies).unwrap();
    allow(&copies, 0o555);
    let said = add("Moss");
    assert!(
        said.out.contains("Moss") && said.err.contains("! no copy was taken today: "),
        "{said:?}"
    );
    assert_eq!(said.code, Some(0));
    allow(&copies, 0o777);
    add("Fern").done();
    let copy = std::fs::read_dir(&copies).unwrap().next().unwrap().unwrap();
    let copied = Connection::open(copy.path()).unwrap();
    let sql = "SELECT count(*) FROM material WHERE name = 'Fern'";
    let count: i64 = copied.query_row(sql, [], |row| row.get(0)).unwrap();
    assert_eq!(count, 1);
}
