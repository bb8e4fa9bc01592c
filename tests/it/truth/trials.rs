//! Trials: how often something stands clear where nothing is so, whether ranges hold, and what curves say, with cells in
//! whole numbers and days that differ.

use super::rests::normal;
use super::{Claim, Measured, Seeds};
use rand::{SeedableRng, rngs::ChaCha8Rng};
use rand_distr::{Distribution, weighted::WeightedIndex};
use stillcup::numbers::statistics::curves::{Layout, coded, plan};
use stillcup::numbers::statistics::effects::effects;
use stillcup::numbers::statistics::factorial::{Design, PlannedRun};
use stillcup::numbers::statistics::surface::{Kind, Surface, surface};
use stillcup::trade::trial::Level;

/// The rows of this file.
pub fn claims() -> Vec<Claim> {
    let mut all = Vec::new();
    for (things, runs, centres) in [(3, 8, 0), (3, 8, 2), (4, 16, 0), (2, 4, 3)] {
        let name = format!("trial of {things} things, {runs} runs, {centres} halfway");
        all.push(row(
            &format!("{name}: something is clear of nothing"),
            0.0..=0.06,
            move |seed| alarm(things, runs, centres, seed) != Some(false),
        ));
        all.push(row(
            &format!("{name}: 95 % range of one real effect"),
            0.93..=1.0,
            move |seed| range_holds(things, runs, centres, seed) == Some(true),
        ));
    }
    all.extend(graded());
    for (name, layout, things, days) in [
        ("face-centred, 2 things, one day", Layout::FaceCentred, 2, 1),
        (
            "face-centred, 3 things, two days",
            Layout::FaceCentred,
            3,
            2,
        ),
        (
            "edge middles, 4 things, three days",
            Layout::EdgeMiddles,
            4,
            3,
        ),
    ] {
        let draw = move |hill, seed| curve(layout, things, days, hill, seed);
        all.push(row(
            &format!("curve, {name}: clear of nothing"),
            0.0..=0.06,
            move |seed| draw(0.0, seed).is_none_or(|one| one.0.is_clear()),
        ));
        all.push(row(
            &format!("curve, {name}: the best place's band holds it"),
            0.93..=1.0,
            move |seed| {
                draw(1.5, seed).is_some_and(|(found, truth)| {
                    let best = found.best();
                    let range = found.range(&best);
                    range.is_some_and(|range| range.holds(truth.at(&best)))
                })
            },
        ));
        all.push(row(
            &format!("curve, {name}: a hill of 1.5 is called a bottom or a saddle"),
            0.0..=0.05,
            move |seed| {
                let found = draw(1.5, seed);
                found.is_none_or(|one| matches!(one.0.kind, Kind::Bottom | Kind::Saddle))
            },
        ));
    }
    all
}

/// Trials of nothing whose pours were judged in few grades.
fn graded() -> Vec<Claim> {
    let grades: [(&str, &[f64]); 5] = [
        ("two grades alike", &[0.0, 0.0, 0.5, 0.5]),
        ("two grades, one rare", &[0.0, 0.8, 0.0, 0.2]),
        ("three grades", &[0.0, 0.0, 0.3, 0.4, 0.3]),
        ("three grades, most of one", &[0.0, 0.1, 0.75, 0.15]),
        ("grades far apart", &[0.4, 0.0, 0.2, 0.0, 0.4]),
    ];
    let designs = [(3, 8, 0), (3, 8, 2), (4, 8, 0), (4, 16, 0), (5, 16, 3)];
    let mut all = Vec::new();
    for (name, shares) in grades {
        for (things, runs, centres) in designs {
            let name = format!("trial of {things} things, {runs} runs, {centres} halfway, {name}");
            all.push(row(
                &format!("{name}: something is clear of nothing"),
                0.0..=0.06,
                move |seed| graded_alarm((things, runs, centres), shares, seed) != Some(false),
            ));
        }
    }
    all
}

fn graded_alarm(
    (things, runs, centres): (usize, usize, usize),
    shares: &[f64],
    seed: u64,
) -> Option<bool> {
    let mut rng = ChaCha8Rng::seed_from_u64(seed);
    let runs = Design::plan(things, runs, 1, centres, seed).ok()?.runs;
    let grade = WeightedIndex::new(shares).ok()?;
    let cells: Vec<f64> = runs.iter().map(|_| grade.sample(&mut rng) as f64).collect();
    let found = effects(&runs, &cells).ok()?;
    Some(found.effects.iter().any(|one| one.is_clear))
}

fn row(
    name: &str,
    wanted: std::ops::RangeInclusive<f64>,
    hit: impl Fn(u64) -> bool + Send + Sync + 'static,
) -> Claim {
    Claim::new(name, wanted, (60, 2000), move |seeds: Seeds| {
        Measured::share(seeds.each().filter(|seed| hit(*seed)).count(), seeds.count)
    })
}

/// Cells in whole numbers: a mean of 2.6, days that differ by .4, an error of .8.
fn cells(rng: &mut ChaCha8Rng, runs: &[PlannedRun], of: impl Fn(&PlannedRun) -> f64) -> Vec<f64> {
    let days: Vec<f64> = (0..4).map(|_| 0.4 * normal(rng)).collect();
    let mut one = |run: &PlannedRun| {
        let day = days[run.block as usize % 4];
        let cells = 2.6 + of(run) + day + 0.8 * normal(rng);
        cells.round().clamp(0.0, 5.0)
    };
    runs.iter().map(&mut one).collect()
}

fn alarm(things: usize, runs: usize, centres: usize, seed: u64) -> Option<bool> {
    let mut rng = ChaCha8Rng::seed_from_u64(seed);
    let runs = Design::plan(things, runs, 1, centres, seed).ok()?.runs;
    let cells = cells(&mut rng, &runs, |_| 0.0);
    let found = effects(&runs, &cells).ok()?;
    Some(found.effects.iter().any(|one| one.is_clear))
}

/// The range of the first thing, worth 1.2 cells.
fn range_holds(things: usize, runs: usize, centres: usize, seed: u64) -> Option<bool> {
    let mut rng = ChaCha8Rng::seed_from_u64(seed);
    let runs = Design::plan(things, runs, 1, centres, seed).ok()?.runs;
    let half = |run: &PlannedRun| match run.levels[0] {
        Level::High => 0.6,
        Level::Low => -0.6,
        Level::Middle => 0.0,
    };
    let cells = cells(&mut rng, &runs, half);
    let found = effects(&runs, &cells).ok()?;
    let range = found.effects.first()?.interval?;
    Some(range.holds(1.2))
}

/// A hill so many cells high at the middle of one side, and not square.
struct Hill(f64);

impl Hill {
    fn at(&self, place: &[f64]) -> f64 {
        let off = |at: usize| place[at] - if at == 0 { 0.4 } else { -0.2 };
        let squares: f64 = (0..place.len()).map(|at| off(at).powi(2)).sum();
        self.0 * (2.0 * (-0.6 * squares).exp() - 1.0)
    }
}

/// The surface through a trial on a hill, and the cells expected on the mean of its days.
fn curve(
    layout: Layout,
    things: usize,
    days: u32,
    hill: f64,
    seed: u64,
) -> Option<(Surface, Truth)> {
    let mut rng = ChaCha8Rng::seed_from_u64(seed);
    let runs = plan(layout, things, days, 3, seed).ok()?;
    let place =
        |run: &PlannedRun| -> Vec<f64> { run.levels.iter().map(|one| coded(*one)).collect() };
    let hill = Hill(hill);
    let shifts: Vec<f64> = (0..days).map(|_| 0.4 * normal(&mut rng)).collect();
    let mean = |run: &PlannedRun| 2.6 + hill.at(&place(run)) + shifts[run.block as usize - 1];
    let y: Vec<f64> = runs
        .iter()
        .map(|run| (mean(run) + 0.8 * normal(&mut rng)).round().clamp(0.0, 5.0))
        .collect();
    let x: Vec<Vec<f64>> = runs.iter().map(place).collect();
    let blocks: Vec<u32> = runs.iter().map(|run| run.block).collect();
    let found = surface(&x, &blocks, &y)?;
    let weight = |day: usize| {
        blocks
            .iter()
            .filter(|block| **block as usize == day + 1)
            .count() as f64
    };
    let shift: f64 = (0..shifts.len()).map(|day| weight(day) * shifts[day]).sum();
    let level = 2.6 + shift / blocks.len() as f64;
    Some((found, Truth { hill, level }))
}

/// What is true at a place.
struct Truth {
    hill: Hill,
    level: f64,
}

impl Truth {
    fn at(&self, place: &[f64]) -> f64 {
        self.level + self.hill.at(place)
    }
}
