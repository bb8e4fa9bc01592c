//! Cells by date: every judged pour of the window, those with the chosen variant in them in its own colour.

use super::Findings;
use super::view::Section;
use crate::screen::kit::desk::Desk;
use crate::screen::kit::look::strong;
use crate::studio::{VariantTally, day};
use crate::tell;
use crate::trade::colour::Colour;
use crate::trade::moment::Moment;
use crate::trade::recipe::variant_title;
use crate::trade::text::inert;
use ratatui::style::Style;
use ratatui::text::{Line, Span};

/// Cells are judged from 0 to this.
const MOST: u8 = 5;
/// Cells of the scale beside the drawing, and of its width at most.
const MARGIN: usize = 4;
const WIDEST: usize = 90;

/// What stands in one place of the drawing; a later one covers an earlier one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Mark {
    Nothing,
    Other,
    Own,
}

/// The drawing; nothing of fewer than two days.
pub fn section(findings: &Findings, desk: &Desk, width: usize) -> Section {
    let pours = findings.dated();
    let (first, last) = (
        pours.iter().map(|one| one.0).min(),
        pours.iter().map(|one| one.0).max(),
    );
    let across = width.saturating_sub(MARGIN).min(WIDEST);
    let (Some(one), Some((first, last))) = (findings.chosen(), first.zip(last)) else {
        return Section::default();
    };
    if across < 30 || (last - first).num_hours() < 24 {
        return Section::default();
    }
    let rows = rows(&pours, one, (first, last), across);
    let colour = desk.known.names.colour_of(&one.recipe, one.variant);
    let own = desk
        .paint(colour)
        .map_or(strong(), |ink| Style::new().fg(ink));
    let mut lines = vec![Line::default(), heading(one, colour, desk)];
    let bar = findings.found().map_or(4, |found| found.bar);
    let drawn = rows
        .iter()
        .enumerate()
        .map(|(row, marks)| drawn(desk, row, marks, own, bar));
    lines.extend(drawn);
    let (first, last) = (day(first, &desk.beat.now), day(last, &desk.beat.now));
    let gap = across.saturating_sub(first.chars().count());
    let ends = format!("{:MARGIN$}{first}{last:>gap$}", "");
    lines.push(Line::styled(ends, desk.look.faint()));
    Section {
        lines,
        in_hand: None,
    }
}

/// Which of them are whose, in words, with the swatch of the one that is in hand.
fn heading(one: &VariantTally, colour: Option<Colour>, desk: &Desk) -> Line<'static> {
    let about = colour.map(tell::recipes::about);
    let about = about.map(|words| format!(" ({words})")).unwrap_or_default();
    let name = variant_title(&one.recipe, one.variant);
    let words = format!("Cells by date: ● with {}{about}, · without", inert(&name));
    Line::styled(words, desk.look.faint())
}

/// From five cells down, each place the most telling of what falls into it.
fn rows(
    pours: &[(Moment, u8, i64)],
    one: &VariantTally,
    (first, last): (Moment, Moment),
    across: usize,
) -> Vec<Vec<Mark>> {
    let whole = (last - first).num_seconds().max(1) as f64;
    let mut rows = vec![vec![Mark::Nothing; across]; usize::from(MOST) + 1];
    for (at, cells, pour) in pours {
        let share = (*at - first).num_seconds() as f64 / whole;
        let column = (share * (across - 1) as f64).round() as usize;
        let row = usize::from(MOST.saturating_sub(*cells));
        let mark = if one.behind.contains(pour) {
            Mark::Own
        } else {
            Mark::Other
        };
        let place = rows.get_mut(row).and_then(|row| row.get_mut(column));
        place
            .into_iter()
            .for_each(|place| *place = mark.max(*place));
    }
    rows
}

fn drawn(desk: &Desk, row: usize, marks: &[Mark], own: Style, bar: u8) -> Line<'static> {
    let cells = MOST.saturating_sub(u8::try_from(row).unwrap_or(MOST));
    // Where good begins, a line is drawn through.
    let ground = if cells == bar { "┄" } else { " " };
    let mut spans = vec![Span::styled(format!("{cells:>2}  "), desk.look.faint())];
    spans.extend(marks.chunk_by(|a, b| a == b).map(|run| {
        let (sign, style) = match run[0] {
            Mark::Nothing => (ground, desk.look.faint()),
            Mark::Other => ("·", Style::new()),
            Mark::Own => ("●", own),
        };
        Span::styled(sign.repeat(run.len()), style)
    }));
    Line::from(spans)
}
