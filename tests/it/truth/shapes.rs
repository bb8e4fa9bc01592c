//! Studios of known truth and of several shapes: sessions, trends, seasons, twins, gaps. Shared with `benches/truth`.

// The tests and the bench each use their part.
#![allow(dead_code)]

use rand::rngs::ChaCha8Rng;
use rand::{RngExt, SeedableRng};
use rand_distr::StandardNormal;
use std::f64::consts::PI;
use stillcup::numbers::statistics::averaging::{Averaged, Outcome, TooEarly, average};
use stillcup::numbers::statistics::findings::{Factor, FactorKind, FactorValue, Observation};

/// What is true of a studio.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Shape {
    /// Nothing matters.
    Null,
    /// The factor `real` matters: two standard deviations make the odds so many times what they were.
    Odds(f64),
    /// The same, and another factor goes with it, correlated so much.
    Confounded(f64, f64),
    /// Pours come out better with time, by so much in log-odds, and three factors drift too.
    Trend(f64),
    /// Good and bad months take turns, and two factors swing with them.
    Season,
    /// From one day on all is better, and two factors jump that day.
    Jump,
    /// Sessions differ, with this standard deviation in log-odds, and factors are alike within one.
    Sessions(f64),
    /// The air is written down on some of the good pours only.
    MissingAir,
    /// The air is often left unwritten on bad days that were warm: what is written seems to matter.
    HiddenAir,
}

/// Places of factors that the shapes speak of.
pub const REAL: usize = 5;
/// The one that goes with it in a confounded studio.
pub const SHADOW: usize = 4;
/// The air.
pub const AIR: usize = 16;

/// A studio: what [`average`] takes.
pub struct Studio {
    /// The factors.
    pub factors: Vec<Factor>,
    /// The pours.
    pub rows: Vec<Observation>,
    /// When.
    pub hours: Vec<f64>,
}

impl Studio {
    /// What the pours say.
    pub fn average(&self, outcome: &Outcome) -> Result<Averaged, TooEarly> {
        average(&self.factors, &self.rows, &self.hours, outcome)
    }

    /// So many pours of a shape.
    pub fn new(shape: Shape, pours: usize, seed: u64) -> Self {
        let mut hand = Hand {
            rng: ChaCha8Rng::seed_from_u64(seed),
            shape,
            session: Session::default(),
            hour: 0.0,
        };
        let (rows, hours) = (0..pours)
            .map(|pour| hand.pour(pour as f64 / pours as f64))
            .unzip();
        Self {
            factors: factors(),
            rows,
            hours,
        }
    }
}

fn factors() -> Vec<Factor> {
    let names = (0..10)
        .map(|at| format!("x{at}"))
        .chain(["base", "colours", "gap", "way", "open", "weekday", "air"].map(str::to_owned));
    let words = ["way", "open", "weekday"];
    let factor = |name: String| Factor {
        kind: match words.contains(&name.as_str()) {
            true => FactorKind::Word,
            false => FactorKind::Number,
        },
        name,
        unit: String::new(),
        step: 0.1,
    };
    names.map(factor).collect()
}

/// What the pours of one session share.
#[derive(Default)]
struct Session {
    left: usize,
    luck: f64,
    factors: [f64; 4],
    day: usize,
}

struct Hand {
    rng: ChaCha8Rng,
    shape: Shape,
    session: Session,
    hour: f64,
}

impl Hand {
    fn bell(&mut self) -> f64 {
        self.rng.sample(StandardNormal)
    }

    /// One to five pours a session, half a day to five days apart.
    fn begin(&mut self) {
        self.hour += 24.0 * self.rng.random_range(0.5..5.5);
        self.session = Session {
            left: self.rng.random_range(1..=5),
            luck: self.bell(),
            factors: [(); 4].map(|()| self.bell()),
            day: (self.hour / 24.0) as usize % 7,
        };
    }

    fn pour(&mut self, when: f64) -> (Observation, f64) {
        if self.session.left == 0 {
            self.begin();
        }
        self.session.left -= 1;
        self.hour += 0.5;
        let x = self.numbers(when);
        let log_odds = self.log_odds(&x, when);
        let good = self.rng.random_bool(1.0 / (1.0 + (-log_odds).exp()));
        let cells = (3.0 + log_odds + 1.2 * self.bell()).round().clamp(0.0, 5.0);
        let good = match self.shape {
            Shape::HiddenAir => cells >= 3.0,
            _ => good,
        };
        let row = Observation {
            good,
            cells: cells as u8,
            factors: self.values(&x, good),
        };
        (row, self.hour)
    }

    fn numbers(&mut self, when: f64) -> [f64; 10] {
        let shared = self.session.factors;
        let mut x: [f64; 10] = std::array::from_fn(|at| match shared.get(at) {
            Some(shared) => 0.85 * shared + 0.5 * self.bell(),
            None => self.bell(),
        });
        match self.shape {
            Shape::Confounded(_, r) => x[SHADOW] = r * x[REAL] + (1.0 - r * r).sqrt() * x[SHADOW],
            Shape::Trend(_) => x[6..9].iter_mut().for_each(|x| *x += 2.5 * (when - 0.5)),
            Shape::Season => x[6..8].iter_mut().for_each(|x| *x += 1.5 * season(when)),
            Shape::Jump if when > 0.6 => x[6..8].iter_mut().for_each(|x| *x += 2.0),
            _ => {}
        }
        x
    }

    fn log_odds(&self, x: &[f64; 10], when: f64) -> f64 {
        let more = match self.shape {
            Shape::Odds(odds) | Shape::Confounded(odds, _) => 0.5 * odds.ln() * x[REAL],
            Shape::Trend(all) => all * (when - 0.5),
            Shape::Season => 1.2 * season(when),
            Shape::Jump if when > 0.6 => 2.0,
            Shape::Sessions(sd) => sd * self.session.luck,
            _ => 0.0,
        };
        more - 0.2
    }

    fn values(&mut self, x: &[f64; 10], good: bool) -> Vec<FactorValue> {
        let base = 3.6 + 0.5 * self.bell();
        let colours = 3.0 + 0.5 * self.bell();
        let way = ["ring", "line", "tilt", "swipe"][self.rng.random_range(0..4)];
        let open = if self.rng.random_bool(0.3) {
            "yes"
        } else {
            "no"
        };
        let day = ["a", "b", "c", "d", "e", "f", "g"][self.session.day];
        let warmth = self.bell();
        let written = match self.shape {
            Shape::MissingAir => !good || self.rng.random_bool(0.8),
            Shape::HiddenAir => good || warmth < 0.3 || self.rng.random_bool(0.3),
            _ => self.rng.random_bool(0.9),
        };
        let air = match written {
            true => FactorValue::Number(20.0 + warmth),
            false => FactorValue::Missing,
        };
        let numbers = x.iter().copied().chain([base, colours, base - colours]);
        let words = [way, open, day].map(|word| FactorValue::Word(word.into()));
        let values = numbers.map(FactorValue::Number).chain(words);
        values.chain([air]).collect()
    }
}

fn season(when: f64) -> f64 {
    (3.0 * PI * when).sin()
}
