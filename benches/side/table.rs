//! Rounds that take turns, and the table they end in.

use std::fmt::Debug;
use std::time::{Duration, Instant};

/// What a ratio should be.
pub enum Goal {
    /// No more than this.
    AtMost(f64),
}

/// How two sides compared: medians, and the spread of the ratio over the rounds.
pub struct Ratio {
    theirs: Duration,
    ours: Duration,
    low: f64,
    mid: f64,
    high: f64,
}

/// Runs both sides in turns and compares them round by round.
pub fn turns<A, B, E: Debug, F: Debug>(
    rounds: usize,
    mut theirs: impl FnMut() -> Result<A, E>,
    mut ours: impl FnMut() -> Result<B, F>,
) -> anyhow::Result<Ratio> {
    let mut pairs = Vec::with_capacity(rounds);
    for round in 0..rounds + 5 {
        let pair = (timed(&mut theirs)?, timed(&mut ours)?);
        if round >= 5 {
            pairs.push(pair);
        }
    }
    let mut ratios: Vec<f64> = pairs
        .iter()
        .map(|(a, b)| b.as_secs_f64() / a.as_secs_f64())
        .collect();
    ratios.sort_by(f64::total_cmp);
    let at = |share: f64| ratios[((rounds - 1) as f64 * share) as usize];
    let median = |side: fn(&(Duration, Duration)) -> Duration| {
        let mut all: Vec<Duration> = pairs.iter().map(side).collect();
        all.sort();
        all[rounds / 2]
    };
    Ok(Ratio {
        theirs: median(|p| p.0),
        ours: median(|p| p.1),
        low: at(0.1),
        mid: at(0.5),
        high: at(0.9),
    })
}

fn timed<T, E: Debug>(deed: &mut impl FnMut() -> Result<T, E>) -> anyhow::Result<Duration> {
    let start = Instant::now();
    deed().map_err(|error| anyhow::anyhow!("{error:?}"))?;
    Ok(start.elapsed())
}

/// All comparisons so far.
#[derive(Default)]
pub struct Table(Vec<String>);

impl Table {
    /// Adds a comparison.
    pub fn add(&mut self, what: &str, ratio: Ratio, goal: Goal) {
        let Goal::AtMost(goal) = goal;
        let verdict = if ratio.mid <= goal { "met" } else { "MISSED" };
        self.0.push(format!(
            "{what:<58} {:>9.1?} {:>9.1?}  {:>6.2} ({:.2} to {:.2})  <= {goal:<4} {verdict}",
            ratio.theirs, ratio.ours, ratio.mid, ratio.low, ratio.high
        ));
    }

    /// Says what could not be compared, and why.
    pub fn skip(&mut self, what: &str, why: &str) {
        self.0.push(format!("{what:<58} skipped: {why}"));
    }

    /// Prints it.
    pub fn print(&self) {
        println!(
            "{:<58} {:>9} {:>9}  ratio (8 of 10 rounds)",
            "ours / theirs", "theirs", "ours"
        );
        for line in &self.0 {
            println!("{line}");
        }
    }
}
