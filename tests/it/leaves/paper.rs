//! The session sheet, read back by poppler.

use super::{printed, text_of};
use crate::command::Rehearsal;

#[test]
fn the_session_sheet_has_every_step_and_part_of_its_plan() {
    let desk = Rehearsal::stocked();
    desk.does(
        "plan|--panel|40x50cm|--pour|tomorrow 18:00|--recipe|Ground|--recipe|River blue|--keep",
    );
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("plan.pdf");
    desk.does(&format!("session|1|--out|{}", out.display()));
    let Some(text) = text_of(&out) else { return };
    for word in [
        "Plan 1: pour Wed 25 Nov 2026 18:00",
        "Ground v1",
        "River blue v1",
        "Deep blue",
        "Pouring medium",
        "thin",
        "mound, s",
        "thinner, ml",
        " g",
    ] {
        assert!(text.contains(word), "{word} in {text}");
    }
    let info = printed("pdfinfo", &[out.to_str().unwrap()]).unwrap();
    let info = String::from_utf8(info).unwrap();
    for machine in ["CreationDate", "Author", "Producer:       "] {
        assert!(!info.contains(machine), "{machine} in {info}");
    }
}

/// A plan of eight cups has some forty steps: they stand in two columns, and all of it on two pages.
#[test]
fn a_plan_of_eight_cups_is_two_pages() {
    let desk = Rehearsal::stocked();
    let names = ["Ember", "Straw", "Peat", "Heather", "Fern", "Slate"];
    let mut plan = "plan|--panel|100x150cm|--pour|2026-11-26T18:00:00+01:00|--recipe|Ground|--recipe|River blue".to_owned();
    for name in names {
        desk.does(&format!(
            "recipe|add|{name}|--layer|colour|--part|Deep blue 1|--mound|2..3"
        ));
        plan.push_str(&format!("|--recipe|{name}"));
    }
    desk.does(&format!("{plan}|--keep"));
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("plan.pdf");
    desk.does(&format!("session|1|--out|{}", out.display()));
    let Some(info) = printed("pdfinfo", &[out.to_str().unwrap()]) else {
        return;
    };
    let info = String::from_utf8(info).unwrap();
    assert!(
        info.lines()
            .any(|line| line.starts_with("Pages:") && line.ends_with(" 2")),
        "{info}"
    );
    let text = text_of(&out).unwrap();
    for name in names {
        assert!(text.matches(name).count() >= 4, "{name} in {text}");
    }
    assert!(!text.contains('…'), "nothing is cut off: {text}");
}

#[test]
fn a_plan_that_is_not_there_is_refused() {
    let desk = Rehearsal::stocked();
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("plan.pdf");
    let done = desk.run(&["session", "9", "--out", out.to_str().unwrap()]);
    assert_eq!(done.code, 1);
    assert!(
        done.err.contains("there is no plan 9") && !out.exists(),
        "{done:?}"
    );
}
