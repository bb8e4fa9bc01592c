//! Each deed through the command line (a real process) and through the screen (the real loop on a real terminal):
//! the same rows are written, and what the one warns of the other says too.

use crate::terminal::hands::Hands;
use crate::terminal::{Stage, at, now};
use assert_cmd::Command;
use rusqlite::Connection;
use rusqlite::types::Value;
use serde_json::Value as Json;

/// One deed on both faces.
struct Deed {
    /// The command, its words parted by `|`; several one after another by ` then `.
    words: &'static str,
    /// The keys, parted by `|`; what is typed begins with `=`.
    keys: &'static str,
    /// What the screen says once it is done.
    said: &'static str,
}

const fn deed(words: &'static str, keys: &'static str, said: &'static str) -> Deed {
    Deed { words, keys, said }
}

/// On a studio with K7 thick (chosen), B4 ready and A3 resting; B4 was mixed last.
const DEEDS: &[Deed] = &[
    deed(
        "mix|River blue|--volume|80.1234 ml|--mound|2.6|--stirred|4 m|--tape|blue|--note|thick tube",
        "m|=river|Enter|=80.1234|Tab|=2.6|Tab|=4|Tab|Tab|=blue|Tab|Tab|Tab|Tab|=thick tube|Enter",
        "on the lid",
    ),
    deed("mix|--like|B4", "l|Enter", "on the lid"),
    deed(
        "mix|River blue|--volume|60 ml|--put|Medium 41 ml|--at|9:30",
        "m|=riv|Enter|=60 ml|Tab|Tab|Tab|Tab|Tab|Tab|=Medium 41 ml|Tab|=9:30|Enter",
        "on the lid",
    ),
    deed(
        "mix|River blue|--volume|30 ml|--from|K7",
        "m|=riv|Enter|=30 ml|Tab|Tab|Tab|Tab|Tab|=K7|Tab|Enter",
        "on the lid",
    ),
    // What is itself mixed ahead comes from the cup of it that stands; nothing is said of where.
    deed(
        "recipe|add|Sea|--layer|colour|--part|River blue 2|--part|Medium 1 then mix|Sea|--volume|30 ml",
        "C|a|=Sea|Tab|=colour|Enter|=river|Enter|=2|Tab|=medi|Enter|=1|Enter|1|m|=sea|Enter|=30 ml|Enter",
        "on the lid",
    ),
    deed(
        "recipe|add|Sea|--layer|colour|--part|River blue 2|--part|Medium 1 then mix|Sea|--volume|30 ml|--from|shelf",
        "C|a|=Sea|Tab|=colour|Enter|=river|Enter|=2|Tab|=medi|Enter|=1|Enter|1|m|=sea|Enter|=30 ml|Tab|Tab|Tab|Tab|Tab|=shelf|Enter|Enter",
        "on the lid",
    ),
    deed(
        "add|K7|12 ml|--from|B4|--mound|3.9",
        "a|=B4|Tab|=12 ml|Tab|=3.9|Enter",
        "? K7",
    ),
    deed("add|K7|--from|B4", "a|=B4|Enter|Enter", "? K7"),
    deed(
        "add|K7|8 ml|--from|Blue paint",
        "a|=blue p|Enter|=8|Enter",
        "✓ K7",
    ),
    deed("thin|K7|3.3333 ml", "t|=3.3333|Enter", "✓ K7"),
    deed(
        "thin|K7|50 ml|--mound|4.9|--hard|--even-so",
        "t|=50 ml|Tab|=4.9|Tab|=hard|Enter|Enter|Enter",
        "K7 now holds",
    ),
    deed(
        "read|K7|4.4|--at|9:55",
        "r|=4.4|Tab|Tab|=9:55|Enter",
        "✓ K7",
    ),
    deed("read|K7|never", "r|=never|Enter", "✓ K7"),
    deed(
        "read|K7|--flow-cup|iso4|--efflux|60 s",
        "r|=60|Tab|=iso4|Enter",
        "✓ K7",
    ),
    deed("read|K7|26|--even-so", "r|=26|Enter|Enter", "? K7"),
    deed(
        "thin|K7|3 ml|--mound|26|--even-so",
        "t|=3 ml|Tab|=26|Enter|Enter",
        "? K7",
    ),
    deed("look|K7|clear", "c", "✓ K7"),
    deed("look|K7|bubbles", "b", "✓ K7"),
    deed("open|K7", "o", "✓ K7"),
    deed(
        "amend|K7|last|3.9",
        "Enter|e|=3.9|Enter",
        "is mound 3.9 s now",
    ),
    deed(
        "amend|K7|last|--at|9:40",
        "Enter|e|Tab|=9:40|Enter",
        "mound 4.2 s is of K7 at 09:40",
    ),
    deed(
        "amend|K7|last|--to|B4",
        "Enter|e|Tab|Tab|=B4|Enter",
        "mound 4.2 s is of B4",
    ),
    deed(
        "thin|K7|3 ml then amend|K7|last|50 ml|--even-so",
        "t|=3|Enter|/K7|Enter|Enter|e|=50 ml|Enter|Enter",
        "K7 now holds",
    ),
    deed("strike|K7|last", "Enter|x", "Struck: mound 4.2 s"),
    deed("end|K7|binned", "e|b", "? K7"),
    deed(
        "bought|Blue paint|500 ml|--price|8.90",
        "S|b|=500 ml|Tab|=8.90|Enter",
        "Bought Blue paint",
    ),
    deed("counted|Blue paint|0", "S|c|=0|Enter", "Counted Blue paint"),
    deed(
        "counted|med|3.3333 fl oz",
        "S|Down|c|=3.3333 fl oz|Enter",
        "Counted Medium",
    ),
    deed(
        "material|add|Titan white|--kind|paint|--pack|250 ml|--price|8,90|--density|1.24",
        "S|a|=Titan white|Tab|Tab|=250 ml|Tab|=8,90|Tab|=1.24|Enter",
        "Titan white is on the shelf",
    ),
    deed(
        "material|set|Blue paint|--rename|Zinc blue|--pack|310 g|--density|1.24",
        "S|e|=Zinc blue|Tab|Tab|=310 g|Tab|Tab|=1.24|Enter",
        "Zinc blue is changed",
    ),
    deed(
        "recipe|add|Moss|--layer|base|--part|Blue paint 2|--part|Medium 1,5|--rest|6h|--limit|7%",
        "C|a|=Moss|Tab|=base|Enter|=blue p|Enter|=2|Tab|=medi|Enter|=1,5|Tab|Tab|Tab|Tab|Tab|=6|Tab|Tab|Tab|=7%|Enter",
        "Moss v1 is written down",
    ),
    deed(
        "recipe|change|River blue|--part|Blue paint 1|--part|Medium 3|--note|for the large ones",
        "C|Down|e|Tab|Tab|Tab|=3|Tab|Tab|Tab|Tab|Tab|Tab|Tab|Tab|Tab|=for the large ones|Enter",
        "River blue v2 is written down: Medium 2 to 3",
    ),
    deed(
        "plan|--panel|40x50cm|--count|2|--pour|tomorrow 10:00|--film|1.8mm|--recipe|River blue|--cup|250ml|--keep",
        "L|a|=40x50cm|Tab|=2|Tab|Tab|=tomorrow 10:00|Tab|Tab|=1.8 mm|Tab|=riv|Enter|Tab|Tab|Tab|Tab|Tab|=250|Enter|w",
        "Kept as plan 1",
    ),
    deed(
        "plan|--panel|round 30cm|--edge|2cm|--pour|18:00|--recipe|river|--way|dutch pour|--note|a try|--keep",
        "L|a|=round 30cm|Tab|Tab|=2 cm|Tab|=18:00|Tab|=dutch pour|Tab|Tab|=riv|Enter|Tab|Tab|Tab|Tab|Tab|Tab|=a try|Enter|w",
        "Kept as plan 1",
    ),
    deed(
        "plan|--panel|60x60cm|--recipe|river|--keep then plan|--mix|1",
        "L|a|=60x60cm|Tab|Tab|Tab|Tab|Tab|Tab|=riv|Enter|Enter|w|m",
        "on the lid",
    ),
    deed(
        "trial|design|--factor|rest=12h,24h|--factor|air=dry,damp|--runs|8|--seed|7|--note|which",
        "T|a|=rest|Tab|=12h|Tab|=24h|Tab|=air|Tab|=dry|Tab|=damp|Tab|Tab|Tab|Tab|Tab|Tab|Tab|Tab|=7|Tab|=which|Enter",
        "Trial 1 is kept",
    ),
    deed(
        "pour|--panel|40x50cm|--layer|B4:60ml|--way|swipe|--spin|cw:2|--tilt|left|--air|21C,45%|--note|first",
        "P|p|=40x50cm|Tab|=swipe|Tab|=21 45|Tab|=first|Enter|a|=B4|Enter|=60|Enter|s|=right 2|Enter|t|=left|Enter|g",
        "Pour 1",
    ),
    deed(
        "pour|--panel|20x20cm|--layer|B4:20ml then again|1|--layer|B4:30ml|--note|once more",
        "P|p|=20x20cm|Enter|a|=B4|Enter|=20|Enter|g|a|=B4|Enter|=30|Enter|e|=once more|Enter|o",
        "Pour 2",
    ),
    deed(
        "pour|--panel|20x20cm|--layer|B4:20ml then title|1|Tide|--asking|240",
        "P|p|=20x20cm|Enter|a|=B4|Enter|=20|Enter|g|R|t|=Tide|Tab|=240|Enter",
        "Picture 1 is \"Tide\"",
    ),
    deed(
        "pour|--panel|20x20cm|--layer|B4:20ml then sell|1|--price|240|--to|A friend|--where|open studio",
        "P|p|=20x20cm|Enter|a|=B4|Enter|=20|Enter|g|R|s|=240|Tab|=A friend|Tab|=open studio|Enter",
        "Picture 1 is sold",
    ),
    deed(
        "set|air|21C,45%",
        "R|i|=21 45|Enter",
        "The room's air is 21C,45%",
    ),
    deed(
        "lid|K7|--mark|K8|--tape|blue",
        "g|=K8|Tab|=blue|Enter",
        "The lid says K8, blue tape",
    ),
    deed(
        "recipe|set|River blue|--rename|Lake|--layer|base",
        "C|Down|r|=Lake|Tab|=base|Enter",
        "It is called Lake now, a base",
    ),
    deed(
        "material|add|Bleu|--kind|paint then material|merge|Bleu|Blue paint",
        "S|a|=Bleu|Enter|g|=blue p|Enter",
        "Bleu is Blue paint now",
    ),
    deed(
        "material|add|Bleu|--kind|paint then material|remove|Bleu",
        "S|a|=Bleu|Enter|x",
        "Bleu is removed",
    ),
    deed(
        "material|retire|Medium",
        "S|Down|x",
        "Medium is retired, and Cell opener and River blue ask for it still",
    ),
    deed(
        "recipe|retire|River blue then recipe|retire|River blue|--back",
        "C|Down|x|Down|x",
        "River blue is offered again",
    ),
    deed(
        "recipe|add|Bleu|--layer|colour|--part|Blue paint 1 then recipe|merge|Bleu|River blue",
        "C|a|=Bleu|Tab|Tab|=blue p|Enter|=1|Enter|g|=river|Enter",
        "Bleu is River blue now",
    ),
    deed(
        "recipe|change|river|--mound|2.2..2.8",
        "C|Down|e|Tab|Tab|Tab|Tab|Tab|Tab|Tab|=2.2..2.8|Enter",
        "River blue v2 is written down: mound 2.2 to 2.8 s",
    ),
    deed("thin|K7|3 ml then undo", "t|=3|Enter|u", "thinned with 3"),
    deed(
        "thin|K7|3 ml then undo then redo",
        "t|=3|Enter|u|U",
        "thinned with 3",
    ),
    deed(
        "pour|--panel|20x20cm|--layer|B4:20ml then judge|1|--cells|4|--dry",
        "P|p|=20x20cm|Enter|a|=B4|Enter|=20|Enter|g|R|d|4",
        "cells 4 of 5",
    ),
    deed(
        "pour|--panel|20x20cm|--layer|B4:20ml then judge|1|--cells|4|--dry then varnish|1",
        "P|p|=20x20cm|Enter|a|=B4|Enter|=20|Enter|g|R|d|4|v",
        "Picture 1 is varnished",
    ),
    deed(
        "pour|--panel|20x20cm|--layer|B4:20ml then correct|1|--panel|30x30cm|--way|swipe",
        "P|p|=20x20cm|Enter|a|=B4|Enter|=20|Enter|g|R|e|=30x30cm|Tab|=swipe|Enter",
        "Picture 1 is put right",
    ),
    deed(
        "pour|--panel|20x20cm|--layer|B4:20ml then repeat|1|--pour|tomorrow 10:00|--keep",
        "P|p|=20x20cm|Enter|a|=B4|Enter|=20|Enter|g|R|r|a|Tab|Tab|=tomorrow 10:00|Enter|w",
        "Kept as plan 1",
    ),
    deed(
        concat!(
            "pour|--panel|20x20cm|--layer|B4:20ml then photo|1|",
            env!("CARGO_MANIFEST_DIR"),
            "/tests/data/cells/panel_easy.png|--wet"
        ),
        concat!(
            "P|p|=20x20cm|Enter|a|=B4|Enter|=20|Enter|g|R|p|a|=",
            env!("CARGO_MANIFEST_DIR"),
            "/tests/data/cells/panel_easy.png|Tab|=wet|Enter"
        ),
        "Photo 1 of picture 1, wet is kept",
    ),
];

/// On the same studio in US measures, where a number without its unit is read in them.
const US_DEEDS: &[Deed] = &[
    deed(
        "mix|River blue|--volume|4 fl oz",
        "m|=riv|Enter|=4|Enter",
        "on the lid",
    ),
    deed("thin|K7|0.1 fl oz", "t|=0.1|Enter", "✓ K7"),
    deed(
        "counted|Medium|3.3333 fl oz",
        "S|Down|c|=3.3333|Enter",
        "Counted Medium",
    ),
    deed(
        "plan|--panel|16x20in|--recipe|River blue|--keep",
        "L|a|=16x20|Tab|Tab|Tab|Tab|Tab|Tab|=riv|Enter|Enter|w",
        "Kept as plan 1",
    ),
    deed(
        "pour|--panel|8x8in|--layer|B4:1floz|--air|70F,45%",
        "P|p|=8x8|Tab|Tab|=70 45|Enter|a|=B4|Enter|=1|Enter|g",
        "Pour 1",
    ),
    deed(
        "set|air|70F,45%",
        "R|i|=70 45|Enter",
        "The room's air is 70F,45%",
    ),
];

/// What both refuse, with a piece of the sentence that both say.
const REFUSED: &[Deed] = &[
    deed("mix|zzzz|--volume|80 ml", "m|=zzzz|Tab|=80 ml|Enter", ""),
    deed(
        "mix|River blue|--volume|1,000 ml",
        "m|=riv|Enter|=1,000|Enter",
        "two ways",
    ),
    deed(
        "mix|River blue|--volume|80 ml|--stirred|30 h",
        "m|=riv|Enter|=80|Tab|Tab|=30 h|Enter",
        "is no time to stir",
    ),
    deed(
        "mix|River blue|--volume|80 ml|--mark|K7",
        "m|=riv|Enter|=80|Tab|Tab|Tab|=K7|Enter",
        "K7 is on a living cup",
    ),
    deed(
        "mix|River blue|--volume|80 ml|--put|Sunny 4 ml",
        "m|=riv|Enter|=80|Tab|Tab|Tab|Tab|Tab|Tab|=Sunny 4 ml|Enter",
        "called Sunny",
    ),
    deed("thin|K7|3 g", "t|=3 g|Enter", "without its density"),
    deed(
        "add|K7|--from|Blue paint",
        "a|=blue p|Enter|Enter",
        "how much is added?",
    ),
    deed(
        "add|K7|900 ml|--from|B4",
        "a|=B4|Tab|=900|Enter",
        "B4 holds",
    ),
    deed(
        "thin|K7|5 l",
        "t|=5 l|Enter",
        "more than that cup ever held",
    ),
    deed("read|K7|26", "r|=26|Enter", "is far from"),
    deed(
        "mix|River blue|--volume|80 ml|--mound|26",
        "m|=riv|Enter|=80|Tab|=26|Enter",
        "is far from its window of 2 to 3 s",
    ),
    deed("strike|K7|1", "Enter|k|k|k|k|x", "stands or falls"),
    deed("amend|K7|last|4.2", "Enter|e|=4.2|Enter", "differs from"),
    deed("amend|K7|last|soon", "Enter|e|=soon|Enter", "soon"),
    deed("read|K7|700", "r|=700|Enter", "over 600 s"),
    deed(
        "read|K7|2.8|--at|2026-01-01 10:00",
        "r|=2.8|Tab|Tab|=2026-01-01 10:00|Enter",
        "lies before K7 was mixed",
    ),
    deed("bought|Blue paint", "S|b|Tab|Enter", "what a pack of"),
    deed(
        "bought|Blue paint|1,000 ml",
        "S|b|=1,000 ml|Enter",
        "two ways",
    ),
    deed(
        "counted|Blue paint|3 g",
        "S|c|=3 g|Enter",
        "without its density",
    ),
    deed(
        "material|add|River blue|--kind|paint",
        "S|a|=River blue|Enter",
        "already a recipe called River blue",
    ),
    deed(
        "material|set|Blue paint|--density|9",
        "S|e|Tab|Tab|Tab|Tab|=9|Enter",
        "a density must be between",
    ),
    deed(
        "recipe|add|Moss|--layer|colour|--part|Blue paint 0",
        "C|a|=Moss|Tab|Tab|=blue p|Enter|=0|Enter",
        "is no number of parts above nothing",
    ),
    deed(
        "recipe|add|Moss|--layer|colour|--part|Medium",
        "C|a|=Moss|Tab|Tab|=medi|Enter|Enter",
        "Medium is no part",
    ),
    deed(
        "recipe|add|Moss|--layer|colour",
        "C|a|=Moss|Enter",
        "a recipe needs at least one part",
    ),
    deed(
        "recipe|add|Water|--layer|colour|--part|Medium 1",
        "C|a|=Water|Tab|Tab|=medi|Enter|=1|Enter",
        "already a material called Water",
    ),
    deed(
        "recipe|change|River blue|--limit|100%",
        "C|Down|e|Tab|Tab|Tab|Tab|Tab|Tab|Tab|Tab|Tab|Tab|Tab|=100%|Enter",
        "the limit of thinner must be",
    ),
    deed(
        "trial|design|--factor|rest=12h,12H|--runs|8",
        "T|a|=rest|Tab|=12h|Tab|=12H|Enter",
        "rest has the same setting twice",
    ),
    deed(
        "pour|--panel|40x50cm|--layer|Q9:60ml",
        "P|p|=40x50cm|Enter|a|=Q9|Enter",
        "",
    ),
    deed(
        "pour|--panel|40x50cm|--layer|B4:60g",
        "P|p|=40x50cm|Enter|a|=B4|Enter|=60 g|Enter",
        "without its density",
    ),
    deed(
        "pour|--panel|40x50cm|--layer|B4:60ml|--spin|up:2",
        "P|p|=40x50cm|Enter|s|=up:2|Enter",
        "is no spin",
    ),
    deed("lid|K7|--mark|B4", "g|=B4|Enter", "B4 is on a living cup"),
    deed(
        "recipe|set|River blue|--rename|Water",
        "C|Down|r|=Water|Enter",
        "already a material called Water",
    ),
    deed("material|merge|Blue paint|zzzz", "S|g|=zzzz|Enter", ""),
    deed(
        "material|merge|Blue paint|Water",
        "S|g|=water|Enter",
        "Blue paint is a paint, and Water is a thinner",
    ),
    deed("plan|--panel|40 by", "L|a|=40 by|Enter", "unknown unit"),
    deed(
        "plan|--panel|40x50cm|--count|0",
        "L|a|=40x50cm|Tab|=0|Enter",
        "the number of panels must be",
    ),
    deed(
        "plan|--panel|40x50cm|--pour|2026-01-01 10:00",
        "L|a|=40x50cm|Tab|Tab|Tab|=2026-01-01 10:00|Enter",
        "the pour must be still to come",
    ),
    deed(
        "plan|--panel|40x50cm|--cup|250 g",
        "L|a|=40x50cm|Tab|Tab|Tab|Tab|Tab|Tab|Tab|Tab|Tab|Tab|Tab|Tab|=250 g|Enter",
        "without its density",
    ),
];

#[test]
fn both_faces_write_the_same_rows_and_warn_alike() {
    for deed in DEEDS {
        same_rows_and_warnings(deed, [Stage::with_cups(), Stage::with_cups()]);
    }
}

#[test]
fn both_faces_read_us_measures_alike() {
    for deed in US_DEEDS {
        let stages = [Stage::with_cups(), Stage::with_cups()];
        for stage in &stages {
            stage.studio().set("measures", "us", &now()).unwrap();
        }
        same_rows_and_warnings(deed, stages);
    }
}

fn same_rows_and_warnings(deed: &Deed, [commanded, shown]: [Stage; 2]) {
    let done = deed.words.split(" then ").map(|words| {
        let (code, answer) = command(&commanded, words);
        assert_eq!(code, 0, "{words}: {answer}");
        answer
    });
    let answer = done.last().unwrap();
    let warnings = answer["warnings"].as_array().into_iter().flatten();
    let warnings = warnings.map(|warning| warning.as_str().unwrap());
    let said: Vec<&str> = [deed.said].into_iter().chain(warnings).collect();
    let seen = pressed(&shown, deed.keys, &said);
    let (commanded, shown) = (rows(&commanded), rows(&shown));
    let alone = |these: &[String], those: &[String]| -> Vec<String> {
        let these = these.iter().filter(|row| !those.contains(row));
        these.cloned().collect()
    };
    let apart = [alone(&commanded, &shown), alone(&shown, &commanded)];
    assert_eq!(apart[0], apart[1], "{}: {seen}", deed.words);
    assert_eq!(commanded, shown, "{}", deed.words);
}

#[test]
fn both_faces_refuse_the_same_and_write_nothing() {
    let untouched = rows(&Stage::with_cups());
    for deed in REFUSED {
        let (commanded, shown) = (Stage::with_cups(), Stage::with_cups());
        let (code, answer) = command(&commanded, deed.words);
        let refused = answer["refused"].as_str().unwrap_or_default();
        assert_eq!(code, 1, "{}: {answer}", deed.words);
        assert!(refused.contains(deed.said), "{}: {refused}", deed.words);
        let seen = pressed(&shown, deed.keys, &["✗", deed.said]);
        // What to do next is said too: in commands there, in keys here.
        assert_ne!(
            answer["hint"].as_str().unwrap_or_default(),
            "",
            "{}",
            deed.words
        );
        assert!(!seen.contains("stillcup "), "{}: {seen}", deed.words);
        assert_eq!(rows(&commanded), untouched, "{}", deed.words);
        assert_eq!(rows(&shown), untouched, "{}: {seen}", deed.words);
    }
}

/// The exit code and the answer of a command.
fn command(stage: &Stage, words: &str) -> (i32, Json) {
    let output = Command::new(env!("CARGO_BIN_EXE_stillcup"))
        .env_clear()
        .env("STILLCUP_STUDIO", stage.file())
        .env("STILLCUP_NOW", at().to_rfc3339())
        .args(words.split('|'))
        .arg("--json")
        .output()
        .unwrap();
    let answer = serde_json::from_slice(&output.stdout).unwrap_or_default();
    (output.status.code().unwrap(), answer)
}

/// What the screen shows, its lines joined, once the keys were pressed and it says what it is to say.
fn pressed(stage: &Stage, keys: &str, said: &[&str]) -> String {
    let mut hands = Hands::on(stage, 160, 50);
    hands.see_text("B4");
    for key in keys.split('|') {
        match key.strip_prefix('=') {
            Some(text) => hands.type_amount(text),
            None => hands.press(key),
        }
    }
    let joined = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let done = |contents: &str| {
        let contents = joined(contents);
        let tone = ["✓", "? ", "✗"].iter().any(|sign| contents.contains(sign));
        tone && said.iter().all(|piece| contents.contains(piece))
    };
    joined(&hands.see(keys, |screen| done(&screen.contents())))
}

/// Every row of the studio, and what its history calls each change; numbers made by chance aside.
fn rows(stage: &Stage) -> Vec<String> {
    let conn = Connection::open(stage.file()).unwrap();
    let mut rows = Vec::new();
    for table in texts(
        &conn,
        "SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY name",
    ) {
        let columns = texts(
            &conn,
            &format!("SELECT name FROM pragma_table_info('{table}')"),
        );
        let wanted = |column: &&String| match table.as_str() {
            "change" => matches!(column.as_str(), "kind" | "label" | "act"),
            _ => *column != "uid",
        };
        let columns: Vec<_> = columns.iter().filter(wanted).cloned().collect();
        // What was typed and is not done yet is kept by the screen alone.
        let aside =
            table == "draft" || table.starts_with("sqlite_") || table.starts_with("change_");
        if aside || columns.is_empty() {
            continue;
        }
        let query = format!("SELECT {} FROM {table}", columns.join(", "));
        let mut query = conn.prepare(&query).unwrap();
        let count = columns.len();
        let row = |row: &rusqlite::Row<'_>| -> rusqlite::Result<Vec<Value>> {
            (0..count).map(|column| row.get(column)).collect()
        };
        let found = query.query_map([], row).unwrap();
        rows.extend(found.map(|row| format!("{table} {:?}", row.unwrap())));
    }
    rows.sort();
    rows
}

fn texts(conn: &Connection, query: &str) -> Vec<String> {
    let mut query = conn.prepare(query).unwrap();
    let found = query.query_map([], |row| row.get(0)).unwrap();
    found.map(Result::unwrap).collect()
}
