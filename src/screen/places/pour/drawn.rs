//! The stack drawn to scale beside its ladder, where there is room: films in millimetres one on another, and the panel.

use super::PourDesk;
use crate::screen::kit::desk::Desk;
use crate::screen::kit::films::{self, Film};
use crate::screen::kit::look::strong;
use crate::screen::kit::text::{plain, wrap};
use crate::studio::{StackLayer, StackSheet};
use crate::tell;
use crate::trade::ids::VariantId;
use crate::trade::length::show_length;
use crate::trade::panel::Panel;
use crate::trade::units::Millimetres;
use ratatui::text::Line;

/// Lines that the films take at most, and those of the panel.
const FILMS: usize = 20;
const PANEL: usize = 10;
/// Lines that words take beside what is drawn.
const WORDS: usize = 8;
/// Cells of a rung for each second of mound.
const CELLS_A_SECOND: f64 = 2.0;

/// The stack and the panel, as much as the room holds; nothing while no panel or no layer is known.
pub fn lines(pour: &PourDesk, desk: &Desk, width: usize, height: usize) -> Vec<Line<'static>> {
    let Some((panel, sheet)) = pour.panel.zip(pour.sheet.as_ref()) else {
        return wrap(
            "Once the panel (p) and a layer (a) are said, the films are drawn here to scale.",
            width,
        )
        .into_iter()
        .map(|line| Line::styled(line, desk.look.faint()))
        .collect();
    };
    let most = height.saturating_sub(WORDS).clamp(3, FILMS);
    let mut lines = stack(sheet, desk, (width, most));
    let left = height.saturating_sub(lines.len() + WORDS / 2).min(PANEL);
    if left >= 4 {
        lines.extend(from_above(panel, sheet, desk, (width, left)));
    }
    lines
}

fn stack(sheet: &StackSheet, desk: &Desk, (width, most): (usize, usize)) -> Vec<Line<'static>> {
    let drawn: Vec<Film> = (0..sheet.layers.len())
        .filter_map(|place| film(sheet, place, desk))
        .collect();
    let step = films::step(&drawn, most);
    let mut lines = vec![Line::styled(
        "The films to scale, and their mounds",
        strong(),
    )];
    lines.extend(films::stack(desk, &drawn, step, width));
    lines.push(Line::styled("▔".repeat(16), desk.look.faint()));
    let scale = show_length(step, desk.measures());
    lines.push(Line::styled(
        format!("a line is {scale}; spread evenly"),
        desk.look.faint(),
    ));
    if (0..sheet.layers.len()).any(|place| is_heavier(sheet, place)) {
        lines.push(plain("▼ heavier than the layer below").into());
    }
    lines
}

/// A layer as it is drawn: its mark and depth, whether it is the heavier, its mound.
fn film(sheet: &StackSheet, place: usize, desk: &Desk) -> Option<Film> {
    let layer = sheet.layers.get(place)?;
    let depth = show_length(layer.film, desk.measures());
    let heavier = if is_heavier(sheet, place) { "▼" } else { " " };
    Some(Film {
        label: format!("{:<3}{depth:>8} {heavier} ", layer.standing.cup.mark),
        depth: layer.film,
        colour: desk
            .known
            .names
            .colour(VariantId(layer.standing.variant.id)),
        rung: rung(layer),
    })
}

/// `2.5 s ■■■■■`, or that it is unread.
fn rung(layer: &StackLayer) -> String {
    let mound = tell::cups::mound_now(&layer.standing).unwrap_or_else(|| "unread".to_owned());
    let mid = layer.standing.outlook.mound_mid();
    let cells = mid.map_or(0.0, |mound| mound.get() * CELLS_A_SECOND);
    format!("{mound:>7} {}", "■".repeat(cells.round() as usize))
}

fn is_heavier(sheet: &StackSheet, place: usize) -> bool {
    let below = place.checked_sub(1).and_then(|step| sheet.steps.get(step));
    below.is_some_and(|step| step.heavy_over_light == Some(true))
}

/// The panel in its proportions, and what lies on it in all.
fn from_above(
    panel: Panel,
    sheet: &StackSheet,
    desk: &Desk,
    (width, down): (usize, usize),
) -> Vec<Line<'static>> {
    let whole: Millimetres = sheet.layers.iter().map(|layer| layer.film).sum();
    let (size, deep) = (
        panel.show(desk.measures()),
        show_length(whole, desk.measures()),
    );
    let words = format!("The panel, {size}: {deep} wet in all");
    let mut lines = vec![Line::default(), Line::styled(words, strong())];
    let outline = films::panel(panel, width.saturating_sub(2), down).into_iter();
    lines.extend(outline.map(|line| plain(line).into()));
    lines
}
