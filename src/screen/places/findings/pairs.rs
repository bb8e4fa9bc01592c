//! Two factors in a table: a grid of counts, and each cell as a row that opens.

use super::bars::{Bar, head};
use super::view::{Section, indented};
use super::why::Group;
use super::words::{legend_of_pair, of_tally, opens};
use crate::numbers::statistics::pair::{Cell, Pair};
use crate::screen::kit::desk::Desk;
use crate::screen::kit::look::{chosen, strong};
use crate::screen::kit::text::{Cut, fit, plain, wrap};
use crate::studio::Reasons;
use crate::tell;
use crate::trade::text::inert;
use ratatui::text::{Line, Span};

/// A table, and the cell in hand.
#[derive(Debug)]
pub struct Paired {
    /// The table.
    pub table: Pair,
    /// The chosen cell, in the order of the rows.
    pub at: usize,
}

impl Paired {
    /// Two factors by name, the surest cell in hand.
    pub fn of(reasons: &Reasons, first: &str, second: &str) -> Option<Self> {
        let (first, second) = (reasons.factor(first).ok()?, reasons.factor(second).ok()?);
        Some(Self {
            table: reasons.pair(first, second),
            at: 0,
        })
    }

    /// The same by what was read anew.
    pub fn reread(self, reasons: &Reasons) -> Option<Self> {
        let [first, second] = &self.table.names;
        let anew = Self::of(reasons, first, second)?;
        let at = self.at.min(anew.table.cells.len().saturating_sub(1));
        Some(Self { at, ..anew })
    }

    /// The cells, the surest first, then those that nothing fell in.
    fn rows(&self) -> Vec<&Cell> {
        let empty = self.table.cells.iter().filter(|cell| cell.rows.is_empty());
        self.table.ranked().into_iter().chain(empty).collect()
    }

    fn chosen(&self) -> Option<&Cell> {
        self.rows().get(self.at).copied()
    }

    /// The pours of the chosen cell.
    pub fn group(&self, reasons: &Reasons) -> Option<Group> {
        let cell = self.chosen().filter(|cell| !cell.rows.is_empty())?;
        Some(Group {
            title: format!(
                "{}: {}",
                tell::pair::title(&self.table, cell),
                of_tally(cell.tally)
            ),
            pours: reasons.numbers(&cell.rows),
        })
    }

    /// The grid, where it has room; the rows; and what they say.
    pub fn section(&self, desk: &Desk, width: usize) -> Section {
        let mut lines = self.grid(width);
        let mut in_hand = None;
        lines.push(head(desk, "  the surest first", width, true));
        for (place, cell) in self.rows().into_iter().enumerate() {
            let is_chosen = place == self.at;
            let first = lines.len();
            let bar = Bar {
                name: self.short(cell),
                tally: cell.tally,
                is_chosen,
                is_long: true,
            };
            lines.push(bar.line(desk, width));
            if is_chosen {
                let words = format!(
                    "{}{}",
                    tell::pair::title(&self.table, cell),
                    opens(cell.rows.len())
                );
                lines.extend(indented(&words, width));
                in_hand = Some(first..lines.len());
            }
        }
        lines.extend(Section::of_words(&tell::pair::words(&self.table), width).lines);
        let legend = wrap(&legend_of_pair(), width).into_iter();
        lines.extend(legend.map(|line| Line::styled(line, desk.look.faint())));
        let mut section = Section { lines, in_hand };
        if self.at + 1 == self.table.cells.len() {
            section.reach_end();
        }
        section
    }

    /// `over 12 h + not over 55 %`.
    fn short(&self, cell: &Cell) -> String {
        let [down, across] = tell::pair::sides(&self.table, cell);
        format!("{down} + {across}")
    }

    fn grid(&self, width: usize) -> Vec<Line<'static>> {
        let [first, second] = &self.table.names;
        let [down, across] = [&self.table.down, &self.table.across].map(|sides| {
            let sides = sides.iter().map(tell::findings::side);
            sides.collect::<Vec<_>>()
        });
        let longest = |sides: &[String]| sides.iter().map(|side| side.chars().count()).max();
        let label = (longest(&down).unwrap_or(0) + 2).max(first.chars().count()) + 2;
        let column = longest(&across).unwrap_or(0).max(8) + 2;
        if label + column * self.table.across.len() > width {
            return Vec::new();
        }
        let wide = |text: &str, width: usize| fit(&inert(text), width, Cut::End);
        let top = format!("{}{second}", wide("", label));
        let sides = across.iter().map(|side| wide(side, column));
        let names = format!("{}{}", wide(first, label), sides.collect::<String>());
        let mut lines = vec![
            Line::styled(wide(&top, width), strong()),
            Line::styled(names, strong()),
        ];
        for (down, side) in down.iter().enumerate() {
            let mut spans = vec![Span::styled(wide(&format!("  {side}"), label), strong())];
            let own = self.table.cells.iter().filter(|cell| cell.down == down);
            spans.extend(own.flat_map(|cell| self.cell(cell, column)));
            lines.push(Line::from(spans));
        }
        lines
    }

    fn cell(&self, cell: &Cell, column: usize) -> [Span<'static>; 2] {
        let in_hand = self.chosen().is_some_and(|one| std::ptr::eq(one, cell));
        let words = match cell.tally.pours {
            0 => "none".to_owned(),
            pours => format!("{} of {pours}", cell.tally.good),
        };
        let rest = column.saturating_sub(words.chars().count());
        let words = if in_hand {
            Span::styled(words, chosen())
        } else {
            plain(words)
        };
        [words, plain(" ".repeat(rest))]
    }
}
