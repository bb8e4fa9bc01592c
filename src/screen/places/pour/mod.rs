//! The Pour: the stack of layers as it is built, held to the rules of the trade, and what is done with it.

mod deeds;
mod drawn;
mod forms;
mod keys;
mod poured;
mod pouring;
mod pouring_view;
mod stack;
mod update;
mod view;

pub use deeds::Deed;
pub use keys::{KEYS, POURING};

use crate::screen::kit::correct;
use crate::screen::kit::desk::Desk;
use crate::screen::kit::form::{Fault, Form};
use crate::screen::kit::handover::RunInHand;
use crate::screen::kit::message::{Message, Tone};
use crate::screen::kit::place::{Hands, Next, Outcome, Place};
use crate::screen::kit::refusal::words;
use crate::screen::kit::seek::Label;
use crate::screen::kit::step::Step;
use crate::studio::orders::{CorrectOrder, PourField};
use crate::studio::{Answer, CupStatus, PourPage, StackSheet, Studio, StudioError, overdrawn};
use crate::tell;
use crate::trade::ids::CupId;
use crate::trade::panel::Panel;
use crate::trade::pour::{Air, Move, MoveKind};
use crate::trade::units::Millilitres;
use chrono::TimeDelta;
use poured::Poured;
use pouring::Pouring;
use ratatui::Frame;
use ratatui::layout::Rect;
use serde::{Deserialize, Serialize};

/// How long what is done with a panel belongs to the pour that was just made (ours): moves mostly happen once the paint
/// lies.
const LIES: TimeDelta = TimeDelta::hours(1);

/// A layer on the stack.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Layer {
    /// The cup.
    pub cup: CupId,
    /// Its mark, as it was last seen.
    pub mark: String,
    /// How much of it.
    pub ml: Millilitres,
}

impl Layer {
    /// So much of a cup.
    pub fn of(cup: &CupStatus, ml: Millilitres) -> Self {
        Self {
            cup: CupId(cup.cup.id),
            mark: cup.cup.mark.to_string(),
            ml,
        }
    }
}

/// The stack as it stands at one time: before something was done to it, or when the screen was left.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Stack {
    panel: Option<Panel>,
    layers: Vec<Layer>,
    at: usize,
    way: Option<String>,
    moves: Vec<Move>,
    air: Option<Air>,
    note: Option<String>,
    run: Option<RunInHand>,
    #[serde(default)]
    pouring: Option<Pouring>,
}

/// The stack as it is being built.
#[derive(Debug, Default)]
pub struct PourDesk {
    /// What is poured on.
    pub panel: Option<Panel>,
    /// The layers, lowest first.
    pub layers: Vec<Layer>,
    /// The chosen layer's place from the lowest.
    pub at: usize,
    /// The technique.
    pub way: Option<String>,
    /// What was done with the panel.
    pub moves: Vec<Move>,
    /// The air of the room.
    pub air: Option<Air>,
    /// Anything else.
    pub note: Option<String>,
    /// The pour step by step, once it was begun.
    pouring: Option<Pouring>,
    /// What is wrong with the stack.
    pub faults: Vec<String>,
    /// Of each step from one layer to the next, lowest first: whether the order holds, what sinks, what would mend it.
    pub steps: Vec<Vec<String>>,
    /// The same as facts, while the films are known.
    sheet: Option<StackSheet>,
    /// The newest pour.
    pub last: Option<PourPage>,
    /// The stack before each thing that was done to it, the newest last.
    past: Vec<Stack>,
    /// The stacks that were poured, in case a pour is taken back, the newest last.
    poured: Vec<Poured>,
    /// Whether the last undo was of the stack: the next may lead into the logbook.
    stepped_back: bool,
    /// How many deeds were written down since the stack was last changed: an undo takes those back first.
    newer: usize,
    /// Whether what is being written down is an undo.
    undoing: bool,
    /// The run of a trial that the next pour is made for.
    pub run: Option<RunInHand>,
    /// The pour that was judged already, and that the next start-over scrapes all the same.
    scraping: Option<i64>,
    /// Whether it is as the store has it.
    current: bool,
}

/// What a key of the Pour wishes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wish {
    /// The panel and the room, from one field on.
    Setting(PourField),
    /// A cup on top of the stack.
    Add,
    /// Every ready cup that is not on it, the thickest lowest.
    AddReady,
    /// How much of the chosen layer.
    Amount,
    /// The chosen layer away.
    Remove,
    /// The chosen layer one higher.
    Raise,
    /// The chosen layer one lower.
    Lower,
    /// A move of the panel.
    Move(MoveKind),
    /// The pour that was made last put right.
    Correct,
    /// The last move away.
    Unmove,
    /// Pour it.
    Go,
    /// Pour it though a cup was thought to hold less.
    GoEvenSo,
    /// Scrape the last pour and begin again.
    StartOver,
    /// Pour it step by step.
    Begin,
    /// The step in hand is done.
    Next,
    /// The step before was not done.
    Previous,
    /// A move that is made now.
    MoveNow(MoveKind),
    /// The step in hand is not made.
    LeaveOut,
    /// Judge the last pour.
    Judge,
    /// A twentieth more of the chosen layer.
    More,
    /// A twentieth less.
    Less,
    /// Everything away that is being built.
    Clear,
}

/// Which form of the Pour.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Ask {
    /// The panel and the room.
    Setting,
    /// A layer on top.
    Add,
    /// How much of the layer at a place.
    Amount(usize),
    /// A move of the panel.
    Move(MoveKind),
    /// A move of the panel that lies there already: of the pour of the number.
    Moved(i64, MoveKind),
    /// The pour of the number put right.
    Correct(i64),
}

impl Place for PourDesk {
    fn mark_stale(&mut self) {
        self.current = false;
    }

    fn is_stale(&self) -> bool {
        !self.current
    }

    fn reread(&mut self, studio: &Studio, desk: &Desk) -> Answer<()> {
        let now = &desk.beat.now;
        self.read_marks(desk);
        let cups: Vec<_> = self.layers.iter().map(|layer| layer.cup).collect();
        let measures = desk.measures();
        let all = self.panel.map(|panel| self.all_films(panel));
        self.faults = match studio.check_stack(&cups, &all.unwrap_or_default(), now) {
            Ok(check) => {
                let more = overdrawn(self.amounts(desk));
                let faults = more.iter().chain(&check.faults);
                faults.map(|one| tell::words(one, measures, now)).collect()
            }
            Err(error @ StudioError::Refused(_)) => vec![words(&error, measures, now)],
            Err(error) => return Err(error),
        };
        let films = self.films();
        let sheet = match studio.stack(&cups, &films, now) {
            Ok(sheet) => Some(sheet),
            // The same refusal stands among the faults.
            Err(StudioError::Refused(_)) => None,
            Err(error) => return Err(error),
        };
        let steps = sheet.iter().flat_map(|sheet| &sheet.steps);
        let words = |step| tell::stack::step(step, measures, now);
        self.steps = steps.map(words).collect();
        self.sheet = sheet.filter(|_| !films.is_empty());
        self.last = studio.pour_at_hand(now)?;
        self.current = true;
        Ok(())
    }
    /// Up is nearer to the top of the stack.
    fn step(&mut self, step: Step, _desk: &Desk) {
        let count = self.layers.len();
        let from_top = count.saturating_sub(1 + self.at);
        self.at = count.saturating_sub(1 + step.from(from_top, count));
    }

    fn labels(&self, desk: &Desk) -> Vec<Label> {
        let name = |layer: &Layer| desk.known.cup_of(layer.cup).map(CupStatus::title);
        let layers = self.layers.iter();
        layers
            .map(|layer| Label::new(&layer.mark, name(layer).unwrap_or_default()))
            .collect()
    }

    fn chosen_at(&self, _desk: &Desk) -> usize {
        self.at
    }

    fn choose_at(&mut self, at: usize, _desk: &Desk) {
        self.at = at;
    }

    fn headline(&self, desk: &Desk) -> String {
        match self.is_pouring() {
            true => pouring_view::headline(self, desk),
            false => view::headline(self, desk),
        }
    }

    fn view(&self, desk: &Desk, frame: &mut Frame<'_>, area: Rect) {
        match self.is_pouring() {
            true => pouring_view::view(self, desk, frame, area),
            false => view::view(self, desk, frame, area),
        }
    }

    fn close(&mut self) {
        self.leave_steps();
    }

    fn leave(&mut self) {
        self.leave_steps();
    }

    fn after_deed(&mut self) {
        if !std::mem::take(&mut self.undoing) {
            self.newer += 1;
        }
    }

    fn take_back(&mut self, desk: &mut Desk) -> bool {
        let done = self.newer == 0 && self.put_back();
        if done {
            desk.say(Message::new(
                Tone::Done,
                "The stack is as it was before that",
            ));
        }
        done
    }
}

impl Hands for PourDesk {
    type Wish = Wish;
    type Ask = Ask;
    type Deed = Deed;

    fn update(&mut self, wish: Wish, desk: &mut Desk) -> Option<Next<Ask, Deed>> {
        update::update(self, wish, desk)
    }

    fn changed(&self, ask: &Ask, form: &mut Form, desk: &Desk) -> Option<Deed> {
        if *ask == Ask::Add {
            forms::changed(desk, form);
        }
        None
    }

    fn check(&self, ask: &Ask, form: &Form, desk: &Desk) -> Result<(), Fault> {
        match ask {
            Ask::Setting => forms::settings(desk, form).map(drop),
            Ask::Add => forms::layer(desk, form).map(drop),
            _ => self.correction(ask, form, desk).map(drop),
        }
    }

    fn keep(&mut self, ask: &Ask, form: &Form, desk: &mut Desk) -> Result<Option<Deed>, Fault> {
        match ask {
            Ask::Correct(pour) => {
                let order = self.correction(ask, form, desk)?;
                Ok(order.map(|order| Deed::Correct(*pour, Box::new(order))))
            }
            Ask::Moved(pour, _) => {
                let order = CorrectOrder {
                    more_moves: forms::moves(desk, form)?,
                    ..CorrectOrder::default()
                };
                Ok(Some(Deed::Correct(*pour, Box::new(order))))
            }
            Ask::Setting => forms::keep_setting(self, desk, form).map(|()| None),
            Ask::Move(_) => forms::keep_moves(self, desk, form).map(|()| None),
            Ask::Add => Ok(Some(Deed::Put(forms::layer(desk, form)?))),
            Ask::Amount(place) => {
                let layer = self.layers.get(*place).map(|layer| layer.cup);
                let order = layer
                    .map(|cup| forms::amount_of(cup, desk, form))
                    .transpose()?;
                Ok(order.map(|order| Deed::Set(*place, order)))
            }
        }
    }

    fn perform(&mut self, studio: &mut Studio, deed: Deed, desk: &mut Desk) -> Answer<Outcome> {
        match deed {
            Deed::Propose(cups) => return self.propose(studio, &cups, desk),
            Deed::Put(order) => return self.put_on(studio, &order, desk),
            Deed::Set(place, order) => return self.set(studio, place, &order),
            _ => {}
        }
        let (done, pour) = deeds::perform(studio, deed, &desk.beat.now)?;
        pour.into_iter().for_each(|pour| self.poured(pour));
        Ok(done)
    }
}

impl PourDesk {
    /// What is to be put right of the pour that was made last; `None` where that is not asked.
    fn correction(
        &self,
        ask: &Ask,
        form: &Form,
        desk: &Desk,
    ) -> Result<Option<CorrectOrder>, Fault> {
        let Ask::Correct(pour) = ask else {
            return Ok(None);
        };
        let page = self.last.as_ref().filter(|page| page.pour.id == *pour);
        page.map(|page| correct::order(page, form, desk))
            .transpose()
    }
}
