//! The colour of a paint: said, changed, forgotten, taken back, carried out and in; and what a recipe makes of it.

use super::Rehearsal;
use serde_json::{Value, json};

fn material<'a>(answer: &'a Value, name: &str) -> &'a Value {
    let all = answer["materials"].as_array().unwrap();
    all.iter().find(|one| one["name"] == name).unwrap()
}

fn recipe(desk: &Rehearsal, name: &str) -> Value {
    let answer = desk.does("recipes");
    let all = answer["recipes"].as_array().unwrap();
    let page = all.iter().find(|one| one["name"] == name).unwrap();
    page["variants"].as_array().unwrap().last().unwrap()["colour"].clone()
}

#[test]
fn a_colour_is_said_changed_forgotten_and_taken_back() {
    let desk = Rehearsal::stocked();
    let said = desk.does("material set|Deep blue|--colour|Dark Blue");
    assert_eq!(
        said["colour"],
        json!({"rgb": "#142a60", "word": "dark blue"})
    );
    desk.does("material set|Deep blue|--colour|#1E5AB5");
    let shelf = desk.does("shelf");
    let blue = json!({"rgb": "#1e5ab5", "word": "blue"});
    assert_eq!(material(&shelf, "Deep blue")["colour"], blue);
    assert_eq!(material(&shelf, "Titan white")["colour"], Value::Null);
    assert!(desk.says("materials").contains("#1e5ab5 blue"));
    let gone = desk.does("material set|Deep blue|--forget|colour");
    assert_eq!(gone["colour"], Value::Null);
    desk.does("undo");
    assert_eq!(
        material(&desk.does("materials"), "Deep blue")["colour"],
        blue
    );
    let (sentence, hint) = desk.refuses("material set|Deep blue|--colour|bluish");
    assert!(sentence.contains("\"bluish\" is no colour"), "{sentence}");
    assert!(hint.contains("#1e5ab4"), "{hint}");
}

#[test]
fn a_recipe_has_the_colour_of_its_paints_and_none_while_one_is_unknown() {
    let desk = Rehearsal::stocked();
    desk.does("recipe add|Sky|--layer|colour|--part|Deep blue 1|--part|Titan white 2|--part|Pouring medium 3");
    desk.does("material set|Deep blue|--colour|#1e5ab4");
    assert_eq!(recipe(&desk, "Sky"), Value::Null, "a white is no grey");
    // A clear medium moves no hue.
    assert_eq!(recipe(&desk, "River blue")["rgb"], "#1e5ab4");
    desk.does("material set|Titan white|--colour|#f6f5f1");
    // COMPUTED in Python: 1 part of 1.25 g/ml and 2 of 1.5 are 1.25 to 3 by weight.
    assert_eq!(recipe(&desk, "Sky")["rgb"], "#3a88d1");
    assert!(desk.says("recipes").contains("if its paints tint alike"));
}

#[test]
fn a_colour_goes_out_and_comes_in_and_a_merge_keeps_it() {
    let desk = Rehearsal::stocked();
    desk.does("material set|Deep blue|--colour|ochre");
    let out = desk.file().with_file_name("out.json");
    desk.does(&format!("export|{}", out.display()));
    let other = Rehearsal::at("2026-11-24T18:00:00+01:00");
    other.does(&format!("import|{}", out.display()));
    let ochre = json!({"rgb": "#c48c2a", "word": "ochre"});
    assert_eq!(
        material(&other.does("materials"), "Deep blue")["colour"],
        ochre
    );
    desk.does("material add|Blue|--kind|paint");
    desk.does("material merge|Deep blue|Blue");
    assert_eq!(material(&desk.does("materials"), "Blue")["colour"], ochre);
}

#[test]
fn a_list_of_materials_tells_colours() {
    let desk = Rehearsal::at("2026-11-24T18:00:00+01:00");
    let list = desk.file().with_file_name("paints.csv");
    std::fs::write(
        &list,
        "name,kind,colour\nMoss,paint,dark green\nChalk,paint,\n",
    )
    .unwrap();
    desk.does(&format!("import|{}|--as|materials", list.display()));
    let known = desk.does("materials");
    assert_eq!(material(&known, "Moss")["colour"]["word"], "dark green");
    assert_eq!(material(&known, "Chalk")["colour"], Value::Null);
}
