//! The doors between the rooms: every path in `src` is read, and one that leads through a door that
//! should be shut fails with its file and line.

mod faces;
mod text;
mod words;

use std::fmt;
use std::path::Path;
use text::{line_of, taken_apart, without_tests};

/// Which rooms a room may know, beside itself.
const DOORS: &[(&str, &[&str])] = &[
    ("trade", &[]),
    ("numbers", &["trade"]),
    ("logbook", &["trade"]),
    ("studio", &["trade", "numbers", "logbook"]),
    ("tell", &["trade", "numbers", "studio"]),
    ("exchange", &["trade", "numbers", "studio", "tell"]),
    ("clock", &["trade"]),
    (
        "screen",
        &["studio", "trade", "numbers", "tell", "exchange", "clock"],
    ),
    (
        "command",
        &["studio", "trade", "numbers", "tell", "exchange", "clock"],
    ),
];

/// What only some rooms may name.
const KEPT: &[(&str, &[&str])] = &[
    ("ratatui", &["screen"]),
    ("crossterm", &["screen"]),
    ("rusqlite", &["logbook"]),
    ("clap", &["command", "main"]),
    ("etcetera", &["main"]),
    ("iana_time_zone", &["main"]),
    ("SystemTime", &["main", "logbook", "exchange"]),
    // The screen may time its loop and ask what its terminal can do, in one file; see below.
    (
        "Instant::now",
        &["main", "clock", "logbook", "exchange", "screen"],
    ),
    ("Utc::now", &["main", "clock", "logbook", "exchange"]),
    ("Local::now", &["main", "clock", "logbook", "exchange"]),
    ("std::env", &["main", "logbook", "exchange", "screen"]),
    ("std::fs", &["main", "logbook", "exchange"]),
    // Files are written through one door; see src/logbook/new_file.rs.
    ("tempfile", &["logbook"]),
    // The store and the studio answer with facts; an error of theirs has no words. See house/words.rs.
    ("thiserror", &["screen"]),
    ("Logbook", &["logbook", "studio"]),
    ("fs::write", &["logbook"]),
    ("fs::copy", &["logbook"]),
    ("fs::rename", &["logbook"]),
    ("File::create", &["logbook"]),
    ("OpenOptions", &["logbook"]),
    ("std::net", &[]),
    ("rand::rng", &[]),
    ("thread_rng", &[]),
];

/// Beginnings of sentences that only the store speaks.
const SQL: &[&str] = &[
    "SELECT ",
    "INSERT INTO ",
    "UPDATE ",
    "DELETE FROM ",
    "CREATE TABLE ",
    "PRAGMA ",
];

#[derive(Debug, PartialEq)]
struct Breach {
    file: String,
    line: usize,
    what: String,
}

impl fmt::Display for Breach {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{}: {}", self.file, self.line, self.what)
    }
}

/// One source file, its comments blanked, its texts apart.
struct Source {
    file: String,
    room: String,
    depth: usize,
    code: String,
    texts: Vec<(usize, String)>,
}

impl Source {
    /// A file that only checks are built of.
    fn is_of_tests(&self) -> bool {
        self.file.contains("/tests/") || self.file.ends_with("/tests.rs")
    }

    fn new(file: &str, source: &str) -> Self {
        let modules = file.trim_start_matches("src/").trim_end_matches(".rs");
        let modules: Vec<&str> = modules.split('/').filter(|one| *one != "mod").collect();
        let (code, texts) = taken_apart(source);
        Self {
            file: file.to_owned(),
            room: modules[0].to_owned(),
            depth: modules.len(),
            code,
            texts,
        }
    }

    fn breach(&self, at: usize, what: String) -> Breach {
        Breach {
            file: self.file.clone(),
            line: line_of(&self.code, at),
            what,
        }
    }

    /// Every room that a path in this file begins with, and where.
    fn rooms_named(&self) -> Vec<(usize, String)> {
        let mut named = Vec::new();
        for root in ["crate::", "stillcup::"] {
            for at in whole_words(&self.code, root) {
                named.extend(heads(&self.code, at + root.len()));
            }
        }
        for at in whole_words(&self.code, "super::") {
            let (ups, end) = climbed(&self.code, at);
            if ups >= self.depth {
                named.extend(heads(&self.code, end));
            }
        }
        named
    }

    fn breaches(&self) -> Vec<Breach> {
        let mut found = Vec::new();
        if self.room != "lib" && self.room != "main" {
            found.extend(self.doors());
        }
        // Checks may stand on files and clocks that the code may not.
        let code = match self.is_of_tests() {
            true => String::new(),
            false => without_tests(&self.code),
        };
        for (word, rooms) in KEPT {
            let used = uses(&code, word);
            if !rooms.contains(&self.room.as_str()) {
                let what = format!("{} names {word}", self.room);
                found.extend(used.into_iter().map(|at| self.breach(at, what.clone())));
            }
        }
        if self.room != "logbook" {
            let speaks = |text: &str| SQL.iter().any(|word| text.starts_with(word));
            let spoken = self.texts.iter().filter(|(_, text)| speaks(text));
            let what = format!("{} speaks SQL", self.room);
            found.extend(spoken.map(|(at, _)| self.breach(*at, what.clone())));
        }
        found
    }

    fn doors(&self) -> Vec<Breach> {
        let open = DOORS.iter().find(|(room, _)| *room == self.room);
        let Some((_, open)) = open else {
            return vec![self.breach(0, format!("{} is no room of the house", self.room))];
        };
        let known = |room: &str| DOORS.iter().any(|(one, _)| *one == room);
        self.rooms_named()
            .into_iter()
            .filter(|(_, room)| known(room) && *room != self.room && !open.contains(&room.as_str()))
            .map(|(at, room)| self.breach(at, format!("{} knows {room}", self.room)))
            .collect()
    }
}

/// The rooms within the screen: a kit that knows no place, places that know the kit alone, a shell that holds them.
impl Source {
    fn screen_breaches(&self) -> Vec<Breach> {
        let Some(path) = self.file.strip_prefix("src/screen/") else {
            return Vec::new();
        };
        let parts: Vec<&str> = path.split('/').collect();
        match parts.as_slice() {
            ["kit", ..] => self.named_of(&["places", "shell"], None, 1),
            ["places", own, _, ..] => self.named_of(&["places", "shell"], Some(own), 2),
            _ => Vec::new(),
        }
    }

    /// Every path that leads to one of the rooms but into the own place, and every climb out of the own room, `floor`
    /// steps beneath `src`.
    fn named_of(&self, rooms: &[&str], own: Option<&str>, floor: usize) -> Vec<Breach> {
        let mut found = Vec::new();
        for room in rooms {
            let root = format!("{room}::");
            for at in ends_of(&self.code, &root) {
                let others = heads(&self.code, at).into_iter();
                let others =
                    others.filter(|(_, name)| *room == "shell" || Some(name.as_str()) != own);
                found.extend(others.map(|(at, name)| self.breach(at, format!("{room}::{name}"))));
            }
        }
        for at in whole_words(&self.code, "super::") {
            let (ups, _) = climbed(&self.code, at);
            if ups + floor >= self.depth {
                found.push(self.breach(at, "climbs out of its room".to_owned()));
            }
        }
        found
    }
}

/// Where a path of this root goes on, the root standing alone or within a longer path.
fn ends_of(code: &str, root: &str) -> Vec<usize> {
    let part = |c: char| c.is_alphanumeric() || c == '_';
    let found = code.match_indices(root);
    let whole = found.filter(|(at, _)| !code[..*at].ends_with(part));
    whole.map(|(at, _)| at + root.len()).collect()
}

/// Where a word stands that no name begins or goes on with.
fn whole_words(code: &str, word: &str) -> Vec<usize> {
    let part = |c: char| c.is_alphanumeric() || c == '_';
    let open_end = word.ends_with(':');
    code.match_indices(word)
        .map(|(at, _)| at)
        .filter(|&at| {
            let before = code[..at].chars().next_back();
            let after = code[at + word.len()..].chars().next();
            !before.is_some_and(|c| part(c) || (open_end && c == ':'))
                && (open_end || !after.is_some_and(part))
        })
        .collect()
}

/// Where a path is used, be it alone or in braces after `std::`.
fn uses(code: &str, path: &str) -> Vec<usize> {
    let Some(tail) = path.strip_prefix("std::") else {
        return whole_words(code, path);
    };
    let roots = whole_words(code, "std::").into_iter();
    let named = roots.flat_map(|at| heads(code, at + "std::".len()));
    named
        .filter(|(_, name)| name == tail)
        .map(|(at, _)| at)
        .collect()
}

/// How many `super::` stand in a row, and where they end.
fn climbed(code: &str, at: usize) -> (usize, usize) {
    let ups = code[at..].split("super::").skip(1);
    let ups = 1 + ups.take_while(|between| between.is_empty()).count();
    (ups, at + ups * "super::".len())
}

/// The first name of a path, or of each path in braces.
fn heads(code: &str, at: usize) -> Vec<(usize, String)> {
    let name = |at: usize| -> String {
        let rest = code[at..].chars();
        rest.take_while(|c| c.is_alphanumeric() || *c == '_')
            .collect()
    };
    if !code[at..].starts_with('{') {
        return vec![(at, name(at))];
    }
    let (mut depth, mut fresh, mut found) = (0, false, Vec::new());
    for (step, c) in code[at..].char_indices() {
        match c {
            '{' => {
                depth += 1;
                fresh = depth == 1;
            }
            '}' if depth == 1 => break,
            '}' => depth -= 1,
            ',' => fresh = depth == 1,
            c if fresh && !c.is_whitespace() => {
                found.push((at + step, name(at + step)));
                fresh = false;
            }
            _ => {}
        }
    }
    found
}

fn sources(folder: &Path, found: &mut Vec<Source>) {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            sources(&path, found);
        } else if path.extension().is_some_and(|end| end == "rs") {
            let name = path.strip_prefix(root).unwrap().to_string_lossy();
            let text = std::fs::read_to_string(&path).unwrap();
            found.push(Source::new(&name.replace('\\', "/"), &text));
        }
    }
}

fn house() -> Vec<Source> {
    let mut found = Vec::new();
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    sources(&src, &mut found);
    found
}

#[test]
fn every_door_that_should_be_shut_is_shut() {
    let house = house();
    assert!(house.len() > 50, "the house was not found");
    let breaches: Vec<String> = house
        .iter()
        .flat_map(Source::breaches)
        .map(|one| one.to_string())
        .collect();
    assert!(breaches.is_empty(), "\n{}", breaches.join("\n"));
}

// The rule: an answer of a command is a view of `tell::views`, with a schema; no new one is put together by hand.
#[test]
fn no_command_writes_its_json_by_hand() {
    let by_hand = |one: &Source| {
        // A report is made of any view: that bound is no answer of its own.
        let code = one.code.replace("impl serde::Serialize", "");
        let is_view = ["json!", "Serialize", "serde_json::Map"]
            .iter()
            .any(|word| code.contains(word));
        one.file.starts_with("src/command/") && is_view
    };
    let by_hand = house().into_iter().filter(by_hand);
    let by_hand: Vec<String> = by_hand.map(|one| one.file).collect();
    assert!(by_hand.is_empty(), "{by_hand:?}");
}

// The rule: places do not know each other, the kit knows none of them, and neither knows the shell.
#[test]
fn within_the_screen_no_place_knows_another_nor_the_shell() {
    let house = house();
    let found = house.iter().flat_map(Source::screen_breaches);
    let found: Vec<String> = found.map(|one| one.to_string()).collect();
    assert!(found.is_empty(), "\n{}", found.join("\n"));
}

#[test]
fn a_door_within_the_screen_is_found_wherever_it_is_hidden() {
    let shut = [
        (
            "src/screen/kit/a.rs",
            "use crate::screen::{kit::b, places::{pour, rack}};",
        ),
        (
            "src/screen/kit/a.rs",
            "use crate::screen::shell::model::Model;",
        ),
        ("src/screen/kit/a.rs", "fn f() { super::super::shell::g() }"),
        (
            "src/screen/places/bench/a.rs",
            "use crate::screen::places::pour::Desk;",
        ),
        ("src/screen/places/bench/a.rs", "use super::super::pour;"),
        ("src/screen/places/bench/mod.rs", "use super::pour;"),
        (
            "src/screen/places/bench/cards/a.rs",
            "use crate::screen::places::pour::Desk;",
        ),
        (
            "src/screen/places/bench/cards/a.rs",
            "use super::super::super::pour;",
        ),
        (
            "src/screen/places/bench/a.rs",
            "fn f(m: &crate::screen::shell::model::Model) {}",
        ),
    ];
    for (file, source) in shut {
        let found = Source::new(file, source).screen_breaches();
        assert!(!found.is_empty(), "{file}: {source}");
    }
    let open = [
        (
            "src/screen/kit/a.rs",
            "use crate::screen::kit::b; use super::c;",
        ),
        (
            "src/screen/places/bench/a.rs",
            "use super::Bench; use crate::screen::places::bench::x;",
        ),
        (
            "src/screen/places/bench/cards/a.rs",
            "use super::super::Bench;",
        ),
        (
            "src/screen/places/bench/a.rs",
            "// places::pour\nuse crate::screen::kit::place::Place;",
        ),
        (
            "src/screen/shell/a.rs",
            "use crate::screen::places::{bench, pour};",
        ),
    ];
    for (file, source) in open {
        let found = Source::new(file, source).screen_breaches();
        assert!(found.is_empty(), "{file}: {source}: {found:?}");
    }
}

#[test]
fn the_screen_meets_the_system_in_one_file() {
    let timing = |source: &&Source| {
        let met = ["Instant::now", "std::env"];
        source.room == "screen" && met.iter().any(|word| !uses(&source.code, word).is_empty())
    };
    let house = house();
    let files: Vec<&str> = house
        .iter()
        .filter(timing)
        .map(|one| one.file.as_str())
        .collect();
    assert!(files.len() <= 1, "{files:?}");
}

#[test]
fn a_shut_door_is_found_wherever_it_is_hidden() {
    let table = [
        (
            "src/trade/a.rs",
            "use crate::studio::Studio;",
            "trade knows studio",
        ),
        (
            "src/screen/a.rs",
            "\nuse crate::{\n  trade::x,\n  logbook::Y};",
            "screen knows logbook",
        ),
        (
            "src/command/a.rs",
            "fn f() { super::super::logbook::g() }",
            "command knows logbook",
        ),
        (
            "src/command/a.rs",
            "let x = stillcup::screen::run();",
            "command knows screen",
        ),
        (
            "src/numbers/b/c.rs",
            "use std::{io, env};",
            "numbers names std::env",
        ),
        (
            "src/studio/a.rs",
            "let t = chrono::Utc::now();",
            "studio names Utc::now",
        ),
        (
            "src/studio/a.rs",
            "let s = \"SELECT id FROM cup\";",
            "studio speaks SQL",
        ),
        (
            "src/studio/a.rs",
            "let s = r#\"PRAGMA x\"#;",
            "studio speaks SQL",
        ),
        (
            "src/studio/a.rs",
            "#[cfg(test)]\nmod tests { use std::fs; }\nfn f() { std::env::var(\"x\"); }",
            "studio names std::env",
        ),
        (
            "src/studio/a.rs",
            "#[cfg(test)]\nuse std::io;\nuse std::fs;",
            "studio names std::fs",
        ),
        (
            "src/trade/a.rs",
            "use crate::tell::words;",
            "trade knows tell",
        ),
        (
            "src/studio/a.rs",
            "use crate::tell::words;",
            "studio knows tell",
        ),
        (
            "src/tell/a.rs",
            "use crate::logbook::Change;",
            "tell knows logbook",
        ),
        (
            "src/command/a.rs",
            "use ratatui::Frame;",
            "command names ratatui",
        ),
    ];
    for (file, source, what) in table {
        let found = Source::new(file, source).breaches();
        assert!(
            found.iter().any(|one| one.what == what),
            "{source}: {found:?}"
        );
    }
    let found = Source::new("src/trade/a.rs", "//! x\n\nuse crate::studio::A;").breaches();
    assert_eq!(found[0].to_string(), "src/trade/a.rs:3: trade knows studio");
}

#[test]
fn an_open_door_a_comment_and_a_text_are_let_be() {
    let table = [
        (
            "src/studio/a.rs",
            "use crate::{trade::x, logbook::{Reader, studio}};",
        ),
        (
            "src/trade/a.rs",
            "// use crate::studio::A;\nconst A: &str = \"crate::studio\";",
        ),
        (
            "src/trade/a.rs",
            "/// `crate::studio`\nfn f(c: char) -> bool { c == '\"' } // std::fs",
        ),
        (
            "src/studio/a.rs",
            "use super::settings; use super::logbook_words;",
        ),
        (
            "src/studio/a.rs",
            "fn f() {}\n#[cfg(test)]\nmod tests { use std::fs; }",
        ),
        (
            "src/logbook/a.rs",
            "let s = \"SELECT 1\"; use rusqlite::Row;",
        ),
    ];
    for (file, source) in table {
        let found = Source::new(file, source).breaches();
        assert!(found.is_empty(), "{source}: {found:?}");
    }
}
