//! The Bench: the living cups, the next to act on first, and all that hands do to a cup.

mod choice;
mod clock;
mod course;
mod deeds;
mod demo;
mod forms;
mod keys;
mod life;
mod update;
mod view;

pub use deeds::Deed;
pub use keys::{CLOCK, ENDING, GREETING, KEYS, LIFE, STIRRING};

use crate::screen::kit::desk::Desk;
use crate::screen::kit::form::{Fault, Form};
use crate::screen::kit::message::{Message, Tone};
use crate::screen::kit::place::{Hands, Next, Outcome, Place, Subject};
use crate::screen::kit::seek::Label;
use crate::screen::kit::step::Step;
use crate::studio::orders::SimpleDeed;
use crate::studio::{Answer, CupPage, CupStatus, Refusal, Studio, StudioError};
use crate::tell;
use crate::trade::cup::{End, Entry};
use crate::trade::ids::{CupId, RecipeId};
use crate::trade::mark::Mark;
use crate::trade::units::Millilitres;
use choice::Choice;
use clock::{Timed, Watch};
use demo::Making;
use ratatui::Frame;
use ratatui::layout::Rect;
use std::path::{Path, PathBuf};

/// Which cup is chosen, and what lies over the cups.
#[derive(Debug, Default)]
pub struct Bench {
    choice: Choice,
    /// The chosen cup's whole life.
    life: Option<CupPage>,
    /// The life of a cup that stands no more, while that is open.
    visited: Option<CupPage>,
    /// An entry of the life that is open was just put right.
    putting_right: bool,
    /// What lies over the cups.
    over: Option<Over>,
    /// The demo, while it is being made.
    making: Option<Making>,
    /// Whether the choice and the life fit the cups that were read.
    current: bool,
}

/// What lies over the cups and takes the keys.
#[derive(Debug, Clone, PartialEq)]
enum Over {
    /// A clock.
    Clock(Watch),
    /// How the cup with the mark ended is asked.
    Ending(CupId, String),
    /// The chosen cup's whole life, with the entry at a place chosen.
    Life(usize),
}

/// Where on the Bench a key is pressed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mode {
    /// Among the cups.
    Rows,
    /// At a clock that times a mound.
    Clock,
    /// At a clock that runs while a cup is stirred.
    Stirring,
    /// Where it is asked how a cup ended.
    Ending,
    /// In a cup's life.
    Life,
}

/// What a key of the Bench wishes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wish {
    /// Mix by a recipe.
    Mix,
    /// Mix like the cup mixed last.
    Like,
    /// Thin the chosen cup.
    Thin,
    /// Type its reading.
    Read,
    /// Time its mound.
    Watch,
    /// The clock starts, or stops and is written down.
    Press,
    /// Keep what the clock stopped at, though it is doubted.
    KeepTimed,
    /// The mound that is timed never fades.
    Never,
    /// Stir it by the clock.
    Stir,
    /// A deed of which nothing more is to be said.
    Simple(SimpleDeed),
    /// Its lid on, or off.
    Lid,
    /// End it: ask how.
    End,
    /// It ended so.
    Ended(End),
    /// Its whole life.
    Life,
    /// The life of a cup that may be spent.
    Visit,
    /// Put the chosen entry of its life right.
    Amend,
    /// The studio's settings.
    Settings,
    /// Write another mark or tape on its lid.
    Tag,
    /// Add paint to it.
    Add,
    /// Strike the chosen entry out of its life.
    Strike,
    /// Put it on the stack to be poured.
    Stack,
    /// The guided first cup.
    First,
    /// Starter materials and recipes.
    Starters,
    /// The demo.
    Demo,
}

/// Which form of the Bench, and for which cup.
#[derive(Debug, Clone, PartialEq)]
pub enum Ask {
    /// A cup by its recipe.
    Mix,
    /// A cup of a recipe's variant, by its number, as long as the recipe is left as it is.
    Of(RecipeId, i64),
    /// A cup like the one with the mark.
    Like(String),
    /// Thinner into the cup.
    Thin(CupId),
    /// A reading of the cup.
    Read(CupId),
    /// What an entry of a life really was.
    Amend(Entry),
    /// Paint goes into a cup.
    Add(CupId),
    /// Which cup's life, though it is spent.
    Visit,
    /// The studio's settings.
    Settings,
    /// Another mark or tape on a lid.
    Lid(CupId),
    /// The first cup, with what it is made of.
    First,
}

impl Bench {
    /// The chosen cup.
    fn chosen<'a>(&self, desk: &'a Desk) -> Option<&'a CupStatus> {
        desk.known.cups.get(self.place())
    }

    /// The chosen cup's place.
    const fn place(&self) -> usize {
        self.choice.at()
    }

    /// Where a key is pressed.
    pub const fn mode(&self) -> Mode {
        match &self.over {
            None => Mode::Rows,
            Some(Over::Clock(watch)) => match watch.what {
                Timed::Mound => Mode::Clock,
                Timed::Stirring => Mode::Stirring,
            },
            Some(Over::Ending(..)) => Mode::Ending,
            Some(Over::Life(_)) => Mode::Life,
        }
    }

    /// Chooses a cup once it is read.
    pub const fn choose(&mut self, cup: CupId) {
        self.choice.want(cup.0);
        self.current = false;
    }

    /// Chooses a cup that came back, once it is read, if it lives.
    pub const fn choose_back(&mut self, cup: CupId) {
        self.choice.want_back(cup.0);
        self.current = false;
    }

    /// A cup was tended: the choice stays or goes on, once the cups were read again.
    pub fn tended(&mut self, cup: CupId, cups: &[CupStatus]) {
        self.choice.tended(cup.0, cups);
        self.current = false;
    }

    /// The cup that the choice has just gone on to by itself, once: that it did is said.
    pub const fn take_gone_on(&mut self) -> Option<String> {
        self.choice.take_gone_on()
    }

    /// Chooses the next cup that wants a hand; `false` where none does.
    pub fn next_hand(&mut self, after_chosen: bool, desk: &mut Desk) -> bool {
        let found = self.choice.next_hand(after_chosen, &desk.known.cups);
        match found {
            true => self.current = false,
            false => desk.refuse("No cup wants a hand now"),
        }
        found
    }

    /// The chosen entry of the life that is open.
    fn entry_in_hand(&self, desk: &Desk) -> Option<&Entry> {
        let life = self.life_in_hand(desk)?;
        match &self.over {
            Some(Over::Life(at)) => life.entries.get(*at),
            _ => None,
        }
    }

    /// The mark of the cup whose life is open.
    fn mark_in_hand(&self, desk: &Desk) -> Option<&Mark> {
        Some(&self.life_in_hand(desk)?.standing.cup.mark)
    }

    /// Whether the life that is open is another cup's than the one of a number.
    fn visits_another(&self, cup: i64) -> bool {
        let open = matches!(self.over, Some(Over::Life(_)));
        let visited = self.visited.as_ref().filter(|_| open);
        visited.is_some_and(|page| page.standing.cup.id != cup)
    }

    /// The chosen cup's life, where it is at hand.
    fn life_in_hand(&self, desk: &Desk) -> Option<&CupPage> {
        let open = matches!(self.over, Some(Over::Life(_)));
        if let Some(visited) = self.visited.as_ref().filter(|_| open) {
            return Some(visited);
        }
        let id = self.chosen(desk).map(|cup| cup.cup.id);
        let life = self.life.as_ref();
        life.filter(|life| Some(life.standing.cup.id) == id)
    }
}

impl Bench {
    /// Whether the clock that stands open asks about what it stopped at.
    fn is_asked(&self, error: &StudioError, desk: &mut Desk) -> bool {
        let doubted = matches!(error, StudioError::Refused(Refusal::Doubted(_)));
        let timed = doubted && matches!(&self.over, Some(Over::Clock(_)));
        if timed {
            let words = tell::words(error, desk.measures(), &desk.beat.now);
            desk.say(Message::new(Tone::Odd, &words));
        }
        timed
    }

    /// Whether the clock that stands open waits for a word on what it stopped at.
    pub fn is_asking(&self) -> bool {
        matches!(&self.over, Some(Over::Clock(watch)) if watch.stopped.is_some())
    }

    /// Begins to make the demo; one is enough.
    fn begin_demo(&mut self, file: PathBuf, desk: &mut Desk) -> Outcome {
        if self.making.is_none() {
            self.making = Making::begin(file, desk.beat.now);
            if self.making.is_none() {
                desk.refuse("This machine has no thread free to make it");
            }
        }
        Outcome::default()
    }

    /// What follows once the demo that is being made is there, once.
    pub fn take_deed(&mut self, desk: &mut Desk) -> Option<Deed> {
        let made = self.making.as_ref()?.made();
        let made = made.map(|file| file.map(Path::to_owned)).transpose()?;
        self.making = None;
        match made {
            Ok(file) => return Some(Deed::GoToDemo(file)),
            Err(Some(error)) => desk.trouble(&error),
            Err(None) => desk.refuse("The demo could not be made"),
        }
        None
    }

    /// Opens the life of the cup that last bore a mark.
    fn visit(&mut self, studio: &Studio, mark: &str, desk: &Desk) -> Answer<Outcome> {
        let page = studio.cup_page(mark, &desk.beat.now)?;
        self.over = Some(Over::Life(page.entries.len().saturating_sub(1)));
        self.visited = Some(page);
        Ok(Outcome {
            closes: true,
            ..Outcome::default()
        })
    }

    /// Reads again the life that is visited; where its mark is on another cup by now, it stays as it was read.
    fn revisit(&mut self, studio: &Studio, desk: &Desk) -> Answer<()> {
        let Some(was) = &self.visited else {
            return Ok(());
        };
        let cup = &was.standing.cup;
        let page = studio.cup_page(cup.mark.as_str(), &desk.beat.now)?;
        if page.standing.cup.id == cup.id {
            self.visited = Some(page);
        }
        Ok(())
    }
}

impl Place for Bench {
    fn mark_stale(&mut self) {
        self.current = false;
    }

    fn is_stale(&self) -> bool {
        !self.current
    }

    fn reread(&mut self, studio: &Studio, desk: &Desk) -> Answer<()> {
        self.choice.find(&desk.known.cups);
        self.life = match self.chosen(desk) {
            Some(cup) => Some(studio.cup_page(cup.cup.mark.as_str(), &desk.beat.now)?),
            None => None,
        };
        self.revisit(studio, desk)?;
        self.current = true;
        Ok(())
    }

    fn step(&mut self, step: Step, desk: &Desk) {
        let entries = self.life_in_hand(desk).map_or(0, |life| life.entries.len());
        if let Some(Over::Life(at)) = &mut self.over {
            *at = step.from(*at, entries);
            return;
        }
        self.choice.step(step, &desk.known.cups);
        self.current = false;
    }

    fn labels(&self, desk: &Desk) -> Vec<Label> {
        let cups = desk.known.cups.iter();
        cups.map(|cup| Label::new(&cup.cup.mark, cup.title()))
            .collect()
    }

    fn chosen_at(&self, _desk: &Desk) -> usize {
        self.choice.at()
    }

    fn choose_at(&mut self, at: usize, desk: &Desk) {
        self.choice.go_to(at, &desk.known.cups);
        self.current = false;
    }

    fn subject(&self, desk: &Desk) -> Option<Subject> {
        let mark = &self.chosen(desk)?.cup.mark;
        Some(Subject::Cup(mark.to_string()))
    }

    fn headline(&self, desk: &Desk) -> String {
        view::headline(desk)
    }

    fn view(&self, desk: &Desk, frame: &mut Frame<'_>, area: Rect) {
        view::view(self, desk, frame, area);
    }

    fn question(&self) -> Option<String> {
        match &self.over {
            Some(Over::Ending(_, mark)) => Some(format!("How did {mark} end?")),
            _ => self.making.as_ref().map(Making::told),
        }
    }

    fn close(&mut self) {
        self.visited = None;
        self.over = None;
    }

    fn leave(&mut self) {
        if matches!(self.over, Some(Over::Ending(..))) {
            self.over = None;
        }
    }

    /// Who puts an entry right stays in the life: the next one may be wrong too.
    fn after_deed(&mut self) {
        self.choice.after_deed();
        if !std::mem::take(&mut self.putting_right) {
            self.over = None;
        }
    }
}

impl Hands for Bench {
    type Wish = Wish;
    type Ask = Ask;
    type Deed = Deed;

    fn update(&mut self, wish: Wish, desk: &mut Desk) -> Option<Next<Ask, Deed>> {
        update::update(self, wish, desk)
    }

    fn changed(&self, ask: &Ask, form: &mut Form, desk: &Desk) -> Option<Deed> {
        forms::changed(ask, form, desk)
    }

    fn check(&self, ask: &Ask, form: &Form, desk: &Desk) -> Result<(), Fault> {
        forms::keep(desk, ask, form).map(drop)
    }

    fn keep(&mut self, ask: &Ask, form: &Form, desk: &mut Desk) -> Result<Option<Deed>, Fault> {
        forms::keep(desk, ask, form)
    }

    fn perform(&mut self, studio: &mut Studio, deed: Deed, desk: &mut Desk) -> Answer<Outcome> {
        if let Deed::Visit(mark) = &deed {
            return self.visit(studio, mark, desk);
        }
        if let Deed::Demo = &deed {
            return Ok(self.begin_demo(studio.demo_file(), desk));
        }
        let puts_right = matches!(deed, Deed::Amend(_) | Deed::Strike(_));
        match deeds::perform(studio, deed, desk) {
            Err(error) if self.is_asked(&error, desk) => Ok(Outcome::default()),
            Err(error) => {
                if matches!(self.over, Some(Over::Clock(_))) {
                    self.over = None;
                }
                Err(error)
            }
            Ok(done) => {
                self.putting_right = puts_right;
                Ok(done)
            }
        }
    }
}

/// How much thinner to begin with; `None` where the models know too little, and the form is left empty.
pub fn advice(cup: &CupStatus) -> Option<Millilitres> {
    let advice = cup.outlook.advice.filter(|advice| !advice.beyond);
    advice.map(|advice| advice.start_with)
}
