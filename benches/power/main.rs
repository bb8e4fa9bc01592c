//! How often a factor that matters is found, and how often one that does not: studios and trials that never were.
//!
//! `cargo bench --bench power` prints a table; figures are shares of simulated studios, always the same by their seeds.

#[path = "../../tests/it/published/statistics/studios.rs"]
mod studios;

use rand::SeedableRng;
use rand::rngs::ChaCha8Rng;
use std::thread;
use stillcup::numbers::statistics::averaging::Outcome;
use stillcup::numbers::statistics::effects::effects;
use stillcup::numbers::statistics::factorial::{Design, DesignError};
use stillcup::numbers::statistics::findings::{Finding, find};
use stillcup::trade::trial::Level;
use studios::{cells, factors, studio};

/// Studios a row.
const STUDIOS: u64 = 100;
/// Those that follow rest: where rest matters, they may well be found in its place.
const FOLLOWERS: [&str; 3] = ["rest", "every cup ready", "age of the oldest cup"];

/// Trials a row.
const TRIALS: u64 = 4000;
/// How many times the odds of a good pour two standard deviations of rest make, or a trial's high setting.
const ODDS: [f64; 4] = [1.0, 2.0, 4.0, 8.0];

fn main() -> Result<(), DesignError> {
    println!(
        "{STUDIOS} studios a row, {} factors: rest matters, at odds 1 none does\n",
        factors().len()
    );
    println!("pours  odds   rest found   any false   false of found");
    looked_at().iter().for_each(|line| println!("{line}"));
    println!(
        "\n{TRIALS} trials of 8 runs a row, cells 0 to 5, the same odds between low and high\n"
    );
    println!("varied  odds   found   any false");
    for things in [1, 3] {
        for odds in ODDS {
            let (found, wrong) = tried(things, odds)?;
            println!(
                "{things:>6} {odds:>5}  {:>6} {:>11}",
                percent(found, TRIALS),
                percent(wrong, TRIALS)
            );
        }
    }
    Ok(())
}

/// One line for each number of pours and odds; each is worked out beside the others.
fn looked_at() -> Vec<String> {
    let rows = [20, 60, 200]
        .into_iter()
        .flat_map(|pours| ODDS.map(|odds| (pours, odds)));
    thread::scope(|all| {
        let lines: Vec<_> = rows
            .map(|(pours, odds)| all.spawn(move || Looked::at(pours, odds).line(pours, odds)))
            .collect();
        let told = lines.into_iter().map(thread::ScopedJoinHandle::join);
        told.map(|line| line.unwrap_or_else(|_| "a row failed".into()))
            .collect()
    })
}

/// How many studios said what.
#[derive(Default)]
struct Looked {
    found: u64,
    wrong: u64,
    false_share: f64,
}

impl Looked {
    fn at(pours: usize, odds: f64) -> Self {
        let mut all = Self::default();
        (0..STUDIOS).for_each(|seed| all.look(pours, odds, seed));
        all
    }

    fn look(&mut self, pours: usize, odds: f64, seed: u64) {
        let hours: Vec<f64> = (0..pours).map(|at| at as f64 * 24.0).collect();
        let rows = studio(pours, odds, seed);
        let found = find(&factors(), &rows, &hours, &Outcome::Good).factors;
        let follows = |name: &str| odds > 1.0 && FOLLOWERS.iter().any(|one| name.starts_with(one));
        let said: Vec<&Finding> = found.iter().filter(|one| one.is_said()).collect();
        let wrong = said.iter().filter(|one| !follows(&one.name)).count();
        self.found += u64::from(said.iter().any(|one| one.name == "rest"));
        self.wrong += u64::from(wrong > 0);
        self.false_share += wrong as f64 / said.len().max(1) as f64;
    }

    fn line(&self, pours: usize, odds: f64) -> String {
        let real = match odds > 1.0 {
            true => percent(self.found, STUDIOS),
            false => "-".into(),
        };
        format!(
            "{pours:>5} {odds:>5} {real:>12} {:>11} {:>14.1} %",
            percent(self.wrong, STUDIOS),
            100.0 * self.false_share / STUDIOS as f64,
        )
    }
}

/// Trials in which the thing that matters stands clear, and those in which anything else does.
fn tried(things: usize, odds: f64) -> Result<(u64, u64), DesignError> {
    let (mut found, mut wrong) = (0, 0);
    for seed in 0..TRIALS {
        let design = Design::plan(things, 8, 1, 0, seed)?;
        let mut rng = ChaCha8Rng::seed_from_u64(seed);
        let half = odds.ln() / 2.0;
        let cells: Vec<f64> = design
            .runs
            .iter()
            .map(|run| {
                if run.levels[0] == Level::High {
                    half
                } else {
                    -half
                }
            })
            .map(|log_odds| f64::from(cells(log_odds, &mut rng)))
            .collect();
        let clear: Vec<Vec<usize>> = effects(&design.runs, &cells)?
            .effects
            .into_iter()
            .filter(|effect| effect.interval.is_some_and(|range| !range.holds(0.0)))
            .map(|effect| effect.factors)
            .collect();
        let real = |factors: &Vec<usize>| odds > 1.0 && *factors == [0];
        found += u64::from(clear.iter().any(real));
        wrong += u64::from(clear.iter().any(|factors| !real(factors)));
    }
    Ok((found, wrong))
}

fn percent(count: u64, of: u64) -> String {
    format!("{:.1} %", 100.0 * count as f64 / of as f64)
}
