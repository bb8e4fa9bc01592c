//! Eight writers and two screens on one studio. `STILLCUP_TOGETHER` sets how many entries each writer makes; 25 by default.

use super::program::{MORNING, Said, run};
use crate::terminal::Stage;
use crate::terminal::hands::Hands;
use std::collections::BTreeSet;
use std::path::Path;

const WRITERS: usize = 8;

/// What one writer was told is kept.
#[derive(Default)]
struct Kept {
    marks: Vec<String>,
    mounds: Vec<f64>,
}

/// The answer of a command that must have been done, with nothing of locks in it.
fn done(said: Said) -> serde_json::Value {
    let all = format!("{}{}", said.out, said.err).to_lowercase();
    assert!(!all.contains("locked") && !all.contains("busy"), "{said:?}");
    serde_json::from_str(&said.done()).unwrap()
}

/// Mixes, reads, looks and ends, again and again; the last cup lives on.
fn write(file: &Path, writer: usize, entries: usize) -> Kept {
    let mut kept = Kept::default();
    let mut mark = String::new();
    for nth in 0..entries {
        let mound = (1000 * (writer + 1) + nth) as f64 / 1000.0;
        let said = match nth % 4 {
            0 => run(
                file,
                MORNING,
                &["mix", "River blue", "--volume", "50ml", "--json"],
            ),
            1 => run(
                file,
                MORNING,
                &["read", &mark, &mound.to_string(), "--json"],
            ),
            2 => run(file, MORNING, &["look", &mark, "clear", "--json"]),
            _ => run(file, MORNING, &["end", &mark, "used", "--json"]),
        };
        let answer = done(said);
        match nth % 4 {
            0 => {
                mark = answer["mark"].as_str().unwrap().to_owned();
                kept.marks.push(mark.clone());
            }
            1 => kept.mounds.push(mound),
            _ => {}
        }
    }
    if !entries.is_multiple_of(4) {
        return kept;
    }
    done(run(
        file,
        MORNING,
        &["mix", "River blue", "--volume", "50ml", "--json"],
    ));
    kept
}

#[test]
fn eight_writers_and_two_screens_lose_nothing_and_agree() {
    let told = std::env::var("STILLCUP_TOGETHER");
    let entries: usize = told.ok().and_then(|n| n.parse().ok()).unwrap_or(25);
    let stage = Stage::with_cups();
    let file = stage.file();
    let mut screens = [Hands::on(&stage, 100, 40), Hands::on(&stage, 80, 40)];
    for screen in &screens {
        screen.see_text("resting A3");
    }
    let kept: Vec<Kept> = std::thread::scope(|scope| {
        let file = &file;
        let writers: Vec<_> = (0..WRITERS)
            .map(|writer| scope.spawn(move || write(file, writer, entries)))
            .collect();
        // The screens write too, in the midst of it.
        for (screen, mound) in screens.iter_mut().zip(["5 . 7", "5 . 8"]) {
            screen.press("r");
            screen.see_text("Read K7");
            screen.press(mound);
            screen.press("Enter");
            screen.see_text("✓ K7 is");
        }
        writers
            .into_iter()
            .map(|writer| writer.join().unwrap())
            .collect()
    });

    let conn = rusqlite::Connection::open(&file).unwrap();
    let ask = |sql: &str| -> i64 { conn.query_row(sql, [], |row| row.get(0)).unwrap() };
    let mounds = kept.iter().flat_map(|one| &one.mounds);
    for mound in mounds.chain(&[5.7, 5.8]) {
        let landed = ask(&format!(
            "SELECT count(*) FROM entry WHERE kind = 'read' AND mound_s = {mound}"
        ));
        assert_eq!(landed, 1, "the reading of {mound} s");
    }
    let mixed: usize = kept.iter().map(|one| one.marks.len()).sum();
    let cups = usize::try_from(ask("SELECT count(*) FROM cup")).unwrap();
    let last = if entries.is_multiple_of(4) {
        WRITERS
    } else {
        0
    };
    assert_eq!(
        cups,
        3 + mixed + last,
        "each cup once, beside the three that were there"
    );
    let twice = "SELECT count(*) FROM (SELECT mark FROM cup WHERE spent_at_ms IS NULL GROUP BY mark HAVING count(*) > 1)";
    assert_eq!(ask(twice), 0, "marks of living cups");
    // One line of history a deed, none without its rows.
    let deeds = ask("SELECT count(*) FROM change");
    let rows =
        ask("SELECT count(*) FROM cup") + ask("SELECT count(*) FROM entry WHERE kind <> 'mixed'");
    let named = ask("SELECT count(*) FROM material") + ask("SELECT count(*) FROM recipe");
    assert_eq!(deeds, rows + named);
    assert_eq!(
        ask("SELECT count(*) FROM pragma_integrity_check WHERE integrity_check = 'ok'"),
        1
    );

    let mut read = conn
        .prepare("SELECT mark FROM cup WHERE spent_at_ms IS NULL")
        .unwrap();
    let living: BTreeSet<String> = read
        .query_map([], |row| row.get(0))
        .unwrap()
        .map(Result::unwrap)
        .collect();
    for screen in &screens {
        let shown = screen.see("every living cup and no other", |screen| {
            marks(&screen.contents()) == living
        });
        assert!(!shown.to_lowercase().contains("locked"), "{shown}");
    }
}

/// The marks in the Bench's list: what stands behind a state's word.
fn marks(shown: &str) -> BTreeSet<String> {
    let behind = |line: &str| {
        let words: Vec<&str> = line.split_whitespace().collect();
        let at = words
            .iter()
            .position(|word| ["look", "thick", "thin", "ready", "resting"].contains(word))?;
        let mark = words.get(at + 1)?;
        let is_mark = mark.len() <= 3
            && mark
                .chars()
                .all(|c| c.is_ascii_uppercase() || c.is_ascii_digit());
        is_mark.then(|| (*mark).to_owned())
    };
    shown.lines().filter_map(behind).collect()
}
