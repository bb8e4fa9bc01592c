//! The best settings: how often something is advised where no setting matters, and what a painter who follows the advice
//! gives away beside one who varies a setting at a time and one who goes here and there.

use super::shapes::{Shape, Studio};
use super::{Claim, Measured, Seeds};
use rand::rngs::ChaCha8Rng;
use rand::{RngExt, SeedableRng};
use rand_distr::StandardNormal;
use stillcup::numbers::statistics::findings::{Factor, FactorValue, Observation};
use stillcup::numbers::statistics::gaussian_process::{Samples, Surface};
use stillcup::numbers::statistics::improvement::{advised, best_place};
use stillcup::studio::{Logged, SettingsAdvice, Tried};

/// The rows of this file.
pub fn claims() -> Vec<Claim> {
    let shapes = [
        ("null", Shape::Null),
        ("sessions that differ by 1.0", Shape::Sessions(1.0)),
        ("a trend of 3 log-odds", Shape::Trend(3.0)),
        ("seasons", Shape::Season),
        ("one jump", Shape::Jump),
    ];
    let mut claims = Vec::new();
    for (name, shape) in shapes {
        for pours in [20, 30, 40, 60, 200] {
            let title = format!("best settings, {name}, {pours} pours: something is advised");
            claims.push(Claim::new(title, 0.0..=0.10, (0, 200), move |seeds| {
                let advises = |seed: &u64| is_advised(shape, pours, *seed);
                Measured::share(seeds.each().filter(advises).count(), seeds.count)
            }));
        }
    }
    for (pours, wanted) in [(60, 0.4..=1.0), (150, 0.9..=1.0)] {
        let title =
            format!("best settings, a hill of 2.5 cells, {pours} pours: something is advised");
        claims.push(Claim::new(title, wanted, (0, 200), move |seeds| {
            let known = |seed: &u64| hill_is_known(*seed, pours);
            Measured::share(seeds.each().filter(known).count(), seeds.count)
        }));
    }
    for pours in [60, 150] {
        let title = format!(
            "best settings, a hill and three idle settings, {pours} pours: cells promised over true"
        );
        claims.push(Claim::new(title, -0.3..=0.3, (0, 200), move |seeds| {
            promised_too_much(seeds, pours)
        }));
    }
    for (name, other) in [
        ("one setting at a time", Way::OneAtATime),
        ("a random walk", Way::Walk),
    ] {
        let title = format!("best settings, regret after 60 pours over that of {name}");
        claims.push(Claim::new(title, 0.0..=0.5, (0, 60), move |seeds| {
            over(seeds, other)
        }));
    }
    claims
}

/// The settings that the first factors of a studio stand for; the last three of them drift where it has a trend.
const SETTINGS: [Logged; 6] = [
    Logged::Rest,
    Logged::BaseMound,
    Logged::ColourMound,
    Logged::ActivatorShare,
    Logged::Film,
    Logged::Temperature,
];
const PLACES: [usize; 6] = [0, 1, 4, 6, 7, 8];

fn is_advised(shape: Shape, pours: usize, seed: u64) -> bool {
    let studio = Studio::new(shape, pours, seed);
    let factors = PLACES.map(|place| studio.factors[place].clone());
    let row = |row: &Observation| Observation {
        factors: PLACES.map(|place| row.factors[place].clone()).to_vec(),
        ..row.clone()
    };
    // The newest first.
    let tried = Tried {
        factors: factors.to_vec(),
        logged: SETTINGS.map(Some).to_vec(),
        rows: studio.rows.iter().rev().map(row).collect(),
        hours: studio.hours.iter().rev().copied().collect(),
    };
    tried
        .best(&|_| {})
        .is_ok_and(|found| found.advice.is_some())
}

/// How a painter looks for the best settings.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Way {
    /// By what the program advises from 20 pours on.
    Advised,
    /// One setting a little up and down, three pours each, the best kept; then the next setting.
    OneAtATime,
    /// A step here or there; back where it came out worse.
    Walk,
}

/// A painter's studio: a hill of 2.5 cells that leans, cells that err by .9, two pours a session that share .4.
struct Painter {
    rng: ChaCha8Rng,
    top: [f64; 3],
    luck: f64,
    samples: Samples,
}

impl Painter {
    fn new(seed: u64) -> Self {
        let mut rng = ChaCha8Rng::seed_from_u64(seed);
        Self {
            top: [(); 3].map(|()| rng.random_range(0.15..0.85)),
            rng,
            luck: 0.0,
            samples: Samples::default(),
        }
    }

    fn bell(&mut self) -> f64 {
        self.rng.sample(StandardNormal)
    }

    /// What is given away at a place.
    fn lost(&self, x: &[f64]) -> f64 {
        let off = |at: usize| x[at] - self.top[at];
        let ridge = off(0) + 0.5 * off(1);
        let sum = ridge * ridge + 0.7 * off(1).powi(2) + 0.5 * off(2).powi(2);
        2.5 * (1.0 - (-3.0 * sum).exp())
    }

    /// Pours once, and judges it in whole cells.
    fn pour(&mut self, x: &[f64]) -> f64 {
        let at = self.samples.y.len();
        if at.is_multiple_of(2) {
            self.luck = 0.4 * self.bell();
        }
        let cells = 4.2 - self.lost(x) + self.luck + 0.9 * self.bell();
        let cells = cells.round().clamp(0.0, 5.0);
        self.samples.x.push(x.to_vec());
        self.samples.y.push(cells);
        self.samples.sessions.push(at / 2);
        cells
    }

    fn anywhere(&mut self) -> Vec<f64> {
        (0..3).map(|_| self.rng.random()).collect()
    }

    /// What is given away at the place thought best after so many pours.
    fn regret(mut self, way: Way, pours: usize) -> f64 {
        let place = match way {
            Way::Advised => self.follow(pours),
            Way::OneAtATime => self.one_at_a_time(pours),
            Way::Walk => self.walk(pours),
        };
        self.lost(&place)
    }

    fn follow(&mut self, pours: usize) -> Vec<f64> {
        let ranges = vec![0.0..=1.0; 3];
        for at in 0..pours {
            let next = match at {
                0..20 => self.anywhere(),
                _ => match Surface::fit(&self.samples) {
                    None => self.anywhere(),
                    // Where nothing is known the painter goes on here and there, as before.
                    Some(surface) if surface.skill() <= 1.5 / (at as f64).sqrt() => self.anywhere(),
                    Some(surface) => {
                        let means = self.samples.x.iter().map(|x| surface.at(x).mean);
                        let best = means.fold(f64::NEG_INFINITY, f64::max);
                        advised(&surface, best, &ranges)
                    }
                },
            };
            self.pour(&next);
        }
        let surface = Surface::fit(&self.samples);
        surface.map_or(vec![0.5; 3], |surface| {
            best_place(&ranges, |x| surface.at(x).mean)
        })
    }

    fn one_at_a_time(&mut self, pours: usize) -> Vec<f64> {
        let mut here = self.anywhere();
        let mut step = 0.25;
        let (mut left, mut setting) = (pours, 0);
        while left >= 9 {
            let ways = [-step, 0.0, step].map(|way| {
                let mut there = here.clone();
                there[setting] = (there[setting] + way).clamp(0.0, 1.0);
                let cells: f64 = (0..3).map(|_| self.pour(&there)).sum();
                (cells, there)
            });
            left -= 9;
            let best = ways.into_iter().max_by(|a, b| a.0.total_cmp(&b.0));
            here = best.map_or(here, |best| best.1);
            setting = (setting + 1) % 3;
            step *= if setting == 0 { 0.6 } else { 1.0 };
        }
        here
    }

    fn walk(&mut self, pours: usize) -> Vec<f64> {
        let mut here = self.anywhere();
        let mut cells = self.pour(&here);
        for _ in 1..pours {
            let step = [(); 3].map(|()| 0.15 * self.bell());
            let moved = here.iter().zip(step).map(|(x, step)| x + step);
            let there: Vec<f64> = moved.map(|x| x.clamp(0.0, 1.0)).collect();
            let came = self.pour(&there);
            if came >= cells {
                (here, cells) = (there, came);
            }
        }
        here
    }
}

fn over(seeds: Seeds, other: Way) -> Measured {
    let mean = |way: Way| {
        let all: Vec<f64> = seeds
            .each()
            .map(|seed| Painter::new(seed).regret(way, 60))
            .collect();
        Measured::mean(&all)
    };
    let (own, others) = (mean(Way::Advised), mean(other));
    Measured {
        value: own.value / others.value,
        error: own.error / others.value,
        draws: own.draws,
    }
}

/// Whether so many pours here and there tell that settings matter.
fn hill_is_known(seed: u64, pours: usize) -> bool {
    advice_on_hill(seed, pours, 3).is_some()
}

/// What is advised after so many pours here and there, of three settings that matter and others that do not; with the
/// painter who poured.
fn advice_on_hill(seed: u64, pours: usize, settings: usize) -> Option<(Painter, SettingsAdvice)> {
    let mut painter = Painter::new(seed);
    for _ in 0..pours {
        let place = painter.anywhere();
        painter.pour(&place);
    }
    let number = |value: &f64| FactorValue::Number(*value);
    let row = |(x, y): (&Vec<f64>, &f64)| Observation {
        good: *y >= 4.0,
        cells: *y as u8,
        factors: x.iter().map(number).collect(),
    };
    let factor = |one: Logged| Factor {
        step: 0.01,
        ..one.factor()
    };
    let idle: Vec<Vec<f64>> = (0..pours)
        .map(|_| (3..settings).map(|_| painter.rng.random()).collect())
        .collect();
    let samples = &painter.samples;
    let all = samples
        .x
        .iter()
        .zip(&idle)
        .map(|(x, idle)| [&x[..], idle].concat());
    let all: Vec<Vec<f64>> = all.collect();
    let tried = Tried {
        factors: SETTINGS[..settings]
            .iter()
            .map(|one| factor(*one))
            .collect(),
        logged: SETTINGS[..settings].iter().copied().map(Some).collect(),
        rows: all.iter().zip(&samples.y).map(row).rev().collect(),
        hours: (0..pours).rev().map(|at| (at / 2) as f64 * 24.0).collect(),
    };
    let advice = tried.best(&|_| {}).ok()?.advice?;
    Some((painter, advice))
}

/// By how many cells more is promised of what is advised than it gives.
fn promised_too_much(seeds: Seeds, pours: usize) -> Measured {
    let over = |seed: u64| {
        let (painter, advice) = advice_on_hill(seed, pours, 6)?;
        let place = SETTINGS[..3].iter().map(|setting| {
            let own = advice.settings.iter().find(|one| one.setting == *setting);
            // What is not advised stays at the middle of what was tried.
            own.map_or(0.5, |one| one.value)
        });
        let place: Vec<f64> = place.collect();
        Some(advice.expect.mid - (4.2 - painter.lost(&place)))
    };
    Measured::mean(&seeds.each().filter_map(over).collect::<Vec<_>>())
}
