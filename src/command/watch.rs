//! `watch`: bells without a screen. One line at each turn of a cup, until Ctrl-C.

use crate::clock::Clock;
use crate::command::Desk;
use crate::command::report::Report;
use crate::command::show::ml;
use crate::studio::{Answer, CupStatus, Studio, Turn, turns};
use crate::trade::instant::Now;
use crate::trade::moment::Moment;
use crate::trade::text::inert;
use chrono::TimeDelta;
use clap::Args;
use serde::Serialize;
use std::ffi::OsString;
use std::io::Write;
use std::process::{Child, Command, Stdio};
use std::time::Duration;

pub(super) const EXAMPLE: &str = "\
Examples:
  stillcup watch
  stillcup watch --json >> turns.jsonl
  stillcup watch --run /home/me/ring.sh -- --loud
The program that is run finds the facts in its environment: STILLCUP_AT, STILLCUP_MARK, STILLCUP_WAS, STILLCUP_STATE,
STILLCUP_RECIPE, STILLCUP_LAYER, STILLCUP_LEFT_ML, STILLCUP_MOUND_S, STILLCUP_WHY. No shell reads them.";

/// The file is looked at no oftener.
const LOOK: Duration = Duration::from_secs(1);

/// How turns are told.
#[derive(Debug, Args)]
pub struct WatchArguments {
    /// Run this program at each turn, the facts in its environment
    #[arg(long, value_name = "PROGRAM")]
    pub run: Option<OsString>,
    /// What the program is given, as it stands
    #[arg(last = true, requires = "run", value_name = "WORD")]
    pub words: Vec<OsString>,
}

/// A turn, for a program: one line of JSON each.
#[derive(Debug, Serialize)]
struct TurnView {
    at: String,
    mark: String,
    was: Option<&'static str>,
    state: &'static str,
    recipe: String,
    variant: i64,
    layer: &'static str,
    left_ml: f64,
    mound_s: Option<f64>,
    why: String,
}

impl TurnView {
    fn of(turn: &Turn, at: String) -> Self {
        let cup = &turn.cup;
        Self {
            at,
            mark: cup.cup.mark.to_string(),
            was: turn.was.map(|was| was.word()),
            state: turn.is.word(),
            recipe: cup.recipe.name.clone(),
            variant: cup.variant.number,
            layer: cup.recipe.layer.word(),
            left_ml: ml(cup.life.left),
            mound_s: cup.outlook.mound_mid().map(|mound| mound.get()),
            why: if turn.is == crate::trade::life::State::Spent {
                "spent".to_owned()
            } else {
                cup.why.clone()
            },
        }
    }

    /// `18:44 K7: ready, now thick: …`
    fn line(&self, clock: &str) -> String {
        let was = self
            .was
            .map(|was| format!("{was}, now "))
            .unwrap_or_default();
        format!("{clock} {}: {was}{}: {}", self.mark, self.state, self.why)
    }

    /// The facts for a program's environment; none holds what could move a cursor.
    fn facts(&self) -> [(&'static str, String); 9] {
        let number = |number: Option<f64>| {
            number
                .map(|number| format!("{number:.1}"))
                .unwrap_or_default()
        };
        [
            ("STILLCUP_AT", self.at.clone()),
            ("STILLCUP_MARK", self.mark.clone()),
            ("STILLCUP_WAS", self.was.unwrap_or_default().to_owned()),
            ("STILLCUP_STATE", self.state.to_owned()),
            ("STILLCUP_RECIPE", inert(&self.recipe).into_owned()),
            ("STILLCUP_LAYER", self.layer.to_owned()),
            ("STILLCUP_LEFT_ML", number(Some(self.left_ml))),
            ("STILLCUP_MOUND_S", number(self.mound_s)),
            ("STILLCUP_WHY", inert(&self.why).into_owned()),
        ]
    }
}

impl Desk<'_> {
    pub(super) fn watch(&mut self, typed: &WatchArguments) -> Answer<Report> {
        let mut bench = self.studio.bench(&self.now)?;
        let mut children = Vec::new();
        eprintln!("{}", self.watching(&bench));
        loop {
            pause(self.studio, &self.clock, next_turn(&bench))?;
            self.now = self.clock.now();
            let later = self.studio.bench(&self.now)?;
            for turn in turns(&bench, &later) {
                let view = TurnView::of(&turn, self.stamp(self.now.at));
                if !self.tell_turn(&view) {
                    // Whoever read the lines went away.
                    return Ok(Report::verbatim(serde_json::Value::Null, String::new()));
                }
                children.retain_mut(|child: &mut Child| matches!(child.try_wait(), Ok(None)));
                children.extend(
                    typed
                        .run
                        .as_ref()
                        .and_then(|run| started(run, &typed.words, &view)),
                );
            }
            bench = later;
        }
    }

    fn watching(&self, bench: &[CupStatus]) -> String {
        let next = next_turn(bench).map(|at| format!(", the next turns {}", self.clock(at)));
        let next = next.unwrap_or_default();
        format!("watching {} cups{next}; Ctrl-C ends", bench.len())
    }

    /// Prints a turn; `false` where nobody reads it any more.
    fn tell_turn(&self, view: &TurnView) -> bool {
        let line = match self.json {
            true => serde_json::to_string(view).unwrap_or_default(),
            false => inert(&view.line(&self.clock(self.now.at))).into_owned(),
        };
        let mut out = std::io::stdout().lock();
        writeln!(out, "{line}").and_then(|()| out.flush()).is_ok()
    }
}

/// The next instant at which a cup turns by itself.
fn next_turn(bench: &[CupStatus]) -> Option<Moment> {
    bench.iter().filter_map(CupStatus::turns_at).min()
}

/// Sleeps until an instant, or until another program has written to the file.
pub(super) fn pause(studio: &mut Studio, clock: &Clock, until: Option<Moment>) -> Answer<()> {
    loop {
        std::thread::sleep(nap(until, &clock.now()));
        if studio.changed_elsewhere()? || until.is_some_and(|until| until <= clock.now().at) {
            return Ok(());
        }
    }
}

/// No longer than a second, so that a change is heard; up to the turn itself where that is nearer.
fn nap(until: Option<Moment>, now: &Now) -> Duration {
    let left = until
        .map(|until| until - now.at)
        .filter(|left| *left > TimeDelta::zero());
    let left = left.and_then(|left| left.to_std().ok());
    left.map_or(LOOK, |left| left.min(LOOK))
}

/// Starts a program with the facts in its environment; that it cannot be started is said.
fn started(run: &OsString, words: &[OsString], view: &TurnView) -> Option<Child> {
    let started = Command::new(run)
        .args(words)
        .envs(view.facts())
        .stdin(Stdio::null())
        .stdout(Stdio::from(std::io::stderr()))
        .spawn();
    let failed = |error: &std::io::Error| {
        eprintln!(
            "stillcup: {} cannot be run: {error}.",
            inert(&run.to_string_lossy())
        );
    };
    started.inspect_err(failed).ok()
}
