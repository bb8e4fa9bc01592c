//! `findings --outcome share|diameter|evenness|number`, and what pours and sheets tell of what was measured.

use super::Rehearsal;
use image::{Rgb, RgbImage};
use serde_json::Value;

/// A panel of 20 by 15 cm, a pixel a millimetre, with light discs in rows on a dark ground; `late` makes each file differ.
fn panel(radius: f64, across: u32, late: u32) -> RgbImage {
    let step = 200.0 / f64::from(across);
    RgbImage::from_fn(200, 150, |x, y| {
        let middle = |at: u32| (f64::from(at) + 0.5).rem_euclid(step) - step / 2.0;
        match (x, y) {
            (0, 0) => Rgb([30, 42, 60 + late as u8]),
            _ if middle(x).hypot(middle(y)) <= radius => Rgb([225, 215, 190]),
            _ => Rgb([30, 42, 60]),
        }
    })
}

/// Twelve pours of two colours by turns, each with a photo: the one gives large cells, the other small ones.
fn studio() -> Rehearsal {
    let mut desk = Rehearsal::stocked();
    desk.does("recipe add|Far blue|--layer|colour|--part|Deep blue 1|--part|Pouring medium 3|--mound|2..3");
    for (mark, recipe) in [("B2", "Ground"), ("R4", "River blue"), ("F4", "Far blue")] {
        desk.does(&format!("mix|{recipe}|--volume|900ml|--mark|{mark}"));
    }
    for pour in 1..=12_u32 {
        desk.clock(&format!("2026-11-{:02}T18:00:00+01:00", 24 + pour.min(6)));
        if pour > 6 {
            desk.clock(&format!("2026-12-{:02}T18:00:00+01:00", pour - 6));
        }
        let (colour, radius) = if pour % 2 == 0 {
            ("R4", 12.0)
        } else {
            ("F4", 6.0)
        };
        let odd = f64::from(pour % 3) * 0.4;
        desk.does(&format!(
            "pour|--panel|20x15cm|--layer|B2:50ml|--layer|{colour}:40ml"
        ));
        let file = desk.file().with_file_name(format!("{pour}.png"));
        panel(radius + odd, 5, pour).save(&file).unwrap();
        desk.does(&format!(
            "photo|{pour}|{}|--wet|--corners|0,0 200,0 200,150 0,150",
            file.display()
        ));
        // The last two are not judged, and count all the same.
        if pour < 11 {
            let cells = if pour % 2 == 0 { 4 } else { 1 + pour % 3 };
            desk.does(&format!("judge|{pour}|--cells|{cells}"));
        }
    }
    desk
}

fn variant<'a>(told: &'a Value, recipe: &str) -> &'a Value {
    let mut all = told["variants"].as_array().unwrap().iter();
    all.find(|one| one["recipe"] == recipe).unwrap()
}

/// One studio for all, for it takes a second to photograph.
#[test]
fn what_was_measured_is_asked_and_told() {
    let desk = studio();
    findings_are_asked_of_what_was_measured(&desk);
    each_measured_outcome_ranks_its_own_way_and_the_rest_is_refused(&desk);
    pours_and_sheets_have_what_was_measured(&desk);
}

fn findings_are_asked_of_what_was_measured(desk: &Rehearsal) {
    let told = desk.does("findings|--outcome|diameter|--layer|colour");
    assert_eq!(
        (&told["pours"], &told["outcome"]),
        (&12.into(), &"diameter".into())
    );
    assert_eq!(told["variants"][0]["recipe"], "River blue");
    let own = |name: &str| variant(&told, name)["own_mean"].as_f64().unwrap();
    // Discs of 12, 12.4 and 12.8 mm, and of 6, 6.4 and 6.8 mm: means of 24.8 and 12.8 across.
    assert!(
        (own("River blue") - 24.8).abs() < 0.4 && (own("Far blue") - 12.8).abs() < 0.4,
        "{told}"
    );
    let mean = |name: &str| variant(&told, name)["mean"].as_f64().unwrap();
    assert!(mean("River blue") <= own("River blue") && mean("Far blue") >= own("Far blue"));
    assert_eq!(
        variant(&told, "Far blue")["behind"],
        serde_json::json!([11, 9, 7, 5, 3, 1])
    );
    let tau = told["agreement"]["tau_b"].as_f64().unwrap();
    assert!(
        tau > 0.5 && told["agreement"]["pours"] == 10,
        "{}",
        told["agreement"]
    );
    assert_eq!(
        told["too_early_why"],
        "too early to tell from 12 pours; 20 are needed"
    );
    let words = desk.says("findings|--outcome|diameter");
    assert!(
        words.contains("12 pours measured, the middle at"),
        "{words}"
    );
    assert!(words.contains("Kendall's tau-b"), "{words}");
}

fn each_measured_outcome_ranks_its_own_way_and_the_rest_is_refused(desk: &Rehearsal) {
    for (outcome, first) in [("share", "River blue"), ("number", "Far blue")] {
        let told = desk.does(&format!("findings|--outcome|{outcome}|--layer|colour"));
        let means: Vec<f64> = told["variants"]
            .as_array()
            .unwrap()
            .iter()
            .map(|one| one["low10"].as_f64().unwrap())
            .collect();
        assert!(means[0] >= means[1], "{outcome}: {told}");
        if outcome == "share" {
            assert_eq!(told["variants"][0]["recipe"], first);
        }
    }
    let even = desk.does("findings|--outcome|evenness|--layer|colour");
    let ends: Vec<f64> = even["variants"]
        .as_array()
        .unwrap()
        .iter()
        .map(|one| one["high90"].as_f64().unwrap())
        .collect();
    assert!(ends[0] <= ends[1], "{even}");
    let sheet = desk.says("findings|--outcome|share|--csv");
    assert!(
        sheet.starts_with("recipe,variant,pours,own_mean,mean,low10,high90"),
        "{sheet}"
    );
    for words in ["--best", "--pair|rest,film", "--good|3"] {
        let (sentence, _) = desk.refuses(&format!("findings|--outcome|share|{words}"));
        assert!(sentence.contains("by your own cells"), "{sentence}");
    }
    desk.refuses("findings|--outcome|share|--by|nonsense");
    let none = desk.does("findings|--outcome|share|--dry");
    assert_eq!((&none["pours"], &none["middle"]), (&0.into(), &Value::Null));
    assert!(
        desk.says("findings|--outcome|share|--dry")
            .contains("no photo of these pours")
    );
}

fn pours_and_sheets_have_what_was_measured(desk: &Rehearsal) {
    let told = desk.does("pours");
    let last = &told["pours"][0];
    let median = last["measured"]["median_mm"].as_f64().unwrap();
    assert!((median - 24.0).abs() < 0.4, "{last}");
    let sheet = desk.says("csv pours");
    let mut lines = sheet.lines();
    let heads: Vec<&str> = lines.next().unwrap().split(',').collect();
    let cells: Vec<&str> = lines.last().unwrap().split(',').collect();
    let at = heads
        .iter()
        .position(|head| *head == "cells_median_mm")
        .unwrap();
    assert!(
        (cells[at].parse::<f64>().unwrap() - median).abs() < 1e-9,
        "{sheet}"
    );
    let photos = desk.says("csv photos");
    assert_eq!(photos.lines().count(), 13);
    assert!(photos.lines().next().unwrap().contains("median_mm"));
    // A pour without a photo has none of it.
    desk.does("photo|drop|12");
    assert_eq!(desk.does("pours")["pours"][0]["measured"], Value::Null);
}
