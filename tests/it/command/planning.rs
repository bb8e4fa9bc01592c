//! Plans: nothing is to be done at night, and what a plan's time is.

use super::Rehearsal;
use serde_json::Value;

/// The `HH:MM` of every step that hands do.
fn hands_on(plan: &Value) -> Vec<(String, String)> {
    let steps = plan["schedule"].as_array().unwrap().iter();
    let text = |step: &Value, key: &str| step[key].as_str().unwrap().to_owned();
    let told = steps.map(|step| (text(step, "do"), text(step, "at")[11..16].to_owned()));
    told.filter(|(deed, _)| deed != "clears").collect()
}

fn at_night(clock: &str) -> bool {
    !("07:00".."22:00").contains(&clock)
}

// River blue rests 12 h and is stirred 4 min: for a pour at 11:30 it would be begun at 22:31 the evening before.
const PLAN: &str = "plan|--panel|40x50cm|--pour|tomorrow 11:30|--recipe|River blue";

#[test]
fn no_step_of_a_plan_lies_in_the_quiet_hours() {
    let desk = Rehearsal::stocked();
    let plan = desk.does(PLAN);
    let mixed = hands_on(&plan);
    assert!(
        mixed.contains(&("mix".to_owned(), "21:46".to_owned())),
        "{mixed:?}"
    );
    assert!(mixed.iter().all(|(_, clock)| !at_night(clock)), "{mixed:?}");
    assert_eq!(plan["warnings"], serde_json::json!([]));
    // As soon as it can be: at 18:00 it would be poured at 06:59.
    let soonest = desk.does("plan|--panel|40x50cm|--recipe|River blue");
    assert!(soonest["pour_at"].as_str().unwrap().contains("T07:40"));
    assert!(hands_on(&soonest).iter().all(|(_, clock)| !at_night(clock)));
}

#[test]
fn the_quiet_hours_are_a_setting() {
    let desk = Rehearsal::stocked();
    assert_eq!(desk.does("settings")["quiet-hours"], "22..7");
    assert_eq!(
        desk.does("set|quiet-hours|23:30 to 6")["quiet-hours"],
        "23:30..6"
    );
    let mixed = hands_on(&desk.does(PLAN));
    assert!(
        mixed.contains(&("mix".to_owned(), "22:36".to_owned())),
        "{mixed:?}"
    );
    assert_eq!(
        desk.does("set|quiet-hours|none")["quiet-hours"],
        Value::Null
    );
    let (sentence, hint) = desk.refuses("set|quiet-hours|late");
    assert!(
        sentence.contains("late") && hint.contains("22..7"),
        "{sentence} {hint}"
    );
    assert_eq!(desk.does("set|quiet-hours|")["quiet-hours"], "22..7");
}

#[test]
fn a_step_that_cannot_be_kept_from_the_night_is_told() {
    let mut desk = Rehearsal::stocked();
    desk.clock("2026-11-24T21:50:00+01:00");
    let plan = desk.does(PLAN);
    let warned = plan["warnings"][0].as_str().unwrap();
    assert!(
        warned.contains("quiet hours") && warned.contains("mix River blue v1 22:36"),
        "{warned}"
    );
}

#[test]
fn a_cup_mixed_from_a_plan_before_its_time_is_told() {
    let desk = Rehearsal::stocked();
    desk.does(&format!("{PLAN}|--keep"));
    let mixed = desk.does("plan|--mix|1");
    let warned = mixed["warnings"][0].as_str().unwrap();
    assert!(
        warned.contains("before its time") && warned.contains("21:46"),
        "{warned}"
    );
    let mut desk = Rehearsal::stocked();
    desk.does(&format!("{PLAN}|--keep"));
    desk.clock("2026-11-24T21:30:00+01:00");
    assert_eq!(desk.does("plan|--mix|1")["warnings"], serde_json::json!([]));
}
