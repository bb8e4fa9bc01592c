//! Names, settings and living cups that every place works with, read again only when something was written.

use crate::studio::{Answer, CupStatus, Settings, Studio, orders};
use crate::tell;
use crate::trade::amount::Measures;
use crate::trade::ids::CupId;
use crate::trade::instant::Now;
use crate::trade::life::State;
use crate::trade::material::MaterialKind;
use crate::trade::moment::Moment;
use crate::trade::recipe::LayerKind;

/// What the studio has.
#[derive(Debug, Default)]
pub struct Known {
    /// Recipes and the layer each is for, by name.
    pub recipes: Vec<(String, LayerKind)>,
    /// Materials and what each is for, by name.
    pub materials: Vec<(String, MaterialKind)>,
    /// What names and marks stand for.
    pub names: orders::Known,
    /// The mark the next cup is given; empty where none is left.
    pub next_mark: String,
    /// The settings; `None` before they were read.
    pub settings: Option<Settings>,
    /// The living cups, the next to act on first.
    pub cups: Vec<CupStatus>,
    /// Whether names and settings are as the store has them.
    names_read: bool,
    /// Whether the cups are.
    cups_read: bool,
    /// When the cups were read last.
    read_at: Option<Moment>,
}

/// Whether a cup in this state wants a hand now.
pub const fn wants_a_hand(state: State) -> bool {
    matches!(state, State::Thick | State::Thin | State::Look)
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

impl Known {
    /// All of it may have changed in the store.
    pub const fn mark_stale(&mut self) {
        self.names_read = false;
        self.cups_read = false;
    }

    /// Cups may have turned.
    pub const fn mark_cups_stale(&mut self) {
        self.cups_read = false;
    }

    /// Reads again what is not as the store has it; answers which cups turned by themselves since.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn reread(&mut self, studio: &Studio, now: &Now) -> Answer<Vec<Turned>> {
        if !self.names_read {
            self.reread_names(studio)?;
        }
        if self.cups_read {
            return Ok(Vec::new());
        }
        let cups = studio.bench(now)?;
        let turned = cups.iter().filter_map(|cup| self.turned(cup, now));
        let turned = turned.collect();
        self.cups = cups;
        self.read_at = Some(now.at);
        self.names = studio.known([])?;
        self.cups_read = true;
        Ok(turned)
    }

    fn reread_names(&mut self, studio: &Studio) -> Answer<()> {
        let recipes = studio.recipes()?.into_iter();
        let offered = recipes.filter(|page| !page.recipe.retired);
        self.recipes = offered
            .map(|page| (page.recipe.name, page.recipe.layer))
            .collect();
        let materials = studio.materials()?.into_iter();
        let offered = materials.filter(|one| !one.retired);
        self.materials = offered.map(|one| (one.name, one.kind)).collect();
        self.next_mark = studio
            .next_mark()
            .map(|mark| mark.to_string())
            .unwrap_or_default();
        self.settings = Some(studio.settings()?);
        self.names_read = true;
        Ok(())
    }

    fn turned(&self, cup: &CupStatus, now: &Now) -> Option<Turned> {
        let before = self.cups.iter().find(|one| one.cup.id == cup.cup.id)?;
        let due = before.turns_at().is_some_and(|at| at <= now.at);
        (due && before.state != cup.state).then(|| Turned {
            mark: cup.cup.mark.to_string(),
            state: cup.state,
            why: tell::words(cup, self.names.measures(), now),
        })
    }

    /// The next instant at which a cup turns by itself. What should have turned before the cups were read is as it was read: nothing
    /// more is waited for.
    pub fn turns_at(&self) -> Option<Moment> {
        let turns = self.cups.iter().filter_map(CupStatus::turns_at);
        turns.filter(|at| Some(*at) >= self.read_at).min()
    }

    /// The living cup with a mark.
    pub fn cup(&self, mark: &str) -> Option<&CupStatus> {
        let mut cups = self.cups.iter();
        cups.find(|one| one.cup.mark.as_str().eq_ignore_ascii_case(mark))
    }

    /// A living cup.
    pub fn cup_of(&self, id: CupId) -> Option<&CupStatus> {
        self.cups.iter().find(|one| one.cup.id == id.0)
    }

    /// The cup that was mixed last, of those that live.
    pub fn newest_cup(&self) -> Option<&CupStatus> {
        self.cups.iter().max_by_key(|standing| standing.cup.id)
    }

    /// Whether the cups are as the store has them: not where they could not be read.
    pub const fn has_read_cups(&self) -> bool {
        self.cups_read
    }

    /// Whether nothing was ever written down: no recipe and no cup.
    pub const fn is_new(&self) -> bool {
        self.cups.is_empty() && self.recipes.is_empty()
    }

    /// Whether the studio is the demo's.
    pub fn is_examples(&self) -> bool {
        self.settings.as_ref().is_some_and(|one| one.examples)
    }

    /// Metric or US customary.
    pub fn measures(&self) -> Measures {
        self.settings
            .as_ref()
            .map_or(Measures::Metric, |settings| settings.measures)
    }

    /// The recipes' names.
    pub fn recipe_names(&self) -> Vec<String> {
        self.recipes.iter().map(|(name, _)| name.clone()).collect()
    }

    /// The thinners' names.
    pub fn thinners(&self) -> Vec<String> {
        let thinners = self.materials.iter();
        thinners
            .filter(|(_, kind)| *kind == MaterialKind::Thinner)
            .map(|(name, _)| name.clone())
            .collect()
    }
}
