//! The truth behind the demo, which its painters only read with error: how paint thickens, thins and clears, and
//! what makes cells. All of it is invented.

use crate::trade::ids::CupId;
use crate::trade::moment::Moment;
use crate::trade::recipe::LayerKind;
use crate::trade::units::{Millilitres, Seconds};
use rand::{RngExt, rngs::ChaCha8Rng};
use rand_distr::{Distribution, StandardNormal};

/// A cup as it really is.
#[derive(Debug, Clone)]
pub(super) struct Paint {
    pub(super) cup: CupId,
    pub(super) layer: LayerKind,
    pub(super) left: f64,
    /// What its variant adds to the cells.
    pub(super) lift: f64,
    pub(super) mixed_at: Moment,
    mound: f64,
    mound_at: Moment,
    rate: f64,
    strength: f64,
    clears_in: f64,
}

pub(super) fn normal(rng: &mut ChaCha8Rng, middle: f64, spread: f64) -> f64 {
    let unit: f64 = StandardNormal.sample(rng);
    middle + spread * unit
}

pub(super) fn chance(rng: &mut ChaCha8Rng, share: f64) -> bool {
    rng.random_range(0.0..1.0) < share
}

impl Paint {
    pub(super) fn mixed(
        cup: CupId,
        layer: LayerKind,
        (volume, depth, lift): (f64, f64, f64),
        at: Moment,
        rng: &mut ChaCha8Rng,
    ) -> Self {
        let (mound, rate) = match layer {
            LayerKind::Base => (3.3, 0.014),
            LayerKind::Activator => (1.5, 0.05),
            LayerKind::Colour | LayerKind::Medium => (2.4, 0.034),
        };
        let mound = mound * normal(rng, 0.0, 0.1).exp();
        let clears_in = 10.5 * (mound / 3.0) * (depth / 60.0) * normal(rng, 0.0, 0.15).exp();
        Self {
            cup,
            layer,
            left: volume,
            lift,
            mixed_at: at,
            mound,
            mound_at: at,
            rate: normal(rng, rate, rate / 4.0).max(0.002),
            strength: 6.9 * normal(rng, 0.0, 0.1).exp(),
            clears_in,
        }
    }

    /// Its mound, which grows along a straight line on the log scale.
    pub(super) fn mound(&self, at: Moment) -> f64 {
        self.mound * (self.rate * hours(self.mound_at, at)).exp()
    }

    /// What a painter with a stopwatch reads, to a tenth of a second.
    pub(super) fn read(&self, at: Moment, rng: &mut ChaCha8Rng) -> Seconds {
        Seconds(tenth(normal(rng, self.mound(at), 0.15)).max(0.3))
    }

    /// The thinner a painter takes to bring a reading down to a mound: what is usual, give or take.
    pub(super) fn thinner(&self, read: Seconds, aim: f64, rng: &mut ChaCha8Rng) -> Millilitres {
        let share = (read.get() / aim).ln() / 6.9 * normal(rng, 0.9, 0.12);
        let share = share.clamp(0.003, 0.2);
        let half_ml = (self.left * share / (1.0 - share) * 2.0).round() / 2.0;
        Millilitres(half_ml.max(0.5))
    }

    pub(super) fn thin(&mut self, ml: Millilitres, at: Moment, rng: &mut ChaCha8Rng) {
        let share = ml.get() / (self.left + ml.get());
        let fell = normal(rng, -self.strength * share, 0.04);
        self.mound = self.mound(at) * fell.exp();
        self.mound_at = at;
        self.left += ml.get();
    }

    pub(super) fn is_clear(&self, at: Moment) -> bool {
        self.layer == LayerKind::Activator || self.rested(at) >= self.clears_in
    }

    pub(super) fn rested(&self, at: Moment) -> f64 {
        hours(self.mixed_at, at)
    }
}

/// How a stack, lowest first, really does: the cells it tends to, beyond 0 and 5 too.
pub(super) fn cells_of(stack: &[&Paint], at: Moment, rng: &mut ChaCha8Rng) -> f64 {
    let colours = stack.iter().filter(|one| one.layer == LayerKind::Colour);
    let rest = colours
        .map(|one| one.rested(at))
        .fold(f64::INFINITY, f64::min);
    let rested = 1.0 / (1.0 + (13.5 - rest).exp());
    let activator = stack.iter().find(|one| one.layer == LayerKind::Activator);
    let thin = activator.map_or(-0.5, |one| (1.7 - one.mound(at)).clamp(-0.6, 0.6));
    let lift: f64 = stack.iter().map(|one| one.lift).sum();
    let falls = stack
        .windows(2)
        .all(|pair| pair[1].mound(at) < pair[0].mound(at));
    let order = if falls { 0.0 } else { -0.8 };
    normal(rng, 1.9 + 1.3 * rested + 1.2 * thin + lift + order, 0.8)
}

/// A grade from 0 to 5.
pub(super) fn grade(value: f64) -> u8 {
    value.round().clamp(0.0, 5.0) as u8
}

fn tenth(value: f64) -> f64 {
    (value * 10.0).round() / 10.0
}

fn hours(from: Moment, to: Moment) -> f64 {
    (to - from).num_seconds() as f64 / 3600.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use chrono::{DateTime, TimeDelta};
    use rand::SeedableRng;

    fn mixed() -> Moment {
        DateTime::parse_from_rfc3339("2026-10-01T20:00:00+02:00").unwrap()
    }

    fn colour(rng: &mut ChaCha8Rng) -> Paint {
        let what = (200.0, 60.0, 0.0);
        Paint::mixed(CupId(7), LayerKind::Colour, what, mixed(), rng)
    }

    #[test]
    fn equal_waits_multiply_a_mound_by_equal_factors() {
        let paint = colour(&mut ChaCha8Rng::seed_from_u64(1));
        let at = |hours| paint.mound(mixed() + TimeDelta::hours(hours));
        assert!((at(4) / at(0) - at(8) / at(4)).abs() < 1e-12);
        assert!(at(4) > at(0));
    }

    #[test]
    fn a_tenth_of_thinner_about_halves_a_mound() {
        // models.md: prior for b, from memory, no source.
        let mut rng = ChaCha8Rng::seed_from_u64(2);
        let falls = (0..200).map(|_| {
            let mut paint = colour(&mut rng);
            let before = paint.mound(mixed());
            paint.thin(Millilitres(200.0 / 9.0), mixed(), &mut rng);
            paint.mound(mixed()) / before
        });
        let mean = falls.sum::<f64>() / 200.0;
        assert!((0.47..0.53).contains(&mean), "{mean}");
    }

    #[test]
    fn a_long_rest_and_a_thin_activator_help_and_a_wrong_order_harms() {
        let mut rng = ChaCha8Rng::seed_from_u64(3);
        let mut mean = |hours: i64, thinner: f64, swapped: bool| {
            let at = mixed() + TimeDelta::hours(hours);
            let sum: f64 = (0..400)
                .map(|_| {
                    let colour = colour(&mut rng);
                    let what = (60.0, 30.0, 0.0);
                    let layer = LayerKind::Activator;
                    let mut top = Paint::mixed(CupId(2), layer, what, at, &mut rng);
                    top.thin(Millilitres(thinner), at, &mut rng);
                    let stack = if swapped {
                        [&top, &colour]
                    } else {
                        [&colour, &top]
                    };
                    cells_of(&stack, at, &mut rng)
                })
                .sum();
            sum / 400.0
        };
        let usual = mean(18, 0.0, false);
        assert!(usual > mean(8, 0.0, false) + 0.8);
        assert!(mean(18, 3.0, false) > usual + 0.25);
        assert!(mean(18, 0.0, true) < usual - 0.5);
    }
}
