//! What a trial found: effects on the cells with their intervals.

use crate::numbers::statistics::effects::{Analysis, Effect};
use crate::numbers::statistics::runs_missing::effects_left;
use crate::studio::trials::trial::{self, Sight, TrialPage};
use crate::studio::trials::trial_curve::TrialCurve;
use crate::studio::{Answer, Refusal, Studio};

/// What a trial found.
#[derive(Debug, Clone, PartialEq)]
pub struct TrialFindings {
    /// The trial as it stands.
    pub page: TrialPage,
    /// The effects in cells; none before every run is judged or given up.
    pub analysis: Option<Analysis>,
    /// The curve, where it was laid out for one and is over.
    pub curve: Option<TrialCurve>,
    /// The effects that were taken as nothing because runs were given up, by their factors.
    pub dropped: Vec<Vec<usize>>,
}

impl Studio {
    /// What a trial found, read from the cells of the judgement that counts of each run.
    ///
    /// # Errors
    /// Where there is no such trial, or its runs are not balanced.
    pub fn trial_findings(&self, trial: i64) -> Answer<TrialFindings> {
        let read = self.book.read()?;
        let kept = trial::kept(&read, trial)?;
        let planned = trial::planned(&kept);
        let page = trial::page(&read, kept, Sight::Blind)?;
        if !page.is_over() {
            return Ok(TrialFindings {
                page,
                analysis: None,
                curve: None,
                dropped: Vec::new(),
            });
        }
        let cells = page.runs.iter().map(|run| run.cells.map(f64::from));
        let cells: Vec<Option<f64>> = cells.collect();
        if page.curve.is_some() {
            let curve = TrialCurve::read(&planned, &cells).map_err(Refusal::Design)?;
            return Ok(TrialFindings {
                page,
                analysis: Some(curve.analysis()),
                curve: Some(curve),
                dropped: Vec::new(),
            });
        }
        let left = effects_left(&planned, &cells).map_err(Refusal::Design)?;
        Ok(TrialFindings {
            page,
            analysis: Some(left.analysis),
            curve: None,
            dropped: left.dropped,
        })
    }
}

impl TrialFindings {
    /// The effects worth drawing: factors and pairs, and of the rest what stands clear of chance.
    #[must_use]
    pub fn shown(&self) -> Vec<&Effect> {
        let effects = self.analysis.iter().flat_map(|all| &all.effects);
        let is_told = |effect: &&Effect| effect.factors.len() <= 2 || stands_clear(effect);
        effects.filter(is_told).collect()
    }

    /// The names of what is varied.
    #[must_use]
    pub fn names(&self) -> Vec<&str> {
        let factors = self.page.factors.iter();
        factors.map(|one| one.name.as_str()).collect()
    }
}

/// Whether an effect stands clear of chance, all that were looked at together.
#[must_use]
pub const fn stands_clear(effect: &Effect) -> bool {
    effect.is_clear
}
