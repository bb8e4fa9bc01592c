//! A picture made once more: what it takes, what would differ today, and the two side by side.

use super::Rehearsal;
use crate::near::near_json;
use serde_json::{Value, json};

/// A picture of a base and a colour, poured on Wednesday: the colour mixed on Tuesday at six, stirred for four minutes,
/// thinned by 4 of 104 ml, read at 2.6 s.
fn poured() -> Rehearsal {
    let mut desk = Rehearsal::stocked();
    desk.does("mix|Ground|--volume|300ml|--mound|3.5|--mark|B2");
    desk.does("mix|River blue|--volume|100ml|--mound|2.8|--mark|K7");
    desk.clock("2026-11-25T08:00:00+01:00");
    desk.does("read|B2|3.6");
    desk.does("read|K7|3.4");
    desk.does("thin|K7|4ml|--mound|2.6|--with|Water");
    desk.does("pour|--panel|40x50cm|--layer|B2:200ml|--layer|K7:90ml|--spin|cw:2|--tilt|left|--way|flip cup|--air|21C,45%");
    desk.does("judge|1|--cells|4|--kept");
    desk
}

fn texts(list: &Value) -> Vec<&str> {
    let texts = list.as_array().unwrap().iter();
    texts.map(|text| text.as_str().unwrap()).collect()
}

fn says(list: &Value, words: &[&str]) -> bool {
    let all = |text: &&str| words.iter().all(|word| text.contains(word));
    texts(list).iter().any(all)
}

#[test]
fn a_picture_is_planned_again_on_a_larger_panel_with_its_variants_rests_mounds_and_moves() {
    let mut desk = poured();
    // A newer variant is no part of that picture.
    desk.does("recipe change|River blue|--part|Deep blue 1|--part|Pouring medium 3");
    desk.clock("2026-12-10T09:00:00+01:00");
    let plan = desk.does("repeat|1|--panel|60x80cm|--pour|sat 12:00|--fresh");
    let repeat = &plan["repeat"];
    // 60x80 is 2.4 times 40x50.
    let layers = repeat["layers"].as_array().unwrap();
    let of = |key: &str| {
        layers
            .iter()
            .map(|one| one[key].clone())
            .collect::<Vec<_>>()
    };
    assert_eq!(of("ml"), [json!(480.0), json!(216.0)]);
    assert_eq!(of("was_ml"), [json!(200.0), json!(90.0)]);
    assert_eq!(of("variant"), [json!(1), json!(1)]);
    assert_eq!(layers[1]["mound_s"], json!(2.6));
    assert_eq!(layers[1]["stood_h"], json!(14.0));
    near_json(&layers[1]["thinned"], 4.0 / 104.0, 5e-4);
    let moves = &repeat["moves"];
    assert_eq!(
        (&moves[0]["kind"], &moves[0]["direction"]),
        (&json!("spin"), &json!("cw"))
    );
    assert_eq!(moves[1]["kind"], "tilt");
    assert_eq!(plan["layers"][1]["ml"], json!(216.0));
    // It stood 14 h; stirred until 21:59 the evening before, so its parts are together at 21:45 and it is stirred from 21:55.
    let steps = plan["schedule"].as_array().unwrap();
    let stirred = steps
        .iter()
        .find(|step| step["do"] == "stir" && step["cup"] == "River blue v1");
    assert_eq!(stirred.unwrap()["at"], "2026-12-11T21:56:00+01:00");
    assert!(
        says(
            &repeat["differs"],
            &["River blue has a variant 2", "variant 1 is made, as then"]
        ),
        "{plan}"
    );
}

#[test]
fn edges_of_one_depth_are_painted_then_and_now() {
    let desk = poured();
    let plan = desk.does("repeat|1|--panel|60x80cm|--edge|2cm");
    // (60*80 + 2*2*(60+80)) / (40*50 + 2*2*(40+50)) = 5360 / 2360.
    near_json(
        &plan["repeat"]["layers"][0]["ml"],
        200.0 * 5360.0 / 2360.0,
        1e-3,
    );
    // On the same panel it is the same.
    let same = desk.does("repeat|1|--edge|2cm");
    assert_eq!(same["repeat"]["layers"][1]["ml"], json!(90.0));
}

#[test]
fn what_would_differ_today_is_said_before_it_is_kept() {
    let mut desk = poured();
    desk.does("material add|Alcohol|--kind|thinner|--density|0.8");
    desk.clock("2026-12-01T09:00:00+01:00");
    desk.does("bought|Deep blue");
    desk.does("bought|Water|1 l");
    desk.does("set|air|25C,45%");
    // The recipe was thinned with other than water since.
    desk.does("mix|River blue|--volume|50ml|--mound|3.0|--mark|P4");
    desk.clock("2026-12-02T09:00:00+01:00");
    desk.does("read|P4|3.4");
    desk.does("thin|P4|1ml|--mound|2.9|--with|Alcohol");
    let plan = desk.does("repeat|1");
    let differs = &plan["repeat"]["differs"];
    assert!(
        says(differs, &["4 C warmer", "21C,45% then", "25C,45% now"]),
        "{differs}"
    );
    // Water is bought too; nobody asks which.
    assert!(
        says(differs, &["bought anew since: Deep blue 1 Dec"]),
        "{differs}"
    );
    assert!(!says(differs, &["Water 1 Dec"]), "{differs}");
    assert!(
        says(differs, &["River blue was thinned with Water", "Alcohol"]),
        "{differs}"
    );
    // 100 ml of the base are left and 10 of the colour: neither serves.
    assert!(!says(differs, &["it serves"]), "{differs}");
    let typed = desk.does("repeat|1|--air|21C,45%");
    assert!(!says(&typed["repeat"]["differs"], &["warmer"]));
    let told = desk.says("repeat|1");
    assert!(
        told.contains("! the room is 4 C warmer: 21C,45% then, 25C,45% now"),
        "{told}"
    );
    assert!(
        told.contains("2. 90 ml River blue v1: mound 2.6 s, stood 14 h, 4 % thinner"),
        "{told}"
    );
    assert!(
        told.contains("3. spin clockwise, 2 turns") && told.contains("4. tilt left"),
        "{told}"
    );
    assert!(desk.does("plans")["plans"].as_array().unwrap().is_empty());
}

#[test]
fn a_cup_that_stands_and_serves_is_taken_and_said() {
    let desk = poured();
    // Half as large: 50 ml of the base, of which 100 are left; 22.5 of the colour, of which 14 are.
    let plan = desk.does("repeat|1|--panel|20x25cm|--keep");
    assert!(says(
        &plan["repeat"]["differs"],
        &["B2 stands with 100 ml of Ground v1", "serves"]
    ));
    let cups = &desk.does("plans")["plans"][0]["cups"];
    assert_eq!(
        (&cups[0]["mark"], &cups[1]["mark"]),
        (&json!("B2"), &Value::Null)
    );
    // What was poured of it before is none of this plan's.
    assert_eq!(cups[0]["poured_ml"], json!(0.0));
    let mixed = desk.does("plan|--mix|1");
    assert_eq!(mixed["recipe"], "River blue");
    let fresh = desk.does("repeat|1|--panel|20x25cm|--fresh");
    assert!(!says(&fresh["repeat"]["differs"], &["serves"]));
}

#[test]
fn a_picture_made_once_more_is_held_against_the_first() {
    let mut desk = poured();
    desk.clock("2026-12-10T09:00:00+01:00");
    desk.does("repeat|1|--pour|sat 12:00|--fresh|--keep");
    assert_eq!(desk.does("plans")["plans"][0]["repeats"], 1);
    desk.clock("2026-12-11T21:55:00+01:00");
    let base = desk.does("plan|--mix|1");
    let colour = desk.does("plan|--mix|1");
    assert!(
        says(
            &colour["notes"],
            &["picture 1 once more", "mounded 2.6 s", "stood 14 h"]
        ),
        "{colour}"
    );
    let [base, colour] = [base, colour].map(|cup| cup["mark"].as_str().unwrap().to_owned());
    desk.clock("2026-12-12T12:00:00+01:00");
    desk.does(&format!("read|{base}|3.6"));
    desk.does(&format!("read|{colour}|2.0"));
    let poured = desk.does(&format!(
        "pour|--panel|40x50cm|--layer|{base}:200ml|--layer|{colour}:60ml|--spin|cw:2|--tilt|left|--way|Flip cup|--air|25C,45%"
    ));
    assert!(
        says(&poured["notes"], &["pour 2 makes picture 1 once more"]),
        "{poured}"
    );
    desk.does("judge|2|--cells|2");
    let compared = desk.does("compare|2");
    assert_eq!(
        (&compared["with"], &compared["repeats"]),
        (&json!(1), &json!(true))
    );
    let line = |aspect: &str, layer: Option<u64>| {
        let lines = compared["lines"].as_array().unwrap().iter();
        let mut found =
            lines.filter(|one| one["aspect"] == aspect && one["layer"].as_u64() == layer);
        found
            .next()
            .unwrap_or_else(|| panic!("{aspect}: {compared}"))
            .clone()
    };
    let same = |aspect, layer| line(aspect, layer)["same"].clone();
    for (aspect, layer) in [
        ("panel", None),
        ("technique", None),
        ("variant", Some(2)),
        ("amount", Some(1)),
        ("moves", None),
        ("thinned", Some(2)),
    ] {
        assert_eq!(same(aspect, layer), true, "{aspect}");
    }
    for (aspect, layer) in [
        ("amount", Some(2)),
        ("mound", Some(2)),
        ("warmth", None),
        ("cells", None),
    ] {
        assert_eq!(same(aspect, layer), false, "{aspect}");
    }
    assert_eq!(line("mound", Some(2))["this"], "2.0 s");
    assert_eq!(line("mound", Some(2))["other"], "2.6 s");
    let told = desk.says("compare|2");
    let cells = told
        .lines()
        .find(|line| line.trim_start().starts_with("cells"))
        .unwrap();
    assert!(
        cells.contains('2') && cells.contains('4') && cells.contains("differs"),
        "{told}"
    );
}

#[test]
fn pictures_that_are_not_there_or_repeat_none_are_refused() {
    let desk = poured();
    desk.refuses("repeat|9");
    desk.refuses("repeat|1|--pour|yesterday 10:00");
    let (sentence, hint) = desk.refuses("compare|1");
    assert!(
        sentence.contains("picture 1") && hint.contains("compare"),
        "{sentence} {hint}"
    );
    desk.refuses("compare|1|7");
    assert_eq!(desk.does("compare|1|1")["repeats"], false);
}
