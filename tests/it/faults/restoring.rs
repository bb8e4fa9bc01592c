//! A restore is killed at each of its calls to the system, meets writers, and is asked for through a link: a whole studio
//! stands in its place at every instant, and nothing that was acknowledged is lost.

use super::program::{MORNING, Said, begin, dressed, names, run};
use std::path::{Path, PathBuf};
use std::process::Command;
use tempfile::TempDir;

const LATER: &str = "2026-11-25T11:00:00+01:00";
const NEWEST: &str = "Late paint";

/// The calls by which a restore changes or reads anything.
const CALLS: &[&str] = &[
    "openat",
    "read",
    "pread64",
    "write",
    "pwrite64",
    "ftruncate",
    "fsync",
    "fdatasync",
    "flock",
    "fcntl",
    "rename",
    "renameat",
    "renameat2",
    "link",
    "linkat",
    "unlink",
    "unlinkat",
    "close",
    "copy_file_range",
    "sendfile",
];

/// A studio whose newest paint no copy holds, and an older copy outside its folders.
fn studio(copies: bool) -> (TempDir, PathBuf, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("s.db");
    begin(&file);
    let older = folder.path().join("older.db");
    run(&file, MORNING, &["backup", older.to_str().unwrap()]).done();
    run(
        &file,
        LATER,
        &["material", "add", NEWEST, "--kind", "paint"],
    )
    .done();
    if !copies {
        std::fs::remove_dir_all(folder.path().join("s.db-copies")).unwrap();
    }
    (folder, file, older)
}

/// Fresh files of the same bytes.
fn again(from: &Path, to: &Path) {
    for name in names(from) {
        let (old, new) = (from.join(&name), to.join(&name));
        if old.is_dir() {
            std::fs::create_dir(&new).unwrap();
            again(&old, &new);
        } else {
            std::fs::copy(&old, &new).unwrap();
        }
    }
}

fn has_strace() -> bool {
    let tried = Command::new("strace")
        .args(["-o", "/dev/null", "true"])
        .output();
    tried.is_ok_and(|done| done.status.success())
}

/// Kills a restore at the `nth` of a call; `None` where it had ended before.
fn kill_at(call: &str, nth: u32, file: &Path, older: &Path) -> Option<()> {
    let mut strace = Command::new("strace");
    strace.args(["-f", "-qq", "-o", "/dev/null", "-e"]);
    strace.arg(format!("trace={call}"));
    strace.args(["-e", &format!("inject={call}:signal=SIGKILL:when={nth}")]);
    strace.arg(env!("CARGO_BIN_EXE_stillcup"));
    strace.args(["restore", older.to_str().unwrap()]);
    let output = dressed(strace, file, LATER).output().unwrap();
    match output.status.code() {
        Some(0) => None,
        code => {
            assert_eq!(code, None, "killed, and nothing else: {output:?}");
            Some(())
        }
    }
}

fn materials(file: &Path) -> Said {
    run(file, LATER, &["materials"])
}

/// Whether the newest state is open at once, or put aside beside the restored one.
fn is_kept(folder: &Path, file: &Path) -> bool {
    let said = materials(file).done();
    assert!(said.contains("Blue paint"), "no empty studio: {said}");
    let aside = names(folder)
        .into_iter()
        .filter(|name| name.contains(".aside-"));
    said.contains(NEWEST)
        || aside
            .map(|name| folder.join(name))
            .any(|path| materials(&path).done().contains(NEWEST))
}

#[test]
fn a_restore_killed_at_any_of_its_calls_loses_nothing() {
    if !has_strace() {
        println!("no strace here: a restore is not killed at its calls");
        return;
    }
    for copies in [true, false] {
        let (template, ..) = studio(copies);
        let mut kills = 0;
        for call in CALLS {
            for nth in 1.. {
                let folder = tempfile::tempdir().unwrap();
                again(template.path(), folder.path());
                let file = folder.path().join("s.db");
                let killed = kill_at(call, nth, &file, &folder.path().join("older.db"));
                assert!(file.exists(), "{call} {nth}: a file stands there");
                assert!(is_kept(folder.path(), &file), "{call} {nth}");
                // The next one ends the work, and clears what was left half-written.
                run(
                    &file,
                    LATER,
                    &["restore", folder.path().join("older.db").to_str().unwrap()],
                )
                .done();
                let left = names(folder.path());
                assert!(!left.iter().any(|name| name.ends_with(".part")), "{left:?}");
                if killed.is_none() {
                    break;
                }
                kills += 1;
            }
        }
        println!("killed {kills} times, copies: {copies}");
        assert!(kills > 40, "{kills}");
    }
}

#[test]
fn what_writers_were_told_is_kept_is_there_or_put_aside_however_often_a_copy_is_brought_back() {
    let (folder, file, older) = studio(true);
    let older = older.to_str().unwrap();
    let (kept, restored) = std::thread::scope(|scope| {
        let writer = |nth: usize| {
            let file = &file;
            scope.spawn(move || -> Vec<String> {
                let names = (0..12).map(|one| format!("Paint {nth}-{one}"));
                names
                    .filter(|name| {
                        let said = run(file, LATER, &["material", "add", name, "--kind", "paint"]);
                        assert!(matches!(said.code, Some(0 | 3)), "{said:?}");
                        said.code == Some(0)
                    })
                    .collect()
            })
        };
        let writers: Vec<_> = (0..3).map(writer).collect();
        let mut restored = 0;
        while writers.iter().any(|writer| !writer.is_finished()) {
            restored += u32::from(run(&file, LATER, &["restore", older]).code == Some(0));
        }
        let kept = writers
            .into_iter()
            .flat_map(|writer| writer.join().unwrap());
        (kept.collect::<Vec<_>>(), restored)
    });
    assert!(restored > 0 && kept.len() > 3, "{restored} {}", kept.len());
    let states = names(folder.path()).into_iter();
    let states = states.filter(|name| name == "s.db" || name.contains(".aside-"));
    let states = states.filter(|name| !name.ends_with("-wal") && !name.ends_with("-shm"));
    let all: String = states
        .map(|name| materials(&folder.path().join(name)).done())
        .collect();
    for name in kept {
        assert!(all.contains(&name), "{name} was acknowledged");
    }
}

#[test]
fn a_restore_through_a_link_restores_the_file_behind_it() {
    let (folder, file, older) = studio(true);
    let other = tempfile::tempdir().unwrap();
    let link = other.path().join("link.db");
    std::os::unix::fs::symlink(&file, &link).unwrap();
    assert_eq!(
        run(&link, LATER, &["backups"]).done(),
        run(&file, LATER, &["backups"]).done()
    );
    run(&link, LATER, &["restore", older.to_str().unwrap()]).done();
    assert!(link.is_symlink() && !file.is_symlink());
    assert!(!materials(&file).done().contains(NEWEST));
    assert!(is_kept(folder.path(), &link));
    assert_eq!(names(other.path()), ["link.db"]);
}

#[test]
fn a_studio_that_is_lost_is_brought_back_from_the_newest_state_wherever_it_lies() {
    let (folder, file, older) = studio(true);
    run(&file, LATER, &["restore", older.to_str().unwrap()]).done();
    std::fs::remove_file(&file).unwrap();
    let (_, hint) = materials(&file).failed(3);
    let aside = names(folder.path())
        .into_iter()
        .find(|name| name.contains(".aside-"))
        .unwrap();
    assert!(
        hint.contains(&aside),
        "what was put aside is newer than any copy: {hint}"
    );
    run(&file, LATER, &["restore", "newest"]).done();
    assert!(materials(&file).done().contains(NEWEST));
    // Nor does one begin where only a file that was put aside is left.
    std::fs::remove_dir_all(folder.path().join("s.db-copies")).unwrap();
    std::fs::remove_file(&file).unwrap();
    materials(&file).failed(3);
    assert!(!file.exists());
}

#[test]
fn a_copy_in_its_log_is_brought_back_with_it() {
    let (folder, file, _) = studio(false);
    let source = rusqlite::Connection::open(&file).unwrap();
    source
        .execute_batch("PRAGMA wal_autocheckpoint = 0")
        .unwrap();
    let name = "UPDATE material SET name = 'Only in the log' WHERE name = 'Late paint'";
    source.execute_batch(name).unwrap();
    let copy = folder.path().join("copy.db");
    for suffix in ["", "-wal"] {
        let from = format!("{}{suffix}", file.display());
        std::fs::copy(from, format!("{}{suffix}", copy.display())).unwrap();
    }
    drop(source);
    let other = folder.path().join("other.db");
    run(&other, LATER, &["restore", copy.to_str().unwrap()]).done();
    assert!(materials(&other).done().contains("Only in the log"));
}
