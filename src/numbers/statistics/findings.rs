//! What went with good pours: each factor tested by its kind, the false discovery rate held over all.
//!
//! A number is tested by rank (Mann-Whitney); its cut is the median, fixed before looking, and only words the
//! result. Words are tested exactly (Fisher) when there are two, else by shuffling with a fixed seed, or by
//! chi-square where every word is common enough (Cochran's five; from memory).

use super::distribution::chi2_tail;
use super::exact::fisher;
use super::multiple::benjamini_hochberg;
use super::proportion::{Interval, Tally, difference};
use super::ranks::mann_whitney;
use rand::SeedableRng;
use rand::rngs::ChaCha8Rng;
use rand::seq::SliceRandom;
use std::collections::BTreeMap;

/// Fewer rows of either outcome than this say nothing.
const LEAST_OF_EACH: usize = 3;
/// Fewer rows than this are too early to tell, whatever is not found in them.
const LEAST_ROWS: usize = 20;
/// A q under this is spoken of.
const ALARM: f64 = 0.1;
/// Shuffles for a factor of three words or more.
const SHUFFLES: u32 = 1999;

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

/// A factor's name, kind and the unit shown after its numbers.
#[derive(Debug, Clone, PartialEq)]
pub struct Factor {
    /// Its name, as shown.
    pub name: String,
    /// Numbers or words.
    pub kind: FactorKind,
    /// The unit's text; empty for none.
    pub unit: String,
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
}

/// A test before the others are known: its p and the words of its sides.
struct Look {
    n: usize,
    effect: Option<(f64, Interval)>,
    test: Result<(f64, String), &'static str>,
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
            format!("{} {sides} ({}). {}", factor.name, told(q), nothing(look.n))
        }
        (Err(why), _) => format!("{}: {why}", factor.name),
        (Ok(_), None) => format!("{}: too early to tell.", factor.name),
    };
    let p = look.test.ok().map(|t| t.0);
    Finding {
        name: factor.name.clone(),
        kind: factor.kind,
        n: look.n,
        effect: look.effect,
        p,
        q,
        words,
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
    match factor.kind {
        FactorKind::Number => look_at_numbers(&factor.unit, &numbers(place, rows)),
        FactorKind::Word => look_at_words(&words(place, rows)),
    }
}

fn numbers(place: usize, rows: &[Observation]) -> Vec<(f64, bool)> {
    let one = |row: &Observation| match row.factors.get(place) {
        Some(FactorValue::Number(v)) if v.is_finite() => Some((*v, row.good)),
        _ => None,
    };
    rows.iter().filter_map(one).collect()
}

fn words(place: usize, rows: &[Observation]) -> Vec<(&str, bool)> {
    let one = |row: &'_ Observation| row.good;
    rows.iter()
        .filter_map(|row| match row.factors.get(place) {
            Some(FactorValue::Word(w)) => Some((w.as_str(), one(row))),
            _ => None,
        })
        .collect()
}

/// Why nothing can be said, if so, from the outcomes alone.
fn too_few(outcomes: impl Iterator<Item = bool> + Clone) -> Option<&'static str> {
    let good = outcomes.clone().filter(|g| *g).count();
    let bad = outcomes.count() - good;
    match (good, bad) {
        (0, 0) => Some("not written down on any pour."),
        (g, b) if g.min(b) >= LEAST_OF_EACH => None,
        (_, 0) => Some("every pour was good, so nothing sets them apart. Too early to tell."),
        (0, _) => Some("no pour was good, so nothing sets them apart. Too early to tell."),
        _ => Some("too early to tell: at least three good and three other pours are needed."),
    }
}

fn look_at_numbers(unit: &str, values: &[(f64, bool)]) -> Look {
    let n = values.len();
    let silent = |why| Look {
        n,
        effect: None,
        test: Err(why),
    };
    if let Some(why) = too_few(values.iter().map(|v| v.1)) {
        return silent(why);
    }
    let side = |good| {
        values
            .iter()
            .filter(|v| v.1 == good)
            .map(|v| v.0)
            .collect::<Vec<_>>()
    };
    let Some(test) = mann_whitney(&side(true), &side(false)) else {
        return silent("the same on every pour, so it cannot be told.");
    };
    let (effect, sides) = cut(unit, values);
    Look {
        n,
        effect,
        test: Ok((test.p, sides)),
    }
}

/// Both sides of the median in words: those over it, or, where it is the highest value too, those at it.
fn cut(unit: &str, values: &[(f64, bool)]) -> (Option<(f64, Interval)>, String) {
    let cut = median(values);
    let top = !values.iter().any(|v| v.0 > cut);
    let above = |v: f64| v > cut || (top && v == cut);
    let upper = tally(values.iter().filter(|v| above(v.0)).map(|v| v.1));
    let lower = tally(values.iter().filter(|v| !above(v.0)).map(|v| v.1));
    let shown = format!("{} {unit}", (cut * 1000.0).round() / 1000.0);
    let (shown, upper_told) = (shown.trim(), say(upper));
    let sides = if top {
        format!("at {shown}: {upper_told}; under it: {}", short(lower))
    } else {
        format!("over {shown}: {upper_told}; not over: {}", short(lower))
    };
    (difference(upper, lower), sides)
}

/// The lower of the two middle values, so that the cut is a value that was written down.
fn median(values: &[(f64, bool)]) -> f64 {
    let mut sorted: Vec<f64> = values.iter().map(|v| v.0).collect();
    sorted.sort_by(f64::total_cmp);
    sorted
        .get(sorted.len().saturating_sub(1) / 2)
        .copied()
        .unwrap_or_default()
}

fn tally(outcomes: impl Iterator<Item = bool>) -> Tally {
    outcomes.fold(Tally::default(), |t, good| Tally {
        good: t.good.saturating_add(u32::from(good)),
        pours: t.pours.saturating_add(1),
    })
}

fn say(t: Tally) -> String {
    format!("{} of {} good", t.good, t.pours)
}

fn short(t: Tally) -> String {
    format!("{} of {}", t.good, t.pours)
}

fn look_at_words(values: &[(&str, bool)]) -> Look {
    let n = values.len();
    let silent = |why| Look {
        n,
        effect: None,
        test: Err(why),
    };
    if let Some(why) = too_few(values.iter().map(|v| v.1)) {
        return silent(why);
    }
    let mut groups: BTreeMap<&str, Tally> = BTreeMap::new();
    for (word, good) in values {
        let t = groups.entry(word).or_default();
        *t = Tally {
            good: t.good + u32::from(*good),
            pours: t.pours + 1,
        };
    }
    let told: Vec<(&str, Tally)> = groups.into_iter().collect();
    let sides = told
        .iter()
        .map(|(w, t)| format!("{w}: {}", say(*t)))
        .collect::<Vec<_>>()
        .join("; ");
    match told.as_slice() {
        [(_, a), (_, b)] => match fisher(*a, *b) {
            Some(test) => Look {
                n,
                effect: difference(*a, *b),
                test: Ok((test.two_sided, sides)),
            },
            None => silent("too early to tell."),
        },
        [] | [_] => silent("the same on every pour, so it cannot be told."),
        many if many.len() * 2 > n => silent("too many different words for so few pours."),
        _ => Look {
            n,
            effect: None,
            test: Ok((many_words(values, &told), sides)),
        },
    }
}

/// Chi-square where five or more are expected in every corner of the table, else shuffling.
fn many_words(values: &[(&str, bool)], told: &[(&str, Tally)]) -> f64 {
    let good = values.iter().filter(|v| v.1).count() as f64;
    let share = good / values.len() as f64;
    let rare = share.min(1.0 - share);
    if told.iter().any(|t| f64::from(t.1.pours) * rare < 5.0) {
        return shuffled(values, told);
    }
    let one = |(_, t): &(&str, Tally)| {
        let n = f64::from(t.pours);
        (f64::from(t.good) - n * share).powi(2) / (n * share * (1.0 - share))
    };
    chi2_tail(told.iter().map(one).sum(), told.len() as f64 - 1.0)
}

/// The share of shuffles that set the words at least as far apart, the pours as they fell counted in.
fn shuffled(values: &[(&str, bool)], told: &[(&str, Tally)]) -> f64 {
    let place = |w: &str| told.iter().position(|t| t.0 == w).unwrap_or_default();
    let groups: Vec<usize> = values.iter().map(|v| place(v.0)).collect();
    let mut outcomes: Vec<bool> = values.iter().map(|v| v.1).collect();
    let spread = |outcomes: &[bool]| {
        let mut good = vec![0.0; told.len()];
        groups
            .iter()
            .zip(outcomes)
            .for_each(|(g, o)| good[*g] += f64::from(u8::from(*o)));
        good.iter()
            .zip(told)
            .map(|(g, t)| g * g / f64::from(t.1.pours))
            .sum::<f64>()
    };
    let seen = spread(&outcomes) - 1e-9;
    let mut rng = ChaCha8Rng::seed_from_u64(1);
    let far = (0..SHUFFLES).filter(|_| {
        outcomes.shuffle(&mut rng);
        spread(&outcomes) >= seen
    });
    (1.0 + far.count() as f64) / (1.0 + f64::from(SHUFFLES))
}
