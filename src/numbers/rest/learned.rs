//! What a studio's looks say of its rests.
//!
//! The time at which one cup clears, brought to the anchor cup, is log-normal about its variant's median; variants are
//! normal about the studio on the log, and the studio about practice. Cups of a variant that were set to rest on one day share
//! an effect of that day: the same room, the same paint, the same hand. A cup's looks leave one interval of it open: after
//! the last `bubbles` and up to the first `clear`. A look may be a slip (a wrong key, a wrong cup): then it says nothing,
//! and every other interval of that cup stays a little open. The posterior is taken on a grid, over the spread of a cup,
//! that of the days, that of the variants, and the share of slips, none of which a studio is asked for.
//!
//! The priors are ours: a median within .6 on the log of practice, variants within .1 to .6 of each other, a cup's spread
//! log-normal about .25 within a factor of 1.65, one look in thirty a slip or fewer.

use super::Look;
use crate::trade::units::{Band, Hours};
use statrs::function::erf::erfc;
use std::collections::BTreeMap;

/// The grid of ln(median / practice).
const LOWEST: f64 = -2.5;
const STEP: f64 = 0.05;
const PLACES: usize = 121;
/// The sd of ln(median / practice) between studios.
const STUDIO: f64 = 0.6;
/// That between the variants of a studio, and how likely each is taken to be.
const VARIANTS: [(f64, f64); 3] = [(0.12, 0.3), (0.3, 0.4), (0.6, 0.3)];
/// The spread of ln(time) of the cups of a variant: the middle of its prior, and its own log-sd.
const SPREAD: (f64, f64) = (0.25, 0.6);
/// The places in that prior at which it is tried, in sds.
const SPREADS: [f64; 6] = [-1.5, -0.75, 0.0, 0.75, 1.5, 2.25];
/// The sd of ln(time) that the cups of one day share, and how likely each is taken to be.
const DAYS: [(f64, f64); 3] = [(0.04, 0.65), (0.12, 0.25), (0.25, 0.1)];
/// The share of looks that say nothing, and how likely each is taken to be.
const SLIPS: [(f64, f64); 3] = [(0.000_1, 0.6), (0.004, 0.2), (1.0 / 30.0, 0.2)];
/// An interval this much less likely than a cup's likeliest is left out.
const FAINT: f64 = 1e-7;
/// Own looks stand for themselves where the sd of ln(median) is below this: a factor of 1.3 each way (ours).
const OWN_BELOW: f64 = 0.2;

/// The looks of one variant: those of each rest of each of its cups.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Looked {
    /// Each rest of each of its cups.
    pub rests: Vec<Rest>,
}

/// One rest of one cup.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Rest {
    /// The number of the day on which it began: cups of one day are not quite of their own.
    pub day: i64,
    /// The looks at it, in any order.
    pub looks: Vec<Look>,
}

/// How a studio's rests compare with practice.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Rests {
    variants: BTreeMap<i64, Beside>,
    unseen: Option<Beside>,
}

/// How many times longer than by practice the cups of a variant rest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Beside {
    /// What practice expects of the variant's anchor cup; `None` where none of its cups was looked at.
    pub anchor: Option<Hours>,
    /// The factor of the paint's median, and the 80 % band of that median.
    pub factor: Band<f64>,
    /// The same middle, and the 80 % band of a next cup: its own spread and that of its day are in it.
    pub next: Band<f64>,
    /// How many looks leave less open than there was.
    pub looks: usize,
    /// Whether they say more than practice does.
    pub own: bool,
}

impl Rests {
    /// Learns from the looks of each variant.
    #[must_use]
    pub fn learn(looked: &BTreeMap<i64, Looked>) -> Self {
        let seen: Vec<Variant> = looked.iter().filter_map(Variant::of).collect();
        if seen.is_empty() {
            return Self::default();
        }
        let posterior = posterior(&seen);
        let all = seen.iter().map(Variant::telling).sum();
        let each = seen.iter().zip(&posterior);
        let each = each.map(|(one, heights)| {
            let known = heights.beside(one.telling(), Some(one.anchor));
            (one.id, known)
        });
        Self {
            variants: each.collect(),
            unseen: posterior.last().map(|heights| heights.beside(all, None)),
        }
    }

    /// What is known of a variant; `None` where nothing was looked at in all the studio.
    #[must_use]
    pub fn of(&self, variant: i64) -> Option<Beside> {
        self.variants.get(&variant).copied().or(self.unseen)
    }
}

/// One height for each place of the grid.
type Heights = [f64; PLACES];

/// What the looks at one rest leave open: the ends of intervals of ln(time / practice), and how many looks are wrong if
/// it cleared there.
struct Cup {
    /// The day on which it was set to rest.
    day: i64,
    edges: Vec<f64>,
    wrong: Vec<i32>,
    telling: usize,
}

/// One variant's cups.
struct Variant {
    id: i64,
    anchor: Hours,
    cups: Vec<Cup>,
}

impl Variant {
    fn of((id, looked): (&i64, &Looked)) -> Option<Self> {
        let looks = || {
            let looks = looked.rests.iter().flat_map(|rest| &rest.looks);
            looks.filter(|look| look.usable())
        };
        let logs = looks().map(|look| (look.practice.0 / look.scale).ln());
        let anchor = Hours((logs.sum::<f64>() / looks().count().max(1) as f64).exp());
        let rests = looked.rests.iter();
        let cup = |rest: &Rest| Cup::of(rest, anchor);
        let mut cups: Vec<Cup> = rests.filter_map(cup).collect();
        cups.sort_by_key(|cup| cup.day);
        let id = *id;
        (!cups.is_empty()).then_some(Self { id, anchor, cups })
    }

    fn telling(&self) -> usize {
        self.cups.iter().map(|cup| cup.telling).sum()
    }
}

impl Cup {
    fn of(rest: &Rest, anchor: Hours) -> Option<Self> {
        let log = |look: &Look| (look.after.0 / (look.scale * anchor.0)).ln();
        let usable = rest.looks.iter().filter(|look| look.usable());
        let mut seen: Vec<(f64, bool)> = usable.map(|look| (log(look), look.clear)).collect();
        seen.sort_by(|a, b| a.0.total_cmp(&b.0));
        let clear = seen.iter().filter(|look| look.1).count();
        // Had it cleared before the first look, every `bubbles` was wrong; each look passed makes a right one of a
        // `bubbles` and a wrong one of a `clear`.
        let mut wrong = vec![(seen.len() - clear) as i32];
        for look in &seen {
            wrong.push(wrong[wrong.len() - 1] + if look.1 { 1 } else { -1 });
        }
        (!seen.is_empty()).then(|| Self {
            day: rest.day,
            edges: seen.iter().map(|look| look.0).collect(),
            wrong,
            telling: usize::from(clear > 0) + usize::from(clear < seen.len()),
        })
    }
}

/// The intervals that a cup leaves open, each from, to, and how well the looks agree with it.
struct Open {
    day: i64,
    intervals: Vec<(f64, f64, f64)>,
}

impl Cup {
    /// The intervals that count at a share of slips.
    fn open(&self, slips: f64) -> Open {
        let looks = self.edges.len() as i32;
        let weight = |wrong: i32| slips.powi(wrong) * (1.0 - slips).powi(looks - wrong);
        let best = self.wrong.iter().copied().map(weight).fold(0.0, f64::max);
        let ends = |place: usize| {
            let low = place.checked_sub(1).map(|before| self.edges[before]);
            let high = self.edges.get(place).copied();
            (
                low.unwrap_or(f64::NEG_INFINITY),
                high.unwrap_or(f64::INFINITY),
            )
        };
        let each = self.wrong.iter().enumerate();
        let each = each.map(|(place, &wrong)| (ends(place), weight(wrong)));
        let counts = each.filter(|(_, weight)| *weight >= FAINT * best);
        let intervals = counts.map(|((low, high), weight)| (low, high, weight));
        Open {
            day: self.day,
            intervals: intervals.collect(),
        }
    }
}

/// What the looks say at one setting of the spreads and slips.
struct Belief {
    /// The log of its prior and evidence.
    weight: f64,
    /// The sd of ln(time) of a cup about its variant's median: its own, and that of its day.
    apart: f64,
    /// Each variant's ln(median / practice), and last that of one nobody looked at.
    medians: Vec<Heights>,
}

/// What is believed of a variant.
struct Posterior {
    /// Its ln(median / practice).
    median: Heights,
    /// The same of a next cup.
    next: Heights,
}

/// The posterior of each variant, and last that of a variant nobody looked at.
fn posterior(seen: &[Variant]) -> Vec<Posterior> {
    let mut beliefs = Vec::new();
    for (slips, slips_prior) in SLIPS {
        let open: Vec<Vec<Open>> = seen
            .iter()
            .map(|one| one.cups.iter().map(|cup| cup.open(slips)).collect())
            .collect();
        for z in SPREADS {
            let spread = SPREAD.0 * f64::exp(SPREAD.1 * z);
            let days: Vec<Vec<Heights>> = open.iter().map(|cups| days(cups, spread)).collect();
            for (day, day_prior) in DAYS {
                let kernel = kernel(day);
                let looks: Vec<Heights> = days.iter().map(|of| together(of, &kernel)).collect();
                for (apart, apart_prior) in VARIANTS {
                    let prior = f64::ln(slips_prior * day_prior * apart_prior) - z * z / 2.0;
                    let (evidence, medians) = pooled(&looks, apart);
                    beliefs.push(Belief {
                        weight: prior + evidence,
                        apart: spread.hypot(day),
                        medians,
                    });
                }
            }
        }
    }
    average(&beliefs)
}

/// The log-likelihood of one variant's cups of each day, at each place that the day's own median may have.
fn days(cups: &[Open], spread: f64) -> Vec<Heights> {
    let days = cups.chunk_by(|a, b| a.day == b.day);
    days.map(|cups| likelihood(cups, spread)).collect()
}

/// The log-likelihood of all days at each place: a day's own median lies about the variant's.
fn together(days: &[Heights], kernel: &[f64]) -> Heights {
    let mut sum = [0.0; PLACES];
    for day in days {
        let (top, heights) = lifted(day);
        let said = widened(&heights, kernel);
        for (sum, said) in sum.iter_mut().zip(said) {
            *sum += top + said.max(1e-300).ln();
        }
    }
    sum
}

/// The log-likelihood of one day's cups at each place.
fn likelihood(cups: &[Open], spread: f64) -> Heights {
    let below = |at: f64| 0.5 * erfc(-at / std::f64::consts::SQRT_2);
    std::array::from_fn(|place| {
        let median = at(place);
        let within = |(low, high, weight): &(f64, f64, f64)| {
            // The upper tail by its own side, where the lower would be lost in rounding.
            let (low, high) = ((low - median) / spread, (high - median) / spread);
            let part = match low > 0.0 {
                true => below(-low) - below(-high),
                false => below(high) - below(low),
            };
            weight * part
        };
        let cup = |open: &Open| {
            let seen: f64 = open.intervals.iter().map(within).sum();
            seen.max(1e-300).ln()
        };
        cups.iter().map(cup).sum()
    })
}

/// All variants together at one spread between them: the log-evidence, and each one's posterior; last the unseen one's.
fn pooled(looks: &[Heights], apart: f64) -> (f64, Vec<Heights>) {
    let kernel = kernel(apart);
    let scaled: Vec<(f64, Heights)> = looks.iter().map(lifted).collect();
    let said: Vec<Heights> = scaled
        .iter()
        .map(|(_, heights)| widened(heights, &kernel).map(|height| height.max(1e-300).ln()))
        .collect();
    let studio: Heights = std::array::from_fn(|place| {
        let z = at(place) / STUDIO;
        said.iter().map(|logs| logs[place]).sum::<f64>() - z * z / 2.0
    });
    let of_one = |(logs, (_, own)): (&Heights, &(f64, Heights))| {
        // What all the others say, and then its own looks.
        let others: Heights = std::array::from_fn(|place| studio[place] - logs[place]);
        let expected = widened(&lifted(&others).1, &kernel);
        normal(std::array::from_fn(|place| expected[place] * own[place]))
    };
    let mut each: Vec<Heights> = said.iter().zip(&scaled).map(of_one).collect();
    let (top, all) = lifted(&studio);
    each.push(normal(widened(&all, &kernel)));
    let tops: f64 = scaled.iter().map(|(top, _)| top).sum();
    (top + tops + all.iter().sum::<f64>().ln(), each)
}

/// The beliefs of all settings, by how well each explains what was seen.
fn average(beliefs: &[Belief]) -> Vec<Posterior> {
    let weights = beliefs.iter().map(|one| one.weight);
    let best = weights.fold(f64::NEG_INFINITY, f64::max);
    let many = beliefs.first().map_or(0, |one| one.medians.len());
    (0..many).map(|nth| averaged(beliefs, nth, best)).collect()
}

/// The beliefs of one variant; a next cup's are those of the median, widened once for each spread of cups.
fn averaged(beliefs: &[Belief], nth: usize, best: f64) -> Posterior {
    let mut median = [0.0; PLACES];
    let mut by_spread: BTreeMap<u64, Heights> = BTreeMap::new();
    for belief in beliefs {
        let weight = (belief.weight - best).exp();
        let alike = by_spread.entry(belief.apart.to_bits());
        add(alike.or_insert([0.0; PLACES]), weight, &belief.medians[nth]);
        add(&mut median, weight, &belief.medians[nth]);
    }
    let mut next = [0.0; PLACES];
    for (apart, medians) in &by_spread {
        let cups = widened(medians, &kernel(f64::from_bits(*apart)));
        add(&mut next, 1.0, &cups);
    }
    Posterior {
        median: normal(median),
        next: normal(next),
    }
}

fn add(sum: &mut Heights, weight: f64, heights: &Heights) {
    for (sum, height) in sum.iter_mut().zip(heights) {
        *sum += weight * height;
    }
}

fn at(place: usize) -> f64 {
    LOWEST + STEP * place as f64
}

/// The top of the logs, and the heights with that top at one.
fn lifted(logs: &Heights) -> (f64, Heights) {
    let top = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    (top, logs.map(|log| (log - top).exp()))
}

fn normal(heights: Heights) -> Heights {
    let sum: f64 = heights.iter().sum();
    heights.map(|height| height / sum.max(1e-300))
}

/// A normal density's heights at whole steps from its middle, summing to one.
fn kernel(sd: f64) -> Vec<f64> {
    let reach = (4.0 * sd / STEP).ceil() as i32;
    let height = |steps: i32| (-0.5 * (STEP * f64::from(steps) / sd).powi(2)).exp();
    let sum: f64 = (-reach..=reach).map(height).sum();
    (0..=reach).map(|steps| height(steps) / sum).collect()
}

fn widened(heights: &Heights, kernel: &[f64]) -> Heights {
    std::array::from_fn(|place| {
        let first = place.saturating_sub(kernel.len() - 1);
        let last = (place + kernel.len()).min(PLACES);
        (first..last)
            .map(|other| heights[other] * kernel[place.abs_diff(other)])
            .sum()
    })
}

impl Posterior {
    fn beside(&self, looks: usize, anchor: Option<Hours>) -> Beside {
        let factor = band(&self.median);
        Beside {
            anchor,
            factor,
            next: Band {
                mid: factor.mid,
                ..band(&self.next)
            },
            looks,
            own: anchor.is_some() && sd(&self.median) < OWN_BELOW,
        }
    }
}

/// The median and the 80 % band, back from the logs.
fn band(heights: &Heights) -> Band<f64> {
    let log = |share: f64| quantile(heights, share);
    let logs = Band {
        low: log(0.1),
        mid: log(0.5),
        high: log(0.9),
    };
    logs.map(f64::exp)
}

/// The sd on the log.
fn sd(heights: &Heights) -> f64 {
    let places = heights.iter().enumerate();
    let places = places.map(|(place, height)| (at(place), height));
    let mean: f64 = places.clone().map(|(log, height)| log * height).sum();
    let variance: f64 = places
        .map(|(log, height)| (log - mean).powi(2) * height)
        .sum();
    variance.sqrt()
}

/// Where a share of the posterior lies below; each height stands for the step about its place.
fn quantile(heights: &Heights, share: f64) -> f64 {
    let mut below = 0.0;
    for (place, &height) in heights.iter().enumerate() {
        if below + height >= share && height > 0.0 {
            return at(place) + STEP * ((share - below) / height - 0.5);
        }
        below += height;
    }
    at(PLACES - 1)
}

#[cfg(test)]
#[path = "tests.rs"]
mod tests;
