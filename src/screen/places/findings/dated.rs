//! Cells by date: every judged pour of the window, those with the chosen variant in them in its own colour.

use super::Findings;
use super::view::Section;
use crate::screen::kit::desk::Desk;
use crate::screen::kit::look::strong;
use crate::screen::kit::time_span::TimeSpan;
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
    let found = findings
        .chosen()
        .zip(findings.found().map(|found| found.bar));
    let (Some((one, bar)), Some((first, last))) = (found, first.zip(last)) else {
        return Section::default();
    };
    if across < 30 || (last - first).num_hours() < 24 {
        return Section::default();
    }
    let span = TimeSpan {
        from: first,
        until: last,
        cells: across,
    };
    let rows = rows(&pours, one, &span);
    let colour = desk.known.names.colour_of(&one.recipe, one.variant);
    let own = desk
        .paint(colour)
        .map_or(strong(), |ink| Style::new().fg(ink));
    let mut lines = vec![Line::default(), heading(one, colour, bar, desk)];
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

/// Which of them are whose, and where good begins, in words.
fn heading(one: &VariantTally, colour: Option<Colour>, bar: u8, desk: &Desk) -> Line<'static> {
    let about = colour.map(tell::recipes::about);
    let about = about.map(|words| format!(" ({words})")).unwrap_or_default();
    let name = variant_title(&one.recipe, one.variant);
    let words = format!(
        "Cells by date: ● with {}{about}, · without; ┄ good from {bar}",
        inert(&name)
    );
    Line::styled(words, desk.look.faint())
}

/// From five cells down, each place the most telling of what falls into it.
fn rows(pours: &[(Moment, u8, i64)], one: &VariantTally, span: &TimeSpan) -> Vec<Vec<Mark>> {
    let mut rows = vec![vec![Mark::Nothing; span.cells]; usize::from(MOST) + 1];
    for (at, cells, pour) in pours {
        let row = usize::from(MOST.saturating_sub(*cells));
        let mark = if one.behind.contains(pour) {
            Mark::Own
        } else {
            Mark::Other
        };
        let place = rows
            .get_mut(row)
            .and_then(|row| row.get_mut(span.cell(*at)));
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
