//! How the Recipes look: one a line with its newest variant, the chosen one's parts as bars.

use super::Recipes;
use super::words::{newest_changed, newest_parts, shares, sheet, targets, title};
use crate::screen::kit::desk::Desk;
use crate::screen::kit::list;
use crate::screen::kit::look::{chosen, strong};
use crate::screen::kit::text::{Cut, fit, plain, wrap};
use crate::studio::RecipePage;
use crate::tell;
use crate::trade::text::inert;
use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

/// From this width on the chosen recipe's variants stand beside the recipes.
const WIDE: u16 = 120;
/// Cells of a part's bar, where there is little room.
const BAR: usize = 12;

/// Draws it.
pub fn view(recipes: &Recipes, desk: &Desk, frame: &mut Frame<'_>, area: Rect) {
    if area.width < WIDE {
        return list(recipes, desk, frame, area);
    }
    let parts = Layout::horizontal([Constraint::Min(70), Constraint::Length(52)]).spacing(2);
    let [left, right] = parts.areas(area);
    list(recipes, desk, frame, left);
    if let Some(page) = recipes.chosen() {
        let lines = sheet(page, desk).lines(desk.look, right.width.into());
        frame.render_widget(Paragraph::new(lines), right);
    }
}

fn list(recipes: &Recipes, desk: &Desk, frame: &mut Frame<'_>, area: Rect) {
    let width = usize::from(area.width);
    let mut lines = Vec::new();
    let mut at = 0..0;
    for (place, page) in recipes.pages.iter().enumerate() {
        let first = lines.len();
        let is_chosen = place == recipes.place();
        lines.push(row(desk, page, is_chosen, width));
        if is_chosen {
            lines.extend(beneath(desk, page, width));
            at = first..lines.len();
        }
    }
    list::draw(lines, &at, frame, area);
}

/// Its layer, name and newest variant, and its parts in words where it is not the chosen one.
fn row(desk: &Desk, page: &RecipePage, is_chosen: bool, width: usize) -> Line<'static> {
    let name = (width.saturating_sub(2 + 10) / 2).clamp(8, 34);
    let style = if is_chosen { chosen() } else { strong() };
    let rest = width.saturating_sub(2 + 10 + desk.swatch_cells() + name + 2);
    let parts = shares(newest_parts(page)).into_iter();
    let parts = parts.map(|(name, _, of)| format!("{:.0} % {}", of * 100.0, inert(name)));
    let parts = parts.collect::<Vec<_>>().join(", ");
    let parts = if is_chosen { String::new() } else { parts };
    Line::from(vec![
        plain(if is_chosen { "› " } else { "  " }),
        Span::styled(format!("{:<10}", page.recipe.layer), desk.look.faint()),
        desk.swatch(page.colours.last().copied().flatten()),
        Span::styled(fit(&title(page), name, Cut::End), style),
        plain("  "),
        plain(fit(&parts, rest, Cut::End)),
    ])
}

/// The chosen recipe: a bar for each part, what it is meant to do, what it changed.
fn beneath(desk: &Desk, page: &RecipePage, width: usize) -> Vec<Line<'static>> {
    let bar = if width < 72 { BAR } else { 2 * BAR };
    let name = width.saturating_sub(4 + bar + 7 + 1 + desk.swatch_cells());
    let part = |(part, _, of): (&str, f64, f64)| {
        Line::from(vec![
            plain("    "),
            plain(list::bar(of, bar)),
            plain(format!("{:>4.0} % ", of * 100.0)),
            desk.swatch(desk.known.names.colour_named(part)),
            plain(fit(&inert(part), name, Cut::End)),
        ])
    };
    let mut lines: Vec<_> = shares(newest_parts(page)).into_iter().map(part).collect();
    let Some(variant) = page.newest() else {
        return lines;
    };
    let mut say = |words: &str, most: usize, faint: bool| {
        let style = if faint { desk.look.faint() } else { strong() };
        let words = wrap(&inert(words), width.saturating_sub(4)).into_iter();
        lines.extend(
            words
                .take(most)
                .map(|line| Line::styled(format!("    {line}"), style)),
        );
    };
    if let Some(changed) = newest_changed(page, desk) {
        say(&changed, 2, false);
    }
    if let Some(colour) = page.colours.last().copied().flatten() {
        say(&tell::recipes::colour(colour), 2, true);
    }
    say(&targets(variant), 3, true);
    lines
}
