//! The real program as a process, on any file and at any instant.

use rusqlite::Connection;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use tempfile::TempDir;

/// When most of these tests play.
pub const MORNING: &str = "2026-11-25T10:00:00+01:00";

/// How a command ended.
#[derive(Debug)]
pub struct Said {
    pub code: Option<i32>,
    pub out: String,
    pub err: String,
}

impl From<Output> for Said {
    fn from(output: Output) -> Self {
        Self {
            code: output.status.code(),
            out: String::from_utf8(output.stdout).unwrap(),
            err: String::from_utf8(output.stderr).unwrap(),
        }
    }
}

impl Said {
    /// The sentence and the hint of what was not done, with the code that is expected; nothing else was said.
    pub fn failed(&self, code: i32) -> (String, String) {
        assert_eq!(self.out, "", "{self:?}");
        self.broke_off(code)
    }

    /// The same of a long answer, which is told as it is read and may have begun.
    pub fn broke_off(&self, code: i32) -> (String, String) {
        assert_eq!(self.code, Some(code), "{self:?}");
        let lines: Vec<&str> = self.err.lines().collect();
        let [sentence, hint] = lines[..] else {
            panic!("a sentence and a hint: {self:?}");
        };
        assert!(
            sentence.starts_with("stillcup: ") && sentence.ends_with('.'),
            "{self:?}"
        );
        assert!(hint.starts_with("  ") && hint.ends_with('.'), "{self:?}");
        (sentence.to_owned(), hint.trim().to_owned())
    }

    /// What was said by a command that did its work.
    pub fn done(self) -> String {
        assert_eq!(self.code, Some(0), "{self:?}");
        self.out
    }
}

/// The program on a studio, nothing of this process's surroundings about it.
pub fn program(file: &Path, now: &str) -> Command {
    dressed(Command::new(env!("CARGO_BIN_EXE_stillcup")), file, now)
}

/// Any command with what the program needs about it.
pub fn dressed(mut command: Command, file: &Path, now: &str) -> Command {
    command
        .env_clear()
        .env("PATH", std::env::var_os("PATH").unwrap_or_default())
        .env("STILLCUP_STUDIO", file)
        .env("STILLCUP_NOW", now);
    command
}

/// Runs a command on a studio.
pub fn run(file: &Path, now: &str, words: &[&str]) -> Said {
    program(file, now).args(words).output().unwrap().into()
}

/// The names in a folder, in order.
pub fn names(folder: &Path) -> Vec<String> {
    let entries = std::fs::read_dir(folder).unwrap();
    let mut names: Vec<String> = entries
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

/// A small studio in a folder of its own.
pub fn studio() -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("s.db");
    begin(&file);
    (folder, file)
}

/// Alters a studio's file by hand.
pub fn alter(file: &Path, sql: &str) {
    Connection::open(file).unwrap().execute_batch(sql).unwrap();
}

/// A small studio in a file: River blue of Blue paint, and Water to thin with.
pub fn begin(file: &Path) {
    for words in [
        &["material", "add", "Blue paint", "--kind", "paint"][..],
        &["material", "add", "Water", "--kind", "thinner"],
        &[
            "recipe",
            "add",
            "River blue",
            "--layer",
            "colour",
            "--part",
            "Blue paint 1",
            "--mound",
            "2..3",
        ],
        &["mix", "River blue", "--volume", "120ml", "--mark", "K7"],
    ] {
        run(file, MORNING, words).done();
    }
}
