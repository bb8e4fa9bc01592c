//! A medium that was mixed ahead is used before the shelf: when a cup is mixed, repeated and planned.

use crate::command::Rehearsal;
use serde_json::{Value, json};

/// A studio whose colour is one part of paint and two of a medium that is mixed ahead.
fn desk() -> Rehearsal {
    let desk = Rehearsal::stocked();
    desk.does("recipe add|Medium|--layer|medium|--part|Pouring medium 9|--part|Water 1|--rest|12h");
    desk.does("recipe add|Sea|--layer|colour|--part|Deep blue 1|--part|Medium 2");
    desk
}

/// Of each line of what went in: its name, how much, and the cup that it came from.
fn parts(mixed: &Value) -> Vec<(String, f64, Option<String>)> {
    let text = |value: &Value| value.as_str().map(str::to_owned);
    let line = |part: &Value| {
        let name = text(&part["name"]).unwrap();
        (name, part["ml"].as_f64().unwrap(), text(&part["from"]))
    };
    mixed["parts"]
        .as_array()
        .unwrap()
        .iter()
        .map(line)
        .collect()
}

fn from(mark: &str, ml: f64) -> (String, f64, Option<String>) {
    ("Medium".to_owned(), ml, Some(mark.to_owned()))
}

fn blue(ml: f64) -> (String, f64, Option<String>) {
    ("Deep blue".to_owned(), ml, None)
}

/// What is left of a material.
fn left(desk: &Rehearsal, name: &str) -> f64 {
    let shelf = desk.does("shelf");
    let lines = shelf["materials"].as_array().unwrap();
    let line = lines.iter().find(|line| line["name"] == name).unwrap();
    line["left_ml"].as_f64().unwrap()
}

#[test]
fn a_part_that_was_mixed_ahead_comes_from_the_oldest_bottle_that_is_enough() {
    let mut desk = desk();
    desk.does("mix|Medium|--volume|50ml|--mark|M2");
    desk.clock("2026-11-24T18:10:00+01:00");
    desk.does("mix|Medium|--volume|400ml|--mark|M9");
    desk.clock("2026-11-24T18:20:00+01:00");
    desk.does("mix|Medium|--volume|300ml|--mark|N3");
    desk.clock("2026-11-26T18:00:00+01:00");
    let mixed = desk.does("mix|Sea|--volume|120ml|--mark|K7");
    // The older M2 holds too little, the younger N3 is left alone.
    assert_eq!(parts(&mixed), [blue(40.0), from("M9", 80.0)]);
    assert_eq!(
        (&mixed["warnings"], &mixed["notes"]),
        (&json!([]), &json!([]))
    );
    assert_eq!(desk.cup("M9")["volume_ml"], 320.0);
    let life = desk.does("cup|M9");
    assert_eq!(life["entries"][1]["into"], "K7");
    // What fits into the small one empties it first.
    let like = desk.does("mix|--like|K7|--volume|75ml");
    assert_eq!(parts(&like), [blue(25.0), from("M2", 50.0)]);
    assert_eq!(desk.does("cup|M2")["state"], "spent");
    assert_eq!(parts(&desk.does("mix|--like|K7"))[1], from("M9", 80.0));
}

#[test]
fn what_no_bottle_has_comes_from_the_shelf_and_that_is_said() {
    let mut desk = desk();
    desk.does("bought|Water|100ml");
    let mixed = desk.does("mix|Sea|--volume|60ml");
    assert_eq!(parts(&mixed)[1], ("Medium".to_owned(), 40.0, None));
    assert_eq!(
        mixed["notes"],
        json!(["no bottle of Medium stands: its 40 ml are taken from the shelf"])
    );
    desk.does("mix|Medium|--volume|30ml|--mark|M2");
    desk.clock("2026-11-26T18:00:00+01:00");
    let mixed = desk.does("mix|Sea|--volume|60ml");
    let shelf = ("Medium".to_owned(), 10.0, None);
    assert_eq!(parts(&mixed), [blue(20.0), from("M2", 30.0), shelf]);
    assert_eq!(
        mixed["notes"],
        json!(["M2 has 30 ml of the 40 ml of Medium: the rest is taken from the shelf"])
    );
    // By hand: a tenth of 40, of 30 (the bottle) and of 10 ml is water: 8 of 100 ml are gone.
    assert_eq!(left(&desk, "Water"), 92.0);
}

#[test]
fn the_shelf_is_taken_where_it_is_asked_for_or_a_bottle_is_of_no_use() {
    let mut desk = desk();
    desk.does("mix|Medium|--volume|400ml|--mark|M9");
    let still = desk.does("mix|Sea|--volume|60ml");
    assert_eq!(parts(&still)[1], from("M9", 40.0));
    let warned = still["warnings"][0].as_str().unwrap();
    assert!(warned.starts_with("M9 still rests until"), "{warned}");
    // It was not there yet when a cup was mixed that is written down later.
    let before = desk.does("mix|Sea|--volume|60ml|--at|17:00");
    assert_eq!(parts(&before)[1].2, None);
    desk.clock("2026-11-26T18:00:00+01:00");
    let shelf = desk.does("mix|Sea|--volume|60ml|--from|shelf");
    assert_eq!(
        (parts(&shelf)[1].2.clone(), &shelf["notes"]),
        (None, &json!([]))
    );
    assert!(
        desk.says("mix|Sea|--volume|60ml|--from|Shelf")
            .contains("from the shelf")
    );
    desk.does("read|M9|never");
    assert_eq!(parts(&desk.does("mix|Sea|--volume|60ml"))[1].2, None);
}

#[test]
fn an_older_variant_in_a_bottle_is_said() {
    let mut desk = desk();
    desk.does("mix|Medium|--volume|400ml|--mark|M9");
    desk.clock("2026-11-26T18:00:00+01:00");
    desk.does("recipe change|Medium|--part|Pouring medium 8|--part|Water 1");
    let mixed = desk.does("mix|Sea|--volume|60ml");
    assert_eq!(parts(&mixed)[1], from("M9", 40.0));
    assert_eq!(
        mixed["notes"],
        json!(["M9 holds Medium v1; variant 2 is newer"])
    );
}

#[test]
fn a_plan_counts_what_stands_ready_and_lacks_the_rest_alone() {
    let mut desk = desk();
    desk.does("mix|Medium|--volume|320ml|--mark|M9");
    desk.clock("2026-11-26T18:00:00+01:00");
    desk.does("counted|Pouring medium|20 ml");
    desk.does("counted|Water|1 ml");
    // By hand: 50 x 50 cm at 2.07 mm are 517.5 ml, two thirds of it medium: 345 ml, of which M9 has 320. Of the
    // other 25 ml nine tenths are 22.5 ml of Pouring medium, 2.5 ml over what is left; the water is 2.5 ml.
    let plan = desk.does("plan|--panel|50x50cm|--film|2.07mm|--recipe|Sea");
    assert_eq!(
        plan["notes"],
        json!(["M9 has 320 ml of the 345 ml of Medium: the rest is taken from the shelf"])
    );
    let lacks = plan["lacks"].as_array().unwrap();
    let lacks: Vec<_> = lacks
        .iter()
        .map(|lack| (lack["name"].as_str().unwrap(), lack["ml"].as_f64().unwrap()))
        .collect();
    assert_eq!(lacks, [("Pouring medium", 2.5), ("Water", 1.5)]);
    let small = desk.does("plan|--panel|20x20cm|--film|1.5mm|--recipe|Sea|--keep");
    assert_eq!(
        (&small["notes"], &small["lacks"]),
        (
            &json!(["the Medium, 40 ml, stands ready in M9"]),
            &json!([])
        )
    );
    let mixed = desk.does("plan|--mix|1");
    assert_eq!(parts(&mixed)[1], from("M9", 40.0));
}

#[test]
fn what_a_medium_is_made_of_may_stand_in_a_bottle_too() {
    let mut desk = desk();
    desk.does("recipe add|Gloss|--layer|medium|--part|Medium 3|--part|Water 1");
    desk.does("recipe add|Pool|--layer|colour|--part|Deep blue 1|--part|Gloss 2");
    desk.does("mix|Medium|--volume|320ml|--mark|M9");
    desk.clock("2026-11-26T18:00:00+01:00");
    let mixed = desk.does("mix|Pool|--volume|60ml");
    assert_eq!(
        mixed["notes"],
        json!([
            "no bottle of Gloss stands: its 40 ml are taken from the shelf",
            "the Medium in it, 30 ml, is drawn from M9"
        ])
    );
    assert_eq!(desk.cup("M9")["volume_ml"], 290.0);
}
