//! `trial design`, `trials`, `trial show`, `trial done` and `trial skip`: a planned set of pours.

use crate::command::Desk;
use crate::command::report::{Report, Table};
use crate::command::show::or_dash;
use crate::numbers::statistics::curves::Layout;
use crate::studio::orders::{SkipField, TrialField, TrialOrder, Typed};
use crate::studio::{Answer, RunDone, TrialLine, TrialPage};
use crate::tell::views::{RunDoneView, TrialView, TrialsView};
use crate::trade::trial::TrialFactor;
use clap::{Args, Subcommand, ValueEnum};

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
    /// Give a run up that cannot be judged, so that its trial can end
    #[command(after_help = "Example: stillcup trial skip 1 3 --why \"fell face down\"")]
    Skip(SkipArguments),
    /// What a trial found: effects on the cells, how sure they are, and what it cannot tell apart
    #[command(after_help = "Example: stillcup trial findings 1")]
    Findings(TrialFindingsArguments),
}

const DESIGN_EXAMPLE: &str = "\
Examples:
  stillcup trial design --factor \"rest=12h,24h\" --factor \"activator share=5%,10%\" --runs 8 --seed 7
  stillcup trial design --factor \"air=dry,damp\" --factor \"spin=cw,ccw\" --runs 8 --blocks 2 --blind
  stillcup trial design --factor \"rest=8h,24h\" --factor \"activator share=4%,10%\" --curve face-centred --blocks 2";

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
    #[arg(long, required_unless_present = "curve", conflicts_with = "curve")]
    pub runs: Option<usize>,
    /// Lay it out so that the best place between the ends can be read: of two to four things all ends, faces and the middle,
    /// or of three or four the middles of the edges, which never has all at an end at once
    #[arg(long, value_name = "LAYOUT")]
    pub curve: Option<CurveWord>,
    /// Over how many days they are spread
    #[arg(long, default_value_t = 1)]
    pub blocks: u32,
    /// How many runs with everything halfway are added each day; unsaid, none, or 3 for a curve
    #[arg(long)]
    pub centres: Option<usize>,
    /// Draws the order: the same number, the same order
    #[arg(long)]
    pub seed: Option<u64>,
    /// Hide the settings until every run is judged or given up
    #[arg(long)]
    pub blind: bool,
    /// What it is to find out
    #[arg(long, value_name = "TEXT")]
    pub note: Option<String>,
}

/// How a trial for a curve is laid out.
#[derive(Debug, Clone, Copy, ValueEnum)]
pub enum CurveWord {
    /// All ends, the middle of each face, and the centre
    FaceCentred,
    /// The middle of each edge, and the centre
    EdgeMiddles,
}

impl CurveWord {
    const fn layout(self) -> Layout {
        match self {
            Self::FaceCentred => Layout::FaceCentred,
            Self::EdgeMiddles => Layout::EdgeMiddles,
        }
    }
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

/// Which run is given up.
#[derive(Debug, Args)]
pub struct SkipArguments {
    /// The trial's number
    pub trial: i64,
    /// Which run
    pub run: usize,
    /// Why: it stands with the run for good
    #[arg(long, value_name = "TEXT")]
    pub why: String,
}

/// Which trial is read.
#[derive(Debug, Args)]
pub struct TrialFindingsArguments {
    /// Its number
    pub trial: i64,
}

impl DesignArguments {
    fn typed(self) -> Typed<TrialField> {
        let runs = self.runs.map(|runs| runs.to_string());
        let curve = self.curve.map(CurveWord::layout);
        let curve = curve.map(|layout| TrialField::curve(layout).to_owned());
        let centres = self.centres.map(|centres| centres.to_string());
        let blind = self.blind.then(|| TrialField::YES.to_owned());
        let typed = Typed::default()
            .given(TrialField::Runs, runs.or(curve))
            .given(TrialField::Days, Some(self.blocks.to_string()))
            .given(TrialField::Centres, centres)
            .given(TrialField::Seed, self.seed.map(|seed| seed.to_string()))
            .given(TrialField::Blind, blind)
            .given(TrialField::Note, self.note);
        let factors = self.factors.into_iter();
        factors.fold(typed, |typed, factor| {
            typed.given(TrialField::Factors, Some(factor))
        })
    }
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
            TrialVerb::Skip(typed) => self.skip_run(&typed),
            TrialVerb::Findings(typed) => self.trial_findings(typed.trial),
        }
    }

    pub(super) fn trials(&mut self) -> Answer<Report> {
        let pages = self.studio.trials()?;
        let report = Report::of(&TrialsView::of(&pages, &self.telling()));
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
        let order = TrialOrder::read(&typed.typed())?;
        let page = self.studio.design_trial(&order, &self.now)?;
        Ok(self.trial_report(&page))
    }

    fn done_run(&mut self, typed: &DoneArguments) -> Answer<Report> {
        let done = self
            .studio
            .do_run(typed.trial, typed.pour, typed.run, &self.now)?;
        let said = format!(
            "run {} of trial {}: pour {}",
            done.run, typed.trial, typed.pour
        );
        Ok(self.run_report(said, &done))
    }

    fn skip_run(&mut self, typed: &SkipArguments) -> Answer<Report> {
        let said = Typed::default().given(SkipField::Why, Some(typed.why.clone()));
        let why = SkipField::why(&said, typed.trial)?;
        let done = self
            .studio
            .skip_run(typed.trial, typed.run, &why, &self.now)?;
        let said = format!("run {} of trial {} is given up", done.run, typed.trial);
        Ok(self.run_report(said, &done))
    }

    fn run_report(&self, what: String, done: &RunDone) -> Report {
        let said = self.remarked(&done.remarks);
        let report = Report::of(&RunDoneView::of(done, &self.telling()));
        report
            .line(what)
            .remarks(&said)
            .line(progress_words(&done.page))
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
        let report = Report::of(&TrialView::of(page, &self.telling()))
            .line(format!(
                "trial {}, order drawn with seed {}",
                page.id, page.seed
            ))
            .lines(page.note.clone())
            .lines(page.factors.iter().map(factor_words))
            .lines(crate::tell::trials::resolution(page).map(str::to_owned))
            .lines(crate::tell::trials::generators(page))
            .lines(crate::tell::trials::aliases(page));
        let names = page.factors.iter().map(|one| one.name.as_str());
        let heads: Vec<&str> = ["run", "day"].into_iter().chain(names).collect();
        let heads: Vec<&str> = heads.into_iter().chain(["pour", "cells"]).collect();
        let table = Table::headed(&heads).right(&[0, 1]);
        let rows = page.runs.iter().map(|run| run_row(run, page));
        let hidden = page.runs.iter().any(|run| run.levels.is_none());
        let mixer = format!(
            "hidden until all are judged; for the hand that mixes: stillcup trial show {} --open",
            page.id
        );
        report
            .table(&rows.fold(table, Table::row))
            .lines(hidden.then_some(mixer))
            .line(progress_words(page))
    }
}

fn factor_words(one: &TrialFactor) -> String {
    format!("{}: {} or {}", one.name, one.low, one.high)
}

fn run_row(run: &TrialLine, page: &TrialPage) -> Vec<String> {
    let hidden = || vec!["hidden".to_owned(); page.factors.len()];
    let settings = page.settings(run).unwrap_or_else(hidden);
    let pour = or_dash(run.pour.map(|pour| pour.to_string()));
    let cells = run.cells.map(|cells| cells.to_string());
    let given_up = run.given_up.as_ref().map(|why| format!("given up: {why}"));
    [run.run.to_string(), run.block.to_string()]
        .into_iter()
        .chain(settings)
        .chain([pour, or_dash(cells.or(given_up))])
        .collect()
}

fn progress_words(page: &TrialPage) -> String {
    let all = page.runs.len();
    let given_up = match page.given_up() {
        0 => String::new(),
        some => format!(", {some} given up"),
    };
    let (done, judged) = (page.done(), page.judged());
    let so_far = format!("{done} of {all} poured, {judged} judged{given_up}");
    match page.next() {
        Some(run) => format!("{so_far}; next is run {run}"),
        None if !page.is_over() => format!("{so_far}; judge the rest: stillcup judge POUR"),
        None => format!("{so_far}; read it: stillcup trial findings {}", page.id),
    }
}
