//! The least that ratatui can be: a program that fills the whole screen anew at each key, and ends at `q`.

use ratatui::crossterm::event::{Event, KeyCode, read};
use ratatui::text::Line;
use ratatui::widgets::Paragraph;

/// Runs it on this terminal.
pub fn run() -> anyhow::Result<()> {
    let mut terminal = ratatui::init();
    let mut frame = 0_u32;
    loop {
        terminal.draw(|canvas| {
            let area = canvas.area();
            // Every cell differs from the frame before, so that all of them are sent.
            let letter = char::from(b'a' + (frame % 2) as u8);
            let row = letter.to_string().repeat(usize::from(area.width));
            let rows: Vec<Line<'_>> = (1..area.height).map(|_| row.as_str().into()).collect();
            canvas.render_widget(Paragraph::new(rows), area);
        })?;
        match read()? {
            Event::Key(key) if key.code == KeyCode::Char('q') => break,
            _ => frame += 1,
        }
    }
    ratatui::restore();
    Ok(())
}
