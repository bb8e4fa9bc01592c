//! Rest: whether the band of a paint's median clearing time holds it, and that of a next cup the cup, for painters who look at
//! their cups in other ways.

use super::{Claim, Measured, Seeds};
use rand::{RngExt, SeedableRng, rngs::ChaCha8Rng};
use rand_distr::{Distribution, StandardNormal};
use std::collections::BTreeMap;
use stillcup::numbers::rest::{Beside, Look, Looked, Rest, Rests};
use stillcup::trade::units::{Band, Hours};

/// When a painter looks at a cup.
#[derive(Debug, Clone, Copy)]
pub enum Habit {
    /// Mixed in the evening, looked at in the morning and on each morning after.
    Morning,
    /// Every so many hours from the first on, until it is clear.
    Every(f64),
    /// As `Every`, but only while the painter is up: not from 16 h a day on.
    Waking(f64),
}

/// A studio of one variant.
#[derive(Debug, Clone, Copy)]
pub struct Studio {
    /// The median of the anchor cup, in hours.
    pub median: f64,
    /// The sd of ln(time) of a cup.
    pub spread: f64,
    /// How many cups were looked at.
    pub cups: usize,
    /// When.
    pub habit: Habit,
    /// The share of looks that say the wrong thing.
    pub slips: f64,
    /// The sd of ln(time) that all cups of a day share.
    pub day: f64,
    /// Whether times are logistic about the median on the log and not normal: heavier tails.
    pub heavy: bool,
}

const PLAIN: Studio = Studio {
    median: 12.0,
    spread: 0.25,
    cups: 15,
    habit: Habit::Every(3.0),
    slips: 0.0,
    day: 0.0,
    heavy: false,
};

/// Medians evenly over the logs from 4 to 30 h; the share of bands that hold them, and the mean error of the middle.
pub fn claims() -> Vec<Claim> {
    let habits = [
        ("each morning", Habit::Morning),
        ("every 3 h", Habit::Every(3.0)),
        ("every 3 h awake", Habit::Waking(3.0)),
        ("every 30 min", Habit::Every(0.5)),
        ("every 6 min", Habit::Every(0.1)),
    ];
    let mut all = Vec::new();
    for (name, habit) in habits {
        for spread in [0.25, 0.5] {
            for cups in [5, 15, 40] {
                let studio = Studio {
                    spread,
                    cups,
                    habit,
                    ..PLAIN
                };
                all.extend(rows(
                    &format!("{name}, spread {spread}, {cups} cups"),
                    studio,
                ));
            }
        }
    }
    all.extend(odd());
    all
}

/// Studios of other shapes.
fn odd() -> Vec<Claim> {
    let odd = [
        (
            "one look in 30 a slip, every 3 h",
            Studio {
                slips: 1.0 / 30.0,
                ..PLAIN
            },
        ),
        (
            "one look in 30 a slip, every 30 min",
            Studio {
                slips: 1.0 / 30.0,
                habit: Habit::Every(0.5),
                ..PLAIN
            },
        ),
        (
            "one look in 100 a slip, mornings",
            Studio {
                slips: 0.01,
                habit: Habit::Morning,
                ..PLAIN
            },
        ),
        (
            "heavy tails, every 3 h",
            Studio {
                heavy: true,
                ..PLAIN
            },
        ),
        (
            "three cups a day share .15, every 3 h",
            Studio { day: 0.15, ..PLAIN },
        ),
        (
            "three cups a day share .3, each morning",
            Studio {
                day: 0.3,
                habit: Habit::Morning,
                ..PLAIN
            },
        ),
        (
            "three cups a day share .15, every 30 min, 40 cups",
            Studio {
                day: 0.15,
                cups: 40,
                habit: Habit::Every(0.5),
                ..PLAIN
            },
        ),
    ];
    odd.into_iter()
        .flat_map(|(name, studio)| rows(name, studio))
        .collect()
}

fn rows(name: &str, studio: Studio) -> [Claim; 3] {
    let draws = (if studio.cups == 15 { 6 } else { 0 }, 400);
    let held = move |seeds: Seeds| held(seeds, studio);
    let off = move |seeds: Seeds| off(seeds, studio);
    let next = move |seeds: Seeds| next(seeds, studio);
    let claim = |of: &str| format!("rest: {of}, {name}");
    [
        Claim::new(claim("80 % band"), 0.72..=0.85, draws, held),
        Claim::new(claim("middle over truth"), 0.9..=1.1, draws, off),
        Claim::new(claim("next cup's 80 % band"), 0.75..=0.85, draws, next),
    ]
}

/// How often the next cup, set to rest on a day of its own, clears within its band.
fn next(seeds: Seeds, studio: Studio) -> Measured {
    let holds = |seed: u64| {
        let (median, known) = learned(seed, studio);
        let mut rng = ChaCha8Rng::seed_from_u64(seed ^ 0x5EED);
        let day = studio.day * normal(&mut rng);
        let clears = clears(&mut rng, Studio { median, ..studio }, 1.0, day);
        (known.next.low..=known.next.high).contains(&(clears / 12.0))
    };
    Measured::share(
        seeds.each().filter(|&seed| holds(seed)).count(),
        seeds.count,
    )
}

fn held(seeds: Seeds, studio: Studio) -> Measured {
    let holds = |seed: u64| {
        let (median, known) = learned(seed, studio);
        (known.factor.low..=known.factor.high).contains(&(median / 12.0))
    };
    Measured::share(
        seeds.each().filter(|&seed| holds(seed)).count(),
        seeds.count,
    )
}

fn off(seeds: Seeds, studio: Studio) -> Measured {
    let error = |seed: u64| {
        let (median, known) = learned(seed, studio);
        (known.factor.mid * 12.0 / median).ln()
    };
    let logs = Measured::mean(&seeds.each().map(error).collect::<Vec<_>>());
    Measured {
        value: logs.value.exp(),
        ..logs
    }
}

fn learned(seed: u64, studio: Studio) -> (f64, Beside) {
    let mut rng = ChaCha8Rng::seed_from_u64(seed);
    let median = 4.0 * f64::powf(7.5, rng.random_range(0.0..1.0));
    let studio = Studio { median, ..studio };
    let looked = Looked {
        rests: rests(&mut rng, studio),
    };
    let known = Rests::learn(&BTreeMap::from([(1, looked)])).of(1);
    // None is right of nothing.
    let nothing = Beside {
        anchor: None,
        factor: Band::exactly(f64::NAN),
        next: Band::exactly(f64::NAN),
        looks: 0,
        own: false,
    };
    (median, known.unwrap_or(nothing))
}

/// What was seen at each cup.
pub fn rests(rng: &mut ChaCha8Rng, studio: Studio) -> Vec<Rest> {
    let mut day = 0.0;
    let mut each = Vec::new();
    for cup in 0..studio.cups {
        // Three cups a day.
        if cup % 3 == 0 {
            day = studio.day * normal(rng);
        }
        let scale = rng.random_range(0.5..2.0);
        let clears = clears(rng, studio, scale, day);
        each.push(Rest {
            day: cup as i64 / 3,
            looks: looks(rng, studio, clears, scale),
        });
    }
    each
}

/// When a cup clears, in hours.
fn clears(rng: &mut ChaCha8Rng, studio: Studio, scale: f64, day: f64) -> f64 {
    let z = if studio.heavy {
        logistic(rng)
    } else {
        normal(rng)
    };
    studio.median * scale * (studio.spread * z + day).exp()
}

fn looks(rng: &mut ChaCha8Rng, studio: Studio, clears: f64, scale: f64) -> Vec<Look> {
    let mut seen = Vec::new();
    for after in hours(rng, studio.habit) {
        let clear = (clears <= after) != rng.random_bool(studio.slips);
        seen.push(Look {
            after: Hours(after),
            scale,
            practice: Hours(12.0 * scale),
            clear,
        });
        if clear || seen.len() == 2000 {
            break;
        }
    }
    seen
}

fn hours(rng: &mut ChaCha8Rng, habit: Habit) -> Vec<f64> {
    let evening = rng.random_range(10.0..15.0);
    let begin = |every: f64| (1..4000).map(move |nth| f64::from(nth) * every);
    match habit {
        Habit::Morning => (0..40).map(|day| evening + 24.0 * f64::from(day)).collect(),
        Habit::Every(every) => begin(every).collect(),
        Habit::Waking(every) => begin(every).filter(|hour| hour % 24.0 < 16.0).collect(),
    }
}

pub fn normal(rng: &mut ChaCha8Rng) -> f64 {
    StandardNormal.sample(rng)
}

/// A logistic of sd 1.
fn logistic(rng: &mut ChaCha8Rng) -> f64 {
    let share: f64 = rng.random_range(1e-9..1.0);
    (share / (1.0 - share)).ln() * 3_f64.sqrt() / std::f64::consts::PI
}
