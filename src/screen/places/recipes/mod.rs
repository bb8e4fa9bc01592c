//! The Recipes: what each is made of and meant to do, and what every change of it changed.

mod forms;
mod keys;
mod view;
mod words;

pub use keys::KEYS;

use crate::screen::kit::desk::Desk;
use crate::screen::kit::form::{Fault, Form};
use crate::screen::kit::handover::Handover;
use crate::screen::kit::list::Chosen;
use crate::screen::kit::naming::{self, NameDeed};
use crate::screen::kit::place::{Hands, Next, Outcome, Place};
use crate::screen::kit::seek::Label;
use crate::screen::kit::step::Step;
use crate::studio::orders::RecipeNameOrder;
use crate::studio::{Answer, RecipeOrder, RecipePage, Studio};
use crate::trade::ids::RecipeId;
use crate::trade::recipe::{LayerKind, PartOf, variant_title};
use ratatui::Frame;
use ratatui::layout::Rect;

/// What the Recipes screen has read, and what is chosen on it.
#[derive(Debug, Default)]
pub struct Recipes {
    /// The recipes, by name.
    pub pages: Vec<RecipePage>,
    chosen: Chosen,
    /// A recipe to choose once it is read.
    wanted: Option<RecipeId>,
    /// Whether it is as the store has it.
    current: bool,
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
    /// The chosen recipe has another name or layer.
    Rename,
    /// The chosen recipe is another one's.
    Merge,
    /// The chosen recipe is no longer offered, or is again.
    PutAway,
    /// All its variants.
    Page,
}

/// Which form of the Recipes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ask {
    /// A new recipe.
    New,
    /// A recipe changes.
    Change(RecipeId),
    /// A recipe has another name or layer.
    Rename(RecipeId),
    /// A recipe is another name of one.
    Merge(RecipeId),
}

/// A deed of the Recipes.
#[derive(Debug, Clone)]
pub enum Deed {
    /// A new recipe for a layer.
    Add(String, LayerKind, Box<RecipeOrder>),
    /// A recipe changes.
    Change(RecipeId, Box<RecipeOrder>),
    /// A recipe has another name or layer.
    Rename(RecipeNameOrder),
    /// A name is put right.
    Name(NameDeed),
}

impl Recipes {
    /// Keeps to what is chosen, though others come and go.
    fn hold(&mut self) {
        let number = self.chosen().map(|page| page.recipe.id);
        self.chosen.hold(number);
    }

    /// The chosen recipe.
    pub fn chosen(&self) -> Option<&RecipePage> {
        self.pages.get(self.place())
    }

    /// A recipe, as long as it is there.
    fn numbered(&self, id: RecipeId) -> Option<&RecipePage> {
        self.pages.iter().find(|page| page.recipe.id == id.0)
    }

    /// Its place.
    pub const fn place(&self) -> usize {
        self.chosen.at()
    }
}

impl Place for Recipes {
    fn mark_stale(&mut self) {
        self.current = false;
    }

    fn is_stale(&self) -> bool {
        !self.current
    }

    fn reread(&mut self, studio: &Studio, _desk: &Desk) -> Answer<()> {
        self.pages = studio.recipes()?;
        if let Some(RecipeId(wanted)) = self.wanted.take() {
            self.chosen.hold(Some(wanted));
        }
        let numbers = self.pages.iter().map(|page| page.recipe.id);
        self.chosen.find(numbers);
        self.current = true;
        Ok(())
    }

    fn step(&mut self, step: Step, _desk: &Desk) {
        self.chosen.step(step, self.pages.len());
        self.hold();
    }

    fn labels(&self, _desk: &Desk) -> Vec<Label> {
        let lines = self.pages.iter();
        lines
            .map(|line| Label::new("", line.recipe.name.clone()))
            .collect()
    }

    fn chosen_at(&self, _desk: &Desk) -> usize {
        self.chosen.at()
    }

    fn choose_at(&mut self, at: usize, _desk: &Desk) {
        self.chosen.go_to(at);
        self.hold();
    }

    fn headline(&self, _desk: &Desk) -> String {
        words::headline(self)
    }

    fn view(&self, desk: &Desk, frame: &mut Frame<'_>, area: Rect) {
        view::view(self, desk, frame, area);
    }
}

impl Hands for Recipes {
    type Wish = Wish;
    type Ask = Ask;
    type Deed = Deed;

    fn update(&mut self, wish: Wish, desk: &mut Desk) -> Option<Next<Ask, Deed>> {
        if wish == Wish::New {
            return Next::ask(Ask::New, forms::new(desk));
        }
        self.hold();
        let Some(page) = self.chosen() else {
            desk.refuse("There is no recipe yet: a writes one down");
            return None;
        };
        let id = RecipeId(page.recipe.id);
        match wish {
            Wish::Rename => return Next::ask(Ask::Rename(id), forms::rename(desk, page)),
            Wish::Merge => {
                let all = self.pages.iter().map(|page| page.recipe.name.clone());
                let form = naming::merge(&page.recipe.name, all, desk.measures());
                return Next::ask(Ask::Merge(id), form);
            }
            Wish::PutAway => {
                return Some(Next::Do(Deed::Name(NameDeed::PutAway {
                    of: PartOf::Recipe(id.0),
                    retired: page.recipe.retired,
                })));
            }
            Wish::Mix if page.recipe.retired => {
                desk.refuse("It is retired: x brings it back");
            }
            Wish::Mix => desk.hand(Handover::Mix {
                recipe: page.recipe.name.clone(),
                variant: None,
            }),
            Wish::Page => desk.show(words::sheet(page, desk)),
            _ => match forms::change(desk, page) {
                Some(form) => return Next::ask(Ask::Change(RecipeId(page.recipe.id)), form),
                None => {
                    desk.refuse("It has more parts than this form holds: stillcup recipe change");
                }
            },
        }
        None
    }

    fn changed(&self, _ask: &Ask, form: &mut Form, desk: &Desk) -> Option<Deed> {
        forms::changed(form, desk.measures());
        None
    }

    fn check(&self, ask: &Ask, form: &Form, desk: &Desk) -> Result<(), Fault> {
        forms::keep(self, desk, *ask, form).map(drop)
    }

    fn keep(&mut self, ask: &Ask, form: &Form, desk: &mut Desk) -> Result<Option<Deed>, Fault> {
        forms::keep(self, desk, *ask, form).map(Some)
    }

    fn perform(&mut self, studio: &mut Studio, deed: Deed, desk: &mut Desk) -> Answer<Outcome> {
        let now = &desk.beat.now;
        match deed {
            Deed::Name(deed) => naming::perform(studio, deed, now),
            Deed::Rename(order) => {
                let recipe = studio.rename_recipe(&order, now)?.recipe;
                let words = format!("It is called {} now, a {}", recipe.name, recipe.layer);
                Ok(Outcome::wrote(words))
            }
            Deed::Change(recipe, order) => {
                let page = studio.change_recipe(recipe, &order, now)?;
                Ok(written(&page, desk))
            }
            Deed::Add(name, layer, order) => {
                let page = studio.add_recipe(&name, layer, &order, now)?;
                self.wanted = Some(RecipeId(page.recipe.id));
                Ok(written(&page, desk))
            }
        }
    }
}

fn written(page: &RecipePage, desk: &Desk) -> Outcome {
    let number = page.newest().map_or(1, |variant| variant.number);
    let mut words = format!(
        "{} is written down",
        variant_title(&page.recipe.name, number)
    );
    if let Some(changed) = words::newest_changed(page, desk) {
        words = format!("{words}; {changed}");
    }
    Outcome::wrote(words)
}
