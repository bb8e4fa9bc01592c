//! The pours behind a row, and one of them in full.

use super::Findings;
use super::view::Section;
use crate::screen::kit::amounts::{show_move, start};
use crate::screen::kit::desk::Desk;
use crate::screen::kit::look::{chosen, strong};
use crate::screen::kit::sheet::Sheet;
use crate::screen::kit::text::{Cut, fit, plain, wrap};
use crate::studio::{PourPage, PouredCup, local};
use crate::trade::amount::{Measures, show_volume};
use crate::trade::judgement::Judgement;
use crate::trade::pour::{Air, PouredLayer};
use crate::trade::text::inert;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};

/// The pours behind what is chosen, one a line, each group under its heading. What is far out of sight is left blank:
/// thousands of pours may stand behind a row, and it is drawn on every key.
pub fn behind_section(findings: &Findings, desk: &Desk, area: Rect) -> Section {
    let (width, height) = (usize::from(area.width), usize::from(area.height));
    let findings = &findings;
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
                false => behind_line(findings, desk, page, is_chosen, width),
            });
            place += 1;
        }
    }
    section
}

/// `› pour 14  Tue 18:30  ●●●●· 4 good  dry  40 x 50 cm`.
fn behind_line(
    findings: &Findings,
    desk: &Desk,
    page: &PourPage,
    is_chosen: bool,
    width: usize,
) -> Line<'static> {
    let pour = &page.pour;
    let number = format!("pour {:<4}", pour.id);
    let at = local(pour.at, &desk.beat.now);
    let cells = page.counting().map_or(0, |judged| judged.cells);
    let bar = findings.found().map_or(4, |found| found.bar);
    let good = if cells >= bar { "good" } else { "" };
    let seen = page.counting().map_or("", |judged| seen(judged.dry));
    let panel = pour.panel.show(desk.measures());
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
pub fn sheet(desk: &Desk, page: &PourPage) -> Sheet {
    let (pour, now, measures) = (&page.pour, &desk.beat.now, desk.measures());
    let at = local(pour.at, now);
    let mut sheet = Sheet::titled(&format!("Picture {}{}, {at}", pour.id, start(pour.go)));
    sheet.words(&on_what(page, measures));
    goes(page).for_each(|words| sheet.words(&words));
    sheet.heading("layers, the top one first");
    for (ml, words) in layers(page, measures).iter().rev() {
        sheet.beside(ml, words);
    }
    if !pour.moves.is_empty() {
        let moves: Vec<_> = pour.moves.iter().map(show_move).collect();
        sheet.words(&format!("then {}", moves.join(", ")));
    }
    sheet.heading("judged");
    for judged in &page.judgements {
        sheet.beside(&local(judged.at, now), &judgement(judged));
    }
    pour.note.iter().for_each(|note| sheet.words(note));
    sheet
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

/// Of each layer, lowest first: how much; cup, variant, and what it was then.
fn layers(page: &PourPage, measures: Measures) -> Vec<(String, String)> {
    let line = |(PouredCup { mark, variant }, layer): (&PouredCup, &PouredLayer)| {
        let mound = layer.mound.map(|mound| format!(", {:.1} s", mound.get()));
        let mound = mound.unwrap_or_default();
        let ml = show_volume(layer.ml, measures);
        (ml, format!("{mark} {variant}, {}{mound}", layer.state))
    };
    let cups = page.layers.iter().zip(&page.pour.layers);
    cups.map(line).collect()
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
