//! Hostile text in every field a person or a file can fill: kept exactly, and nothing of it alive in what is said.

use super::program::{MORNING, Said, run};
use serde_json::Value;
use std::path::{Path, PathBuf};
use stillcup::trade::text::inert;
use tempfile::TempDir;

/// Titles, clipboard, clearing, the cursor, a bell, C1 signs, reversal, what cannot be seen, ends of lines, DEL.
pub const EVIL: &str = "\u{1b}]0;pwned\u{7}\u{1b}]52;c;cHduZWRz\u{7}\u{1b}[2J\u{1b}[9;9H\u{9b}31m\u{202e}\u{200b}\u{feff}\u{7f}\r\n\t|";
/// What NUL stands for until the file is taken in; no argument can carry it.
const NUL_HERE: &str = "NULHERE";
/// The command line takes only a Colour Index name; a file may hold anything.
const COLOUR_INDEX: &str = "PB15:3";
/// What a megabyte stands for until then.
const LONG_HERE: &str = "LONGHERE";

/// A hostile text that differs from the others.
fn evil(name: &str) -> String {
    format!("{name}{}{NUL_HERE}.", EVIL.replace('|', ""))
}

/// What the text is once it was taken in.
pub fn taken(name: &str) -> String {
    evil(name).replace(NUL_HERE, "\0")
}

fn does(file: &Path, now: &str, words: &[&str]) {
    let said = run(file, now, words);
    assert_eq!(said.code, Some(0), "{words:?}: {}", said.err);
}

/// A studio with hostile text in every field, made through the command line, sent out as a file, given NUL and a
/// megabyte there, and taken in.
pub fn studio() -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let first = folder.path().join("first.db");
    fill(&first);
    let json = folder.path().join("studio.json");
    does(&first, MORNING, &["export", json.to_str().unwrap()]);
    let text = std::fs::read_to_string(&json).unwrap();
    let long = format!("{}{}", "long \\u001b[2J".repeat(80_000), "end");
    // A record of a row is JSON within JSON, where a backslash is doubled.
    let (head, history) = text.split_once("\"change\":[").unwrap();
    let index = serde_json::to_string(&taken("PB15 ")).unwrap();
    let head = head.replace(&format!("\"{COLOUR_INDEX}\""), &index);
    let head = head.replace(NUL_HERE, "\\u0000").replace(LONG_HERE, &long);
    let history = history
        .replace(NUL_HERE, "\\\\u0000")
        .replace(LONG_HERE, "long");
    std::fs::write(&json, format!("{head}\"change\":[{}", labels(&history))).unwrap();
    let file = folder.path().join("studio.db");
    // Its history leads to other texts than its rows, which were too long for a command line.
    let words = ["import", json.to_str().unwrap(), "--even-so"];
    does(&file, MORNING, &words);
    (folder, file)
}

/// A label is no JSON within JSON: its NUL is escaped once.
fn labels(history: &str) -> String {
    let line = |line: &str| match line.split_once("\"rows\":") {
        Some((label, rows)) => {
            format!("{}\"rows\":{rows}\n", label.replace("\\\\u0000", "\\u0000"))
        }
        None => format!("{line}\n"),
    };
    history.lines().map(line).collect()
}

fn fill(file: &Path) {
    let long = format!("{LONG_HERE}{}", evil("n"));
    let [blue, water, hazard, river, opener] =
        ["Blue ", "Water ", "hazard ", "River ", "Opener "].map(evil);
    let [note, tape, way, side, factor, name] =
        ["note ", "tape ", "way ", "side ", "factor ", "name "].map(evil);
    does(file, MORNING, &["set", "name", &name]);
    does(
        file,
        MORNING,
        &[
            "material",
            "add",
            &blue,
            "--kind",
            "paint",
            "--pack",
            "250ml",
            "--price",
            "8.90",
            "--density",
            "1.2",
            "--colour-index",
            COLOUR_INDEX,
            "--hazard",
            &hazard,
        ],
    );
    does(
        file,
        MORNING,
        &[
            "material",
            "add",
            &water,
            "--kind",
            "thinner",
            "--density",
            "1",
        ],
    );
    does(
        file,
        MORNING,
        &[
            "material",
            "add",
            "=1+1 formula",
            "--kind",
            "additive",
            "--hazard",
            "@SUM(A1)",
        ],
    );
    for (recipe, layer) in [(&river, "colour"), (&opener, "activator")] {
        let parts = [format!("{blue} 1"), format!("{water} 1")];
        does(
            file,
            MORNING,
            &[
                "recipe", "add", recipe, "--layer", layer, "--part", &parts[0], "--part",
                &parts[1], "--mound", "2..3", "--note", &note,
            ],
        );
    }
    does(
        file,
        MORNING,
        &[
            "recipe",
            "change",
            &river,
            "--rest",
            "10h",
            "--note",
            &evil("reason "),
        ],
    );
    does(
        file,
        MORNING,
        &[
            "mix", &river, "--volume", "200ml", "--mark", "K7", "--tape", &tape, "--note", &long,
            "--mound", "2.5",
        ],
    );
    does(
        file,
        MORNING,
        &[
            "mix", &opener, "--volume", "100ml", "--mark", "A3", "--note", &note,
        ],
    );
    let next = "2026-11-26T10:00:00+01:00";
    does(
        file,
        next,
        &["thin", "K7", "3ml", "--with", &water, "--mound", "2.4"],
    );
    does(file, next, &["read", "A3", "1.5"]);
    let (tilt, swipe) = (format!("{side}:2"), format!("{side}:3"));
    does(
        file,
        next,
        &[
            "pour",
            "--panel",
            "20x20cm",
            "--layer",
            "K7:60ml",
            "--layer",
            "A3:10ml",
            "--way",
            &way,
            "--tilt",
            &tilt,
            "--swipe",
            &swipe,
            "--note",
            &long,
            "--even-so",
        ],
    );
    does(
        file,
        next,
        &[
            "again",
            "1",
            "--layer",
            "K7:40ml",
            "--way",
            &way,
            "--note",
            &note,
            "--even-so",
        ],
    );
    for pour in ["1", "2"] {
        does(
            file,
            next,
            &["judge", pour, "--cells", "4", "--note", &long],
        );
    }
    does(
        file,
        next,
        &[
            "plan", "--panel", "20x20cm", "--way", &way, "--recipe", &river, "--recipe", &opener,
            "--keep",
        ],
    );
    let varied = format!("{factor}={},{}", evil("low "), evil("high "));
    does(
        file,
        next,
        &[
            "trial",
            "design",
            "--factor",
            &varied,
            "--factor",
            "rest=12h,24h",
            "--runs",
            "4",
            "--seed",
            "7",
            "--note",
            &note,
        ],
    );
    does(file, next, &["trial", "done", "1", "2"]);
    does(
        file,
        next,
        &["trial", "skip", "1", "2", "--why", &evil("skipped ")],
    );
    does(file, next, &["bought", &water, "1l"]);
    does(file, next, &["counted", &blue, "180ml"]);
}

/// Whether nothing that is shown can act on a terminal; lines may end.
pub fn is_inert(text: &str) -> bool {
    text.split('\n').all(|line| inert(line) == line)
}

const SHOWING: [&[&str]; 26] = [
    &["cups"],
    &["cup", "K7"],
    &["cup", "A3"],
    &["pours"],
    &["findings"],
    &["findings", "--by", "technique"],
    &["materials"],
    &["recipes"],
    &["shelf"],
    &["plans"],
    &["plan", "--panel", "30x30cm"],
    &["trials"],
    &["trial", "show", "1"],
    &["trial", "findings", "1"],
    &["cost", "K7"],
    &["cost", "1"],
    &["stack", "K7", "A3"],
    &["rack"],
    &["history", "--limit", "1000"],
    &["settings"],
    &["backups"],
    &["thin", "K7", "--how-much"],
    &["cautions"],
    &["drying", "--air", "18C,70%", "--film", "1.0mm"],
    &["flow-cup", "iso4", "38s"],
    &["mix", "--like", "K7", "--volume", "30ml"],
];

const LATER: &str = "2026-11-26T11:00:00+01:00";

#[test]
fn nothing_that_is_said_is_alive_in_text_or_json() {
    let (_folder, file) = studio();
    let mut shown = 0;
    for words in SHOWING {
        let said = run(&file, LATER, words);
        assert!(
            matches!(said.code, Some(0 | 1)),
            "{words:?}: {} {}",
            said.code.unwrap_or(-1),
            said.err
        );
        assert!(
            is_inert(&said.out) && is_inert(&said.err),
            "{words:?} is alive"
        );
        shown += usize::from(said.out.contains('␛'));
        let said = run(&file, LATER, &[words, &["--json"]].concat());
        assert!(
            is_inert(&said.out) && is_inert(&said.err),
            "{words:?} --json is alive"
        );
        if said.code == Some(0) {
            serde_json::from_str::<Value>(&said.out).unwrap();
        }
    }
    assert!(shown >= 12, "the hostile text is there to be seen: {shown}");
}

/// Every text anywhere in a value.
fn texts<'a>(value: &'a Value, into: &mut Vec<&'a str>) {
    match value {
        Value::String(text) => into.push(text),
        Value::Array(all) => all.iter().for_each(|one| texts(one, into)),
        Value::Object(all) => all.values().for_each(|one| texts(one, into)),
        _ => {}
    }
}

#[test]
fn every_field_is_kept_to_the_byte() {
    let (folder, file) = studio();
    let out = folder.path().join("out.json");
    run(&file, LATER, &["export", out.to_str().unwrap()]).done();
    let text = std::fs::read_to_string(&out).unwrap();
    let whole: Value = serde_json::from_str(&text).unwrap();
    let mut tables = whole.clone();
    tables.as_object_mut().unwrap().remove("change");
    let mut held = Vec::new();
    texts(&tables, &mut held);
    for name in [
        "Blue ", "Water ", "hazard ", "PB15 ", "River ", "Opener ", "note ", "tape ", "way ",
        "side ", "factor ", "low ", "high ", "name ", "reason ", "skipped ",
    ] {
        assert!(
            held.contains(&taken(name).as_str()),
            "{name:?} is not kept as it was"
        );
    }
    let long = format!("{}end{}", "long \u{1b}[2J".repeat(80_000), taken("n"));
    assert!(long.len() > 700_000);
    assert_eq!(
        held.iter().filter(|text| **text == long).count(),
        4,
        "a cup's, a pour's and two judgements'"
    );
    // And again, through the file once more.
    let twin = folder.path().join("twin.db");
    run(
        &twin,
        LATER,
        &["import", out.to_str().unwrap(), "--even-so"],
    )
    .done();
    let again = folder.path().join("again.json");
    run(&twin, LATER, &["export", again.to_str().unwrap()]).done();
    assert!(
        std::fs::read_to_string(&again).unwrap() == text,
        "the twin is the same to the byte"
    );
    let said = run(&file, LATER, &["cup", "K7", "--json"]).done();
    let said: Value = serde_json::from_str(&said).unwrap();
    let mut held = Vec::new();
    texts(&said, &mut held);
    assert!(
        held.contains(&taken("River ").as_str()) && held.contains(&long.as_str()),
        "JSON means it exactly"
    );
}

#[test]
fn no_cell_of_a_sheet_is_a_formula_and_the_rest_is_exact() {
    let (folder, file) = studio();
    for sheet in ["cups", "entries", "pours", "judgements", "materials"] {
        let out = folder.path().join("sheet.csv");
        run(
            &file,
            LATER,
            &["csv", "--replace", sheet, out.to_str().unwrap()],
        )
        .done();
        let bytes = std::fs::read(&out).unwrap();
        let printed = run(&file, LATER, &["csv", sheet]).done();
        assert!(
            printed.as_bytes() == bytes,
            "what is printed is the file, {sheet}"
        );
        let mut read = csv::ReaderBuilder::new()
            .has_headers(false)
            .from_reader(&bytes[..]);
        let mut cells = 0;
        for cell in read
            .records()
            .flat_map(|row| row.unwrap().iter().map(str::to_owned).collect::<Vec<_>>())
        {
            let begins = cell.starts_with(['=', '+', '-', '@', '\t', '\r']);
            assert!(!begins || cell.parse::<f64>().is_ok(), "{sheet}: {cell:?}");
            cells += 1;
        }
        assert!(cells > 5, "{sheet}");
        let text = String::from_utf8(bytes).unwrap();
        if sheet == "materials" {
            assert!(
                text.contains(&taken("hazard "))
                    && text.contains("'=1+1 formula")
                    && text.contains("'@SUM(A1)"),
                "{text}"
            );
        }
    }
}

#[test]
fn a_refusal_says_hostile_words_back_inert() {
    let (_folder, file) = studio();
    let evil = EVIL;
    let dashed = format!("--{evil}");
    let path = format!("/nowhere/at/all/{evil}");
    for words in [
        &["cup", evil][..],
        &["mix", evil, "--volume", "10ml"],
        &["mix", "River", "--volume", evil],
        &["material", "set", evil, "--rename", evil],
        &["read", "K7", evil],
        &["thin", "K7", evil, "--with", evil],
        &["pour", "--panel", evil, "--layer", evil],
        &["judge", evil, "--cells", evil],
        &["trial", "design", "--factor", evil, "--runs", "4"],
        &["set", evil, evil],
        &["set", "currency", evil],
        &["plan", "--panel", "20x20cm", "--recipe", evil],
        &["flow-cup", evil, evil],
        &["cautions", evil],
        &["findings", "--by", evil],
        &["import", &path],
        &["export", &path],
        &["restore", &path],
        &["backup", &path],
        &["--studio", &path, "backups", evil],
        &["undo", evil],
        &[evil],
        &[&dashed],
    ] {
        let said: Said = run(&file, LATER, words);
        assert_ne!(said.code, Some(0), "{words:?}");
        assert!(
            is_inert(&said.out) && is_inert(&said.err),
            "{words:?}: {:?}",
            said.err
        );
        assert!(!said.err.is_empty() && said.code.is_some(), "{words:?}");
    }
}
