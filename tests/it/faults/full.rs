//! No room left: a file that may grow no further (`ulimit -f`) at every size in turn, and a real disk that is full where
//! one may be mounted. A sentence, nothing half-written, and all is well once there is room.

use super::program::{MORNING, Said, begin, dressed, names, run};
use crate::terminal::Stage;
use crate::terminal::hands::Hands;
use std::path::{Path, PathBuf};
use std::process::Command;

/// A command whose files may not grow beyond so many blocks of 512 bytes.
fn cramped(file: &Path, blocks: u32, words: &[&str]) -> Said {
    let mut shell = Command::new("sh");
    shell.args(["-c", &format!("ulimit -f {blocks} && exec \"$0\" \"$@\"")]);
    shell.arg(env!("CARGO_BIN_EXE_stillcup")).args(words);
    dressed(shell, file, MORNING).output().unwrap().into()
}

fn holds(file: &Path, name: &str) -> bool {
    run(file, MORNING, &["materials"]).done().contains(name)
}

/// Sizes from none to enough, growing by a quarter.
fn sizes() -> impl Iterator<Item = u32> {
    (0..8).chain(std::iter::successors(Some(8_u32), |size| {
        Some(size + size.div_ceil(4))
    }))
}

fn whole(file: &Path) {
    let check: String = crate::store::ask(file, "PRAGMA integrity_check");
    assert_eq!(check, "ok");
}

#[test]
fn a_deed_without_room_is_not_kept_and_a_deed_with_room_is() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("studio.db");
    begin(&file);
    let mut failures = 0;
    for size in sizes().take_while(|size| *size < 4000) {
        let name = format!("Paint {size}");
        let said = cramped(&file, size, &["material", "add", &name, "--kind", "paint"]);
        let kept = said.code == Some(0);
        if !kept {
            said.failed(3);
            failures += 1;
        }
        assert_eq!(holds(&file, &name), kept, "{size} blocks: {said:?}");
        whole(&file);
    }
    assert!(failures >= 5, "{failures}");
}

#[test]
fn a_studio_begun_without_room_is_begun_again_with_it() {
    let mut failures = 0;
    for size in sizes() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("studio.db");
        let said = cramped(&file, size, &["starters"]);
        if said.code == Some(0) {
            break;
        }
        said.failed(3);
        failures += 1;
        run(&file, MORNING, &["starters"]).done();
        assert!(holds(&file, "Pouring medium"));
        whole(&file);
    }
    assert!(failures >= 5, "{failures}");
}

#[test]
fn an_export_or_copy_without_room_leaves_what_was_there() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("studio.db");
    begin(&file);
    let out = folder.path().join("out.json");
    std::fs::write(&out, "the old one").unwrap();
    let copy = folder.path().join("copy.db");
    let before = names(folder.path());
    let path = |path: &Path| path.to_str().unwrap().to_owned();
    // The log's index needs 64 blocks; the file to be written needs more.
    let said = cramped(&file, 2, &["export", "--replace", &path(&out)]);
    assert!(said.code == Some(3), "{said:?}");
    for size in [65, 100, 200] {
        let said = cramped(&file, size, &["backup", &path(&copy)]);
        said.failed(3);
    }
    assert_eq!(std::fs::read_to_string(&out).unwrap(), "the old one");
    let left: Vec<String> = names(folder.path())
        .into_iter()
        .filter(|name| !name.ends_with("-wal") && !name.ends_with("-shm"))
        .collect();
    assert_eq!(left, before);
    run(&file, MORNING, &["export", "--replace", &path(&out)]).done();
    run(&file, MORNING, &["backup", &path(&copy)]).done();
}

/// What the form says of a deed that was not kept.
const REFUSED: &str = "✗ this was not kept: ";

#[test]
fn a_screen_without_room_stays_keeps_what_was_typed_and_tries_again() {
    let stage = Stage::with_cups();
    // Enough for the log's index of 32 KiB, not for a commit's pages beside it.
    let mut hands = Hands::on_cramped(&stage, 64);
    hands.see_text("resting A3");
    hands.press("m");
    hands.type_amount("river");
    hands.press("Tab");
    hands.type_amount("75 ml");
    hands.see_text("50 ml           Medium");
    hands.press("Enter");
    let shown = hands.see_text(REFUSED);
    assert!(
        shown.contains("75 ml") && shown.contains("Mix a cup"),
        "{shown}"
    );
    assert_eq!(
        stage.studio().bench(&crate::terminal::now()).unwrap().len(),
        3
    );
    // Twice, so that it is not luck.
    hands.type_amount(" ");
    hands.see("the refusal gone", |screen| {
        !screen.contents().contains(REFUSED)
    });
    hands.press("Enter");
    hands.see_text(REFUSED);
    make_room(&hands);
    hands.press("Enter");
    hands.see_text("on the lid: River blue v1, 75 ml");
    assert_eq!(
        stage.studio().bench(&crate::terminal::now()).unwrap().len(),
        4
    );
    hands.press("q");
    assert!(hands.see_closed().1);
}

/// Lets the program's files grow again.
fn make_room(hands: &Hands) {
    let pid = hands.child.process_id().unwrap().to_string();
    let raised = Command::new("prlimit")
        .args(["--pid", &pid, "--fsize=unlimited"])
        .status();
    assert!(raised.unwrap().success());
}

/// A small disk of its own, taken down with it.
pub(super) struct SmallDisk {
    pub(super) folder: tempfile::TempDir,
}

impl SmallDisk {
    /// `None` where nothing may be mounted.
    pub(super) fn mounted(bytes: u32) -> Option<Self> {
        let folder = tempfile::tempdir().unwrap();
        let size = format!("size={bytes}");
        let mounted = Command::new("mount")
            .args(["-t", "tmpfs", "-o", &size, "tmpfs"])
            .arg(folder.path())
            .output();
        mounted
            .is_ok_and(|done| done.status.success())
            .then_some(Self { folder })
    }

    fn file(&self) -> PathBuf {
        self.folder.path().join("studio.db")
    }
}

impl Drop for SmallDisk {
    fn drop(&mut self) {
        let _ = Command::new("umount")
            .arg("-l")
            .arg(self.folder.path())
            .status();
    }
}

#[test]
fn a_full_disk_is_told_of_and_works_once_there_is_room() {
    let Some(disk) = SmallDisk::mounted(2 << 20) else {
        println!("nothing may be mounted here: only the limit on a file's size is tested");
        return;
    };
    let file = disk.file();
    begin(&file);
    let ballast = disk.folder.path().join("ballast");
    let fill = std::fs::write(&ballast, vec![7; 4 << 20]);
    assert!(fill.is_err(), "the disk is full");
    let words = ["material", "add", "Late paint", "--kind", "paint"];
    let (sentence, hint) = run(&file, MORNING, &words).failed(3);
    assert!(
        sentence.contains("full") && hint.contains("free some space"),
        "{sentence} {hint}"
    );
    std::fs::remove_file(&ballast).unwrap();
    assert!(!holds(&file, "Late paint"));
    run(&file, MORNING, &words).done();
    assert!(holds(&file, "Late paint"));
    whole(&file);
}
