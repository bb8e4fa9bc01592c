//! How much one reading of a mound errs in a studio, and how much its cups differ: the sd of ln(mound), and that of the
//! thinner's strength from cup to cup, learned from all readings together.
//!
//! What a thinning and what a wait did to a mound is known from two readings each; what is left over once thinner and
//! time have been allowed for is the readings' own where it does not grow with the thinner that went in, and the cup's
//! where it does. Prior of a reading, from memory, no source: log-normal about 8 %, within a factor of 2.3. Prior of the
//! cups, ours: alike with seven chances in ten. The posterior is taken on a grid: each thinner's strength in each variant by
//! its own grid about what its triples say, thickening as [`super::thickening`] has it, with the same variances. One
//! thinning in thirty is taken for a slip.

use super::thickening::{Lid, Pair, VAR_CUP, VAR_VARIANT};
use super::thinning::{PRIOR, Triple, VAR_ALL, changed_at};

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

/// What readings, and what cups, differ by.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scatter {
    /// The sd of ln(mound) of one reading.
    pub reading: f64,
    /// The sd of ln b between the cups of one variant, thinned with one thinner.
    pub cups: f64,
}

impl Scatter {
    /// Of cups that are all alike.
    #[must_use]
    pub const fn alike(reading: f64) -> Self {
        Self { reading, cups: 0.0 }
    }
}

/// What cups may differ by, and how likely that is beforehand: a point each of the grid.
const CUPS: [(f64, f64); 4] = [(0.0, 0.7), (0.15, 0.1), (0.3, 0.1), (0.5, 0.1)];

/// The studio's scatter: the posterior's mean of a reading's, the root of its mean square of the cups'.
#[must_use]
pub fn scatter(readings: &Readings) -> Scatter {
    let at = |place: i32| PRACTICE * (PRIOR_SD * STEP * f64::from(place)).exp();
    let thinned = readings.thinned.iter();
    // What the bottle was before is another thinner: its strength is no sign of how cups differ.
    let thinned = thinned.flat_map(|all| <[_; 2]>::from(all.split_at(changed_at(all))));
    let thinned: Vec<&[Triple]> = thinned.collect();
    let mut heights = Vec::new();
    for place in -PLACES..=PLACES {
        let (z, noise) = (STEP * f64::from(place), at(place));
        let stood = readings.stood.iter();
        let stood: f64 = stood.map(|(lid, all)| of_standing(*lid, all, noise)).sum();
        for (cups, prior) in CUPS {
            let scatter = Scatter {
                reading: noise,
                cups,
            };
            let seen: f64 = thinned.iter().map(|one| of_thinner(one, scatter)).sum();
            heights.push((scatter, seen + stood - z * z / 2.0 + prior.ln()));
        }
    }
    let tops = heights.iter().map(|one| one.1);
    let top = tops.fold(f64::NEG_INFINITY, f64::max);
    let (mut reading, mut square, mut weights) = (0.0, 0.0, 0.0);
    for (scatter, height) in heights {
        let weight = (height - top).exp();
        reading += weight * scatter.reading;
        square += weight * scatter.cups.powi(2);
        weights += weight;
    }
    Scatter {
        reading: reading / weights,
        cups: (square / weights).sqrt(),
    }
}

/// The log-evidence of the triples of one thinner in one variant, its strength averaged out.
fn of_thinner(triples: &[Triple], scatter: Scatter) -> f64 {
    let usable: Vec<&Triple> = triples.iter().filter(|t| t.usable()).collect();
    let grid = Grid::about(&usable, scatter);
    let places = (-10..=10).map(|place| {
        let ln_b = grid.middle + f64::from(place) / 2.0 * grid.sd;
        let z = (ln_b - PRIOR) / VAR_ALL.sqrt();
        let seen: f64 = usable
            .iter()
            .map(|one| likely(one, ln_b.exp(), scatter))
            .sum();
        seen - z * z / 2.0
    });
    log_sum(&places.collect::<Vec<f64>>()) + grid.sd.ln()
}

/// The log-likelihood of a triple where b is known.
fn likely(triple: &Triple, b: f64, scatter: Scatter) -> f64 {
    let normal = |off: f64, sd: f64| (-0.5 * (off / sd).powi(2)).exp() / sd;
    let drop = triple.added.0 * b;
    let sd = (std::f64::consts::SQRT_2 * scatter.reading).hypot(drop * scatter.cups);
    let off = triple.drop() - drop;
    let (slips, wider) = SLIPS;
    let one = (1.0 - slips) * normal(off, sd) + slips * normal(off, wider * sd);
    one.max(1e-300).ln()
}

/// Where ln b of a thinner in a variant lies, about: its grid is laid there.
struct Grid {
    middle: f64,
    sd: f64,
}

impl Grid {
    /// The median of what each triple says, which no slip moves far, and the prior, by their weights.
    fn about(triples: &[&Triple], scatter: Scatter) -> Self {
        let mut each: Vec<f64> = triples.iter().map(|one| one.drop() / one.added.0).collect();
        each.sort_by(f64::total_cmp);
        let median = each.get(each.len() / 2).copied();
        let Some(b) = median.filter(|b| *b > 0.0) else {
            let (middle, sd) = (PRIOR, VAR_ALL.sqrt());
            return Self { middle, sd };
        };
        let says = |one: &&Triple| {
            let drop = one.added.0 * b;
            drop.powi(2) / (2.0 * scatter.reading.powi(2) + (drop * scatter.cups).powi(2))
        };
        let weight: f64 = triples.iter().map(says).sum();
        let whole = weight + 1.0 / VAR_ALL;
        Self {
            middle: (weight * b.ln() + PRIOR / VAR_ALL) / whole,
            // The median is less sure than the mean by a quarter.
            sd: 1.25 / whole.sqrt(),
        }
    }
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::units::{Seconds, Share};

    fn triple(before: f64, added: f64, after: f64) -> Triple {
        Triple {
            before: Seconds(before),
            added: Share(added),
            after: Seconds(after),
        }
    }

    /// The same integral over ln b by two thousand steps, written anew.
    fn by_many_steps(triples: &[Triple], scatter: Scatter) -> f64 {
        let sd_b = VAR_ALL.sqrt();
        let step = 10.0 * sd_b / 2000.0;
        let density = |off: f64, sd: f64| {
            (-off * off / (2.0 * sd * sd)).exp() / (sd * (2.0 * std::f64::consts::PI).sqrt())
        };
        let at = |place: i32| {
            let ln_b = PRIOR - 5.0 * sd_b + step * f64::from(place);
            let seen: f64 = triples
                .iter()
                .map(|one| {
                    let drop = one.added.0 * ln_b.exp();
                    let sd = (2.0 * scatter.reading.powi(2) + (drop * scatter.cups).powi(2)).sqrt();
                    let off = (one.before.0 / one.after.0).ln() - drop;
                    29.0 / 30.0 * density(off, sd) + density(off, 5.0 * sd) / 30.0
                })
                .product();
            seen * density(ln_b - PRIOR, sd_b) * step
        };
        (0..=2000).map(at).sum::<f64>().ln()
    }

    #[test]
    fn the_evidence_of_a_thinner_is_the_integral_over_its_strength() {
        let sets: [&[Triple]; 3] = [
            &[triple(6.0, 0.08, 3.6)],
            &[
                triple(6.0, 0.08, 3.6),
                triple(5.0, 0.05, 3.4),
                triple(8.0, 0.12, 3.1),
            ],
            // One of them a slip.
            &[
                triple(6.0, 0.08, 3.6),
                triple(5.0, 0.05, 3.4),
                triple(8.0, 0.12, 3.1),
                triple(7.0, 0.10, 6.9),
                triple(4.4, 0.04, 3.2),
                triple(9.0, 0.14, 3.3),
            ],
        ];
        for triples in sets {
            for scatter in [(0.03, 0.0), (0.08, 0.0), (0.08, 0.3), (0.15, 0.5)] {
                let scatter = Scatter {
                    reading: scatter.0,
                    cups: scatter.1,
                };
                // The grid leaves out the constants of the normal curves and its own step.
                let tau = (2.0 * std::f64::consts::PI).sqrt().ln();
                let constants = tau * triples.len() as f64 + tau + VAR_ALL.sqrt().ln() + 2_f64.ln();
                let wanted = by_many_steps(triples, scatter) + constants;
                let found = of_thinner(triples, scatter);
                assert!(
                    (found - wanted).abs() < 0.05,
                    "{scatter:?}: {found} {wanted}"
                );
            }
        }
    }

    #[test]
    fn cups_that_differ_are_told_from_readings_that_err() {
        // With much thinner they lie far apart, with little close together: the cups', not the readings'.
        let strength = [4.6, 9.9, 5.2, 9.1, 4.9, 9.6, 6.9, 10.4, 4.4, 7.5, 5.6, 8.8];
        let shares = [
            0.03, 0.14, 0.12, 0.04, 0.15, 0.13, 0.05, 0.10, 0.14, 0.03, 0.11, 0.15,
        ];
        let of = |b: &[f64]| -> Vec<Triple> {
            let each = b.iter().zip(shares);
            each.map(|(b, share)| triple(6.0, share, 6.0 * f64::exp(-b * share)))
                .collect()
        };
        let learned = |b: &[f64]| {
            scatter(&Readings {
                thinned: vec![of(b)],
                stood: Vec::new(),
            })
        };
        let (alike, differing) = (learned(&[6.9; 12]), learned(&strength));
        assert!(alike.cups < 0.1 && alike.reading < 0.04, "{alike:?}");
        assert!(differing.cups > 0.2, "{differing:?}");
        assert!(differing.reading < 0.12, "{differing:?}");
    }
}
