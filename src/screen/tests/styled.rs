//! Every screen as it is drawn, with its colours and weights, at four sizes, beside the assertions of the other files.
//!
//! A picture that changed is looked at, and accepted by `INSTA_UPDATE=always cargo test --lib screen::tests::styled`.

use super::{Play, Stage, keys, lines, photos, swatches};
use crate::screen::kit::look::Look;
use crate::studio::{JudgeOrder, PourOrder};
use chrono::TimeDelta;
use ratatui::buffer::{Buffer, Cell};
use ratatui::style::{Color, Modifier};
use std::fmt::Write;

const SIZES: [(u16, u16); 4] = [(50, 16), (80, 24), (120, 40), (160, 50)];

/// Cups in every state that matters, and a picture that has lain for ten days, judged wet.
fn stage() -> Stage {
    let mut stage = Stage::with_cups();
    let poured = TimeDelta::days(10);
    stage.mix("Cell opener", "C5", -poured - TimeDelta::hours(2), None);
    let order = PourOrder {
        way: Some("swipe".to_owned()),
        at: Some(stage.now.at - poured),
        ..stage.stack("20x30cm", &[("C5", 60.0)])
    };
    let mut studio = stage.studio();
    let pour = studio.pour(&order, &stage.now).unwrap().pour.id;
    let order = JudgeOrder {
        cells: 4,
        at: Some(stage.now.at - poured),
        ..JudgeOrder::default()
    };
    studio.judge(pour, &order, &stage.now).unwrap();
    swatches::coloured(&stage);
    stage.look = Look::Full;
    stage
}

/// What a cell has beside its sign; nothing where it is plain, or a photo's pixels: those belong to the photo.
fn style(cell: &Cell) -> String {
    if cell.symbol() == "▀" {
        return String::new();
    }
    let mut said = Vec::new();
    said.extend((cell.fg != Color::Reset).then(|| format!("{:?}", cell.fg)));
    said.extend((cell.bg != Color::Reset).then(|| format!("on {:?}", cell.bg)));
    said.extend((cell.modifier != Modifier::empty()).then(|| format!("{:?}", cell.modifier)));
    said.join(" ").to_lowercase()
}

/// The lines, then of each line the stretches that are not plain: `3: 0..12 bold | 14..20 red`.
fn drawn(buffer: &Buffer) -> String {
    let mut text = lines(buffer).join("\n");
    text.push_str("\n----");
    for y in 0..buffer.area.height {
        let styles: Vec<String> = (0..buffer.area.width)
            .map(|x| style(&buffer[(x, y)]))
            .collect();
        let mut runs = Vec::new();
        let mut from = 0;
        for run in styles.chunk_by(|one, next| one == next) {
            let to = from + run.len();
            runs.extend((!run[0].is_empty()).then(|| format!("{from}..{to} {}", run[0])));
            from = to;
        }
        if !runs.is_empty() {
            write!(text, "\n{y}: {}", runs.join(" | ")).unwrap();
        }
    }
    text
}

/// One screen at every size.
fn pictured(name: &str, script: &str) {
    pictured_on(stage(), name, || keys(script));
}

/// The same of a studio that was set up for it.
fn pictured_on(mut stage: Stage, name: &str, script: impl Fn() -> Vec<Play>) {
    let pictures = SIZES.map(|size| {
        stage.size = size;
        let buffer = stage.play(script());
        format!("==== {} x {}\n{}", size.0, size.1, drawn(&buffer))
    });
    insta::with_settings!({
        snapshot_path => "styled",
        prepend_module_to_snapshot => false,
        omit_expression => true,
    }, { insta::assert_snapshot!(name, pictures.join("\n")) });
}

#[test]
fn the_bench_is_drawn_as_it_was_looked_at() {
    pictured("bench", "1");
}

#[test]
fn a_cups_life_is_drawn_as_it_was_looked_at() {
    pictured("life", "Enter");
}

#[test]
fn the_pour_is_drawn_as_it_was_looked_at() {
    pictured("pour", "P A");
}

#[test]
fn the_rack_is_drawn_as_it_was_looked_at() {
    pictured("rack", "R");
}

#[test]
fn the_findings_are_drawn_as_they_were_looked_at() {
    pictured("findings", "F");
}

#[test]
fn the_shelf_is_drawn_as_it_was_looked_at() {
    pictured("shelf", "S");
}

#[test]
fn the_plans_are_drawn_as_they_were_looked_at() {
    pictured("plan", "L");
}

#[test]
fn the_recipes_are_drawn_as_they_were_looked_at() {
    pictured("recipes", "C");
}

#[test]
fn the_trials_are_drawn_as_they_were_looked_at() {
    pictured("trials", "T");
}

#[test]
fn a_form_is_drawn_as_it_was_looked_at() {
    pictured("form", "m");
}

#[test]
fn the_help_is_drawn_as_it_was_looked_at() {
    pictured("help", "?");
}

#[test]
fn the_photos_are_drawn_as_they_were_looked_at() {
    let mut stage = photos::stage_measured();
    stage.look = Look::Full;
    pictured_on(stage, "photos", || {
        let mut script = keys("3 p");
        script.extend(photos::meanwhile());
        script
    });
}

#[test]
fn the_judging_is_drawn_as_it_was_looked_at() {
    pictured("judging", "3 d");
}
