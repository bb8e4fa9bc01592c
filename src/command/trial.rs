//! `trial design`, `trials`, `trial show` and `trial done`: a planned set of pours.

use crate::command::Desk;
use crate::command::report::{Report, Table};
use crate::command::show::{or_dash, with};
use crate::studio::{Answer, TrialLine, TrialOrder, TrialPage};
use crate::trade::trial::{Level, TrialFactor};
use clap::{Args, Subcommand};
use serde_json::{Value, json};

/// What is done with a trial.
#[derive(Debug, Subcommand)]
pub enum TrialVerb {
    /// Design a trial: which pours to make, in an order drawn by lot
    #[command(after_help = DESIGN_EXAMPLE)]
    Design(DesignArguments),
    /// A trial's runs in the order they are to be poured in
    #[command(after_help = "Example: stillcup trial show 1")]
    Show(TrialShowArguments),
    /// Say with which pour a run was done
    #[command(after_help = "Example: stillcup trial done 1 12")]
    Done(DoneArguments),
    /// What a trial found: effects on the cells, how sure they are, and what it cannot tell apart
    #[command(after_help = "Example: stillcup trial findings 1")]
    Findings(TrialFindingsArguments),
}

const DESIGN_EXAMPLE: &str = "\
Examples:
  stillcup trial design --factor \"rest=12h,24h\" --factor \"activator share=5%,10%\" --runs 8 --seed 7
  stillcup trial design --factor \"air=dry,damp\" --factor \"spin=cw,ccw\" --runs 8 --blocks 2 --blind";

/// A trial to be designed.
#[derive(Debug, Args)]
pub struct DesignArguments {
    /// What is varied, with its low and its high setting; one to seven times: "rest=12h,24h"
    #[arg(
        long = "factor",
        value_name = "NAME=LOW,HIGH",
        required = true,
        allow_hyphen_values = true
    )]
    pub factors: Vec<String>,
    /// How many pours: 4, 8, 16 or 32
    #[arg(long)]
    pub runs: usize,
    /// Over how many days they are spread
    #[arg(long, default_value_t = 1)]
    pub blocks: u32,
    /// How many runs with everything halfway are added each day
    #[arg(long, default_value_t = 0)]
    pub centres: usize,
    /// Draws the order: the same number, the same order
    #[arg(long)]
    pub seed: Option<u64>,
    /// Hide the settings until a run is judged
    #[arg(long)]
    pub blind: bool,
    /// What it is to find out
    #[arg(long, value_name = "TEXT")]
    pub note: Option<String>,
}

/// Which trial is shown.
#[derive(Debug, Args)]
pub struct TrialShowArguments {
    /// Its number
    pub trial: i64,
    /// Show the settings of a blind trial: for the hand that mixes, not for the eye that judges
    #[arg(long)]
    pub open: bool,
}

/// Which run was done with which pour.
#[derive(Debug, Args)]
pub struct DoneArguments {
    /// The trial's number
    pub trial: i64,
    /// The pour's number
    pub pour: i64,
    /// Which run; the next one otherwise
    #[arg(long)]
    pub run: Option<usize>,
}

/// Which trial is read.
#[derive(Debug, Args)]
pub struct TrialFindingsArguments {
    /// Its number
    pub trial: i64,
}

impl Desk<'_> {
    pub(super) fn trial(&mut self, verb: TrialVerb) -> Answer<Report> {
        match verb {
            TrialVerb::Design(typed) => self.design_trial(typed),
            TrialVerb::Show(typed) => {
                let page = match typed.open {
                    true => self.studio.trial_page_open(typed.trial)?,
                    false => self.studio.trial_page(typed.trial)?,
                };
                Ok(self.trial_report(&page))
            }
            TrialVerb::Done(typed) => self.done_run(&typed),
            TrialVerb::Findings(typed) => self.trial_findings(typed.trial),
        }
    }

    pub(super) fn trials(&mut self) -> Answer<Report> {
        let pages = self.studio.trials()?;
        let told: Vec<Value> = pages.iter().map(|page| self.trial_json(page)).collect();
        let report = Report::new(json!({"trials": told}));
        if pages.is_empty() {
            let hint = "Design one: stillcup trial design --factor \"rest=12h,24h\" --factor \"air=dry,damp\" --runs 8";
            return Ok(report.line(hint));
        }
        let heads = ["trial", "designed", "varies", "runs", "done", "judged"];
        let table = Table::headed(&heads).right(&[0, 3, 4, 5]);
        let rows = pages.iter().map(|page| self.trial_row(page));
        Ok(report.table(&rows.fold(table, Table::row)))
    }

    fn design_trial(&mut self, typed: DesignArguments) -> Answer<Report> {
        let order = TrialOrder {
            factors: typed.factors,
            runs: typed.runs,
            blocks: typed.blocks,
            centres: typed.centres,
            seed: typed.seed,
            blind: typed.blind,
            note: typed.note,
        };
        let page = self.studio.design_trial(&order, &self.now)?;
        Ok(self.trial_report(&page))
    }

    fn done_run(&mut self, typed: &DoneArguments) -> Answer<Report> {
        let done = self
            .studio
            .do_run(typed.trial, typed.pour, typed.run, &self.now)?;
        let more = json!({"run": done.run, "warnings": done.warnings});
        let said = format!(
            "run {} of trial {}: pour {}",
            done.run, typed.trial, typed.pour
        );
        let warned = done.warnings.iter().map(|warning| format!("! {warning}"));
        let report = Report::new(with(self.trial_json(&done.page), more));
        Ok(report
            .line(said)
            .lines(warned)
            .line(progress_words(&done.page)))
    }

    fn trial_row(&self, page: &TrialPage) -> [String; 6] {
        let names: Vec<&str> = page.factors.iter().map(|one| one.name.as_str()).collect();
        [
            page.id.to_string(),
            self.clock(page.at),
            names.join(", "),
            page.runs.len().to_string(),
            page.done().to_string(),
            page.judged().to_string(),
        ]
    }

    fn trial_report(&self, page: &TrialPage) -> Report {
        let report = Report::new(self.trial_json(page))
            .line(format!(
                "trial {}, order drawn with seed {}",
                page.id, page.seed
            ))
            .lines(page.note.clone())
            .lines(page.factors.iter().map(factor_words))
            .lines(page.resolution_words().map(str::to_owned))
            .lines(page.generators.clone())
            .lines(page.aliases.clone());
        let names = page.factors.iter().map(|one| one.name.as_str());
        let heads: Vec<&str> = ["run", "day"].into_iter().chain(names).collect();
        let heads: Vec<&str> = heads.into_iter().chain(["pour", "cells"]).collect();
        let table = Table::headed(&heads).right(&[0, 1]);
        let rows = page.runs.iter().map(|run| run_row(run, &page.factors));
        let hidden = page.runs.iter().any(|run| run.levels.is_none());
        let mixer = format!(
            "hidden until judged; for the hand that mixes: stillcup trial show {} --open",
            page.id
        );
        report
            .table(&rows.fold(table, Table::row))
            .lines(hidden.then_some(mixer))
            .line(progress_words(page))
    }

    /// A trial in JSON.
    pub(super) fn trial_json(&self, page: &TrialPage) -> Value {
        let factor =
            |one: &TrialFactor| json!({"name": one.name, "low": one.low, "high": one.high});
        let factors: Vec<Value> = page.factors.iter().map(factor).collect();
        let runs: Vec<Value> = page
            .runs
            .iter()
            .map(|run| run_json(run, &page.factors))
            .collect();
        json!({
            "trial": page.id,
            "at": self.stamp(page.at),
            "seed": page.seed,
            "blind": page.blind,
            "note": page.note,
            "factors": factors,
            "resolution": page.resolution,
            "generators": page.generators,
            "aliases": page.aliases,
            "runs": runs,
            "done": page.done(),
            "judged": page.judged(),
            "next": page.next(),
        })
    }
}

fn factor_words(one: &TrialFactor) -> String {
    format!("{}: {} or {}", one.name, one.low, one.high)
}

/// A setting in the painter's words.
fn setting(factor: &TrialFactor, level: Level) -> String {
    match level {
        Level::Low => factor.low.clone(),
        Level::Middle => "halfway".to_owned(),
        Level::High => factor.high.clone(),
    }
}

const fn level_word(level: Level) -> &'static str {
    match level {
        Level::Low => "low",
        Level::Middle => "middle",
        Level::High => "high",
    }
}

fn run_row(run: &TrialLine, factors: &[TrialFactor]) -> Vec<String> {
    let settings = (0..).zip(factors).map(|(place, factor): (usize, _)| {
        let level = run.levels.as_ref().and_then(|levels| levels.get(place));
        level.map_or_else(|| "hidden".to_owned(), |level| setting(factor, *level))
    });
    let pour = or_dash(run.pour.map(|pour| pour.to_string()));
    let cells = or_dash(run.cells.map(|cells| cells.to_string()));
    [run.run.to_string(), run.block.to_string()]
        .into_iter()
        .chain(settings)
        .chain([pour, cells])
        .collect()
}

fn run_json(run: &TrialLine, factors: &[TrialFactor]) -> Value {
    let levels = run.levels.as_ref();
    let words = levels.map(|all| all.iter().map(|one| level_word(*one)).collect::<Vec<_>>());
    let settings = levels.map(|all| {
        let both = factors.iter().zip(all);
        both.map(|(factor, level)| setting(factor, *level))
            .collect::<Vec<_>>()
    });
    json!({
        "run": run.run,
        "block": run.block,
        "levels": words,
        "settings": settings,
        "pour": run.pour,
        "cells": run.cells,
    })
}

fn progress_words(page: &TrialPage) -> String {
    let all = page.runs.len();
    let so_far = format!("{} of {all} poured, {} judged", page.done(), page.judged());
    match page.next() {
        Some(run) => format!("{so_far}; next is run {run}"),
        None if page.judged() < all => format!("{so_far}; judge the rest: stillcup judge POUR"),
        None => format!("{so_far}; read it: stillcup trial findings {}", page.id),
    }
}
