//! How much one reading of a mound errs in a studio: the sd of ln(mound), learned from all of its readings together.
//!
//! What a thinning and what a wait did to a mound is known from two readings each; what is left over once thinner and
//! time have been allowed for is the readings' own. Prior, from memory, no source: log-normal about 8 %, within a factor
//! of 2.3. The posterior is taken on a grid: each thinner's strength in each variant by its own grid, thickening as
//! [`super::thickening`] has it, with the same variances. One thinning in thirty is taken for a slip.

use super::thickening::{Lid, Pair, VAR_CUP, VAR_VARIANT};
use super::thinning::{PRIOR, Triple, VAR_ALL};

/// The noise where nothing was read twice.
pub const PRACTICE: f64 = 0.08;
/// Its prior's log-sd.
const PRIOR_SD: f64 = 0.65;
/// The places of the grid, in sds of the prior.
const PLACES: i32 = 10;
const STEP: f64 = 0.3;
/// The share of thinnings that say nothing, and how many times wider they lie.
const SLIPS: (f64, f64) = (1.0 / 30.0, 5.0);

/// What a studio read, for its noise alone.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Readings {
    /// The triples of each variant with each thinner.
    pub thinned: Vec<Vec<Triple>>,
    /// The pairs of each cup of each variant under each lid.
    pub stood: Vec<(Lid, Vec<Vec<Vec<Pair>>>)>,
}

/// The studio's noise: the posterior's mean.
#[must_use]
pub fn noise(readings: &Readings) -> f64 {
    let at = |place: i32| PRACTICE * (PRIOR_SD * STEP * f64::from(place)).exp();
    let height = |place: i32| {
        let z = STEP * f64::from(place);
        let noise = at(place);
        let thinned: f64 = readings
            .thinned
            .iter()
            .map(|one| of_thinner(one, noise))
            .sum();
        let stood = readings.stood.iter();
        let stood: f64 = stood.map(|(lid, all)| of_standing(*lid, all, noise)).sum();
        thinned + stood - z * z / 2.0
    };
    let heights: Vec<(f64, f64)> = (-PLACES..=PLACES).map(|p| (at(p), height(p))).collect();
    let top = heights
        .iter()
        .map(|one| one.1)
        .fold(f64::NEG_INFINITY, f64::max);
    let (mut sum, mut weights) = (0.0, 0.0);
    for (noise, height) in heights {
        let weight = (height - top).exp();
        sum += weight * noise;
        weights += weight;
    }
    sum / weights
}

/// The log-evidence of the triples of one thinner in one variant, its strength averaged out.
fn of_thinner(triples: &[Triple], noise: f64) -> f64 {
    let sd = std::f64::consts::SQRT_2 * noise;
    let normal = |off: f64, sd: f64| (-0.5 * (off / sd).powi(2)).exp() / sd;
    let one = |triple: &Triple, strength: f64| {
        let off = triple.drop() - triple.added.0 * strength;
        let (slips, wider) = SLIPS;
        ((1.0 - slips) * normal(off, sd) + slips * normal(off, wider * sd))
            .max(1e-300)
            .ln()
    };
    let usable: Vec<&Triple> = triples.iter().filter(|t| t.usable()).collect();
    let places = (-24..=24).map(|place| {
        let z = f64::from(place) / 8.0;
        let strength = (PRIOR + z * VAR_ALL.sqrt()).exp();
        let seen: f64 = usable.iter().map(|triple| one(triple, strength)).sum();
        seen - z * z / 2.0
    });
    log_sum(&places.collect::<Vec<f64>>())
}

fn log_sum(logs: &[f64]) -> f64 {
    let top = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    top + logs.iter().map(|log| (log - top).exp()).sum::<f64>().ln()
}

/// The log-likelihood of a rate x: `constant + place x - weight x^2 / 2`.
#[derive(Clone, Copy, Default)]
struct Heard {
    weight: f64,
    place: f64,
    constant: f64,
}

impl Heard {
    fn of(pairs: &[Pair], noise: f64) -> Self {
        let error = 2.0 * noise * noise;
        let each = pairs.iter().filter(|pair| pair.usable()).map(|pair| Self {
            weight: pair.hours.0 * pair.hours.0 / error,
            place: pair.hours.0 * pair.growth() / error,
            constant: -pair.growth().powi(2) / (2.0 * error) - noise.ln(),
        });
        each.fold(Self::default(), Self::and)
    }

    fn and(self, other: Self) -> Self {
        Self {
            weight: self.weight + other.weight,
            place: self.place + other.place,
            constant: self.constant + other.constant,
        }
    }

    /// Of the middle about which the rate is normal.
    fn widened(self, variance: f64) -> Self {
        let wider = 1.0 + self.weight * variance;
        let gained = self.place * self.place * variance / wider / 2.0;
        Self {
            weight: self.weight / wider,
            place: self.place / wider,
            constant: self.constant - wider.ln() / 2.0 + gained,
        }
    }

    fn at(self, x: f64) -> f64 {
        self.constant + self.place * x - self.weight * x * x / 2.0
    }
}

/// The log-evidence of all that stood under one lid, the rates averaged out.
fn of_standing(lid: Lid, variants: &[Vec<Vec<Pair>>], noise: f64) -> f64 {
    let cup = |pairs: &Vec<Pair>| Heard::of(pairs, noise).widened(VAR_CUP);
    let variant = |cups: &Vec<Vec<Pair>>| {
        let cups = cups.iter().map(cup).fold(Heard::default(), Heard::and);
        cups.widened(VAR_VARIANT)
    };
    let all = variants
        .iter()
        .map(variant)
        .fold(Heard::default(), Heard::and);
    let (mean, variance) = lid.practice();
    all.widened(variance).at(mean)
}
