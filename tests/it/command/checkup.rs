//! `doctor` answers in a poor terminal, and with a missing or damaged studio.

use super::Rehearsal;
use serde_json::Value;
use std::process::Command;

fn doctor(desk: &Rehearsal, said: &[(&str, &str)]) -> (String, Value) {
    let ask = |words: &[&str]| {
        let mut command = Command::new(env!("CARGO_BIN_EXE_stillcup"));
        command.args(words).env_clear();
        command.env("STILLCUP_STUDIO", desk.file());
        command.envs(said.iter().copied());
        let done = command.output().unwrap();
        assert!(done.status.success(), "{done:?}");
        String::from_utf8(done.stdout).unwrap()
    };
    let json = serde_json::from_str(&ask(&["doctor", "--json"])).unwrap();
    (ask(&["doctor"]), json)
}

fn stands<'a>(json: &'a Value, what: &str) -> &'a str {
    let all = json["findings"].as_array().unwrap();
    let found = all.iter().find(|one| one["what"] == what).unwrap();
    found["stands"].as_str().unwrap()
}

#[test]
fn a_poor_terminal_is_told_in_letters_that_it_has() {
    let desk = Rehearsal::stocked();
    let (said, json) = doctor(&desk, &[("TERM", "dumb"), ("LANG", "C"), ("NO_COLOR", "1")]);
    assert!(said.is_ascii(), "{said}");
    assert_eq!(
        [stands(&json, "letters"), stands(&json, "file")],
        ["poor", "good"]
    );
    let (said, json) = doctor(&desk, &[("TERM", "xterm"), ("LANG", "C.UTF-8")]);
    assert!(said.contains("⣿"), "{said}");
    assert_eq!(stands(&json, "letters"), "good");
}

#[test]
fn a_missing_studio_is_not_made_and_a_damaged_one_is_told_with_the_way_back() {
    let missing = Rehearsal::at("2026-11-24T18:00:00+01:00");
    let (said, json) = doctor(&missing, &[]);
    assert!(said.contains("is not there yet") && stands(&json, "file") == "good");
    assert!(!missing.file().exists());

    let desk = Rehearsal::stocked();
    let whole = std::fs::read(desk.file()).unwrap();
    std::fs::write(desk.file(), &whole[..whole.len() / 2]).unwrap();
    let before = std::fs::read(desk.file()).unwrap();
    let (said, json) = doctor(&desk, &[]);
    assert_eq!(stands(&json, "file"), "wrong", "{json}");
    assert!(
        said.contains("stillcup restore") || said.contains("stillcup export"),
        "{said}"
    );
    assert_eq!(std::fs::read(desk.file()).unwrap(), before);
}

/// Everything in a folder, by name, with its bytes.
fn all_in(folder: &std::path::Path) -> Vec<(std::ffi::OsString, Option<Vec<u8>>)> {
    let mut found: Vec<_> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap())
        .map(|entry| (entry.file_name(), std::fs::read(entry.path()).ok()))
        .collect();
    found.sort();
    found
}

// It looks and changes nothing: not an older file, not an empty one, and nothing beside them.
#[test]
fn a_look_renews_no_older_file_and_makes_nothing() {
    let older: &[u8] = include_bytes!("../store/released/0005.db");
    for (bytes, told) in [(older, "of an older version"), (&[], "is not there yet")] {
        let desk = Rehearsal::at("2026-11-24T18:00:00+01:00");
        std::fs::write(desk.file(), bytes).unwrap();
        let folder = desk.file().parent().unwrap().to_owned();
        let before = all_in(&folder);
        let (said, _) = doctor(&desk, &[]);
        assert!(said.contains(told), "{said}");
        assert_eq!(all_in(&folder), before);
    }
}
