//! The faces read nothing: no amount, name, number or instant is parsed in `screen` or `command`, no sentence is taken
//! apart there or in `tell`, and no folder goes by another name than its own.

use super::text::without_tests;
use super::{Breach, Source, house};

/// The rooms that a person meets.
const FACES: [&str; 2] = ["screen", "command"];

/// What reads a text.
const READS: [&str; 6] = [
    ".parse(",
    ".parse::<",
    "from_str(",
    "::parse(",
    "::parse_from",
    "NaiveDate::",
];

/// What takes a text apart; a text within the code is read here as a blank.
const CUTS: [&str; 17] = [
    ".split(",
    ".split_once(",
    ".rsplit",
    ".strip_prefix(",
    ".strip_suffix(",
    ".starts_with(",
    ".ends_with(",
    ".get(..",
    ".splitn(",
    ".contains( )",
    ".contains('",
    ".find( )",
    ".find('",
    ".rfind( )",
    ".rfind('",
    ".trim_start_matches(",
    ".trim_end_matches(",
];

/// Where a face may read a text, and why.
const READ_FOR: &[(&str, &str)] = &[
    (
        "src/command/mod.rs",
        "clap's own check that a word is one of a few",
    ),
    (
        "src/screen/shell/own_keys.rs",
        "a file of keys, and the number of a function key",
    ),
];

/// Where a text may be taken apart, and why: each is about cells, letters, a terminal or a path, never about a fact.
const CUT_FOR: &[(&str, &str)] = &[
    (
        "src/command/complete.rs",
        "the words of a shell, and which names begin as was typed",
    ),
    (
        "src/screen/kit/form.rs",
        "the rest of a word that one key said",
    ),
    ("src/screen/shell/own_keys.rs", "what a key is called"),
    ("src/screen/kit/picture.rs", "what a terminal is called"),
    ("src/screen/kit/pick.rs", "which names begin as was typed"),
    ("src/screen/kit/seek.rs", "which rows begin as was typed"),
    (
        "src/screen/kit/text.rs",
        "where a line is broken or shortened",
    ),
    ("src/screen/places/outgoing/forms.rs", "a path"),
    ("src/screen/places/outgoing/mod.rs", "a path"),
    ("src/screen/places/photos/forms.rs", "a path"),
    ("src/tell/moved.rs", "a or an"),
    ("src/tell/refusals.rs", "a or an"),
    ("src/tell/shelf.rs", "the full stop of a label"),
    ("src/tell/trials.rs", "a sign that is there already"),
];

impl Source {
    fn is_a_face(&self) -> bool {
        FACES.contains(&self.room.as_str()) && !self.is_of_tests()
    }

    /// Where one of some words stands in what a user's program has.
    fn words_of_program(&self, words: &[&str]) -> Vec<Breach> {
        let code = without_tests(&self.code);
        let places = |word: &&str| {
            let found = code.match_indices(*word).map(|(at, _)| at);
            found.map(|at| (at, (*word).to_owned())).collect::<Vec<_>>()
        };
        let found = words.iter().flat_map(places);
        found
            .map(|(at, word)| self.breach(at, format!("{} has {word}", self.room)))
            .collect()
    }

    /// Where a path goes down before it goes up: no door is watched that way.
    fn detours(&self) -> Vec<Breach> {
        let found = self.code.match_indices("self::super");
        found
            .map(|(at, _)| self.breach(at, "goes up by self::super".to_owned()))
            .collect()
    }

    fn readings(&self) -> Vec<Breach> {
        let allowed = READ_FOR.iter().any(|(file, _)| *file == self.file);
        match self.is_a_face() && !allowed {
            true => self.words_of_program(&READS),
            false => Vec::new(),
        }
    }

    fn cuts(&self) -> Vec<Breach> {
        let allowed = CUT_FOR.iter().any(|(file, _)| *file == self.file);
        let told = self.room == "tell" && !self.is_of_tests();
        match !allowed && (self.is_a_face() || told) {
            true => self.words_of_program(&CUTS),
            false => Vec::new(),
        }
    }

    /// Where a root, a room or a folder is brought in by another name than its own: no door would know it again.
    fn renamings(&self) -> Vec<Breach> {
        let code = without_tests(&self.code);
        let ends = code.match_indices(" as ").filter(|(at, _)| {
            let (item, line) = (code[..*at].rfind([';', '}']), code[..*at].rfind("use "));
            let within = |from: Option<usize>| from.map_or(0, |from| from + 1);
            line.is_some_and(|line| {
                let braces =
                    code[line..*at].matches('}').count() <= code[line..*at].matches('{').count();
                within(item) <= line || braces && !code[line..*at].contains(';')
            })
        });
        let folders = ends.filter(|(at, _)| {
            let name = code[..*at]
                .rsplit(|c: char| !c.is_alphanumeric() && c != '_')
                .next();
            name.is_some_and(|name| name.starts_with(char::is_lowercase))
        });
        folders
            .map(|(at, _)| self.breach(at, "renames a root or a folder".to_owned()))
            .collect()
    }
}

fn told(found: impl Iterator<Item = Breach>) -> String {
    let found: Vec<String> = found.map(|one| one.to_string()).collect();
    found.join("\n")
}

// The rule: texts are read once, in `studio::orders`.
#[test]
fn no_face_reads_an_amount_a_name_or_an_instant() {
    let found = told(house().iter().flat_map(Source::readings));
    assert!(found.is_empty(), "\n{found}");
}

// The rule: no fact is found by comparing or splitting a sentence.
#[test]
fn no_face_takes_a_sentence_apart() {
    let found = told(house().iter().flat_map(Source::cuts));
    assert!(found.is_empty(), "\n{found}");
}

// The rule: a door that is shut cannot be gone through under another name.
#[test]
fn no_root_and_no_folder_goes_by_another_name() {
    let found = told(house().iter().flat_map(Source::renamings));
    assert!(found.is_empty(), "\n{found}");
}

// The rule: a path that goes up is written so that its doors are seen.
#[test]
fn no_path_goes_down_before_it_goes_up() {
    let found = told(house().iter().flat_map(Source::detours));
    assert!(found.is_empty(), "\n{found}");
    let hidden = Source::new("src/screen/kit/a.rs", "use self::super::super::shell;");
    assert_eq!(hidden.detours().len(), 1);
}

#[test]
fn a_file_that_takes_no_text_apart_is_off_the_list() {
    let house = house();
    for (file, why) in CUT_FOR {
        let source = house.iter().find(|one| one.file == *file);
        let cuts = source.is_some_and(|one| !one.words_of_program(&CUTS).is_empty());
        assert!(
            cuts,
            "{file} takes no text apart ({why}): take it off the list"
        );
    }
}

#[test]
fn a_reading_is_found_wherever_it_hides() {
    let bad = [
        ("src/command/a.rs", "fn f(t: &str) { t.parse::<i64>(); }"),
        ("src/command/a.rs", "fn f(t: &str) { Amount::parse(t); }"),
        (
            "src/screen/places/a/b.rs",
            "fn f() { x.parse().ok() }\n#[cfg(test)]\nmod tests {}",
        ),
    ];
    for (file, source) in bad {
        assert!(!Source::new(file, source).readings().is_empty(), "{source}");
    }
    for cut in [
        "words.split(',')",
        "words.contains(\"ready\")",
        "words.find('%')",
    ] {
        let source = Source::new("src/screen/places/a/b.rs", &format!("fn f() {{ {cut} }}"));
        assert_eq!(source.cuts().len(), 1, "{cut}");
    }
    for renamed in [
        "use crate as c;",
        "use std as s;\nfn f() { s::fs::read(x) }",
        "use crate::{trade::b, screen::places as p};",
        "pub use super::super as up;",
    ] {
        let source = Source::new("src/studio/a.rs", renamed);
        assert_eq!(source.renamings().len(), 1, "{renamed}");
    }
    let open = [
        (
            "src/studio/orders/a.rs",
            "fn f(t: &str) { t.parse::<i64>(); }",
        ),
        (
            "src/command/a.rs",
            "#[cfg(test)]\nmod tests { fn f() { t.parse(); } }",
        ),
        (
            "src/command/a.rs",
            "use std::fmt::Write as _;\nfn f(x: u8) { let y = x as f64; }",
        ),
        ("src/command/a.rs", "use rust_decimal::Decimal as Money;"),
    ];
    for (file, source) in open {
        let source = Source::new(file, source);
        assert!(
            source.readings().is_empty() && source.renamings().is_empty(),
            "{file}"
        );
    }
}
