//! What a place is to the shell, which holds all of them alike.

use crate::screen::kit::desk::Desk;
use crate::screen::kit::form::{Fault, Form};
use crate::screen::kit::seek::Label;
use crate::screen::kit::sheet::Sheet;
use crate::screen::kit::step::Step;
use crate::studio::{Answer, Remarks, Studio};
use ratatui::Frame;
use ratatui::layout::Rect;

/// A place that is read from the studio, drawn, and walked through line by line.
pub trait Place {
    /// What it shows may have changed in the store.
    fn mark_stale(&mut self);

    /// Whether it must be read again before it is drawn.
    fn is_stale(&self) -> bool;

    /// Reads again what it shows.
    ///
    /// # Errors
    /// Where the store cannot be read.
    fn reread(&mut self, studio: &Studio, desk: &Desk) -> Answer<()>;

    /// Another line.
    fn step(&mut self, step: Step, desk: &Desk);

    /// What the hands must do next, in words.
    fn headline(&self, desk: &Desk) -> String;

    /// Draws it; changes nothing.
    fn view(&self, desk: &Desk, frame: &mut Frame<'_>, area: Rect);

    /// A question that one key answers, while it is open.
    fn question(&self) -> Option<String> {
        None
    }

    /// What its lines are found by, in their order; none where it has no list.
    fn labels(&self, _desk: &Desk) -> Vec<Label> {
        Vec::new()
    }

    /// Chooses the line at a place.
    fn choose_at(&mut self, _at: usize, _desk: &Desk) {}

    /// The place of the line that is chosen among them.
    fn chosen_at(&self, _desk: &Desk) -> usize {
        0
    }

    /// What is in hand, where a file may be written of it.
    fn subject(&self, _desk: &Desk) -> Option<Subject> {
        None
    }

    /// What lies over the place is left.
    fn close(&mut self) {}

    /// Another place is gone to: a question that waits for its answer here waits no more.
    fn leave(&mut self) {}

    /// Something was written down, here or in another place: what was begun on the way to it is done with.
    fn after_deed(&mut self) {}

    /// Takes the last thing back that was done here and is not in the logbook; `false` where there is none.
    fn take_back(&mut self, _desk: &mut Desk) -> bool {
        false
    }
}

/// What is in hand in a place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Subject {
    /// The cup with this mark.
    Cup(String),
    /// The kept plan of this number.
    Plan(i64),
    /// The picture of the pour of this number.
    Picture(i64),
}

/// What hands do in a place: its keys, its forms, its deeds.
pub trait Hands {
    /// What a key may wish; no text in it.
    type Wish: Copy;
    /// Which form it is.
    type Ask: Clone + PartialEq;
    /// What is done through the studio.
    type Deed;

    /// Takes a wish.
    fn update(&mut self, wish: Self::Wish, desk: &mut Desk) -> Option<Next<Self::Ask, Self::Deed>>;

    /// What follows from an edit, and from a form being opened.
    fn changed(&self, _ask: &Self::Ask, _form: &mut Form, _desk: &Desk) -> Option<Self::Deed> {
        None
    }

    /// What is wrong with what is typed so far, by which a field is told as it is left; changes nothing.
    ///
    /// # Errors
    /// The first fault, in its field.
    fn check(&self, _ask: &Self::Ask, _form: &Form, _desk: &Desk) -> Result<(), Fault> {
        Ok(())
    }

    /// Takes what was typed: a deed that is still to be done keeps the form open until it was; with none the form is
    /// done with.
    ///
    /// # Errors
    /// The first fault, in its field.
    fn keep(
        &mut self,
        ask: &Self::Ask,
        form: &Form,
        desk: &mut Desk,
    ) -> Result<Option<Self::Deed>, Fault>;

    /// Does a deed, and takes what came of it into the place.
    ///
    /// # Errors
    /// Where the studio refuses, or the store fails.
    fn perform(
        &mut self,
        studio: &mut Studio,
        deed: Self::Deed,
        desk: &mut Desk,
    ) -> Answer<Outcome>;
}

/// What follows from a key.
#[derive(Debug)]
pub enum Next<A, D> {
    /// A form is to be filled in.
    Ask(A, Box<Form>),
    /// A deed is to be done.
    Do(D),
}

impl<A, D> Next<A, D> {
    /// A form is to be filled in.
    pub fn ask(ask: A, form: Form) -> Option<Self> {
        Some(Self::Ask(ask, Box::new(form)))
    }
}

/// What came of a deed.
#[derive(Debug, Default)]
pub struct Outcome {
    /// What was written, in words; `None` where nothing was.
    pub wrote: Option<String>,
    /// What is wrong about it, and what will happen.
    pub remarks: Remarks,
    /// A page to be shown.
    pub page: Option<Sheet>,
    /// What follows from the form, beside it.
    pub aside: Option<Vec<String>>,
    /// The form is done with, though nothing was written.
    pub closes: bool,
}

impl Outcome {
    /// Something was written.
    pub fn wrote(words: impl Into<String>) -> Self {
        Self {
            wrote: Some(words.into()),
            ..Self::default()
        }
    }

    /// The form is done with; nothing was written.
    pub fn taken() -> Self {
        Self {
            closes: true,
            ..Self::default()
        }
    }

    /// A page is to be shown.
    pub fn page(sheet: Sheet) -> Self {
        Self {
            page: Some(sheet),
            ..Self::default()
        }
    }

    /// What follows from a form.
    pub fn aside(lines: Vec<String>) -> Self {
        Self {
            aside: Some(lines),
            ..Self::default()
        }
    }
}
