//! Bad input: a clear sentence, a hint, the right exit code, and nothing half-written.

use super::Rehearsal;
use serde_json::json;

fn with_a_cup() -> Rehearsal {
    let desk = Rehearsal::stocked();
    desk.does("mix|River blue|--volume|120ml|--mark|K7");
    desk
}

#[test]
fn impossible_amounts_are_refused() {
    let desk = with_a_cup();
    for amount in [
        "-5ml", "0ml", "0", "NaN", "NaN ml", "inf ml", "5 m3", "5", "ml", "", "1e9 l", "1,000 ml",
        "200 l", "١٢ ml", "5 ml 3",
    ] {
        desk.refuses(&format!("mix|River blue|--volume|{amount}"));
        desk.refuses(&format!("thin|K7|{amount}"));
        desk.refuses(&format!("pour|--panel|40x50cm|--layer|K7:{amount}"));
        desk.refuses(&format!("material add|Rest|--kind|paint|--pack|{amount}"));
    }
    desk.refuses("mix|River blue|--volume|0.5ml");
    desk.refuses("counted|Water|-5ml");
    desk.refuses("bought|Water|-5ml");
    desk.refuses("bought|Water|--packs|-1");
    desk.refuses("bought|Water|--packs|NaN");
    let (sentence, hint) = desk.refuses("bought|Water|--packs|2");
    assert_eq!(
        sentence,
        "stillcup: what a pack of Water holds is not known."
    );
    assert!(hint.contains("--pack 250ml"));
    desk.refuses("mix|River blue|--volume|50ml|--put|Deep blue -5ml");
    desk.refuses("mix|River blue|--volume|50ml|--put|Deep blue");
}

// A name stands beside amounts: "200 41ml" must have one meaning.
#[test]
fn a_name_of_a_material_or_recipe_has_a_letter() {
    let desk = with_a_cup();
    for words in [
        "material add|200|--kind|paint",
        "material set|Water|--rename|4 5",
        "recipe add|2:1|--layer|base|--part|Titan white 1|--part|Water 1",
        "recipe set|River blue|--rename|12",
    ] {
        let (sentence, hint) = desk.refuses(words);
        assert!(sentence.contains("reads like an amount"), "{sentence}");
        assert!(hint.contains("letter"), "{hint}");
    }
    desk.does("material add|Größe 200|--kind|paint");
}

#[test]
fn a_weight_needs_a_density() {
    let desk = with_a_cup();
    let (sentence, hint) = desk.refuses("counted|Pouring medium|35 g");
    assert_eq!(
        sentence,
        "stillcup: without its density 35 g cannot be turned into a volume."
    );
    assert!(hint.contains("--density"));
    desk.refuses("mix|River blue|--volume|150 g");
    // 30 g of white at 1.5 g/ml are 20 ml; water at 1 g/ml another 20 ml: 1.25 g/ml together.
    assert_eq!(desk.does("mix|Opener|--volume|50 g")["volume_ml"], 40.0);
}

#[test]
fn an_unknown_mark_names_the_living_near_it() {
    let desk = with_a_cup();
    desk.does("mix|River blue|--volume|50ml|--mark|K8");
    desk.does("mix|River blue|--volume|50ml|--mark|B2");
    desk.does("end|B2|binned");
    for words in [
        "read|K9|2.8",
        "thin|K9|3ml",
        "stir|K9|4m",
        "look|K9|clear",
        "cap|K9",
        "open|K9",
        "end|K9|used",
        "cup|K9",
        "mix|--like|K9",
        "mix|River blue|--volume|50ml|--from|K9",
        "pour|--panel|40x50cm|--layer|K9:5ml",
    ] {
        let (sentence, hint) = desk.refuses(words);
        assert_eq!(sentence, "stillcup: no cup is marked K9.", "{words}");
        assert_eq!(hint, "  living cups near it: K7, K8.", "{words}");
    }
    let (sentence, hint) = desk.refuses("read|B2|2.8");
    assert_eq!(sentence, "stillcup: B2 is spent.");
    assert!(hint.contains("K7") && !hint.contains("B2"));
    let (sentence, _) = desk.refuses("read|K0|2.8");
    assert!(sentence.contains("K0 is no mark"));
}

#[test]
fn a_mark_in_use_is_refused_until_its_cup_is_gone() {
    let desk = with_a_cup();
    let (sentence, _) = desk.refuses("mix|River blue|--volume|50ml|--mark|k7");
    assert_eq!(sentence, "stillcup: K7 is on a living cup.");
    desk.does("end|K7|used");
    assert_eq!(
        desk.does("mix|River blue|--volume|50ml|--mark|k7")["mark"],
        "K7"
    );
}

#[test]
fn the_future_and_the_time_before_the_cup_are_refused() {
    let mut desk = with_a_cup();
    desk.clock("2026-11-25T09:00:00+01:00");
    for words in [
        "read|K7|2.8|--at|2026-11-25T09:00:01+01:00",
        "thin|K7|3ml|--at|tomorrow 18:30",
        "mix|River blue|--volume|50ml|--at|2027-01-01T00:00:00Z",
        "pour|--panel|40x50cm|--layer|K7:5ml|--at|2026-11-26T09:00:00+01:00",
    ] {
        let (sentence, _) = desk.refuses(words);
        assert!(
            sentence.ends_with("has not come yet."),
            "{words}: {sentence}"
        );
    }
    for words in [
        "read|K7|2.8|--at|yesterday 17:59",
        "look|K7|clear|--at|2026-11-24T16:59:59Z",
        "pour|--panel|40x50cm|--layer|K7:5ml|--at|2026-11-24T17:00:00+01:00",
    ] {
        let (sentence, _) = desk.refuses(words);
        assert!(
            sentence.contains("lies before K7 was mixed, at"),
            "{words}: {sentence}"
        );
    }
    for at in ["noon-ish", "25:00", "2026-02-30 12:00", "", "2026-11-24"] {
        desk.refuses(&format!("read|K7|2.8|--at|{at}"));
    }
    assert_eq!(
        desk.does("read|K7|2.8|--at|yesterday 18:00")["entry"]["at"],
        "2026-11-24T18:00:00+01:00"
    );
}

#[test]
fn a_judgement_needs_its_pour_and_its_grades() {
    let mut desk = with_a_cup();
    desk.does("pour|--panel|40x50cm|--layer|K7:5ml");
    desk.clock("2026-11-24T20:00:00+01:00");
    assert!(desk.refuses("judge|7|--cells|4").0.contains("no pour 7"));
    assert!(desk.refuses("judge|1|--cells|6").0.contains("0 to 5"));
    desk.refuses("judge|1|--cells|4|--muddy|9");
    desk.refuses("judge|1|--cells|4|--at|2026-11-24T17:00:00+01:00");
    desk.refuses("again|7");
    desk.does("again|1");
    assert!(desk.refuses("again|1").0.contains("scraped already"));
}

#[test]
fn senseless_mounds_and_times_are_refused() {
    let desk = with_a_cup();
    for mound in ["0", "900", "-2", "NaN", "2.8 ml", "", "two"] {
        desk.refuses(&format!("read|K7|{mound}"));
        desk.refuses(&format!("mix|River blue|--volume|50ml|--mound|{mound}"));
    }
    for time in ["0m", "-4m", "NaN", "4 parsecs", "", "30h"] {
        desk.refuses(&format!("stir|K7|{time}"));
    }
    for depth in ["60", "0mm", "-5mm", "9km"] {
        desk.refuses(&format!("mix|River blue|--volume|50ml|--depth|{depth}"));
    }
    for panel in [
        "40x50",
        "0x50cm",
        "-4x5cm",
        "40cm",
        "cm",
        "NaNxNaN cm",
        "round 30",
    ] {
        desk.refuses(&format!("pour|--panel|{panel}|--layer|K7:5ml"));
    }
    desk.refuses("pour|--panel|40x50cm");
    desk.refuses("pour|--panel|40x50cm|--layer|K7");
    desk.refuses("pour|--panel|40x50cm|--layer|K7:5ml|--spin|cw:often");
    desk.refuses("pour|--panel|40x50cm|--layer|K7:5ml|--air|warm");
}

#[test]
fn recipes_that_make_no_sense_are_refused() {
    let desk = with_a_cup();
    let add = "recipe add|New|--layer|medium";
    for parts in [
        "",
        "|--part|Deep blue 0",
        "|--part|Deep blue -1",
        "|--part|Deep blue NaN",
        "|--part|Deep blue",
        "|--part|Dark matter 1",
    ] {
        desk.refuses(&format!("{add}{parts}"));
    }
    desk.does("recipe add|Milk|--layer|medium|--part|Water 1|--part|Titan white 1");
    desk.does("recipe add|Cream|--layer|medium|--part|Milk 1");
    assert!(
        desk.refuses("recipe change|Milk|--part|Cream 1")
            .0
            .contains("go into itself")
    );
    desk.refuses("recipe add|Milk|--layer|medium|--part|Water 1");
    desk.refuses("material add|MILK|--kind|paint");
    desk.refuses("recipe change|Milk");
    desk.refuses("recipe add|New|--layer|medium|--part|Water 1|--mound|3..2");
    let (sentence, hint) = desk.refuses("mix|River blu3|--volume|50ml");
    assert!(sentence.contains("no recipe is called River blu3") && hint.contains("River blue"));
    desk.refuses("mix|River blue|--variant|9|--volume|50ml");
    desk.refuses("material add| |--kind|paint");
    desk.refuses("material add|Dense|--kind|paint|--density|50");
    desk.refuses("material add|Dear|--kind|paint|--price|-1");
    desk.refuses("set|measures|imperial");
    desk.refuses("set|colour|red");
}

#[test]
fn wrong_words_are_misuse() {
    let desk = with_a_cup();
    for words in [
        &["material", "add", "Red"][..],
        &["material", "add", "Red", "--kind", "gold"],
        &["look", "K7", "dirty"],
        &["end", "K7", "eaten"],
        &["read", "K7"],
        &["mix"],
        &["judge", "1"],
        &["paint"],
        &["cups", "--sideways"],
        &["findings", "--since", "30d", "--month", "2026-10"],
    ] {
        let done = desk.run(words);
        assert_eq!((done.code, done.out.as_str()), (2, ""), "{words:?}");
        assert!(!done.err.is_empty(), "{words:?}");
    }
}

#[test]
fn a_clock_that_cannot_be_read_is_misuse() {
    let mut desk = with_a_cup();
    desk.clock("half past six");
    let done = desk.run(&["cups"]);
    assert_eq!(done.code, 2);
    assert!(done.err.contains("STILLCUP_NOW") && done.err.contains("2026-11-24T18:30:00+01:00"));
}

#[test]
fn a_file_that_is_no_studio_or_a_newer_one_is_left_alone() {
    let desk = with_a_cup();
    let noise = desk.file().with_file_name("noise.db");
    std::fs::write(
        &noise,
        "not a studio at all, but long enough to be looked at closely".repeat(40),
    )
    .unwrap();
    let before = std::fs::read(&noise).unwrap();
    let file = noise.to_str().unwrap();
    let done = desk.run(&["--studio", file, "cups"]);
    assert_eq!(done.code, 3);
    assert!(done.err.contains("is not a studio file"), "{}", done.err);
    assert_eq!(std::fs::read(&noise).unwrap(), before);

    let newer = desk.file().with_file_name("newer.db");
    std::fs::copy(desk.file(), &newer).unwrap();
    // The file's version stands at byte 60, big endian (SQLite file format, section 1.3).
    let mut bytes = std::fs::read(&newer).unwrap();
    bytes[60..64].copy_from_slice(&999_u32.to_be_bytes());
    std::fs::write(&newer, &bytes).unwrap();
    let done = desk.run(&["--studio", newer.to_str().unwrap(), "undo"]);
    assert_eq!(done.code, 3);
    assert!(done.err.contains("version 999"), "{}", done.err);
    assert_eq!(std::fs::read(&newer).unwrap(), bytes);

    let folder = desk.file().parent().unwrap().to_owned();
    let done = desk.run(&["--studio", folder.to_str().unwrap(), "cups"]);
    assert_eq!(done.code, 3);
    assert!(done.err.contains("is a folder"));
}

#[test]
fn a_clock_set_back_loses_nothing_and_is_said() {
    let mut desk = with_a_cup();
    desk.clock("2026-11-25T09:00:00+01:00");
    desk.does("read|K7|2.5");
    desk.clock("2026-11-24T12:00:00+01:00");
    let read = desk.does("read|K7|2.6");
    assert!(read["warnings"][0].as_str().unwrap().contains("clock"));
    assert_eq!(read["mound_s"], 2.6);
    let life = desk.does("cup|K7");
    let mounds: Vec<_> = life["entries"]
        .as_array()
        .unwrap()
        .iter()
        .map(|one| one["mound_s"].clone())
        .collect();
    assert_eq!(mounds[1..], [json!(2.5), json!(2.6)]);
}

// By hand: 400 cm2 under 0.8 mm are 32 ml.
#[test]
fn a_film_may_be_thinner_than_any_cup_and_not_thicker_than_a_pour() {
    let desk = with_a_cup();
    let total = &desk.does("plan|--panel|20x20cm|--film|0.8mm")["total_ml"];
    assert_eq!(total.as_f64(), Some(32.0));
    let (sentence, _) = desk.refuses("plan|--panel|20x20cm|--film|11mm");
    assert!(sentence.contains("is no wet film"), "{sentence}");
    desk.refuses("plan|--panel|20x20cm|--film|0.04mm");
}

#[test]
fn hints_fit_what_was_wrong() {
    let desk = with_a_cup();
    desk.does("pour|--panel|20x20cm|--layer|K7:30ml|--air|20C,50%");
    desk.does("judge|1|--cells|4");
    for (words, told, hint) in [
        (
            "findings|--pair|humidity",
            "names one factor",
            "two with a comma",
        ),
        (
            "findings|--pair|humidity,foo",
            "foo is no factor",
            "humidity",
        ),
        (
            "findings|--pair|foo,humidity",
            "foo is no factor",
            "humidity",
        ),
        (
            "material set|Water|--density|1",
            "differs from Water",
            "--help",
        ),
        ("drying|--air|18,70", "18,70 is no air", "C or F"),
        ("flow-cup|iso9|38s", "is no flow cup", "iso3 to iso6"),
        ("material add| |--kind|paint", "1 to 80", "fits on a label"),
        (
            "backup|/no-such-folder/dir/x",
            "/no-such-folder/dir is missing",
            "make the folder",
        ),
        ("export|/no-such-folder/dir/x", "no-such-folder", "folder"),
        (
            "pour|--panel|20x20cm|--layer|K7:5ml|--spin|foo:2",
            "left or right",
            "--spin cw:2",
        ),
        (
            "pour|--panel|20x20cm|--layer|K7:5ml|--spin|cw:99999999999",
            "is no move",
            "--spin cw:2",
        ),
        ("judge|1|--cells|9", "0 to 5", "the most"),
        ("judge|1|--cells|-1", "0 to 5", "the most"),
        ("judge|1|--cells|3|--lacing|-1", "0 to 5", "the most"),
    ] {
        let (said, given) = desk.refuses(words);
        assert!(
            said.contains(told) && given.contains(hint),
            "{words}: {said} {given}"
        );
    }
    let long = "n".repeat(500);
    let (said, _) = desk.refuses(&format!("set|name|{long}"));
    assert!(said.len() < 200, "{said}");
}

#[test]
fn three_films_for_two_cups_are_refused() {
    let desk = with_a_cup();
    desk.does("mix|River blue|--volume|60ml|--mark|A3");
    desk.refuses("stack|K7|A3|--film|1mm|--film|1mm|--film|1mm");
    desk.does("stack|K7|A3|--film|1mm|--film|1mm");
}

#[test]
fn a_refusal_is_json_too_where_json_is_asked_for() {
    let desk = with_a_cup();
    let done = desk.run(&["--json", "read", "Z9", "2"]);
    assert_eq!(done.code, 1);
    let told: serde_json::Value = serde_json::from_str(&done.out).unwrap();
    assert_eq!(told["refused"], "no cup is marked Z9");
    assert!(told["hint"].as_str().unwrap().contains("K7"), "{told}");
    assert!(done.err.starts_with("stillcup: no cup is marked Z9"));
}

#[test]
fn a_named_file_in_a_missing_folder_makes_none() {
    let desk = with_a_cup();
    let folder = desk.file().with_file_name("mistyped");
    let file = folder.join("studio.db");
    let done = desk.run(&["--studio", file.to_str().unwrap(), "cups"]);
    assert_eq!(done.code, 1, "{}", done.err);
    assert!(
        done.err.contains("is missing") && !folder.exists(),
        "{}",
        done.err
    );
}

#[test]
fn nothing_can_be_brought_back_before_a_copy_was_taken() {
    let desk = Rehearsal::at("2026-11-24T18:00:00+01:00");
    let done = desk.run(&["restore", "newest"]);
    assert_eq!(done.code, 1);
    assert!(
        done.err.contains("no copy of this studio yet"),
        "{}",
        done.err
    );
    assert!(done.err.contains("stillcup backup"), "{}", done.err);
}

/// Whole numbers are clap's to read, but not its to refuse in words: those are the program's own, for every argument.
#[test]
fn a_whole_number_that_is_none_is_refused_in_our_words() {
    let desk = Rehearsal::stocked();
    for words in [
        "undo|1,000",
        "plan|--panel|40x50cm|--count|1,000",
        "history|--limit|1.000",
        "mix|River blue|--volume|60 ml|--variant|two",
        "findings|--good|4.5",
        "varnish|99999999999999999999",
    ] {
        let words: Vec<&str> = words.split('|').collect();
        let done = desk.run(&words);
        assert_eq!(
            (done.code, done.out.as_str()),
            (2, ""),
            "{words:?}: {done:?}"
        );
        assert!(done.err.contains("is no whole number here"), "{}", done.err);
        assert!(done.err.contains("digits alone"), "{}", done.err);
        assert_eq!(done.err.lines().count(), 2, "{}", done.err);
    }
}
