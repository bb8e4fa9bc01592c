//! The Bench: the living cups, the next to act on first, and all that hands do to a cup.

mod clock;
mod deeds;
mod forms;
mod keys;
mod life;
mod update;
mod view;

pub use clock::watch_lines;
pub use deeds::{Deed, perform};
pub use forms::{changed, keep, volume};
pub use keys::KEYS;
pub use life::life_lines;
pub use update::{mix_by, mix_variant, press, update};
pub use view::{headline, view};

use crate::screen::kit::list::Chosen;
use crate::screen::kit::step::Step;
use crate::studio::{Answer, CupPage, CupStatus, Studio};
use crate::trade::cup::End;
use crate::trade::instant::Now;
use crate::trade::life::State;
use crate::trade::moment::Moment;
use crate::trade::units::Millilitres;

/// What the Bench has read, and which cup is chosen.
#[derive(Debug, Default)]
pub struct Bench {
    /// The living cups, the next to act on first.
    pub cups: Vec<CupStatus>,
    chosen: Chosen,
    /// The cup, by number, that was chosen before one that was mixed.
    before: Option<i64>,
    /// A cup, by mark, to choose once it is read.
    wanted: Option<String>,
    /// The chosen cup's whole life.
    pub life: Option<CupPage>,
    /// Whether it is as the store has it.
    pub fresh: bool,
}

/// A cup that turned by itself.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Turned {
    /// Its mark.
    pub mark: String,
    /// What it is now.
    pub state: State,
    /// What is so, in words.
    pub why: String,
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
    /// The mound that is timed never fades.
    Never,
    /// Stir it by the clock.
    Stir,
    /// It was seen clear.
    Clear,
    /// Bubbles were seen.
    Bubbles,
    /// Its lid on, or off.
    Lid,
    /// End it: ask how.
    End,
    /// It ended so.
    Ended(End),
    /// Its whole life.
    Life,
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
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Ask {
    /// A cup by its recipe.
    Mix,
    /// A cup of a recipe's variant, by its number, as long as the recipe is left as it is.
    Of(String, i64),
    /// A cup like the one with the mark.
    Like(String),
    /// Thinner into the cup with the mark.
    Thin(String),
    /// A reading of the cup with the mark.
    Read(String),
    /// The first cup, with what it is made of.
    First,
}

impl Bench {
    /// The chosen cup.
    pub fn chosen(&self) -> Option<&CupStatus> {
        self.cups.get(self.place())
    }

    /// The chosen cup's place.
    pub const fn place(&self) -> usize {
        self.chosen.at()
    }

    /// Another cup.
    pub fn step(&mut self, step: Step) {
        self.chosen.step(step, self.cups.len());
        let number = self.chosen().map(|cup| cup.cup.id);
        self.chosen.hold(number);
    }

    /// Chooses the cup with a mark, now or once it is read.
    pub fn choose(&mut self, mark: &str) {
        self.wanted = Some(mark.to_owned());
        self.settle();
    }

    /// The cup that was mixed last, of those that live.
    pub fn newest(&self) -> Option<&CupStatus> {
        self.cups.iter().max_by_key(|standing| standing.cup.id)
    }

    /// The next instant at which a cup turns by itself.
    pub fn turns_at(&self) -> Option<Moment> {
        self.cups.iter().filter_map(CupStatus::turns_at).min()
    }

    /// Takes the cups as they stand at an instant; answers which of them turned by themselves since.
    pub fn take(&mut self, cups: Vec<CupStatus>, now: &Now) -> Vec<Turned> {
        let turned = cups.iter().filter_map(|cup| self.turned(cup, now));
        let turned = turned.collect();
        let was = self.chosen().map(|cup| cup.cup.id);
        self.cups = cups;
        self.fresh = true;
        if self.wanted.is_some() {
            self.before = was;
        }
        self.settle();
        turned
    }

    fn turned(&self, cup: &CupStatus, now: &Now) -> Option<Turned> {
        let before = self.cups.iter().find(|one| one.cup.id == cup.cup.id)?;
        let due = before.turns_at().is_some_and(|at| at <= now.at);
        (due && before.state != cup.state).then(|| Turned {
            mark: cup.cup.mark.to_string(),
            state: cup.state,
            why: cup.why.clone(),
        })
    }

    /// Finds the chosen cup again among those read.
    fn settle(&mut self) {
        let find = |wanted: &str| {
            let mut cups = self.cups.iter();
            cups.find(|one| one.cup.mark.as_str().eq_ignore_ascii_case(wanted))
        };
        if let Some(found) = self.wanted.as_deref().and_then(find) {
            self.chosen.hold(Some(found.cup.id));
            self.wanted = None;
        }
        let lives = |id: &i64| self.cups.iter().any(|one| one.cup.id == *id);
        if self.chosen.number().is_some_and(|id| !lives(&id)) {
            let before = self.before.filter(lives);
            self.chosen.hold(before.or(self.chosen.number()));
        }
        self.chosen.find(self.cups.iter().map(|one| one.cup.id));
    }

    /// Reads the chosen cup's life, where it is not at hand.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn reread_life(&mut self, studio: &Studio, now: &Now) -> Answer<()> {
        let Some(mark) = self.chosen().map(|cup| cup.cup.mark.to_string()) else {
            self.life = None;
            return Ok(());
        };
        self.life = Some(studio.cup_page(&mark, now)?);
        Ok(())
    }

    /// Whether the life at hand is the chosen cup's.
    pub fn life_fits(&self) -> bool {
        let id = |life: &CupPage| life.standing.cup.id;
        self.life.as_ref().map(id) == self.chosen().map(|cup| cup.cup.id)
    }
}

/// How much thinner to begin with; `None` where the models know too little, and the form is left empty.
pub fn advice(cup: &CupStatus) -> Option<Millilitres> {
    cup.outlook.advice.map(|advice| advice.start_with)
}
