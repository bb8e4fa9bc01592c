//! The Pour: the stack of layers as it is built, held to the rules of the trade.

use crate::screen::action::Step;
use crate::screen::effect::{Effect, Outcome};
use crate::screen::form::{Fault, Form};
use crate::screen::keys::Binding;
use crate::screen::model::Model;
use crate::studio::{Answer, Studio};
use crate::trade::instant::Now;
use ratatui::Frame;
use ratatui::layout::Rect;

/// The stack as it is being built.
#[derive(Debug, Default)]
pub struct PourDesk {
    /// The cups' marks, lowest first.
    pub layers: Vec<String>,
    /// Whether it is as the store has it.
    pub fresh: bool,
}

/// A wish.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wish {
    /// Judged so.
    Judged(u8),
    /// Wet or dry.
    Dry,
}

/// Which form.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Ask {}

/// A deed.
#[derive(Debug, Clone)]
pub enum Deed {}

/// What came back.
#[derive(Debug)]
pub enum Told {}

impl PourDesk {
    /// Another line.
    pub fn step(&mut self, _step: Step) {}
    /// Puts a cup on the stack.
    pub fn add(&mut self, mark: &str) {
        self.layers.push(mark.to_owned());
    }
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

/// Takes a wish.
pub fn update(_model: &mut Model, _wish: Wish) -> Vec<Effect> {
    Vec::new()
}
/// Does a deed.
///
/// # Errors
/// Where the studio refuses.
pub fn perform(_studio: &mut Studio, deed: Deed, _now: &Now) -> Answer<Outcome> {
    match deed {}
}
/// Takes what came back.
pub fn take(_model: &mut Model, told: Told) {
    match told {}
}
/// Turns what was typed into a deed.
///
/// # Errors
/// The first fault.
pub fn keep(_model: &Model, ask: &Ask, _form: &Form) -> Result<Vec<Effect>, Fault> {
    match *ask {}
}
/// What the hands must do next.
pub fn headline(model: &Model) -> String {
    format!(
        "On the stack, lowest first: {}",
        model.pour.layers.join(", ")
    )
}
/// Draws it.
pub fn view(_model: &Model, _frame: &mut Frame<'_>, _area: Rect) {}
