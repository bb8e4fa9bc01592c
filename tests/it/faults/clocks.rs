//! Clocks that are set back or forward, zones that change, summer time: the order of entry holds, a wait counts in
//! elapsed time, and what is odd is said. River blue rests twelve hours unless it is said otherwise.

use super::program::{Said, begin, dressed, run};
use serde_json::Value;
use std::path::{Path, PathBuf};
use std::process::Command;
use tempfile::TempDir;

/// A studio whose cup K7 was mixed at ten in the morning of Wednesday, 25 November 2026, in a zone an hour ahead of UTC.
fn studio() -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("studio.db");
    begin(&file);
    (folder, file)
}

fn cup(file: &Path, now: &str) -> Value {
    let said = run(file, now, &["cups", "--json"]).done();
    let said: Value = serde_json::from_str(&said).unwrap();
    let cups = said["cups"].as_array().unwrap();
    let is_named = |cup: &&Value| cup["mark"] == "K7" || cups.len() == 1;
    cups.iter().find(is_named).unwrap().clone()
}

fn state(file: &Path, now: &str) -> String {
    cup(file, now)["state"].as_str().unwrap().to_owned()
}

#[test]
fn a_wait_is_elapsed_time_in_whatever_zone_it_is_told() {
    let (_folder, file) = studio();
    // 22:00 at +01:00, on three walls.
    for (before, at) in [
        ("2026-11-25T21:59:59+01:00", "2026-11-25T22:00:00+01:00"),
        ("2026-11-26T02:29:59+05:30", "2026-11-26T02:30:00+05:30"),
        ("2026-11-25T12:59:59-08:00", "2026-11-25T13:00:00-08:00"),
    ] {
        assert_eq!(state(&file, before), "resting", "{before}");
        assert_eq!(state(&file, at), "look", "{at}");
    }
    let told = cup(&file, "2026-11-25T12:00:00-08:00");
    assert_eq!(told["mixed_at"], "2026-11-25T01:00:00-08:00");
    assert_eq!(told["clears_at"], "2026-11-25T13:00:00-08:00");
    let said = run(&file, "2026-11-25T12:00:00-08:00", &["cups"]).done();
    assert!(
        said.contains("clears 13:00, in 1 h") && !said.contains('!'),
        "{said}"
    );
}

/// A journey west: the wall clock shows earlier hours, and nothing is odd about it.
#[test]
fn a_change_of_zone_is_no_clock_set_back() {
    let (_folder, file) = studio();
    let said = run(&file, "2026-11-25T04:30:00-05:00", &["read", "K7", "2.8"]).done();
    assert!(!said.contains('!'), "{said}");
    let life = run(&file, "2026-11-25T04:30:00-05:00", &["cup", "K7"]).done();
    assert!(
        life.find("04:00  mixed") < life.find("04:30  mound 2.8 s"),
        "{life}"
    );
}

/// In the European Union the clock is put back at 01:00 UTC on the last Sunday of October and forward at 01:00 UTC
/// on that of March (Directive 2000/84/EC).
#[test]
fn summer_time_makes_no_wait_longer_or_shorter() {
    for (mixed, before, after) in [
        (
            "2026-10-24T20:00:00+02:00",
            "2026-10-25T06:59:59+01:00",
            "2026-10-25T07:00:00+01:00",
        ),
        (
            "2026-03-28T20:00:00+01:00",
            "2026-03-29T08:59:59+02:00",
            "2026-03-29T09:00:00+02:00",
        ),
    ] {
        let (_folder, file) = studio();
        run(&file, "2026-03-01T10:00:00+01:00", &["end", "K7", "binned"]).done();
        run(&file, mixed, &["mix", "River blue", "--volume", "50ml"]).done();
        assert_eq!(state(&file, before), "resting", "{before}");
        assert_eq!(state(&file, after), "look", "{after}");
    }
}

/// The system's own clock, told in a named zone.
#[test]
fn a_named_zone_tells_the_same_instant() {
    let (_folder, file) = studio();
    let told = |zone: &str, words: &[&str]| -> Value {
        let mut command = dressed(Command::new(env!("CARGO_BIN_EXE_stillcup")), &file, "");
        command
            .env_remove("STILLCUP_NOW")
            .env("TZ", zone)
            .args(words);
        let said: Said = command.output().unwrap().into();
        serde_json::from_str(&said.done()).unwrap()
    };
    let mixed = told(
        "Asia/Kolkata",
        &[
            "mix",
            "River blue",
            "--volume",
            "50ml",
            "--mark",
            "B4",
            "--json",
        ],
    );
    let mixed_at = mixed["mixed_at"].as_str().unwrap();
    // India has had +05:30 all year since 1945 (IANA tz database, file asia).
    assert!(mixed_at.ends_with("+05:30"), "{mixed_at}");
    let cups = told("America/Phoenix", &["cups", "--json"]);
    let there = cups["cups"]
        .as_array()
        .unwrap()
        .iter()
        .find(|cup| cup["mark"] == "B4")
        .unwrap();
    let there = there["mixed_at"].as_str().unwrap();
    // Arizona has had -07:00 all year since 1968 (file northamerica).
    assert!(there.ends_with("-07:00"), "{there}");
    let instant = |text: &str| chrono::DateTime::parse_from_rfc3339(text).unwrap();
    assert_eq!(instant(mixed_at), instant(there));
}

#[test]
fn a_clock_set_back_is_said_the_order_holds_and_waits_go_on() {
    let (_folder, file) = studio();
    let back = "2026-11-25T02:00:00+01:00";
    let said = run(&file, back, &["cups"]).done();
    assert!(
        said.contains("! the clock stands at 02:00, before the last thing done here (10:00)"),
        "{said}"
    );
    // What is known is that it was mixed before now: twelve hours at the most are left.
    assert!(said.contains("in about 12 h"), "{said}");
    let said = run(&file, back, &["read", "K7", "2.8"]).done();
    assert!(
        said.contains("! the clock had stood later at an entry of K7: the order of entry holds"),
        "{said}"
    );
    run(
        &file,
        "2026-11-25T02:05:00+01:00",
        &["look", "K7", "bubbles"],
    )
    .done();
    let life = run(&file, "2026-11-25T02:10:00+01:00", &["cup", "K7", "--json"]).done();
    let life: Value = serde_json::from_str(&life).unwrap();
    let kinds: Vec<&str> = life["entries"]
        .as_array()
        .unwrap()
        .iter()
        .map(|entry| entry["kind"].as_str().unwrap())
        .collect();
    assert_eq!(kinds, ["mixed", "read", "looked"]);
    assert_eq!(
        life["entries"][0]["at"], "2026-11-25T10:00:00+01:00",
        "what was written down stays"
    );
    // Mixed no later than the first entry after it, at 02:00.
    assert_eq!(state(&file, "2026-11-25T09:59:59+01:00"), "resting");
    // And once the clock is right again, the mixing holds as it was told.
    assert_eq!(state(&file, "2026-11-25T21:59:59+01:00"), "resting");
    // Its own bubbles are learned from: it stands somewhat longer than practice's 12 h.
    assert_eq!(state(&file, "2026-11-26T10:00:00+01:00"), "look");
    let said = run(&file, "2026-11-26T10:00:00+01:00", &["cups"]).done();
    assert!(!said.contains("the clock stands"), "{said}");
}

/// Ten years ahead by mistake for one entry: once put right, the cup must not be thought fresh for ten years.
#[test]
fn a_clock_set_far_forward_and_put_right_holds_no_cup_ready() {
    let (_folder, file) = studio();
    run(&file, "2036-11-25T22:00:00+01:00", &["read", "K7", "2.6"]).done();
    let right = "2026-11-26T08:00:00+01:00";
    let said = run(&file, right, &["read", "K7", "2.5"]).done();
    assert!(said.contains("the clock had stood later"), "{said}");
    assert_eq!(state(&file, "2026-11-26T08:59:00+01:00"), "ready");
    assert_eq!(
        state(&file, "2026-11-26T09:01:00+01:00"),
        "thick",
        "an hour after it was read"
    );
    let said = run(&file, right, &["cups"]).done();
    assert!(said.contains("ready until 09:00"), "{said}");
    // Undo goes by the order, not by the clock.
    let said = run(&file, right, &["undo"]).done();
    assert!(said.contains("K7 mound 2.5 s"), "{said}");
    let said = run(&file, right, &["undo"]).done();
    assert!(said.contains("K7 mound 2.6 s"), "{said}");
}

/// The same with nothing written down since: no check that stands ahead of the clock still holds.
#[test]
fn a_reading_from_a_clock_far_ahead_holds_no_cup_ready_though_nothing_follows() {
    let (_folder, file) = studio();
    run(&file, "2036-11-25T22:00:00+01:00", &["look", "K7", "clear"]).done();
    run(&file, "2036-11-25T22:01:00+01:00", &["read", "K7", "2.6"]).done();
    for now in [
        "2026-11-25T23:00:00+01:00",
        "2026-11-27T08:00:00+01:00",
        "2031-01-01T08:00:00+01:00",
    ] {
        let state = state(&file, now);
        assert!(state == "look" || state == "thick", "{now}: {state}");
        let said = run(&file, now, &["cups"]).done();
        assert!(said.contains("! the clock stands at"), "{said}");
    }
}

/// What is written of another cup before and after it bounds it: it was read after 22:10, and before 22:30.
#[test]
fn a_reading_from_a_clock_far_ahead_counts_by_the_order_of_entry_of_all_cups() {
    let (_folder, file) = studio();
    for mark in ["B4", "C5"] {
        let mix = ["mix", "River blue", "--volume", "50ml", "--mark", mark];
        run(&file, "2026-11-25T22:05:00+01:00", &mix).done();
        run(&file, "2026-11-25T22:10:00+01:00", &["read", mark, "2.6"]).done();
    }
    run(&file, "2036-11-25T22:20:00+01:00", &["look", "K7", "clear"]).done();
    run(&file, "2036-11-25T22:21:00+01:00", &["read", "K7", "2.6"]).done();
    run(&file, "2036-11-25T22:22:00+01:00", &["stir", "B4", "4m"]).done();
    run(&file, "2026-11-25T22:30:00+01:00", &["stir", "C5", "4m"]).done();
    assert_eq!(state(&file, "2026-11-25T23:09:00+01:00"), "ready");
    assert_eq!(state(&file, "2026-11-25T23:11:00+01:00"), "thick");
    // A stirring counts as late as it may have been: B4 clears with C5, which was stirred at 22:30.
    let said = run(&file, "2026-11-25T23:30:00+01:00", &["cups"]).done();
    assert_eq!(said.matches("clears Thu 11:00").count(), 2, "{said}");
    assert!(said.contains("stands ahead of the clock (2036-"), "{said}");
}

/// A dead battery: the clock begins at 1970, and is put right later.
#[test]
fn a_clock_that_begins_again_loses_and_reorders_nothing() {
    let (_folder, file) = studio();
    let early = "1970-01-01T00:00:10+00:00";
    let said = run(&file, early, &["read", "K7", "2.8"]).done();
    assert!(
        said.contains("the clock stands at") && said.contains("set it right"),
        "{said}"
    );
    run(
        &file,
        early,
        &["mix", "River blue", "--volume", "50ml", "--mark", "B4"],
    )
    .done();
    let right = "2026-11-25T11:00:00+01:00";
    assert_eq!(state(&file, right), "resting", "an hour of twelve");
    let history = run(&file, right, &["history"]).done();
    assert!(
        history.find("mixed B4: River blue v1, 50 ml") < history.find("K7 mound 2.8 s"),
        "{history}"
    );
    assert!(
        history.find("K7 mound 2.8 s") < history.find("mixed K7: River blue v1, 120 ml"),
        "{history}"
    );
}

#[test]
fn what_is_no_instant_of_a_clock_is_refused() {
    let (_folder, file) = studio();
    for now in [
        "",
        "now",
        "2026-11-25",
        "2026-02-30T10:00:00Z",
        "2026-11-25T10:00:00",
    ] {
        let said = run(&file, now, &["cups"]);
        let (sentence, hint) = said.failed(2);
        assert!(
            sentence.contains("STILLCUP_NOW") && hint.contains("2026-11-24T18:30:00+01:00"),
            "{sentence}"
        );
    }
}
