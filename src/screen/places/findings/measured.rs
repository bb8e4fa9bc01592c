//! Looking back by what the photos say: one outcome after another, its variants the surest first, and what went with them.

use crate::screen::kit::step::Step;
use crate::studio::{
    Answer, Asked, MeasuredFindings, MeasuredVariant, OutcomeKind, PourPage, Studio,
};
use crate::trade::instant::Now;
use std::collections::HashMap;

/// An outcome that the camera tells, and what was read of it.
#[derive(Debug)]
pub struct Measured {
    /// Which.
    pub outcome: OutcomeKind,
    /// The chosen row.
    pub at: usize,
    read: Option<Read>,
}

#[derive(Debug)]
struct Read {
    found: MeasuredFindings,
    pages: HashMap<i64, PourPage>,
}

/// What is looked at after an outcome; the first again after the last.
pub fn next(outcome: OutcomeKind) -> OutcomeKind {
    let all = OutcomeKind::ALL.iter().copied();
    let mut after = all.skip_while(|one| *one != outcome).skip(1);
    after.next().unwrap_or(OutcomeKind::Good)
}

impl Measured {
    /// An outcome that is still to be read.
    pub const fn of(outcome: OutcomeKind) -> Self {
        Self {
            outcome,
            at: 0,
            read: None,
        }
    }

    /// Reads it, as the command does; the chosen row stays in hand where it still is.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn reread(&mut self, studio: &Studio, asked: &Asked, now: &Now) -> Answer<()> {
        let name = |row: &MeasuredVariant| (row.recipe.clone(), row.variant);
        let was = self.chosen().map(name);
        let found = studio.measured_findings(asked, self.outcome, now)?;
        let place = found.variants.iter().position(|row| Some(name(row)) == was);
        let pours = studio.pours(asked.window.from)?.into_iter();
        let pages = pours.map(|page| (page.pour.id, page)).collect();
        self.at = place.unwrap_or(0);
        self.read = Some(Read { found, pages });
        Ok(())
    }

    /// What was found; `None` before it was read.
    pub fn found(&self) -> Option<&MeasuredFindings> {
        self.read.as_ref().map(|read| &read.found)
    }

    /// The rows, the surest first.
    pub fn rows(&self) -> &[MeasuredVariant] {
        self.found().map_or(&[], |found| &found.variants)
    }

    /// The chosen row.
    pub fn chosen(&self) -> Option<&MeasuredVariant> {
        self.rows().get(self.at)
    }

    /// The pours behind the chosen row, newest first.
    pub fn behind(&self) -> Vec<&PourPage> {
        let (Some(read), Some(row)) = (&self.read, self.chosen()) else {
            return Vec::new();
        };
        let pages = row.behind.iter();
        pages.filter_map(|pour| read.pages.get(pour)).collect()
    }

    /// Another row.
    pub fn step(&mut self, step: Step) {
        self.at = step.from(self.at, self.rows().len());
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_outcome_follows_the_other_and_the_last_leads_back() {
        let mut seen = vec![OutcomeKind::Good];
        while seen.len() < 7 {
            seen.push(next(seen[seen.len() - 1]));
        }
        let words: Vec<_> = seen.iter().map(|one| one.word()).collect();
        assert_eq!(
            words,
            [
                "good", "cells", "share", "diameter", "evenness", "number", "good"
            ]
        );
    }
}
