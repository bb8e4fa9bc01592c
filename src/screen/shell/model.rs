//! All that the screen knows: which place is open, what was read for it, what is being typed.

use crate::exchange::AirWatch;
use crate::screen::Screen;
use crate::screen::kit::beat::Beat;
use crate::screen::kit::desk::Desk;
use crate::screen::kit::form::Form;
use crate::screen::kit::keys::Key;
use crate::screen::kit::look::Look;
use crate::screen::kit::message::{Message, Tone};
use crate::screen::kit::place::{Place, Subject};
use crate::screen::kit::seek::Sought;
use crate::screen::kit::sheet::Sheet;
use crate::screen::places::bench::{self, Bench};
use crate::screen::places::findings::{self, Findings};
use crate::screen::places::judging::Judging;
use crate::screen::places::outgoing::Tray;
use crate::screen::places::photos::{self, Photos};
use crate::screen::places::plan::Plan;
use crate::screen::places::pour::PourDesk;
use crate::screen::places::rack::Rack;
use crate::screen::places::recipes::Recipes;
use crate::screen::places::shelf::Shelf;
use crate::screen::places::trials::{self, Trials};
use crate::screen::shell::ask::{Ask, Asked};
use crate::screen::shell::day_copy::DayCopy;
use crate::screen::shell::drafts::LeftForm;
use crate::screen::shell::effect::Effect;
use crate::screen::shell::keys::Context;
use std::time::Duration;

/// What is said of a form that is left with something typed in it.
const PUT_BY: &str = "Put by as typed: the same key brings it back";

/// What is said of a form that is brought back.
const AS_LEFT: &str = "As you left it; Esc throws it away";

/// A page that is read and left again.
#[derive(Debug, Clone)]
pub struct Page {
    /// What it shows.
    pub kind: PageKind,
    /// The first line in sight; of the help, the page.
    pub from: usize,
    /// The page that the help was asked for on, to go back to.
    pub beneath: Option<Box<Page>>,
}

/// What a page shows.
#[derive(Debug, Clone)]
pub enum PageKind {
    /// The keys of a place.
    Help(Context),
    /// What was done: when, whether it stands, what.
    History(Vec<Done>),
    /// The messages kept.
    Messages,
    /// Words.
    Sheet(Sheet),
}

/// One line of what was done.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Done {
    /// Its number in the history.
    pub change: i64,
    /// When, on the studio's wall clock.
    pub at: String,
    /// Whether it stands.
    pub stands: bool,
    /// What.
    pub label: String,
}

/// What lies over a screen and takes the keys.
#[derive(Debug, Clone)]
pub enum Over {
    /// A form.
    Form(Box<Asked>),
    /// A page.
    Page(Page),
    /// What is typed to find a line.
    Seeking(Sought),
}

/// What was asked and the same key once more answers: read it first.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Question {
    /// Whether the change of a number is taken back, though it is not simply this terminal's last.
    Undo(i64),
    /// Whether that is done again which was not taken back here.
    Redo,
    /// Whether what stands in a form is meant.
    Doubt,
    /// How a picture is judged: a key twice turns its answer.
    Judging,
}

/// All that the screen knows.
#[derive(Debug)]
pub struct Model {
    /// What all places share.
    pub desk: Desk,
    /// The screen that is open.
    pub screen: Screen,
    /// What lies over it.
    pub over: Option<Over>,
    /// Forms that were left with something typed in them, each offered again when it is asked for.
    pub put_by: Vec<Asked>,
    /// Forms that were left half-filled by a screen that is no more.
    pub left: Vec<LeftForm>,
    /// The Bench.
    pub bench: Bench,
    /// The Pour.
    pub pour: PourDesk,
    /// The picture that is judged.
    pub judging: Judging,
    /// Files that leave, over whatever screen they are asked for on.
    pub outgoing: Tray,
    /// The photos of a pour, over whatever screen it was chosen on.
    pub photos: Photos,
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
    /// Asks the sensor of the room's air, where one is set.
    pub air: AirWatch,
    /// The undo or redo that was asked about and the same key once more confirms.
    pub asked: Option<Question>,
    /// How many deeds were taken back here and not done again, with nothing done since.
    pub undone: usize,
    /// The key that was pressed last, and when.
    pub pressed: Option<(Key, Duration)>,
    /// The key that raised a question which the same key answers, and when.
    pub asked_by: Option<(Key, Duration)>,
    /// Whether the painter wishes to leave.
    pub leaving: bool,
    /// A deed that waits until another program has ended its write.
    pub waiting: Option<Effect>,
    /// The day's copy, while it is being taken beside the work.
    pub day_copy: Option<DayCopy>,
}

impl Model {
    /// A screen with nothing read yet.
    pub fn new(beat: Beat, look: Look) -> Self {
        Self {
            desk: Desk::new(beat, look),
            screen: Screen::Bench,
            over: None,
            put_by: Vec::new(),
            left: Vec::new(),
            bench: Bench::default(),
            pour: PourDesk::default(),
            judging: Judging::default(),
            outgoing: Tray::default(),
            photos: Photos::default(),
            rack: Rack::default(),
            findings: Findings::default(),
            shelf: Shelf::default(),
            plan: Plan::default(),
            recipes: Recipes::default(),
            trials: Trials::default(),
            air: AirWatch::default(),
            asked: None,
            undone: 0,
            pressed: None,
            asked_by: None,
            leaving: false,
            waiting: None,
            day_copy: None,
        }
    }

    /// Where the next key is pressed.
    pub fn context(&self) -> Context {
        match &self.over {
            Some(Over::Form(_)) => Context::Form,
            Some(Over::Page(page)) => match page.kind {
                PageKind::History(_) => Context::History,
                _ => Context::Page,
            },
            Some(Over::Seeking(_)) => Context::Seeking,
            None if self.outgoing.is_open() => Context::Outgoing,
            None if self.judging.is_open() => Context::Judging,
            None if self.photos.is_open() => match self.photos.mode() {
                Some(photos::Mode::Corners) => Context::Corners,
                _ => Context::Photos,
            },
            None => self.inner_context().unwrap_or(Context::Screen(self.screen)),
        }
    }

    /// Where within the open place, if not on its lines.
    fn inner_context(&self) -> Option<Context> {
        match self.screen {
            Screen::Bench => match self.bench.mode() {
                bench::Mode::Clock => Some(Context::Clock),
                bench::Mode::Stirring => Some(Context::Stirring),
                bench::Mode::Ending => Some(Context::Ending),
                bench::Mode::Life => Some(Context::Life),
                bench::Mode::Rows if self.desk.known.is_new() => Some(Context::Greeting),
                bench::Mode::Rows => None,
            },
            Screen::Plan if self.plan.is_mixing() => Some(Context::Mixing),
            Screen::Plan => self.plan.open.as_ref().map(|_| Context::Sheet),
            Screen::Trials => match self.trials.mode() {
                trials::Place::Rows => None,
                trials::Place::Runs => Some(Context::Runs),
                trials::Place::Effects => Some(Context::Effects),
            },
            Screen::Findings => match self.findings.mode() {
                findings::Mode::Rows => None,
                findings::Mode::Why => Some(Context::Why),
                findings::Mode::Best => Some(Context::Best),
                findings::Mode::Measured => Some(Context::Measured),
                findings::Mode::Behind => Some(Context::Behind),
            },
            Screen::Pour => self.pour.is_pouring().then_some(Context::Pouring),
            Screen::Rack | Screen::Shelf | Screen::Recipes => None,
        }
    }

    /// The place of a screen, to be read.
    pub fn place(&self, screen: Screen) -> &dyn Place {
        match screen {
            Screen::Bench => &self.bench,
            Screen::Pour => &self.pour,
            Screen::Rack => &self.rack,
            Screen::Findings => &self.findings,
            Screen::Shelf => &self.shelf,
            Screen::Plan => &self.plan,
            Screen::Recipes => &self.recipes,
            Screen::Trials => &self.trials,
        }
    }

    /// The place of a screen, and the desk that it works at.
    pub fn place_mut(&mut self, screen: Screen) -> (&mut dyn Place, &mut Desk) {
        let place: &mut dyn Place = match screen {
            Screen::Bench => &mut self.bench,
            Screen::Pour => &mut self.pour,
            Screen::Rack => &mut self.rack,
            Screen::Findings => &mut self.findings,
            Screen::Shelf => &mut self.shelf,
            Screen::Plan => &mut self.plan,
            Screen::Recipes => &mut self.recipes,
            Screen::Trials => &mut self.trials,
        };
        (place, &mut self.desk)
    }

    /// Whether the place in which the next key is pressed has nothing in it.
    pub fn is_bare(&self) -> bool {
        match self.context() {
            Context::Photos => self.photos.is_bare(),
            Context::Judging => !self.judging.was_judged(),
            Context::Best => !self.findings.is_advised(),
            Context::Clock => !self.bench.is_asking(),
            Context::Greeting => true,
            Context::Screen(screen) => self.place(screen).labels(&self.desk).is_empty(),
            _ => false,
        }
    }

    /// What is in hand here, where a file may be written of it.
    pub fn subject(&self) -> Option<Subject> {
        let photos = self.photos.pour().map(Subject::Picture);
        photos.or_else(|| self.place(self.screen).subject(&self.desk))
    }

    /// Whether an undo from here leads from what is being built into the logbook.
    pub fn asks_before_logbook(&self) -> bool {
        self.screen == Screen::Pour && self.pour.is_in_hand()
    }

    /// Whether the last undo here was of the stack that is being built.
    pub fn has_stepped_back(&self) -> bool {
        self.screen == Screen::Pour && self.pour.has_stepped_back()
    }

    /// What the same key once more would confirm or turn.
    pub fn asks_twice(&self) -> Option<Question> {
        let doubted = self.form().is_some_and(Form::is_meant);
        let judging = self.judging.is_open();
        self.asked
            .or(doubted.then_some(Question::Doubt))
            .or(judging.then_some(Question::Judging))
    }

    /// A page over the screen.
    pub fn open(&mut self, kind: PageKind) {
        let (from, beneath) = (0, None);
        self.over = Some(Over::Page(Page {
            kind,
            from,
            beneath,
        }));
    }

    /// The keys of where the next key is pressed; a page that is read waits beneath. Asked for on the help itself, it goes.
    pub fn help(&mut self) {
        let context = self.context();
        let beneath = match self.over.take() {
            Some(Over::Page(Page {
                kind: PageKind::Help(_),
                beneath,
                ..
            })) => return self.over = beneath.map(|page| Over::Page(*page)),
            Some(Over::Page(page)) => Some(Box::new(page)),
            _ => None,
        };
        let kind = PageKind::Help(context);
        let from = 0;
        self.over = Some(Over::Page(Page {
            kind,
            from,
            beneath,
        }));
    }

    /// A form as it was left, where something was typed in it; else as it is.
    pub fn as_left(&mut self, ask: Ask, form: Form) -> Asked {
        let mut asked = Asked {
            ask,
            form: form.begun(),
        };
        let left = self.put_by.iter().position(|one| one.is_like(&asked));
        if let Some(place) = left {
            asked.form = asked.form.restored(self.put_by.remove(place).form);
        } else if let Some(place) = self
            .left
            .iter()
            .position(|one| one.is_like(&asked.ask, &asked.form))
        {
            asked.form = self.left.remove(place).filled(asked.form);
        }
        if asked.form.is_restored() {
            self.desk.say(Message::new(Tone::Done, AS_LEFT));
        }
        asked
    }

    /// The form that is open.
    pub fn form(&self) -> Option<&Form> {
        match &self.over {
            Some(Over::Form(asked)) => Some(&asked.form),
            _ => None,
        }
    }

    /// Leaves a form: what was typed is put by, unless it was left once already and nothing was typed since.
    pub fn leave(&mut self, asked: Asked) {
        if asked.form.is_touched() {
            self.desk.say(Message::new(Tone::Done, PUT_BY));
            self.put_by.push(asked);
        } else if asked.form.is_restored() {
            let words = "What was typed there is thrown away";
            self.desk.say(Message::new(Tone::Done, words));
        }
    }

    /// After a deed, or where another process wrote: everything that was read may have changed.
    pub fn mark_stale(&mut self) {
        self.desk.known.mark_stale();
        self.photos.mark_stale();
        for screen in Screen::ALL {
            self.place_mut(screen).0.mark_stale();
        }
    }

    /// Something was written down.
    pub fn after_deed(&mut self) {
        self.judging.close();
        for screen in Screen::ALL {
            self.place_mut(screen).0.after_deed();
        }
    }
}
