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

#[test]
fn a_mound_that_never_fades_is_a_gelled_cup_until_it_is_loosened() {
    let desk = Rehearsal::stocked();
    desk.does("mix|River blue|--volume|120ml|--mark|K7|--mound|2.5");
    assert!(
        desk.cup("K7")["bubble_risen_mm"].is_null(),
        "no time has passed"
    );
    let gelled = desk.does("read|K7|never");
    assert_eq!(
        (&gelled["state"], &gelled["gelled"], &gelled["clears_at"]),
        (&"thick".into(), &true.into(), &serde_json::Value::Null)
    );
    assert!(gelled["mound_s"].is_null() && gelled["mound_now_s"].is_null());
    let page = desk.says("cup|K7");
    assert!(
        page.contains("resting will not clear a gelled cup"),
        "{page}"
    );
    assert!(
        page.contains("holds every bubble up to about 8 mm"),
        "{page}"
    );
    let (sentence, _) = desk.refuses("thin|K7|--how-much");
    assert!(sentence.contains("never fades"), "{sentence}");
    let stirred = desk.does("stir|K7|4m");
    assert_eq!(
        (&stirred["state"], &stirred["gelled"]),
        (&"resting".into(), &false.into())
    );
}

// Computed by hand: 20.3 Pa x 2.5 s / sqrt(ln 20 x ln 5) = 23.1 Pa s; sqrt(18 x 23.1 x 0.05 / (1200 g x 6 h)) = 0.286
// mm, walls 70 mm apart add 1 %; a factor of two in viscosity is one of 1.4 in size.
#[test]
fn the_smallest_bubble_that_has_risen_is_told_while_a_cup_rests() {
    let mut desk = Rehearsal::stocked();
    desk.does("mix|River blue|--volume|190ml|--mark|K7|--mound|2.5|--depth|50mm|--diameter|70mm");
    desk.clock("2026-11-25T00:00:00+01:00");
    let risen = desk.cup("K7")["bubble_risen_mm"].clone();
    near(&risen[1], 0.289, 0.003);
    near(&risen[2], 0.289 * 2.0_f64.sqrt(), 0.01);
    near(&risen[0], 0.289 / 3.0_f64.sqrt(), 0.01);
    let page = desk.says("cup|K7");
    assert!(
        page.contains("bubbles over about 0.3 mm have risen"),
        "{page}"
    );
    desk.clock("2026-11-25T12:00:00+01:00");
    assert!(desk.cup("K7")["bubble_risen_mm"].is_null());
}

// By hand: 2.0 ml are 0.0676 fl oz, 1.8335 mm are 0.0722 in, 21 C are 70 F.
#[test]
fn what_is_shown_follows_the_studio_s_measures_and_json_never_does() {
    let mut desk = Rehearsal::stocked();
    desk.does("set|measures|us");
    desk.does("mix|River blue|--volume|4 fl oz|--mark|K7");
    desk.does("mix|Opener|--volume|1 fl oz|--mark|A3");
    desk.clock("2026-11-25T08:00:00+01:00");
    let read = desk.does("read|K7|4.0");
    let why = read["why"].as_str().unwrap();
    assert!(why.contains("fl oz") && !why.contains(" ml"), "{why}");
    near(&read["volume_ml"], 4.0 * 29.573_53, 0.01);
    desk.does("read|A3|5.0");
    for (words, wanted) in [
        ("stack|K7|A3|--film|1.8335mm", "0.072 in"),
        ("plan|--panel|16x20in|--recipe|River blue", "0.072 in wet"),
        ("drying|--air|70F,50%", "73 F"),
        ("history", "mixed River blue v1, 4 fl oz"),
    ] {
        let said = desk.says(words);
        assert!(said.contains(wanted), "{words}: {said}");
        assert!(
            !said.contains(" ml") && !said.contains(" mm"),
            "{words}: {said}"
        );
    }
    let (sentence, _) = desk.refuses("pour|--panel|16x20in|--layer|K7:9floz");
    assert!(
        sentence.contains("K7 holds 4.00 fl oz, not 9.00 fl oz"),
        "{sentence}"
    );
}
