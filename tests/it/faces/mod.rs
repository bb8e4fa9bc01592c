//! Each deed through the command line (a real process) and through the screen (the real loop on a real terminal):
//! the same rows are written, and what the one warns of the other says too.

mod cups;
mod measures;
mod plans;
mod pours;
mod shelf;
mod start;

use crate::terminal::hands::Hands;
use crate::terminal::{Stage, now};
use assert_cmd::Command;
use rusqlite::Connection;
use rusqlite::types::Value;
use serde_json::Value as Json;

/// One deed on both faces.
struct Deed {
    /// The command, its words parted by `|`; several one after another by ` then `.
    words: &'static str,
    /// The keys, parted by `|`; what is typed begins with `=`, what is waited for with `~`.
    keys: &'static str,
    /// What the screen says once it is done.
    said: &'static str,
}

const fn deed(words: &'static str, keys: &'static str, said: &'static str) -> Deed {
    Deed { words, keys, said }
}

/// Both write the same, and the screen says what the command warns of.
fn same_rows_and_warnings(deed: &Deed, [commanded, shown]: [Stage; 2]) {
    let done = deed.words.split(" then ").map(|words| {
        let (code, answer) = command(&commanded, words);
        assert_eq!(code, 0, "{words}: {answer}");
        answer
    });
    let answer = done.last().unwrap();
    let warnings = answer["warnings"].as_array().into_iter().flatten();
    let warnings = warnings.map(|warning| warning.as_str().unwrap());
    let said: Vec<&str> = [deed.said].into_iter().chain(warnings).collect();
    let seen = pressed(&shown, deed.keys, &said);
    // And the other way round: of what the command finds nothing odd, the screen does not either.
    if answer["warnings"].as_array().is_some_and(Vec::is_empty) {
        assert!(seen.contains("✓ "), "{}: {seen}", deed.words);
    }
    let (commanded, shown) = (rows(&commanded), rows(&shown));
    let alone = |these: &[String], those: &[String]| -> Vec<String> {
        let these = these.iter().filter(|row| !those.contains(row));
        these.cloned().collect()
    };
    let apart = [alone(&commanded, &shown), alone(&shown, &commanded)];
    assert_eq!(apart[0], apart[1], "{}: {seen}", deed.words);
    assert_eq!(commanded, shown, "{}", deed.words);
}

/// Both refuse each, say so and what to do next, and write nothing.
fn refused_alike(refused: &[Deed]) {
    let untouched = rows(&Stage::with_cups());
    for deed in refused {
        let (commanded, shown) = (Stage::with_cups(), Stage::with_cups());
        let (code, answer) = command(&commanded, deed.words);
        let refused = answer["refused"].as_str().unwrap_or_default();
        assert_eq!(code, 1, "{}: {answer}", deed.words);
        assert!(refused.contains(deed.said), "{}: {refused}", deed.words);
        let seen = pressed(&shown, deed.keys, &["✗", deed.said]);
        // What to do next is said too: in commands there, in keys here.
        assert_ne!(
            answer["hint"].as_str().unwrap_or_default(),
            "",
            "{}",
            deed.words
        );
        assert!(!seen.contains("stillcup "), "{}: {seen}", deed.words);
        assert_eq!(rows(&commanded), untouched, "{}", deed.words);
        assert_eq!(rows(&shown), untouched, "{}: {seen}", deed.words);
    }
}

/// The exit code and the answer of a command.
fn command(stage: &Stage, words: &str) -> (i32, Json) {
    let output = Command::new(env!("CARGO_BIN_EXE_stillcup"))
        .env_clear()
        .env("STILLCUP_STUDIO", stage.file())
        .env("STILLCUP_NOW", now().at.to_rfc3339())
        .args(words.split('|'))
        .arg("--json")
        .output()
        .unwrap();
    let answer = serde_json::from_slice(&output.stdout).unwrap_or_default();
    (output.status.code().unwrap(), answer)
}

/// What the screen shows, its lines joined, once the keys were pressed and it says what it is to say.
fn pressed(stage: &Stage, keys: &str, said: &[&str]) -> String {
    let mut hands = Hands::on(stage, 160, 50);
    hands.see_text("Bench");
    for key in keys.split('|') {
        let after = |sign: char| key.strip_prefix(sign);
        match (after('='), after('~'), after('!')) {
            (Some(text), ..) => hands.type_amount(text),
            (_, Some(text), _) => drop(hands.see_text(text)),
            (.., Some(question)) => hands.answer(question, "Enter"),
            _ => hands.press(key),
        }
    }
    let joined = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let done = |contents: &str| {
        let contents = joined(contents);
        let tone = ["✓", "? ", "✗"].iter().any(|sign| contents.contains(sign));
        tone && said.iter().all(|piece| contents.contains(piece))
    };
    joined(&hands.see(keys, |screen| done(&screen.contents())))
}

/// Every row of the studio, and what its history calls each change; numbers made by chance aside.
fn rows(stage: &Stage) -> Vec<String> {
    let conn = Connection::open(stage.file()).unwrap();
    let mut rows = Vec::new();
    for table in texts(
        &conn,
        "SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY name",
    ) {
        let columns = texts(
            &conn,
            &format!("SELECT name FROM pragma_table_info('{table}')"),
        );
        let wanted = |column: &&String| match table.as_str() {
            "change" => matches!(column.as_str(), "kind" | "label" | "act"),
            _ => *column != "uid",
        };
        let columns: Vec<_> = columns.iter().filter(wanted).cloned().collect();
        // What was typed and is not done yet is kept by the screen alone.
        let aside =
            table == "draft" || table.starts_with("sqlite_") || table.starts_with("change_");
        if aside || columns.is_empty() {
            continue;
        }
        let query = format!("SELECT {} FROM {table}", columns.join(", "));
        let mut query = conn.prepare(&query).unwrap();
        let count = columns.len();
        let row = |row: &rusqlite::Row<'_>| -> rusqlite::Result<Vec<Value>> {
            (0..count).map(|column| row.get(column)).collect()
        };
        let found = query.query_map([], row).unwrap();
        rows.extend(found.map(|row| format!("{table} {:?}", row.unwrap())));
    }
    rows.sort();
    rows
}

fn texts(conn: &Connection, query: &str) -> Vec<String> {
    let mut query = conn.prepare(query).unwrap();
    let found = query.query_map([], |row| row.get(0)).unwrap();
    found.map(Result::unwrap).collect()
}
