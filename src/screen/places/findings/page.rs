//! The pours behind a row, and one of them in full.

use super::view::Section;
use crate::screen::kit::look::{chosen, strong};
use crate::screen::kit::text::{Cut, fit, plain, wrap};
use crate::screen::shell::model::Model;
use crate::studio::{PourPage, local};
use crate::trade::amount::{Measures, show_volume};
use crate::trade::judgement::Judgement;
use crate::trade::pour::{Air, Move};
use crate::trade::text::inert;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};

/// The pours behind what is chosen, one a line, each group under its heading. What is far out of sight is left blank:
/// thousands of pours may stand behind a row, and it is drawn on every key.
pub fn behind_section(model: &Model, area: Rect) -> Section {
    let (width, height) = (usize::from(area.width), usize::from(area.height));
    let findings = &model.findings;
    let at = findings.behind.unwrap_or(0);
    let mut section = Section::default();
    let mut place = 0;
    for group in findings.groups() {
        let title = wrap(&inert(&group.title), width).into_iter();
        let title = title.map(|line| Line::styled(line, strong()));
        section.lines.extend(title);
        for page in group.pours {
            let is_chosen = Some(place) == findings.behind;
            if is_chosen {
                let at = section.lines.len();
                section.in_hand = Some(at..at + 1);
            }
            section.lines.push(match place.abs_diff(at) > height {
                true => Line::default(),
                false => behind_line(model, page, is_chosen, width),
            });
            place += 1;
        }
    }
    section
}

/// `› pour 14  Tue 18:30  ●●●●· 4 good  dry  40 x 50 cm`.
fn behind_line(model: &Model, page: &PourPage, is_chosen: bool, width: usize) -> Line<'static> {
    let pour = &page.pour;
    let number = format!("pour {:<4}", pour.id);
    let at = local(pour.at, &model.beat.now);
    let cells = page.counting().map_or(0, |judged| judged.cells);
    let bar = model.findings.found().map_or(4, |found| found.bar);
    let good = if cells >= bar { "good" } else { "" };
    let seen = page.counting().map_or("", |judged| seen(judged.dry));
    let panel = pour.panel.show(model.known.measures());
    let fixed = 2 + 9 + 1 + 16 + 1 + 5 + 3 + 4 + 1 + 3 + 1;
    let rest = fit(&panel, width.saturating_sub(fixed), Cut::End);
    Line::from(vec![
        plain(if is_chosen { "› " } else { "  " }),
        Span::styled(number, if is_chosen { chosen() } else { strong() }),
        plain(format!(
            " {at:<16} {} {cells} {good:<4} {seen:<3} {rest}",
            dots(cells)
        )),
    ])
}

const fn seen(dry: bool) -> &'static str {
    if dry { "dry" } else { "wet" }
}

fn dots(cells: u8) -> String {
    let full = usize::from(cells.min(5));
    "■".repeat(full) + &"·".repeat(5 - full)
}

/// A pour in full: what was poured on what and how, and every judgement.
pub fn page_lines(model: &Model, page: &PourPage, width: usize) -> Vec<Line<'static>> {
    let (pour, measures) = (&page.pour, model.known.measures());
    let at = local(pour.at, &model.beat.now);
    let mut lines = vec![
        Line::styled(format!("Pour {}, go {}, {at}", pour.id, pour.go), strong()),
        Line::from(on_what(page, measures)),
    ];
    lines.extend(goes(page).map(Line::from));
    lines.push(Line::styled(
        "layers, the top one first",
        model.look.faint(),
    ));
    lines.extend(layers(page, measures).into_iter().rev().map(Line::from));
    if !pour.moves.is_empty() {
        let moves: Vec<_> = pour.moves.iter().map(moved).collect();
        let words = format!("then {}", moves.join(", "));
        lines.extend(wrap(&words, width).into_iter().map(Line::from));
    }
    lines.push(Line::styled("judged", model.look.faint()));
    for judged in &page.judgements {
        let at = local(judged.at, &model.beat.now);
        let words = format!("{at}  {}", judgement(judged));
        lines.extend(wrap(&words, width).into_iter().map(Line::from));
    }
    let note = pour.note.as_ref().map(|note| inert(note).into_owned());
    let note = note.map(|note| wrap(&note, width)).unwrap_or_default();
    lines.extend(note.into_iter().map(Line::from));
    lines
}

fn on_what(page: &PourPage, measures: Measures) -> String {
    let pour = &page.pour;
    let mut said = vec![pour.panel.show(measures)];
    said.extend(pour.way.as_ref().map(|way| inert(way).into_owned()));
    said.extend(pour.air.map(air));
    said.join("; ")
}

fn air(air: Air) -> String {
    let celsius = air.celsius.map(|c| format!("{:.0} C", c.get()));
    let humidity = air.humidity.map(|share| share.get() * 100.0);
    let humidity = humidity.map(|percent| format!("{percent:.0} % humid"));
    let told: Vec<_> = celsius.into_iter().chain(humidity).collect();
    told.join(", ")
}

/// Of which pour it is a start-over, and for which it was scraped.
fn goes(page: &PourPage) -> impl Iterator<Item = String> {
    let again = page
        .pour
        .again_of
        .map(|of| format!("begun again after pour {of}"));
    let scraped = page.scraped_for.map(|by| format!("scraped for pour {by}"));
    again.into_iter().chain(scraped)
}

/// One line a layer, lowest first: cup, variant, how much, and what it was then.
fn layers(page: &PourPage, measures: Measures) -> Vec<String> {
    let line = |((mark, title), layer): (&(String, String), &crate::trade::pour::PouredLayer)| {
        let mound = layer.mound.map(|mound| format!(", {:.1} s", mound.get()));
        format!(
            "  {:<4}{:>8}  {}, {}{}",
            inert(mark),
            show_volume(layer.ml, measures),
            inert(title),
            layer.state,
            mound.unwrap_or_default()
        )
    };
    page.layers
        .iter()
        .zip(&page.pour.layers)
        .map(line)
        .collect()
}

fn moved(one: &Move) -> String {
    let direction = one.direction.as_ref().map(|way| inert(way).into_owned());
    let times = one.times.map(|times| times.to_string());
    let words = [Some(one.kind.to_string()), direction, times];
    words.into_iter().flatten().collect::<Vec<_>>().join(" ")
}

/// `dry: cells 4, fine, muddy 1, kept; the left half`.
fn judgement(one: &Judgement) -> String {
    let grades = [
        ("even", one.evenness),
        ("lacing", one.lacing),
        ("muddy", one.muddy),
        ("crazed", one.crazed),
        ("pinholes", one.pinholes),
    ];
    let grades = grades
        .into_iter()
        .filter_map(|(word, grade)| Some(format!("{word} {}", grade?)));
    let mut said = vec![format!("cells {}", one.cells)];
    said.extend(one.size.map(|size| size.to_string()));
    said.extend(grades);
    said.extend(one.fate.map(|fate| fate.to_string()));
    let note = one.note.as_ref().map(|note| format!("; {}", inert(note)));
    format!(
        "{}: {}{}",
        seen(one.dry),
        said.join(", "),
        note.unwrap_or_default()
    )
}
