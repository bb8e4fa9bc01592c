//! Plan: paint for a panel and when to begin it, plans that were kept, and what became of them.

mod asked;
mod deeds;
mod forms;
mod keys;
mod mixing;
mod next;
mod sheet;
mod timeline;
mod update;
mod view;

pub use asked::Asked;
pub use deeds::Deed;
pub use keys::{KEYS, MIXING, SHEET};
pub use mixing::Ticks;

use crate::screen::kit::desk::Desk;
use crate::screen::kit::form::{Fault, Form};
use crate::screen::kit::handover::{Usual, recipes};
use crate::screen::kit::place::{Hands, Next, Outcome, Place, Subject};
use crate::screen::kit::refusal::words;
use crate::screen::kit::seek::Label;
use crate::screen::kit::step::Step;
use crate::studio::orders::RepeatOrder;
use crate::studio::{Answer, PlanPage, PlanSheet, Studio, StudioError};
use crate::trade::instant::Now;
use mixing::Mixing;
use ratatui::Frame;
use ratatui::layout::Rect;

/// What the Plan screen has read, and what is chosen on it.
#[derive(Debug, Default)]
pub struct Plan {
    /// The plans that were kept, newest first.
    pub kept: Vec<PlanPage>,
    /// The chosen one.
    pub at: usize,
    /// A plan, by number, to choose once it is read.
    wanted: Option<i64>,
    /// The chosen plan worked out anew.
    pub chosen_sheet: Option<PlanSheet>,
    /// The sheet that lies over the plans.
    pub open: Option<Sheet>,
    /// The plan to be acted on first.
    pub nearest: Option<(PlanPage, PlanSheet)>,
    /// What a new plan begins with.
    pub usual: Usual,
    /// The plan, by number, whose next cup was asked for before its time.
    early: Option<(i64, Wish)>,
    /// The cup of a plan that is mixed part by part.
    mixing: Option<Mixing>,
    /// How far such a cup had come when it was left.
    ticks: Option<Ticks>,
    /// Only another line was chosen since it was read.
    moved: bool,
    /// Whether it is as the store has it.
    current: bool,
}

/// A sheet that is looked at.
#[derive(Debug, Clone)]
pub struct Sheet {
    /// What was asked.
    pub asked: Asked,
    /// What follows.
    pub worked: PlanSheet,
    /// Its number, if it was kept.
    pub kept: Option<i64>,
    /// Why it could not be worked out anew since.
    pub stale: Option<String>,
    /// The first line in sight.
    pub from: usize,
    /// Whether it was said that it is not kept, as it was about to be left.
    pub leaving: bool,
}

/// What a key of the Plan wishes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wish {
    /// Paint for a panel: asks, or asks again.
    Order,
    /// The chosen plan's sheet.
    Open,
    /// The sheet away.
    Close,
    /// Keep what the sheet says.
    Keep,
    /// Mix the next cup of the plan.
    Mix,
    /// Mix the plan's cups part by part.
    MixSteps,
    /// The part in hand is in.
    Tick,
    /// The part before was not in.
    Untick,
}

/// Which form of the Plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ask {
    /// What is to be painted, and when.
    Order,
    /// The picture of the number once more: on what, and when.
    Repeat(i64),
}

impl Plan {
    /// The sheet is not about to be left.
    pub const fn stay(&mut self) {
        if let Some(open) = &mut self.open {
            open.leaving = false;
        }
    }

    /// The chosen plan.
    pub fn chosen(&self) -> Option<&PlanPage> {
        self.kept.get(self.at)
    }

    /// A plan begins with other than what was poured last, once.
    pub fn begin_with(&mut self, usual: Usual, desk: &Desk) -> Option<Next<Ask, Deed>> {
        self.open = None;
        self.usual = usual;
        // What was poured last is offered again the next time.
        self.current = false;
        Next::ask(Ask::Order, forms::order(self, desk))
    }

    /// A picture is to be made once more.
    pub fn repeat(&mut self, pour: i64) -> Option<Next<Ask, Deed>> {
        self.open = None;
        let order = RepeatOrder::of(pour);
        Some(Next::Do(Deed::Work(Box::new(Asked::Repeat(order)))))
    }

    fn reread_all(&mut self, studio: &Studio, now: &Now) -> Answer<()> {
        let was = self
            .wanted
            .take()
            .or(self.chosen().map(|page| page.plan.id));
        self.kept = studio.plans()?;
        let place = self.kept.iter().position(|page| Some(page.plan.id) == was);
        self.at = place.unwrap_or(0);
        self.usual = usual(studio, &self.kept)?;
        self.nearest = match next::nearest(&self.kept, now) {
            Some(page) => studio
                .kept_sheet(page.plan.id, now)?
                .map(|sheet| (page.clone(), sheet)),
            None => None,
        };
        self.open
            .as_mut()
            .map_or(Ok(()), |open| open.work(studio, now))
    }
}

impl Sheet {
    /// A sheet that was just worked out.
    pub const fn new(asked: Asked, worked: PlanSheet) -> Self {
        Self {
            asked,
            worked,
            kept: None,
            stale: None,
            from: 0,
            leaving: false,
        }
    }

    /// Works a draft out anew; a kept plan's sheet is left as it was opened.
    fn work(&mut self, studio: &Studio, now: &Now) -> Answer<()> {
        if self.kept.is_some() {
            return Ok(());
        }
        match self.asked.work(studio, now) {
            Ok(worked) => (self.worked, self.stale) = (worked, None),
            Err(error @ StudioError::Refused(_)) => {
                let measures = studio.settings()?.measures;
                self.stale = Some(words(&error, measures, now));
            }
            Err(error) => return Err(error),
        }
        Ok(())
    }
}

/// The last pour's panel, way and recipes; the newest plan's where nothing was poured yet.
fn usual(studio: &Studio, kept: &[PlanPage]) -> Answer<Usual> {
    let last = studio.newest_pour()?;
    let poured = last.as_ref().map(Usual::of);
    let planned = kept.first().map(|page| Usual {
        panel: Some(page.plan.panels.panel),
        way: page.plan.way.clone(),
        recipes: recipes(page.cups.iter().map(|line| &line.variant)),
        ..Usual::default()
    });
    Ok(poured.or(planned).unwrap_or_default())
}

impl Place for Plan {
    fn mark_stale(&mut self) {
        self.current = false;
    }

    fn is_stale(&self) -> bool {
        !self.current
    }

    fn reread(&mut self, studio: &Studio, desk: &Desk) -> Answer<()> {
        let now = &desk.beat.now;
        if !std::mem::take(&mut self.moved) {
            self.reread_all(studio, now)?;
        }
        self.chosen_sheet = match self.chosen() {
            Some(page) => studio.kept_sheet(page.plan.id, now)?,
            None => None,
        };
        self.current = true;
        Ok(())
    }

    /// Another plan; or the sheet further on.
    fn step(&mut self, step: Step, _desk: &Desk) {
        if let Some(open) = &mut self.open {
            open.from = step.from(open.from, sheet::most_lines(&open.worked));
            return;
        }
        self.at = step.from(self.at, self.kept.len());
        self.moved = true;
        self.current = false;
    }

    /// One that is not kept stays: Esc asks about it first.
    fn close(&mut self) {
        if self.is_mixing() {
            return self.leave_mixing();
        }
        self.open = self.open.take().filter(|sheet| sheet.kept.is_none());
    }

    fn leave(&mut self) {
        self.leave_mixing();
    }

    fn labels(&self, _desk: &Desk) -> Vec<Label> {
        let kept = self.kept.iter();
        kept.map(|page| Label::new(page.plan.id, "")).collect()
    }

    fn chosen_at(&self, _desk: &Desk) -> usize {
        self.at
    }

    fn choose_at(&mut self, at: usize, _desk: &Desk) {
        self.at = at;
        self.moved = true;
        self.current = false;
    }

    fn subject(&self, _desk: &Desk) -> Option<Subject> {
        let open = self.open.as_ref().and_then(|open| open.kept);
        let chosen = || self.chosen().map(|page| page.plan.id);
        open.or_else(chosen).map(Subject::Plan)
    }

    fn headline(&self, desk: &Desk) -> String {
        match &self.mixing {
            Some(mixing) => mixing::headline(mixing, desk),
            None => next::headline(self, desk),
        }
    }

    fn view(&self, desk: &Desk, frame: &mut Frame<'_>, area: Rect) {
        match &self.mixing {
            Some(mixing) => mixing::view(mixing, desk, frame, area),
            None => view::view(self, desk, frame, area),
        }
    }
}

impl Hands for Plan {
    type Wish = Wish;
    type Ask = Ask;
    type Deed = Deed;

    fn update(&mut self, wish: Wish, desk: &mut Desk) -> Option<Next<Ask, Deed>> {
        update::update(self, wish, desk)
    }

    fn changed(&self, ask: &Ask, form: &mut Form, desk: &Desk) -> Option<Deed> {
        match forms::asked(*ask, form, desk) {
            Ok(asked) => Some(Deed::Draft(Box::new(asked))),
            // What followed from other words would be taken for what follows from these.
            Err(_) => {
                form.aside = vec!["What follows is told once every field can be read.".to_owned()];
                None
            }
        }
    }

    fn check(&self, ask: &Ask, form: &Form, desk: &Desk) -> Result<(), Fault> {
        forms::asked(*ask, form, desk).map(drop)
    }

    fn keep(&mut self, ask: &Ask, form: &Form, desk: &mut Desk) -> Result<Option<Deed>, Fault> {
        let asked = forms::asked(*ask, form, desk)?;
        Ok(Some(Deed::Work(Box::new(asked))))
    }

    fn perform(&mut self, studio: &mut Studio, deed: Deed, desk: &mut Desk) -> Answer<Outcome> {
        deeds::perform(self, studio, deed, desk)
    }
}
