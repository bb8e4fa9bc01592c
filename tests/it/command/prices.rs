//! A price is never dropped: of a pack, of an amount, of a pack whose size nobody said; and water is free.

use crate::command::Rehearsal;
use serde_json::{Value, json};

fn desk() -> Rehearsal {
    let desk = Rehearsal::at("2026-11-24T18:00:00+01:00");
    desk.does("material add|Sun red|--kind|paint");
    desk.does("material add|Medium|--kind|conditioner|--price|12");
    desk.does("material add|Water|--kind|thinner");
    desk.does("recipe add|Dawn|--layer|colour|--part|Sun red 1|--part|Medium 2|--part|Water 1");
    desk
}

/// What a millilitre costs after a deed, which answers it as decimal text.
fn each(desk: &Rehearsal, words: &str) -> Option<f64> {
    let done = desk.does(words);
    done["price_per_ml"]
        .as_str()
        .map(|text| text.parse().unwrap())
}

fn cost(desk: &Rehearsal, mark: &str) -> Value {
    desk.does(&format!("cost|{mark}"))["cost"].clone()
}

#[test]
fn a_price_without_a_pack_is_of_what_was_bought() {
    let desk = desk();
    desk.does("mix|Dawn|--volume|100ml|--mark|K7");
    assert_eq!(cost(&desk, "K7"), Value::Null);
    // By hand: 9.00 for 500 ml are 0.018 a millilitre.
    assert_eq!(each(&desk, "bought|Sun red|500ml|--price|9"), Some(0.018));
    assert!(desk.says("shelf").contains("0.018/ml"));
    assert!(desk.says("materials").contains("9.00 for 500 ml"));
    // The price that was known before is of what is bought now: 12.00 for 600 ml, 0.02 a millilitre.
    assert_eq!(each(&desk, "bought|Medium|600ml"), Some(0.02));
    // By hand: 25 ml of red 0.45, 50 ml of medium 1.00, water nothing.
    assert_eq!(cost(&desk, "K7"), json!(1.45));
    // Bought once more without a word of its price it costs as before.
    assert_eq!(each(&desk, "bought|Medium|100ml"), Some(0.02));
    desk.does("undo");
    desk.does("undo");
    assert_eq!(cost(&desk, "K7"), Value::Null);
}

#[test]
fn a_price_that_was_paid_is_what_a_cup_costs() {
    let desk = desk();
    desk.does("material set|Sun red|--pack|250ml|--price|5");
    // By hand: 5 / 250 = 0.02; then 10 / 250 = 0.04 for a pack, 27 / 500 = 0.054 for an amount.
    let each = |words: &str| each(&desk, words);
    assert_eq!(each("bought|Sun red"), Some(0.02));
    assert_eq!(each("bought|Sun red|--packs|2|--price|10"), Some(0.04));
    assert_eq!(each("bought|Sun red"), Some(0.04));
    assert_eq!(each("bought|Sun red|500ml|--price|27"), Some(0.054));
    assert_eq!(each("counted|Sun red|200ml"), Some(0.054));
    // What a pack costs is said anew.
    desk.does("material set|Sun red|--price|6");
    assert_eq!(each("counted|Sun red|100ml"), Some(0.024));
    desk.does("material set|Sun red|--forget|price");
    assert_eq!(each("counted|Sun red|90ml"), None);
}

#[test]
fn water_is_free_unless_a_price_is_given() {
    let desk = desk();
    desk.does("recipe add|Rain|--layer|colour|--part|Water 1");
    desk.does("mix|Rain|--volume|100ml|--mark|K7");
    assert_eq!(cost(&desk, "K7"), json!(0.0));
    assert!(desk.says("shelf").contains("free"));
    desk.does("material set|Water|--pack|1 l|--price|2");
    assert_eq!(cost(&desk, "K7"), json!(0.2));
}
