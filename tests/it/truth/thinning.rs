//! What thinner does: the band of its strength and of an unread mound, and what "start with" does to a cup, where readings
//! err more or less than practice says and a studio has more than one thinner.

use super::rests::normal;
use super::{Claim, Measured, Seeds};
use rand::{RngExt, SeedableRng, rngs::ChaCha8Rng};
use rand_distr::{Distribution, StudentT};
use stillcup::numbers::noise::{Readings, Scatter, scatter};
use stillcup::numbers::thinning::{Advice, Cup, LIMIT, Strength, Triple, advise};
use stillcup::trade::range::Window;
use stillcup::trade::units::{Millilitres, Seconds, Share};

/// A studio: what its readings err by, its thinner, and how often it was tried.
#[derive(Debug, Clone, Copy)]
struct Studio {
    noise: f64,
    triples: usize,
    /// Whether the errors have the tails of Student's t with 4 degrees of freedom.
    heavy: bool,
    /// Whether half as many triples of another thinner of .4 the strength stand beside.
    other: bool,
    /// The strength; drawn about 6.9 with an sd of .367 on the log otherwise.
    strength: Option<f64>,
    /// How much the strength differs from cup to cup, on the log.
    cups: f64,
    /// How many triples of a day share that.
    a_day: usize,
}

const PLAIN: Studio = Studio {
    noise: 0.08,
    triples: 10,
    heavy: false,
    other: false,
    strength: None,
    cups: 0.0,
    a_day: 1,
};

const WINDOW: Window = Window {
    low: Seconds(2.0),
    high: Seconds(4.0),
};

/// The rows of this file.
pub fn claims() -> Vec<Claim> {
    let mut all = Vec::new();
    for noise in [0.03, 0.08, 0.15] {
        for triples in [3, 10, 30] {
            let name = format!("noise {noise}, {triples} triples");
            let studio = Studio {
                noise,
                triples,
                ..PLAIN
            };
            all.push(strength_row(&name, studio));
            all.push(unread_row(&name, studio));
        }
    }
    for triples in [3, 10, 30] {
        let studio = Studio {
            triples,
            other: true,
            ..PLAIN
        };
        all.push(strength_row(
            &format!("two thinners, {triples} triples each"),
            studio,
        ));
    }
    all.push(strength_row(
        "heavy tails, 30 triples",
        Studio {
            heavy: true,
            triples: 30,
            ..PLAIN
        },
    ));
    all.extend(cups_that_differ());
    let name = "thinning: width over that of one who knows the noise, noise 0.03, 30 triples";
    let known = |seeds| {
        wider(
            seeds,
            Studio {
                noise: 0.03,
                triples: 30,
                ..PLAIN
            },
        )
    };
    all.push(Claim::new(name, 0.8..=1.3, (50, 1000), known));
    let name = "thinning: 80 % band of the strength, another thinner unsaid 8 triples ago";
    all.push(Claim::new(name, 0.72..=1.0, (60, 2000), |seeds| {
        counted(seeds, &holds_after_change)
    }));
    for strength in [3.5, 6.9, 13.0] {
        for triples in [0, 3, 10] {
            let studio = Studio {
                strength: Some(strength),
                triples,
                ..PLAIN
            };
            let name = format!(
                "thinning: start with is past the window, b {strength:?}, {triples} triples"
            );
            all.push(Claim::new(name, 0.0..=0.25, (100, 2000), move |seeds| {
                past(seeds, studio)
            }));
        }
    }
    all
}

/// Paint of one variant is not one paint: a cup's own strength differs by a third, and those of one day are alike.
fn cups_that_differ() -> Vec<Claim> {
    let mut all = Vec::new();
    for (noise, triples, a_day, wanted) in [
        (0.03, 10, 1, 0.65..=0.88),
        (0.03, 30, 1, 0.65..=0.88),
        (0.08, 10, 1, 0.65..=0.88),
        (0.08, 30, 1, 0.65..=0.88),
        (0.15, 30, 1, 0.65..=0.88),
        (0.08, 12, 3, 0.55..=0.88),
        (0.08, 30, 3, 0.60..=0.88),
    ] {
        let studio = Studio {
            noise,
            triples,
            a_day,
            cups: 0.33,
            ..PLAIN
        };
        let name = format!(
            "thinning: 80 % band of the need, cups differ by a third, {a_day} a day alike, noise {noise}, {triples} triples"
        );
        all.push(Claim::new(name, wanted, (60, 2000), move |seeds| {
            needed(seeds, studio)
        }));
    }
    for triples in [3, 10, 30] {
        let studio = Studio { triples, ..PLAIN };
        let name = format!("thinning: 80 % band of the need, cups alike, {triples} triples");
        all.push(Claim::new(name, 0.75..=0.95, (60, 2000), move |seeds| {
            needed(seeds, studio)
        }));
    }
    all
}

/// How often what a cup needs, by its own strength, lies within the band that it is told.
fn needed(seeds: Seeds, studio: Studio) -> Measured {
    let (mut told, mut held) = (0, 0);
    for seed in seeds.each() {
        let (mut rng, b) = begin(seed, studio);
        let known = learned(&mut rng, studio, b);
        let own = b * (studio.cups * normal(&mut rng)).exp();
        let mound = rng.random_range(4.5..9.0_f64);
        let read = Seconds(mound * (studio.noise * normal(&mut rng)).exp());
        let cup = Cup {
            volume: Millilitres(100.0),
            thinner: Millilitres::ZERO,
            mound: read,
            spread: known.noise,
            limit: Share(0.9),
        };
        let Ok(Advice::Add(dose)) = advise(cup, WINDOW, &known) else {
            continue;
        };
        let share = (mound / WINDOW.middle().get()).ln() / own;
        let need = 100.0 * share / (1.0 - share);
        let band = dose.likely.band;
        told += 1;
        held += usize::from((band.low.get()..=band.high.get()).contains(&need));
    }
    Measured::share(held, told)
}

fn strength_row(name: &str, studio: Studio) -> Claim {
    let holds = move |seed: &u64| {
        let (mut rng, b) = begin(*seed, studio);
        let band = learned(&mut rng, studio, b).band();
        (band.low..=band.high).contains(&b)
    };
    // Fewer than ten readings cannot tell a studio's noise.
    let wanted = if studio.triples < 10 {
        0.60..=1.0
    } else {
        0.75..=0.85
    };
    let name = format!("thinning: 80 % band of the strength, {name}");
    Claim::new(name, wanted, (100, 2000), move |seeds| {
        counted(seeds, &holds)
    })
}

/// The mound after a thinning that nobody read, by a reading before it.
fn unread_row(name: &str, studio: Studio) -> Claim {
    let holds = move |seed: &u64| {
        let (mut rng, b) = begin(*seed, studio);
        let known = learned(&mut rng, studio, b);
        let (mound, added) = (rng.random_range(4.0..9.0), rng.random_range(0.03..0.15));
        let read = Seconds(mound * (studio.noise * normal(&mut rng)).exp());
        let band = known.expect(read, Share(added)).band;
        let truth = mound * f64::exp(-b * added);
        (band.low.0..=band.high.0).contains(&truth)
    };
    let wanted = if studio.triples < 10 {
        0.60..=1.0
    } else {
        0.75..=0.85
    };
    let name = format!("thinning: 80 % band of an unread mound, {name}");
    Claim::new(name, wanted, (100, 2000), move |seeds| {
        counted(seeds, &holds)
    })
}

/// Twenty triples of a thinner of strength 3, then eight of one of 7 under its name.
fn holds_after_change(seed: &u64) -> bool {
    let mut rng = ChaCha8Rng::seed_from_u64(*seed);
    let of = |triples| Studio { triples, ..PLAIN };
    let mut all = triples(&mut rng, of(20), 3.0);
    all.extend(triples(&mut rng, of(8), 7.0));
    let band = learn(&all, &[]).band();
    (band.low..=band.high).contains(&7.0)
}

fn counted(seeds: Seeds, holds: &impl Fn(&u64) -> bool) -> Measured {
    Measured::share(seeds.each().filter(holds).count(), seeds.count)
}

/// How often a cup that was thinned by what it says to begin with has left the window on the thin side.
fn past(seeds: Seeds, studio: Studio) -> Measured {
    let (mut advised, mut past) = (0, 0);
    for seed in seeds.each() {
        let (mut rng, b) = begin(seed, studio);
        let known = learned(&mut rng, studio, b);
        let mound = rng.random_range(4.2..9.0_f64);
        let cup = Cup {
            volume: Millilitres(100.0),
            thinner: Millilitres::ZERO,
            mound: Seconds(mound * (studio.noise * normal(&mut rng)).exp()),
            spread: known.noise,
            limit: LIMIT,
        };
        if let Ok(Advice::Add(dose)) = advise(cup, WINDOW, &known) {
            let ml = dose.start_with.get();
            let share = ml / (100.0 + ml);
            advised += 1;
            past += usize::from(mound * (-b * share).exp() < WINDOW.low.get());
        }
    }
    Measured::share(past, advised)
}

/// The width of the band of b over that of one who knows the noise.
fn wider(seeds: Seeds, studio: Studio) -> Measured {
    let ratio = |seed: u64| {
        let (mut rng, b) = begin(seed, studio);
        let read = triples(&mut rng, studio, b);
        let width = |known: Strength| (known.band().high / known.band().low).ln();
        let oracle = Strength::learn(&read, &[], &[], Scatter::alike(studio.noise));
        width(learn(&read, &[])) / width(oracle)
    };
    Measured::mean(&seeds.each().map(ratio).collect::<Vec<_>>())
}

fn begin(seed: u64, studio: Studio) -> (ChaCha8Rng, f64) {
    let mut rng = ChaCha8Rng::seed_from_u64(seed);
    let drawn = (6.9_f64.ln() + 0.367 * normal(&mut rng)).exp();
    (rng, studio.strength.unwrap_or(drawn))
}

fn learned(rng: &mut ChaCha8Rng, studio: Studio, b: f64) -> Strength {
    let own = triples(rng, studio, b);
    let other = match studio.other {
        true => triples(rng, studio, 0.4 * b),
        false => Vec::new(),
    };
    learn(&own, &other)
}

fn learn(own: &[Triple], other: &[Triple]) -> Strength {
    let readings = Readings {
        thinned: vec![own.to_vec(), other.to_vec()],
        stood: Vec::new(),
    };
    Strength::learn(own, &[], &[vec![other.to_vec()]], scatter(&readings))
}

fn triples(rng: &mut ChaCha8Rng, studio: Studio, b: f64) -> Vec<Triple> {
    let days = studio.triples.div_ceil(studio.a_day);
    let own: Vec<f64> = (0..days)
        .map(|_| match studio.cups > 0.0 {
            true => b * (studio.cups * normal(rng)).exp(),
            // Studios of alike cups stay the same studios.
            false => b,
        })
        .collect();
    (0..studio.triples)
        .map(|at| triple(rng, studio, own[at / studio.a_day]))
        .collect()
}

fn triple(rng: &mut ChaCha8Rng, studio: Studio, b: f64) -> Triple {
    let (before, added) = (rng.random_range(4.0..9.0), rng.random_range(0.03..0.15));
    let after: f64 = before * f64::exp(-b * added);
    let mut read = |mound: f64| Seconds(mound * (studio.noise * error(rng, studio.heavy)).exp());
    Triple {
        before: read(before),
        added: Share(added),
        after: read(after),
    }
}

/// An error of sd 1.
fn error(rng: &mut ChaCha8Rng, heavy: bool) -> f64 {
    match StudentT::new(4.0) {
        Ok(tails) if heavy => tails.sample(rng) / 2_f64.sqrt(),
        _ => normal(rng),
    }
}
