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
    let (_, json) = doctor(&desk, &[]);
    assert_ne!(stands(&json, "file"), "good", "{json}");
    assert_eq!(std::fs::read(desk.file()).unwrap(), before);
}
