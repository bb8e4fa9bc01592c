//! The real loop driven without a terminal: keys in, cells out, a clock that is set by hand.

mod bench;
mod choices;
mod damage;
mod drafts;
mod findings;
mod forms;
mod hands;
mod mixing;
mod orders;
mod outgoing;
mod photos;
mod plan;
mod pour;
mod pouring;
mod rack;
mod readme;
mod recipes;
mod repeating;
mod settings;
mod shelf;
mod slips;
#[path = "../../../tests/stage/mod.rs"]
mod stage;
mod styled;
mod swatches;
mod trials;
mod turning;
mod undo;
mod ways;
mod why;

pub use stage::now;

use crate::screen::kit::keys::{Key, char, code};
use crate::screen::kit::look::Look;
use crate::screen::shell::drive::{Bell, EventLoop, Incoming, Source};
use crate::studio::{PourOrder, Studio};
use crate::trade::amount::Amount;
use crate::trade::ids::RecipeId;
use crate::trade::instant::Now;
use crate::trade::panel::Panel;
use crate::trade::recipe::Part;
use crate::trade::units::Millilitres;
use chrono::TimeDelta;
use crossterm::event::KeyCode;
use ratatui::Terminal;
use ratatui::backend::TestBackend;
use ratatui::buffer::Buffer;
use std::cell::{Cell, RefCell};
use std::collections::VecDeque;
use std::io;
use std::rc::Rc;
use std::time::Duration;

/// One step of a script.
pub enum Play {
    /// A key.
    Key(Key),
    /// A key at once after the one before.
    Bounce(Key),
    /// Both clocks go on.
    Later(TimeDelta),
    /// The clock on the wall is set, and no time goes by.
    Set(TimeDelta),
    /// No event within a tick.
    Tick,
    /// Something another process does.
    Elsewhere(Box<dyn Fn(&Now)>),
}

/// Layers of so many millilitres on a panel, the lowest first.
pub fn stack(studio: &Studio, panel: &str, layers: &[(&str, f64)]) -> PourOrder {
    let known = studio.known([]).unwrap();
    let layer =
        |(mark, ml): &(&str, f64)| known.layer(mark, Amount::Volume(Millilitres(*ml))).unwrap();
    let panel = Panel::parse(panel).unwrap();
    PourOrder::on(panel, layers.iter().map(layer).collect())
}

/// `"m"`, `"Enter"`, `"Tab"`, `"Esc"`, `"Down"`, …: keys as a painter would name them, blanks between.
pub fn keys(names: &str) -> Vec<Play> {
    names
        .split_whitespace()
        .map(|name| Play::Key(key(name)))
        .collect()
}

pub fn key(name: &str) -> Key {
    match name {
        "Enter" => code(KeyCode::Enter),
        "Tab" => code(KeyCode::Tab),
        "BackTab" => code(KeyCode::BackTab),
        "Backspace" => code(KeyCode::Backspace),
        "Left" => code(KeyCode::Left),
        "Esc" => code(KeyCode::Esc),
        "End" => code(KeyCode::End),
        "Up" => code(KeyCode::Up),
        "Down" => code(KeyCode::Down),
        "Right" => code(KeyCode::Right),
        "Space" => char(' '),
        one => char(one.chars().next().unwrap()),
    }
}

/// A text, typed character by character.
pub fn typed(text: &str) -> Vec<Play> {
    text.chars().map(|c| Play::Key(char(c))).collect()
}

#[derive(Clone)]
pub struct Hands {
    script: Rc<RefCell<VecDeque<Play>>>,
    now: Rc<Cell<Now>>,
    elapsed: Rc<Cell<Duration>>,
    /// The key that was pressed last, where nothing was between.
    last: Rc<Cell<Option<Key>>>,
}

impl Hands {
    fn set(&self, by: TimeDelta) {
        let now = self.now.get();
        let at = now.at + by;
        self.now.set(Now { at, ..now });
    }
}

impl Source for Hands {
    fn next(&mut self, wait: Duration) -> io::Result<Option<Incoming>> {
        if wait.is_zero() {
            return Ok(None);
        }
        let step = self.script.borrow_mut().pop_front();
        // A hand that presses one key twice on purpose takes its time.
        let twice = matches!(&step, Some(Play::Key(key)) if self.last.get() == Some(*key));
        if twice {
            self.elapsed
                .set(self.elapsed.get() + Duration::from_secs(1));
        }
        self.last.set(match &step {
            Some(Play::Key(key)) => Some(*key),
            _ => None,
        });
        Ok(match step {
            Some(Play::Key(key)) => Some(Incoming::Key(key)),
            Some(Play::Bounce(key)) => Some(Incoming::Key(key)),
            Some(Play::Tick) => None,
            Some(Play::Set(by)) => {
                self.set(by);
                None
            }
            Some(Play::Later(by)) => {
                self.set(by);
                self.elapsed.set(self.elapsed.get() + by.to_std().unwrap());
                None
            }
            Some(Play::Elsewhere(deed)) => {
                deed(&self.now.get());
                None
            }
            None => Some(Incoming::End),
        })
    }

    fn elapsed(&self) -> Duration {
        self.elapsed.get()
    }
}

#[derive(Clone, Default)]
pub struct Ears(pub Rc<RefCell<Vec<String>>>);

impl Bell for Ears {
    fn ring(&mut self, words: &str) {
        self.0.borrow_mut().push(words.to_owned());
    }
}

/// A file that outlives the studio in it, so that another process may open it.
pub struct Stage {
    dir: tempfile::TempDir,
    pub now: Now,
    pub size: (u16, u16),
    pub look: Look,
    pub heard: Ears,
    /// Whether what is being built survives from one play to the next.
    pub keeps_drafts: bool,
}

impl Stage {
    pub fn empty() -> Self {
        Self {
            dir: tempfile::tempdir().unwrap(),
            now: now(),
            size: (80, 24),
            look: Look::Full,
            heard: Ears::default(),
            keeps_drafts: false,
        }
    }

    /// A studio with a recipe for a colour (12 h of rest, 2 to 3 s) and one for an activator (no rest, 1 to 2 s).
    pub fn with_recipes() -> Self {
        let stage = Self::empty();
        stage::recipes(&mut stage.studio(), &stage.now);
        stage
    }

    /// The recipe of a name.
    pub fn recipe(&self, name: &str) -> RecipeId {
        self.studio().known([]).unwrap().recipe(name).unwrap()
    }

    /// Parts as they are typed.
    pub fn parts(&self, texts: [&str; 2]) -> Vec<Part> {
        self.studio().known([]).unwrap().parts(texts).unwrap()
    }

    /// A day with cups in every state that matters: K7 thick, A3 resting, B4 ready to be poured.
    pub fn with_cups() -> Self {
        let stage = Self::with_recipes();
        stage::cups(&mut stage.studio(), &stage.now);
        stage
    }

    pub fn mix(&self, recipe: &str, mark: &str, at: TimeDelta, read: Option<(f64, TimeDelta)>) {
        stage::mix(&mut self.studio(), (recipe, mark), (at, read), &self.now);
    }

    /// Layers of so many millilitres on a panel, the lowest first.
    pub fn stack(&self, panel: &str, layers: &[(&str, f64)]) -> PourOrder {
        stack(&self.studio(), panel, layers)
    }

    pub fn file(&self) -> std::path::PathBuf {
        self.dir.path().join("studio.db")
    }

    pub fn studio(&self) -> Studio {
        Studio::open(&self.file()).unwrap()
    }

    /// Plays a script through the real loop; the cells as they stood at its end.
    pub fn play(&self, script: impl IntoIterator<Item = Play>) -> Buffer {
        let now = Rc::new(Cell::new(self.now));
        let hands = Hands {
            script: Rc::new(RefCell::new(script.into_iter().collect())),
            now: Rc::clone(&now),
            elapsed: Rc::new(Cell::new(Duration::from_secs(5))),
            last: Rc::default(),
        };
        let clock = || now.get();
        let mut room = EventLoop {
            studio: self.studio(),
            clock: &clock,
            source: hands,
            bell: self.heard.clone(),
            keeps_drafts: self.keeps_drafts,
            pictures: None,
        };
        let mut terminal = Terminal::new(TestBackend::new(self.size.0, self.size.1)).unwrap();
        room.run(&mut terminal, self.look).unwrap();
        terminal.backend().buffer().clone()
    }
}

/// The cells as lines of text.
pub fn lines(buffer: &Buffer) -> Vec<String> {
    let area = buffer.area;
    let line = |y| {
        (0..area.width)
            .map(|x| buffer[(x, y)].symbol())
            .collect::<String>()
    };
    (0..area.height)
        .map(|y| line(y).trim_end().to_owned())
        .collect()
}

/// The line that holds a text, and where it begins in cells.
pub fn place(buffer: &Buffer, text: &str) -> (u16, u16) {
    let found = lines(buffer).iter().enumerate().find_map(|(y, line)| {
        let byte = line.find(text)?;
        Some((line[..byte].chars().count(), y))
    });
    let (x, y) = found.unwrap_or_else(|| panic!("no {text:?} in {:#?}", lines(buffer)));
    (u16::try_from(x).unwrap(), u16::try_from(y).unwrap())
}

pub fn shows(buffer: &Buffer, text: &str) -> bool {
    lines(buffer).iter().any(|line| line.contains(text))
}
