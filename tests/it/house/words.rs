//! Rooms below `tell`, and the exchange, answer with facts: no command and no argument stands in their texts, none makes a
//! sentence but where [`WORDED`] says why, and no room hands the things of another on but those that are facts for all.

use super::text::line_of;
use super::{Breach, Source, house};

/// The rooms that make no wording.
const BELOW: [&str; 5] = ["trade", "numbers", "logbook", "studio", "exchange"];

/// Where such a room has whole phrases all the same: the beginning of the path, and why. The store has none.
const WORDED: &[(&str, &str)] = &[
    (
        "src/studio/orders/",
        "what a field of a form wants, beside its label",
    ),
    (
        "src/studio/findings/logged.rs",
        "the names of factors, by which a trial and a person name them too",
    ),
    (
        "src/studio/file/transfer.rs",
        "what the history keeps of an import, for a reader that does not know its kind",
    ),
    (
        "src/exchange/certificate.rs",
        "what stands on a certificate, which no face shows",
    ),
    (
        "src/exchange/paper/",
        "what stands on paper, which no face shows",
    ),
    (
        "src/exchange/manners.rs",
        "by whom a file for a shell was made, as it stands in that file",
    ),
    (
        "src/exchange/report.rs",
        "what stands on the page of a report, which no face shows",
    ),
    (
        "src/exchange/spreadsheet/headings.rs",
        "what painters call the columns of their lists",
    ),
    (
        "src/trade/act.rs",
        "what the history keeps of a deed, for a reader that does not know its kind",
    ),
    (
        "src/trade/amount.rs",
        "the units that may be typed, such as us fl oz",
    ),
    (
        "src/trade/caution.rs",
        "the cautions are given as they are, with their own words",
    ),
];

/// How a command of the program begins, and one of its arguments.
const COMMANDS: [&str; 2] = ["stillcup ", " --"];

/// What the file of a studio calls itself; no command.
const FORMAT: &str = "stillcup studio";

/// What a room may hand on of another under a path of its own: facts, and what an import and an export is made of.
const HANDED_ON: &[(&str, &str, &[&str])] = &[
    (
        "studio",
        "logbook",
        &[
            "Alteration",
            "AtHand",
            "BackupFault",
            "Candidate",
            "Change",
            "Column",
            "Contradiction",
            "Contradictions",
            "Damage",
            "Differing",
            "DiskFault",
            "FileWriter",
            "Holds",
            "HowMoved",
            "Impossible",
            "Intake",
            "LogbookError",
            "Misfit",
            "Moved",
            "NewerWord",
            "Occupied",
            "ProgramFault",
            "Record",
            "Renamed",
            "RowAt",
            "RowFault",
            "RowName",
            "Rule",
            "Sheet",
            "SystemFault",
            "TABLES",
            "Table",
            "Taken",
            "Value",
            "WholeState",
            "Whose",
            "at_hand",
            "on_wait",
        ],
    ),
    ("screen", "tell", &["show_move"]),
];

/// Words that only a question to the database has.
const ASKED: [&str; 12] = [
    "SELECT", "FROM", "WHERE", "PRAGMA", "INSERT", "UPDATE", "DELETE", "CREATE", "BETWEEN", "NOT",
    "AND", "OR",
];

/// Whether a person would read it: three words in a row, and no question to the database.
fn is_sentence(text: &str) -> bool {
    let is_word = |word: &&str| {
        let bare = word.trim_end_matches([',', ';', ':', '.']);
        !bare.is_empty() && bare.chars().all(|c| c.is_ascii_lowercase() || c == '\'')
    };
    let words: Vec<&str> = text.split_whitespace().collect();
    let asks = words.iter().any(|word| ASKED.contains(word));
    !asks && words.windows(3).any(|three| three.iter().all(is_word))
}

impl Source {
    /// The texts that a user's program has: not those of tests, nor why a lint is allowed.
    fn own_texts(&self) -> impl Iterator<Item = &(usize, String)> {
        let tests = super::text::tests_in(&self.code);
        let of_tests = self.is_of_tests();
        self.texts.iter().filter(move |(at, _)| {
            !of_tests
                && !tests.iter().any(|range| range.contains(at))
                && !self.code[..*at].ends_with("reason = ")
        })
    }

    pub(super) fn word_breaches(&self) -> Vec<Breach> {
        let mut found = self.smuggled();
        if !BELOW.contains(&self.room.as_str()) {
            return found;
        }
        for (at, text) in self.own_texts() {
            let named = COMMANDS.iter().any(|command| text.contains(command));
            if named && text != FORMAT {
                found.push(self.breach(*at, format!("{} names a command: {text}", self.room)));
            }
            if is_sentence(text) && !self.may_word() {
                found.push(self.breach(*at, format!("{} makes a sentence: {text}", self.room)));
            }
        }
        if self.says_errors() {
            found.push(self.breach(0, format!("{} words its errors", self.room)));
        }
        found
    }

    /// Whether this file is one of those that may have whole phrases.
    fn may_word(&self) -> bool {
        let mut worded = WORDED.iter();
        worded.any(|(path, _)| self.file.starts_with(path))
    }

    /// Whether an error of this file has words of its own.
    fn says_errors(&self) -> bool {
        !self.is_of_tests() && self.code.contains("#[error(")
    }

    /// What is handed on of another room, though nobody may know it by another path than its own.
    fn smuggled(&self) -> Vec<Breach> {
        let code = super::without_tests(&self.code);
        let mut found = Vec::new();
        for (at, _) in code.match_indices("use ") {
            let before = code[..at].trim_end();
            let is_public = before.ends_with("pub")
                || before.ends_with(')')
                    && before
                        .rfind("pub(")
                        .is_some_and(|p| !before[p..].contains([';', '{']));
            let path = code[at + 4..].split(';').next().unwrap_or_default().trim();
            if let Some(path) = path.strip_prefix("crate::").filter(|_| is_public) {
                let not = self.not_handed_on(path).into_iter();
                found.extend(not.map(|what| Breach {
                    file: self.file.clone(),
                    line: line_of(&code, at),
                    what: format!("{} hands on {what}", self.room),
                }));
            }
        }
        found
    }

    /// What of a path from the root is another room's, and none of what may be handed on.
    fn not_handed_on(&self, path: &str) -> Vec<String> {
        let Some((room, names)) = path.split_once("::") else {
            return vec![path.to_owned()];
        };
        if room == self.room {
            return Vec::new();
        }
        let may = HANDED_ON
            .iter()
            .filter(|(own, of, _)| *own == self.room && *of == room);
        let may: Vec<&str> = may
            .flat_map(|(_, _, names)| names.iter().copied())
            .collect();
        let names = names.trim_start_matches('{').trim_end_matches('}');
        let names = names.split(',').map(|name| name.trim());
        let names = names.map(|name| name.split(" as ").next().unwrap_or(name));
        let not = names.filter(|name| !name.is_empty() && !may.contains(name));
        not.map(|name| format!("{room}::{name}")).collect()
    }
}

// The rule: an exception that excepts nothing any more goes.
#[test]
fn where_a_room_below_tell_may_have_phrases_it_has_some() {
    let house = house();
    for (path, why) in WORDED {
        let mut files = house.iter().filter(|one| one.file.starts_with(path));
        let words = files.any(|one| one.own_texts().any(|(_, text)| is_sentence(text)));
        assert!(words, "{path} has no phrases any more ({why})");
    }
}

// The rule: below `tell` there are facts, and no words of the faces.
#[test]
fn no_room_below_tell_makes_sentences_for_a_person() {
    let found = house()
        .iter()
        .flat_map(Source::word_breaches)
        .collect::<Vec<_>>();
    let found: Vec<String> = found.iter().map(Breach::to_string).collect();
    assert!(found.is_empty(), "\n{}", found.join("\n"));
}

#[test]
fn a_sentence_and_a_door_handed_on_are_found_wherever_they_hide() {
    for (file, source) in [
        (
            "src/logbook/a.rs",
            "fn f() -> &'static str { \"the row is gone\" }",
        ),
        ("src/logbook/a.rs", "#[error(\"gone\")]\nGone,"),
        (
            "src/numbers/a.rs",
            "fn f() -> &'static str { \"the mound is far\" }",
        ),
        (
            "src/studio/cups/a.rs",
            "fn f() -> String { format!(\"{} is still resting here\", 1) }",
        ),
        ("src/trade/a.rs", "const SAID: &str = \"no cup is ready\";"),
        (
            "src/studio/a.rs",
            "fn f() -> String { format!(\"bring it back: stillcup restore {}\", 1) }",
        ),
        ("src/trade/a.rs", "const HINT: &str = \"say it with --at\";"),
        (
            "src/exchange/a.rs",
            "fn f() -> String { format!(\"{} is no plain file\", 1) }",
        ),
        ("src/exchange/a.rs", "#[error(\"gone\")]\nGone,"),
        ("src/studio/mod.rs", "pub use crate::logbook::Logbook;"),
        (
            "src/studio/mod.rs",
            "pub use crate::logbook::{Change, Logbook as Book};",
        ),
        ("src/studio/mod.rs", "pub(crate) use crate::logbook;"),
        ("src/tell/mod.rs", "pub use crate::studio::Studio;"),
        ("src/studio/mod.rs", "pub use crate::logbook::*;"),
    ] {
        let found = Source::new(file, source).word_breaches();
        assert!(!found.is_empty(), "{file}: {source}");
    }
    for (file, source) in [
        (
            "src/logbook/a.rs",
            "let sql = \"SELECT a FROM b WHERE there is none\";",
        ),
        (
            "src/logbook/a.rs",
            "// the row is gone\n#[allow(dead_code, reason = \"held for its lifetime\")]",
        ),
        (
            "src/logbook/a.rs",
            "#[cfg(test)]\nmod tests { const A: &str = \"a row is gone\"; }",
        ),
        (
            "src/tell/a.rs",
            "const HINT: &str = \"say it: stillcup undo\";",
        ),
        (
            "src/studio/orders/a.rs",
            "const HINT: &str = \"what you call it; empty leaves it\";",
        ),
        (
            "src/studio/mod.rs",
            "pub use crate::logbook::{Change, LogbookError as StoreError};",
        ),
        (
            "src/studio/a.rs",
            "use crate::logbook::Logbook; pub use crate::studio::cups::X;",
        ),
    ] {
        let found = Source::new(file, source).word_breaches();
        assert!(found.is_empty(), "{file}: {source}: {found:?}");
    }
}
