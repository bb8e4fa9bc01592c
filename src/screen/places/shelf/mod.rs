//! The Shelf: what is left of every material, how long it lasts, what it costs, what to beware of.

mod deeds;
mod forms;
mod keys;
mod view;
mod words;

pub use deeds::{Deed, perform};
pub use forms::keep;
pub use keys::KEYS;
pub use view::view;
pub use words::headline;

use crate::screen::kit::list::Chosen;
use crate::screen::kit::step::Step;
use crate::screen::shell::effect::Effect;
use crate::screen::shell::model::{Model, Over, Page, PageKind};
use crate::studio::{Answer, ShelfLine, Studio};
use crate::trade::instant::Now;

/// What the Shelf screen has read, and what is chosen on it.
#[derive(Debug, Default)]
pub struct Shelf {
    /// The materials, by name.
    pub lines: Vec<ShelfLine>,
    chosen: Chosen,
    /// Whether it is as the store has it.
    pub fresh: bool,
}

/// What a key of the Shelf wishes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wish {
    /// Something was bought.
    Bought,
    /// Something was counted.
    Counted,
    /// A new material.
    New,
    /// The chosen material changes.
    Change,
    /// The cautions in full.
    Cautions,
}

/// Which form of the Shelf.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Ask {
    /// Something was bought.
    Bought,
    /// Something was counted.
    Counted,
    /// A new material.
    New,
    /// The material of the name changes.
    Change(String),
}

impl Shelf {
    /// Another line.
    pub fn step(&mut self, step: Step) {
        self.chosen.step(step, self.lines.len());
        self.hold();
    }

    /// Keeps to what is chosen, though others come and go.
    fn hold(&mut self) {
        let number = self.chosen().map(|line| line.material.id);
        self.chosen.hold(number);
    }

    /// The chosen material.
    pub fn chosen(&self) -> Option<&ShelfLine> {
        self.lines.get(self.place())
    }

    /// The material of a name.
    pub fn called(&self, name: &str) -> Option<&ShelfLine> {
        self.lines.iter().find(|line| line.material.name == name)
    }

    /// Its place.
    pub const fn place(&self) -> usize {
        self.chosen.at()
    }

    /// Reads it again.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn reread(&mut self, studio: &Studio, now: &Now) -> Answer<()> {
        self.lines = studio.shelf(now)?;
        let numbers = self.lines.iter().map(|line| line.material.id);
        self.chosen.find(numbers);
        self.fresh = true;
        Ok(())
    }
}

/// Takes a wish.
pub fn update(model: &mut Model, wish: Wish) -> Vec<Effect> {
    model.shelf.hold();
    let form = match (wish, model.shelf.chosen()) {
        (Wish::Cautions, _) => {
            let kind = PageKind::Sheet(words::cautions(model));
            model.over = Some(Over::Page(Page { kind, from: 0 }));
            return Vec::new();
        }
        (Wish::New, _) => Some(forms::new()),
        (_, None) => None,
        (Wish::Bought, Some(line)) => Some(forms::bought(model, line)),
        (Wish::Counted, Some(line)) => Some(forms::counted(model, line)),
        (Wish::Change, Some(line)) => Some(forms::change(model, line)),
    };
    match form {
        Some(form) => model.ask(form),
        None => model.refuse("Nothing is on the shelf yet: n writes a material down"),
    }
    Vec::new()
}
