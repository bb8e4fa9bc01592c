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
    let (refused, _) = desk.refuses("strike|K7|last");
    assert!(refused.contains("\"drawn\""), "{refused}");
    let (refused, _) = desk.refuses("amend|K7|last|40ml");
    assert!(refused.contains("has no value"), "{refused}");
    let (refused, _) = desk.refuses("amend|K7|99|2.6");
    assert_eq!(refused, "stillcup: 99 is no entry of K7.");
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
