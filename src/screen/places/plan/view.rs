//! How the Plan looks: the kept plans and what became of them, or one sheet.

use super::Plan;
use super::Sheet;
use super::next::{is_poured, is_to_mix};
use super::sheet::{drawn, paint, steps, troubles};
use crate::screen::kit::desk::Desk;
use crate::screen::kit::list;
use crate::screen::kit::look::{chosen, strong};
use crate::screen::kit::text::{Cut, fit, plain, wrap};
use crate::studio::{PlanLine, PlanPage, PlanSheet, local};
use crate::trade::amount::show_volume;
use crate::trade::text::inert;
use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

/// From this width on the day stands beside the paint, and the chosen plan beside the plans.
const WIDE: u16 = 120;

/// Draws the Plan.
pub fn view(plan: &Plan, desk: &Desk, frame: &mut Frame<'_>, area: Rect) {
    match &plan.open {
        Some(open) => sheet_view(plan, desk, open, frame, area),
        None => kept_view(plan, desk, frame, area),
    }
}

fn halves(area: Rect) -> [Rect; 2] {
    let halves = [Constraint::Fill(1), Constraint::Fill(1)];
    Layout::horizontal(halves).spacing(2).areas(area)
}

fn sheet_view(plan: &Plan, desk: &Desk, open: &Sheet, frame: &mut Frame<'_>, area: Rect) {
    let (sheet, from) = (&open.worked, open.from);
    let kept = |page: &&PlanPage| Some(page.plan.id) == open.kept;
    let page = plan.kept.iter().find(kept);
    if area.width >= WIDE {
        let [left, right] = halves(area);
        let width = usize::from(left.width);
        draw(
            stale(open, desk, width, paint(desk, sheet, width)),
            from,
            frame,
            left,
        );
        let day = day(desk, sheet, page, right.width.into());
        return draw(day, from, frame, right);
    }
    let width = usize::from(area.width);
    let mut lines = drawn(desk, sheet, width);
    lines.extend(stale(open, desk, width, paint(desk, sheet, width)));
    lines.extend(steps(desk, sheet, page, width));
    draw(lines, from, frame, area);
}

/// That a sheet could not be worked out anew stands before all else.
fn stale(open: &Sheet, desk: &Desk, width: usize, lines: Vec<Line<'static>>) -> Vec<Line<'static>> {
    let told = open.stale.as_ref();
    let told = told.map(|words| wrap(&format!("✗ {words}"), width));
    let told = told.unwrap_or_default().into_iter();
    let told = told.map(|line| Line::styled(line, desk.look.wrong()));
    told.chain(lines).collect()
}

fn day(
    desk: &Desk,
    sheet: &PlanSheet,
    page: Option<&PlanPage>,
    width: usize,
) -> Vec<Line<'static>> {
    let mut lines = drawn(desk, sheet, width);
    lines.push(Line::default());
    lines.extend(steps(desk, sheet, page, width));
    lines
}

/// The lines from one on, as many as there are to fill the place.
fn draw(lines: Vec<Line<'static>>, from: usize, frame: &mut Frame<'_>, area: Rect) {
    let last = lines.len().saturating_sub(usize::from(area.height).max(1));
    let lines: Vec<_> = lines.into_iter().skip(from.min(last)).collect();
    frame.render_widget(Paragraph::new(lines), area);
}

fn kept_view(plan: &Plan, desk: &Desk, frame: &mut Frame<'_>, area: Rect) {
    let beside = plan.chosen_sheet.as_ref();
    let Some(sheet) = beside.filter(|_| area.width >= WIDE) else {
        return kept(plan, desk, beside, frame, area);
    };
    let [left, right] = halves(area);
    kept(plan, desk, None, frame, left);
    let width = usize::from(right.width);
    let mut lines = day(desk, sheet, plan.chosen(), width);
    lines.push(Line::default());
    lines.extend(paint(desk, sheet, width));
    draw(lines, 0, frame, right);
}

/// The plans that fit around the chosen one, and under it its cups and its day.
fn kept(plan: &Plan, desk: &Desk, sheet: Option<&PlanSheet>, frame: &mut Frame<'_>, area: Rect) {
    let width = usize::from(area.width);
    let mut lines = Vec::new();
    let mut at = 0..0;
    for (place, page) in plan.kept.iter().enumerate() {
        let is_chosen = place == plan.at;
        let first = lines.len();
        lines.push(row(desk, page, is_chosen, width));
        if is_chosen {
            lines.push(cups_head(desk, width));
            lines.extend(page.cups.iter().map(|line| cup(desk, line, width)));
            let day = sheet.map(|sheet| drawn(desk, sheet, width));
            lines.extend(
                sheet
                    .map(|sheet| troubles(desk, sheet, width))
                    .unwrap_or_default(),
            );
            lines.extend(day.unwrap_or_default());
            at = first..lines.len();
        }
    }
    list::draw(lines, &at, frame, area);
}

/// `› plan 3  Wed 10:00  2 x 40 x 50 cm  1 of 3 mixed, 0 poured`.
fn row(desk: &Desk, page: &PlanPage, is_chosen: bool, width: usize) -> Line<'static> {
    let panels = &page.plan.panels;
    let at = page.plan.pour_at.map(|at| local(at, &desk.beat.now));
    let all = page.cups.len();
    let mixed = page.cups.iter().filter(|line| !is_to_mix(line)).count();
    let poured = page.cups.iter().filter(|line| is_poured(line)).count();
    let done = match (mixed, poured) {
        (_, poured) if poured == all && all > 0 => "✓ poured".to_owned(),
        (mixed, 0) => format!("{mixed} of {all} mixed"),
        (_, poured) => format!("{poured} of {all} poured"),
    };
    let panel = panels.panel.show(desk.measures());
    let words = format!(
        " {:<16}  {done:<13}  {} x {panel}",
        at.unwrap_or_default(),
        panels.count
    );
    let number = format!("plan {:<3}", page.plan.id);
    let rest = fit(&words, width.saturating_sub(10), Cut::End);
    Line::from(vec![
        plain(if is_chosen { "› " } else { "  " }),
        Span::styled(number, if is_chosen { chosen() } else { strong() }),
        plain(rest),
    ])
}

/// Cells for a cup's name, beside its mark and three amounts.
fn names(width: usize) -> usize {
    width.saturating_sub(4 + 5 + 3 * 9).min(40)
}

fn cups_head(desk: &Desk, width: usize) -> Line<'static> {
    let blank = " ".repeat(4 + names(width));
    let words = format!("{blank}{:>9} mark{:>9}{:>9}", "planned", "mixed", "poured");
    Line::styled(words, desk.look.faint())
}

/// One cup: what was planned, mixed and poured.
fn cup(desk: &Desk, line: &PlanLine, width: usize) -> Line<'static> {
    let volume = |ml| show_volume(ml, desk.measures());
    let told = |ml: Option<_>| ml.map_or_else(|| "-".to_owned(), volume);
    let mark = line.mark.as_deref().map(inert).unwrap_or_default();
    let mixed = line.mixed.filter(|_| line.mark.is_some());
    let name = fit(&inert(&line.variant.to_string()), names(width), Cut::End);
    plain(format!(
        "    {name}{:>9} {mark:<4}{:>9}{:>9}",
        volume(line.planned),
        told(mixed),
        match line.gone {
            true => "elsewhere".to_owned(),
            false => told(line.poured.filter(|ml| ml.get() > 0.0)),
        }
    ))
    .into()
}
