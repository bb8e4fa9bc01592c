//! Lists of lines with one chosen, and bars in cells.

use crate::screen::kit::step::Step;
use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::Line;
use ratatui::widgets::Paragraph;
use std::ops::Range;

/// Which of some lines is chosen: by its number once a hand was on it, by its place where that is gone.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Chosen {
    at: usize,
    hand: Option<i64>,
}

impl Chosen {
    /// Its place.
    pub const fn at(self) -> usize {
        self.at
    }

    /// Its number, once a hand was on it.
    pub const fn number(self) -> Option<i64> {
        self.hand
    }

    /// Another line among `count`; [`Chosen::hold`] says which it is.
    pub fn step(&mut self, step: Step, count: usize) {
        self.at = step.from(self.at, count);
    }

    /// The line at a place; [`Chosen::hold`] says which it is.
    pub const fn go_to(&mut self, at: usize) {
        self.at = at;
    }

    /// A hand is on the line of the number, wherever it goes; on none, the first is chosen.
    pub const fn hold(&mut self, number: Option<i64>) {
        self.hand = number;
    }

    /// Finds it again among the numbers read; where it is gone, what took its place is chosen.
    pub fn find(&mut self, numbers: impl IntoIterator<Item = i64>) {
        let numbers: Vec<i64> = numbers.into_iter().collect();
        let place = |id| numbers.iter().position(|one| *one == id);
        let at = self.hand.map(|id| place(id).unwrap_or(self.at));
        self.at = at.unwrap_or(0).min(numbers.len().saturating_sub(1));
        self.hand = self.hand.and(numbers.get(self.at).copied());
    }
}

/// Draws the lines that fit, so that the chosen ones are among them.
pub fn draw(lines: Vec<Line<'static>>, chosen: &Range<usize>, frame: &mut Frame<'_>, area: Rect) {
    let lines = around(lines, chosen, area.height.into());
    frame.render_widget(Paragraph::new(lines), area);
}

/// As many lines as there is room for, the chosen ones among them; how many are hidden stands last.
fn around(lines: Vec<Line<'static>>, chosen: &Range<usize>, height: usize) -> Vec<Line<'static>> {
    if lines.len() <= height || height < 3 {
        return lines.into_iter().take(height).collect();
    }
    let room = height - 1;
    let skip = chosen.end.saturating_sub(room).min(chosen.start);
    let below = lines.len().saturating_sub(skip + room);
    let mut shown: Vec<_> = lines.into_iter().skip(skip).take(room).collect();
    shown.push(Line::styled(hidden(skip, below), Style::new().dim()));
    shown
}

fn hidden(above: usize, below: usize) -> String {
    match (above, below) {
        (0, below) => format!("  ↓ {below} more"),
        (above, 0) => format!("  ↑ {above} more"),
        (above, below) => format!("  ↑ {above} more  ↓ {below} more"),
    }
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
    fn what_is_chosen_is_found_by_its_number_and_its_neighbour_where_it_is_gone() {
        let mut chosen = Chosen::default();
        chosen.find([9, 8, 7]);
        assert_eq!((chosen.at(), chosen.number()), (0, None));
        chosen.step(Step::Down, 3);
        chosen.hold(Some(8));
        chosen.find([10, 9, 7, 8]);
        assert_eq!(chosen.at(), 3);
        chosen.find([10, 9, 7]);
        assert_eq!((chosen.at(), chosen.number()), (2, Some(7)));
        chosen.find([7, 10]);
        assert_eq!(chosen.at(), 0);
        chosen.find([]);
        assert_eq!((chosen.at(), chosen.number()), (0, None));
    }

    #[test]
    fn what_has_no_room_is_counted_and_the_chosen_line_is_in_sight() {
        let lines = || {
            (0..9)
                .map(|n| Line::from(n.to_string()))
                .collect::<Vec<_>>()
        };
        let shown = |chosen, height| {
            let shown = around(lines(), &chosen, height);
            shown.iter().map(ToString::to_string).collect::<Vec<_>>()
        };
        assert_eq!(shown(0..1, 4), ["0", "1", "2", "  ↓ 6 more"]);
        assert_eq!(shown(8..9, 4), ["6", "7", "8", "  ↑ 6 more"]);
        assert_eq!(shown(4..5, 4), ["2", "3", "4", "  ↑ 2 more  ↓ 4 more"]);
        // The start of what is longer than the room.
        assert_eq!(shown(4..9, 4)[0], "4");
        assert_eq!(shown(0..1, 9).len(), 9);
        assert!(!shown(0..1, 9).join("").contains("more"));
    }

    #[test]
    fn a_bar_takes_its_cells_and_shows_the_least_share() {
        assert_eq!(bar(0.5, 4), "■■··");
        assert_eq!(bar(0.001, 4), "■···");
        assert_eq!(bar(f64::NAN, 2), "··");
        assert_eq!((bar(7.0, 2), bar(1.0, 0)), ("■■".to_owned(), String::new()));
    }
}
