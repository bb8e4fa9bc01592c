//! What went with good pours: each factor tested by its kind, the false discovery rate held over all.
//!
//! A number is tested by rank (Mann-Whitney); its cut only words the result. Words are tested exactly (Fisher) when
//! there are two, else by dealing the good pours out anew with a fixed seed, or by chi-square where every word is
//! common enough (Cochran's five; from memory).

use super::distribution::chi2_tail;
use super::exact::fisher;
use super::multiple::benjamini_hochberg;
use super::proportion::{Interval, Tally, difference};
use super::ranks::mann_whitney;
use super::sides::{Side, Sides, number};
use rand::SeedableRng;
use rand::rngs::ChaCha8Rng;
use rand_distr::{Distribution, Hypergeometric};

/// Fewer rows of either outcome than this say nothing.
pub const LEAST_OF_EACH: usize = 3;
/// Fewer rows than this are too early to tell, whatever is not found in them.
pub const LEAST_ROWS: usize = 20;
/// A q under this is spoken of.
pub const ALARM: f64 = 0.1;
/// Deals for a factor of three words or more.
const DEALS: u32 = 1999;

/// What one pour had of a factor.
#[derive(Debug, Clone, PartialEq)]
pub enum FactorValue {
    /// A measured number; one that is not finite counts as missing.
    Number(f64),
    /// A word chosen from a few.
    Word(String),
    /// Not written down.
    Missing,
}

/// How a factor is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FactorKind {
    /// By numbers.
    Number,
    /// By words.
    Word,
}

/// A factor's name, kind, the unit shown after its numbers, and how finely they are measured.
#[derive(Debug, Clone, PartialEq)]
pub struct Factor {
    /// Its name, as shown.
    pub name: String,
    /// Numbers or words.
    pub kind: FactorKind,
    /// The unit's text; empty for none.
    pub unit: String,
    /// The least step its instrument shows, in the unit: 0.1 for a stopwatch. Over 0; of no matter for words.
    pub step: f64,
}

/// One pour: how it came out and its factors, in the order of the list of factors.
#[derive(Debug, Clone, PartialEq)]
pub struct Observation {
    /// Whether it was called good.
    pub good: bool,
    /// The painter's grade of the cells.
    pub cells: u8,
    /// One value for each factor.
    pub factors: Vec<FactorValue>,
}

/// What was found of one factor.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// The factor's name.
    pub name: String,
    /// Its kind.
    pub kind: FactorKind,
    /// Pours on which it was written down.
    pub n: usize,
    /// The difference in the share of good pours, with its 95 % interval; only between two sides.
    pub effect: Option<(f64, Interval)>,
    /// The test's p; none where there is nothing to test.
    pub p: Option<f64>,
    /// Benjamini and Hochberg's q over the factors tested.
    pub q: Option<f64>,
    /// The same in words.
    pub words: String,
    /// Its sides, with the pours on each.
    pub sides: Sides,
}

impl Finding {
    /// Whether it is worth speaking of.
    #[must_use]
    pub fn is_sign(&self) -> bool {
        self.q.is_some_and(|q| q < ALARM)
    }
}

/// A test before the others are known: its p and the words of its sides.
struct Look {
    sides: Sides,
    effect: Option<(f64, Interval)>,
    test: Result<(f64, String), &'static str>,
}

impl Look {
    fn silent(sides: Sides, why: &'static str) -> Self {
        Self {
            sides,
            effect: None,
            test: Err(why),
        }
    }
}

/// Looks at every factor, in the order given.
#[must_use]
pub fn find(factors: &[Factor], rows: &[Observation]) -> Vec<Finding> {
    let looks: Vec<Look> = (0..factors.len())
        .map(|i| look(&factors[i], i, rows))
        .collect();
    let p: Vec<f64> = looks
        .iter()
        .filter_map(|l| l.test.as_ref().ok().map(|t| t.0))
        .collect();
    let mut q = benjamini_hochberg(&p).into_iter();
    let tell = |(factor, look): (&Factor, Look)| {
        let q = if look.test.is_ok() { q.next() } else { None };
        finding(factor, look, q)
    };
    factors.iter().zip(looks).map(tell).collect()
}

fn finding(factor: &Factor, look: Look, q: Option<f64>) -> Finding {
    let words = match (&look.test, q) {
        (Ok((_, sides)), Some(q)) if q < ALARM => {
            format!(
                "{} {sides} ({}). Found by looking, not by a trial.",
                factor.name,
                told(q)
            )
        }
        (Ok((_, sides)), Some(q)) => {
            let nothing = nothing(look.sides.pours());
            format!("{} {sides} ({}). {nothing}", factor.name, told(q))
        }
        (Err(why), _) => format!("{}: {why}", factor.name),
        (Ok(_), None) => format!("{}: too early to tell.", factor.name),
    };
    let p = look.test.ok().map(|t| t.0);
    Finding {
        name: factor.name.clone(),
        kind: factor.kind,
        n: look.sides.pours(),
        effect: look.effect,
        p,
        q,
        words,
        sides: look.sides,
    }
}

/// What to say where nothing was found.
fn nothing(n: usize) -> String {
    if n < LEAST_ROWS {
        format!("Too early to tell from {n} pours.")
    } else {
        format!("No sign of it in {n} pours.")
    }
}

fn told(q: f64) -> String {
    if q < 0.01 {
        "q under 0.01".into()
    } else {
        format!("q {q:.2}")
    }
}

fn look(factor: &Factor, place: usize, rows: &[Observation]) -> Look {
    let sides = Sides::of(factor, place, rows);
    if let Some(why) = too_few(&sides) {
        return Look::silent(sides, why);
    }
    if sides.taken() < 2 {
        return Look::silent(sides, "the same on every pour, so it cannot be told.");
    }
    match factor.kind {
        FactorKind::Number => look_at_numbers(sides, place, rows),
        FactorKind::Word => look_at_words(sides),
    }
}

/// Why nothing can be said, if so, from the outcomes alone.
fn too_few(sides: &Sides) -> Option<&'static str> {
    let count = |of: fn(Tally) -> u32| sides.each.iter().map(|s| of(s.tally) as usize).sum();
    match (count(|t| t.good), count(Tally::bad)) {
        (0, 0) => Some("not written down on any pour."),
        (g, b) if usize::min(g, b) >= LEAST_OF_EACH => None,
        (_, 0) => Some("every pour was good, so nothing sets them apart. Too early to tell."),
        (0, _) => Some("no pour was good, so nothing sets them apart. Too early to tell."),
        _ => Some("too early to tell: at least three good and three other pours are needed."),
    }
}

fn look_at_numbers(sides: Sides, place: usize, rows: &[Observation]) -> Look {
    let of = |wanted: bool| -> Vec<f64> {
        let rows = rows.iter().filter(|row| row.good == wanted);
        rows.filter_map(|row| number(row.factors.get(place)?))
            .collect()
    };
    let Some(test) = mann_whitney(&of(true), &of(false)) else {
        return Look::silent(sides, "the same on every pour, so it cannot be told.");
    };
    Look {
        effect: between(&sides.each),
        test: Ok((test.p, told_sides(&sides.each))),
        sides,
    }
}

/// The difference between two sides; none between more.
fn between(sides: &[Side]) -> Option<(f64, Interval)> {
    match sides {
        [a, b] => difference(a.tally, b.tally),
        _ => None,
    }
}

/// `over 12.1 h: 11 of 15 good; not over 12.1 h: 4 of 13`.
fn told_sides(sides: &[Side]) -> String {
    let one = |(place, side): (usize, &Side)| {
        let good = if place == 0 { " good" } else { "" };
        let (name, t) = (&side.name, side.tally);
        format!("{name}: {} of {}{good}", t.good, t.pours)
    };
    let each: Vec<String> = sides.iter().enumerate().map(one).collect();
    each.join("; ")
}

fn look_at_words(sides: Sides) -> Look {
    let n = sides.pours();
    let p = match sides.each.as_slice() {
        [a, b] => fisher(a.tally, b.tally).map(|test| test.two_sided),
        many if many.len() * 2 > n => {
            return Look::silent(sides, "too many different words for so few pours.");
        }
        many => Some(many_words(many)),
    };
    let Some(p) = p else {
        return Look::silent(sides, "too early to tell.");
    };
    Look {
        effect: between(&sides.each),
        test: Ok((p, told_sides(&sides.each))),
        sides,
    }
}

/// Chi-square where five or more are expected in every corner of the table, else dealing.
fn many_words(sides: &[Side]) -> f64 {
    let tallies: Vec<Tally> = sides.iter().map(|side| side.tally).collect();
    let sum = |of: fn(&Tally) -> u32| tallies.iter().map(|t| f64::from(of(t))).sum::<f64>();
    let share = sum(|t| t.good) / sum(|t| t.pours);
    let rare = share.min(1.0 - share);
    if tallies.iter().any(|t| f64::from(t.pours) * rare < 5.0) {
        return dealt(&tallies);
    }
    let one = |t: &Tally| {
        let n = f64::from(t.pours);
        (f64::from(t.good) - n * share).powi(2) / (n * share * (1.0 - share))
    };
    chi2_tail(tallies.iter().map(one).sum(), tallies.len() as f64 - 1.0)
}

/// The share of deals that set the words at least as far apart, the pours as they fell counted in.
fn dealt(tallies: &[Tally]) -> f64 {
    let spread = |good: &mut dyn Iterator<Item = u32>| {
        let each = good.zip(tallies);
        each.map(|(good, t)| f64::from(good).powi(2) / f64::from(t.pours))
            .sum::<f64>()
    };
    let seen = spread(&mut tallies.iter().map(|t| t.good)) - 1e-9;
    let mut rng = ChaCha8Rng::seed_from_u64(1);
    let far = (0..DEALS).filter(|_| spread(&mut deal(tallies, &mut rng).into_iter()) >= seen);
    (1.0 + far.count() as f64) / (1.0 + f64::from(DEALS))
}

/// Deals the good pours out by chance among words poured as often as they were: a shuffle, without moving a card.
fn deal(tallies: &[Tally], rng: &mut ChaCha8Rng) -> Vec<u32> {
    let mut left = tallies.iter().fold(Tally::default(), |sum, t| Tally {
        good: sum.good + t.good,
        pours: sum.pours + t.pours,
    });
    let mut one = |t: &Tally| {
        let of = |n: u32| u64::from(n);
        let dealt = Hypergeometric::new(of(left.pours), of(left.good), of(t.pours));
        let good = dealt.map_or(0, |d| u32::try_from(d.sample(rng)).unwrap_or(0));
        left = Tally::new(left.good - good.min(left.good), left.pours - t.pours);
        good
    };
    tallies.iter().map(&mut one).collect()
}
