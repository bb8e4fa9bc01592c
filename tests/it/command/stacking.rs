//! What is said of a stack while it is built: its order, its cups, its amounts.

use super::{Rehearsal, says};
use serde_json::{Value, json};

#[test]
fn a_stack_in_the_right_order_says_so_and_one_in_the_wrong_order_too() {
    let desk = Rehearsal::ready_stack();
    let right = desk.does("stack|B2|K7|A3");
    assert_eq!(right["in_order"], true);
    assert!(
        desk.says("stack|B2|K7|A3")
            .contains("the order holds: each layer is thinner")
    );
    let wrong = desk.does("stack|K7|B2");
    assert_eq!(
        (&wrong["in_order"], &wrong["verdict"]),
        (&json!(false), &json!("the order does not hold"))
    );
    // A cup that nobody read.
    desk.does("mix|River blue|--volume|50ml|--mark|P4");
    assert_eq!(desk.does("stack|B2|P4")["in_order"], Value::Null);
    assert!(desk.says("stack|B2|P4").contains("unknown order: read P4"));
}

#[test]
fn a_cup_that_still_rests_is_said_in_the_ladder() {
    let desk = Rehearsal::ready_stack();
    desk.does("mix|River blue|--volume|50ml|--mark|P4|--mound|2.4");
    let ladder = desk.does("stack|B2|P4");
    assert!(says(&ladder["warnings"], "P4 still rests"), "{ladder}");
    assert!(desk.says("stack|B2|P4").contains("! P4 still rests"));
}

#[test]
fn one_cup_twice_in_a_row_is_one_layer() {
    let desk = Rehearsal::ready_stack();
    let twice = desk.does("stack|B2|B2|K7");
    let words = &twice["steps"][0]["words"];
    assert!(says(words, "B2 twice in a row is one layer"), "{twice}");
    assert_eq!(twice["steps"][0]["order_p"], Value::Null);
    // The rest of the stack is judged as ever.
    assert_eq!(twice["in_order"], true);
    // Two layers of it with another between are two.
    assert!(!desk.says("stack|B2|K7|B2").contains("twice in a row"));
    let poured = desk.does("pour|--panel|40x50cm|--layer|B2:100ml|--layer|B2:50ml");
    assert!(says(&poured["warnings"], "twice in a row"), "{poured}");
}

#[test]
fn the_amounts_of_a_stack_are_held_against_the_panel_and_the_cups() {
    let desk = Rehearsal::ready_stack();
    // 120 ml of 40 cm2 stand 30 mm deep; of the base only 200 ml are left.
    let slip = desk.does("stack|B2:250ml|K7:60ml|--panel|8x5cm");
    assert!(
        says(
            &slip["warnings"],
            "250 ml of B2 are to be poured, and 200 ml are left"
        ),
        "{slip}"
    );
    assert!(says(&slip["warnings"], "mm deep"), "{slip}");
    assert_eq!(slip["layers"][1]["film_mm"], json!(15.0));
    let sound = desk.does("stack|B2:180ml|K7:60ml|A3:20ml|--panel|40x50cm");
    assert_eq!(sound["warnings"], json!([]));
    desk.refuses("stack|B2|K7|--panel|40x50cm");
    desk.refuses("stack|B2:10ml|Q9:10ml|--panel|40x50cm");
}
