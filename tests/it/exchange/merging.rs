//! A studio taken into one with rows of its own.

use super::{add_material, add_recipe, empty, mix, now, out, small, take, text};
use stillcup::studio::orders::TendOrder;
use stillcup::trade::recipe::LayerKind;

#[test]
fn taken_in_twice_nothing_changes() {
    let first = small();
    let mut twin = empty();
    take(&mut twin, &out(&first)).unwrap();
    let before = out(&twin);
    let again = take(&mut twin, &out(&first)).unwrap();
    assert_eq!((again.exact, again.new), (false, 0));
    assert!(again.known > 0 && again.differing.is_empty(), "{again:?}");
    assert_eq!(out(&twin), before);
}

#[test]
fn names_and_living_marks_in_use_give_way_and_it_is_said() {
    let mut here = empty();
    add_material(&mut here, "white", None);
    add_recipe(&mut here, "White base", LayerKind::Base, &["white 1"]);
    mix(&mut here, "White base", "A3", 50.0, None);
    let before = text(&here);
    let taken = take(&mut here, &out(&small())).unwrap();
    let said: Vec<(&str, &str)> = taken
        .renamed
        .iter()
        .map(|one| (one.what, one.was.as_str()))
        .collect();
    assert_eq!(
        said,
        [
            ("material", "White"),
            ("recipe", "White base"),
            ("cup", "A3")
        ]
    );
    assert_eq!(taken.renamed[0].is, "White 2");
    assert_eq!(taken.renamed[1].is, "White base 2");
    assert!(taken.history_left > 0);
    let marks: Vec<String> = here
        .studio
        .bench(&now(2000))
        .unwrap()
        .iter()
        .map(|one| one.cup.mark.to_string())
        .collect();
    assert!(
        marks.contains(&"A3".into()) && marks.contains(&taken.renamed[2].is),
        "{marks:?}"
    );
    here.studio.undo(&now(3000)).unwrap();
    let undone = text(&here);
    let rows = |text: &str| text.split("\"change\":[").next().unwrap().to_owned();
    assert_eq!(rows(&undone), rows(&before));
}

#[test]
fn a_second_import_after_renaming_finds_nothing_new_and_nothing_different() {
    let mut here = empty();
    add_material(&mut here, "White", None);
    let bytes = out(&small());
    take(&mut here, &bytes).unwrap();
    let before = out(&here);
    let again = take(&mut here, &bytes).unwrap();
    assert_eq!(again.new, 0);
    assert!(
        again.differing.is_empty() && again.renamed.is_empty(),
        "{again:?}"
    );
    assert_eq!(out(&here), before);
}

#[test]
fn the_settings_of_a_studio_that_is_used_stay_its_own() {
    let mut first = small();
    first.studio.set("currency", "EUR", &now(1)).unwrap();
    first.studio.set("name", "Upstairs", &now(1)).unwrap();
    let mut here = empty();
    here.studio.set("name", "Cellar", &now(1)).unwrap();
    let taken = take(&mut here, &out(&first)).unwrap();
    assert!(taken.new > 0 && taken.differing.is_empty(), "{taken:?}");
    let settings = here.studio.settings().unwrap();
    assert_eq!(settings.name.as_deref(), Some("Cellar"));
    assert_eq!(settings.currency, "");
}

#[test]
fn what_two_benches_wrote_apart_comes_together() {
    let first = small();
    let mut one = empty();
    let mut two = empty();
    take(&mut one, &out(&first)).unwrap();
    take(&mut two, &out(&first)).unwrap();
    mix(&mut one, "White base", "B4", 30.0, None);
    let cup = two.studio.known([]).unwrap().cup("K7").unwrap();
    let end = TendOrder::end(cup, stillcup::trade::cup::End::Binned);
    two.studio.tend(&end, &now(2000)).unwrap();
    let taken = take(&mut one, &out(&two)).unwrap();
    assert_eq!(taken.new, 1);
    let living: Vec<String> = one
        .studio
        .bench(&now(3000))
        .unwrap()
        .iter()
        .map(|one| one.cup.mark.to_string())
        .collect();
    assert!(
        living.contains(&"B4".into()) && !living.contains(&"K7".into()),
        "{living:?}"
    );
}
