//! `watch` as a real process: another program's change is a line, and a program is run with the facts in its environment.

use crate::command::Rehearsal;
use std::io::{BufRead, BufReader};
use std::process::{Command, Stdio};

/// A watch of a studio, its clock stopped.
fn watching(desk: &Rehearsal, words: &[&str]) -> std::process::Child {
    Command::new(env!("CARGO_BIN_EXE_stillcup"))
        .env_clear()
        .env("STILLCUP_STUDIO", desk.file())
        .env("STILLCUP_NOW", "2026-11-24T18:00:00+01:00")
        .args(words)
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap()
}

/// Its clock stands: it asks the sensor once, and again only where that is another one.
#[test]
fn a_sensor_that_fails_is_said_once_beside_the_lines_and_the_watch_goes_on() {
    let desk = Rehearsal::stocked();
    desk.does("mix|River blue|--volume|90ml|--mark|K7");
    let sensor = desk.file().with_file_name("air");
    std::fs::write(&sensor, "broken").unwrap();
    desk.does(&format!("set|air-from|{}", sensor.display()));
    let mut watch = watching(&desk, &["watch"]);
    let mut said = BufReader::new(watch.stderr.take().unwrap()).lines();
    assert!(said.next().unwrap().unwrap().starts_with("watching 1 cups"));
    let fault = said.next().unwrap().unwrap();
    assert!(
        fault.contains("the room's air was not read from"),
        "{fault}"
    );
    desk.does("look|K7|clear");
    let mut lines = BufReader::new(watch.stdout.take().unwrap()).lines();
    assert!(
        lines
            .next()
            .unwrap()
            .unwrap()
            .contains("K7: resting, now look")
    );
    desk.does("set|air-from|/nowhere/at/all");
    let fault = said.next().unwrap().unwrap();
    assert!(fault.contains("/nowhere/at/all"), "{fault}");
    watch.kill().unwrap();
    watch.wait().unwrap();
}

/// An hour of a bench on a clock that runs it in three seconds: three cups clear in it, one a quarter of an hour after it. Each
/// is told once, in the order of their rests (12 h each), by lines and by a program.
#[test]
fn an_hours_watch_tells_each_turn_once() {
    let mut desk = Rehearsal::stocked();
    for (clock, mark) in [
        ("06:10", "K7"),
        ("06:35", "A3"),
        ("06:55", "B2"),
        ("07:15", "C4"),
    ] {
        desk.clock(&format!("2026-11-24T{clock}:00+01:00"));
        desk.does(&format!("mix|River blue|--volume|90ml|--mark|{mark}"));
    }
    let folder = tempfile::tempdir().unwrap();
    let rung = folder.path().join("rung");
    let ring = format!("echo $STILLCUP_MARK $STILLCUP_STATE >> {}", rung.display());
    let mut watch = Command::new(env!("CARGO_BIN_EXE_stillcup"))
        .env_clear()
        .env("STILLCUP_STUDIO", desk.file())
        .env("STILLCUP_NOW", "2026-11-24T18:00:00+01:00 x1200")
        .args(["watch", "--json", "--run", "/bin/sh", "--", "-c", &ring])
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let lines = BufReader::new(watch.stdout.take().unwrap()).lines();
    let turns: Vec<serde_json::Value> = lines
        .map(|line| serde_json::from_str(&line.unwrap()).unwrap())
        .take_while(|turn: &serde_json::Value| turn["mark"] != "C4")
        .collect();
    watch.kill().unwrap();
    watch.wait().unwrap();
    let marks: Vec<&str> = turns
        .iter()
        .map(|turn| turn["mark"].as_str().unwrap())
        .collect();
    assert_eq!(marks, ["K7", "A3", "B2"]);
    for (turn, due) in turns.iter().zip(["18:10", "18:35", "18:55"]) {
        assert_eq!(
            (&turn["was"], &turn["state"]),
            (&"resting".into(), &"look".into())
        );
        assert!(
            turn["at"].as_str().unwrap() >= format!("2026-11-24T{due}").as_str(),
            "{turn}"
        );
    }
    while std::fs::read_to_string(&rung)
        .unwrap_or_default()
        .lines()
        .count()
        < 3
    {
        std::thread::yield_now();
    }
    let rung = std::fs::read_to_string(&rung).unwrap();
    for mark in ["K7", "A3", "B2"] {
        assert_eq!(rung.matches(&format!("{mark} look")).count(), 1, "{rung}");
    }
}

/// The program is missing, and the lines are told all the same.
#[test]
fn a_program_that_cannot_be_run_is_said_and_ends_no_watch() {
    let desk = Rehearsal::stocked();
    desk.does("mix|River blue|--volume|90ml|--mark|K7");
    let mut watch = watching(&desk, &["watch", "--run", "/no/such/program"]);
    let mut said = BufReader::new(watch.stderr.take().unwrap()).lines();
    said.next().unwrap().unwrap();
    desk.does("look|K7|clear");
    let mut lines = BufReader::new(watch.stdout.take().unwrap()).lines();
    assert!(lines.next().unwrap().unwrap().contains("now look"));
    let fault = said.next().unwrap().unwrap();
    assert!(fault.contains("/no/such/program cannot be run"), "{fault}");
    desk.does("mix|River blue|--volume|90ml|--mark|A3");
    assert!(lines.next().unwrap().unwrap().contains(" A3: "));
    watch.kill().unwrap();
    watch.wait().unwrap();
}

/// The line is waited for, however long it takes; the watch ends with the test.
#[test]
fn a_change_of_another_program_is_a_line_of_json_and_a_program_run_without_a_shell() {
    let desk = Rehearsal::stocked();
    desk.does("mix|River blue|--volume|90ml|--mark|K7|--note|$(touch hacked)");
    let folder = tempfile::tempdir().unwrap();
    let facts = folder.path().join("facts");
    let mut watch = Command::new(env!("CARGO_BIN_EXE_stillcup"))
        .env_clear()
        .env("STILLCUP_STUDIO", desk.file())
        .env("STILLCUP_NOW", "2026-11-24T18:00:00+01:00")
        .args(["watch", "--json", "--run", "/bin/sh", "--", "-c"])
        .arg(format!(
            "env | grep ^STILLCUP_ | sort > {0}.part; mv {0}.part {0}",
            facts.display()
        ))
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut ready = BufReader::new(watch.stderr.take().unwrap());
    let mut line = String::new();
    ready.read_line(&mut line).unwrap();
    assert!(line.starts_with("watching 1 cups"), "{line}");
    desk.does("look|K7|clear");
    let mut lines = BufReader::new(watch.stdout.take().unwrap()).lines();
    let turn: serde_json::Value = serde_json::from_str(&lines.next().unwrap().unwrap()).unwrap();
    assert_eq!(
        (&turn["mark"], &turn["was"], &turn["state"]),
        (&"K7".into(), &"resting".into(), &"look".into())
    );
    while !facts.exists() {
        std::thread::yield_now();
    }
    let facts = std::fs::read_to_string(&facts).unwrap();
    for fact in [
        "STILLCUP_MARK=K7",
        "STILLCUP_WAS=resting",
        "STILLCUP_STATE=look",
        "STILLCUP_RECIPE=River blue",
        "STILLCUP_LEFT_ML=90.0",
    ] {
        assert!(facts.lines().any(|line| line == fact), "{fact} in {facts}");
    }
    watch.kill().unwrap();
    watch.wait().unwrap();
}
