//! The Shelf: what is left of every material, how long it lasts, what it costs, what to beware of.

mod course;
mod deeds;
mod forms;
mod keys;
mod view;
mod words;

pub use deeds::Deed;
pub use keys::KEYS;

use crate::screen::kit::desk::Desk;
use crate::screen::kit::form::{Fault, Form};
use crate::screen::kit::list::Chosen;
use crate::screen::kit::naming::{self, NameDeed};
use crate::screen::kit::place::{Hands, Next, Outcome, Place};
use crate::screen::kit::seek::Label;
use crate::screen::kit::step::Step;
use crate::studio::{Answer, ShelfLine, StockCourse, Studio};
use crate::trade::ids::MaterialId;
use crate::trade::recipe::PartOf;
use ratatui::Frame;
use ratatui::layout::Rect;

/// What the Shelf screen has read, and what is chosen on it.
#[derive(Debug, Default)]
pub struct Shelf {
    /// The materials, by name.
    pub lines: Vec<ShelfLine>,
    chosen: Chosen,
    /// What was left of the chosen material day by day.
    course: Option<StockCourse>,
    /// A material to choose once it is read.
    wanted: Option<i64>,
    /// Whether it is as the store has it.
    current: bool,
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
    /// The chosen material is another one's.
    Merge,
    /// The chosen material is no longer offered, or is again.
    PutAway,
    /// The cautions in full.
    Cautions,
}

/// Which form of the Shelf.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ask {
    /// Something was bought.
    Bought,
    /// Something was counted.
    Counted,
    /// A new material.
    New,
    /// A material changes.
    Change(MaterialId),
    /// A material is another name of one.
    Merge(MaterialId),
}

impl Shelf {
    /// Keeps to what is chosen, though others come and go.
    fn hold(&mut self) {
        let number = self.chosen().map(|line| line.material.id);
        self.chosen.hold(number);
    }

    fn read_lines(&mut self, studio: &Studio, desk: &Desk) -> Answer<()> {
        self.lines = studio.shelf(&desk.beat.now)?;
        if let Some(wanted) = self.wanted.take() {
            self.chosen.hold(Some(wanted));
        }
        let numbers = self.lines.iter().map(|line| line.material.id);
        self.chosen.find(numbers);
        Ok(())
    }

    fn chosen_id(&self) -> Option<MaterialId> {
        self.chosen().map(|line| MaterialId(line.material.id))
    }

    /// The chosen material.
    pub fn chosen(&self) -> Option<&ShelfLine> {
        self.lines.get(self.place())
    }

    /// A material, as long as it is there.
    fn numbered(&self, id: MaterialId) -> Option<&ShelfLine> {
        self.lines.iter().find(|line| line.material.id == id.0)
    }

    /// Its place.
    pub const fn place(&self) -> usize {
        self.chosen.at()
    }
}

impl Place for Shelf {
    fn mark_stale(&mut self) {
        self.current = false;
    }

    fn is_stale(&self) -> bool {
        let drawn = self.course.as_ref().map(|course| course.material);
        !self.current || drawn != self.chosen_id()
    }

    fn reread(&mut self, studio: &Studio, desk: &Desk) -> Answer<()> {
        if !self.current {
            self.read_lines(studio, desk)?;
        }
        let course = self
            .chosen_id()
            .map(|id| studio.stock_course(id, &desk.beat.now));
        self.course = course.transpose()?;
        self.current = true;
        Ok(())
    }

    fn step(&mut self, step: Step, _desk: &Desk) {
        self.chosen.step(step, self.lines.len());
        self.hold();
    }

    fn labels(&self, _desk: &Desk) -> Vec<Label> {
        let lines = self.lines.iter();
        lines
            .map(|line| Label::new("", line.material.name.clone()))
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

impl Hands for Shelf {
    type Wish = Wish;
    type Ask = Ask;
    type Deed = Deed;

    fn update(&mut self, wish: Wish, desk: &mut Desk) -> Option<Next<Ask, Deed>> {
        self.hold();
        let measures = desk.measures();
        match (wish, self.chosen()) {
            (Wish::Cautions, _) => {
                desk.show(words::cautions(self));
                None
            }
            (Wish::New, _) => Next::ask(Ask::New, forms::new(measures)),
            (_, None) => {
                desk.refuse("Nothing is on the shelf yet: a writes a material down");
                None
            }
            (Wish::Bought, Some(line)) => {
                Next::ask(Ask::Bought, forms::bought(self, line, measures))
            }
            (Wish::Counted, Some(line)) => {
                Next::ask(Ask::Counted, forms::counted(self, line, measures))
            }
            (Wish::Merge, Some(line)) => {
                let all = self.lines.iter().map(|line| line.material.name.clone());
                let form = naming::merge(&line.material.name, all, measures);
                Next::ask(Ask::Merge(MaterialId(line.material.id)), form)
            }
            (Wish::PutAway, Some(line)) => Some(Next::Do(Deed::Name(NameDeed::PutAway {
                of: PartOf::Material(line.material.id),
                retired: line.material.retired,
            }))),
            (Wish::Change, Some(line)) => {
                let ask = Ask::Change(MaterialId(line.material.id));
                Next::ask(ask, forms::change(&line.material, measures))
            }
        }
    }

    fn check(&self, ask: &Ask, form: &Form, desk: &Desk) -> Result<(), Fault> {
        forms::keep(self, desk, *ask, form).map(drop)
    }

    fn keep(&mut self, ask: &Ask, form: &Form, desk: &mut Desk) -> Result<Option<Deed>, Fault> {
        forms::keep(self, desk, *ask, form).map(Some)
    }

    fn perform(&mut self, studio: &mut Studio, deed: Deed, desk: &mut Desk) -> Answer<Outcome> {
        deeds::perform(studio, deed, &mut self.wanted, &desk.beat.now)
    }
}
