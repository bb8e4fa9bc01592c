//! The command line as a real process, with a studio of its own and a clock that stands where it is put.

mod adding;
mod amending;
mod bad_input;
mod bottles;
mod checkup;
mod colours;
mod correcting;
mod day;
mod findings;
mod measured;
mod naming;
mod numbers;
mod paging;
mod photo_faults;
pub(crate) mod photos;
mod planning;
mod prices;
mod repeating;
mod slips;
mod stacking;
mod standing;
mod trials;
mod words;

use assert_cmd::Command;
use serde_json::Value;
use std::path::PathBuf;
use tempfile::TempDir;

/// A studio in a folder of its own, and the present instant.
pub(crate) struct Rehearsal {
    folder: TempDir,
    now: String,
}

/// How a command ended.
#[derive(Debug)]
pub(crate) struct Done {
    pub(crate) code: i32,
    pub(crate) out: String,
    pub(crate) err: String,
}

impl Rehearsal {
    /// Three ready cups: the ground at 3.5 s, the colour at 2.5 s, the activator at 1.5 s.
    pub(crate) fn ready_stack() -> Self {
        let mut desk = Self::stocked();
        desk.does("mix|Ground|--volume|200ml|--mark|B2");
        desk.does("mix|River blue|--volume|120ml|--mark|K7");
        desk.clock("2026-11-25T09:00:00+01:00");
        desk.does("mix|Opener|--volume|50ml|--mark|A3|--tape|red|--mound|1.5");
        desk.does("read|B2|3.5");
        desk.does("read|K7|2.5");
        desk
    }

    /// An empty studio at an instant.
    pub(crate) fn at(now: &str) -> Self {
        Self {
            folder: TempDir::new().unwrap(),
            now: now.to_owned(),
        }
    }

    /// A studio with three materials, a base, a colour and an activator, on Tuesday at six in the evening.
    pub(crate) fn stocked() -> Self {
        let desk = Self::at("2026-11-24T18:00:00+01:00");
        for words in [
            "material add|Deep blue|--kind|paint|--pack|250ml|--price|8.90|--density|1.25",
            "material add|Titan white|--kind|paint|--pack|1l|--density|1.5",
            "material add|Pouring medium|--kind|conditioner|--pack|1 l",
            "material add|Water|--kind|thinner|--density|1",
            "recipe add|Ground|--layer|base|--part|Titan white 1|--part|Pouring medium 1|--mound|3..4",
            "recipe add|River blue|--layer|colour|--part|Deep blue 1|--part|Pouring medium 2|--mound|2..3|--rest|12h|--again|60m|--stir|4m",
            "recipe add|Opener|--layer|activator|--part|Titan white 1|--part|Water 1|--mound|1..2",
        ] {
            desk.does(words);
        }
        desk
    }

    /// Puts the clock.
    pub(crate) fn clock(&mut self, now: &str) {
        self.now = now.to_owned();
    }

    /// The studio's file.
    pub(crate) fn file(&self) -> PathBuf {
        self.folder.path().join("studio.db")
    }

    fn command(&self) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_stillcup"));
        command
            .env_clear()
            .env("STILLCUP_STUDIO", self.file())
            .env("STILLCUP_NOW", &self.now);
        command
    }

    /// Runs a command.
    pub(crate) fn run(&self, words: &[&str]) -> Done {
        let output = self.command().args(words).output().unwrap();
        Done {
            code: output.status.code().unwrap(),
            out: String::from_utf8(output.stdout).unwrap(),
            err: String::from_utf8(output.stderr).unwrap(),
        }
    }

    /// Runs a command that must succeed; words are parted by `|`, the verb's own by blanks.
    pub(crate) fn does(&self, words: &str) -> Value {
        let words = split(words);
        let mut words: Vec<&str> = words.iter().map(String::as_str).collect();
        words.push("--json");
        let done = self.run(&words);
        assert_eq!(done.code, 0, "{words:?}: {}", done.err);
        serde_json::from_str(&done.out).unwrap()
    }

    /// What a command prints for a person.
    pub(crate) fn says(&self, words: &str) -> String {
        let words = split(words);
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        let done = self.run(&words);
        assert_eq!(done.code, 0, "{words:?}: {}", done.err);
        done.out
    }

    /// Runs a command that must be refused with exit code 1 and change nothing: the sentence and the hint.
    pub(crate) fn refuses(&self, words: &str) -> (String, String) {
        let before = self.does("history|--limit|1000");
        let split = split(words);
        let split: Vec<&str> = split.iter().map(String::as_str).collect();
        let done = self.run(&split);
        assert_eq!((done.code, done.out.as_str()), (1, ""), "{words}: {done:?}");
        assert_eq!(self.does("history|--limit|1000"), before, "{words}");
        let mut lines = done.err.lines().map(str::to_owned);
        let sentence = lines.next().unwrap();
        let hint = lines.next().unwrap();
        assert_eq!(lines.next(), None, "{words}: {done:?}");
        assert!(sentence.starts_with("stillcup: ") && sentence.ends_with('.'));
        assert!(hint.starts_with("  ") && hint.trim().len() > 3);
        (sentence, hint)
    }

    /// A living cup by its mark.
    pub(crate) fn cup(&self, mark: &str) -> Value {
        let cups = self.does("cups");
        let cups = cups["cups"].as_array().unwrap().clone();
        let found = cups.into_iter().find(|cup| cup["mark"] == mark);
        found.unwrap_or_else(|| panic!("{mark} does not live"))
    }
}

/// Only the first field holds blanks that part words: `material add|Deep blue|--kind|paint`.
fn split(words: &str) -> Vec<String> {
    let mut fields = words.split('|');
    let verb = fields.next().unwrap().split(' ').map(str::to_owned);
    verb.chain(fields.map(str::to_owned)).collect()
}

/// Whether one of the texts of an answer holds some words.
fn says(list: &Value, words: &str) -> bool {
    let texts = list.as_array().unwrap().iter();
    texts
        .filter_map(Value::as_str)
        .any(|text| text.contains(words))
}
