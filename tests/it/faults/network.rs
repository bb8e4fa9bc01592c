//! A folder of another machine: where locks do not hold nothing is written, where they do one program at a time has the
//! file. The system's list of what is mounted says which it is; here it is another list's turn (`mount --bind` within a
//! namespace of its own), where that may be done.

use super::program::{MORNING, Said, begin, dressed, names, run};
use std::path::{Path, PathBuf};
use std::process::Command;
use tempfile::TempDir;

/// A studio, and a list that says how its folder is mounted.
struct Far {
    folder: TempDir,
    list: tempfile::NamedTempFile,
}

impl Far {
    fn mounted(how: &str) -> Option<Self> {
        let folder = tempfile::tempdir().unwrap();
        let list = tempfile::NamedTempFile::new().unwrap();
        let point = folder.path().canonicalize().unwrap();
        let line = format!("40 1 0:44 / {} rw - {how}\n", point.display());
        std::fs::write(list.path(), line).unwrap();
        let far = Self { folder, list };
        let said: Said = far.shell("true").output().unwrap().into();
        if said.code != Some(0) {
            println!(
                "skipped: no list of mounts may be put in place here: {}",
                said.err
            );
            return None;
        }
        Some(far)
    }

    fn file(&self) -> PathBuf {
        self.folder.path().join("s.db")
    }

    fn shell(&self, program: &str) -> Command {
        let mut command = Command::new("unshare");
        let bind = "mount --bind \"$0\" /proc/$$/mountinfo && exec \"$@\"";
        command.args(["-m", "sh", "-c", bind]);
        command.arg(self.list.path()).arg(program);
        command
    }

    fn run(&self, words: &[&str]) -> Said {
        let mut command = self.shell(env!("CARGO_BIN_EXE_stillcup"));
        command.args(words);
        let command = dressed(command, &self.file(), MORNING).output();
        command.unwrap().into()
    }
}

#[test]
fn where_locks_do_not_hold_nothing_is_begun_or_written_and_all_is_read() {
    for (how, said) in [
        ("nfs server:/art rw,vers=3,nolock", "(nfs, nolock)"),
        ("cifs //server/art rw,nobrl", "(cifs, nobrl)"),
        ("fuse.far me@server:/art rw", "(fuse.far)"),
    ] {
        let Some(far) = Far::mounted(how) else {
            return;
        };
        let (sentence, hint) = far.run(&["starters"]).failed(3);
        assert!(
            sentence.contains(said) && hint.contains("backup"),
            "{sentence} {hint}"
        );
        assert!(names(far.folder.path()).is_empty(), "nothing was begun");
        begin(&far.file());
        let before = std::fs::read(far.file()).unwrap();
        let (sentence, _) = far.run(&["read", "K7", "2.6"]).failed(3);
        assert!(sentence.contains(said), "{sentence}");
        let told = far.run(&["cups"]).done();
        assert!(
            told.contains("K7") && told.contains("! read only: "),
            "{told}"
        );
        assert_eq!(std::fs::read(far.file()).unwrap(), before);
    }
}

#[test]
fn where_locks_hold_one_program_at_a_time_has_the_file_and_the_other_reads() {
    let Some(far) = Far::mounted("nfs4 server:/art rw,vers=4.2,local_lock=none") else {
        return;
    };
    begin(&far.file());
    far.run(&["read", "K7", "2.6"]).done();
    // Whoever has it open, though nothing is being written just now.
    let other = rusqlite::Connection::open(far.file()).unwrap();
    let one = |sql: &str| {
        other
            .query_row(sql, [], |row| row.get::<_, i64>(0))
            .unwrap()
    };
    assert_eq!(one("SELECT count(*) FROM cup"), 1);
    let (sentence, _) = far.run(&["read", "K7", "2.5"]).failed(3);
    assert!(sentence.contains("held by another program"), "{sentence}");
    let told = far.run(&["cups"]).done();
    assert!(
        told.contains("K7") && told.contains("held by another program"),
        "{told}"
    );
    drop(other);
    far.run(&["read", "K7", "2.5"]).done();
    only_its_own(far.folder.path());
    // On a disk of this machine all write at once.
    let other = rusqlite::Connection::open(far.file()).unwrap();
    let cups: i64 = other
        .query_row("SELECT count(*) FROM cup", [], |row| row.get(0))
        .unwrap();
    assert_eq!(cups, 1);
    run(&far.file(), MORNING, &["read", "K7", "2.4"]).done();
}

fn only_its_own(folder: &Path) {
    assert_eq!(names(folder), ["s.db", "s.db-copies"]);
}
