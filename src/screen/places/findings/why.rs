//! Why: factors, time, a few factors together, and what to try next, as rows that open.

use super::pairs::Paired;
use super::words::of_tally;
use crate::numbers::statistics::findings::Finding;
use crate::screen::kit::step::Step;
use crate::studio::{DriftPeriod, Findings as Found, Reasons, Suggestion};
use crate::tell;

/// Factors that are shown before time where none of them is a sign.
const NEAREST: usize = 3;

/// What is looked at, and the row in hand.
#[derive(Debug, Default)]
pub struct Why {
    /// What went with good pours; `None` before it was read.
    pub reasons: Option<Reasons>,
    /// The chosen row.
    pub at: usize,
    /// The factor, by name, that is to be set beside another.
    pub first: Option<String>,
    /// Two factors in a table, over the rows.
    pub pair: Option<Paired>,
}

/// One row.
#[derive(Debug, Clone, Copy)]
pub enum Row<'a> {
    /// A thing to try next.
    Next(&'a Suggestion),
    /// A factor.
    Factor(&'a Finding),
    /// A stretch of time.
    Period(&'a DriftPeriod),
}

/// Rows under a heading.
pub struct Part<'a> {
    /// The heading.
    pub title: &'static str,
    /// The rows.
    pub rows: Vec<Row<'a>>,
}

/// Pours under a heading, by their numbers.
#[derive(Debug, Clone, PartialEq)]
pub struct Group {
    /// What they have in common.
    pub title: String,
    /// Their numbers.
    pub pours: Vec<i64>,
}

impl Why {
    /// Everything, what the hands may do first: signs before time, the other factors at the end.
    pub fn parts(&self) -> Vec<Part<'_>> {
        let Some(reasons) = &self.reasons else {
            return Vec::new();
        };
        let (mut near, mut rest): (Vec<_>, Vec<_>) =
            reasons.factors.iter().partition(|one| one.is_said());
        let are_signs = !near.is_empty();
        if !are_signs {
            near = rest.drain(..NEAREST.min(rest.len())).collect();
        }
        let parts = [
            ("to try next", reasons.next.iter().map(Row::Next).collect()),
            (
                match are_signs {
                    true => "matters: ● this, ○ not",
                    false => "nearest to it: ● this, ○ not",
                },
                near.into_iter().map(Row::Factor).collect(),
            ),
            (
                super::words::change(reasons.drift.verdict),
                reasons.drift.periods.iter().map(Row::Period).collect(),
            ),
            ("no sign", rest.into_iter().map(Row::Factor).collect()),
        ];
        let parts = parts.map(|(title, rows)| Part { title, rows });
        let parts = parts.into_iter();
        parts.filter(|part| !part.rows.is_empty()).collect()
    }

    fn rows(&self) -> Vec<Row<'_>> {
        self.parts()
            .into_iter()
            .flat_map(|part| part.rows)
            .collect()
    }

    /// The chosen row.
    pub fn chosen(&self) -> Option<Row<'_>> {
        self.rows().get(self.at).copied()
    }

    /// Another row; of the table, where it lies over them.
    pub fn step(&mut self, step: Step) {
        match &mut self.pair {
            Some(pair) => pair.at = step.from(pair.at, pair.table.cells.len()),
            None => self.at = step.from(self.at, self.rows().len()),
        }
    }

    /// Takes what was read anew; the row in hand stays in hand where it still is.
    pub fn take(&mut self, reasons: Reasons) {
        let was = self.chosen().map(Row::name);
        let pair = self.pair.take();
        self.pair = pair.and_then(|pair| pair.reread(&reasons));
        self.reasons = Some(reasons);
        let rows = self.rows();
        let place = rows.iter().position(|row| Some(row.name()) == was);
        self.at = place.unwrap_or_else(|| self.at.min(rows.len().saturating_sub(1)));
    }

    /// One step back: out of the table, from the mark on a factor. `false` where there is nothing to step back from.
    pub fn back(&mut self) -> bool {
        self.pair.take().is_some() || self.first.take().is_some()
    }

    /// Marks the chosen factor; or, with one marked, sets both in a table.
    ///
    /// # Errors
    /// Where no factor is in hand.
    pub fn beside(&mut self) -> Result<(), &'static str> {
        if self.pair.is_some() {
            return Err("These two are side by side: go back to choose others");
        }
        let Some(Row::Factor(second)) = self.chosen() else {
            return Err("Choose a factor first: it is set beside another one");
        };
        let second = second.name.clone();
        let Some(first) = self.first.take() else {
            self.first = Some(second);
            return Ok(());
        };
        let reasons = self.reasons.as_ref().filter(|_| first != second);
        self.pair = reasons.and_then(|reasons| Paired::of(reasons, &first, &second));
        Ok(())
    }

    /// The pours behind what is chosen, under headings.
    pub fn groups(&self, found: &Found) -> Vec<Group> {
        let Some(reasons) = &self.reasons else {
            return Vec::new();
        };
        if let Some(pair) = &self.pair {
            return pair.group(reasons).into_iter().collect();
        }
        match self.chosen() {
            Some(Row::Next(one)) => of_variant(one, found),
            Some(Row::Factor(one)) => of_factor(one, reasons),
            Some(Row::Period(one)) => vec![Group {
                title: format!("{}: {}", one.name, of_tally(one.tally)),
                pours: one.behind.clone(),
            }],
            None => Vec::new(),
        }
    }
}

impl Row<'_> {
    /// What it is of, to know it by.
    fn name(self) -> String {
        match self {
            Self::Next(one) => format!("next {}", one.kind.word()),
            Self::Factor(one) => format!("factor {}", one.name),
            Self::Period(one) => format!("period {}", one.name),
        }
    }
}

fn of_variant(one: &Suggestion, found: &Found) -> Vec<Group> {
    let own = |row: &&_| -> bool {
        let row: &crate::studio::VariantTally = row;
        row.recipe == one.recipe && row.variant == one.variant
    };
    let row = found.variants.iter().find(own);
    let group = row.map(|row| Group {
        title: format!("{}: {}", super::words::title(row), super::words::of(row)),
        pours: row.behind.clone(),
    });
    group.into_iter().collect()
}

fn of_factor(one: &Finding, reasons: &Reasons) -> Vec<Group> {
    let side = |side: &crate::numbers::statistics::sides::Side| Group {
        title: format!(
            "{} {}: {}",
            one.name,
            tell::findings::side(&side.which),
            of_tally(side.tally)
        ),
        pours: reasons.numbers(&side.rows),
    };
    let missing = Group {
        title: format!("{} was not written down", one.name),
        pours: reasons.numbers(&one.sides.missing),
    };
    let groups = one.sides.each.iter().map(side).chain([missing]);
    groups.filter(|group| !group.pours.is_empty()).collect()
}
