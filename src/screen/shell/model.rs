//! All that the screen knows: which place is open, what was read for it, what is being typed.

use crate::screen::kit::beat::Beat;
use crate::screen::kit::form::Form;
use crate::screen::kit::known::Known;
use crate::screen::kit::look::Look;
use crate::screen::kit::message::{Message, Tone};
use crate::screen::kit::sheet::Sheet;
use crate::screen::shell::keys::Context;
use crate::screen::{
    Screen,
    places::{
        bench::Bench, findings::Findings, plan::Plan, pour::PourDesk, rack::Rack, recipes::Recipes,
        shelf::Shelf, trials::Trials,
    },
};
use crate::studio::{CupPage, PourPage};
use std::collections::VecDeque;
use std::time::Duration;

/// How long a message stands that says why something was not done (our own choice).
const STANDS: Duration = Duration::from_secs(10);

/// What is said of a form that is left with something typed in it.
const PUT_BY: &str = "Put by as typed: the same key brings it back";

/// What is said of a form that is brought back.
const AS_LEFT: &str = "As you left it; Esc throws it away";

/// How many messages are kept to be read again.
const KEPT: usize = 50;

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
    /// When it was said, by the clock that never jumps.
    said_at: Duration,
    /// Forms that were left with something typed in them, each offered again when it is asked for.
    pub put_by: Vec<Form>,
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
            said_at: Duration::ZERO,
            put_by: Vec::new(),
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

    /// Says something; it stays until the next key that does something.
    pub fn say(&mut self, message: Message) {
        self.said_at = self.beat.elapsed;
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

    /// What was not done is an answer to the key before and ends by itself; what was done may have to be read with
    /// hands that are full, and stays.
    pub fn fade(&mut self) {
        let refused = |message: &Message| message.tone == Tone::Refused;
        let stood = self.beat.elapsed.saturating_sub(self.said_at);
        if stood >= STANDS && self.message.as_ref().is_some_and(refused) {
            self.message = None;
        }
    }

    /// Opens a form: as it was left, where something was typed in it.
    pub fn ask(&mut self, form: Form) {
        let form = form.begun();
        let left = self.put_by.iter().position(|one| one.is_like(&form));
        let form = match left {
            Some(place) => form.again(self.put_by.remove(place)),
            None => form,
        };
        if form.is_again() {
            self.say(Message::new(Tone::Done, AS_LEFT));
        }
        self.over = Some(Over::Form(Box::new(form)));
    }

    /// The form that is open.
    pub fn form(&self) -> Option<&Form> {
        match &self.over {
            Some(Over::Form(form)) => Some(form),
            _ => None,
        }
    }

    /// Leaves a form: what was typed is put by, unless it was left once already and nothing was typed since.
    pub fn leave(&mut self, form: Form) {
        if form.is_touched() {
            self.say(Message::new(Tone::Done, PUT_BY));
            self.put_by.push(form);
        } else if form.is_again() {
            self.say(Message::new(
                Tone::Done,
                "What was typed there is thrown away",
            ));
        }
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
