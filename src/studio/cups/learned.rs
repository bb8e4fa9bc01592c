//! All that a studio has learned, kept between questions: after a deed only the cups that it touched are read again.

use crate::logbook::{Reader, Touched};
use crate::studio::Answer;
use crate::studio::cups::bench::RecipeBook;
use crate::studio::cups::entered::ClockJump;
use crate::studio::cups::forecast::Forecast;
use crate::studio::cups::mixture::Mixture;
use std::cell::RefCell;
use std::collections::BTreeSet;
use std::sync::Arc;

/// With more rows touched since it is as quick to read all of it anew (ours).
const FEW: usize = 200;

/// Recipes and materials, and what the studio's own readings say of them.
#[derive(Clone)]
pub(crate) struct Learned {
    /// Materials, recipes and variants.
    pub(crate) mixture: Mixture,
    /// What the models expect.
    pub(crate) forecast: Forecast,
    /// How the clock was put right in this session.
    pub(crate) jumps: Vec<ClockJump>,
}

impl Learned {
    /// Reads all of it.
    pub(crate) fn read(read: &Reader<'_>) -> Answer<Self> {
        let mixture = Mixture::read(read)?;
        let forecast = Forecast::learn(read, &mixture)?;
        Ok(Self {
            mixture,
            forecast,
            jumps: Vec::new(),
        })
    }

    /// Recipes and variants.
    pub(crate) const fn cards(&self) -> &RecipeBook {
        &self.mixture.cards
    }

    /// The same with what a cup's entries say now, which within a commit bear no change's number yet.
    pub(crate) fn knowing(&self, read: &Reader<'_>, cup: i64) -> Answer<Self> {
        let mut learned = self.clone();
        let touched = BTreeSet::from([cup]);
        learned
            .forecast
            .read_again(read, &learned.mixture, &touched)?;
        Ok(learned)
    }

    /// Learns what was written since a change.
    fn renew(&mut self, read: &Reader<'_>, since: i64) -> Answer<()> {
        let touched = read.touched_after(since, FEW)?;
        let Some(touched) = touched.filter(|all| !all.iter().any(changes_a_card)) else {
            *self = Self::read(read)?;
            return Ok(());
        };
        let cups: BTreeSet<i64> = touched.into_iter().flat_map(|one| one.cups).collect();
        self.forecast.read_again(read, &self.mixture, &cups)
    }
}

fn changes_a_card(touched: &Touched) -> bool {
    matches!(
        touched.table.as_str(),
        "material" | "recipe" | "variant" | "part" | "setting"
    )
}

/// What was learned, and the newest change it was learned from.
#[derive(Default)]
pub(crate) struct Memory {
    learned: RefCell<Option<(i64, Arc<Learned>)>>,
    jumps: RefCell<Vec<ClockJump>>,
}

impl Memory {
    /// All that was learned up to what `read` shows. Within a commit it must be asked before anything is written:
    /// what is written there bears no number yet.
    pub(crate) fn recall(&self, read: &Reader<'_>) -> Answer<Arc<Learned>> {
        let newest = read.newest_change()?;
        // Taken out first: where reading fails half way, nothing half renewed is kept.
        let kept = self.learned.take();
        let mut learned = match kept {
            // Rows that came in without a history leave no number: then nothing is known to be as it was.
            Some((at, learned)) if at == newest && newest > 0 => learned,
            Some((at, mut learned)) if at < newest && at > 0 => {
                Arc::make_mut(&mut learned).renew(read, at)?;
                learned
            }
            _ => Arc::new(Learned::read(read)?),
        };
        let jumps = self.jumps.borrow();
        if learned.jumps != *jumps {
            Arc::make_mut(&mut learned).jumps.clone_from(&jumps);
        }
        self.learned.replace(Some((newest, Arc::clone(&learned))));
        Ok(learned)
    }

    /// Forgets all of it, before rows come in that bear no change's number.
    pub(crate) fn forget(&self) {
        self.learned.take();
    }

    /// Keeps in mind how the clock was put right.
    pub(crate) fn jumped(&self, jump: ClockJump) {
        self.jumps.borrow_mut().push(jump);
    }
}
