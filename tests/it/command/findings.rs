//! What worked and why, by command: two factors in a table, time, levels, what to try next; honest on too little.

use super::Rehearsal;
use crate::near::near_json;
use serde_json::{Value, json};

/// Pours one cup day after day at ten in the morning from the second of November on: the air's humidity in percent
/// (none where it was not written down) and the cells of each.
fn poured(days: &[(Option<u32>, u32)]) -> Rehearsal {
    let mut desk = Rehearsal::stocked();
    desk.clock("2026-11-01T10:00:00+01:00");
    desk.does("mix|River blue|--volume|900ml|--mark|K7");
    for (day, (damp, cells)) in days.iter().enumerate() {
        desk.clock(&format!("2026-11-{:02}T10:00:00+01:00", day + 2));
        let damp = damp.map_or(String::new(), |damp| format!(",{damp}%"));
        desk.does(&format!(
            "pour|--panel|20x20cm|--layer|K7:10ml|--air|20C{damp}"
        ));
        desk.does(&format!("judge|{}|--cells|{cells}", day + 1));
    }
    desk
}

/// 24 days: every second is damp; every third, from the first, is poor, and so are the damp ones after the twelfth.
fn studio() -> Rehearsal {
    let day = |day: u32| {
        let damp = if day.is_multiple_of(2) { 62 } else { 41 };
        let poor = day.is_multiple_of(3) || (damp == 62 && day >= 12);
        let damp = (day != 23).then_some(damp);
        (damp, if poor { 1 } else { 4 })
    };
    let days: Vec<_> = (0..24).map(day).collect();
    poured(&days)
}

fn factor<'a>(found: &'a Value, name: &str) -> &'a Value {
    let factors = found["factors"].as_array().unwrap();
    factors.iter().find(|one| one["factor"] == name).unwrap()
}

#[test]
fn two_factors_are_set_in_a_table_and_what_lacks_one_is_counted() {
    let desk = studio();
    let found = desk.does("findings|--pair|humidity,age of the oldest cup");
    let pair = &found["pair"];
    assert_eq!(
        pair["factors"],
        json!(["humidity", "age of the oldest cup"])
    );
    assert_eq!((&pair["n"], &pair["missing"]), (&json!(23), &json!(1)));
    // Counted by hand. The cut of the age is that of the twelfth pour, 288 h; damp are days 0, 2, 4 and so on.
    // Over it, days 12 to 22: damp 0 of 6 good, dry days 13, 17 and 19 of 13, 15, 17, 19 and 21. Not over it, days 0 to
    // 11: damp 2, 4, 8 and 10 of six, dry 1, 5, 7 and 11 of six.
    let told: Vec<Value> = pair["cells"]
        .as_array()
        .unwrap()
        .iter()
        .map(|cell| json!([cell["sides"], cell["good"], cell["pours"]]))
        .collect();
    let wanted = [
        json!([["at 62 %", "over 288 h"], 0, 6]),
        json!([["at 62 %", "not over 288 h"], 4, 6]),
        json!([["under 62 %", "over 288 h"], 3, 5]),
        json!([["under 62 %", "not over 288 h"], 4, 6]),
    ];
    assert_eq!(told, wanted);
    // Wilson's upper end of none in six: z2 / (6 + z2) with z = 1.959963984540054, his closed form.
    near_json(
        &pair["cells"][0]["wilson"][1],
        0.390_334_287_902_165_3,
        1e-9,
    );
    // A name is found by its beginning, as every name is.
    let text = desk.says("findings|--pair|Humidity, age of the old");
    assert!(
        text.contains("On 1 pour one of the two was not written down."),
        "{text}"
    );
    assert!(text.contains("Found by looking, not by a trial."), "{text}");
}

#[test]
fn a_pair_of_what_is_no_factor_is_refused_with_the_factors_named() {
    let desk = studio();
    for pair in ["humidity", "humidity,moon", "humidity;temperature", ""] {
        let (sentence, hint) = desk.refuses(&format!("findings|--pair|{pair}"));
        let said = format!("{sentence} {hint}");
        assert!(
            said.contains("humidity") && said.contains("weekday"),
            "{said}"
        );
    }
    let (sentence, _) = desk.refuses("findings|--pair|humidity,humidity");
    assert!(sentence.contains("is one factor twice"), "{sentence}");
}

#[test]
fn time_is_told_by_weeks_that_hold_enough() {
    let desk = studio();
    let found = desk.does("findings");
    // 2026-11-02 is a Monday: weeks of seven, seven, seven and three, which the third takes in.
    let drift = found["drift"].as_array().unwrap();
    let told: Vec<Value> = drift
        .iter()
        .map(|one| json!([one["from"], one["to"], one["good"], one["pours"]]))
        .collect();
    let week = |from: &str, to: &str, good: u32, pours: u32| {
        let at = |day: &str| format!("2026-11-{day}T00:00:00+01:00");
        json!([at(from), at(to), good, pours])
    };
    let wanted = [
        week("02", "09", 4, 7),
        week("09", "16", 5, 7),
        week("16", "30", 3, 10),
    ];
    assert_eq!(told, wanted);
    let behind: Vec<&Value> = drift[0]["behind"].as_array().unwrap().iter().collect();
    assert_eq!(
        behind,
        [7, 6, 5, 4, 3, 2, 1]
            .map(Value::from)
            .iter()
            .collect::<Vec<_>>()
    );
    // scipy 1.17.1, spearmanr of the order and the cells.
    near_json(&found["trend"]["value"], -0.216_694_535_554_384_53, 1e-9);
    near_json(&found["trend"]["p"], 0.309_124_485_046_339_94, 1e-9);
}

#[test]
fn a_factors_levels_are_ranked_by_what_is_believed_of_them() {
    let desk = studio();
    let found = desk.does("findings|--by|humidity");
    assert_eq!(found["factors"].as_array().unwrap().len(), 1);
    let by = &found["by"];
    assert_eq!((&by["n"], &by["missing"]), (&json!(23), &json!(1)));
    let [dry, damp] = [0, 1].map(|at| &by["levels"][at]);
    assert_eq!(
        (&dry["level"], &dry["good"]),
        (&json!("under 62 %"), &json!(7))
    );
    assert_eq!(
        (&damp["level"], &damp["good"]),
        (&json!("at 62 %"), &json!(4))
    );
    let low = |level: &Value| level["posterior"]["low10"].as_f64().unwrap();
    assert!(low(dry) > low(damp));
    let text = desk.says("findings|--by|humidity");
    assert!(
        text.contains("under 62 %") && text.contains("believed"),
        "{text}"
    );
    assert!(
        desk.says("findings|--by|humidity|--csv")
            .starts_with("recipe,variant,")
    );
}

#[test]
fn a_cut_has_the_digits_of_its_instrument_and_its_sides_add_up() {
    let found = studio().does("findings");
    let damp = factor(&found, "humidity");
    assert_eq!(
        damp["sides"],
        json!([
            {"side": "at 62 %", "pours": 12, "good": 4},
            {"side": "under 62 %", "pours": 11, "good": 7},
        ])
    );
    let words = damp["words"].as_str().unwrap();
    assert!(
        words.starts_with("humidity: at 62 % 4 of 12 good, under 62 % 7 of 11; "),
        "{words}"
    );
}

#[test]
fn one_pour_none_and_all_alike_are_told_without_a_chance() {
    let alike: Vec<(Option<u32>, u32)> = vec![(Some(50), 5); 22];
    let bad: Vec<(Option<u32>, u32)> = (0..22).map(|day| (Some(40 + day), 0)).collect();
    for days in [&[][..], &[(Some(50), 4)], &alike, &bad] {
        let desk = poured(days);
        let found = desk.does("findings|--pair|humidity,temperature");
        let none = |one: &Value| one["inclusion"].is_null() && one["effect"].is_null();
        assert!(
            found["factors"].as_array().unwrap().iter().all(none),
            "{found}"
        );
        assert_eq!(found["pair"]["too_early"], true);
        assert_eq!(found["trend"]["p"], Value::Null);
        assert_eq!(found["too_early"], true);
        let text = desk.says("findings") + &desk.says("findings|--pair|humidity,temperature");
        assert!(!text.contains("NaN") && !text.contains("inf"), "{text}");
        assert!(found["next"].as_array().unwrap().len() <= 3);
        assert!(desk.does("findings|--by|humidity")["by"]["levels"].is_array());
    }
}

#[test]
fn poured_but_not_judged_is_told_so() {
    let mut desk = Rehearsal::stocked();
    desk.clock("2026-11-02T10:00:00+01:00");
    desk.does("mix|River blue|--volume|900ml|--mark|K7");
    for hour in 11..14 {
        desk.clock(&format!("2026-11-02T{hour}:00:00+01:00"));
        desk.does("pour|--panel|20x20cm|--layer|K7:10ml|--air|20C,50%");
    }
    let found = desk.does("findings");
    assert_eq!(
        (&found["pours"], &found["too_early"]),
        (&json!(0), &json!(true))
    );
    assert_eq!(found["variants"], json!([]));
    let mut factors = found["factors"].as_array().unwrap().iter();
    assert!(factors.all(|one| one["n"] == 0 && one["inclusion"].is_null()));
    let text = desk.says("findings");
    assert!(text.contains("judge") && !text.contains("NaN"), "{text}");
}

#[test]
fn a_row_of_few_pours_keeps_its_place_and_is_marked() {
    let days: Vec<_> = [1, 4, 4].map(|cells| (None, cells)).into();
    let mut desk = poured(&days);
    desk.clock("2026-11-10T10:00:00+01:00");
    desk.does("mix|Opener|--volume|900ml|--mark|A3");
    for pour in 4..=9 {
        desk.does("pour|--panel|20x20cm|--layer|A3:10ml");
        desk.does(&format!("judge|{pour}|--cells|{}", pour % 2 + 3));
    }
    let found = desk.does("findings");
    let rows = found["variants"].as_array().unwrap();
    let low = |row: &Value| row["posterior"]["low10"].as_f64().unwrap();
    assert!(low(&rows[0]) >= low(&rows[1]), "{found}");
    for row in rows {
        assert_eq!(row["too_early"], json!(row["pours"].as_u64().unwrap() < 5));
    }
    let text = desk.says("findings");
    let marked =
        |line: &&str| line.starts_with("River blue") && line.ends_with("too early to tell");
    assert_eq!(text.lines().filter(marked).count(), 1, "{text}");
    assert!(!text.contains("to trust that"), "{text}");
}

#[test]
fn statistics_are_one_word_further_and_in_the_json() {
    let desk = studio();
    let found = desk.does("findings");
    assert_eq!(found["averaged"]["pours"], 24);
    assert!(found["averaged"]["models"].as_u64().unwrap() > 1);
    let damp = factor(&found, "humidity");
    assert!((0.0..=1.0).contains(&damp["inclusion"].as_f64().unwrap()));
    assert!(damp["effect"]["odds_ratio"].is_number() && damp["effect"]["cells"].is_null());
    let text = desk.says("findings|--statistics");
    assert!(
        text.contains("odds ratio") && text.contains("Gelman 2008"),
        "{text}"
    );
    assert!(!desk.says("findings").contains("odds ratio"));
    let cells = desk.does("findings|--outcome|cells");
    assert_eq!(cells["outcome"], "cells");
    assert!(factor(&cells, "humidity")["effect"]["cells"].is_number());
}

#[test]
fn the_best_settings_are_told_or_why_not() {
    let desk = studio();
    let found = desk.does("findings|--best");
    assert!(found["skill"].is_number(), "{found}");
    assert_eq!(found["knows"], json!(!found["advice"].is_null()));
    assert_eq!(found["curves"][0]["points"].as_array().unwrap().len(), 21);
    let text = desk.says("findings|--best");
    assert!(text.contains("settings explain"), "{text}");
    let few = poured(&[(Some(50), 4)]);
    let text = few.says("findings|--best");
    assert!(
        text.starts_with("Too early for the best settings: 1 judged pour"),
        "{text}"
    );
    assert_eq!(few.does("findings|--best")["curves"], json!([]));
}
