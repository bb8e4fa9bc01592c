//! The screen for an ear: each line as it changes, one beneath the other, without drawings, colours or a cursor that moves.
//!
//! The places are drawn as ever, into cells that nobody sees; what a line of them says is written once it is another than
//! before. What is shown reversed stands in brackets, the chosen line is called so.

use ratatui::backend::{Backend, ClearType, WindowSize};
use ratatui::buffer::Cell;
use ratatui::layout::{Position, Size};
use ratatui::style::Modifier;
use std::io::{self, Write};

/// As wide as names need, and too narrow for a second pane; so high that lists are seldom cut (our own choice).
const WIDE: u16 = 98;
const HIGH: u16 = 44;

/// Writes lines as they change.
pub struct Lines<W: Write> {
    out: W,
    cells: Vec<Vec<Cell>>,
    /// What each line said last.
    said: Vec<String>,
}

impl<W: Write> Lines<W> {
    /// Nothing said yet.
    pub fn to(out: W) -> Self {
        let blank = vec![Cell::default(); WIDE.into()];
        Self {
            out,
            cells: vec![blank; HIGH.into()],
            said: vec![String::new(); HIGH.into()],
        }
    }
}

/// What a line says: its words, what is reversed in brackets, no sign that only draws.
fn told(cells: &[Cell]) -> String {
    let reversed = |cell: &Cell| cell.modifier.contains(Modifier::REVERSED);
    let runs = cells.chunk_by(|one, other| reversed(one) == reversed(other));
    let words = |run: &[Cell]| {
        run.iter()
            .map(Cell::symbol)
            .filter(|sign| !draws(sign))
            .collect::<String>()
    };
    let told = runs.map(|run| match (reversed(&run[0]), words(run)) {
        (true, words) if !words.trim().is_empty() => format!("[{}] ", words.trim()),
        (_, words) => words,
    });
    let told: String = told.collect();
    let told = told.replace('›', "chosen:");
    told.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Whether a sign is part of a drawing: lines, blocks, bars, and the dots between.
fn draws(sign: &str) -> bool {
    sign.chars()
        .all(|one| matches!(one, '\u{2500}'..='\u{25ff}' | '\u{2800}'..='\u{28ff}' | '·'))
}

impl<W: Write> Backend for Lines<W> {
    type Error = io::Error;

    fn draw<'a, I>(&mut self, content: I) -> io::Result<()>
    where
        I: Iterator<Item = (u16, u16, &'a Cell)>,
    {
        for (x, y, cell) in content {
            let row = self.cells.get_mut(usize::from(y));
            let place = row.and_then(|row| row.get_mut(usize::from(x)));
            place.into_iter().for_each(|place| *place = cell.clone());
        }
        Ok(())
    }

    fn hide_cursor(&mut self) -> io::Result<()> {
        Ok(())
    }

    fn show_cursor(&mut self) -> io::Result<()> {
        Ok(())
    }

    fn get_cursor_position(&mut self) -> io::Result<Position> {
        Ok(Position::ORIGIN)
    }

    fn set_cursor_position<P: Into<Position>>(&mut self, _position: P) -> io::Result<()> {
        Ok(())
    }

    /// The cells alone: what was said stays said.
    fn clear(&mut self) -> io::Result<()> {
        self.cells.iter_mut().flatten().for_each(Cell::reset);
        Ok(())
    }

    fn clear_region(&mut self, _clear_type: ClearType) -> io::Result<()> {
        self.clear()
    }

    fn size(&self) -> io::Result<Size> {
        Ok(Size::new(WIDE, HIGH))
    }

    fn window_size(&mut self) -> io::Result<WindowSize> {
        Ok(WindowSize {
            columns_rows: Size::new(WIDE, HIGH),
            pixels: Size::ZERO,
        })
    }

    /// Writes the lines that say something else than before. A terminal in raw mode needs both signs at their end.
    fn flush(&mut self) -> io::Result<()> {
        for (cells, said) in self.cells.iter().zip(&mut self.said) {
            let now = told(cells);
            if now != *said && !now.is_empty() {
                write!(self.out, "{now}\r\n")?;
            }
            *said = now;
        }
        self.out.flush()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use ratatui::Terminal;
    use ratatui::style::Style;
    use ratatui::text::{Line, Span};

    fn shown(terminal: &mut Terminal<Lines<Vec<u8>>>, lines: Vec<Line<'static>>) -> String {
        terminal
            .draw(|frame| {
                let area = frame.area();
                frame.render_widget(ratatui::widgets::Paragraph::new(lines), area);
            })
            .unwrap();
        let out = std::mem::take(&mut terminal.backend_mut().out);
        String::from_utf8(out).unwrap()
    }

    #[test]
    fn a_line_is_written_when_it_says_something_else_and_no_sign_is_drawn() {
        let mut terminal = Terminal::new(Lines::to(Vec::new())).unwrap();
        let mark = |words| Span::styled(words, Style::new().add_modifier(Modifier::REVERSED));
        let cup = |state: &'static str| {
            Line::from(vec![
                Span::raw("› ● "),
                Span::raw(state),
                mark("K7"),
                Span::raw(" ■■■···  10:40"),
            ])
        };
        let first = shown(&mut terminal, vec!["Two cups.".into(), cup("ready ")]);
        assert_eq!(first, "Two cups.\r\nchosen: ready [K7] 10:40\r\n");
        let same = shown(&mut terminal, vec!["Two cups.".into(), cup("ready ")]);
        assert_eq!(same, "");
        let then = shown(&mut terminal, vec!["Two cups.".into(), cup("thick ")]);
        assert_eq!(then, "chosen: thick [K7] 10:40\r\n");
        assert!(!then.contains('\u{1b}'));
    }
}
