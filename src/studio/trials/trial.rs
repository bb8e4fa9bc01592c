//! Trials: a planned set of pours that varies chosen things on purpose, in an order drawn by lot.

use crate::logbook::Reader;
use crate::numbers::statistics::curves::{self, Layout};
use crate::numbers::statistics::factorial::{
    Alias, Design, DesignError, Generator, PlannedRun, Resolution,
};
use crate::studio::orders::TrialOrder;
use crate::studio::{Answer, Limit, Refusal, Studio, lookup};
use crate::trade::act::Act;
use crate::trade::instant::Now;
use crate::trade::judgement;
use crate::trade::moment::Moment;
use crate::trade::trial::{Level, Trial, TrialFactor, TrialRun};

/// More centre runs than this in each block are no trial of the corners any more.
const MOST_CENTRES: usize = 8;
/// A curve has so many centre runs a day unless more or fewer are asked for (common practice, no source).
const CENTRES_OF_A_CURVE: usize = 3;

/// A trial as it stands.
#[derive(Debug, Clone, PartialEq)]
pub struct TrialPage {
    /// Its number.
    pub id: i64,
    /// When it was designed.
    pub at: Moment,
    /// What its order was drawn with.
    pub seed: u64,
    /// Whether settings are hidden until every run is judged or given up.
    pub blind: bool,
    /// What it is to find out.
    pub note: Option<String>,
    /// What is varied.
    pub factors: Vec<TrialFactor>,
    /// The runs in the order they are to be poured in.
    pub runs: Vec<TrialLine>,
    /// The layout that a curve is read from, where it has one.
    pub curve: Option<Layout>,
    /// How sharp it is; none where the runs are of no known layout.
    pub resolution: Option<Resolution>,
    /// How the last factors are set by the first.
    pub generators: Vec<Generator>,
    /// What cannot be told apart.
    pub aliases: Vec<Alias>,
}

/// One run of a trial as it stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TrialLine {
    /// Its number, from 1.
    pub run: usize,
    /// The day's block it belongs to, from 1.
    pub block: u32,
    /// One level a factor; none where it is hidden.
    pub levels: Option<Vec<Level>>,
    /// The pour it was done with.
    pub pour: Option<i64>,
    /// The cells of the judgement that counts.
    pub cells: Option<u8>,
    /// Why it was given up; none where it was not, or was judged after all.
    pub given_up: Option<String>,
}

impl TrialLine {
    /// Whether nothing more is to be done with it.
    #[must_use]
    pub const fn is_over(&self) -> bool {
        self.cells.is_some() || self.given_up.is_some()
    }
}

impl TrialPage {
    /// How many runs have their pour.
    #[must_use]
    pub fn done(&self) -> usize {
        self.runs.iter().filter(|run| run.pour.is_some()).count()
    }

    /// How many runs were judged.
    #[must_use]
    pub fn judged(&self) -> usize {
        self.runs.iter().filter(|run| run.cells.is_some()).count()
    }

    /// How many runs were given up.
    #[must_use]
    pub fn given_up(&self) -> usize {
        let given_up = |run: &&TrialLine| run.given_up.is_some();
        self.runs.iter().filter(given_up).count()
    }

    /// Whether every run is judged or given up.
    #[must_use]
    pub fn is_over(&self) -> bool {
        self.runs.iter().all(TrialLine::is_over)
    }

    /// The run that is to be poured next.
    #[must_use]
    pub fn next(&self) -> Option<usize> {
        let to_do = |run: &&TrialLine| run.pour.is_none() && run.given_up.is_none();
        self.runs.iter().find(to_do).map(|line| line.run)
    }

    /// The first run that is poured and waits to be judged.
    #[must_use]
    pub fn to_judge(&self) -> Option<&TrialLine> {
        let waits = |run: &&TrialLine| run.pour.is_some() && !run.is_over();
        self.runs.iter().find(waits)
    }

    /// A run by its number.
    #[must_use]
    pub fn run(&self, number: usize) -> Option<&TrialLine> {
        self.runs.iter().find(|line| line.run == number)
    }

    /// A run's settings in the painter's words, one a factor; none where they are hidden.
    #[must_use]
    pub fn settings(&self, run: &TrialLine) -> Option<Vec<String>> {
        let both = self.factors.iter().zip(run.levels.as_ref()?);
        Some(both.map(|(factor, level)| factor.at(*level)).collect())
    }

    fn hidden(mut self) -> Self {
        self.runs.iter_mut().for_each(|run| run.levels = None);
        self
    }

    /// Its resolution, where that still holds: runs that were given up take it away.
    #[must_use]
    pub fn resolution_left(&self) -> Option<Resolution> {
        self.resolution.filter(|_| self.given_up() == 0)
    }
}

/// Which settings are shown.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(in crate::studio) enum Sight {
    /// Those a blind trial does not hide.
    Blind,
    /// All.
    Open,
}

impl Studio {
    /// Designs a trial and keeps it.
    ///
    /// # Errors
    /// Where a factor cannot be read, or what is asked for fits no design.
    pub fn design_trial(&mut self, order: &TrialOrder, now: &Now) -> Answer<TrialPage> {
        let trial = designed(order, now)?;
        self.book.commit_as(now.at.into(), |write| {
            let (id, runs) = (write.add_trial(&trial)?, trial.runs.len());
            let page = page(&write.read(), Trial { id, ..trial }, Sight::Blind)?;
            Ok((page, Act::Designed { trial: id, runs }))
        })
    }

    /// Every trial, newest first.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn trials(&self) -> Answer<Vec<TrialPage>> {
        let read = self.book.read()?;
        let trials = read.trials()?.into_iter();
        trials
            .map(|trial| page(&read, trial, Sight::Blind))
            .collect()
    }

    /// One trial; a blind one hides its settings until every run is judged or given up.
    ///
    /// # Errors
    /// Where there is no such trial.
    pub fn trial_page(&self, trial: i64) -> Answer<TrialPage> {
        let read = self.book.read()?;
        page(&read, kept(&read, trial)?, Sight::Blind)
    }

    /// One trial with nothing hidden: for the hand that mixes, not for the eye that judges.
    ///
    /// # Errors
    /// Where there is no such trial.
    pub fn trial_page_open(&self, trial: i64) -> Answer<TrialPage> {
        let read = self.book.read()?;
        page(&read, kept(&read, trial)?, Sight::Open)
    }
}

/// A trial by its number.
pub(in crate::studio) fn kept(read: &Reader<'_>, trial: i64) -> Answer<Trial> {
    Ok(read.trial(trial)?.ok_or(Refusal::NoTrial(trial))?)
}

/// A trial with its pours and judgements.
pub(in crate::studio) fn page(read: &Reader<'_>, trial: Trial, sight: Sight) -> Answer<TrialPage> {
    let mut runs = Vec::new();
    for (number, run) in (1..).zip(&trial.runs) {
        let judgements = run.pour.map(|pour| read.judgements(pour)).transpose()?;
        let counts = judgements.as_deref().and_then(judgement::counting);
        runs.push(line(number, run, counts.map(|one| one.cells)));
    }
    let page = page_of(trial, runs);
    let hidden = page.blind && sight == Sight::Blind && !page.is_over();
    Ok(if hidden { page.hidden() } else { page })
}

fn line(number: usize, run: &TrialRun, cells: Option<u8>) -> TrialLine {
    TrialLine {
        run: number,
        block: run.block,
        levels: Some(run.levels.clone()),
        pour: run.pour,
        cells,
        given_up: run.given_up.clone().filter(|_| cells.is_none()),
    }
}

fn page_of(trial: Trial, runs: Vec<TrialLine>) -> TrialPage {
    let design = layout(&trial);
    TrialPage {
        curve: curves::layout(&planned(&trial)),
        id: trial.id,
        at: trial.at,
        seed: trial.seed,
        blind: trial.blind,
        runs,
        resolution: design.as_ref().map(Design::sharpness),
        generators: design.as_ref().map_or_else(Vec::new, Design::generators),
        aliases: design.as_ref().map_or_else(Vec::new, Design::aliases),
        note: trial.note,
        factors: trial.factors,
    }
}

/// A trial's runs, as they were planned.
pub(in crate::studio) fn planned(trial: &Trial) -> Vec<PlannedRun> {
    let one = |run: &TrialRun| PlannedRun {
        block: run.block,
        levels: run.levels.clone(),
    };
    trial.runs.iter().map(one).collect()
}

// Only numbers are kept of a design. It is drawn again, and believed only where it gives the same runs: a trial
// that was taken in from elsewhere may be laid out otherwise.
fn layout(trial: &Trial) -> Option<Design> {
    let halfway = |run: &&TrialRun| run.levels.contains(&Level::Middle);
    let centres = trial.runs.iter().filter(halfway).count();
    let blocks = trial.runs.iter().map(|run| run.block).max()?;
    let corners = trial.runs.len() - centres;
    let centres = centres.checked_div(blocks as usize)?;
    let design = Design::plan(trial.factors.len(), corners, blocks, centres, trial.seed).ok()?;
    (design.runs == planned(trial)).then_some(design)
}

/// A trial as it would be laid out; nothing is kept.
///
/// # Errors
/// As [`Studio::design_trial`].
pub fn sketch_trial(order: &TrialOrder, now: &Now) -> Answer<TrialPage> {
    let trial = designed(order, now)?;
    let runs = (1..).zip(&trial.runs);
    let runs = runs.map(|(number, run)| line(number, run, None)).collect();
    Ok(page_of(trial, runs))
}

fn designed(order: &TrialOrder, now: &Now) -> Answer<Trial> {
    let factors = order.factors.iter().map(sound);
    let factors = factors.collect::<Answer<Vec<_>>>()?;
    refuse_twice(&factors)?;
    let unsaid = order.curve.map_or(0, |_| CENTRES_OF_A_CURVE);
    let centres = order.centres.unwrap_or(unsaid);
    if centres > MOST_CENTRES {
        return Err(Refusal::Range(Limit::Centres).into());
    }
    let drawn_now = u64::try_from(now.at.timestamp_millis()).unwrap_or(0);
    let seed = order.seed.unwrap_or(drawn_now);
    if i64::try_from(seed).is_err() {
        return Err(Refusal::Range(Limit::Seed).into());
    }
    let runs = laid_out(order, centres, seed).map_err(Refusal::Design)?;
    let run = |run: PlannedRun| TrialRun {
        block: run.block,
        levels: run.levels,
        pour: None,
        given_up: None,
    };
    Ok(Trial {
        id: 0,
        at: now.at,
        seed,
        blind: order.blind,
        factors,
        runs: runs.into_iter().map(run).collect(),
        note: order.note.clone(),
    })
}

fn laid_out(order: &TrialOrder, centres: usize, seed: u64) -> Result<Vec<PlannedRun>, DesignError> {
    let (factors, days) = (order.factors.len(), order.blocks);
    match order.curve {
        Some(layout) => curves::plan(layout, factors, days, centres, seed),
        None => Ok(Design::plan(factors, order.runs, days, centres, seed)?.runs),
    }
}

/// Reads `rest=12h,24h`, the low setting first.
///
/// # Errors
/// Where it is not a name with two settings.
pub fn read_factor(text: &str) -> Result<TrialFactor, Refusal> {
    let unread = || Refusal::BadFactor(crate::trade::problem::said_back(text));
    let (name, settings) = text.split_once('=').ok_or_else(unread)?;
    let (low, high) = settings.split_once(',').ok_or_else(unread)?;
    if high.contains(',') {
        return Err(unread());
    }
    let [name, low, high] = [name, low, high].map(str::to_owned);
    Ok(TrialFactor { name, low, high })
}

/// A factor with names that can be shown, and two settings that differ.
fn sound(factor: &TrialFactor) -> Answer<TrialFactor> {
    let TrialFactor { name, low, high } = factor;
    let [name, low, high] = [name, low, high].map(|word| lookup::proper_name(word));
    let factor = TrialFactor {
        name: name?,
        low: low?,
        high: high?,
    };
    if same(&factor.low, &factor.high) {
        return Err(Refusal::OneSetting(factor.name).into());
    }
    Ok(factor)
}

fn same(a: &str, b: &str) -> bool {
    a.to_lowercase() == b.to_lowercase()
}

fn refuse_twice(factors: &[TrialFactor]) -> Answer<()> {
    for (place, one) in factors.iter().enumerate() {
        if factors[..place]
            .iter()
            .any(|had| same(&had.name, &one.name))
        {
            return Err(Refusal::FactorTwice(one.name.clone()).into());
        }
    }
    Ok(())
}
