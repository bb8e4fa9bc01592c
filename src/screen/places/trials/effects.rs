//! What a trial found: each effect drawn on one axis and said in words.

use super::Trials;
use crate::numbers::statistics::effects::Effect;
use crate::screen::kit::desk::Desk;
use crate::screen::kit::look::{Look, strong};
use crate::screen::kit::text::wrap;
use crate::studio::{EffectAxis, TrialFindings, stands_clear};
use crate::tell;
use crate::trade::text::inert;
use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::Line;
use ratatui::widgets::Paragraph;

/// From this width on the words stand beside the drawing.
const WIDE: usize = 110;
/// The most cells of the drawing on either side of nothing.
const HALF: usize = 30;
/// What the numbers of the axis are.
const AXIS: &str = "cells";
/// Blanks between the drawing and the words beside it.
const GAP: usize = 3;

/// Draws it.
pub fn view(trials: &Trials, desk: &Desk, frame: &mut Frame<'_>, area: Rect) {
    let width = usize::from(area.width);
    let lines = match &trials.found {
        None => Vec::new(),
        Some(Err(why)) => styled(&inert(why), width, desk.look.wrong()),
        Some(Ok(found)) => lines(desk, found, width),
    };
    let last = lines.len().saturating_sub(usize::from(area.height).max(1));
    let from = trials.from.min(last);
    let lines: Vec<_> = lines.into_iter().skip(from).collect();
    frame.render_widget(Paragraph::new(lines), area);
}

fn lines(desk: &Desk, found: &TrialFindings, width: usize) -> Vec<Line<'static>> {
    let look = desk.look;
    let shown = found.shown();
    let half = (width.saturating_sub(AXIS.len() + 2) / 2).min(HALF);
    let axis = EffectAxis::of(&shown, half);
    let head = format!("{} {AXIS}", axis.head());
    let mut lines = vec![Line::styled(head, look.faint())];
    for effect in shown {
        lines.extend(drawn(look, found, effect, axis, width));
    }
    let notes = tell::trials::left_out(found).into_iter();
    let notes = notes.chain(tell::trials::notes(found));
    let notes = notes.chain(tell::trials::aliases(&found.page));
    lines.extend(notes.flat_map(|words| styled(&inert(&words), width, look.faint())));
    lines
}

/// An effect: drawn, and its words beneath or, where there is room, beside.
fn drawn(
    look: Look,
    found: &TrialFindings,
    effect: &Effect,
    axis: EffectAxis,
    width: usize,
) -> Vec<Line<'static>> {
    let words = tell::trials::effect(effect, &found.page.factors);
    let words = inert(&words).into_owned();
    let style = if stands_clear(effect) {
        strong()
    } else {
        Style::new()
    };
    let line = axis.line(effect);
    if width < WIDE {
        let mut lines = styled(&words, width, style);
        lines.push(Line::styled(line, look.faint().patch(style)));
        return lines;
    }
    let cells = line.chars().count();
    let beside = wrap(&words, width.saturating_sub(cells + GAP)).into_iter();
    let drawn = |at| if at == 0 { line.as_str() } else { "" };
    beside
        .enumerate()
        .map(|(at, words)| Line::styled(format!("{:cells$}{:GAP$}{words}", drawn(at), ""), style))
        .collect()
}

fn styled(words: &str, width: usize, style: Style) -> Vec<Line<'static>> {
    let lines = wrap(words, width).into_iter();
    lines.map(|line| Line::styled(line, style)).collect()
}
