//! Cups that are too thin: paint or a thicker cup is added, two cups become one; stock, cost and life follow.

use crate::command::Rehearsal;
use serde_json::{Value, json};

/// A colour of one part of blue and two of medium, in two cups of 120 ml a day old: K7 too thin, B4 too thick.
fn desk() -> Rehearsal {
    let mut desk = Rehearsal::stocked();
    desk.does("bought|Deep blue|250ml");
    desk.does("mix|River blue|--volume|120ml|--mark|K7");
    desk.does("mix|River blue|--volume|120ml|--mark|B4");
    desk.clock("2026-11-25T10:00:00+01:00");
    desk.does("read|K7|6|--even-so");
    desk.does("thin|K7|20ml|--mound|1.6|--even-so");
    desk.does("read|B4|3.906");
    desk
}

fn left(desk: &Rehearsal) -> Value {
    let shelf = desk.does("shelf");
    let lines = shelf["materials"].as_array().unwrap();
    let line = lines.iter().find(|line| line["name"] == "Deep blue");
    line.unwrap()["left_ml"].clone()
}

#[test]
fn how_much_of_a_thicker_cup_is_the_model_turned_round() {
    let desk = desk();
    assert_eq!(desk.cup("K7")["state"], "thin");
    // By hand: ln(2.5 / 1.6) of ln(3.906 / 1.6) is one half: of as much as is in K7, its 120 ml and 20 ml of thinner.
    let likely = desk.does("add|K7|--how-much|--from|B4");
    assert!((likely["likely_ml"].as_f64().unwrap() - 140.0).abs() < 0.1);
    assert!(
        desk.says("add|K7|--how-much|--from|B4")
            .contains("140 ml of B4")
    );
    // Of its own paint: its share of thinner, 20 of 140, falls by as much as the mound is to rise.
    let paint = desk.does("add|K7|--how-much");
    let band: Vec<f64> = serde_json::from_value(paint["band_ml"].clone()).unwrap();
    let likely = paint["likely_ml"].as_f64().unwrap();
    assert!(band[0] < likely && likely < band[1], "{paint}");
    assert_eq!(desk.cup("K7")["paint"], paint);
    assert!(desk.says("cups").contains("of its paint without thinner"));
    // A thinner cup brings none back, and one that is not thin wants none.
    assert_eq!(
        desk.does("add|B4|--how-much|--from|K7")["likely_ml"],
        Value::Null
    );
    assert_eq!(desk.does("add|B4|--how-much")["likely_ml"], Value::Null);
}

#[test]
fn paint_from_the_shelf_is_in_its_life_its_cost_and_off_the_shelf() {
    let desk = desk();
    // By hand: 250 ml less a third of 240 ml.
    assert_eq!(left(&desk), json!(170.0));
    let before = desk.does("cost|K7")["known"].as_f64().unwrap();
    let added = desk.does("add|K7|10ml|--from|Deep blue");
    assert_eq!(added["volume_ml"], 150.0);
    assert_eq!(added["entry"]["material"], "Deep blue");
    // It is other paint than was read.
    assert_eq!(
        (&added["state"], &added["mound_s"]),
        (&json!("look"), &Value::Null)
    );
    assert_eq!(left(&desk), json!(160.0));
    // By hand: 10 ml of 8.90 for 250 ml, to a hundredth.
    let after = desk.does("cost|K7")["known"].as_f64().unwrap();
    assert!((after - before - 0.36).abs() < 1e-9, "{before} {after}");
    let read = desk.does("add|K7|5ml|--from|deep|--mound|2.4");
    assert_eq!(
        (&read["state"], &read["mound_s"]),
        (&json!("ready"), &json!(2.4))
    );
    // A slip is put right, and taken out again.
    let right = desk.does("amend|K7|last|6ml");
    assert_eq!(right["volume_ml"], 156.0);
    assert_eq!(left(&desk), json!(154.0));
    desk.does("strike|K7|last");
    assert_eq!(left(&desk), json!(160.0));
    assert!(desk.says("history").contains("K7 10 ml Deep blue added"));
}

#[test]
fn two_cups_poured_together_are_one() {
    let desk = desk();
    let (k7, b4) = (desk.does("cost|K7"), desk.does("cost|B4"));
    let before = desk.does("cups");
    let added = desk.does("add|B4|--from|K7|--mound|2.6");
    assert_eq!(
        (&added["volume_ml"], &added["state"]),
        (&json!(260.0), &json!("ready"))
    );
    assert_eq!(added["warnings"], json!([]));
    assert_eq!(added["entry"]["from"], "K7");
    // All of K7 went over, its thinner too.
    assert_eq!(added["entry"]["thinner_ml"], 20.0);
    let gone = desk.does("cup|K7");
    assert_eq!(gone["state"], "spent");
    assert_eq!(
        gone["entries"].as_array().unwrap().last().unwrap()["into"],
        "B4"
    );
    // Both cost what both did, to the hundredth of each line.
    let known = |cost: &Value| cost["known"].as_f64().unwrap();
    let both = known(&k7) + known(&b4);
    let one = known(&desk.does("cost|B4"));
    assert!(
        (one - both).abs() < 0.011 || k7["cost"].is_null(),
        "{one} {both}"
    );
    // Struck in one life it goes out of the other too.
    desk.does("strike|B4|last");
    assert_eq!(desk.does("cups"), before);
    desk.does("undo");
    desk.does("undo");
    assert_eq!(desk.does("cups"), before);
}

#[test]
fn a_part_of_a_cup_goes_over_with_its_share_of_thinner() {
    let desk = desk();
    let added = desk.does("add|B4|70ml|--from|K7");
    // By hand: half of the 140 ml, so half of the 20 ml of thinner.
    assert_eq!(added["entry"]["thinner_ml"], 10.0);
    assert_eq!(
        (
            desk.cup("K7")["volume_ml"].clone(),
            desk.cup("B4")["volume_ml"].clone()
        ),
        (json!(70.0), json!(190.0))
    );
    let (sentence, _) = desk.refuses("add|K7|--from|B4");
    assert!(
        sentence.contains("B4 holds paint of K7 already"),
        "{sentence}"
    );
}

#[test]
fn what_makes_no_sense_is_refused_and_what_is_odd_is_said() {
    let desk = desk();
    desk.does("mix|Opener|--volume|40ml|--mark|A3");
    for (words, piece) in [
        ("add|K7|10ml|--from|K7", "poured into itself"),
        ("add|K7|500ml|--from|B4", "B4 holds 120.0 ml, not 500.0 ml"),
        ("add|K7|10ml|--from|Z9", "no cup is marked Z9"),
        (
            "add|K7|10ml|--from|Deeb blue",
            "no material is called Deeb blue",
        ),
        ("add|K7|--from|Deep blue", "how much is added?"),
        ("add|K7|10 g|--from|Pouring medium", "without its density"),
        ("add|K7|10ml|--from|B4|--mound|26", "is far from its window"),
        ("add|Z9|10ml|--from|B4", "no cup is marked Z9"),
    ] {
        let (sentence, _) = desk.refuses(words);
        assert!(sentence.contains(piece), "{words}: {sentence}");
    }
    let blended = desk.does("add|K7|10ml|--from|A3");
    let warned = blended["warnings"][0].as_str().unwrap();
    assert_eq!(
        warned,
        "Opener v1 was added to K7: it is no longer what its recipe says"
    );
}

#[test]
fn thinning_asks_which_thinner_where_there_are_two() {
    let desk = desk();
    desk.does("material add|Flow medium|--kind|thinner");
    let (sentence, hint) = desk.refuses("thin|B4|3ml");
    assert!(
        sentence.contains("with which thinner: Flow medium or Water?"),
        "{sentence}"
    );
    assert!(hint.contains("--with"), "{hint}");
    let thinned = desk.does("thin|B4|3ml|--with|Flow medium");
    assert_eq!(thinned["entry"]["with"], "Flow medium");
    // What it was thinned with it is thinned with again.
    assert_eq!(desk.does("thin|B4|1ml")["entry"]["with"], "Flow medium");
    assert_eq!(desk.does("thin|K7|1ml")["entry"]["with"], "Water");
    desk.does("material retire|Flow medium");
    assert_eq!(desk.does("thin|B4|1ml")["entry"]["with"], "Water");
}
