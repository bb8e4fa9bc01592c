//! `watch`: bells without a screen. One line at each turn of a cup, until Ctrl-C.

use crate::clock::Clock;
use crate::command::Desk;
use crate::command::report::Report;
use crate::exchange::AirWatch;
use crate::studio::{Answer, CupStatus, Settings, Studio, Turn, local, turns};
use crate::tell;
use crate::tell::views::{Telling, TurnView};
use crate::trade::instant::Now;
use crate::trade::moment::Moment;
use crate::trade::text::inert;
use chrono::TimeDelta;
use clap::Args;
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

/// A turn as a line, and as a program's environment.
trait Lines {
    /// `18:44 K7: ready, now thick: …`
    fn line(&self, clock: &str) -> String;
    /// The facts for a program's environment; none holds what could move a cursor.
    fn facts(&self) -> [(&'static str, String); 9];
}

impl Lines for TurnView {
    fn line(&self, clock: &str) -> String {
        let was = self
            .was
            .map(|was| format!("{was}, now "))
            .unwrap_or_default();
        format!("{clock} {}: {was}{}: {}", self.mark, self.state, self.why)
    }

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
        let first = self.studio.bench(&self.now)?;
        say(&self.watching(&first));
        let (clock, json, zone) = (self.clock, self.json, self.now);
        let measures = self.settings.measures;
        let mut children: Vec<Child> = Vec::new();
        let tell = |turn: &Turn, now: &Now| {
            let view = TurnView::of(turn, &Telling { measures, now });
            children.retain_mut(|child| matches!(child.try_wait(), Ok(None)));
            children.extend(
                typed
                    .run
                    .as_ref()
                    .and_then(|run| started(run, &typed.words, &view)),
            );
            print_turn(&view, json, &local(now.at, now))
        };
        let mut air = AirWatch::default();
        let wait = |studio: &mut Studio, until| {
            pause(studio, &clock, until, &mut air).map(|()| clock.now())
        };
        follow(self.studio, &zone, wait, tell)?;
        // Whoever read the lines went away.
        Ok(Report::new(serde_json::Value::Null).exactly(String::new()))
    }

    fn watching(&self, bench: &[CupStatus]) -> String {
        let next = next_turn(bench).map(|at| format!(", the next turns {}", self.clock(at)));
        let next = next.unwrap_or_default();
        format!("watching {} cups{next}; Ctrl-C ends", bench.len())
    }
}

/// Says something beside the lines; where nobody hears it, the watch goes on.
fn say(words: &str) {
    let _unheard = writeln!(std::io::stderr(), "{words}");
}

/// Prints a turn; `false` where nobody reads it any more.
fn print_turn(view: &TurnView, json: bool, clock: &str) -> bool {
    let line = match json {
        true => serde_json::to_string(view).unwrap_or_default(),
        false => inert(&view.line(clock)).into_owned(),
    };
    let mut out = std::io::stdout().lock();
    writeln!(out, "{line}").and_then(|()| out.flush()).is_ok()
}

/// Tells each turn of a cup until `tell` says that nobody listens. `wait` sleeps until an instant or a change of the file and
/// answers what time it is then.
fn follow(
    studio: &mut Studio,
    now: &Now,
    mut wait: impl FnMut(&mut Studio, Option<Moment>) -> Answer<Now>,
    mut tell: impl FnMut(&Turn, &Now) -> bool,
) -> Answer<()> {
    let mut bench = studio.bench(now)?;
    loop {
        let now = wait(studio, next_turn(&bench))?;
        let later = studio.bench(&now)?;
        for turn in turns(&bench, &later) {
            if !tell(&turn, &now) {
                return Ok(());
            }
        }
        bench = later;
    }
}

/// The next instant at which a cup turns by itself.
fn next_turn(bench: &[CupStatus]) -> Option<Moment> {
    bench.iter().filter_map(CupStatus::turns_at).min()
}

/// Sleeps until an instant, or until another program has written to the file. Meanwhile the room's air is asked for.
pub(super) fn pause(
    studio: &mut Studio,
    clock: &Clock,
    until: Option<Moment>,
    air: &mut AirWatch,
) -> Answer<()> {
    let settings = studio.settings()?;
    loop {
        sense(studio, &settings, air, &clock.now());
        std::thread::sleep(nap(until, clock));
        if studio.changed_elsewhere()? || until.is_some_and(|until| until <= clock.now().at) {
            return Ok(());
        }
    }
}

/// Takes what a sensor told of the room's air meanwhile; a fault of it is said once.
fn sense(studio: &mut Studio, settings: &Settings, air: &mut AirWatch, now: &Now) {
    let Some(sensed) = air.look(settings, now) else {
        return;
    };
    studio.sense(sensed.air, now);
    if let Some(why) = sensed.fault {
        let words = tell::words(&why, settings.measures, now);
        say(&format!("stillcup: {words}"));
    }
}

/// No longer than a second, so that a change is heard; up to the turn itself where that is nearer.
fn nap(until: Option<Moment>, clock: &Clock) -> Duration {
    let now = clock.now();
    let left = until
        .map(|until| until - now.at)
        .filter(|left| *left > TimeDelta::zero());
    let left = left.and_then(|left| left.to_std().ok());
    left.map_or(LOOK, |left| clock.wait_for(left).min(LOOK))
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
        let run = inert(&run.to_string_lossy()).into_owned();
        say(&format!("stillcup: {run} cannot be run: {error}."));
    };
    started.inspect_err(failed).ok()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::studio::orders::MixOrder;
    use crate::trade::cup::Reading;
    use crate::trade::ids::VariantId;
    use crate::trade::instant::Zone;
    use crate::trade::life::State;
    use crate::trade::units::{Millilitres, Seconds};

    fn evening() -> Now {
        let at = chrono::DateTime::parse_from_rfc3339("2026-11-24T18:00:00+01:00").unwrap();
        let zone = Zone::Fixed(*at.offset());
        Now { at, zone }
    }

    fn mixed(studio: &mut Studio, now: &Now) {
        let variant = studio.recipes().unwrap()[0].variants[0].id;
        let order = MixOrder {
            reading: Some(Reading::Mound(Seconds(3.0))),
            ..MixOrder::of(VariantId(variant), Millilitres(120.0))
        };
        studio.mix(&order, now).unwrap();
    }

    /// The clock of a test: each wait goes straight to the next turn.
    #[test]
    fn a_watch_of_a_day_tells_each_turn_once_and_sleeps_in_between() {
        let folder = tempfile::tempdir().unwrap();
        let mut studio = Studio::open(&folder.path().join("studio.db")).unwrap();
        studio.seed_starters(&evening()).unwrap();
        let later = |minutes| Now {
            at: evening().at + TimeDelta::minutes(minutes),
            ..evening()
        };
        for minutes in [0, 10, 45] {
            mixed(&mut studio, &later(minutes));
        }
        let clears = studio.bench(&later(45)).unwrap();
        let mut clears: Vec<Moment> = clears.iter().map(|cup| cup.life.clears_at).collect();
        clears.sort_unstable();
        let mut now = later(45);
        let waits = std::cell::Cell::new(0);
        let mut told = Vec::new();
        let wait = |_: &mut Studio, until: Option<Moment>| {
            waits.set(waits.get() + 1);
            now.at = until.unwrap();
            Ok(now)
        };
        let tell = |turn: &Turn, now: &Now| {
            told.push((turn.was, now.at));
            assert_ne!(turn.is, State::Resting);
            told.len() < 3
        };
        follow(&mut studio, &later(45), wait, tell).unwrap();
        let wanted: Vec<_> = clears
            .into_iter()
            .map(|at| (Some(State::Resting), at))
            .collect();
        assert_eq!(told, wanted, "each turn once, at its own instant");
        assert_eq!(waits.get(), 3, "nothing is looked at before a turn");
    }

    #[test]
    fn a_nap_is_no_longer_than_a_second_and_no_longer_than_the_turn_is_away() {
        let (now, clock) = (evening(), Clock::Fixed(evening()));
        assert_eq!(nap(None, &clock), LOOK);
        assert_eq!(nap(Some(now.at + TimeDelta::hours(3)), &clock), LOOK);
        assert_eq!(
            nap(Some(now.at + TimeDelta::milliseconds(200)), &clock),
            Duration::from_millis(200)
        );
        assert_eq!(nap(Some(now.at - TimeDelta::hours(1)), &clock), LOOK);
    }
}
