//! A small swatch of a paint's colour. It stands beside a name, never alone; where the terminal shows no colours, or nobody
//! said one, nothing stands there.

use crate::screen::kit::desk::Desk;
use crate::screen::kit::text::plain;
use crate::trade::colour::Colour;
use ratatui::style::{Color, Style};
use ratatui::text::Span;

/// Cells of a swatch and the gap behind it.
const CELLS: usize = 3;

impl Desk {
    /// A paint's colour as this terminal shows it; none where it shows none.
    pub fn paint(&self, colour: Option<Colour>) -> Option<Color> {
        self.terminal.colour(colour?.0)
    }

    /// A swatch with its gap; blank where the colour is unknown, nothing at all where no swatch is shown.
    pub fn swatch(&self, colour: Option<Colour>) -> Span<'static> {
        match self.paint(colour) {
            Some(ink) => Span::styled("██ ", Style::new().fg(ink)),
            None => plain(" ".repeat(self.swatch_cells())),
        }
    }

    /// How many cells the swatches of a list take.
    pub fn swatch_cells(&self) -> usize {
        let shown = self.paint(Some(Colour([0; 3]))).is_some() && self.known.names.any_colour();
        if shown { CELLS } else { 0 }
    }
}
