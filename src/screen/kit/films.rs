//! A stack of wet films drawn to scale, one on another as they lie, and a panel seen from above in its proportions.
//!
//! Only what is known is drawn: how deep each film would lie if it were spread evenly, and its paint's colour. How the paint
//! lies on the panel once it has moved, nobody knows.

use crate::screen::kit::desk::Desk;
use crate::screen::kit::text::{Cut, fit, plain};
use crate::trade::colour::Colour;
use crate::trade::panel::{Panel, Shape};
use crate::trade::units::Millimetres;
use ratatui::style::Style;
use ratatui::text::{Line, Span};

/// Cells of a film's width.
const ACROSS: usize = 16;
/// The depths that one line may stand for.
const STEPS: [f64; 9] = [0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0];
/// How a film is filled whose colour is unknown or not shown, by turns, so that two neighbours are told apart.
const FILLS: [&str; 2] = ["░", "▒"];
/// A cell of a terminal is about twice as high as it is wide.
const ASPECT: f64 = 2.0;

/// One film of a stack.
#[derive(Debug, Clone, PartialEq)]
pub struct Film {
    /// What stands beside it.
    pub label: String,
    /// How deep it lies.
    pub depth: Millimetres,
    /// Its paint's colour.
    pub colour: Option<Colour>,
    /// Its mound's ladder, beside the label.
    pub rung: String,
}

/// The depth of one line, so that the whole takes no more than so many lines.
pub fn step(films: &[Film], most: usize) -> Millimetres {
    let fits = |step: &&f64| films.iter().map(|film| rows(film, **step)).sum::<usize>() <= most;
    let step = STEPS.iter().find(fits).or(STEPS.last());
    Millimetres(step.copied().unwrap_or(1.0))
}

/// The lines a film takes: none is left out, however thin it is.
fn rows(film: &Film, step: f64) -> usize {
    ((film.depth.get() / step).round() as usize).max(1)
}

/// The stack from the top down; `films` are lowest first.
pub fn stack(desk: &Desk, films: &[Film], step: Millimetres, width: usize) -> Vec<Line<'static>> {
    let numbered = films.iter().enumerate().rev();
    let lines = numbered.flat_map(|(place, film)| drawn(desk, film, place, step, width));
    lines.collect()
}

fn drawn(
    desk: &Desk,
    film: &Film,
    place: usize,
    step: Millimetres,
    width: usize,
) -> Vec<Line<'static>> {
    let rows = rows(film, step.get());
    let room = width.saturating_sub(ACROSS + 1);
    let beside = |row: usize| match row == rows / 2 {
        true => fit(&format!("{}{}", film.label, film.rung), room, Cut::End),
        false => String::new(),
    };
    let line = |row| {
        Line::from(vec![
            fill(desk, film, place),
            plain(format!(" {}", beside(row))),
        ])
    };
    (0..rows).map(line).collect()
}

fn fill(desk: &Desk, film: &Film, place: usize) -> Span<'static> {
    match desk.paint(film.colour) {
        Some(ink) => Span::styled("█".repeat(ACROSS), Style::new().fg(ink)),
        None => Span::styled(FILLS[place % 2].repeat(ACROSS), desk.look.faint()),
    }
}

/// A panel from above, no larger than so many cells: its outline, and nothing in it.
pub fn panel(panel: Panel, across: usize, down: usize) -> Vec<String> {
    let (width, height) = match panel.shape {
        Shape::Rectangle { width, height } | Shape::Oval { width, height } => (width, height),
        Shape::Round { diameter } => (diameter, diameter),
    };
    let ratio = width.get() / height.get() * ASPECT;
    let down = (down as f64).min(across as f64 / ratio).round().max(3.0);
    let across = (down * ratio).round().clamp(4.0, across as f64) as usize;
    match panel.shape {
        Shape::Rectangle { .. } => square(across, down as usize),
        Shape::Round { .. } | Shape::Oval { .. } => round(across, down as usize),
    }
}

fn square(across: usize, down: usize) -> Vec<String> {
    let bar = "─".repeat(across - 2);
    let side = format!("│{}│", " ".repeat(across - 2));
    let mut lines = vec![format!("┌{bar}┐")];
    lines.extend(std::iter::repeat_n(side, down - 2));
    lines.push(format!("└{bar}┘"));
    lines
}

/// Each line of an ellipse ends where it meets it half way up.
fn round(across: usize, down: usize) -> Vec<String> {
    let line = |row: usize| {
        let up = (row as f64 + 0.5) / down as f64 * 2.0 - 1.0;
        let reach = (1.0 - up * up).max(0.0).sqrt() * across as f64;
        let inner = (reach.round() as usize).clamp(2, across) - 2;
        // As far from the left as from the right.
        let inner = inner.saturating_sub((across - inner) % 2);
        let edge = row == 0 || row + 1 == down;
        let middle = if edge { "·" } else { " " }.repeat(inner);
        let before = " ".repeat((across - inner - 2) / 2);
        format!("{before}·{middle}·")
    };
    (0..down).map(line).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn film(depth: f64) -> Film {
        Film {
            label: String::new(),
            depth: Millimetres(depth),
            colour: None,
            rung: String::new(),
        }
    }

    #[test]
    fn films_are_to_scale_and_none_is_left_out() {
        let films = [film(1.0), film(0.5), film(0.01)];
        let step = step(&films, 10);
        // By hand: 10 + 5 + 1 lines of .1 mm are too many, 5 + 3 + 1 of .2 are not.
        assert_eq!(step, Millimetres(0.2));
        let lines = films.each_ref().map(|one| rows(one, step.get()));
        assert_eq!(lines, [5, 3, 1]);
    }

    #[test]
    fn a_panel_has_its_proportions() {
        let drawn = |text: &str| panel(Panel::parse(text).unwrap(), 30, 8);
        for (text, across, down) in [("40x40cm", 16, 8), ("40x20cm", 30, 8), ("20x40cm", 8, 8)] {
            let lines = drawn(text);
            assert_eq!(
                (lines[0].chars().count(), lines.len()),
                (across, down),
                "{text}"
            );
        }
        assert_eq!(drawn("round 30cm").len(), 8);
        for text in ["10m x 1mm", "1mm x 10m"] {
            assert!(drawn(text).iter().all(|line| line.chars().count() <= 30));
        }
    }
}
