//! How the best settings look: a setting a line with its curve small, the chosen one's drawn with its band.

use super::best::Best;
use super::view::Section;
use crate::screen::kit::desk::Desk;
use crate::screen::kit::look::{chosen, strong};
use crate::screen::kit::text::{Cut, fit, plain, wrap};
use crate::studio::{Curve, CurvePoint};
use crate::tell;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};

/// Cells of the height of a drawn curve, where there is room and where there is little.
const TALL: usize = 11;
const LOW: usize = 5;
/// Cells of a curve's width at most.
const WIDEST: usize = 63;
/// Under this width a row has no small curve.
const NARROW: usize = 70;
/// The most cells that there are.
const CELLS: f64 = 5.0;
/// Blanks before a drawn curve, with its scale.
const MARGIN: usize = 4;

/// What is known, then each setting.
pub fn sections(desk: &Desk, best: &Best, area: Rect) -> Vec<Section> {
    let width = usize::from(area.width);
    let height = if area.height < 20 { LOW } else { TALL };
    let mut all = Section::default();
    for (at, words) in best.beneath().iter().enumerate() {
        all.lines.extend(match at {
            0 => wrap(words, width).into_iter().map(Line::from).collect(),
            _ if height == LOW => Vec::new(),
            _ => faint(desk, words, width),
        });
    }
    for (place, curve) in best.curves().iter().enumerate() {
        let first = all.lines.len();
        let is_chosen = place == best.at;
        all.lines.push(row(curve, is_chosen, width));
        if is_chosen {
            all.lines.extend(drawn(desk, curve, width, height));
            all.in_hand = Some(first..all.lines.len());
        }
    }
    vec![all]
}

fn faint(desk: &Desk, words: &str, width: usize) -> Vec<Line<'static>> {
    let lines = wrap(words, width).into_iter();
    lines
        .map(|line| Line::styled(line, desk.look.faint()))
        .collect()
}

/// `› ▁▂▄▆▇▆▄  rest: best near 14.2 h (3.9 cells), poorest near 4.0 (1.2)`.
fn row(curve: &Curve, is_chosen: bool, width: usize) -> Line<'static> {
    let words = tell::best::curve(curve);
    let words = match width < NARROW {
        true => words,
        false => format!("{}  {words}", tell::best::spark(curve)),
    };
    let style = if is_chosen { chosen() } else { strong() };
    let words = fit(&words, width.saturating_sub(2), Cut::End);
    let sign = if is_chosen { "› " } else { "  " };
    Line::from(vec![
        plain(sign),
        Span::styled(words.trim_end().to_owned(), style),
    ])
}

/// The curve with its band over its range, and what the signs are.
fn drawn(desk: &Desk, curve: &Curve, width: usize, height: usize) -> Vec<Line<'static>> {
    let across = width.saturating_sub(MARGIN + 1).clamp(1, WIDEST);
    let mut lines: Vec<Line<'static>> = canvas(curve, across, height)
        .into_iter()
        .enumerate()
        .map(|(row, text)| {
            let scale = match row {
                0 => "  5 ",
                _ if row + 1 == height => "  0 ",
                _ => "    ",
            };
            Line::from(vec![Span::styled(scale, desk.look.faint()), plain(text)])
        })
        .collect();
    let ends = ends(curve, across);
    lines.push(Line::styled(
        format!("{:MARGIN$}{ends}", ""),
        desk.look.faint(),
    ));
    if height == LOW {
        return lines;
    }
    let legend = "● cells to expect, ░ 80 in 100; the other settings at your middle";
    lines.extend(faint(desk, legend, width));
    lines
}

/// Rows of cells, the topmost first: `●` where the curve is, `░` within its band.
fn canvas(curve: &Curve, across: usize, height: usize) -> Vec<String> {
    let last = height.saturating_sub(1) as f64;
    let row = |cells: f64| last - (cells / CELLS * last).round();
    let column = |at: usize| {
        let point = at_share(
            &curve.points,
            at as f64 / across.saturating_sub(1).max(1) as f64,
        );
        (row(point.high), row(point.mid), row(point.low))
    };
    let columns: Vec<(f64, f64, f64)> = (0..across).map(column).collect();
    let sign = |row: f64, (high, mid, low): &(f64, f64, f64)| match row {
        row if row == *mid => '●',
        row if (*high..=*low).contains(&row) => '░',
        _ => ' ',
    };
    let line = |row: usize| {
        columns
            .iter()
            .map(|column| sign(row as f64, column))
            .collect()
    };
    (0..height).map(line).collect()
}

/// The curve at a share of its range, on the straight line between its points.
fn at_share(points: &[CurvePoint], share: f64) -> CurvePoint {
    let along = share * points.len().saturating_sub(1) as f64;
    let before = (along.floor() as usize).min(points.len().saturating_sub(1));
    let (a, b) = (points[before], points[(before + 1).min(points.len() - 1)]);
    let part = along - before as f64;
    let mix = |a: f64, b: f64| a + part * (b - a);
    CurvePoint {
        at: mix(a.at, b.at),
        mid: mix(a.mid, b.mid),
        low: mix(a.low, b.low),
        high: mix(a.high, b.high),
    }
}

/// The least and the most tried, under the ends.
fn ends(curve: &Curve, across: usize) -> String {
    let digits = tell::best::digits(curve);
    let told = |point: Option<&CurvePoint>| {
        point.map_or_else(String::new, |point| {
            format!("{:.digits$} {}", point.at, curve.setting.unit())
        })
    };
    let (low, high) = (told(curve.points.first()), told(curve.points.last()));
    let room = across.saturating_sub(low.chars().count());
    format!("{low}{high:>room$}")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn hill() -> Curve {
        let point = |step: i32| {
            let at = f64::from(step);
            let mid = 5.0 - 1.25 * (at - 2.0).abs();
            CurvePoint {
                at,
                mid,
                low: (mid - 1.25).max(0.0),
                high: (mid + 1.25).min(5.0),
            }
        };
        Curve {
            setting: crate::studio::Logged::Rest,
            matters: true,
            points: (0..5).map(point).collect(),
        }
    }

    #[test]
    fn a_hill_is_drawn_with_its_band() {
        let told = canvas(&hill(), 5, 5);
        assert_eq!(told, [" ░●░ ", "░●░●░", "●░ ░●", "░   ░", "     "]);
        assert_eq!(ends(&hill(), 12), "0.0 h  4.0 h");
    }

    #[test]
    fn a_place_without_room_is_no_fault() {
        assert_eq!(canvas(&hill(), 1, 1).len(), 1);
        assert_eq!(at_share(&hill().points, 1.0).at, 4.0);
    }
}
