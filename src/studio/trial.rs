//! Trials: a planned set of pours that varies chosen things on purpose, in an order drawn by lot.

use crate::logbook::Reader;
use crate::numbers::statistics::factorial::{Design, PlannedRun};
use crate::studio::{Answer, Refusal, Studio, lookup};
use crate::trade::instant::Now;
use crate::trade::judgement;
use crate::trade::moment::Moment;
use crate::trade::trial::{Level, Trial, TrialFactor, TrialRun};

/// More centre runs than this in each block are no trial of the corners any more.
const MOST_CENTRES: usize = 8;

/// A trial to be designed.
#[derive(Debug, Clone, Default)]
pub struct TrialOrder {
    /// What is varied: `rest=12h,24h`, the low setting first.
    pub factors: Vec<String>,
    /// How many pours: 4, 8, 16 or 32, centre runs not counted.
    pub runs: usize,
    /// Over how many days they are spread: 1, 2, 4, ….
    pub blocks: u32,
    /// How many runs with everything halfway are added to each block.
    pub centres: usize,
    /// What the order is drawn with; the present instant otherwise.
    pub seed: Option<u64>,
    /// Whether settings are hidden until a run is judged.
    pub blind: bool,
    /// What it is to find out.
    pub note: Option<String>,
}

/// A trial as it stands.
#[derive(Debug, Clone, PartialEq)]
pub struct TrialPage {
    /// Its number.
    pub id: i64,
    /// When it was designed.
    pub at: Moment,
    /// What its order was drawn with.
    pub seed: u64,
    /// Whether settings are hidden until a run is judged.
    pub blind: bool,
    /// What it is to find out.
    pub note: Option<String>,
    /// What is varied.
    pub factors: Vec<TrialFactor>,
    /// The runs in the order they are to be poured in.
    pub runs: Vec<TrialLine>,
    /// How sharp it is, as usually written: `full`, `III`, `IV`, …; none where the runs are of no known layout.
    pub resolution: Option<&'static str>,
    /// How the last factors are set by the first, in words.
    pub generators: Vec<String>,
    /// What cannot be told apart, in words.
    pub aliases: Vec<String>,
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
}

/// A run that was just done.
#[derive(Debug, Clone, PartialEq)]
pub struct RunDone {
    /// Its number, from 1.
    pub run: usize,
    /// The trial as it stands now.
    pub page: TrialPage,
    /// What a careful painter would want to know.
    pub warnings: Vec<String>,
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

    /// The run that is to be poured next.
    #[must_use]
    pub fn next(&self) -> Option<usize> {
        let next = self.runs.iter().find(|run| run.pour.is_none());
        next.map(|line| line.run)
    }

    /// How sharp it is, in words.
    #[must_use]
    pub fn resolution_words(&self) -> Option<&'static str> {
        Some(match self.resolution? {
            "full" => "every combination is poured: each factor and each pair stands clear",
            "III" => "resolution III: a factor cannot be told from a pair of others",
            "IV" => "resolution IV: factors stand clear, pairs cannot be told from each other",
            _ => "resolution V or more: each factor and each pair stands clear",
        })
    }
}

/// Which settings are shown.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Sight {
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
        let label = format!("designed a trial of {} runs", trial.runs.len());
        self.book.commit(&label, now.at.into(), |write| {
            let id = write.add_trial(&trial)?;
            page(&write.read(), Trial { id, ..trial }, Sight::Blind)
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

    /// One trial; a blind one hides the settings of the runs that are not judged.
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

    /// Says that a run was done with a pour that is written down: the next one, or a named one, counted from 1.
    /// A run may be given another pour until it is judged.
    ///
    /// # Errors
    /// Where there is no such trial, run or pour, the run is judged, or the pour belongs to a run already.
    pub fn do_run(
        &mut self,
        trial: i64,
        pour: i64,
        run: Option<usize>,
        now: &Now,
    ) -> Answer<RunDone> {
        let label = format!("pour {pour} is a run of trial {trial}");
        self.book.commit(&label, now.at.into(), |write| {
            let read = write.read();
            let kept_trial = kept(&read, trial)?;
            let before = page(&read, kept_trial.clone(), Sight::Blind)?;
            let run = free_run(&before, run)?;
            let poured = read.pour(pour)?.ok_or(Refusal::NoPour(pour))?;
            refuse_taken(&read.trials()?, pour)?;
            let warnings = warnings(&before, run, pour, poured.at);
            write.set_run(trial, i64::try_from(run).unwrap_or(0), pour)?;
            let after = page(&write.read(), kept(&write.read(), trial)?, Sight::Blind)?;
            Ok(RunDone {
                run,
                page: after,
                warnings,
            })
        })
    }
}

/// A trial by its number.
pub(super) fn kept(read: &Reader<'_>, trial: i64) -> Answer<Trial> {
    Ok(read.trial(trial)?.ok_or(Refusal::NoTrial(trial))?)
}

/// A trial with its pours and judgements.
pub(super) fn page(read: &Reader<'_>, trial: Trial, sight: Sight) -> Answer<TrialPage> {
    let mut runs = Vec::new();
    for (number, run) in (1..).zip(&trial.runs) {
        let judgements = run.pour.map(|pour| read.judgements(pour)).transpose()?;
        let counts = judgements.as_deref().and_then(judgement::counting);
        let cells = counts.map(|one| one.cells);
        let seen = sight == Sight::Open || !trial.blind || cells.is_some();
        runs.push(TrialLine {
            run: number,
            block: run.block,
            levels: seen.then(|| run.levels.clone()),
            pour: run.pour,
            cells,
        });
    }
    let names: Vec<&str> = trial.factors.iter().map(|one| one.name.as_str()).collect();
    let design = layout(&trial);
    Ok(TrialPage {
        id: trial.id,
        at: trial.at,
        seed: trial.seed,
        blind: trial.blind,
        note: trial.note.clone(),
        runs,
        resolution: design.as_ref().map(Design::resolution_told),
        generators: design
            .as_ref()
            .map_or_else(Vec::new, |d| d.generators(&names)),
        aliases: design.map_or_else(Vec::new, |d| d.aliases(&names)),
        factors: trial.factors,
    })
}

/// A trial's runs, as they were planned.
pub(super) fn planned(trial: &Trial) -> Vec<PlannedRun> {
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

fn designed(order: &TrialOrder, now: &Now) -> Answer<Trial> {
    let factors = order.factors.iter().map(|text| factor(text));
    let factors = factors.collect::<Answer<Vec<_>>>()?;
    refuse_twice(&factors)?;
    let range = |what, range| Refusal::Range { what, range };
    if order.centres > MOST_CENTRES {
        return Err(range("the centre runs of a block", "0 to 8").into());
    }
    let drawn_now = u64::try_from(now.at.timestamp_millis()).unwrap_or(0);
    let seed = order.seed.unwrap_or(drawn_now);
    if i64::try_from(seed).is_err() {
        return Err(range("the seed", "0 to 9223372036854775807").into());
    }
    let design = Design::plan(factors.len(), order.runs, order.blocks, order.centres, seed)
        .map_err(Refusal::Design)?;
    let run = |run: PlannedRun| TrialRun {
        block: run.block,
        levels: run.levels,
        pour: None,
    };
    Ok(Trial {
        id: 0,
        at: now.at,
        seed,
        blind: order.blind,
        factors,
        runs: design.runs.into_iter().map(run).collect(),
        note: order.note.clone(),
    })
}

/// Reads `rest=12h,24h`.
fn factor(text: &str) -> Answer<TrialFactor> {
    let unread = || Refusal::BadFactor(crate::trade::problem::said_back(text));
    let (name, settings) = text.split_once('=').ok_or_else(unread)?;
    let (low, high) = settings.split_once(',').ok_or_else(unread)?;
    if high.contains(',') {
        return Err(unread().into());
    }
    let [name, low, high] = [name, low, high].map(lookup::proper_name);
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

/// The run that was named, if it may still be done; else the next one.
fn free_run(page: &TrialPage, run: Option<usize>) -> Answer<usize> {
    let trial = page.id;
    let refuse = |said: String| Refusal::Run { trial, said };
    let Some(run) = run else {
        let all_done = || refuse(format!("every run of trial {trial} is done"));
        return Ok(page.next().ok_or_else(all_done)?);
    };
    let missing = || refuse(format!("trial {trial} has no run {run}"));
    let line = page.runs.iter().find(|line| line.run == run);
    if line.ok_or_else(missing)?.cells.is_some() {
        return Err(refuse(format!("run {run} of trial {trial} is judged already")).into());
    }
    Ok(run)
}

fn refuse_taken(trials: &[Trial], pour: i64) -> Answer<()> {
    for trial in trials {
        let taken = trial.runs.iter().position(|run| run.pour == Some(pour));
        if let Some(place) = taken {
            let said = format!("pour {pour} is run {} of trial {}", place + 1, trial.id);
            return Err(Refusal::Run {
                trial: trial.id,
                said,
            }
            .into());
        }
    }
    Ok(())
}

fn warnings(before: &TrialPage, run: usize, pour: i64, poured_at: Moment) -> Vec<String> {
    let early = poured_at < before.at;
    let early = early.then(|| {
        format!(
            "pour {pour} was made before the trial was designed: its setting was not drawn by lot"
        )
    });
    let skipped = before.next().filter(|&next| next < run).map(|next| {
        format!("run {next} was to come first: the order was drawn so that the day's drift falls on no setting")
    });
    let other = before.runs.iter().find(|line| line.run == run);
    let instead = other
        .and_then(|line| line.pour)
        .map(|had| format!("run {run} was done with pour {had}; pour {pour} counts instead"));
    early.into_iter().chain(skipped).chain(instead).collect()
}
