//! The tables `trial`, `trial_factor` and `trial_run`.

use crate::logbook::read::{Read, Reader, moment_of, parsed_in};
use crate::logbook::{LogbookError, ProgramFault, Writer, write};
use crate::trade::trial::{Level, Trial, TrialFactor, TrialRun};
use rusqlite::Row;

impl Reader<'_> {
    /// Every trial, newest first.
    ///
    /// # Errors
    /// Where the store cannot be read; so of all readings below.
    pub fn trials(&self) -> Read<Vec<Trial>> {
        let trials = self.all("SELECT * FROM trial ORDER BY id DESC", [], trial)?;
        trials.into_iter().map(|trial| self.filled(trial)).collect()
    }

    /// A trial by its number.
    pub fn trial(&self, id: i64) -> Read<Option<Trial>> {
        let found = self.first("SELECT * FROM trial WHERE id = ?1", [id], trial)?;
        found.map(|trial| self.filled(trial)).transpose()
    }

    fn filled(&self, trial: Trial) -> Read<Trial> {
        let factors = "SELECT * FROM trial_factor WHERE trial_id = ?1 ORDER BY place";
        let runs = "SELECT * FROM trial_run WHERE trial_id = ?1 ORDER BY place";
        Ok(Trial {
            factors: self.all(factors, [trial.id], factor)?,
            runs: self.all(runs, [trial.id], run)?,
            ..trial
        })
    }
}

impl Writer<'_> {
    /// Writes down a trial with its factors and runs; its `id` is not looked at.
    ///
    /// # Errors
    /// Where the store refuses it; so of all writings below.
    pub fn add_trial(&mut self, new: &Trial) -> Read<i64> {
        let [at_ms, offset_min] = write::moment(new.at);
        let seed =
            i64::try_from(new.seed).map_err(|_| LogbookError::Program(ProgramFault::Seed))?;
        let columns = [
            ("uid", write::uid()),
            ("at_ms", at_ms),
            ("offset_min", offset_min),
            ("seed", seed.into()),
            ("blind", new.blind.into()),
            ("note", new.note.clone().into()),
        ];
        let id = self.insert("trial", &columns)?;
        self.add_factors(id, &new.factors)?;
        self.add_runs(id, &new.runs)?;
        Ok(id)
    }

    fn add_factors(&mut self, trial: i64, factors: &[TrialFactor]) -> Read<()> {
        for (place, factor) in (1_i64..).zip(factors) {
            let columns = [
                ("trial_id", trial.into()),
                ("place", place.into()),
                ("name", factor.name.as_str().into()),
                ("low", factor.low.as_str().into()),
                ("high", factor.high.as_str().into()),
            ];
            self.insert("trial_factor", &columns)?;
        }
        Ok(())
    }

    fn add_runs(&mut self, trial: i64, runs: &[TrialRun]) -> Read<()> {
        for (place, run) in (1_i64..).zip(runs) {
            let levels: String = run.levels.iter().map(|level| level.sign()).collect();
            let columns = [
                ("trial_id", trial.into()),
                ("place", place.into()),
                ("block", run.block.into()),
                ("levels", levels.into()),
                ("pour_id", run.pour.into()),
                ("given_up", run.given_up.clone().into()),
            ];
            self.insert("trial_run", &columns)?;
        }
        Ok(())
    }

    /// Says with which pour a trial's run, counted from 1, was done, and why it was given up, if it was.
    pub fn set_run(&mut self, trial: i64, place: i64, run: &TrialRun) -> Read<()> {
        let sql = "SELECT id FROM trial_run WHERE trial_id = ?1 AND place = ?2";
        let id: Option<i64> = self.read().first(sql, (trial, place), |row| row.get(0))?;
        let columns = [
            ("pour_id", run.pour.into()),
            ("given_up", run.given_up.clone().into()),
        ];
        match id {
            Some(id) => self.update("trial_run", id, &columns),
            None => Ok(()),
        }
    }
}

pub(super) fn trial(row: &Row<'_>) -> rusqlite::Result<Trial> {
    Ok(Trial {
        id: row.get("id")?,
        at: moment_of(row)?,
        seed: row.get::<_, i64>("seed")?.unsigned_abs(),
        blind: row.get("blind")?,
        factors: Vec::new(),
        runs: Vec::new(),
        note: row.get("note")?,
    })
}

pub(super) fn factor(row: &Row<'_>) -> rusqlite::Result<TrialFactor> {
    Ok(TrialFactor {
        name: row.get("name")?,
        low: row.get("low")?,
        high: row.get("high")?,
    })
}

pub(super) fn run(row: &Row<'_>) -> rusqlite::Result<TrialRun> {
    let levels = |signs: &str| signs.chars().map(Level::of_sign).collect();
    Ok(TrialRun {
        block: row.get("block")?,
        levels: parsed_in(row, "levels", levels)?,
        pour: row.get("pour_id")?,
        given_up: row.get("given_up")?,
    })
}
