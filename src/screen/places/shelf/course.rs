//! What was left of the chosen material day by day, and how it runs down if it is used as in the last 30 days.

use super::Shelf;
use crate::screen::kit::columns::{self, Column};
use crate::screen::kit::desk::Desk;
use crate::screen::kit::look::strong;
use crate::screen::kit::text::wrap;
use crate::studio::{StockCourse, day};
use crate::trade::amount::show_volume;
use crate::trade::text::inert;
use crate::trade::units::Millilitres;
use ratatui::text::{Line, Span};

/// Lines of the columns.
const ROWS: usize = 8;
/// Cells of the scale beside them, and of all columns at most.
const MARGIN: usize = 9;
const WIDEST: usize = 72;
/// How many days ahead are drawn at most.
const AHEAD: f64 = 90.0;

/// The drawing, with the day it ends in words.
pub fn lines(shelf: &Shelf, desk: &Desk, width: usize) -> Vec<Line<'static>> {
    let Some((line, course)) = shelf.chosen().zip(shelf.course.as_ref()) else {
        return Vec::new();
    };
    let mut lines = vec![Line::styled(
        format!("{} by days", inert(&line.material.name)),
        strong(),
    )];
    let columns = drawn(course, desk, width.saturating_sub(MARGIN).min(WIDEST));
    let words = ends(course, desk);
    if let Some(top) = columns::top(&columns) {
        lines.extend(chart(&columns, top, desk));
        lines.push(Line::styled(axis(course, &columns), desk.look.faint()));
    }
    lines.extend(wrap(&words, width).into_iter().map(Line::from));
    lines
}

fn chart(columns: &[Column], top: f64, desk: &Desk) -> Vec<Line<'static>> {
    let scale = |row: usize| match row {
        0 => show_volume(Millilitres(top), desk.measures()),
        _ if row + 1 == ROWS => "0".to_owned(),
        _ => String::new(),
    };
    let rows = columns::lines(columns, top, ROWS).into_iter().enumerate();
    let line = |(row, cells): (usize, String)| {
        let scale = format!("{:>1$} ", scale(row), MARGIN - 1);
        Line::from(vec![
            Span::styled(scale, desk.look.faint()),
            Span::raw(cells),
        ])
    };
    rows.map(line).collect()
}

/// Each column is one instant: from the first day looked back on to the day it ends, or the last that is drawn.
fn drawn(course: &StockCourse, desk: &Desk, across: usize) -> Vec<Column> {
    let back = course.days.len().saturating_sub(1) as f64;
    let lasts = lasts(course, desk);
    let span = back + lasts.map_or(0.0, |days| (days + 2.0).min(AHEAD));
    let step = span / across.saturating_sub(1).max(1) as f64;
    let left = course.days.last().copied().flatten().map(Millilitres::get);
    let column = |at: usize| {
        let day = at as f64 * step - back;
        if day <= 0.5 * step {
            let place = (day + back).round() as usize;
            let was = course
                .days
                .get(place.min(course.days.len() - 1))
                .copied()
                .flatten();
            return was.map_or(Column::Unknown, |ml| Column::Was(ml.get()));
        }
        let expected =
            |(left, lasts): (f64, f64)| Column::Expected(left * (1.0 - day / lasts).max(0.0));
        left.zip(lasts).map_or(Column::Unknown, expected)
    };
    (0..across).map(column).collect()
}

/// For how many days it lasts from now on.
fn lasts(course: &StockCourse, desk: &Desk) -> Option<f64> {
    let seconds = (course.ends? - desk.beat.now.at).num_seconds() as f64;
    Some(seconds / 86_400.0).filter(|days| *days > 0.0)
}

/// `60 days ago      today ┘`, today's end where its column is; the first alone where there is no room for both.
fn axis(course: &StockCourse, columns: &[Column]) -> String {
    let back = course.days.len().saturating_sub(1);
    let first = format!("{back} days ago");
    let ahead = columns
        .iter()
        .filter(|one| matches!(one, Column::Expected(_)))
        .count();
    let today = columns.len().saturating_sub(ahead);
    let last = "today ┘";
    let room = today.saturating_sub(last.chars().count());
    match first.chars().count() < room {
        true => format!("{:MARGIN$}{first:<room$}{last}", ""),
        false => format!("{:MARGIN$}{last:>today$}", ""),
    }
}

fn ends(course: &StockCourse, desk: &Desk) -> String {
    match course.ends {
        Some(at) => format!(
            "Used as in the last 30 days (░) it would end about {}; how far use differs from month to month is not known.",
            day(at, &desk.beat.now)
        ),
        None => "Nothing tells when it ends: it was not used in the last 30 days, or what is left is not known."
            .to_owned(),
    }
}
