//! The Rack: pictures drying, and when they may be touched and varnished.

mod page;
mod view;
mod words;

pub use view::view;
pub use words::headline;

use crate::screen::Screen;
use crate::screen::kit::form::{self, Fault, Field, Form};
use crate::screen::kit::keys::{Key, char, code};
use crate::screen::kit::list::Chosen;
use crate::screen::kit::step::Step;
use crate::screen::shell::action::Action;
use crate::screen::shell::effect::{Effect, Outcome};
use crate::screen::shell::keys::{Binding, Context};
use crate::screen::shell::model::{Model, Over, PageKind};
use crate::studio::{Answer, RackLine, Studio};
use crate::trade::instant::Now;
use crate::trade::pour::Air;
use crossterm::event::KeyCode;

/// What the Rack screen has read, and what is chosen on it.
#[derive(Debug, Default)]
pub struct Rack {
    /// The pictures, newest first.
    pub lines: Vec<RackLine>,
    /// The room's air as it was last entered.
    pub room: Option<Air>,
    chosen: Chosen,
    /// Whether it is as the store has it.
    pub fresh: bool,
}

/// What a key of the Rack wishes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wish {
    /// The room's air.
    Air,
    /// Judge the chosen picture dry.
    Dry,
    /// The chosen picture was varnished.
    Varnish,
    /// The chosen pour's page.
    Page,
}

/// Which form of the Rack.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ask {
    /// The room's air.
    Air,
}

/// A deed of the Rack.
#[derive(Debug, Clone)]
pub enum Deed {
    /// The room's air is this.
    Air(String),
    /// The picture of the number was varnished.
    Varnish(i64),
    /// Fetch what a picture cost, and show its page.
    Page(Box<RackLine>),
}

impl Rack {
    /// Another line.
    pub fn step(&mut self, step: Step) {
        self.chosen.step(step, self.lines.len());
        self.hold();
    }

    /// Keeps to what is chosen, though others come and go.
    fn hold(&mut self) {
        let number = self.chosen().map(|line| line.page.pour.id);
        self.chosen.hold(number);
    }

    /// The chosen picture.
    pub fn chosen(&self) -> Option<&RackLine> {
        self.lines.get(self.place())
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
        self.lines = studio.rack(now)?;
        self.room = studio.room_air()?;
        let numbers = self.lines.iter().map(|line| line.page.pour.id);
        self.chosen.find(numbers);
        self.fresh = true;
        Ok(())
    }
}

/// Takes a wish.
pub fn update(model: &mut Model, wish: Wish) -> Vec<Effect> {
    if wish == Wish::Air {
        let form = air(model);
        model.ask(form);
        return Vec::new();
    }
    model.rack.hold();
    let Some(line) = model.rack.chosen() else {
        model.refuse("Nothing lies on the rack: 2 is where a picture is poured");
        return Vec::new();
    };
    match wish {
        Wish::Page => return vec![Effect::Rack(Deed::Page(Box::new(line.clone())))],
        Wish::Varnish => return vec![Effect::Rack(Deed::Varnish(line.page.pour.id))],
        Wish::Dry | Wish::Air => {}
    }
    model.over = Some(Over::Judging(line.page.pour.id, true));
    Vec::new()
}

fn air(model: &Model) -> Form {
    let measures = model.known.measures();
    let offer = model.rack.room.map(|air| air.show(measures));
    let hint = "temperature and humidity where it dries: 21C,45%";
    let fields = vec![Field::text("air", hint, &offer.unwrap_or_default())];
    Form::new(form::Ask::Rack(Ask::Air), "The air of the room", fields)
}

/// Turns what was typed into a deed.
///
/// # Errors
/// The first fault, in its field.
pub fn keep(form: &Form) -> Result<Vec<Effect>, Fault> {
    form.read("air", Air::parse)?;
    let text = form.value("air").to_owned();
    Ok(vec![Effect::Rack(Deed::Air(text))])
}

/// Does a deed.
///
/// # Errors
/// Where the studio refuses, or the store fails.
pub fn perform(studio: &mut Studio, deed: Deed, now: &Now) -> Answer<Outcome> {
    match deed {
        Deed::Air(text) => {
            studio.set("air", &text, now)?;
            let words = match text.is_empty() {
                true => "The room's air is not said: the dates go by what each pour had".to_owned(),
                false => format!("The room's air is {text}: the dates moved with it"),
            };
            Ok(Outcome::wrote(words))
        }
        Deed::Varnish(pour) => {
            let remarks = studio.varnish(pour, None, now)?;
            let words = format!("Pour {pour} is varnished and off the rack");
            Ok(Outcome {
                remarks,
                ..Outcome::wrote(words)
            })
        }
        Deed::Page(line) => {
            let settings = studio.settings()?;
            let cost = studio.pour_cost(line.page.pour.id)?;
            let page = page::sheet(&line, Some(&cost), &settings, now);
            Ok(Outcome {
                page: Some(PageKind::Sheet(page)),
                ..Outcome::default()
            })
        }
    }
}

const fn here(keys: &'static [Key], wish: Wish, word: &'static str, help: &'static str) -> Binding {
    let context = Context::Screen(Screen::Rack);
    Binding::at(context, keys, Action::Rack(wish), word, help)
}

/// Its keys.
pub const KEYS: &[Binding] = &[
    here(
        &[char('d')],
        Wish::Dry,
        "judge dry",
        "Judge the chosen picture dry: cells, 0 to 5",
    ),
    here(
        &[char('v')],
        Wish::Varnish,
        "varnished",
        "The chosen picture was varnished: it leaves the rack",
    ),
    here(
        &[char('i'), char('a')],
        Wish::Air,
        "air",
        "The air of the room; the dates follow it",
    ),
    here(
        &[code(KeyCode::Enter)],
        Wish::Page,
        "open",
        "The pour's page: layers, moves, judgements, cost",
    ),
];
