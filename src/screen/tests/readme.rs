//! What the README shows of the screen: a recording drawn from the real cells of the demo, and the keys of the Bench.

use super::{Stage, keys};
use crate::screen::Screen;
use crate::screen::kit::look::Look;
use crate::screen::shell::keys::{Context, as_they_come};
use crate::trade::instant::{Now, Zone};
use crate::trade::text::inert;
use chrono::DateTime;
use ratatui::buffer::{Buffer, Cell};
use ratatui::style::{Color, Modifier};
use std::fmt::Write;

const README: &str = include_str!("../../../README.md");
const RECORDING: &str = include_str!("../../../assets/recording.svg");

/// What is pressed for each picture of the recording, and what is said beneath it.
const SCENES: [(&str, &str); 5] = [
    (
        "1",
        "The Bench: what is resting, ready, thick, and what to do next",
    ),
    ("1 Enter", "Enter: a cup's whole life"),
    ("2", "2: the stack to be poured"),
    ("3", "3: pictures drying, and when they may be varnished"),
    ("4", "4: what really gave good cells, and how sure that is"),
];

/// Columns and rows; a cell and a picture's time on the screen.
const SIZE: (u16, u16) = (110, 30);
const CELL: (f64, f64) = (8.4, 18.0);
const SECONDS: usize = 4;
const INK: &str = "#e6e6e6";
const GROUND: &str = "#16181d";

fn demo() -> Stage {
    let at = DateTime::parse_from_rfc3339("2026-11-25T16:20:00+01:00").unwrap();
    let mut stage = Stage::empty();
    stage.now = Now {
        at,
        zone: Zone::Fixed(*at.offset()),
    };
    stage.size = SIZE;
    stage.look = Look::Full;
    stage.studio().seed_demo(&stage.now).unwrap();
    stage
}

fn recorded() -> String {
    let stage = demo();
    let (wide, high) = (
        f64::from(SIZE.0) * CELL.0 + 24.0,
        f64::from(SIZE.1 + 2) * CELL.1 + 16.0,
    );
    let whole = SECONDS * SCENES.len();
    let part = 100 / SCENES.len();
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {wide:.0} {high:.0}\" \
         font-family=\"DejaVu Sans Mono, Menlo, Consolas, monospace\" font-size=\"14\">\n\
         <style>g{{opacity:0;animation:s {whole}s step-end infinite}}g:first-of-type{{opacity:1}}\
         @keyframes s{{0%{{opacity:1}}{part}%{{opacity:0}}100%{{opacity:0}}}}</style>\n\
         <rect width=\"100%\" height=\"100%\" rx=\"8\" fill=\"{GROUND}\"/>\n"
    );
    for (at, (pressed, said)) in SCENES.into_iter().enumerate() {
        let buffer = stage.play(keys(pressed));
        let delay = at * SECONDS;
        writeln!(svg, "<g style=\"animation-delay:{delay}s\">").unwrap();
        for y in 0..SIZE.1 {
            row(&mut svg, &buffer, y);
        }
        let below = f64::from(SIZE.1 + 1) * CELL.1 + 8.0;
        writeln!(
            svg,
            "<text x=\"12\" y=\"{below:.1}\" fill=\"#8fb8de\">{}</text>\n</g>",
            marked(said)
        )
        .unwrap();
    }
    svg + "</svg>\n"
}

/// One line of cells, in stretches of one style.
fn row(svg: &mut String, buffer: &Buffer, y: u16) {
    let cells: Vec<&Cell> = (0..SIZE.0).map(|x| &buffer[(x, y)]).collect();
    let mut at = 0;
    for run in cells.chunk_by(|one, next| one.style() == next.style()) {
        let text: String = run.iter().map(|cell| cell.symbol()).collect();
        let x = 12.0 + f64::from(at) * CELL.0;
        let wide = CELL.0 * run.len() as f64;
        stretch(
            svg,
            (run[0], &text),
            (x, f64::from(y) * CELL.1 + 25.5, wide),
        );
        at += u16::try_from(run.len()).unwrap();
    }
}

fn stretch(svg: &mut String, (cell, text): (&Cell, &str), (x, y, wide): (f64, f64, f64)) {
    let has = |modifier| cell.modifier.contains(modifier);
    let reversed = has(Modifier::REVERSED);
    let ground = if reversed {
        Some(hue(cell.fg, INK))
    } else {
        background(cell)
    };
    if let Some(ground) = ground {
        let top = y - 13.5;
        writeln!(svg, "<rect x=\"{x:.1}\" y=\"{top:.1}\" width=\"{wide:.1}\" height=\"18\" fill=\"{ground}\"/>").unwrap();
    }
    if text.trim().is_empty() {
        return;
    }
    let ink = if reversed {
        hue(cell.bg, GROUND)
    } else {
        hue(cell.fg, INK)
    };
    let bold = if has(Modifier::BOLD) {
        " font-weight=\"bold\""
    } else {
        ""
    };
    let faint = if has(Modifier::DIM) {
        " opacity=\".65\""
    } else {
        ""
    };
    let text = marked(text);
    writeln!(svg, "<text x=\"{x:.1}\" y=\"{y:.1}\" fill=\"{ink}\" xml:space=\"preserve\" textLength=\"{wide:.1}\"{bold}{faint}>{text}</text>").unwrap();
}

fn background(cell: &Cell) -> Option<String> {
    (cell.bg != Color::Reset).then(|| hue(cell.bg, GROUND))
}

fn hue(colour: Color, other: &str) -> String {
    match colour {
        Color::Rgb(r, g, b) => format!("#{r:02x}{g:02x}{b:02x}"),
        _ => other.to_owned(),
    }
}

fn marked(text: &str) -> String {
    inert(text).replace('&', "&amp;").replace('<', "&lt;")
}

/// The keys of the Bench and those that hold everywhere, as the README has them.
fn table() -> String {
    let mut table = String::from("| key | what it does |\n|---|---|\n");
    for context in [Context::Screen(Screen::Bench), Context::Shell] {
        let lines = as_they_come(context).into_iter();
        for line in lines.filter(|line| !line.word.is_empty()) {
            let names: Vec<String> = line.keys.iter().map(|key| key.name()).collect();
            writeln!(
                table,
                "| {} | {} |",
                names.join(" "),
                line.help.replace('|', "\\|")
            )
            .unwrap();
        }
    }
    table
}

#[test]
fn the_readme_has_the_keys_of_the_table() {
    assert!(
        README.contains(&table()),
        "the README's table of keys is to be:\n{}",
        table()
    );
}

#[test]
#[ignore = "makes the demo anew: run it, and record again, when screens have changed"]
fn the_recording_is_what_the_screen_shows_of_the_demo() {
    assert!(
        recorded() == RECORDING,
        "the screens have changed: look, then run the ignored test that records them"
    );
}

#[test]
#[ignore = "records the screens anew"]
fn record_the_screens() {
    let file = concat!(env!("CARGO_MANIFEST_DIR"), "/assets/recording.svg");
    std::fs::write(file, recorded()).unwrap();
    println!("{}", table());
}
