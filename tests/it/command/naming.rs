//! Names put right: renamed, merged, retired, removed; each is one change that can be taken back whole.

use crate::command::Rehearsal;
use serde_json::{Value, json};

fn names(list: &Value) -> Vec<&str> {
    let all = list.as_array().unwrap().iter();
    all.map(|one| one["name"].as_str().unwrap()).collect()
}

/// All rows, told by what the program itself exports; the history aside.
fn everything(desk: &Rehearsal) -> Value {
    let said = |words: &str| desk.does(words);
    json!([
        said("materials"),
        said("recipes"),
        said("shelf"),
        said("cups"),
        said("cup|K7"),
        said("cost|K7")
    ])
}

fn cup_desk() -> Rehearsal {
    let desk = Rehearsal::stocked();
    desk.does("mix|River blue|--volume|120ml|--mark|K7");
    desk
}

#[test]
fn a_recipe_is_renamed_and_moved_to_another_layer() {
    let desk = cup_desk();
    let before = everything(&desk);
    let page = desk.does("recipe set|river|--rename|Lake blue|--layer|base");
    assert_eq!(
        (&page["name"], &page["layer"]),
        (&json!("Lake blue"), &json!("base"))
    );
    let cup = desk.cup("K7");
    assert_eq!(
        (&cup["recipe"], &cup["layer"]),
        (&json!("Lake blue"), &json!("base"))
    );
    let history = desk.says("history");
    assert!(
        history.contains("recipe River blue is called Lake blue now and is a base now"),
        "{history}"
    );
    desk.does("undo");
    assert_eq!(everything(&desk), before);
    let (sentence, _) = desk.refuses("recipe set|River blue|--rename|Ground");
    assert!(
        sentence.contains("already a recipe called Ground"),
        "{sentence}"
    );
    let (sentence, _) = desk.refuses("recipe set|River blue|--rename|water");
    assert!(
        sentence.contains("already a material called water"),
        "{sentence}"
    );
    let (_, hint) = desk.refuses("recipe set|Rivver blue|--rename|Lake");
    assert!(hint.contains("River blue"), "{hint}");
    desk.refuses("recipe set|River blue|--layer|colour");
}

#[test]
fn a_lid_is_marked_and_taped_anew() {
    let desk = cup_desk();
    let before = everything(&desk);
    let cup = desk.does("lid|K7|--mark|K9|--tape|blue");
    assert_eq!((&cup["mark"], &cup["tape"]), (&json!("K9"), &json!("blue")));
    assert!(
        desk.says("history")
            .contains("K7 is marked K9 now and has blue tape now")
    );
    desk.does("read|K9|2.6");
    desk.does("undo");
    let bare = desk.does("lid|K9|--tape|");
    assert_eq!(bare["tape"], Value::Null);
    desk.does("undo");
    desk.does("undo");
    assert_eq!(everything(&desk), before);
    desk.does("mix|River blue|--volume|60ml|--mark|K8");
    let (sentence, _) = desk.refuses("lid|K7|--mark|K8");
    assert!(sentence.contains("K8 is on a living cup"), "{sentence}");
    let (sentence, _) = desk.refuses("lid|K7|--mark|K7");
    assert!(sentence.contains("differs from K7"), "{sentence}");
    desk.refuses("lid|K7|--mark|O0");
    desk.refuses("lid|Z9|--mark|K5");
    desk.does("mix|Opener|--volume|40ml|--mark|A3|--tape|red");
    let (sentence, _) = desk.refuses("lid|K7|--tape|red");
    assert!(sentence.contains("kept for activators"), "{sentence}");
}

/// 100 ml of the one and 60 ml of the other are on the shelf; a cup of each took some.
fn twice() -> Rehearsal {
    let mut desk = cup_desk();
    desk.does("material add|Deep bleu|--kind|paint|--colour-index|PB29");
    desk.does("recipe add|Sea|--layer|colour|--part|Deep bleu 1|--part|Deep blue 1|--part|Water 2");
    desk.does("counted|Deep blue|100ml");
    desk.does("counted|Deep bleu|60ml");
    desk.clock("2026-11-24T19:00:00+01:00");
    desk.does("mix|Sea|--volume|40ml|--mark|S2");
    desk
}

#[test]
fn two_materials_that_are_one_become_one() {
    let desk = twice();
    let before = everything(&desk);
    desk.does("material merge|Deep bleu|Deep blue");
    let shelf = desk.does("shelf");
    assert!(!names(&shelf["materials"]).contains(&"Deep bleu"));
    let lines = shelf["materials"].as_array().unwrap();
    let blue = lines.iter().find(|one| one["name"] == "Deep blue").unwrap();
    // By hand: 100 and 60 ml, of which the cup took 10 of each.
    assert_eq!(
        (&blue["left_ml"], &blue["colour_index"]),
        (&json!(140.0), &json!("PB29"))
    );
    // A recipe that asked for both asks for their sum.
    let recipes = desk.does("recipes");
    let sea = recipes["recipes"].as_array().unwrap();
    let sea = sea.iter().find(|one| one["name"] == "Sea").unwrap();
    assert_eq!(
        sea["variants"][0]["parts"],
        json!([{"name": "Deep blue", "share": 2.0}, {"name": "Water", "share": 2.0}])
    );
    // By hand: 20 ml of a paint that costs 8.90 for 250 ml.
    assert_eq!(desk.does("cost|S2")["cost"], json!(0.72));
    assert!(desk.says("history").contains("Deep bleu is Deep blue now"));
    desk.does("undo");
    assert_eq!(everything(&desk), before);
}

#[test]
fn what_is_not_one_thing_is_not_merged() {
    let desk = twice();
    let (sentence, hint) = desk.refuses("material merge|Water|Deep blue");
    assert!(
        sentence.contains("Water is a thinner, and Deep blue is a paint"),
        "{sentence}"
    );
    assert!(hint.contains("material set"), "{hint}");
    desk.refuses("material merge|Deep blue|Deep blue");
    let (_, hint) = desk.refuses("material merge|Deep bleu|Deeb blue");
    assert!(hint.contains("Deep blue"), "{hint}");
    let (sentence, _) = desk.refuses("recipe merge|Ground|Sea");
    assert!(
        sentence.contains("Ground is a base, and Sea is a colour"),
        "{sentence}"
    );
    desk.does("recipe add|Foam|--layer|colour|--part|Sea 1|--part|Water 1");
    let (sentence, _) = desk.refuses("recipe merge|Foam|Sea");
    assert!(sentence.contains("would go into itself"), "{sentence}");
    let (sentence, _) = desk.refuses("recipe merge|Sea|Foam");
    assert!(sentence.contains("would go into itself"), "{sentence}");
}

#[test]
fn two_recipes_that_are_one_become_one_and_the_newest_is_as_before() {
    let desk = cup_desk();
    // The first variant is the same as River blue v1, the second is not.
    desk.does("recipe add|River bleu|--layer|colour|--part|Deep blue 1|--part|Pouring medium 2|--mound|2..3|--rest|12h|--again|60m|--stir|4m");
    desk.does("mix|River bleu|--volume|60ml|--mark|B2");
    desk.does("recipe change|River bleu|--part|Deep blue 1|--part|Pouring medium 3");
    desk.does("mix|River bleu|--volume|60ml|--mark|B3");
    desk.does("recipe add|Deep|--layer|colour|--part|River bleu 1|--part|Water 1");
    let before = everything(&desk);
    desk.does("recipe merge|River bleu|River blue");
    let of = |mark: &str| {
        let cup = desk.cup(mark);
        (cup["recipe"].clone(), cup["variant"].clone())
    };
    assert_eq!(of("K7"), (json!("River blue"), json!(1)));
    assert_eq!(of("B2"), (json!("River blue"), json!(1)));
    assert_eq!(of("B3"), (json!("River blue"), json!(2)));
    let recipes = desk.does("recipes");
    let recipes = recipes["recipes"].as_array().unwrap();
    let blue = recipes
        .iter()
        .find(|one| one["name"] == "River blue")
        .unwrap();
    let variants = blue["variants"].as_array().unwrap();
    assert_eq!(variants.len(), 3);
    assert_eq!(
        (&variants[2]["parent"], &variants[2]["parts"]),
        (&json!(1), &variants[0]["parts"])
    );
    let deep = recipes.iter().find(|one| one["name"] == "Deep").unwrap();
    assert_eq!(deep["variants"][0]["parts"][0]["name"], "River blue");
    desk.does("undo");
    assert_eq!(everything(&desk), before);
}

#[test]
fn what_is_retired_is_offered_no_more_and_stays_in_the_past() {
    let desk = cup_desk();
    let before = everything(&desk);
    let done = desk.does("material retire|Deep blue");
    assert_eq!(done["asked_by"], json!(["River blue"]));
    desk.does("recipe retire|River blue");
    assert_eq!(desk.cup("K7")["recipe"], "River blue");
    // Its beginning leads to it no more, its whole name does.
    let (_, hint) = desk.refuses("mix|river|--volume|50ml");
    assert!(!hint.contains("River blue"), "{hint}");
    desk.does("mix|River blue|--volume|50ml");
    desk.does("undo");
    let plan = desk.does("plan|--panel|20x20cm");
    let planned = plan["layers"].as_array().unwrap().iter();
    let planned: Vec<_> = planned.map(|one| one["recipe"].as_str().unwrap()).collect();
    assert_eq!(planned, ["Ground", "Opener"]);
    assert!(desk.says("recipes").contains("River blue (retired)"));
    assert!(desk.says("shelf").contains("Deep blue (retired)"));
    let (sentence, hint) = desk.refuses("recipe retire|River blue");
    assert!(sentence.contains("retired already") && hint.contains("--back"));
    desk.does("recipe retire|River blue|--back");
    desk.refuses("recipe retire|River blue|--back");
    desk.does("undo");
    desk.does("undo");
    desk.does("undo");
    assert_eq!(everything(&desk), before);
}

#[test]
fn what_nothing_ever_used_is_removed_and_what_was_used_is_not() {
    let desk = cup_desk();
    let before = everything(&desk);
    desk.does("material add|Deeb blue|--kind|paint");
    desk.does("bought|Deeb blue|100ml|--price|3");
    desk.does("recipe add|Moss|--layer|colour|--part|Deep blue 1");
    desk.does("recipe change|Moss|--mound|2..4");
    let filled = everything(&desk);
    desk.does("material remove|Deeb blue");
    desk.does("recipe remove|Moss");
    assert_eq!(everything(&desk), before);
    desk.does("undo");
    desk.does("undo");
    assert_eq!(everything(&desk), filled);
    let (sentence, hint) = desk.refuses("material remove|Deep blue");
    assert!(
        sentence.contains("Deep blue is in 3 variants of recipes and 1 cup"),
        "{sentence}"
    );
    assert!(hint.contains("retire"), "{hint}");
    let (sentence, _) = desk.refuses("recipe remove|River blue");
    assert!(sentence.contains("River blue is in 1 cup"), "{sentence}");
    let (_, hint) = desk.refuses("recipe remove|Mosss");
    assert!(hint.contains("Moss"), "{hint}");
}

// The number of a row that was taken back is given to the next: the history must not give it the next one's name too.
#[test]
fn a_deed_that_was_taken_back_keeps_the_name_that_it_had() {
    let desk = Rehearsal::stocked();
    desk.does("recipe add|Foo|--layer|base|--part|Titan white 1|--part|Water 1");
    desk.does("undo");
    desk.does("recipe add|Bar|--layer|base|--part|Titan white 1|--part|Water 1");
    let history = desk.does("history");
    let said = history["history"].as_array().unwrap().iter();
    let said: Vec<&str> = said.filter_map(|one| one["what"].as_str()).collect();
    assert!(
        said.iter().any(|what| what.contains("recipe Foo")),
        "{said:?}"
    );
    assert!(
        said.iter().any(|what| what.contains("recipe Bar")),
        "{said:?}"
    );
}

#[test]
fn a_name_that_differs_in_its_blanks_alone_is_the_same_name() {
    let desk = Rehearsal::stocked();
    let (refused, _) = desk.refuses("recipe add| RIVER  blue|--layer|base|--part|Titan white 1");
    assert!(
        refused.contains("River blue") || refused.contains("RIVER blue"),
        "{refused}"
    );
    let (refused, _) = desk.refuses("material add|Titan   white|--kind|paint");
    assert!(refused.contains("Titan white"), "{refused}");
}
