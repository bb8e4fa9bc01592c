//! The Rack: pictures drying, and when they may be touched and varnished.

mod compare;
mod days;
mod forms;
mod keys;
mod page;
mod shown;
mod view;
mod words;

pub use keys::KEYS;

use crate::numbers::cells::Pixels;
use crate::screen::kit::correct;
use crate::screen::kit::desk::Desk;
use crate::screen::kit::form::{Fault, Form};
use crate::screen::kit::handover::Handover;
use crate::screen::kit::list::Chosen;
use crate::screen::kit::place::{Hands, Next, Outcome, Place, Subject};
use crate::screen::kit::row_thumbs::{RowThumbs, near};
use crate::screen::kit::seek::Label;
use crate::screen::kit::step::Step;
use crate::screen::kit::thumbs::Thumbs;
use crate::studio::orders::CorrectOrder;
use crate::studio::{Answer, RackLine, SaleOrder, Studio, TitleOrder};
use crate::tell;
use crate::trade::judgement::Fate;
use crate::trade::picture::Picture;
use crate::trade::pour::Air;
use ratatui::Frame;
use ratatui::layout::Rect;
use shown::{Order, Shown};
use std::collections::HashMap;

/// What the Rack screen has read, and what is chosen on it.
#[derive(Debug, Default)]
pub struct Rack {
    /// The pictures, newest first.
    pub lines: Vec<RackLine>,
    /// The room's air as it was last entered.
    pub room: Option<Air>,
    /// What became of each, where that is known.
    fates: Vec<Option<Fate>>,
    /// Which pictures are shown.
    shown: Shown,
    /// In which order.
    order: Order,
    /// What is known of them as goods, by their pours' numbers.
    pictures: HashMap<i64, Picture>,
    /// Which of them make which once more.
    repeats: HashMap<i64, i64>,
    chosen: Chosen,
    /// The picture that something was just done with: it stays in hand though it is no more among those shown.
    stays: Option<i64>,
    /// Thumbnails of those that were chosen.
    thumbs: Thumbs,
    /// Thumbnails of the rows in sight.
    row_thumbs: RowThumbs,
    /// Whether it is as the store has it.
    current: bool,
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
    /// The chosen picture's title and the price asked.
    Title,
    /// The chosen picture was sold.
    Sold,
    /// The chosen picture's pour put right.
    Correct,
    /// The chosen picture's photos.
    Photos,
    /// The chosen pour's page.
    Page,
    /// The chosen picture once more.
    Repeat,
    /// The chosen picture beside another.
    Compare,
    /// Another kind of pictures.
    Filter,
    /// Another order.
    Order,
}

/// Which form of the Rack.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ask {
    /// The room's air.
    Air,
    /// The title of the picture of the number, and the price asked.
    Title(i64),
    /// The sale of the picture of the number.
    Sold(i64),
    /// The pour of the number put right.
    Correct(i64),
    /// Another picture to hold that of the number against.
    Compare(i64),
}

/// A deed of the Rack.
#[derive(Debug, Clone)]
pub enum Deed {
    /// The room's air is this.
    Air(Option<Air>),
    /// The picture of the number was varnished.
    Varnish(i64),
    /// The picture of the number is called this, and so much is asked.
    Title(i64, TitleOrder),
    /// The picture of the number was sold.
    Sold(i64, SaleOrder),
    /// The pour of the number is put right.
    Correct(i64, Box<CorrectOrder>),
    /// Two pictures side by side.
    Compare(i64, i64),
    /// Fetch what a picture cost, and show its page.
    Page(Box<RackLine>),
}

impl Rack {
    /// Keeps to what is chosen, though others come and go.
    fn hold(&mut self) {
        let number = self.chosen().map(|line| line.page.pour.id);
        self.chosen.hold(number);
    }

    /// Another picture is in hand: one that is no more among those shown goes.
    fn let_go(&mut self) {
        let went = self
            .stays
            .take()
            .is_some_and(|one| Some(one) != self.chosen_pour());
        self.current &= !went;
    }

    /// The chosen picture.
    pub fn chosen(&self) -> Option<&RackLine> {
        self.lines.get(self.place())
    }

    /// What the picture of a number is called.
    fn title_of(&self, pour: i64) -> Option<&str> {
        self.pictures.get(&pour)?.title.as_deref()
    }

    fn chosen_pour(&self) -> Option<i64> {
        self.chosen().map(|line| line.page.pour.id)
    }

    /// The chosen picture's thumbnail.
    fn thumb(&self) -> Option<&Pixels> {
        self.thumbs.of(self.chosen_pour()?)
    }

    /// The pours of rows that may be in sight, the nearest to the chosen one first.
    fn near(&self) -> Vec<i64> {
        near(&self.lines, self.place(), |line| line.page.pour.id)
    }

    /// Its place.
    pub const fn place(&self) -> usize {
        self.chosen.at()
    }
}

impl Place for Rack {
    fn mark_stale(&mut self) {
        self.current = false;
    }

    fn is_stale(&self) -> bool {
        !self.current
            || self.thumbs.lacks(self.chosen_pour())
            || self.row_thumbs.lacks(&self.near())
    }

    fn reread(&mut self, studio: &Studio, desk: &Desk) -> Answer<()> {
        if self.current {
            self.thumbs.read(studio, self.chosen_pour())?;
            let near = self.near();
            return self.row_thumbs.fetch(studio, &near, desk.pictures());
        }
        let now = &desk.beat.now;
        let mut pictures = self.shown.read_with(self.stays, studio, now)?;
        self.order.apply(&mut pictures, now);
        (self.lines, self.fates) = pictures.into_iter().unzip();
        self.room = studio.room_air()?;
        self.pictures = studio.pictures()?;
        self.repeats = studio.all_repeats()?;
        let numbers = self.lines.iter().map(|line| line.page.pour.id);
        self.chosen.find(numbers);
        self.thumbs.forget();
        self.row_thumbs.forget();
        self.thumbs.read(studio, self.chosen_pour())?;
        self.current = true;
        Ok(())
    }

    fn step(&mut self, step: Step, _desk: &Desk) {
        self.chosen.step(step, self.lines.len());
        self.hold();
        self.let_go();
    }

    fn labels(&self, _desk: &Desk) -> Vec<Label> {
        let lines = self.lines.iter();
        lines
            .map(|line| {
                let pour = &line.page.pour;
                let way = pour.way.as_deref().unwrap_or_default();
                let title = self.title_of(pour.id).unwrap_or_default();
                Label::new(pour.id, format!("{title} {way}").trim())
            })
            .collect()
    }

    fn chosen_at(&self, _desk: &Desk) -> usize {
        self.chosen.at()
    }

    fn choose_at(&mut self, at: usize, _desk: &Desk) {
        self.chosen.go_to(at);
        self.hold();
        self.let_go();
    }

    fn after_deed(&mut self) {
        self.stays = self.chosen.number();
    }

    fn subject(&self, _desk: &Desk) -> Option<Subject> {
        self.chosen_pour().map(Subject::Picture)
    }

    fn headline(&self, desk: &Desk) -> String {
        words::headline(self, desk)
    }

    fn view(&self, desk: &Desk, frame: &mut Frame<'_>, area: Rect) {
        view::view(self, desk, frame, area);
    }
}

impl Hands for Rack {
    type Wish = Wish;
    type Ask = Ask;
    type Deed = Deed;

    fn update(&mut self, wish: Wish, desk: &mut Desk) -> Option<Next<Ask, Deed>> {
        match wish {
            Wish::Air => return Next::ask(Ask::Air, forms::air(self, desk)),
            Wish::Filter => {
                self.shown = self.shown.next();
                self.stays = None;
                self.current = false;
                return None;
            }
            Wish::Order => {
                self.order = self.order.next();
                self.current = false;
                return None;
            }
            _ => {}
        }
        self.hold();
        let Some(line) = self.chosen() else {
            desk.refuse("No picture is here: f shows others, 2 is where one is poured");
            return None;
        };
        let pour = line.page.pour.id;
        match wish {
            Wish::Page => Some(Next::Do(Deed::Page(Box::new(line.clone())))),
            Wish::Photos => {
                desk.hand(Handover::Photos(pour));
                None
            }
            Wish::Varnish => Some(Next::Do(Deed::Varnish(pour))),
            Wish::Compare => match self.repeats.get(&pour) {
                Some(of) => Some(Next::Do(Deed::Compare(pour, *of))),
                None => Next::ask(Ask::Compare(pour), compare::form(pour, desk)),
            },
            Wish::Repeat => {
                desk.hand(Handover::Repeat(pour));
                None
            }
            Wish::Title => Next::ask(Ask::Title(pour), self.title(pour, desk)),
            Wish::Sold => Next::ask(Ask::Sold(pour), self.sold(pour, desk)),
            Wish::Correct => Next::ask(Ask::Correct(pour), correct::form(&line.page, desk)),
            Wish::Dry | Wish::Air | Wish::Filter | Wish::Order => {
                let (dry, seen) = (true, Some(line.page.judgements.clone()));
                desk.hand(Handover::Judge { pour, dry, seen });
                None
            }
        }
    }

    fn check(&self, ask: &Ask, form: &Form, desk: &Desk) -> Result<(), Fault> {
        forms::read(self, desk, *ask, form).map(drop)
    }

    fn keep(&mut self, ask: &Ask, form: &Form, desk: &mut Desk) -> Result<Option<Deed>, Fault> {
        forms::read(self, desk, *ask, form).map(Some)
    }

    fn perform(&mut self, studio: &mut Studio, deed: Deed, desk: &mut Desk) -> Answer<Outcome> {
        perform(studio, deed, desk)
    }
}

fn perform(studio: &mut Studio, deed: Deed, desk: &Desk) -> Answer<Outcome> {
    let now = &desk.beat.now;
    match deed {
        Deed::Air(air) => {
            let text = air.map(Air::written).unwrap_or_default();
            studio.set("air", &text, now)?;
            let air = air.map(|air| air.show(desk.measures()));
            let words = match air {
                None => "The room's air is not said: the dates go by what each pour had".to_owned(),
                Some(air) => format!("The room's air is {air}: the dates moved with it"),
            };
            Ok(Outcome::wrote(words))
        }
        Deed::Varnish(pour) => {
            let remarks = studio.varnish(pour, None, now)?;
            Ok(Outcome {
                remarks,
                ..Outcome::wrote(tell::varnished(pour))
            })
        }
        Deed::Title(pour, order) => {
            let picture = studio.title(pour, &order, now)?;
            let titled = tell::titled(&picture);
            Ok(Outcome::wrote(format!("{titled}; s writes down its sale")))
        }
        Deed::Correct(pour, order) => correct::perform(studio, pour, &order, now),
        Deed::Sold(pour, order) => {
            studio.sell(pour, &order, now)?;
            let currency = studio.settings()?.currency;
            Ok(Outcome::wrote(tell::sold(pour, &order, &currency)))
        }
        Deed::Compare(pour, with) => {
            let comparison = studio.compare(pour, Some(with))?;
            Ok(Outcome {
                closes: true,
                ..Outcome::page(compare::sheet(&comparison, desk))
            })
        }
        Deed::Page(line) => {
            let settings = studio.settings()?;
            let cost = studio.pour_cost(line.page.pour.id)?;
            let picture = studio.pictures()?.remove(&line.page.pour.id);
            let title = picture.and_then(|picture| picture.title);
            let page = page::sheet((&line, title.as_deref()), Some(&cost), &settings, now);
            Ok(Outcome::page(page))
        }
    }
}
