//! A studio taken into an empty one is its twin: the same bytes go out again.

use super::{add_material, add_recipe, empty, mix, now, out, rich, small, take, text};
use proptest::prelude::*;
use stillcup::exchange::{Names, export_to, import_from};
use stillcup::trade::recipe::LayerKind;

#[test]
fn out_in_and_out_again_gives_the_same_bytes() {
    let first = rich();
    let bytes = out(&first);
    let mut twin = empty();
    let taken = take(&mut twin, &bytes).unwrap();
    assert!(taken.exact && taken.renamed.is_empty() && taken.new > 20);
    assert!(out(&twin) == bytes, "the twin's bytes differ");
    let (ours, theirs) = (
        first.studio.history(100).unwrap(),
        twin.studio.history(100).unwrap(),
    );
    assert_eq!(ours, theirs);
}

#[test]
fn the_twin_takes_its_last_deed_back_as_the_first_would() {
    let mut first = rich();
    let mut twin = empty();
    take(&mut twin, &out(&first)).unwrap();
    assert_eq!(
        first.studio.undo(&now(2000)).unwrap(),
        twin.studio.undo(&now(2000)).unwrap()
    );
    assert_eq!(
        first.studio.pours(None).unwrap().len(),
        twin.studio.pours(None).unwrap().len()
    );
}

#[test]
fn an_empty_studio_goes_out_and_in() {
    let bytes = out(&empty());
    let mut twin = empty();
    take(&mut twin, &bytes).unwrap();
    assert_eq!(out(&twin), bytes);
}

#[test]
fn the_document_is_json_that_names_its_format_and_every_table() {
    let read: serde_json::Value = serde_json::from_str(&text(&small())).unwrap();
    assert_eq!(read["format"], "stillcup studio");
    assert_eq!(read["version"], 1);
    let cup = &read["cup"][0];
    assert_eq!(cup["mark"], "K7");
    assert_eq!(cup["volume_ml"], "120.0");
    assert_eq!(cup["variant"], read["variant"][0]["uid"]);
    assert_eq!(cup["put"][0]["material"], read["material"][0]["uid"]);
    // 0.1 + 0.2 in doubles: IEEE 754 gives 1.3 to the last bit only through the sum as it was made.
    let density: f64 = read["material"][0]["density"]
        .as_str()
        .unwrap()
        .parse()
        .unwrap();
    assert_eq!(density.to_bits(), (1.0_f64 + 0.1 + 0.2).to_bits());
}

#[test]
fn files_are_written_whole() {
    let first = small();
    let path = first.folder.path().join("studio.json");
    export_to(&first.studio, Names::Go, &path, false).unwrap();
    export_to(&first.studio, Names::Go, &path, true).unwrap();
    assert_eq!(std::fs::read(&path).unwrap(), out(&first));
    let left: Vec<_> = std::fs::read_dir(first.folder.path())
        .unwrap()
        .filter(|file| {
            file.as_ref()
                .unwrap()
                .file_name()
                .to_string_lossy()
                .contains(".part")
        })
        .collect();
    assert!(left.is_empty());
    let mut twin = empty();
    import_from(&mut twin.studio, &path, &now(0), false).unwrap();
    assert_eq!(out(&twin), out(&first));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]
    #[test]
    fn every_small_studio_has_a_twin(
        names in proptest::collection::btree_set("[a-z\u{202e}\u{1b}é=+]{3,12}", 1..4),
        note in any::<String>(),
        ml in 1.0_f64..2000.0,
        undone in 0_usize..3,
    ) {
        let mut first = empty();
        let names: Vec<String> = names.into_iter().collect();
        for name in &names {
            add_material(&mut first, name, Some(&note));
        }
        add_recipe(&mut first, "Base", LayerKind::Base, &[&format!("{} 1", names[0])]);
        mix(&mut first, "Base", "K7", ml, Some(&note));
        for step in 0..undone {
            first.studio.undo(&now(step as i64 + 5)).unwrap();
        }
        let bytes = out(&first);
        let mut twin = empty();
        take(&mut twin, &bytes).unwrap();
        prop_assert!(out(&twin) == bytes);
    }
}
