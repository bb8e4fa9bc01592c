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
    let pairs = paired(rounds, &mut theirs, &mut ours)?;
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

impl Ratio {
    /// Two medians that were measured apart.
    pub fn of_medians(theirs: Duration, ours: Duration) -> Self {
        let mid = ours.as_secs_f64() / theirs.as_secs_f64();
        Self {
            theirs,
            ours,
            low: mid,
            mid,
            high: mid,
        }
    }

    /// The slowest of a hundred on either side (p99), and the spread of their ratio over tenths of the rounds.
    pub fn of_tails<A, B, E: Debug, F: Debug>(
        rounds: usize,
        mut theirs: impl FnMut() -> Result<A, E>,
        mut ours: impl FnMut() -> Result<B, F>,
    ) -> anyhow::Result<Self> {
        let pairs = paired(rounds, &mut theirs, &mut ours)?;
        let tail = |pairs: &[(Duration, Duration)], side: fn(&(Duration, Duration)) -> Duration| {
            let mut all: Vec<Duration> = pairs.iter().map(side).collect();
            all.sort();
            all[(all.len() - 1) * 99 / 100]
        };
        let of = |pairs: &[(Duration, Duration)]| (tail(pairs, |p| p.0), tail(pairs, |p| p.1));
        let ratio =
            |(theirs, ours): (Duration, Duration)| ours.as_secs_f64() / theirs.as_secs_f64();
        let mut tenths: Vec<f64> = pairs
            .chunks(rounds / 10)
            .map(|part| ratio(of(part)))
            .collect();
        tenths.sort_by(f64::total_cmp);
        let (theirs, ours) = of(&pairs);
        Ok(Self {
            theirs,
            ours,
            low: tenths[tenths.len() / 10],
            mid: ratio((theirs, ours)),
            high: tenths[tenths.len() * 9 / 10],
        })
    }
}

/// Both sides in turns, after a few rounds that are not counted.
fn paired<A, B, E: Debug, F: Debug>(
    rounds: usize,
    theirs: &mut impl FnMut() -> Result<A, E>,
    ours: &mut impl FnMut() -> Result<B, F>,
) -> anyhow::Result<Vec<(Duration, Duration)>> {
    let warm = rounds.min(5) / 2;
    let mut pairs = Vec::with_capacity(rounds);
    for round in 0..rounds + warm {
        let pair = (timed(theirs)?, timed(ours)?);
        if round >= warm {
            pairs.push(pair);
        }
    }
    Ok(pairs)
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

    /// Adds two amounts that are no times.
    pub fn weigh(&mut self, what: &str, theirs: u64, ours: u64, goal: f64) {
        let ratio = ours as f64 / theirs as f64;
        let verdict = if ratio <= goal { "met" } else { "MISSED" };
        self.0.push(format!(
            "{what:<58} {theirs:>9} {ours:>9}  {ratio:>6.2}                 <= {goal:<4} {verdict}"
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
