//! Studios that never were: pours with the factors that the program takes from its log, of which rest matters or none
//! does. Some factors follow from others, some follow rest, some were not always written down.

use rand::rngs::ChaCha8Rng;
use rand::{RngExt, SeedableRng};
use rand_distr::StandardNormal;
use stillcup::numbers::statistics::findings::{Factor, FactorKind, FactorValue, Observation};

/// Name, unit and least step of each; words have neither.
const FACTORS: [(&str, &str, f64); 21] = [
    ("rest", "h", 0.1),
    ("minutes since thinning", "min", 1.0),
    ("mound of the base", "s", 0.1),
    ("mound of the colours", "s", 0.1),
    ("mound of the activator", "s", 0.1),
    ("gap base to colours", "s", 0.1),
    ("gap colours to activator", "s", 0.1),
    ("every cup ready", "", 0.0),
    ("activator share", "%", 1.0),
    ("technique", "", 0.0),
    ("spins", "", 0.5),
    ("spin reversed", "", 0.0),
    ("temperature", "C", 1.0),
    ("humidity", "%", 1.0),
    ("start-over", "", 1.0),
    ("weekday", "", 0.0),
    ("hour", "h", 0.1),
    ("age of the oldest cup", "h", 0.1),
    ("a cup stood open", "", 0.0),
    ("share of white", "%", 1.0),
    ("share of water", "%", 1.0),
];

/// From so many cells on a pour is good.
const BAR: u8 = 4;
/// How much likelier, in log-odds, a pour reaches each grade than the bar.
const GRADES: [f64; 5] = [3.0, 2.0, 1.0, 0.0, -1.5];

/// The factors, in the order of the values in each row.
pub fn factors() -> Vec<Factor> {
    FACTORS.iter().map(factor).collect()
}

fn factor((name, unit, step): &(&str, &str, f64)) -> Factor {
    Factor {
        name: (*name).into(),
        kind: if *step == 0.0 {
            FactorKind::Word
        } else {
            FactorKind::Number
        },
        unit: (*unit).into(),
        step: step.max(0.1),
    }
}

/// A studio's pours. Two standard deviations more of rest make the odds of a good pour `odds` times what they were;
/// at the mean rest they are five to six.
pub fn studio(pours: usize, odds: f64, seed: u64) -> Vec<Observation> {
    let mut hand = Hand(ChaCha8Rng::seed_from_u64(seed));
    (0..pours).map(|_| hand.pour(odds)).collect()
}

/// The grade of a pour whose log-odds of being good are given: the odds of reaching any grade change alike.
pub fn cells(log_odds: f64, rng: &mut ChaCha8Rng) -> u8 {
    let lot: f64 = rng.random();
    let reached = |ease: &&f64| lot < 1.0 / (1.0 + (-log_odds - **ease).exp());
    GRADES.iter().take_while(reached).count() as u8
}

/// Whether so many cells are good.
pub const fn good(cells: u8) -> bool {
    cells >= BAR
}

struct Hand(ChaCha8Rng);

impl Hand {
    fn bell(&mut self) -> f64 {
        self.0.sample(StandardNormal)
    }

    fn chance(&mut self, share: f64) -> bool {
        self.0.random_bool(share)
    }

    fn one_of(&mut self, words: &[&str]) -> FactorValue {
        FactorValue::Word(words[self.0.random_range(0..words.len())].into())
    }

    fn pour(&mut self, odds: f64) -> Observation {
        let longer = self.bell();
        let log_odds = (5.0_f64 / 6.0).ln() + 0.5 * odds.ln() * longer;
        let cells = cells(log_odds, &mut self.0);
        Observation {
            good: good(cells),
            cells,
            factors: self.factors(16.0 + 4.0 * longer),
        }
    }

    fn factors(&mut self, rest: f64) -> Vec<FactorValue> {
        let [base, colour, activator] = self.mounds();
        let spins = if self.chance(0.4) {
            f64::from(self.0.random_range(1..8))
        } else {
            0.0
        };
        let warm = self.bell();
        let white = 40.0 + 8.0 * self.bell();
        let aired = self.chance(0.8);
        let noted = |kept: bool, value: f64| {
            if kept {
                FactorValue::Number(value)
            } else {
                FactorValue::Missing
            }
        };
        vec![
            FactorValue::Number(rest),
            noted(
                self.chance(0.6),
                self.0.random_range(2.0..180.0_f64).round(),
            ),
            FactorValue::Number(base),
            FactorValue::Number(colour),
            noted(activator.is_finite(), activator),
            FactorValue::Number(base - colour),
            noted(activator.is_finite(), colour - activator),
            yes_no(rest + 2.0 * self.bell() > 12.0),
            FactorValue::Number(8.0 + 3.0 * self.bell()),
            self.one_of(&["ring", "ring", "line", "tilt", "swipe"]),
            FactorValue::Number(spins),
            self.reversed(spins),
            noted(aired, (20.0 + 2.0 * warm).round()),
            noted(aired, (50.0 - 5.0 * warm + 5.0 * self.bell()).round()),
            FactorValue::Number(f64::from(u8::from(self.chance(0.15)))),
            self.one_of(&["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"]),
            FactorValue::Number(self.0.random_range(9.0..21.0)),
            FactorValue::Number(rest + 3.0 * self.bell().abs()),
            yes_no(self.chance(0.3)),
            FactorValue::Number(white),
            FactorValue::Number(92.0 - white + 2.0 * self.bell()),
        ]
    }

    /// Base, colours and activator in tenths of a second, as a stopwatch shows them; one in ten pours has no activator's.
    fn mounds(&mut self) -> [f64; 3] {
        let thick = 3.0 + 0.4 * self.bell();
        let tenth = |seconds: f64| (seconds * 10.0).round() / 10.0;
        let [base, colour, activator] =
            [0.6, 0.0, -0.8].map(|more| thick + more + 0.3 * self.bell());
        let read = if self.chance(0.9) {
            activator
        } else {
            f64::NAN
        };
        [tenth(base), tenth(colour), tenth(read)]
    }

    fn reversed(&mut self, spins: f64) -> FactorValue {
        if spins == 0.0 {
            return FactorValue::Missing;
        }
        yes_no(self.chance(0.3))
    }
}

fn yes_no(yes: bool) -> FactorValue {
    FactorValue::Answer(yes)
}
