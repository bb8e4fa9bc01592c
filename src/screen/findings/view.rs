//! How the Findings look: one section after another, the variants first; the pours behind one on its own.

use super::page::{behind_lines, behind_title};
use super::plot::{interval, scale};
use super::words::{beneath, legend, of, ranked, title};
use crate::screen::look::{chosen, strong};
use crate::screen::model::Model;
use crate::screen::text::{Cut, fit, plain, wrap};
use crate::studio::VariantTally;
use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;
use std::ops::Range;

/// From this width on the pours behind the chosen row stand beside the rows.
const WIDE: u16 = 130;
/// From this width on the edges stand in words beside the plot.
const MIDDLING: usize = 72;

/// Lines beneath one another, and which of them must be in sight.
struct Section {
    lines: Vec<Line<'static>>,
    in_hand: Option<Range<usize>>,
}

/// Draws the Findings.
pub fn view(model: &Model, frame: &mut Frame<'_>, area: Rect) {
    if model.findings.behind.is_some() {
        return draw(&[behind(model, area.width.into())], frame, area);
    }
    if area.width < WIDE {
        return draw(&sections(model, area), frame, area);
    }
    let parts = Layout::horizontal([Constraint::Min(80), Constraint::Length(50)]).spacing(2);
    let [left, right] = parts.areas(area);
    draw(&sections(model, left), frame, left);
    draw(&[behind(model, right.width.into())], frame, right);
}

/// What is shown beneath one another. Further findings are further sections.
fn sections(model: &Model, area: Rect) -> Vec<Section> {
    vec![variants(model, area)]
}

/// All sections that fit, around what is in hand.
fn draw(sections: &[Section], frame: &mut Frame<'_>, area: Rect) {
    let mut lines: Vec<Line<'static>> = Vec::new();
    let mut end = 0;
    for section in sections {
        let first = lines.len();
        lines.extend(section.lines.iter().cloned());
        end = section
            .in_hand
            .as_ref()
            .map_or(end, |rows| first + rows.end);
    }
    let height = usize::from(area.height);
    let skip = end.saturating_sub(height);
    let lines: Vec<_> = lines.into_iter().skip(skip).take(height).collect();
    frame.render_widget(Paragraph::new(lines), area);
}

fn behind(model: &Model, width: usize) -> Section {
    let at = model.findings.behind;
    let mut lines = behind_title(model, width);
    let first = lines.len();
    lines.extend(behind_lines(model, width));
    Section {
        lines,
        in_hand: at.map(|at| first + at..first + at + 1),
    }
}

fn variants(model: &Model, area: Rect) -> Section {
    let width = usize::from(area.width);
    let findings = &model.findings;
    let mut lines = Vec::new();
    let mut in_hand = None;
    if !findings.rows().is_empty() {
        lines.push(head(model, width));
    }
    for (place, one) in findings.rows().iter().enumerate() {
        let is_chosen = place == findings.at;
        let first = lines.len();
        lines.push(row(model, one, is_chosen, width));
        if is_chosen {
            lines.extend(indented(&beneath(one), width));
            in_hand = Some(first..lines.len());
        }
    }
    let told = wrap(&legend(findings), width).into_iter();
    lines.extend(told.map(|line| Line::styled(line, model.look.faint())));
    Section { lines, in_hand }
}

fn indented(words: &str, width: usize) -> impl Iterator<Item = Line<'static>> {
    let lines = wrap(words, width.saturating_sub(4)).into_iter();
    lines
        .take(3)
        .map(|line| plain(format!("    {line}")).into())
}

/// How many cells the name, the plot and the words beside it take.
struct Columns {
    name: usize,
    tally: usize,
    plot: usize,
    words: usize,
}

impl Columns {
    fn of(width: usize) -> Self {
        let (tally, words) = if width < MIDDLING { (9, 9) } else { (14, 17) };
        let room = width.saturating_sub(2 + tally + 2 + words);
        let name = (room / 2).clamp(8, 32).min(room);
        Self {
            name,
            tally,
            plot: (room - name).min(61),
            words,
        }
    }
}

fn head(model: &Model, width: usize) -> Line<'static> {
    let columns = Columns::of(width);
    let window = model.findings.window.words();
    let name = fit(&window, columns.name + columns.tally + 1, Cut::End);
    let line = format!("  {name}{}", scale(columns.plot));
    Line::styled(line, model.look.faint())
}

/// One variant on one line: its name, its pours, its interval drawn, and the same in words.
fn row(model: &Model, one: &VariantTally, is_chosen: bool, width: usize) -> Line<'static> {
    let columns = Columns::of(width);
    let tally = of(one);
    let tally = if width < MIDDLING {
        tally.trim_end_matches(" good")
    } else {
        &tally
    };
    let (low, high) = one.wilson;
    let style = if ranked(one) {
        strong()
    } else {
        model.look.faint()
    };
    let name = fit(&title(one), columns.name, Cut::End);
    let name_style = if is_chosen { chosen() } else { strong() };
    Line::from(vec![
        plain(if is_chosen { "› " } else { "  " }),
        Span::styled(name, name_style),
        plain(format!("{tally:>0$} ", columns.tally)),
        Span::styled(interval(low, one.rate, high, columns.plot), style),
        plain(format!(
            " {:<1$}",
            beside(one, columns.words),
            columns.words
        )),
    ])
}

/// The plot in words: `75 %, 47 to 91 %`, or that it is too early.
fn beside(one: &VariantTally, room: usize) -> String {
    let percent = |share: f64| format!("{:.0}", share * 100.0);
    let (low, high) = one.wilson;
    match (ranked(one), room < 17) {
        (true, true) => format!("{} %", percent(one.rate)),
        (true, false) => format!(
            "{} %, {} to {} %",
            percent(one.rate),
            percent(low),
            percent(high)
        ),
        (false, true) => "too early".to_owned(),
        (false, false) => "too early to tell".to_owned(),
    }
}
