//! A painter's day, typed in with the clock moved on. What is expected was worked out by hand from the
//! practice that a new studio begins with: 12 h of rest, a look again after 60 min, windows of 3 to 4, 2 to 3 and 1 to 2 s.

use super::Rehearsal;
use serde_json::{Value, json};

fn state(desk: &Rehearsal, mark: &str) -> String {
    desk.cup(mark)["state"].as_str().unwrap().to_owned()
}

#[test]
fn a_cup_rests_clears_is_read_holds_an_hour_and_thickens() {
    let mut desk = Rehearsal::stocked();
    let mixed = desk.does(
        "mix|River blue|--volume|120ml|--mound|2.6|--stirred|4m|--mark|K7|--tape|blue|--depth|60mm",
    );
    assert_eq!(mixed["mark"], "K7");
    // One part of three at 1.25 g/ml; the medium's density is unknown.
    let parts = json!([
        {"name": "Deep blue", "ml": 40.0, "g": 50.0, "from": null},
        {"name": "Pouring medium", "ml": 80.0, "g": null, "from": null},
    ]);
    assert_eq!(mixed["parts"], parts);
    assert_eq!(mixed["state"], "resting");
    assert_eq!(mixed["mixed_at"], "2026-11-24T18:00:00+01:00");
    assert_eq!(mixed["clears_at"], "2026-11-25T06:00:00+01:00");
    assert_eq!(mixed["mound_s"], 2.6);
    assert_eq!(mixed["ready_until"], Value::Null);

    desk.clock("2026-11-25T05:59:59+01:00");
    assert_eq!(state(&desk, "K7"), "resting");
    desk.clock("2026-11-25T06:00:00+01:00");
    assert_eq!(state(&desk, "K7"), "look");

    desk.clock("2026-11-25T09:00:00+01:00");
    assert_eq!(desk.does("read|K7|3.4")["state"], "thick");
    let thinned = desk.does("thin|K7|3ml|--mound|2.4");
    assert_eq!(thinned["state"], "ready");
    assert_eq!(thinned["volume_ml"], 123.0);
    assert_eq!(thinned["ready_until"], "2026-11-25T10:00:00+01:00");
    assert_eq!(thinned["entry"]["kind"], "thinned");
    assert_eq!(thinned["entry"]["with"], "Water");
    assert_eq!(thinned["warnings"], json!([]));

    desk.clock("2026-11-25T10:00:00+01:00");
    assert_eq!(state(&desk, "K7"), "ready");
    desk.clock("2026-11-25T10:00:01+01:00");
    assert_eq!(state(&desk, "K7"), "thick");
    assert_eq!(desk.does("read|K7|1.9")["state"], "thin");
}

#[test]
fn looking_stirring_and_the_lid_are_kept() {
    let mut desk = Rehearsal::stocked();
    desk.does("mix|River blue|--volume|120ml|--mark|K7");
    desk.clock("2026-11-24T23:00:00+01:00");
    let looked = desk.does("look|K7|clear");
    assert_eq!(looked["state"], "look");
    // The studio's only look teaches: so clear after 5 h, such paint is thought to have cleared a little before that.
    assert_eq!(looked["rest_from"], "both");
    assert_eq!(looked["clears_at"], "2026-11-24T22:27:00+01:00");
    let stirred = desk.does("stir|K7|4m|--at|22:30");
    assert_eq!(stirred["entry"]["told"], true);
    desk.does("stir|K7|4m");
    // Stirred at 22:30 and clear at 23:00: half an hour of rest is taken for a slip, and practice's 12 h all but stand.
    let clears = desk.cup("K7")["clears_at"].as_str().unwrap().to_owned();
    let night = "2026-11-25T10:00:00+01:00".."2026-11-25T11:15:00+01:00";
    assert!(night.contains(&clears.as_str()), "{clears}");
    assert_eq!(desk.does("open|K7")["capped"], false);
    assert_eq!(desk.does("cap|K7")["capped"], true);
    let life = desk.does("cup|K7");
    let kinds: Vec<&str> = life["entries"]
        .as_array()
        .unwrap()
        .iter()
        .map(|entry| entry["kind"].as_str().unwrap())
        .collect();
    assert_eq!(
        kinds,
        ["mixed", "looked", "stirred", "stirred", "opened", "capped"]
    );
    desk.does("end|K7|skinned");
    assert_eq!(desk.does("cups")["cups"], json!([]));
    assert_eq!(desk.does("cup|K7")["state"], "spent");
}

#[test]
fn a_pour_takes_its_cups_down_and_a_sound_stack_is_not_blamed() {
    let desk = Rehearsal::ready_stack();
    let poured = desk.does("pour|--panel|40x50cm|--layer|B2:120ml|--layer|K7:60ml|--layer|A3:10ml|--way|bloom|--spin|cw:2|--tilt|left|--spin|ccw:3|--air|21C,45%");
    assert_eq!(poured["pour"], 1);
    assert_eq!(poured["warnings"], json!([]));
    let top = &poured["layers"][2];
    assert_eq!(
        (&top["mark"], &top["recipe"], &top["variant"]),
        (&json!("A3"), &json!("Opener"), &json!(1))
    );
    assert_eq!(
        poured["moves"],
        json!([
            {"kind": "spin", "direction": "cw", "times": 2.0, "begun": null, "took_s": null},
            {"kind": "tilt", "direction": "left", "times": null, "begun": null, "took_s": null},
            {"kind": "spin", "direction": "ccw", "times": 3.0, "begun": null, "took_s": null},
        ])
    );
    assert_eq!(poured["air"], json!({"celsius": 21.0, "humidity": 0.45}));
    let left = ["B2", "K7", "A3"].map(|mark| desk.cup(mark)["volume_ml"].as_f64().unwrap());
    assert_eq!(left, [80.0, 60.0, 40.0]);

    let again = desk.does("again|1|--layer|B2:80ml|--layer|K7:30ml");
    assert_eq!((&again["pour"], &again["go"]), (&json!(2), &json!(2)));
    assert_eq!(again["way"], "bloom");
    let cups = desk.does("cups");
    let marks: Vec<&Value> = cups["cups"]
        .as_array()
        .unwrap()
        .iter()
        .map(|cup| &cup["mark"])
        .collect();
    assert!(
        !marks.contains(&&json!("B2")),
        "an empty cup lives on: {marks:?}"
    );
    let pours = desk.does("pours");
    assert_eq!(pours["pours"][1]["scraped_for"], 2);
}

/// Computed: half white (1.5) and half water (1) is 1.25 g/ml, water alone 1, white alone 1.5.
#[test]
fn an_activator_that_sinks_is_noted_and_a_colour_that_sinks_is_warned_of() {
    let desk = Rehearsal::stocked();
    desk.does("recipe add|Veil|--layer|colour|--part|Water 1|--mound|2..3");
    desk.does("recipe add|Chalk|--layer|colour|--part|Titan white 1|--mound|1..2");
    for (recipe, mark) in [("Veil", "V2"), ("Chalk", "C3"), ("Opener", "A3")] {
        desk.does(&format!("mix|{recipe}|--volume|120ml|--mark|{mark}"));
    }
    let cells = "A3 is heavier than V2: it sinks into it, and cells come of that";
    let sinks = "C3 is heavier than V2: it sinks into it in cells";
    let said = |answer: &Value, key: &str, words: &str| {
        let said = answer[key].as_array().unwrap();
        said.iter().any(|one| one == words)
    };
    let wished = desk.does("pour|--panel|20x20cm|--layer|V2:30ml|--layer|A3:30ml");
    assert!(said(&wished, "notes", cells), "{wished}");
    assert!(
        !wished["warnings"].to_string().contains("heavier"),
        "{wished}"
    );
    let wrong = desk.does("pour|--panel|20x20cm|--layer|V2:30ml|--layer|C3:30ml");
    assert!(said(&wrong, "warnings", sinks), "{wrong}");
    assert_eq!(wrong["notes"], json!([]));
    let ladder = desk.does("stack|V2|A3");
    assert!(said(&ladder["steps"][0], "notes", cells), "{ladder}");
    assert!(!ladder["steps"][0]["words"].to_string().contains("heavier"));
}

/// Guards the rule that the history keeps what was meant, and tells it in today's names and measures.
#[test]
fn the_history_tells_what_was_meant_in_todays_names_and_measures() {
    let desk = Rehearsal::stocked();
    desk.does("bought tit");
    desk.does("mix|river|--volume|120ml|--mark|K7");
    let said = |at: usize| desk.does("history")["history"][at]["what"].clone();
    assert_eq!(said(1), "bought Titan white, 1 l");
    assert_eq!(said(0), "mixed K7: River blue v1, 120 ml");
    desk.does("material set|tit|--rename|Chalk white");
    desk.does("set|measures|us");
    assert_eq!(said(3), "bought Chalk white, 33.8 fl oz");
    assert_eq!(said(2), "mixed K7: River blue v1, 4.1 fl oz");
}

#[test]
fn an_unsound_stack_is_poured_and_blamed() {
    let mut desk = Rehearsal::ready_stack();
    let poured =
        desk.does("pour|--panel|round 30cm|--layer|A3:10ml|--layer|K7:10ml|--layer|B2:10ml");
    let warnings = poured["warnings"].as_array().unwrap();
    assert_eq!(warnings.len(), 2, "{warnings:?}");
    assert!(warnings[0].as_str().unwrap().contains("activator"));
    assert!(
        warnings[1]
            .as_str()
            .unwrap()
            .contains("not thinner than K7")
    );
    desk.clock("2026-11-25T12:00:00+01:00");
    let late = desk.does("pour|--panel|round 30cm|--layer|K7:10ml");
    assert!(
        late["warnings"][0]
            .as_str()
            .unwrap()
            .contains("K7 has thickened")
    );
    assert_eq!(late["layers"][0]["state"], "thick");
}

#[test]
fn more_than_a_cup_holds_is_said_and_kept_as_measured_where_it_was_so() {
    let desk = Rehearsal::ready_stack();
    let (sentence, hint) = desk.refuses("pour|--panel|40x50cm|--layer|K7:90ml|--layer|K7:40ml");
    assert_eq!(sentence, "stillcup: K7 holds 120.0 ml, not 130.0 ml.");
    assert!(hint.contains("--even-so"));
    let poured = desk.does("pour|--panel|40x50cm|--layer|K7:130ml|--even-so");
    assert_eq!(poured["layers"][0]["ml"], 130.0);
    assert_eq!(desk.does("cup|K7")["state"], "spent");
    assert_eq!(desk.does("cup|K7")["volume_ml"], 0.0);
}

#[test]
fn judgements_become_findings_with_wilsons_interval() {
    let desk = Rehearsal::ready_stack();
    desk.does("pour|--panel|20x20cm|--layer|K7:20ml");
    desk.does("pour|--panel|20x20cm|--layer|K7:20ml");
    desk.does("judge|1|--cells|2");
    desk.does("judge|1|--cells|4|--dry|--size|fine|--muddy|0|--kept");
    desk.does("judge|2|--cells|3");
    let found = desk.does("findings|--since|30d");
    let variant = &found["variants"][0];
    assert_eq!(
        (&found["bar"], &found["pours"], &found["good"]),
        (&json!(4), &json!(2), &json!(1))
    );
    assert_eq!(
        (&variant["recipe"], &variant["variant"]),
        (&json!("River blue"), &json!(1))
    );
    assert_eq!(variant["rate"], 0.5);
    // Wilson's score interval for 1 of 2 at 95 %, by its closed form in Python with z = 1.959963984540054.
    for (at, wanted) in [(0, 0.094_531_205_734), (1, 0.905_468_794_265)] {
        let got = variant["wilson"][at].as_f64().unwrap();
        assert!((got - wanted).abs() < 1e-9, "{got}");
    }
    assert_eq!(desk.does("findings|--month|2026-10")["variants"], json!([]));
    assert_eq!(desk.does("findings|--month|2026-11")["pours"], 2);
}

#[test]
fn the_shelf_knows_what_was_bought_counted_and_used() {
    let mut desk = Rehearsal::stocked();
    let line = |desk: &Rehearsal, name: &str| {
        let shelf = desk.does("shelf");
        let lines = shelf["materials"].as_array().unwrap().clone();
        lines.into_iter().find(|line| line["name"] == name).unwrap()
    };
    assert_eq!(line(&desk, "Deep blue")["left_ml"], Value::Null);
    desk.does("bought|Deep blue|--packs|2");
    desk.clock("2026-11-24T19:00:00+01:00");
    desk.does("mix|River blue|--volume|120ml");
    assert_eq!(line(&desk, "Deep blue")["left_ml"], 460.0);
    desk.clock("2026-11-24T20:00:00+01:00");
    // 125 g at 1.25 g/ml.
    assert_eq!(desk.does("counted|Deep blue|125 g")["left_ml"], 100.0);
    desk.clock("2026-11-24T21:00:00+01:00");
    desk.does("mix|River blue|--volume|30ml|--put|Deep blue 13ml");
    assert_eq!(line(&desk, "Deep blue")["left_ml"], 87.0);
    assert_eq!(desk.does("counted|Deep blue|0")["left_ml"], 0.0);
}

#[test]
fn what_really_went_in_differs_and_a_cup_is_filled_from_a_cup() {
    let desk = Rehearsal::stocked();
    let mixed =
        desk.does("mix|River blue|--volume|120ml|--mark|K7|--put|Deep blue 46ml|--put|Water 2 ml");
    let ml: Vec<f64> = mixed["parts"]
        .as_array()
        .unwrap()
        .iter()
        .map(|part| part["ml"].as_f64().unwrap())
        .collect();
    assert_eq!(ml, [46.0, 80.0, 2.0]);
    assert_eq!(mixed["volume_ml"], 128.0);
    let filled = desk.does("mix|River blue|--volume|28ml|--mark|K8|--from|K7");
    assert_eq!(filled["parts"][0]["from"], "K7");
    assert_eq!(desk.cup("K7")["volume_ml"], 100.0);
    let life = desk.does("cup|K7");
    assert_eq!(life["entries"][1]["into"], "K8");
    let like = desk.does("mix|--like|K7");
    assert_eq!(
        (&like["recipe"], &like["volume_ml"]),
        (&json!("River blue"), &json!(128.0))
    );
}

#[test]
fn undo_and_redo_work_across_processes_and_by_number() {
    let desk = Rehearsal::stocked();
    desk.does("mix|River blue|--volume|120ml|--mark|K7");
    desk.does("mix|River blue|--volume|90ml|--mark|K8");
    let before = desk.does("cups");
    desk.does("thin|K7|3ml");
    assert_eq!(desk.cup("K7")["volume_ml"], 123.0);
    assert_eq!(desk.does("undo")["undone"], "K7 thinned with 3 ml Water");
    assert_eq!(desk.does("cups"), before);
    desk.does("redo");
    assert_eq!(desk.cup("K7")["volume_ml"], 123.0);
    let history = desk.does("history|--limit|20");
    let changes = history["history"].as_array().unwrap();
    let k8 = changes
        .iter()
        .find(|one| one["what"] == "mixed K8: River blue v1, 90 ml")
        .unwrap();
    desk.does(&format!("undo|{}", k8["change"]));
    assert_eq!(desk.does("cups")["cups"].as_array().unwrap().len(), 1);
    let (_, hint) = desk.refuses(&format!("undo|{}", k8["change"]));
    assert!(!hint.is_empty());
    desk.refuses("undo|9999");
}

#[test]
fn the_first_taped_activator_keeps_its_colour_and_one_undo_gives_it_back() {
    let desk = Rehearsal::stocked();
    desk.does("mix|River blue|--volume|50ml|--tape|red|--mark|K7");
    desk.does("mix|Opener|--volume|50ml|--tape|red|--mark|A3");
    assert_eq!(desk.does("settings")["activator-tape"], "red");
    let (sentence, _) = desk.refuses("mix|River blue|--volume|50ml|--tape|Red");
    assert!(sentence.contains("kept for activators"));
    desk.does("undo");
    assert_eq!(desk.does("settings")["activator-tape"], Value::Null);
}

#[test]
fn a_tape_that_was_cleared_is_kept_for_nobody_until_the_next_activator() {
    let desk = Rehearsal::stocked();
    desk.does("mix|Opener|--volume|50ml|--tape|red");
    desk.does("set|activator-tape|");
    desk.does("mix|River blue|--volume|50ml|--tape|red");
    desk.does("mix|Opener|--volume|50ml|--tape|green");
    assert_eq!(desk.does("settings")["activator-tape"], "green");
}

#[test]
fn a_start_over_of_spent_cups_says_how_to_go_on_with_others() {
    let desk = Rehearsal::stocked();
    desk.does("mix|River blue|--volume|50ml|--mark|K7");
    let poured = desk.does("pour|--panel|20x20cm|--layer|K7:50ml");
    let (sentence, hint) = desk.refuses(&format!("again|{}", poured["pour"]));
    assert!(
        sentence.contains("K7") && hint.contains("--layer"),
        "{sentence} {hint}"
    );
}

#[test]
fn a_changed_recipe_remembers_its_parent_and_says_what_changed() {
    let desk = Rehearsal::stocked();
    let changed =
        desk.does("recipe change|River blue|--part|Deep blue 2|--part|Pouring medium 3|--rest|10h");
    assert_eq!(
        (&changed["variant"], &changed["parent"]),
        (&json!(2), &json!(1))
    );
    let words = changed["changed"].to_string();
    for word in [
        "Deep blue 1 to 2",
        "Pouring medium 2 to 3",
        "rest 12 h to 10 h",
    ] {
        assert!(words.contains(word), "{words}");
    }
    assert_eq!(desk.does("mix|River blue|--volume|50ml")["variant"], 2);
    assert_eq!(
        desk.does("mix|River blue|--volume|50ml|--variant|1")["variant"],
        1
    );
    assert_eq!(changed["rest_s"], 36_000);
}

#[test]
fn what_cannot_be_taken_back_is_said_in_a_painter_s_words() {
    let desk = Rehearsal::stocked();
    desk.does("mix|River blue|--volume|120ml|--mark|K7");
    desk.does("end|K7|binned");
    desk.does("mix|River blue|--volume|90ml|--mark|K7");
    let end = desk.does("history")["history"][1]["change"].to_string();
    let (sentence, hint) = desk.refuses(&format!("undo|{end}"));
    assert_eq!(
        sentence,
        "stillcup: this cannot be taken back: the mark of cup K7 is on a later cup by now."
    );
    assert!(hint.contains("undo the later change first"), "{hint}");
    desk.does("pour|--panel|40x50cm|--layer|K7:60ml");
    let mixed = desk.does("history")["history"][1]["change"].to_string();
    let (sentence, _) = desk.refuses(&format!("undo|{mixed}"));
    assert!(
        sentence.contains("cup") && !sentence.contains("refer"),
        "{sentence}"
    );
    for store in ["UNIQUE", "constraint", "cup.mark", "spent_at_ms", "_"] {
        assert!(!sentence.contains(store), "{sentence}");
    }
}

#[test]
fn a_file_that_is_there_is_replaced_only_when_that_is_said() {
    let desk = Rehearsal::stocked();
    let folder = tempfile::tempdir().unwrap();
    for (verb, name) in [("export", "out.json"), ("csv|materials", "out.csv")] {
        let file = folder.path().join(name).display().to_string();
        desk.does(&format!("{verb}|{file}"));
        let first = std::fs::read(&file).unwrap();
        desk.does("material add|More|--kind|paint");
        let (sentence, hint) = desk.refuses(&format!("{verb}|{file}"));
        assert!(sentence.contains("is already there"), "{sentence}");
        assert!(hint.contains("--replace"), "{hint}");
        assert_eq!(std::fs::read(&file).unwrap(), first);
        desk.does(&format!("{verb}|{file}|--replace"));
        assert_ne!(std::fs::read(&file).unwrap(), first);
        desk.does("undo");
    }
    let file = folder.path().join("copy.db").display().to_string();
    desk.does(&format!("backup|{file}"));
    let done = desk.run(&["backup", &file]);
    assert!(
        done.code != 0 && done.err.contains("never overwritten"),
        "{}",
        done.err
    );
}

#[test]
fn a_second_import_says_that_there_is_nothing_new() {
    let desk = Rehearsal::stocked();
    let other = Rehearsal::stocked();
    let file = desk.file().with_file_name("out.json").display().to_string();
    desk.does(&format!("export|{file}"));
    other.does(&format!("import|{file}"));
    let said = other.says(&format!("import|{file}"));
    assert!(said.starts_with("Nothing new: "), "{said}");
    assert!(
        !said.contains("differs") && !said.contains(" here\n"),
        "{said}"
    );
}

#[test]
fn what_is_known_of_a_material_or_aimed_at_may_be_taken_away_again() {
    let desk = Rehearsal::stocked();
    let set = desk.does("material set|Deep blue|--forget|price|--forget|density");
    assert!(set["price"].is_null() && set["density"].is_null());
    assert_eq!(set["pack_ml"], 250.0);
    let changed = desk.does("recipe change|River blue|--usual|stir|--rest|10h");
    assert!(changed["stir_min"].is_null(), "{changed}");
    desk.does("set|currency|EUR");
    assert_eq!(
        desk.does("set|currency|")["currency"],
        serde_json::Value::Null
    );
    desk.refuses("set|measures|");
}

#[test]
fn hints_fit_what_was_refused() {
    let desk = Rehearsal::stocked();
    for (words, hint) in [
        ("demo", "--studio demo.db demo"),
        ("flow-cup|iso4|NaN", "how long it took to run out"),
        ("plan|--mix|9", "stillcup plans"),
    ] {
        let (_, said) = desk.refuses(words);
        assert!(said.contains(hint), "{words}: {said}");
    }
    let done = desk.run(&["restore", "99"]);
    assert_eq!(done.code, 1);
    assert!(
        done.err.contains("stillcup backups shows which there are"),
        "{}",
        done.err
    );
}

#[test]
fn pours_are_listed_by_pages_from_the_newest() {
    let mut desk = Rehearsal::ready_stack();
    for hour in ["12:00", "13:00", "14:00"] {
        desk.clock(&format!("2026-11-25T{hour}:00+01:00"));
        desk.does("pour|--panel|20x20cm|--layer|B2:5ml");
    }
    let numbers = |words: &str| -> Vec<i64> {
        let pages = desk.does(words);
        let pours = pages["pours"].as_array().unwrap();
        pours
            .iter()
            .map(|pour| pour["pour"].as_i64().unwrap())
            .collect()
    };
    assert_eq!(numbers("pours"), [3, 2, 1]);
    assert_eq!(numbers("pours|--limit|2"), [3, 2]);
    assert_eq!(numbers("pours|--from|3|--limit|2"), [1]);
    assert!(numbers("pours|--from|4").is_empty());
    let page = desk.says("pours|--from|2|--limit|1");
    assert!(
        page.ends_with("1 older ones: begin with --from 3\n"),
        "{page}"
    );
    let past = desk.says("pours|--from|4");
    assert!(
        past.contains("There is no pour 4 from the newest"),
        "{past}"
    );
}

#[test]
fn a_price_alone_is_told_as_a_price_though_a_form_sends_the_title_too() {
    let desk = Rehearsal::ready_stack();
    desk.does("pour|--panel|20x20cm|--layer|B2:5ml");
    let newest = || desk.does("history")["history"][0]["what"].clone();
    desk.does("title|1||--asking|240");
    assert_eq!(newest(), "priced pour 1 at 240.00");
    desk.does("title|1|Low tide|--asking|240");
    assert_eq!(newest(), "called pour 1 \"Low tide\"");
    desk.does("title|1|Low tide|--asking|260");
    assert_eq!(newest(), "priced pour 1 at 260.00");
    desk.does("title|1|");
    assert_eq!(newest(), "took the title of pour 1 away");
}

/// Copies of years fill a disk: what they take stands beside each of them and in one sum.
#[test]
fn copies_say_what_room_they_take() {
    let desk = Rehearsal::stocked();
    // The day's first command took one.
    desk.does("cups");
    let listed = desk.does("backups");
    let bytes = listed["backups"].as_array().unwrap().iter();
    let all: u64 = bytes.map(|one| one["bytes"].as_u64().unwrap()).sum();
    let together = format!("Together they take {} KiB", all.div_ceil(1024));
    let said = desk.says("backups");
    assert!(all > 0 && said.contains(&together), "{said}");
}
