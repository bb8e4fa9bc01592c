//! The Recipes screen (being built).

use crate::screen::action::Step;
use crate::screen::keys::Binding;
use crate::screen::model::Model;
use crate::studio::{Answer, Studio};
use crate::trade::instant::Now;
use ratatui::Frame;
use ratatui::layout::Rect;

/// What the Recipes screen has read, and what is chosen on it.
#[derive(Debug, Default)]
pub struct Recipes {
    /// Whether it is as the store has it.
    pub fresh: bool,
}

impl Recipes {
    /// Another line.
    pub fn step(&mut self, _step: Step) {}

    /// Reads it again.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn reread(&mut self, _studio: &Studio, _now: &Now) -> Answer<()> {
        self.fresh = true;
        Ok(())
    }
}

/// Its keys.
pub const KEYS: &[Binding] = &[];

/// What the hands must do next.
pub fn headline(_model: &Model) -> String {
    "Not there yet.".to_owned()
}

/// Draws it.
pub fn view(_model: &Model, _frame: &mut Frame<'_>, _area: Rect) {}
