//! Plan: paint for a panel and when to begin it, plans that were kept, and what became of them.

mod deeds;
mod forms;
mod keys;
mod next;
mod sheet;
mod timeline;
mod update;
mod view;

pub use deeds::{Deed, Told, perform, take};
pub use forms::{changed, keep};
pub use keys::KEYS;
pub use next::headline;
pub use update::{order_like, update};
pub use view::view;

use crate::screen::kit::step::Step;
use crate::screen::shell::effect::words;
use crate::studio::{Answer, PlanOrder, PlanPage, PlanSheet, PourPage, Studio, StudioError};
use crate::trade::instant::Now;
use crate::trade::panel::Panel;
use chrono::TimeDelta;

/// How far back the last pour is looked for first.
const LATELY: TimeDelta = TimeDelta::days(90);

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
    /// Only another line was chosen since it was read.
    moved: bool,
    /// Whether it is as the store has it.
    pub fresh: bool,
}

/// A sheet that is looked at.
#[derive(Debug, Clone)]
pub struct Sheet {
    /// What was asked.
    pub order: PlanOrder,
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

/// What was poured last.
#[derive(Debug, Clone, Default)]
pub struct Usual {
    /// On what.
    pub panel: Option<Panel>,
    /// How.
    pub way: Option<String>,
    /// The recipes, lowest layer first.
    pub recipes: Vec<String>,
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
}

/// Which form of the Plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ask {
    /// What is to be painted, and when.
    Order,
}

impl Plan {
    /// Another plan; or the sheet further on.
    pub fn step(&mut self, step: Step) {
        if let Some(open) = &mut self.open {
            open.from = step.from(open.from, sheet::most_lines(&open.worked));
            return;
        }
        self.at = step.from(self.at, self.kept.len());
        self.moved = true;
        self.fresh = false;
    }

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

    /// Reads it again.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn reread(&mut self, studio: &Studio, now: &Now) -> Answer<()> {
        if !std::mem::take(&mut self.moved) {
            self.reread_all(studio, now)?;
        }
        self.chosen_sheet = match self.chosen() {
            Some(page) => studio.kept_sheet(page.plan.id, now)?,
            None => None,
        };
        self.fresh = true;
        Ok(())
    }

    fn reread_all(&mut self, studio: &Studio, now: &Now) -> Answer<()> {
        let was = self
            .wanted
            .take()
            .or(self.chosen().map(|page| page.plan.id));
        self.kept = studio.plans()?;
        let place = self.kept.iter().position(|page| Some(page.plan.id) == was);
        self.at = place.unwrap_or(0);
        self.usual = usual(studio, &self.kept, now)?;
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
    /// Works a draft out anew; a kept plan's sheet is left as it was opened.
    fn work(&mut self, studio: &Studio, now: &Now) -> Answer<()> {
        if self.kept.is_some() {
            return Ok(());
        }
        match studio.plan(&self.order, now) {
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

impl Usual {
    /// What a pour was.
    pub fn of(page: &PourPage) -> Self {
        let titles = page.layers.iter().map(|(_, title)| title.as_str());
        Self {
            panel: Some(page.pour.panel),
            way: page.pour.way.clone(),
            recipes: recipes(titles),
        }
    }
}

/// The last pour's panel, way and recipes; the newest plan's where nothing was poured yet.
fn usual(studio: &Studio, kept: &[PlanPage], now: &Now) -> Answer<Usual> {
    let lately = studio.pours(Some(now.at - LATELY))?.into_iter().next();
    let last = match lately {
        Some(page) => Some(page),
        None => studio.pours(None)?.into_iter().next(),
    };
    let poured = last.as_ref().map(Usual::of);
    let planned = kept.first().map(|page| Usual {
        panel: Some(page.plan.panels.panel),
        way: page.plan.way.clone(),
        recipes: recipes(page.cups.iter().map(|line| line.title.as_str())),
    });
    Ok(poured.or(planned).unwrap_or_default())
}

/// The recipe's name in `River blue v2`.
fn recipe_of(title: &str) -> &str {
    title.rsplit_once(" v").map_or(title, |(name, _)| name)
}

/// The recipes of variants, each once, in their order.
fn recipes<'a>(titles: impl Iterator<Item = &'a str>) -> Vec<String> {
    let mut recipes: Vec<String> = Vec::new();
    for name in titles.map(recipe_of) {
        if recipes.iter().all(|had| had != name) {
            recipes.push(name.to_owned());
        }
    }
    recipes
}
