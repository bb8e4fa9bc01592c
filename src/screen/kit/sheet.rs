//! A page of words that is read: headings and lines, wrapped only when it is drawn.

use crate::screen::kit::look::{Look, strong};
use crate::screen::kit::text::{Cut, fit, wrap};
use crate::trade::text::inert;
use ratatui::style::Style;
use ratatui::text::Line;
use unicode_width::UnicodeWidthStr;

/// One line as it was put down; its words are safe to show.
#[derive(Debug, Clone)]
enum Put {
    Title(String),
    Heading(String),
    Words(String),
    Drawn(String),
    Beside(String, String),
}

/// A page of words.
#[derive(Debug, Clone, Default)]
pub struct Sheet(Vec<Put>);

impl Sheet {
    /// A page with its title.
    pub fn titled(words: &str) -> Self {
        Self(vec![Put::Title(safe(words))])
    }

    /// A heading.
    pub fn heading(&mut self, words: &str) {
        self.0.push(Put::Heading(safe(words)));
    }

    /// A sentence, or a line.
    pub fn words(&mut self, words: &str) {
        self.0.push(Put::Words(safe(words)));
    }

    /// A line of signs that stand where they stand: it is cut short, never wrapped.
    pub fn drawn(&mut self, signs: &str) {
        self.0.push(Put::Drawn(safe(signs)));
    }

    /// Words beside a name; their further lines stand beneath the first.
    pub fn beside(&mut self, name: &str, words: &str) {
        self.0.push(Put::Beside(safe(name), safe(words)));
    }

    /// The page in lines of so many cells.
    pub fn lines(&self, look: Look, width: usize) -> Vec<Line<'static>> {
        let names = self.0.iter().map(|put| match put {
            Put::Beside(name, _) => name.width(),
            _ => 0,
        });
        let column = names.max().unwrap_or(0).min(width / 2);
        let lines = self
            .0
            .iter()
            .flat_map(|put| drawn(put, look, width, column));
        lines.collect()
    }

    /// No fewer lines than it takes in a narrow place.
    pub fn at_most(&self) -> usize {
        let of = |put: &Put| match put {
            Put::Drawn(_) => 0,
            Put::Title(words) | Put::Heading(words) | Put::Words(words) => words.len(),
            Put::Beside(name, words) => name.len() + words.len(),
        };
        self.0.iter().map(|put| 2 + of(put) / 16).sum()
    }
}

fn safe(words: &str) -> String {
    inert(words).into_owned()
}

fn drawn(put: &Put, look: Look, width: usize, column: usize) -> Vec<Line<'static>> {
    let styled = |words: &str, style: Style| {
        let lines = wrap(words, width).into_iter();
        lines.map(|line| Line::styled(line, style)).collect()
    };
    match put {
        Put::Title(words) => styled(words, strong()),
        Put::Heading(words) => {
            let mut lines = vec![Line::default()];
            lines.extend(styled(words, look.faint()));
            lines
        }
        Put::Words(words) => styled(words, Style::new()),
        Put::Drawn(signs) => vec![Line::from(fit(signs, width, Cut::End))],
        Put::Beside(name, words) => hung(name, words, width, column),
    }
}

fn hung(name: &str, words: &str, width: usize, column: usize) -> Vec<Line<'static>> {
    let lines = wrap(words, width.saturating_sub(column + 2));
    let named = |place| if place == 0 { name } else { "" };
    let line = |(place, words): (usize, String)| {
        let name = named(place);
        let blanks = " ".repeat(column.saturating_sub(name.width()));
        Line::from(format!("{blanks}{name}  {words}"))
    };
    lines.into_iter().enumerate().map(line).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_stand_in_one_column_and_words_hang_beside_them() {
        let mut sheet = Sheet::titled("Pour 3");
        sheet.beside("9 ml", "River blue of last week");
        sheet.beside("120 ml", "Cell\u{1b}opener");
        let lines = sheet.lines(Look::Plain, 20);
        let lines: Vec<String> = lines.iter().map(ToString::to_string).collect();
        assert_eq!(lines[1], "  9 ml  River blue");
        assert_eq!(lines[2], "        of last week");
        assert!(lines[3].starts_with("120 ml  Cell") && !lines[3].contains('\u{1b}'));
        assert!(sheet.at_most() >= lines.len());
    }
}
