//! When a resting cup has cleared.
//!
//! Stokes's law: the time grows with depth and low-shear viscosity (mound seconds stand for it) and falls with the
//! paint's weight. Anchor, common practice, no source: 3 s of mound, 60 mm deep, clears in 12 h. The variant's own
//! rest is a floor until the studio's own looks take over: from five looks with both kinds seen (clear, not
//! yet), a log-normal clearing time is fitted by maximum likelihood to `cleared by` and `not yet`. Its median is
//! fitted at one spread (0.25; ours), so that a `not yet` never brings it forward, which a spread that widens for an odd
//! look would; one look in fifty is taken to be a slip (ours); of what the looks leave open it is what is nearest to
//! practice. Its interval is its profile over the spread, which there carries a weak prior (log-normal about 0.25,
//! within a factor of 1.9; ours). No rest clears a gelled cup.

use crate::trade::units::{Backing, Band, Density, Estimate, Hours, Millimetres, Seconds};
use statrs::function::erf::erfc;
use thiserror::Error;

/// The anchor's time to clear (common practice, no source).
const ANCHOR: Hours = Hours(12.0);
/// The anchor's mound.
const ANCHOR_MOUND: Seconds = Seconds(3.0);
/// The depth taken where none is known.
pub const DEPTH: Millimetres = Millimetres(60.0);
/// The density the anchor is scaled to; also taken where none is known.
const ANCHOR_DENSITY: Density = Density(1.0);
/// The anchor's band, a factor each way (ours: a factor of two, as the mound's viscosity).
const PRACTICE_FACTOR: f64 = 2.0;
/// How many looks the studio's own fit needs.
const ENOUGH: usize = 5;
/// The middle of the prior on the spread of ln(time), and its own log-sd.
const SPREAD: (f64, f64) = (0.25, 0.5);
/// The share of looks that say nothing: a wrong key, a wrong cup.
const SLIPS: f64 = 0.02;
/// How far below its top a likelihood is as good as at it.
const FLAT: f64 = 0.05;
/// Half the 80 % point of chi-squared with one degree of freedom (1.6424 / 2).
const PROFILE_DROP: f64 = 0.821_187_2;
/// The step in the search for the median's logarithm, from below the first look to above the last.
const STEP: f64 = 0.04;

/// A cup as the model sees it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Resting {
    /// Its mound when it was set to rest.
    pub mound: Seconds,
    /// Its depth of paint; `None`: 60 mm is taken.
    pub depth: Option<Millimetres>,
    /// Its density; `None`: as the anchor's.
    pub density: Option<Density>,
    /// The variant's own rest: a floor until the studio's looks take over.
    pub floor: Hours,
}

/// One look at a resting cup.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Look {
    /// How long the cup had rested.
    pub after: Hours,
    /// The cup's [`scale`]: how many times longer than the anchor theory gives it.
    pub depth_factor: f64,
    /// Whether it was clear.
    pub clear: bool,
}

/// Why no clearing time is given.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum RestError {
    /// The mound is no reading.
    #[error("the cup has no mound above 0 s; take a reading, or go by the variant's rest")]
    Mound,
    /// The depth is none.
    #[error("the depth of paint is not above 0 mm; measure it, or leave it out")]
    Depth,
    /// The density is none.
    #[error("the density is not above 0 g/ml; weigh 10 ml, or leave it out")]
    Density,
}

/// The depth of a volume in a straight round cup.
#[must_use]
pub fn depth_in(volume: crate::trade::units::Millilitres, diameter: Millimetres) -> Millimetres {
    let radius = diameter.0 / 2.0;
    Millimetres(volume.0 * 1000.0 / (std::f64::consts::PI * radius * radius))
}

/// How many times longer than the anchor a cup takes by theory.
///
/// # Errors
/// A mound, depth or density that is not above zero.
pub fn scale(cup: &Resting) -> Result<f64, RestError> {
    let good = |x: f64| x.is_finite() && x > 0.0;
    let depth = cup.depth.unwrap_or(DEPTH);
    let density = cup.density.unwrap_or(ANCHOR_DENSITY);
    if !good(cup.mound.0) {
        return Err(RestError::Mound);
    }
    if !good(depth.0) {
        return Err(RestError::Depth);
    }
    if !good(density.0) {
        return Err(RestError::Density);
    }
    // A heavier paint drives its bubbles up faster.
    Ok(cup.mound / ANCHOR_MOUND * (depth / DEPTH) * (ANCHOR_DENSITY / density))
}

/// When a cup clears, counted from the start of its rest.
///
/// # Errors
/// A mound, depth or density that is not above zero.
pub fn clears_in(cup: &Resting, looks: &[Look]) -> Result<Estimate<Hours>, RestError> {
    clears_by(cup, learned(looks))
}

/// As [`clears_in`], from what was [`learned`] once for many cups.
///
/// # Errors
/// A mound, depth or density that is not above zero.
pub fn clears_by(
    cup: &Resting,
    own: Option<(Band<Hours>, usize)>,
) -> Result<Estimate<Hours>, RestError> {
    let scale = scale(cup)?;
    if let Some((band, readings)) = own {
        return Ok(Estimate {
            band: band.map(|anchor| anchor * scale),
            from: Backing::Yours,
            readings,
        });
    }
    let theory = |factor: f64| (ANCHOR * scale * factor).max(cup.floor);
    Ok(Estimate {
        band: Band {
            low: theory(1.0 / PRACTICE_FACTOR),
            mid: theory(1.0),
            high: theory(PRACTICE_FACTOR),
        },
        from: Backing::Practice,
        readings: 0,
    })
}

/// The studio's own time for the anchor cup, with its interval and the looks used; `None` below five looks, or
/// while only one kind has been seen.
#[must_use]
pub fn learned(looks: &[Look]) -> Option<(Band<Hours>, usize)> {
    let seen: Vec<(f64, bool)> = looks.iter().filter_map(log_look).collect();
    let clear = seen.iter().filter(|look| look.1).count();
    if seen.len() < ENOUGH || clear == 0 || clear == seen.len() {
        return None;
    }
    Some((profile(&seen), seen.len()))
}

fn log_look(look: &Look) -> Option<(f64, bool)> {
    let log = (look.after.0 / look.depth_factor).ln();
    (log.is_finite() && look.depth_factor > 0.0).then_some((log, look.clear))
}

/// The median of the clearing time and where its profile likelihood has dropped by the 80 % point.
fn profile(seen: &[(f64, bool)]) -> Band<Hours> {
    let least = seen.iter().map(|s| s.0).fold(f64::INFINITY, f64::min) - 1.5;
    let most = seen.iter().map(|s| s.0).fold(f64::NEG_INFINITY, f64::max) + 1.5;
    // Whole steps, so that one more look moves the answer and not the places where it is looked for.
    let steps = (least / STEP).floor() as i32..=(most / STEP).ceil() as i32;
    let heights = |at: fn(&[(f64, bool)], f64) -> f64| -> Vec<(f64, f64)> {
        let logs = steps.clone().map(|step| STEP * f64::from(step));
        logs.map(|log| (log, at(seen, log))).collect()
    };
    let profile = heights(best_over_spread);
    let cut = top(&profile) - PROFILE_DROP;
    let low = crossing(profile.iter(), cut).unwrap_or(least);
    let high = crossing(profile.iter().rev(), cut).unwrap_or(most);
    let mid = likeliest(&heights(at_one_spread)).clamp(low, high);
    Band { low, mid, high }.map(|log| Hours(log.exp()))
}

fn top(heights: &[(f64, f64)]) -> f64 {
    heights
        .iter()
        .map(|h| h.1)
        .fold(f64::NEG_INFINITY, f64::max)
}

/// Where the heights first rise through a cut, between two steps.
fn crossing<'a>(mut heights: impl Iterator<Item = &'a (f64, f64)>, cut: f64) -> Option<f64> {
    let mut below = heights.next().filter(|h| h.1 < cut)?;
    for next in heights {
        if next.1 >= cut {
            let part = (cut - below.1) / (next.1 - below.1);
            return Some(below.0 + part * (next.0 - below.0));
        }
        below = next;
    }
    None
}

/// The place of the top; where looks that a gap separates leave it flat, the place in it that is nearest to practice.
fn likeliest(heights: &[(f64, f64)]) -> f64 {
    let enough = top(heights) - FLAT;
    let mut flat = heights.iter().filter(|h| h.1 >= enough).map(|h| h.0);
    let practice = ANCHOR.0.ln();
    let first = flat.next().unwrap_or(practice);
    practice.clamp(first, flat.next_back().unwrap_or(first))
}

fn at_one_spread(seen: &[(f64, bool)], median: f64) -> f64 {
    log_likelihood(seen, median, SPREAD.0)
}

fn best_over_spread(seen: &[(f64, bool)], median: f64) -> f64 {
    (-2..=2)
        .map(f64::from)
        .map(|z| log_likelihood(seen, median, SPREAD.0 * (SPREAD.1 * z).exp()) - z * z / 2.0)
        .fold(f64::NEG_INFINITY, f64::max)
}

fn log_likelihood(seen: &[(f64, bool)], median: f64, spread: f64) -> f64 {
    seen.iter()
        .map(|&(log, clear)| {
            let z = (log - median) / spread;
            let z = if clear { z } else { -z };
            let fits = 0.5 * erfc(-z / std::f64::consts::SQRT_2);
            (SLIPS / 2.0 + (1.0 - SLIPS) * fits).ln()
        })
        .sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::units::Millilitres;
    use proptest::prelude::*;
    use rand::{RngExt, SeedableRng, rngs::ChaCha8Rng};
    use rand_distr::{Distribution, Normal};

    fn cup(mound: f64, depth: f64) -> Resting {
        Resting {
            mound: Seconds(mound),
            depth: Some(Millimetres(depth)),
            density: None,
            floor: Hours(12.0),
        }
    }

    fn look(after: f64, clear: bool) -> Look {
        Look {
            after: Hours(after),
            depth_factor: 1.0,
            clear,
        }
    }

    /// Common practice, no source: 3 s, 60 mm, 12 h; twice the depth, twice the time; never under the floor.
    #[test]
    fn anchor_and_floor() {
        let middle = |cup: Resting| clears_in(&cup, &[]).unwrap().band.mid.0;
        assert!((middle(cup(3.0, 60.0)) - 12.0).abs() < 1e-12);
        assert!((middle(cup(3.0, 120.0)) - 24.0).abs() < 1e-12);
        assert!((middle(cup(1.0, 30.0)) - 12.0).abs() < 1e-12);
        let activator = Resting {
            floor: Hours::ZERO,
            ..cup(1.0, 30.0)
        };
        assert!((middle(activator) - 2.0).abs() < 1e-12);
        assert!((depth_in(Millilitres(200.0), Millimetres(70.0)).0 - 51.969).abs() < 1e-3);
    }

    #[test]
    fn five_looks_of_both_kinds_take_over_floor_included() {
        let mut looks = vec![
            look(5.0, false),
            look(6.0, false),
            look(10.0, true),
            look(9.0, true),
        ];
        assert_eq!(learned(&looks), None);
        looks.push(look(7.0, false));
        let mine = clears_in(&cup(3.0, 60.0), &looks).unwrap();
        assert_eq!((mine.from, mine.readings), (Backing::Yours, 5));
        assert!(7.0 < mine.band.mid.0 && mine.band.mid.0 < 9.0);
        assert!(mine.band.low < mine.band.mid && mine.band.mid < mine.band.high);
        let only_clear = vec![look(20.0, true); 9];
        assert_eq!(learned(&only_clear), None);
    }

    #[test]
    fn what_is_no_reading_is_an_error() {
        assert_eq!(clears_in(&cup(0.0, 60.0), &[]), Err(RestError::Mound));
        assert_eq!(clears_in(&cup(3.0, -1.0), &[]), Err(RestError::Depth));
        let odd = Resting {
            density: Some(Density(f64::NAN)),
            ..cup(3.0, 60.0)
        };
        assert_eq!(clears_in(&odd, &[]), Err(RestError::Density));
    }

    proptest! {
        #[test]
        fn thicker_deeper_lighter_never_clears_sooner(
            m in 0.2..20.0_f64, h in 5.0..150.0_f64, more in 1.0..3.0_f64, floor in 0.0..24.0_f64, learn in any::<bool>(),
        ) {
            let looks = [look(5.0, false), look(6.0, false), look(8.0, true), look(10.0, true), look(9.0, true)];
            let looks = if learn { &looks[..] } else { &[] };
            let of = |m, h, rho| clears_in(&Resting { density: Some(Density(rho)), floor: Hours(floor), ..cup(m, h) }, looks)
                .unwrap().band.mid;
            prop_assert!(of(m * more, h, 1.2) >= of(m, h, 1.2));
            prop_assert!(of(m, h * more, 1.2) >= of(m, h, 1.2));
            prop_assert!(of(m, h, 1.2 * more) <= of(m, h, 1.2));
        }
    }

    proptest! {
        /// A cup that still has bubbles says that paint takes longer, never that it takes less long; a clear one the
        /// other way.
        #[test]
        fn a_not_yet_never_brings_clearing_forward(
            logs in prop::collection::vec((0.0..4.0_f64, any::<bool>()), 5..40), more in 0.0..5.0_f64, clear in any::<bool>(),
        ) {
            let mut looks: Vec<Look> = logs.iter().map(|&(log, clear)| look(log.exp(), clear)).collect();
            looks.extend([look(9.0, true), look(7.0, false)]);
            let mid = |looks: &[Look]| {
                let seen: Vec<_> = looks.iter().filter_map(log_look).collect();
                let heights: Vec<_> = (-20..=90).map(|i| f64::from(i) * 0.08).map(|m| (m, at_one_spread(&seen, m))).collect();
                likeliest(&heights)
            };
            let before = mid(&looks);
            looks.push(look(more.exp(), clear));
            let after = mid(&looks);
            prop_assert!(if clear { after <= before + 1e-9 } else { after >= before - 1e-9 }, "{before} {after}");
        }
    }

    /// The demo's own mistake, seen by its first user: one late `bubbles` must not make every other cup clear earlier.
    #[test]
    fn one_late_bubble_shortens_no_rest() {
        let mut looks: Vec<Look> = (0..100)
            .map(|i| look(8.0 + f64::from(i % 7), true))
            .collect();
        looks.extend((0..20).map(|i| look(3.0 + f64::from(i % 4), false)));
        let before = learned(&looks).unwrap().0.mid;
        looks.push(look(26.0, false));
        let after = learned(&looks).unwrap().0.mid;
        assert!(after >= before, "{before:?} {after:?}");
    }

    /// Bubbles after an hour and clear after a night leave much between open: of that, what is nearest to practice. Had
    /// the median of sixty cups that all were clear at 16 h been over 8 h, one in 350 (2.77 sd) would not have been.
    #[test]
    fn looks_far_apart_leave_what_is_nearest_to_practice() {
        let mut looks = vec![look(1.0, false); 15];
        looks.extend(vec![look(16.0, true); 60]);
        let (band, _) = learned(&looks).unwrap();
        assert!((6.5..8.0).contains(&band.mid.0), "{band:?}");
        assert!(band.low.0 < 2.0 && band.high.0 > 10.0, "{band:?}");
        // Three of them say less, and leave more open.
        looks.truncate(18);
        let (band, _) = learned(&looks).unwrap();
        assert!(band.mid.0 > 8.5, "{band:?}");
    }

    /// Simulated studios: a true median, a spread as the prior says, looks about the time the cup should clear.
    #[test]
    fn band_of_the_median_holds_four_in_five() {
        let mut rng = ChaCha8Rng::seed_from_u64(3);
        let unit = Normal::new(0.0, 1.0).unwrap();
        let (mut inside, mut fitted) = (0, 0);
        for _ in 0..2100 {
            let median = (12.0_f64.ln() + 0.5 * unit.sample(&mut rng)).exp();
            let spread = SPREAD.0 * (SPREAD.1 * unit.sample(&mut rng)).exp();
            let count = rng.random_range(8..20);
            let looks: Vec<Look> = (0..count)
                .map(|_| {
                    let factor = rng.random_range(0.5..2.0_f64);
                    let clears = median * factor * (spread * unit.sample(&mut rng)).exp();
                    let after = median * factor * (0.6 * unit.sample(&mut rng)).exp();
                    Look {
                        after: Hours(after),
                        depth_factor: factor,
                        clear: clears <= after,
                    }
                })
                .collect();
            if let Some((band, _)) = learned(&looks) {
                fitted += 1;
                inside += usize::from(band.low.0 <= median && median <= band.high.0);
            }
        }
        let held = inside as f64 / f64::from(fitted);
        assert!(
            fitted >= 2000 && (0.75..=0.85).contains(&held),
            "held {held} of {fitted}"
        );
    }
}
