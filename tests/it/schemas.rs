//! The schema of every `--json` answer: made from the views' types, and kept in `assets/json-schema/`.
//!
//! After a view was changed, write them anew and look at the difference: a key that is gone or means something else goes
//! into the CHANGELOG. `cargo test --test it schemas -- --ignored`

use std::collections::BTreeMap;
use std::path::PathBuf;
use stillcup::tell::views::schemas;

fn folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("assets/json-schema")
}

fn made() -> BTreeMap<String, String> {
    let made = schemas().into_iter();
    let text = |schema| format!("{}\n", serde_json::to_string_pretty(&schema).unwrap());
    made.map(|(name, schema)| (format!("{name}.json"), text(schema)))
        .collect()
}

#[test]
fn the_schemas_that_are_kept_are_those_of_the_views() {
    let kept: BTreeMap<String, String> = std::fs::read_dir(folder())
        .unwrap()
        .map(|entry| entry.unwrap())
        .map(|entry| {
            let name = entry.file_name().into_string().unwrap();
            (name, std::fs::read_to_string(entry.path()).unwrap())
        })
        .collect();
    let made = made();
    let names = |all: &BTreeMap<String, String>| all.keys().cloned().collect::<Vec<_>>();
    assert_eq!(names(&kept), names(&made));
    for (name, schema) in made {
        assert_eq!(kept[&name], schema, "{name}");
    }
}

#[test]
#[ignore = "writes the schemas anew"]
fn write_the_schemas() {
    std::fs::create_dir_all(folder()).unwrap();
    for (name, schema) in made() {
        std::fs::write(folder().join(name), schema).unwrap();
    }
}
