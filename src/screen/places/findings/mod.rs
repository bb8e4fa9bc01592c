//! Findings: which variants gave good cells in a window of time, the surest first, why they came out so, what to try
//! next, and the pours behind each row.

mod bars;
mod best;
mod best_view;
mod dated;
mod forms;
mod keys;
mod measured;
mod measured_view;
mod page;
mod pairs;
mod plot;
mod update;
mod view;
mod why;
mod why_view;
mod window;
mod words;

pub use keys::{BEHIND, BEST, KEYS, MEASURED, WHY};
pub use window::Window;

use crate::screen::kit::desk::Desk;
use crate::screen::kit::form::{Fault, Form};
use crate::screen::kit::place::{Hands, Next, Outcome, Place};
use crate::screen::kit::seek::Label;
use crate::screen::kit::step::Step;
use crate::studio::{
    Answer, Asked, Findings as Found, LookedBack, OutcomeKind, PourPage, Studio, VariantTally,
};
use crate::trade::instant::Now;
use crate::trade::moment::Moment;
use crate::trade::recipe::variant_title;
use best::Best;
use measured::Measured;
use ratatui::Frame;
use ratatui::layout::Rect;
use std::collections::HashMap;
use why::Why;

/// What the Findings screen has read, and what is chosen on it.
#[derive(Debug, Default)]
pub struct Findings {
    /// The window of time that is looked at.
    pub window: Window,
    /// What worked in it, and its judged pours, newest first; `None` before it was read.
    back: Option<LookedBack>,
    /// The chosen row.
    pub at: usize,
    /// Why they came out so, while that is looked at.
    pub why: Option<Why>,
    /// The best settings, while they are looked at.
    pub best: Option<Best>,
    /// What the photos say, while that is looked at.
    pub measured: Option<Measured>,
    /// Whether what went with good pours is held against cells, 0 to 5, instead.
    by_cells: bool,
    /// The chosen pour behind the chosen row, while its pours are looked at.
    pub behind: Option<usize>,
    /// Why, or the best settings, are asked of what was read already.
    asks_more: bool,
    /// Whether it is as the store has it.
    current: bool,
}

/// Pours that have something in common.
pub struct Pours<'a> {
    /// What.
    pub title: String,
    /// The pours, newest first.
    pub pours: Vec<&'a PourPage>,
}

/// Where on the Findings a key is pressed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mode {
    /// Among the rows.
    Rows,
    /// Among why pours came out so, and what to try next.
    Why,
    /// Among the best settings.
    Best,
    /// Among the variants by what the photos say.
    Measured,
    /// Among the pours behind a row.
    Behind,
}

/// What a key of the Findings wishes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wish {
    /// Another window of time.
    Look(Window),
    /// The month before the one that is looked at, or the last whole one.
    MonthBefore,
    /// The month after it.
    MonthAfter,
    /// A month that is typed.
    Month,
    /// What went with good pours, and what to try next.
    Why,
    /// The best settings by all pours of the window.
    Best,
    /// Another outcome: good pours, your cells, then what the photos say.
    Outcome,
    /// Back from there, one step.
    Away,
    /// The chosen factor beside another, in a table.
    Beside,
    /// The statistics behind the sentences.
    Statistics,
    /// A plan for the chosen suggestion.
    Plan,
    /// A cup of the chosen suggestion.
    Mix,
    /// The pours behind the chosen row.
    Behind,
    /// The rows again.
    Rows,
    /// The chosen pour's page.
    Pour,
}

/// Which form of the Findings.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ask {
    /// Which month.
    Month,
}

impl Findings {
    fn asked(&self, now: &Now) -> Asked {
        Asked {
            window: self.window.since(now),
            outcome: self.by_cells.then_some(OutcomeKind::Cells),
            ..Asked::default()
        }
    }

    fn reread_all(&mut self, studio: &Studio, now: &Now) -> Answer<()> {
        let back = studio.look_back(&self.asked(now))?;
        self.find_chosen(&back.found);
        self.back = Some(back);
        Ok(())
    }

    /// What worked; `None` before it was read.
    pub fn found(&self) -> Option<&Found> {
        self.back.as_ref().map(|back| &back.found)
    }

    /// Stays on the variant that was chosen, where it still has a row.
    fn find_chosen(&mut self, found: &Found) {
        let name = |row: &VariantTally| (row.recipe.clone(), row.variant);
        let was = self.chosen().map(name);
        let place = found.variants.iter().position(|row| Some(name(row)) == was);
        self.at = place.unwrap_or(0);
        if place.is_none() {
            self.behind = None;
        }
    }

    /// The rows, the surest first.
    pub fn rows(&self) -> &[VariantTally] {
        self.found().map_or(&[], |found| &found.variants)
    }

    /// The chosen row.
    pub fn chosen(&self) -> Option<&VariantTally> {
        self.rows().get(self.at)
    }

    /// Where its keys are pressed.
    pub const fn mode(&self) -> Mode {
        match (&self.best, &self.why, self.behind) {
            (Some(_), ..) => Mode::Best,
            (None, _, Some(_)) => Mode::Behind,
            (None, Some(_), None) => Mode::Why,
            (None, None, None) if self.measured.is_some() => Mode::Measured,
            (None, None, None) => Mode::Rows,
        }
    }

    /// The pours behind what is chosen, under headings, each newest first.
    pub fn groups(&self) -> Vec<Pours<'_>> {
        if let Some(measured) = &self.measured {
            return words::of_measured(self, measured).into_iter().collect();
        }
        let groups = match (&self.why, self.found()) {
            (Some(why), Some(found)) => why.groups(found),
            _ => self.of_row().into_iter().collect(),
        };
        let judged = self.back.iter().flat_map(|back| &back.judged);
        let by_number: HashMap<i64, &PourPage> =
            judged.map(|(page, _)| (page.pour.id, page)).collect();
        let pages = |numbers: &[i64]| {
            let pages = numbers.iter().filter_map(|number| by_number.get(number));
            pages.copied().collect()
        };
        let pours = groups.into_iter().map(|group| Pours {
            pours: pages(&group.pours),
            title: group.title,
        });
        pours.collect()
    }

    /// The pours behind what is chosen, in the order they are shown.
    pub fn behind_chosen(&self) -> Vec<&PourPage> {
        let groups = self.groups().into_iter();
        groups.flat_map(|group| group.pours).collect()
    }

    fn of_row(&self) -> Option<why::Group> {
        let row = self.chosen()?;
        let when = self.window.words();
        Some(why::Group {
            title: format!(
                "The pours of {}, {when}: {}",
                words::title(row),
                words::of(row)
            ),
            pours: row.behind.clone(),
        })
    }

    /// Another outcome, its rows from the top.
    fn turn_outcome(&mut self) {
        let now = match (&self.measured, self.by_cells) {
            (Some(measured), _) => measured.outcome,
            (None, true) => OutcomeKind::Cells,
            (None, false) => OutcomeKind::Good,
        };
        let next = measured::next(now);
        self.by_cells = next == OutcomeKind::Cells;
        self.measured = next.is_measured().then(|| Measured::of(next));
        self.current = false;
    }

    /// Asks why, of what was read already where it still is so.
    fn ask_why(&mut self) {
        self.why = Some(Why::default());
        self.asks_more = self.current;
        self.current = false;
    }

    /// Asks for the best settings, of what was read already where it still is so.
    fn ask_best(&mut self) {
        self.best = Some(Best::default());
        self.asks_more = self.current;
        self.current = false;
    }

    /// Whether settings are advised among those looked at.
    pub fn is_advised(&self) -> bool {
        self.best.as_ref().is_some_and(Best::is_advised)
    }

    /// Every judged pour with its instant, cells and number.
    fn dated(&self) -> Vec<(Moment, u8, i64)> {
        let judged = self.back.iter().flat_map(|back| &back.judged);
        judged
            .map(|(page, cells)| (page.pour.at, *cells, page.pour.id))
            .collect()
    }

    /// The newest judged pour.
    pub fn last_pour(&self) -> Option<&PourPage> {
        self.back.as_ref()?.judged.first().map(|(page, _)| page)
    }

    fn look(&mut self, window: Window) {
        self.window = window;
        self.at = 0;
        self.behind = None;
        self.current = false;
        if let Some(why) = &mut self.why {
            *why = Why::default();
        }
        if let Some(best) = &mut self.best {
            *best = Best::default();
        }
        if let Some(measured) = &mut self.measured {
            *measured = Measured::of(measured.outcome);
        }
    }
}

impl Place for Findings {
    fn mark_stale(&mut self) {
        self.current = false;
    }

    fn is_stale(&self) -> bool {
        !self.current || self.best.as_ref().is_some_and(Best::is_waiting)
    }

    fn reread(&mut self, studio: &Studio, desk: &Desk) -> Answer<()> {
        if self.current {
            self.best.iter_mut().for_each(Best::poll);
            return Ok(());
        }
        let now = &desk.beat.now;
        if !std::mem::take(&mut self.asks_more) || self.back.is_none() {
            self.reread_all(studio, now)?;
        }
        let asked = self.asked(now);
        if let Some(measured) = &mut self.measured {
            measured.reread(studio, &asked, now)?;
        }
        if let (Some(best), Some(back)) = (&mut self.best, &self.back) {
            best.begin(studio.settings_tried(back, now)?);
        }
        if let (Some(why), Some(back)) = (&mut self.why, &self.back) {
            why.take(studio.reasons(back, now)?);
        }
        self.current = true;
        Ok(())
    }

    /// Of the rows, or of the pours behind one.
    fn step(&mut self, step: Step, _desk: &Desk) {
        if let Some(best) = &mut self.best {
            best.step(step);
        } else if let Some(at) = self.behind {
            self.behind = Some(step.from(at, self.behind_chosen().len()));
        } else if let Some(why) = &mut self.why {
            why.step(step);
        } else if let Some(measured) = &mut self.measured {
            measured.step(step);
        } else {
            self.at = step.from(self.at, self.rows().len());
        }
    }

    fn close(&mut self) {
        (self.best, self.why, self.behind) = (None, None, None);
    }

    fn labels(&self, _desk: &Desk) -> Vec<Label> {
        match self.mode() {
            Mode::Behind => {
                let pages = self.behind_chosen().into_iter();
                pages.map(|page| Label::new(page.pour.id, "")).collect()
            }
            Mode::Rows => {
                let rows = self.rows().iter();
                rows.map(|row| Label::new("", variant_title(&row.recipe, row.variant)))
                    .collect()
            }
            Mode::Measured => {
                let rows = self.measured.iter().flat_map(Measured::rows);
                rows.map(|row| Label::new("", variant_title(&row.recipe, row.variant)))
                    .collect()
            }
            _ => Vec::new(),
        }
    }

    fn chosen_at(&self, _desk: &Desk) -> usize {
        let measured = || self.measured.as_ref().map(|measured| measured.at);
        self.behind.or_else(measured).unwrap_or(self.at)
    }

    fn choose_at(&mut self, at: usize, _desk: &Desk) {
        match (&mut self.behind, &mut self.measured) {
            (Some(behind), _) => *behind = at,
            (None, Some(measured)) => measured.at = at,
            (None, None) => self.at = at,
        }
    }

    fn headline(&self, _desk: &Desk) -> String {
        words::headline(self)
    }

    fn view(&self, desk: &Desk, frame: &mut Frame<'_>, area: Rect) {
        view::view(self, desk, frame, area);
    }
}

/// Nothing is written down on the Findings.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Deed {}

impl Hands for Findings {
    type Wish = Wish;
    type Ask = Ask;
    type Deed = Deed;

    fn update(&mut self, wish: Wish, desk: &mut Desk) -> Option<Next<Ask, Deed>> {
        update::update(self, wish, desk)
    }

    fn keep(&mut self, ask: &Ask, form: &Form, desk: &mut Desk) -> Result<Option<Deed>, Fault> {
        let Ask::Month = ask;
        self.look(forms::month_of(form, desk)?);
        Ok(None)
    }

    fn perform(&mut self, _: &mut Studio, deed: Deed, _: &mut Desk) -> Answer<Outcome> {
        match deed {}
    }
}
