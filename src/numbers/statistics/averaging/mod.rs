//! What goes with good pours: all models of up to three factors, weighed by what the pours say of each.
//!
//! Nothing is chosen by looking. A model is an intercept, time (always in), a random effect of the session and at most
//! three factors; its evidence is Laplace's for a share and exact for a measure. Columns stand on two standard
//! deviations (Gelman, Statistics in Medicine 27:2865, 2008), the number of factors is beta-binomial (Scott and Berger,
//! Annals of Statistics 38:2587, 2010), and a factor is spoken of where the models that hold it weigh over one half
//! (the median model: Barbieri and Berger, Annals of Statistics 32:870, 2004). Formulas from memory, calibrated on
//! simulated studios in `benches/truth`.

mod columns;
mod measures;
mod mixture;
mod models;
mod shares;
#[cfg(test)]
mod tests;
mod told;

use super::findings::{Basis, Choice, Factor, LEAST_OF_EACH, LEAST_ROWS, Observation};
use super::proportion::Interval;
use columns::{Columns, Pours};
use measures::Measures;
use models::Weighed;
use shares::Shares;

/// What a pour is judged by.
#[derive(Debug, Clone, PartialEq)]
pub enum Outcome {
    /// Good, or not.
    Good,
    /// The painter's grade of the cells, 0 to 5.
    Score,
    /// Something measured, one value a row in its unit; a pour without it is left out.
    Measured(Vec<Option<f64>>),
}

/// What is believed of one factor, or of several that cannot be told apart.
#[derive(Debug, Clone, PartialEq)]
pub struct Belief {
    /// The places of the factor and of its twins in the list of factors, the likeliest first.
    pub places: Vec<usize>,
    /// The chance that it matters: the weight of all models that hold it or a twin.
    pub inclusion: f64,
    /// What it does, over all models: where it is in none it does nothing.
    pub effect: Effect,
}

/// What a step of a factor does, averaged over all models.
#[derive(Debug, Clone, PartialEq)]
pub struct Effect {
    /// The step.
    pub step: Step,
    /// The odds ratio of a good pour; the difference in the outcome's unit for a score or a measure.
    pub value: f64,
    /// Its 95 % interval; holds "none" (1, or 0) as far as the factor may not matter.
    pub interval: Interval,
    /// The difference in the share of good pours from the usual share, 0 to 1 either way; the value itself for a measure.
    pub strength: f64,
}

/// From what to what an effect is told.
#[derive(Debug, Clone, PartialEq)]
pub enum Step {
    /// So much more, in the factor's unit: two standard deviations, or the distance of its two values.
    More(f64),
    /// This instead of that.
    Instead(Choice, Choice),
}

/// Why a factor is not weighed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lack {
    /// It is written down on so many pours only.
    Written(usize),
    /// Whether it was written down goes with how the pour came out; so many have it.
    WrittenByOutcome(usize),
    /// It was the same on every pour.
    Same,
    /// Its words are too many for so few pours.
    Words,
    /// By itself it says less than the others, of which no more can be weighed.
    Crowd,
}

/// All that was weighed.
#[derive(Debug, Clone, PartialEq)]
pub struct Averaged {
    /// The pours it rests on.
    pub pours: usize,
    /// The sessions they were poured in.
    pub sessions: usize,
    /// How many models were weighed.
    pub models: usize,
    /// What is believed of each factor, the surest first.
    pub beliefs: Vec<Belief>,
    /// What was left out, by its place, and why.
    pub left_out: Vec<(usize, Lack)>,
}

/// Why nothing can be weighed yet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TooEarly {
    /// So many pours, of the number that is needed.
    Pours(usize, usize),
    /// So many good pours and so many others: a few of each are needed.
    OneSided(usize, usize),
    /// Every pour has the same outcome.
    Alike,
    /// No factor was written down often enough.
    NoFactor,
}

/// A factor that is likelier than this to matter is spoken of.
pub const SAID: f64 = 0.5;

impl Belief {
    /// Whether it is spoken of: likelier to matter than not.
    #[must_use]
    pub fn is_said(&self) -> bool {
        self.inclusion > SAID
    }
}

impl Averaged {
    /// What it rests on.
    #[must_use]
    pub const fn basis(&self) -> Basis {
        Basis {
            pours: self.pours,
            sessions: self.sessions,
            models: self.models,
        }
    }
}

/// Weighs all factors. `hours` is when each row was poured; pours less than six hours apart are one session.
///
/// # Errors
/// [`TooEarly`] where the pours say nothing yet.
pub fn average(
    factors: &[Factor],
    rows: &[Observation],
    hours: &[f64],
    outcome: &Outcome,
) -> Result<Averaged, TooEarly> {
    let pours = Pours::of(rows, hours, outcome);
    enough(&pours)?;
    let columns = Columns::of(factors, &pours);
    if columns.blocks.is_empty() {
        return Err(TooEarly::NoFactor);
    }
    let weighed = match pours.by_share {
        true => models::weigh(&columns, &Shares::new(&pours, &columns.all)),
        false => models::weigh(&columns, &Measures::new(&pours, &columns.all)),
    };
    Ok(averaged(&pours, columns, &weighed))
}

fn enough(pours: &Pours<'_>) -> Result<(), TooEarly> {
    let n = pours.y.len();
    if n < LEAST_ROWS {
        return Err(TooEarly::Pours(n, LEAST_ROWS));
    }
    let good = pours.y.iter().filter(|y| **y > 0.5).count();
    if pours.by_share && good.min(n - good) < LEAST_OF_EACH {
        return Err(TooEarly::OneSided(good, n - good));
    }
    let alike = pours.y.iter().all(|y| *y == pours.y[0]);
    if alike { Err(TooEarly::Alike) } else { Ok(()) }
}

fn averaged(pours: &Pours<'_>, columns: Columns, weighed: &Weighed) -> Averaged {
    let groups = columns.groups(&weighed.kept);
    let belief = |group: &Vec<usize>| told::belief(pours, &columns, weighed, group);
    let mut beliefs: Vec<Belief> = groups.iter().map(belief).collect();
    beliefs.sort_by(|a, b| b.inclusion.total_cmp(&a.inclusion));
    let crowd = (0..columns.blocks.len()).filter(|at| !weighed.kept.contains(at));
    let crowd = crowd.map(|at| (columns.blocks[at].place, Lack::Crowd));
    let mut left_out: Vec<(usize, Lack)> = crowd.chain(columns.left_out.clone()).collect();
    left_out.sort_by_key(|one| one.0);
    Averaged {
        pours: pours.y.len(),
        sessions: pours.sessions.len(),
        models: weighed.models.len(),
        beliefs,
        left_out,
    }
}
