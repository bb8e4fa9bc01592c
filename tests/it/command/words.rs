//! What is printed: hostile text shown inert and kept exact, measures, help, and readers that go away.

use super::Rehearsal;
use std::process::{Command, Stdio};

const EVIL: &str = "Mire\u{1b}[2J\u{1b}]0;owned\u{7}\u{202e}\u{200b}\r\nx";

/// Whether a text could move a cursor, turn the writing round or hide.
fn live(text: &str) -> bool {
    let hidden = ['\u{202e}', '\u{200b}', '\u{7}', '\r', '\u{1b}'];
    text.contains(hidden)
}

#[test]
fn hostile_text_is_shown_inert_and_kept_exact() {
    let desk = Rehearsal::stocked();
    desk.does(&format!("material add|{EVIL}|--kind|paint|--hazard|{EVIL}"));
    desk.does(&format!(
        "recipe add|R {EVIL}|--layer|colour|--part|{EVIL} 1|--note|{EVIL}"
    ));
    desk.does(&format!(
        "mix|R {EVIL}|--volume|50ml|--mark|K7|--tape|{EVIL}|--note|{EVIL}"
    ));
    desk.does(&format!(
        "pour|--panel|40x50cm|--layer|K7:5ml|--way|{EVIL}|--tilt|{EVIL}|--note|{EVIL}"
    ));
    desk.does(&format!("judge|1|--cells|4|--note|{EVIL}"));
    for verb in [
        "materials",
        "recipes",
        "cups",
        "cup|K7",
        "pours",
        "shelf",
        "findings",
        "history",
    ] {
        let text = desk.says(verb);
        assert!(!live(&text), "{verb}: {text:?}");
        assert!(!live(
            &desk
                .run(&["--json", verb.split('|').next().unwrap(), "K7"])
                .err
        ));
    }
    assert_eq!(desk.cup("K7")["note"], EVIL);
    assert_eq!(desk.does("pours")["pours"][0]["way"], EVIL);
    for words in [
        vec!["mix", EVIL, "--volume", EVIL],
        vec!["mix", "nothing \u{1b}[2J", "--volume", "5ml"],
        vec!["read", EVIL, "2"],
        vec!["end", "K7", EVIL],
        vec![EVIL],
        vec!["set", EVIL, EVIL],
        vec!["pour", "--panel", EVIL],
        vec!["--studio", "/dev/null/\u{1b}[2J", "cups"],
        vec![
            "pour",
            "--panel",
            "4x5cm",
            "--layer",
            "K7:5ml",
            "--spin",
            "\u{1b}[2J:x",
        ],
        vec![
            "material",
            "add",
            "n",
            "--kind",
            "paint",
            "--colour-index",
            EVIL,
        ],
    ] {
        let done = desk.run(&words);
        assert!(done.code != 0 && !live(&done.err), "{words:?}: {done:?}");
    }
}

#[test]
fn the_next_to_act_on_comes_first_and_columns_align() {
    let mut desk = Rehearsal::stocked();
    desk.does("mix|River blue|--volume|120ml|--mark|K7");
    desk.clock("2026-11-25T09:00:00+01:00");
    desk.does("mix|Ground|--volume|200ml|--mark|B2");
    desk.does("mix|Opener|--volume|50ml|--mark|A3|--mound|1.5");
    let text = desk.says("cups");
    let marks: Vec<&str> = text
        .lines()
        .filter_map(|line| line.split(' ').next())
        .collect();
    assert_eq!(marks, ["mark", "K7", "A3", "B2"]);
    let column = text.lines().next().unwrap().find("state").unwrap();
    let states: Vec<&str> = text
        .lines()
        .map(|line| line[column..].split(' ').next().unwrap())
        .collect();
    assert_eq!(states, ["state", "look", "ready", "resting"]);
}

#[test]
fn a_mix_prints_its_mark_first_and_amounts_in_the_studios_measures() {
    let desk = Rehearsal::stocked();
    let text = desk.says("mix|River blue|--volume|120ml|--mark|K7");
    assert!(text.starts_with("K7  River blue v1"), "{text}");
    assert!(
        text.contains("40 ml  50 g") && text.contains("80 ml"),
        "{text}"
    );
    desk.does("set|measures|us");
    // 4 fl oz of three parts: 1.33 and 2.67 fl oz; 39.4 ml at 1.25 g/ml are 49.3 g, 1.74 oz.
    let text = desk.says("mix|River blue|--volume|4 fl oz|--mark|K8");
    assert!(
        text.contains("1.3 fl oz  1.7 oz") && text.contains("2.7 fl oz"),
        "{text}"
    );
    let ml = desk.cup("K8")["volume_ml"].as_f64().unwrap();
    // A US fluid ounce is 29.5735295625 ml (NIST Handbook 44, appendix C).
    assert!((ml - 118.294).abs() < 1e-9, "{ml}");
}

#[test]
fn an_empty_studio_says_what_to_do() {
    let desk = Rehearsal::at("2026-11-24T18:00:00+01:00");
    for (verb, hint) in [
        ("cups", "stillcup mix"),
        ("pours", "stillcup pour"),
        ("shelf", "stillcup material add"),
        ("recipes", "stillcup recipe add"),
        ("findings", "stillcup judge"),
    ] {
        assert!(desk.says(verb).contains(hint), "{verb}");
    }
    desk.refuses("undo");
    desk.refuses("redo");
}

#[test]
fn every_verb_has_help_with_an_example() {
    let desk = Rehearsal::at("2026-11-24T18:00:00+01:00");
    let help = desk.run(&["--help"]);
    assert_eq!(help.code, 0);
    for verb in [
        "cups",
        "cup",
        "mix",
        "read",
        "thin",
        "stir",
        "look",
        "cap",
        "open",
        "end",
        "pour",
        "again",
        "pours",
        "judge",
        "findings",
        "materials",
        "recipes",
        "shelf",
        "bought",
        "counted",
        "trials",
        "history",
        "undo",
        "redo",
        "set",
        "settings",
    ] {
        assert!(help.out.contains(&format!("  {verb} ")), "{verb}");
        let one = desk.run(&[verb, "--help"]);
        assert!(
            one.code == 0
                && one.out.contains("Example")
                && one.out.contains(&format!("stillcup {verb}")),
            "{verb}"
        );
    }
    for verb in [
        ["material", "add"],
        ["material", "set"],
        ["recipe", "add"],
        ["recipe", "change"],
        ["trial", "design"],
        ["trial", "show"],
        ["trial", "done"],
        ["trial", "findings"],
    ] {
        let one = desk.run(&[verb[0], verb[1], "--help"]);
        assert!(
            one.out
                .contains(&format!("stillcup {} {}", verb[0], verb[1])),
            "{verb:?}"
        );
    }
}

#[test]
fn a_reader_that_goes_away_is_no_fault() {
    let desk = Rehearsal::stocked();
    let mut child = Command::new(env!("CARGO_BIN_EXE_stillcup"))
        .args(["history", "--limit", "1000"])
        .env("STILLCUP_STUDIO", desk.file())
        .env("STILLCUP_NOW", "2026-11-24T18:00:00+01:00")
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let output = child.wait_with_output().unwrap();
    assert_eq!(output.status.code(), Some(0));
    assert!(output.stderr.is_empty());
}

#[test]
fn times_are_told_at_the_clocks_own_offset() {
    let mut desk = Rehearsal::stocked();
    desk.does("mix|River blue|--volume|120ml|--mark|K7");
    desk.clock("2026-11-24T22:30:00+05:30");
    let cup = desk.cup("K7");
    assert_eq!(cup["mixed_at"], "2026-11-24T22:30:00+05:30");
    assert_eq!(cup["clears_at"], "2026-11-25T10:30:00+05:30");
}
