//! What a painter writes down is theirs alone: a new studio, its folder, its copies, what goes out, what is brought back.

use super::program::{MORNING, begin, dressed, names, run};
use std::os::unix::fs::PermissionsExt;
use std::path::Path;
use std::process::Command;

fn mode(path: &Path) -> u32 {
    std::fs::metadata(path).unwrap().permissions().mode() & 0o777
}

fn allow(path: &Path, mode: u32) {
    std::fs::set_permissions(path, std::fs::Permissions::from_mode(mode)).unwrap();
}

/// Runs the program under a mask that hides nothing.
fn bare(file: &Path, words: &[&str]) {
    let mut shell = Command::new("sh");
    shell.args(["-c", "umask 000 && exec \"$0\" \"$@\""]);
    shell.arg(env!("CARGO_BIN_EXE_stillcup")).args(words);
    let output = dressed(shell, file, MORNING).output().unwrap();
    assert!(output.status.success(), "{output:?}");
}

#[test]
fn a_new_studio_its_usual_folder_and_its_copies_are_its_owners_alone() {
    let home = tempfile::tempdir().unwrap();
    let mut shell = Command::new("sh");
    shell.args(["-c", "umask 000 && \"$0\" starters && \"$0\" cups"]);
    shell.arg(env!("CARGO_BIN_EXE_stillcup"));
    let mut shell = dressed(shell, Path::new(""), MORNING);
    shell.env_remove("STILLCUP_STUDIO").env("HOME", home.path());
    assert!(shell.output().unwrap().status.success());
    let folder = home.path().join(".local/share/stillcup");
    assert_eq!(mode(&folder), 0o700);
    assert_eq!(mode(&folder.join("studio.db")), 0o600);
    let copies = folder.join("studio.db-copies");
    assert_eq!(mode(&copies), 0o700);
    for name in names(&copies) {
        assert_eq!(mode(&copies.join(name)), 0o600);
    }
}

#[test]
fn what_is_made_of_a_studio_is_no_wider_than_it() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("s.db");
    begin(&file);
    for rights in [0o600, 0o640, 0o644] {
        allow(&file, rights);
        let path = |name: &str| folder.path().join(name);
        for name in ["copy.db", "out.json", "cups.csv"] {
            let _ = std::fs::remove_file(path(name));
        }
        let text = |name: &str| path(name).display().to_string();
        bare(&file, &["backup", &text("copy.db")]);
        bare(&file, &["export", &text("out.json")]);
        bare(&file, &["csv", "cups", &text("cups.csv")]);
        for name in ["copy.db", "out.json", "cups.csv"] {
            assert_eq!(mode(&path(name)), rights, "{name}");
        }
        allow(&path("copy.db"), 0o666);
        bare(&file, &["restore", &text("copy.db")]);
        assert_eq!(mode(&file), rights, "the restored file");
        allow(&path("cups.csv"), 0o666);
        bare(&file, &["csv", "cups", &text("cups.csv"), "--replace"]);
        assert_eq!(mode(&path("cups.csv")), rights, "a wider file replaced");
    }
}

#[test]
fn what_kills_left_half_written_is_cleared_by_the_next_command() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("s.db");
    begin(&file);
    let copies = folder.path().join("s.db-copies");
    for left in [folder.path(), &copies] {
        std::fs::write(left.join(".stillcup-k1lled.part"), "half").unwrap();
        std::fs::write(left.join(".stillcup-k1lled.part-journal"), "half").unwrap();
    }
    run(&file, MORNING, &["cups"]).done();
    assert_eq!(names(folder.path()), ["s.db", "s.db-copies"]);
    assert_eq!(names(&copies).len(), 1);
}

/// Stillcup 0.1.0 held no lock on what it had half-written: what it left is known by its name and its age.
#[test]
fn what_the_program_before_left_half_written_is_cleared_too() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("s.db");
    begin(&file);
    let copies = folder.path().join("s.db-copies");
    let out = folder.path().join("out.json").display().to_string();
    run(&file, MORNING, &["export", &out]).done();
    let begun = std::fs::read(&out).unwrap()[..100].to_vec();
    let name = "partial-00000000-0000-7abc-8def-0123456789ab";
    for left in [
        folder.path().join(format!("s.db.{name}")),
        copies.join(format!("studio-20261125T090000000Z.db.{name}")),
        folder.path().join("out.json.part0"),
    ] {
        std::fs::write(&left, &begun).unwrap();
        let hours = std::time::Duration::from_hours(3);
        let then = std::time::SystemTime::now() - hours;
        let file = std::fs::File::options().write(true).open(&left).unwrap();
        file.set_modified(then).unwrap();
    }
    run(&file, MORNING, &["cups"]).done();
    run(&file, MORNING, &["export", &out, "--replace"]).done();
    assert_eq!(names(folder.path()), ["out.json", "s.db", "s.db-copies"]);
    assert_eq!(names(&copies).len(), 1);
}
