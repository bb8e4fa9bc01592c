//! How the Findings look: one section after another, the variants first; the pours behind one on its own.

use super::Findings;
use super::bars::{Bar, head};
use super::best_view;
use super::dated;
use super::measured_view;
use super::page::behind_section;
use super::why_view;
use super::words::{beneath, legend, title};
use crate::numbers::statistics::proportion::Tally;
use crate::screen::kit::desk::Desk;
use crate::screen::kit::list;
use crate::screen::kit::text::{plain, wrap};
use crate::trade::text::inert;
use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::Line;
use std::ops::Range;

/// From this width on the pours behind the chosen row stand beside the rows.
const WIDE: u16 = 130;

/// Lines beneath one another, and which of them must be in sight.
#[derive(Default)]
pub struct Section {
    /// The lines.
    pub lines: Vec<Line<'static>>,
    /// Those in hand.
    pub in_hand: Option<Range<usize>>,
}

impl Section {
    /// What stands after the last row is read with it.
    pub fn reach_end(&mut self) {
        if let Some(rows) = &mut self.in_hand {
            rows.end = self.lines.len();
        }
    }

    /// Words alone.
    pub fn of_words(words: &str, width: usize) -> Self {
        let lines = wrap(&inert(words), width).into_iter();
        Self {
            lines: lines.map(Line::from).collect(),
            in_hand: None,
        }
    }
}

/// Draws the Findings.
pub fn view(findings: &Findings, desk: &Desk, frame: &mut Frame<'_>, area: Rect) {
    if let Some(best) = &findings.best {
        return draw(&best_view::sections(desk, best, area), frame, area);
    }
    if findings.behind.is_some() {
        return draw(&[behind_section(findings, desk, area)], frame, area);
    }
    if area.width < WIDE {
        return draw(&sections(findings, desk, area), frame, area);
    }
    let parts = Layout::horizontal([Constraint::Min(80), Constraint::Length(50)]).spacing(2);
    let [left, right] = parts.areas(area);
    draw(&sections(findings, desk, left), frame, left);
    draw(&[behind_section(findings, desk, right)], frame, right);
}

/// What is shown beneath one another: the variants, or why they came out so.
fn sections(findings: &Findings, desk: &Desk, area: Rect) -> Vec<Section> {
    let width = usize::from(area.width);
    match (&findings.why, &findings.measured) {
        (None, Some(measured)) => measured_view::sections(desk, measured, width),
        (None, None) => with_dates(findings, desk, area),
        (Some(why), _) => match &why.pair {
            Some(pair) => vec![pair.section(desk, width)],
            None => why_view::sections(findings, desk, why, width),
        },
    }
}

/// All sections that fit, around what is in hand.
fn draw(sections: &[Section], frame: &mut Frame<'_>, area: Rect) {
    let mut lines: Vec<Line<'static>> = Vec::new();
    let mut at = 0..0;
    for section in sections {
        let first = lines.len();
        lines.extend(section.lines.iter().cloned());
        at = section
            .in_hand
            .as_ref()
            .map_or(at, |rows| first + rows.start..first + rows.end);
    }
    list::draw(lines, &at, frame, area);
}

/// The variants, with their pours by date beneath them where all of both has room.
fn with_dates(findings: &Findings, desk: &Desk, area: Rect) -> Vec<Section> {
    let rows = variants(findings, desk, area.width.into());
    let dated = dated::section(findings, desk, area.width.into());
    let fits = rows.lines.len() + dated.lines.len() <= usize::from(area.height);
    std::iter::once(rows).chain(fits.then_some(dated)).collect()
}

fn variants(findings: &Findings, desk: &Desk, width: usize) -> Section {
    let findings = &findings;
    let mut section = Section::default();
    if !findings.rows().is_empty() {
        let lines = &mut section.lines;
        let words = format!("  {}", findings.window.words());
        lines.push(head(desk, &words, width, false));
    }
    for (place, one) in findings.rows().iter().enumerate() {
        let first = section.lines.len();
        let count = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
        let bar = Bar {
            name: title(one),
            tally: Tally::new(count(one.good), count(one.pours)),
            is_chosen: place == findings.at,
            is_long: false,
        };
        section.lines.push(bar.line(desk, width));
        if bar.is_chosen {
            section.lines.extend(indented(&beneath(one), width));
            section.in_hand = Some(first..section.lines.len());
        }
    }
    let told = wrap(&legend(findings), width).into_iter();
    let told = told.map(|line| Line::styled(line, desk.look.faint()));
    section.lines.extend(told);
    if findings.at + 1 == findings.rows().len() {
        section.reach_end();
    }
    section
}

/// Words beneath a row.
pub fn indented(words: &str, width: usize) -> impl Iterator<Item = Line<'static>> {
    let lines = wrap(&inert(words), width.saturating_sub(4)).into_iter();
    lines.map(|line| plain(format!("    {line}")).into())
}
