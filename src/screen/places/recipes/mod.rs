//! The Recipes: what each is made of and meant to do, and what every change of it changed.

mod forms;
mod keys;
mod view;
mod words;

pub use forms::{changed, keep};
pub use keys::KEYS;
pub use view::view;
pub use words::headline;

use crate::screen::kit::list::Chosen;
use crate::screen::kit::step::Step;
use crate::screen::places::bench;
use crate::screen::shell::effect::{Effect, Outcome};
use crate::screen::shell::model::{Model, Over, Page, PageKind};
use crate::studio::{Answer, RecipeOrder, RecipePage, Studio};
use crate::trade::instant::Now;
use crate::trade::recipe::LayerKind;

/// What the Recipes screen has read, and what is chosen on it.
#[derive(Debug, Default)]
pub struct Recipes {
    /// The recipes, by name.
    pub pages: Vec<RecipePage>,
    chosen: Chosen,
    /// A recipe, by name, to choose once it is read.
    wanted: Option<String>,
    /// Whether it is as the store has it.
    pub fresh: bool,
}

/// What a key of the Recipes wishes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wish {
    /// A new recipe.
    New,
    /// The chosen recipe changes: a new variant.
    Change,
    /// Mix a cup of it.
    Mix,
    /// All its variants.
    Page,
}

/// Which form of the Recipes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Ask {
    /// A new recipe.
    New,
    /// The recipe of the name changes.
    Change(String),
}

/// A deed of the Recipes.
#[derive(Debug, Clone)]
pub enum Deed {
    /// A new recipe for a layer.
    Add(String, LayerKind, Box<RecipeOrder>),
    /// A recipe changes.
    Change(String, Box<RecipeOrder>),
}

impl Recipes {
    /// Another line.
    pub fn step(&mut self, step: Step) {
        self.chosen.step(step, self.pages.len());
        self.hold();
    }

    /// Keeps to what is chosen, though others come and go.
    fn hold(&mut self) {
        let number = self.chosen().map(|page| page.recipe.id);
        self.chosen.hold(number);
    }

    /// The chosen recipe.
    pub fn chosen(&self) -> Option<&RecipePage> {
        self.pages.get(self.place())
    }

    /// The recipe of a name.
    pub fn called(&self, name: &str) -> Option<&RecipePage> {
        self.pages.iter().find(|page| page.recipe.name == name)
    }

    /// Chooses a recipe by name, once it is read.
    fn want(&mut self, name: &str) {
        self.wanted = Some(name.to_owned());
    }

    /// Its place.
    pub const fn place(&self) -> usize {
        self.chosen.at()
    }

    /// Reads it again.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn reread(&mut self, studio: &Studio, _now: &Now) -> Answer<()> {
        self.pages = studio.recipes()?;
        if let Some(name) = self.wanted.take() {
            let found = self.called(name.trim()).map(|page| page.recipe.id);
            self.chosen.hold(found.or(self.chosen.number()));
        }
        let numbers = self.pages.iter().map(|page| page.recipe.id);
        self.chosen.find(numbers);
        self.fresh = true;
        Ok(())
    }
}

/// Takes a wish.
pub fn update(model: &mut Model, wish: Wish) -> Vec<Effect> {
    if wish == Wish::New {
        let form = forms::new(model);
        model.ask(form);
        return Vec::new();
    }
    model.recipes.hold();
    let Some(page) = model.recipes.chosen() else {
        model.refuse("There is no recipe yet: n writes one down");
        return Vec::new();
    };
    match wish {
        Wish::Mix => {
            let name = page.recipe.name.clone();
            return bench::mix_by(model, &name);
        }
        Wish::Page => {
            let kind = PageKind::Sheet(words::sheet(page, &model.beat.now));
            model.over = Some(Over::Page(Page { kind, from: 0 }));
        }
        _ => match forms::change(model, page) {
            Some(form) => model.ask(form),
            None => model.refuse("It has more parts than this form holds: stillcup recipe change"),
        },
    }
    Vec::new()
}

/// Does a deed.
///
/// # Errors
/// Where the studio refuses, or the store fails.
pub fn perform(studio: &mut Studio, deed: Deed, now: &Now) -> Answer<Outcome> {
    let page = match deed {
        Deed::Add(name, layer, order) => studio.add_recipe(&name, layer, &order, now)?,
        Deed::Change(name, order) => studio.change_recipe(&name, &order, now)?,
    };
    let changed = page.changed(page.variants.len().saturating_sub(1));
    let number = page.newest().map_or(1, |variant| variant.number);
    let mut words = format!("{} v{number} is written down", page.recipe.name);
    if !changed.is_empty() {
        words = format!("{words}: {}", changed.join(", "));
    }
    Ok(Outcome::wrote(words))
}
