//! What is computed, asked for on the command line, against values worked out by hand or read elsewhere.

use super::Rehearsal;

fn near(value: &serde_json::Value, wanted: f64, by: f64) {
    let value = value.as_f64().unwrap();
    assert!((value - wanted).abs() <= by, "{value} is not {wanted}");
}

#[test]
fn a_cup_read_after_it_cleared_does_not_rest_again() {
    let mut desk = Rehearsal::stocked();
    desk.does("mix|Ground|--volume|200ml|--mark|B2");
    desk.clock("2026-11-25T06:30:00+01:00");
    assert_eq!(desk.does("cups")["cups"][0]["state"], "look");
    let read = desk.does("read|B2|3.9");
    assert_eq!(read["state"], "ready", "{read}");
}

// Computed from 12 h x (mound / 3 s) x (depth / 60 mm); the density of Ground is not known.
#[test]
fn a_thick_deep_cup_rests_longer_than_its_recipe_says_and_a_thin_one_no_shorter() {
    let desk = Rehearsal::stocked();
    let deep = desk.does("mix|Ground|--volume|300ml|--mound|3.6|--depth|80mm");
    assert_eq!(deep["clears_at"], "2026-11-25T13:12:00+01:00");
    let thin = desk.does("mix|River blue|--volume|120ml|--mound|2.0|--depth|40mm");
    assert_eq!(thin["clears_at"], "2026-11-25T06:00:00+01:00");
}

// By hand: phi = ln(4 / 2.5) / 6.9, amount = V phi / (1 - phi); the prior is from memory, no source.
#[test]
fn how_much_thinner_is_told_from_practice_first() {
    let mut desk = Rehearsal::stocked();
    desk.does("mix|River blue|--volume|100ml|--mark|K7");
    desk.clock("2026-11-25T08:00:00+01:00");
    desk.does("read|K7|4.0");
    let told = desk.does("thin|K7|--how-much");
    let phi = (4.0_f64 / 2.5).ln() / 6.9;
    near(&told["likely_ml"], 100.0 * phi / (1.0 - phi), 0.05);
    assert_eq!(
        (&told["from"], &told["readings"]),
        (&"practice".into(), &0.into())
    );
    assert!(told["start_with_ml"].as_f64() < told["likely_ml"].as_f64());
    near(&told["limit_ml"], 100.0 / 3.0, 0.01);
}

#[test]
fn nothing_is_filled_from_a_cup_that_was_not_there_yet() {
    let desk = Rehearsal::stocked();
    desk.does("mix|River blue|--volume|300ml|--mark|M2");
    let (sentence, _) = desk.refuses("mix|River blue|--volume|50ml|--from|M2|--at|17:00");
    assert!(
        sentence.contains("M2 was mixed only at 18:00"),
        "{sentence}"
    );
}

// ISO 2431 cup 4: 1.37 t - 200 / t within 30 to 100 s (computed from the standard's formula, read at second hand).
#[test]
fn a_flow_cup_speaks_only_inside_its_window() {
    let desk = Rehearsal::stocked();
    near(
        &desk.does("flow-cup|iso4|38s")["mm2_s"],
        1.37 * 38.0 - 200.0 / 38.0,
        1e-3,
    );
    let (sentence, _) = desk.refuses("flow-cup|iso4|12s");
    assert!(sentence.contains("30 to 100 s"), "{sentence}");
    desk.does("mix|River blue|--volume|120ml|--mark|K7");
    desk.refuses("read|K7|--flow-cup|iso4|--efflux|5s");
}

// Vapour pressure deficit and wet bulb at 18 C, 70 %: 2.268 and 2.003 times 23 C, 50 % (computed, Magnus).
#[test]
fn drying_spans_both_forms_and_wet_air_gives_no_number() {
    let desk = Rehearsal::stocked();
    let told = desk.does("drying|--air|18C,70%|--film|1.0mm");
    near(&told["factor"][0], 2.003, 0.01);
    near(&told["factor"][1], 2.268, 0.005);
    near(&told["touch_dry_h"][1], 48.0 * 2.268, 0.3);
    let (sentence, _) = desk.refuses("drying|--air|20C,96%");
    assert!(sentence.contains("will not dry"), "{sentence}");
    assert!(desk.does("drying|--air|18C,70%|--film|0.8mm")["touch_dry_h"][0].is_number());
}

// By hand: (400 x 500 + 1800 x 20) mm2 x 1.8335 mm = 432.7 ml; one fluid ounce for 25 square inches is common
// practice, no source.
#[test]
fn a_plan_is_the_painted_area_times_the_film_and_ends_in_the_pour() {
    let desk = Rehearsal::stocked();
    let plan = desk.does("plan|--panel|40x50cm|--edge|2cm|--pour|tomorrow 18:00");
    near(&plan["area_cm2"], 2360.0, 1e-6);
    near(&plan["total_ml"], 432.7, 0.1);
    let steps = plan["schedule"].as_array().unwrap();
    let last = steps.last().unwrap();
    assert_eq!(
        (&last["do"], &last["at"]),
        (&"pour".into(), &"2026-11-25T18:00:00+01:00".into())
    );
    assert!(plan["cost"].is_null(), "prices are missing");
}
