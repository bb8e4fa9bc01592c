//! A picture once more from the Rack: its plan on one key, and the two side by side.

use super::{Stage, keys, lines, shows, typed};
use crate::studio::PourOrder;
use crate::trade::pour::{Air, Move, MoveKind};
use chrono::TimeDelta;

/// Ten days ago: 120 ml of a cup that had stood two hours, on 40 by 60 cm.
fn stage() -> Stage {
    let stage = Stage::with_recipes();
    let poured = TimeDelta::days(10);
    stage.mix(
        "Cell opener",
        "B4",
        -poured - TimeDelta::hours(2),
        Some((1.5, -poured)),
    );
    let order = PourOrder {
        way: Some("swipe".to_owned()),
        air: Some(Air::parse("21C,45%").unwrap()),
        moves: vec![Move::parse(MoveKind::Spin, "cw:2").unwrap()],
        at: Some(stage.now.at - poured),
        ..stage.stack("40x60cm", &[("B4", 120.0)])
    };
    stage.studio().pour(&order, &stage.now).unwrap();
    stage
}

fn words(cells: &ratatui::buffer::Buffer) -> String {
    let all = lines(cells).join(" ");
    all.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn one_key_on_the_rack_plans_the_picture_once_more() {
    let mut stage = stage();
    stage.studio().set("air", "25C,45%", &stage.now).unwrap();
    stage.size = (80, 40);
    let told = words(&stage.play(keys("R r")));
    for said in [
        "as in picture 1",
        "! the room is 4 C warmer: 21C,45% then, 25C,45% now",
        "1. 120 ml Cell opener v1: mound 1.5 s, stood 2 h",
        "2. spin clockwise, 2 turns",
        "keeps the plan",
    ] {
        assert!(told.contains(said), "{said}: {told}");
    }
    assert!(stage.studio().plans().unwrap().is_empty());
    let told = words(&stage.play(keys("R r w")));
    assert!(told.contains("Kept as plan 1"), "{told}");
    let kept = &stage.studio().plans().unwrap()[0];
    assert_eq!((kept.plan.repeats, kept.cups.len()), (Some(1), 1));
}

#[test]
fn the_panel_and_the_time_are_changed_on_the_sheet() {
    let mut stage = stage();
    stage.size = (80, 40);
    let mut script = keys("R r a");
    script.extend(typed("40x120"));
    script.extend(keys("Enter w"));
    let told = words(&stage.play(script));
    assert!(told.contains("Kept as plan 1"), "{told}");
    assert_eq!(
        stage.studio().plans().unwrap()[0].cups[0].planned.get(),
        240.0
    );
}

#[test]
fn what_would_differ_is_seen_at_every_size() {
    let mut stage = stage();
    stage.studio().set("air", "25C,45%", &stage.now).unwrap();
    for size in [(50, 16), (80, 24), (160, 50)] {
        stage.size = size;
        let cells = stage.play(keys("R r"));
        let told = words(&cells);
        assert!(told.contains("warmer"), "{size:?}: {:#?}", lines(&cells));
    }
}

#[test]
fn two_pictures_are_held_side_by_side() {
    let mut stage = stage();
    stage.play(keys("R r w"));
    stage.studio().mix_from_plan(1, &stage.now).unwrap();
    let mark = stage.studio().plans().unwrap()[0].cups[0]
        .mark
        .clone()
        .unwrap();
    stage.now.at += TimeDelta::hours(2);
    let order = PourOrder {
        way: Some("swipe".to_owned()),
        ..stage.stack("40x60cm", &[(mark.as_str(), 60.0)])
    };
    stage.studio().pour(&order, &stage.now).unwrap();
    stage.size = (80, 40);
    let cells = stage.play(keys("R / 2 Enter c"));
    let told = words(&cells);
    assert!(
        shows(&cells, "Picture 2 beside picture 1"),
        "{:#?}",
        lines(&cells)
    );
    let [odd, same] = ["what was not the same", "what was the same"];
    let (odd, same) = (told.find(odd).unwrap(), told.find(same).unwrap());
    let amount = told.find("layer 1: amount 60 ml").unwrap();
    let panel = told.find("panel 40 x 60 cm").unwrap();
    assert!(odd < amount && amount < same && same < panel, "{told}");
    // The first repeats none: the other one is asked for.
    let mut script = keys("R / 1 Enter c");
    script.extend(typed("2"));
    script.extend(keys("Enter"));
    assert!(shows(&stage.play(script), "Picture 1 beside picture 2"));
}
