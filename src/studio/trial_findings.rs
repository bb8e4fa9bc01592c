//! What a trial found: effects on the cells with their intervals, and in words what it cannot tell.

use crate::numbers::statistics::effects::{self, Analysis, Effect, ErrorSource};
use crate::studio::trial::{self, Sight, TrialPage};
use crate::studio::{Answer, Refusal, Studio};

/// What a trial found.
#[derive(Debug, Clone, PartialEq)]
pub struct TrialFindings {
    /// The trial as it stands.
    pub page: TrialPage,
    /// The effects in cells; none before every run is judged.
    pub analysis: Option<Analysis>,
    /// All of it in words, the plainest first.
    pub words: Vec<String>,
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
        let cells = page.runs.iter().map(|run| run.cells.map(f64::from));
        let cells: Option<Vec<f64>> = cells.collect();
        let read_out = |cells: Vec<f64>| effects::effects(&planned, &cells);
        let analysis = cells.map(read_out).transpose().map_err(Refusal::Design)?;
        let words = match &analysis {
            Some(analysis) => found(&page, analysis),
            None => too_early(&page),
        };
        Ok(TrialFindings {
            page,
            analysis,
            words,
        })
    }
}

impl TrialFindings {
    /// The names of what is varied.
    #[must_use]
    pub fn names(&self) -> Vec<&str> {
        let factors = self.page.factors.iter();
        factors.map(|one| one.name.as_str()).collect()
    }
}

/// Whether an effect stands clear of chance: its whole interval lies on one side of nothing.
#[must_use]
pub fn stands_clear(effect: &Effect) -> bool {
    effect
        .interval
        .is_some_and(|sure| sure.low > 0.0 || sure.high < 0.0)
}

fn too_early(page: &TrialPage) -> Vec<String> {
    let judged = format!(
        "{} of {} runs are judged: too early",
        page.judged(),
        page.runs.len()
    );
    let unjudged = page.done() - page.judged();
    let waiting = (unjudged > 0).then(|| match unjudged {
        1 => "1 run is poured and waits to be judged".to_owned(),
        more => format!("{more} runs are poured and wait to be judged"),
    });
    let next = page
        .next()
        .map(|run| format!("run {run} is to be poured next"));
    [judged].into_iter().chain(waiting).chain(next).collect()
}

fn found(page: &TrialPage, analysis: &Analysis) -> Vec<String> {
    let names: Vec<&str> = page.factors.iter().map(|one| one.name.as_str()).collect();
    let clear: Vec<&Effect> = analysis
        .effects
        .iter()
        .filter(|effect| stands_clear(effect))
        .collect();
    let mut words: Vec<String> = clear.iter().map(|effect| effect.told(&names)).collect();
    if clear.is_empty() {
        words.push(nothing_clear(analysis).to_owned());
    }
    words.extend(error_words(analysis));
    words.extend(curvature_words(analysis));
    words.extend(page.resolution_words().map(str::to_owned));
    words
}

fn nothing_clear(analysis: &Analysis) -> &'static str {
    if analysis.effects.iter().all(|effect| effect.value == 0.0) {
        return "every setting came out alike";
    }
    match analysis.error {
        Some(_) => "too early to tell: no effect stands clear of chance",
        None => {
            "too early to tell: nothing shows how far chance reaches; repeat runs or add centre runs"
        }
    }
}

fn error_words(analysis: &Analysis) -> Option<String> {
    let (error, _, from) = analysis.error?;
    let from = match from {
        ErrorSource::Repeats => "from runs at the same settings",
        ErrorSource::Lenth => "from the small effects, which are taken to be nothing (Lenth)",
    };
    Some(format!("standard error {error:.2} cells, {from}"))
}

fn curvature_words(analysis: &Analysis) -> Option<String> {
    let (value, interval) = analysis.curvature?;
    let told = format!("halfway: {value:+.2} cells against the mean of the corners");
    Some(match interval {
        Some(sure) => format!("{told} ({:+.2} to {:+.2})", sure.low, sure.high),
        None => told,
    })
}
