//! What becomes of a trial's runs: each is done with a pour, or given up with a reason.

use crate::logbook::{Reader, Writer};
use crate::studio::trials::trial::{Sight, TrialPage, kept, page};
use crate::studio::{
    Answer, PourOrder, Poured, Refusal, Remarks, RunFault, Studio, StudioError, Warning,
    pours::pour,
};
use crate::trade::act::Act;
use crate::trade::instant::Now;
use crate::trade::moment::Moment;
use crate::trade::trial::{Trial, TrialRun};

/// A run that was just done or given up.
#[derive(Debug, Clone)]
pub struct RunDone {
    /// Its number, from 1.
    pub run: usize,
    /// The trial as it stands now.
    pub page: TrialPage,
    /// What a careful painter would want to know.
    pub remarks: Remarks,
}

impl Studio {
    /// Says that a run was done with a pour that is written down: the next one, or a named one, counted from 1.
    /// A run may be given another pour until it is judged, and a run that was given up may be done after all.
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
        self.book.commit_as(now.at.into(), |write| {
            let done = link(write, trial, pour, run)?;
            let run = done.run;
            Ok((done, Act::RunDone { trial, run, pour }))
        })
    }

    /// Pours for a run of a trial, as one change. The pour stands though the trial refuses it; that is warned of.
    ///
    /// # Errors
    /// As [`Studio::pour`].
    pub fn pour_run(
        &mut self,
        order: &PourOrder,
        (trial, run): (i64, usize),
        now: &Now,
    ) -> Answer<Poured> {
        let memory = &self.memory;
        self.book.commit_as(now.at.into(), |write| {
            let learned = memory.recall(&write.read())?;
            let mut poured = pour::first_go(write, &learned, order, now)?;
            match link(write, trial, poured.pour.id, Some(run)) {
                Ok(done) => poured.remarks.warnings.extend(done.remarks.warnings),
                Err(StudioError::Refused(why)) => {
                    let why = Box::new(why);
                    let odd = Warning::NotTheRun { trial, run, why };
                    poured.remarks.warnings.push(odd);
                }
                Err(error) => return Err(error),
            }
            let act = Act::Poured {
                pour: poured.pour.id,
                panel: poured.pour.panel,
                run: Some((trial, run)),
            };
            Ok((poured, act))
        })
    }

    /// Gives a run up that cannot be judged, with the reason, so that its trial can end. It keeps its pour.
    ///
    /// # Errors
    /// Where there is no such trial or run, no reason is given, or the run is judged or given up already.
    pub fn skip_run(&mut self, trial: i64, run: usize, why: &str, now: &Now) -> Answer<RunDone> {
        self.book.commit_as(now.at.into(), |write| {
            let read = write.read();
            let kept_trial = kept(&read, trial)?;
            let before = page(&read, kept_trial.clone(), Sight::Blind)?;
            let run = free_run(&before, Some(run))?;
            let refuse = |fault| Refusal::Run { trial, fault };
            if before.run(run).is_some_and(|line| line.given_up.is_some()) {
                return Err(refuse(RunFault::GivenUp(run)).into());
            }
            if why.trim().is_empty() {
                return Err(refuse(RunFault::NoReason).into());
            }
            let skipped = TrialRun {
                given_up: Some(why.trim().to_owned()),
                ..planned(&kept_trial, run)?
            };
            write.set_run(trial, place(run), &skipped)?;
            let after = page(&write.read(), kept(&write.read(), trial)?, Sight::Blind)?;
            let done = RunDone {
                run,
                page: after,
                remarks: Remarks::default(),
            };
            Ok((done, Act::RunGivenUp { trial, run }))
        })
    }

    /// The trial and its run that a pour was done for, if it is one that waits to be judged.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn open_run_of(&self, pour: i64) -> Answer<Option<(i64, usize)>> {
        open_run(&self.book.read()?, pour)
    }
}

/// Says within a change that a run was done with a pour.
fn link(write: &mut Writer<'_>, trial: i64, pour: i64, run: Option<usize>) -> Answer<RunDone> {
    let read = write.read();
    let kept_trial = kept(&read, trial)?;
    let before = page(&read, kept_trial.clone(), Sight::Blind)?;
    let run = free_run(&before, run)?;
    let poured = read.pour(pour)?.ok_or(Refusal::NoPour(pour))?;
    refuse_taken(&read.trials()?, pour)?;
    let warnings = warnings(&before, run, pour, poured.at);
    let done = TrialRun {
        pour: Some(pour),
        given_up: None,
        ..planned(&kept_trial, run)?
    };
    write.set_run(trial, place(run), &done)?;
    let after = page(&write.read(), kept(&write.read(), trial)?, Sight::Blind)?;
    Ok(RunDone {
        run,
        page: after,
        remarks: warnings.into(),
    })
}

/// Lets a start-over take the place of the pour it scrapes, where that is a run that waits to be judged.
pub(in crate::studio) fn follow(write: &mut Writer<'_>, scraped: i64, next: i64) -> Answer<()> {
    if let Some((trial, run)) = open_run(&write.read(), scraped)? {
        link(write, trial, next, Some(run))?;
    }
    Ok(())
}

fn open_run(read: &Reader<'_>, pour: i64) -> Answer<Option<(i64, usize)>> {
    for trial in read.trials()? {
        if trial.runs.iter().all(|run| run.pour != Some(pour)) {
            continue;
        }
        let page = page(read, trial, Sight::Blind)?;
        let mut runs = page.runs.iter();
        let waits = runs.find(|run| run.pour == Some(pour) && !run.is_over());
        return Ok(waits.map(|run| (page.id, run.run)));
    }
    Ok(None)
}

fn place(run: usize) -> i64 {
    i64::try_from(run).unwrap_or(0)
}

fn planned(trial: &Trial, run: usize) -> Answer<TrialRun> {
    let at = run.checked_sub(1).and_then(|place| trial.runs.get(place));
    Ok(at.cloned().ok_or_else(|| missing(trial.id, run))?)
}

fn missing(trial: i64, run: usize) -> Refusal {
    let fault = RunFault::Missing(run);
    Refusal::Run { trial, fault }
}

/// The run that was named, if it may still be done; else the next one.
fn free_run(page: &TrialPage, run: Option<usize>) -> Answer<usize> {
    let trial = page.id;
    let refuse = |fault| Refusal::Run { trial, fault };
    let Some(run) = run else {
        let all_done = || refuse(RunFault::AllDone);
        return Ok(page.next().ok_or_else(all_done)?);
    };
    let line = page.run(run).ok_or_else(|| missing(trial, run))?;
    if line.cells.is_some() {
        return Err(refuse(RunFault::Judged(run)).into());
    }
    Ok(run)
}

fn refuse_taken(trials: &[Trial], pour: i64) -> Answer<()> {
    for trial in trials {
        let taken = trial.runs.iter().position(|run| run.pour == Some(pour));
        if let Some(place) = taken {
            let run = place + 1;
            return Err(Refusal::Run {
                trial: trial.id,
                fault: RunFault::Taken { pour, run },
            }
            .into());
        }
    }
    Ok(())
}

fn warnings(before: &TrialPage, run: usize, pour: i64, poured_at: Moment) -> Vec<Warning> {
    let early = poured_at < before.at;
    let early = early.then_some(Warning::BeforeTheDesign(pour));
    let skipped = before.next().filter(|&next| next < run);
    let skipped = skipped.map(|first| Warning::OutOfTurn { first });
    let line = before.run(run);
    let had = line.and_then(|line| line.pour);
    let instead = had.map(|had| Warning::RunRepoured {
        run,
        had,
        counts: pour,
    });
    let given_up = line.is_some_and(|line| line.given_up.is_some());
    let after_all = given_up.then_some(Warning::RunAfterAll { run, counts: pour });
    let all = [early, skipped, instead, after_all];
    all.into_iter().flatten().collect()
}
