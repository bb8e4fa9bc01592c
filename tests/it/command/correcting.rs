//! A pour put right afterwards: what is left in its cups, what it says, and that an undo brings all of it back.

use super::Rehearsal;
use serde_json::json;

/// Pour 1: 30 ml of K7, which held 120 ml, on 20 x 20 cm.
fn poured() -> Rehearsal {
    let mut desk = Rehearsal::stocked();
    desk.does("mix|River blue|--volume|120ml|--mark|K7");
    desk.clock("2026-11-25T09:00:00+01:00");
    desk.does("pour|--panel|20x20cm|--layer|K7:30ml|--way|flip cup|--spin|cw:1");
    desk
}

#[test]
fn a_corrected_amount_is_what_was_taken_out_of_the_cup() {
    let desk = poured();
    let corrected = desk.does("correct|1|--layer|K7:50ml");
    assert_eq!(corrected["layers"][0]["ml"], 50.0);
    assert_eq!(desk.cup("K7")["volume_ml"], 70.0);
    desk.does("undo");
    assert_eq!(desk.cup("K7")["volume_ml"], 90.0);
    // 91 more than the 90 that are left beside the 30.
    let (refused, hint) = desk.refuses("correct|1|--layer|K7:121ml");
    assert!(
        refused.contains("K7 holds 90.0 ml, not 91.0 ml"),
        "{refused}"
    );
    assert!(hint.contains("--even-so"), "{hint}");
    desk.does("correct|1|--layer|K7:120ml");
    assert_eq!(desk.does("cups")["cups"], json!([]));
    desk.does("correct|1|--layer|K7:30ml");
    assert_eq!(desk.cup("K7")["volume_ml"], 90.0);
}

#[test]
fn moves_are_added_or_replaced_and_words_are_changed_or_taken_away() {
    let desk = poured();
    let moved = desk.does("correct|1|--tilt|left");
    let kinds = |pour: &serde_json::Value| {
        let moves = pour["moves"].as_array().unwrap().iter();
        moves.map(|one| one["kind"].clone()).collect::<Vec<_>>()
    };
    assert_eq!(kinds(&moved), ["spin", "tilt"]);
    assert_eq!(kinds(&desk.does("correct|1|--only-moves|--blow")), ["blow"]);
    let changed = desk.does("correct|1|--way||--panel|30x40cm|--air|21C,45%");
    assert_eq!(changed["way"], json!(null));
    assert_eq!(changed["panel"]["width_mm"], 300.0);
    assert_eq!(changed["air"]["celsius"], 21.0);
    assert_eq!(kinds(&changed), ["blow"]);
    let told = desk.does("history");
    assert_eq!(told["history"][0]["what"], "put pour 1 right");
    for _ in 0..3 {
        desk.does("undo");
    }
    let was = &desk.does("pours")["pours"][0];
    assert_eq!(
        (&was["way"], kinds(was)),
        (&json!("flip cup"), vec![json!("spin")])
    );
}

#[test]
fn what_is_not_in_the_pour_and_what_changes_nothing_is_refused() {
    let desk = poured();
    assert!(
        desk.refuses("correct|1|--layer|B4:10ml")
            .0
            .contains("no layer of pour 1")
    );
    assert!(
        desk.refuses("correct|1|--way|flip cup")
            .0
            .contains("differs")
    );
    assert!(
        desk.refuses("correct|9|--way|swipe")
            .0
            .contains("no pour 9")
    );
    assert!(desk.refuses("correct|1|--panel|soon").0.contains("soon"));
}
