//! A cup's life put right: what follows of it, what the history keeps, and what does not stand alone.

use super::Rehearsal;
use serde_json::json;

/// K7, mixed at 18:00, read 26 s by a slip the next morning.
fn slipped() -> Rehearsal {
    let mut desk = Rehearsal::stocked();
    desk.does("mix|River blue|--volume|120ml|--mark|K7");
    desk.clock("2026-11-25T09:00:00+01:00");
    desk.does("look|K7|clear");
    desk.does("read|K7|26|--even-so");
    desk
}

#[test]
fn an_entry_put_right_changes_how_the_cup_stands_and_the_history_keeps_both() {
    let desk = slipped();
    assert_eq!(desk.cup("K7")["state"], "thick");
    let amended = desk.does("amend|K7|last|2.6");
    assert_eq!(
        (&amended["was"]["mound_s"], &amended["entry"]["mound_s"]),
        (&json!(26.0), &json!(2.6))
    );
    assert_eq!(amended["state"], "ready");
    assert_eq!(desk.does("cup|K7")["entries"].as_array().unwrap().len(), 3);
    let told = &desk.does("history")["history"][0]["what"];
    assert_eq!(told, "put right on K7: mound 26 s is mound 2.6 s");
    desk.does("undo");
    assert_eq!(desk.cup("K7")["mound_s"], 26.0);
}

#[test]
fn an_entry_moved_to_the_cup_that_was_meant_leaves_the_other_as_it_was() {
    let desk = slipped();
    desk.does("mix|River blue|--volume|80ml|--mark|B4|--at|2026-11-24T18:00:00+01:00");
    let moved = desk.does("amend|K7|last|--to|B4");
    assert_eq!(
        (&moved["mark"], &moved["mound_s"]),
        (&json!("B4"), &json!(26.0))
    );
    assert_eq!(desk.cup("K7")["mound_s"], json!(null));
    assert_eq!(desk.cup("K7")["state"], "look");
}

#[test]
fn a_struck_end_lets_a_cup_live_again_unless_its_mark_is_on_another() {
    let desk = slipped();
    desk.does("end|K7|binned");
    desk.does("strike|K7|last");
    assert_eq!(desk.cup("K7")["state"], "thick");
    desk.does("end|K7|binned");
    let end = desk.does("cup|K7")["entries"][3]["entry"].clone();
    desk.does("mix|River blue|--volume|80ml|--mark|K7");
    // The life that the mark shows is the new cup's.
    let (refused, _) = desk.refuses(&format!("strike|K7|{end}"));
    assert_eq!(refused, format!("stillcup: {end} is no entry of K7."));
}

#[test]
fn a_mixing_and_paint_that_was_poured_stand_or_fall_with_their_deed() {
    let desk = slipped();
    desk.does("amend|K7|last|2.6");
    desk.does("pour|--panel|20x20cm|--layer|K7:30ml");
    for words in [
        "strike|K7|last",
        "amend|K7|last|40ml",
        "amend|K7|last|--at|8:59",
    ] {
        let (refused, hint) = desk.refuses(words);
        assert!(refused.contains("it lies in picture 1"), "{refused}");
        assert!(hint.contains("stillcup correct 1"), "{hint}");
    }
    let mixing = desk.does("cup|K7")["entries"][0]["entry"].clone();
    let (refused, _) = desk.refuses(&format!("strike|K7|{mixing}"));
    assert!(refused.contains("\"mixed\""), "{refused}");
    let (refused, _) = desk.refuses("amend|K7|99|2.6");
    assert_eq!(refused, "stillcup: 99 is no entry of K7.");
    let (refused, hint) = desk.refuses("amend|K7|first|2.6");
    assert_eq!(refused, "stillcup: \"first\" is no number of an entry.");
    assert!(hint.contains("stillcup cup MARK"), "{hint}");
}

#[test]
fn what_was_learned_follows_what_was_put_right() {
    let (mut right, mut slip) = (Rehearsal::stocked(), Rehearsal::stocked());
    for (desk, seen) in [(&mut right, "clear"), (&mut slip, "bubbles")] {
        desk.does("mix|River blue|--volume|120ml|--mark|K7");
        desk.clock("2026-11-24T23:00:00+01:00");
        desk.does(&format!("look|K7|{seen}"));
    }
    slip.does("amend|K7|last|clear");
    for desk in [&mut right, &mut slip] {
        desk.does("mix|River blue|--volume|120ml|--mark|B4");
    }
    assert_eq!(right.cup("B4")["rest_h"], slip.cup("B4")["rest_h"]);
}

// 50 ml into 120: what was refused when it is thinned is refused when it is put right.
#[test]
fn a_flood_or_a_slip_that_is_put_right_is_asked_about_as_where_it_is_written_down() {
    let desk = slipped();
    let (refused, hint) = desk.refuses("amend|K7|last|31");
    assert!(refused.contains("far from its window"), "{refused}");
    assert!(hint.contains("--even-so"), "{hint}");
    desk.does("amend|K7|last|31|--even-so");
    desk.does("amend|K7|last|2.6");
    desk.does("thin|K7|3ml");
    let (refused, hint) = desk.refuses("amend|K7|last|60ml");
    assert!(refused.contains("% thinner"), "{refused}");
    assert!(hint.contains("--even-so"), "{hint}");
    assert_eq!(desk.cup("K7")["volume_ml"], 123.0, "nothing was written");
    let kept = desk.does("amend|K7|last|60ml|--even-so");
    assert_eq!(kept["volume_ml"], 180.0);
}

// A cup that is over its limit already says nothing of the reading that comes to it.
#[test]
fn a_reading_moved_to_an_over_thinned_cup_is_no_flood() {
    let desk = slipped();
    desk.does("mix|River blue|--volume|80ml|--mark|B4|--at|2026-11-24T18:00:00+01:00");
    desk.does("thin|B4|39ml|--even-so");
    assert_eq!(desk.does("amend|K7|last|--to|B4")["mark"], "B4");
    desk.does("thin|K7|40ml|--even-so");
    let (refused, _) = desk.refuses("amend|K7|last|--to|B4");
    assert!(refused.contains("% thinner"), "{refused}");
}

/// B4 got 20 ml out of K7 at 09:10.
fn poured_together() -> Rehearsal {
    let mut desk = slipped();
    desk.does("amend|K7|last|2.6");
    desk.does("mix|River blue|--volume|80ml|--mark|B4|--at|2026-11-24T18:00:00+01:00");
    desk.does("thin|K7|6ml");
    desk.clock("2026-11-25T09:10:00+01:00");
    desk.does("add|B4|20ml|--from|K7");
    desk
}

fn left(desk: &Rehearsal) -> [f64; 2] {
    ["K7", "B4"].map(|mark| desk.cup(mark)["volume_ml"].as_f64().unwrap())
}

// What one cup gave to another is put right in either life, and the other follows.
#[test]
fn paint_poured_from_cup_to_cup_is_put_right_in_both_lives() {
    for mark in ["B4", "K7"] {
        let mut desk = poured_together();
        assert_eq!(left(&desk), [106.0, 100.0]);
        desk.does(&format!("amend|{mark}|last|40ml"));
        assert_eq!(left(&desk), [86.0, 120.0], "{mark}");
        // 6 of K7's 126 ml were thinner.
        let added = desk.does("history")["history"][0]["what"].clone();
        assert!(added.as_str().unwrap().contains("40 ml"), "{added}");
        desk.clock("2026-11-25T09:30:00+01:00");
        desk.does(&format!("amend|{mark}|last|--at|9:20"));
        for other in ["B4", "K7"] {
            let entries = desk.does(&format!("cup|{other}"))["entries"].clone();
            let at = entries.as_array().unwrap().last().unwrap()["at"].clone();
            assert_eq!(at, "2026-11-25T09:20:00+01:00", "{mark}: {other}");
        }
        desk.does(&format!("strike|{mark}|last"));
        assert_eq!(left(&desk), [126.0, 80.0], "{mark}");
        desk.does("undo");
        assert_eq!(left(&desk), [86.0, 120.0], "{mark}");
        let (refused, _) = desk.refuses(&format!("amend|{mark}|last|400ml"));
        assert!(refused.contains("K7 holds"), "{refused}");
    }
}

fn first_entry(desk: &Rehearsal, mark: &str) -> String {
    desk.does(&format!("cup|{mark}"))["entries"][0]["entry"].to_string()
}

fn left_of(desk: &Rehearsal, material: &str) -> f64 {
    let shelf = desk.does("shelf");
    let rows = shelf["materials"].as_array().unwrap();
    let row = rows.iter().find(|row| row["name"] == material);
    row.unwrap()["left_ml"].as_f64().unwrap()
}

#[test]
fn how_much_was_mixed_and_how_it_was_stirred_is_put_right_and_the_shelf_follows() {
    let desk = slipped();
    desk.does("amend|K7|last|2.6");
    desk.does("bought|Deep blue|--packs|1");
    let before = left_of(&desk, "Deep blue");
    let mixing = first_entry(&desk, "K7");
    let amended = desk.does(&format!("amend|K7|{mixing}|--volume|180ml|--stirred|4m"));
    assert_eq!(amended["volume_ml"], 180.0);
    let cup = desk.does("cup|K7");
    assert_eq!(cup["mixed_ml"], 180.0);
    let puts = cup["puts"].as_array().unwrap();
    let whole: f64 = puts.iter().map(|put| put["ml"].as_f64().unwrap()).sum();
    assert!((whole - 180.0).abs() < 0.01, "{puts:?}");
    let blue = puts.iter().find(|put| put["name"] == "Deep blue");
    // Half as much again: the shelf lacks a third of what went in.
    let more = blue.unwrap()["ml"].as_f64().unwrap() / 3.0;
    let after = left_of(&desk, "Deep blue");
    assert!(
        (before - after - more).abs() < 0.01,
        "{before} {after} {more}"
    );
    let told = &desk.does("history")["history"][0]["what"];
    assert_eq!(
        told,
        "put right on K7: mixed, 120 ml is mixed, stirred 4 min, 180 ml"
    );
    desk.does("undo");
    assert_eq!(desk.does("cup|K7")["mixed_ml"], 120.0);
    assert!((left_of(&desk, "Deep blue") - before).abs() < 1e-9);
}

#[test]
fn a_mixing_is_put_right_no_later_than_what_was_done_to_the_cup() {
    let desk = slipped();
    let mixing = first_entry(&desk, "K7");
    let (refused, hint) = desk.refuses(&format!("amend|K7|{mixing}|--at|2026-11-25T09:30"));
    assert!(refused.contains("cannot have been mixed"), "{refused}");
    assert!(hint.contains("before that"), "{hint}");
    desk.does(&format!("amend|K7|{mixing}|--at|2026-11-24T16:00"));
    let first = &desk.does("cup|K7")["entries"][0];
    assert!(
        first["at"]
            .as_str()
            .unwrap()
            .starts_with("2026-11-24T16:00"),
        "{first}"
    );
    let (refused, _) = desk.refuses("amend|K7|last|--volume|60ml");
    assert_eq!(
        refused,
        "stillcup: an entry \"read\" does not say \"amount\"."
    );
}

#[test]
fn a_mixing_that_was_put_right_still_held_what_was_poured_from_it() {
    let desk = slipped();
    desk.does("amend|K7|last|2.6");
    desk.does("pour|--panel|20x20cm|--layer|K7:100ml");
    let mixing = first_entry(&desk, "K7");
    let (refused, _) = desk.refuses(&format!("amend|K7|{mixing}|--volume|60ml"));
    assert!(refused.contains("60.0 ml"), "{refused}");
    assert_eq!(desk.does("cup|K7")["mixed_ml"], 120.0);
    desk.does(&format!("amend|K7|{mixing}|--volume|60ml|--even-so"));
    assert_eq!(desk.does("cup|K7")["mixed_ml"], 60.0);
}

#[test]
fn a_mixing_put_right_draws_so_much_more_from_the_bottle_it_was_filled_from() {
    let desk = slipped();
    desk.does("amend|K7|last|2.6");
    desk.does("mix|River blue|--volume|40ml|--mark|B4|--from|K7");
    assert_eq!(desk.cup("K7")["volume_ml"], 80.0);
    let mixing = first_entry(&desk, "B4");
    desk.does(&format!("amend|B4|{mixing}|--volume|60ml"));
    assert_eq!(desk.cup("K7")["volume_ml"], 60.0);
    assert_eq!(desk.cup("B4")["volume_ml"], 60.0);
    let (refused, _) = desk.refuses(&format!("amend|B4|{mixing}|--volume|150ml"));
    assert!(refused.contains("K7"), "{refused}");
}
