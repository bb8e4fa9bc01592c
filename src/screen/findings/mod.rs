//! Findings: which variants gave good cells in a window of time, the surest first, and the pours behind each.

mod forms;
mod keys;
mod page;
mod plot;
mod view;
mod why;
mod window;
mod words;

pub use forms::keep;
pub use keys::KEYS;
pub use page::page_lines;
pub use view::view;
pub use window::Window;
pub use words::headline;

use crate::screen::action::Step;
use crate::screen::effect::{Effect, Outcome};
use crate::screen::model::{Model, Over, Page, PageKind};
use crate::studio::{Answer, Asked, Findings as Found, PourPage, Studio, VariantTally};
use crate::trade::instant::Now;
use std::collections::HashSet;

/// From this many judged pours on a variant is ranked (our own choice: of four, all good, the 95 % interval
/// still begins at 51 %, so the order of shorter rows is mostly chance).
const ENOUGH: usize = 5;

/// What the Findings screen has read, and what is chosen on it.
#[derive(Debug, Default)]
pub struct Findings {
    /// The window of time that is looked at.
    pub window: Window,
    /// What worked in it; `None` before it was read.
    pub found: Option<Found>,
    /// Every judged pour of the window, newest first.
    pub pours: Vec<PourPage>,
    /// The chosen row.
    pub at: usize,
    /// The chosen pour behind the chosen row, while its pours are looked at.
    pub behind: Option<usize>,
    /// Whether it is as the store has it.
    pub fresh: bool,
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
    /// Another line: of the rows, or of the pours behind one.
    pub fn step(&mut self, step: Step) {
        let (rows, pours) = (self.rows().len(), self.behind_chosen().len());
        match &mut self.behind {
            Some(at) => *at = step.from(*at, pours),
            None => self.at = step.from(self.at, rows),
        }
    }

    /// Reads it again.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn reread(&mut self, studio: &Studio, now: &Now) -> Answer<()> {
        let window = self.window.since(now);
        let mut found = studio.findings(window)?;
        // A row that it is too early to rank never stands before one that can be.
        found.variants.sort_by_key(|row| !words::ranked(row));
        let within = |page: &PourPage| window.to.is_none_or(|to| page.pour.at < to);
        let pours = studio.pours(window.from)?.into_iter();
        self.pours = pours
            .filter(|page| within(page) && page.counting().is_some())
            .collect();
        self.settle(&found);
        self.found = Some(found);
        self.fresh = true;
        Ok(())
    }

    /// Stays on the variant that was chosen, where it still has a row.
    fn settle(&mut self, found: &Found) {
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
        self.found.as_ref().map_or(&[], |found| &found.variants)
    }

    /// The chosen row.
    pub fn chosen(&self) -> Option<&VariantTally> {
        self.rows().get(self.at)
    }

    /// The pours behind the chosen row, newest first.
    pub fn behind_chosen(&self) -> Vec<&PourPage> {
        let Some(row) = self.chosen() else {
            return Vec::new();
        };
        let behind: HashSet<i64> = row.behind.iter().copied().collect();
        let of_row = |page: &&PourPage| behind.contains(&page.pour.id);
        self.pours.iter().filter(of_row).collect()
    }

    fn look(&mut self, window: Window) {
        self.window = window;
        self.at = 0;
        self.behind = None;
        self.fresh = false;
    }
}

/// Takes a wish; nothing here is written down.
pub fn update(model: &mut Model, wish: Wish) -> Vec<Effect> {
    let now = model.beat.now;
    let findings = &mut model.findings;
    match wish {
        Wish::Look(window) => findings.look(window),
        Wish::MonthBefore => turn_month(model, -1),
        Wish::MonthAfter => turn_month(model, 1),
        Wish::Month => model.ask(forms::month(&now)),
        Wish::Why => return vec![Effect::Findings(Deed::Why(findings.window))],
        Wish::Behind if findings.chosen().is_some() => findings.behind = Some(0),
        Wish::Behind => model.refuse("There is no row to open: no pour of this window was judged"),
        Wish::Rows => findings.behind = None,
        Wish::Pour => open_pour(model),
    }
    Vec::new()
}

/// A deed of the Findings.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Deed {
    /// Work out what went with good pours in a window, and what to try next.
    Why(Window),
}

/// Does a deed.
///
/// # Errors
/// Where the store cannot be read.
pub fn perform(studio: &Studio, deed: Deed, now: &Now) -> Answer<Outcome> {
    let Deed::Why(window) = deed;
    let asked = Asked {
        window: window.since(now),
        ..Asked::default()
    };
    let found = studio.findings_as(&asked)?;
    let reasons = studio.reasons(&asked, &found, now)?;
    Ok(Outcome {
        page: Some(PageKind::Sheet(why::sheet(&found, &reasons))),
        ..Outcome::default()
    })
}

fn turn_month(model: &mut Model, by: i32) {
    let findings = &mut model.findings;
    match findings.window.month_away(by, &model.beat.now) {
        Some(window) => findings.look(window),
        None => model.refuse("That month is still to come"),
    }
}

fn open_pour(model: &mut Model) {
    let pours = model.findings.behind_chosen();
    let chosen = model.findings.behind.and_then(|at| pours.get(at).copied());
    if let Some(page) = chosen.cloned() {
        let kind = PageKind::Pour(Box::new(page));
        model.over = Some(Over::Page(Page { kind, from: 0 }));
    }
}
