//! Cups that stand lessen what a plan mixes: once, and only where they will be of use.

use super::Rehearsal;
use serde_json::Value;

/// The rows of a recipe in a plan: how much of each, and the cup that stands for it.
fn rows(plan: &Value, recipe: &str) -> Vec<(f64, Option<String>)> {
    let layers = plan["layers"].as_array().unwrap().iter();
    let own = layers.filter(|layer| layer["recipe"] == recipe);
    let row = |layer: &Value| {
        let mark = layer["standing"].as_str().map(str::to_owned);
        (layer["ml"].as_f64().unwrap(), mark)
    };
    own.map(row).collect()
}

const STACK: &str = "plan|--panel|40x50cm|--pour|2026-11-25T12:00:00+01:00|--recipe|Ground|--recipe|River blue|--recipe|Opener";

#[test]
fn what_stands_in_cups_lessens_a_planned_layer() {
    let desk = Rehearsal::ready_stack();
    let fresh = desk.does(&format!("{STACK}|--fresh"));
    let plan = desk.does(STACK);
    assert_eq!(plan["total_ml"], fresh["total_ml"]);
    // Of B2 200 ml are ready, of K7 120, of A3 50; what stands is taken first, and no more than is needed.
    for (recipe, mark, held) in [
        ("Ground", "B2", 200.0),
        ("River blue", "K7", 120.0),
        ("Opener", "A3", 50.0),
    ] {
        let [(whole, None)] = rows(&fresh, recipe)[..] else {
            panic!("{fresh}");
        };
        // Less than 20 ml is no cup.
        let mixes = if whole > held {
            f64::max(whole - held, 20.0)
        } else {
            0.0
        };
        let found = rows(&plan, recipe);
        assert!(
            (found[0].0 - (whole - mixes)).abs() < 0.01,
            "{recipe} {found:?}"
        );
        assert_eq!(found[0].1.as_deref(), Some(mark));
        let mixed: f64 = found[1..].iter().map(|(ml, _)| ml).sum();
        assert!((mixed - mixes).abs() < 0.01, "{recipe} {found:?}");
    }
    let notes = plan["notes"].to_string();
    assert!(
        notes.contains("K7 has ") && notes.contains("K7 is ready until 10:"),
        "{notes}"
    );
    // What stands needs no mixing, and is looked at before the pour all the same.
    let steps = |deed: &str, cup: &str| {
        let steps = plan["schedule"].as_array().unwrap().iter();
        steps
            .filter(|step| step["do"] == deed && step["cup"] == cup)
            .count()
    };
    assert_eq!(
        (steps("mix", "Opener v1"), steps("look", "Opener v1")),
        (0, 1)
    );
    assert_eq!(
        (
            steps("mix", "River blue v1"),
            steps("look", "River blue v1")
        ),
        (1, 1)
    );
}

#[test]
fn a_cup_stands_for_one_plan_alone_and_is_mixed_for_none() {
    let desk = Rehearsal::ready_stack();
    desk.does(&format!("{STACK}|--keep"));
    let again = desk.does(STACK);
    assert!(
        rows(&again, "Ground")
            .iter()
            .all(|(_, mark)| mark.is_none())
    );
    // All that plan 1 has mixed is what no cup stands for.
    let cups = desk.does("plans")["plans"][0]["cups"].clone();
    let open = |cup: &&Value| cup["mark"].is_null();
    for cup in cups.as_array().unwrap().iter().filter(open) {
        let mixed = desk.does("plan|--mix|1");
        assert_eq!(mixed["volume_ml"], cup["planned_ml"], "{mixed}");
    }
    let (refused, _) = desk.refuses("plan|--mix|1");
    assert!(refused.contains("mixed"), "{refused}");
    let kept = desk.does("plans");
    let mut cups = kept["plans"][0]["cups"].as_array().unwrap().iter();
    assert!(cups.any(|cup| cup["mark"] == "B2"), "{kept}");
}

// What one plan leaves in a cup is there for the next.
#[test]
fn a_plan_speaks_for_what_it_needs_of_a_cup_and_not_for_all_of_it() {
    let desk = Rehearsal::ready_stack();
    let small = "plan|--panel|10x10cm|--pour|2026-11-25T12:00:00+01:00|--recipe|Ground";
    let first = desk.does(&format!("{small}|--keep"));
    let [(needs, Some(mark))] = &rows(&first, "Ground")[..] else {
        panic!("{first}");
    };
    assert_eq!(mark, "B2");
    let second = desk.does(small);
    assert_eq!(rows(&second, "Ground"), [(*needs, Some("B2".to_owned()))]);
    // Of its 200 ml no more is promised than it holds.
    let large = desk.does(&small.replace("10x10", "40x50"));
    let from_b2: f64 = rows(&large, "Ground")
        .into_iter()
        .filter_map(|(ml, mark)| mark.map(|_| ml))
        .sum();
    assert!(from_b2 <= 200.0 - needs + 0.01, "{from_b2} {needs}");
    assert!(from_b2 > 100.0, "{from_b2}");
}

#[test]
fn a_cup_that_clears_after_the_pour_is_not_counted_and_one_before_it_is() {
    let mut desk = Rehearsal::stocked();
    // It rests 12 hours, and may rest longer: by Wednesday evening it is clear, by midnight it is not.
    desk.does("mix|River blue|--volume|120ml|--mark|K7|--mound|2.5");
    let plan = |desk: &Rehearsal, at: &str| {
        let words = "plan|--panel|20x20cm|--recipe|River blue|--pour";
        rows(&desk.does(&format!("{words}|{at}")), "River blue")
    };
    let early = plan(&desk, "2026-11-24T23:00:00+01:00");
    assert!(early.iter().all(|(_, mark)| mark.is_none()), "{early:?}");
    let late = plan(&desk, "2026-11-26T18:00:00+01:00");
    assert_eq!(late[0].1.as_deref(), Some("K7"), "{late:?}");
    // One that has thickened waits for a hand, and is not promised.
    desk.clock("2026-11-25T18:00:00+01:00");
    desk.does("read|K7|4.4|--even-so");
    let thick = plan(&desk, "2026-11-26T18:00:00+01:00");
    assert!(thick.iter().all(|(_, mark)| mark.is_none()), "{thick:?}");
}

// Where the cups of a plan really went: a plan whose paint lies on another panel is not poured, and counts on it no more.
#[test]
fn a_cup_that_went_onto_another_panel_is_neither_poured_nor_standing_for_its_plan() {
    let mut desk = Rehearsal::ready_stack();
    desk.does("plan|--panel|20x20cm|--pour|2026-11-25T12:00:00+01:00|--recipe|River blue|--keep");
    let cup = |desk: &Rehearsal| desk.does("plans")["plans"][0]["cups"][0].clone();
    let stands = cup(&desk);
    assert_eq!(
        (&stands["mark"], &stands["gone"]),
        (&Value::from("K7"), &Value::from(false))
    );
    desk.clock("2026-11-25T09:20:00+01:00");
    desk.does("pour|--panel|30x40cm|--layer|K7:110ml");
    let gone = cup(&desk);
    assert_eq!(
        (&gone["poured_ml"], &gone["gone"]),
        (&Value::from(0.0), &Value::from(true))
    );
    let told = desk.says("plans");
    assert!(told.contains("gone elsewhere"), "{told}");
    // It is mixed anew, and only once.
    let mark = desk.does("plan|--mix|1")["mark"].clone();
    assert_eq!(cup(&desk)["mark"], mark);
    let (refused, _) = desk.refuses("plan|--mix|1");
    assert!(refused.contains("plan 1"), "{refused}");
    // On the panel that was meant, whichever way it is turned, it is poured.
    desk.clock("2026-11-26T09:30:00+01:00");
    let mark = mark.as_str().unwrap();
    desk.does(&format!("pour|--panel|20x20cm|--layer|{mark}:40ml"));
    let poured = cup(&desk);
    assert_eq!(
        (&poured["poured_ml"], &poured["gone"]),
        (&Value::from(40.0), &Value::from(false))
    );
}
