//! All that the screen knows: which place is open, what was read for it, what is being typed.

use crate::screen::form::Form;
use crate::screen::keys::Context;
use crate::screen::known::Known;
use crate::screen::look::Look;
use crate::screen::sheet::Sheet;
use crate::screen::{
    Screen, bench::Bench, findings::Findings, plan::Plan, pour::PourDesk, rack::Rack,
    recipes::Recipes, shelf::Shelf, trials::Trials,
};
use crate::studio::{CupPage, PourPage};
use crate::trade::instant::Now;
use crate::trade::text::inert;
use std::collections::VecDeque;
use std::time::Duration;

/// How many messages are kept to be read again.
const KEPT: usize = 50;

/// The instant an action falls on: the studio's clock, and a clock for stopwatches that never jumps.
#[derive(Debug, Clone, Copy)]
pub struct Beat {
    /// The present instant, as it is written down.
    pub now: Now,
    /// Time since the screen was opened.
    pub elapsed: Duration,
}

/// What was said last, until it is read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Message {
    /// The words, safe to show.
    pub words: String,
    /// How they are meant.
    pub tone: Tone,
}

/// How a message is meant.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tone {
    /// It was done.
    Done,
    /// It was done, but something is odd.
    Odd,
    /// It was not done.
    Refused,
}

impl Message {
    /// A message whose words may hold anything.
    pub fn new(tone: Tone, words: &str) -> Self {
        Self {
            words: inert(words).into_owned(),
            tone,
        }
    }
}

/// A page that is read and left again.
#[derive(Debug, Clone)]
pub struct Page {
    /// What it shows.
    pub kind: PageKind,
    /// The first line in sight.
    pub from: usize,
}

/// What a page shows.
#[derive(Debug, Clone)]
pub enum PageKind {
    /// The keys of a place.
    Help(Context),
    /// What was done: when, whether it stands, what.
    History(Vec<Done>),
    /// A cup's whole life.
    Life(Box<CupPage>),
    /// A pour, its layers and its judgements.
    Pour(Box<PourPage>),
    /// The messages kept.
    Messages,
    /// Words.
    Sheet(Sheet),
}

/// One line of what was done.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Done {
    /// When, on the studio's wall clock.
    pub at: String,
    /// `do`, `undo` or `redo`.
    pub kind: &'static str,
    /// Whether it stands.
    pub stands: bool,
    /// What.
    pub label: String,
}

/// A clock over the screen.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Watch {
    /// The cup's mark.
    pub mark: String,
    /// What is timed.
    pub what: Timed,
    /// When it was started, by the clock that never jumps.
    pub since: Option<Duration>,
}

/// What a clock times.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Timed {
    /// A drizzle mound, until it is gone.
    Mound,
    /// Stirring.
    Stirring,
}

/// What lies over a screen and takes the keys.
#[derive(Debug, Clone)]
pub enum Over {
    /// A form.
    Form(Box<Form>),
    /// A clock.
    Clock(Watch),
    /// How the cup with the mark ended is asked.
    Ending(String),
    /// How many cells pour so and so has is asked, and whether it is dry.
    Judging(i64, bool),
    /// A page.
    Page(Page),
}

/// All that the screen knows.
#[derive(Debug)]
pub struct Model {
    /// The instant of the last action or tick.
    pub beat: Beat,
    /// How colours are shown.
    pub look: Look,
    /// The screen that is open.
    pub screen: Screen,
    /// What lies over it.
    pub over: Option<Over>,
    /// What was said last and not read yet.
    pub message: Option<Message>,
    /// What was said, the newest last.
    pub said: VecDeque<Message>,
    /// Names and settings.
    pub known: Known,
    /// The Bench.
    pub bench: Bench,
    /// The Pour.
    pub pour: PourDesk,
    /// The Rack.
    pub rack: Rack,
    /// The Findings.
    pub findings: Findings,
    /// The Shelf.
    pub shelf: Shelf,
    /// The Plan.
    pub plan: Plan,
    /// The Recipes.
    pub recipes: Recipes,
    /// The Trials.
    pub trials: Trials,
    /// Whether the painter wishes to leave.
    pub leaving: bool,
}

impl Model {
    /// A screen with nothing read yet.
    pub fn new(beat: Beat, look: Look) -> Self {
        Self {
            beat,
            look,
            screen: Screen::Bench,
            over: None,
            message: None,
            said: VecDeque::new(),
            known: Known::default(),
            bench: Bench::default(),
            pour: PourDesk::default(),
            rack: Rack::default(),
            findings: Findings::default(),
            shelf: Shelf::default(),
            plan: Plan::default(),
            recipes: Recipes::default(),
            trials: Trials::default(),
            leaving: false,
        }
    }

    /// Where the next key is pressed.
    pub fn context(&self) -> Context {
        match &self.over {
            Some(Over::Form(_)) => Context::Form,
            Some(Over::Clock(_)) => Context::Clock,
            Some(Over::Ending(_)) => Context::Ending,
            Some(Over::Judging(..)) => Context::Judging,
            Some(Over::Page(_)) => Context::Page,
            None if self.greets() => Context::Greeting,
            None if self.screen == Screen::Plan && self.plan.open.is_some() => Context::Sheet,
            None if self.screen == Screen::Trials => self.trials.context(),
            None if self.screen == Screen::Findings => {
                let inner = self.findings.context();
                inner.unwrap_or(Context::Screen(self.screen))
            }
            None => Context::Screen(self.screen),
        }
    }

    /// Whether the Bench greets instead of showing cups: a studio with no recipe and no cup.
    pub fn greets(&self) -> bool {
        self.screen == Screen::Bench && self.bench.cups.is_empty() && self.known.recipes.is_empty()
    }

    /// Says something; it stays until it is read.
    pub fn say(&mut self, message: Message) {
        self.said.push_back(message.clone());
        if self.said.len() > KEPT {
            self.said.pop_front();
        }
        self.message = Some(message);
    }

    /// Says why something was not done.
    pub fn refuse(&mut self, words: &str) {
        self.say(Message::new(Tone::Refused, words));
    }

    /// Opens a form.
    pub fn ask(&mut self, form: Form) {
        self.over = Some(Over::Form(Box::new(form)));
    }

    /// After a deed: everything that was read may have changed.
    pub fn spoil(&mut self) {
        self.known.fresh = false;
        self.bench.fresh = false;
        self.pour.fresh = false;
        self.rack.fresh = false;
        self.findings.fresh = false;
        self.shelf.fresh = false;
        self.plan.fresh = false;
        self.recipes.fresh = false;
        self.trials.fresh = false;
    }
}
