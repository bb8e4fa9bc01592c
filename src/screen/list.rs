//! Lists of lines with one chosen, and bars in cells.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::Line;
use ratatui::widgets::Paragraph;
use std::ops::Range;

/// Draws the lines that fit, so that the chosen ones are among them.
pub fn draw(lines: Vec<Line<'static>>, chosen: &Range<usize>, frame: &mut Frame<'_>, area: Rect) {
    let height = usize::from(area.height);
    let skip = chosen.end.saturating_sub(height).min(chosen.start);
    let lines: Vec<_> = lines.into_iter().skip(skip).take(height).collect();
    frame.render_widget(Paragraph::new(lines), area);
}

/// A share, 0 to 1, as full and empty cells; a share that is something fills one at least.
pub fn bar(share: f64, width: usize) -> String {
    let share = if share.is_finite() { share } else { 0.0 };
    let full = (share.clamp(0.0, 1.0) * width as f64).round() as usize;
    let full = full.max(usize::from(share > 0.0)).min(width);
    "■".repeat(full) + &"·".repeat(width - full)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bar_takes_its_cells_and_shows_the_least_share() {
        assert_eq!(bar(0.5, 4), "■■··");
        assert_eq!(bar(0.001, 4), "■···");
        assert_eq!(bar(f64::NAN, 2), "··");
        assert_eq!((bar(7.0, 2), bar(1.0, 0)), ("■■".to_owned(), String::new()));
    }
}
