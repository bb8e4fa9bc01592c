//! How long a cup stays ready: ln(mound) grows in a straight line from the last thinning or stirring.
//!
//! The rate is normal at three levels, cup within variant within studio, for cups with the lid on and for open ones apart.
//! Defaults, ours and from memory: 0.18 an hour under a lid (3 s becomes 3.6 s), 80 % band 0.02 to 0.34; open 0.35, 0.06
//! to 0.64. Until a variant has three pairs of readings the trade's
//! rule holds instead of an instant: look again after the variant's interval (60 min unless it says
//! otherwise; common practice). A reading's error is the studio's own: [`super::noise`].
//! How far the cups of a variant differ is learned too, over a few widths about practice's, each by how well it foretells
//! one cup from those before it.

use super::{Z_80, search::bisect};
use crate::trade::range::Window;
use crate::trade::units::{Backing, Band, Estimate, Hours, PerHour, Seconds};

/// The variance of the rate between the variants of a studio.
pub(super) const VAR_VARIANT: f64 = 0.01;
/// The variance between the cups of a variant.
pub(super) const VAR_CUP: f64 = 0.0025;
/// How many pairs a variant needs before its own rate sets the instant.
const ENOUGH: usize = 3;
/// The sd of the difference of two readings of ln(mound) that err by 30 % each.
const SLIP_NOISE: f64 = 0.42;
/// How far ahead the instant is looked for, in hours: a week.
const HORIZON: f64 = 168.0;

/// Two readings of one cup with nothing done to it between them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pair {
    /// The time between them.
    pub hours: Hours,
    /// The earlier mound.
    pub before: Seconds,
    /// The later mound.
    pub after: Seconds,
}

/// Whether a cup stands under its lid or open, where it dries.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum Lid {
    /// The lid is on.
    #[default]
    On,
    /// The lid is off.
    Off,
}

impl Lid {
    /// The middle of the rate of ln(mound) per hour, and its variance between studios (ours, from memory).
    pub(super) const fn practice(self) -> (f64, f64) {
        match self {
            Self::On => (0.18, 0.0025),
            Self::Off => (0.35, 0.04),
        }
    }

    /// How many times that of practice the variance of cups may be, and how likely each is taken to be (ours): a careful
    /// hand makes them all alike, and where paint dries they differ more.
    const fn widths(self) -> [(f64, f64); 4] {
        match self {
            Self::On => [(0.04, 0.25), (1.0, 0.6), (4.0, 0.12), (20.0, 0.03)],
            Self::Off => [(0.1, 0.05), (1.0, 0.3), (9.0, 0.45), (27.0, 0.2)],
        }
    }
}

/// What a studio knows of thickening, seen from one cup, of pairs under the same lid.
#[derive(Debug, Clone, PartialEq)]
pub struct History {
    /// The lid.
    pub lid: Lid,
    /// The sd of ln(mound) from one reading's error.
    pub noise: f64,
    /// This cup's pairs.
    pub cup: Vec<Pair>,
    /// The pairs of each other cup of this variant.
    pub variant: Vec<Vec<Pair>>,
    /// The pairs of each cup of each other variant.
    pub studio: Vec<Vec<Vec<Pair>>>,
}

/// A cup's growth rate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rate {
    mean: f64,
    sd: f64,
    noise: f64,
    /// How many pairs of this variant stand behind it.
    pub readings: usize,
    /// Practice, or the studio's own.
    pub from: Backing,
}

/// How long a cup stays ready, from its last reading.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ready {
    /// The hours from the last reading; `None` where it stays ready for a week and more.
    pub until: Option<Hours>,
    /// Practice (look again), or the studio's own rate.
    pub from: Backing,
    /// How many pairs of this variant stand behind it.
    pub readings: usize,
}

/// A normal belief: mean and variance.
#[derive(Clone, Copy)]
struct Belief {
    mean: f64,
    variance: f64,
}

impl Belief {
    fn widened(self, by: f64) -> Self {
        Self {
            variance: self.variance + by,
            ..self
        }
    }

    /// The log-chance of what was seen.
    fn foretells(self, seen: Self) -> f64 {
        let variance = self.variance + seen.variance;
        -0.5 * ((seen.mean - self.mean).powi(2) / variance + variance.ln())
    }

    /// Several beliefs as one, each by its log-weight.
    fn mixed(all: &[(f64, Self)]) -> Self {
        let top = all
            .iter()
            .map(|one| one.0)
            .fold(f64::NEG_INFINITY, f64::max);
        let weights = all.iter().map(|(log, one)| ((log - top).exp(), one));
        let weights: Vec<(f64, &Self)> = weights.collect();
        let sum: f64 = weights.iter().map(|one| one.0).sum();
        let over = |of: &dyn Fn(&Self) -> f64| {
            let each = weights.iter().map(|(weight, one)| weight * of(one));
            each.sum::<f64>() / sum
        };
        let mean = over(&|one| one.mean);
        Self {
            mean,
            variance: over(&|one| one.variance + (one.mean - mean).powi(2)),
        }
    }

    fn updated(self, seen: Self) -> Self {
        let weight = 1.0 / self.variance + 1.0 / seen.variance;
        Self {
            mean: (self.mean / self.variance + seen.mean / seen.variance) / weight,
            variance: 1.0 / weight,
        }
    }
}

impl Pair {
    pub(super) fn usable(&self) -> bool {
        let good = |x: f64| x.is_finite() && x > 0.0;
        good(self.hours.0) && good(self.before.0) && good(self.after.0)
    }

    /// Whether no paint does that, by any reading that errs as much as readings do: a wrong key, a wrong cup. It says nothing
    /// of how paint thickens. Beyond three sds of two readings that err by 30 % and of a cup that differs as much as cups
    /// are taken to (ours).
    #[must_use]
    pub fn is_slip(&self, lid: Lid) -> bool {
        let (mean, variance) = lid.practice();
        let widest = lid
            .widths()
            .into_iter()
            .map(|one| one.0)
            .fold(0.0, f64::max);
        let rate = (variance + VAR_VARIANT + VAR_CUP * widest).sqrt();
        let sd = SLIP_NOISE.hypot(rate * self.hours.0);
        self.usable() && (self.growth() - mean * self.hours.0).abs() > 3.0 * sd
    }

    /// The growth of ln(mound).
    pub(super) fn growth(&self) -> f64 {
        (self.after.0 / self.before.0).ln()
    }

    fn seen(&self, noise: f64) -> Option<Belief> {
        self.usable().then(|| Belief {
            mean: self.growth() / self.hours.0,
            variance: 2.0 * noise * noise / (self.hours.0 * self.hours.0),
        })
    }
}

impl History {
    /// Nothing but practice.
    #[must_use]
    pub const fn practice(lid: Lid, noise: f64) -> Self {
        Self {
            lid,
            noise,
            cup: Vec::new(),
            variant: Vec::new(),
            studio: Vec::new(),
        }
    }

    /// The rate of this cup.
    #[must_use]
    pub fn rate(&self) -> Rate {
        let at = |(wider, prior): (f64, f64)| {
            let (log, belief) = self.at(wider);
            (prior.ln() + log, belief)
        };
        let cup = Belief::mixed(&self.lid.widths().map(at));
        let all = self.own_pairs()
            + self
                .studio
                .iter()
                .flatten()
                .map(|c| usable(c))
                .sum::<usize>();
        Rate {
            mean: cup.mean,
            sd: cup.variance.sqrt(),
            noise: self.noise,
            readings: self.own_pairs(),
            from: if all == 0 {
                Backing::Practice
            } else {
                Backing::Yours
            },
        }
    }

    /// What is believed of this cup where variances are so many times practice's, with the log-chance of what was seen.
    fn at(&self, wider: f64) -> (f64, Belief) {
        let (mean, variance) = self.lid.practice();
        let prior = Belief { mean, variance };
        let noise = self.noise;
        let of_cups = VAR_CUP * wider;
        let variants = self.studio.iter();
        let variants = variants.filter_map(|cups| pooled_cups(cups, noise, of_cups));
        let studio = variants.fold(prior, |b, seen| b.updated(seen.widened(VAR_VARIANT)));
        let (mut log, mut variant) = (0.0, studio.widened(VAR_VARIANT));
        for seen in self.variant.iter().filter_map(|pairs| pooled(pairs, noise)) {
            let seen = seen.widened(of_cups);
            log += variant.foretells(seen);
            variant = variant.updated(seen);
        }
        let cup = variant.widened(of_cups);
        match pooled(&self.cup, noise) {
            Some(seen) => (log + cup.foretells(seen), cup.updated(seen)),
            None => (log, cup),
        }
    }

    fn own_pairs(&self) -> usize {
        usable(&self.cup) + self.variant.iter().map(|c| usable(c)).sum::<usize>()
    }
}

impl Rate {
    /// The rate with its 80 % band.
    #[must_use]
    pub fn band(&self) -> Band<PerHour> {
        let at = |z: f64| PerHour(self.mean + z * self.sd);
        Band {
            low: at(-Z_80),
            mid: at(0.0),
            high: at(Z_80),
        }
    }

    /// The mound to expect some time after a reading.
    #[must_use]
    pub fn expect(&self, mound: Seconds, after: Hours) -> Estimate<Seconds> {
        let at = |z: f64| mound * self.log_growth(after.0, z).exp();
        Estimate {
            band: Band {
                low: at(-Z_80),
                mid: at(0.0),
                high: at(Z_80),
            },
            from: self.from,
            readings: self.readings,
        }
    }

    fn log_growth(&self, hours: f64, z: f64) -> f64 {
        self.mean * hours + z * self.noise.hypot(self.sd * hours)
    }
}

/// How long a cup stays in its window: until the thicker edge of its 80 % band leaves it. With fewer than three
/// pairs of its variant it is the interval after which to look again.
#[must_use]
pub fn ready_until(mound: Seconds, window: Window, history: &History, rethin: Hours) -> Ready {
    let rate = history.rate();
    if rate.readings < ENOUGH {
        return Ready {
            until: Some(rethin),
            from: Backing::Practice,
            readings: rate.readings,
        };
    }
    Ready {
        until: leaves(mound, window, &rate),
        from: Backing::Yours,
        readings: rate.readings,
    }
}

fn leaves(mound: Seconds, window: Window, rate: &Rate) -> Option<Hours> {
    let left = (window.high.0 / mound.0).ln();
    let over = |t: f64| rate.log_growth(t, Z_80) - left;
    if !left.is_finite() || over(0.0) > 0.0 {
        return Some(Hours::ZERO);
    }
    // Convex in time: it may dip, but from at or below zero it rises through it once.
    (over(HORIZON) > 0.0).then(|| Hours(bisect(0.0, HORIZON, over)))
}

fn usable(pairs: &[Pair]) -> usize {
    pairs.iter().filter(|pair| pair.usable()).count()
}

fn pooled(pairs: &[Pair], noise: f64) -> Option<Belief> {
    let seen = pairs.iter().filter_map(|pair| pair.seen(noise));
    seen.reduce(Belief::updated)
}

fn pooled_cups(cups: &[Vec<Pair>], noise: f64, of_cups: f64) -> Option<Belief> {
    let seen = cups.iter().filter_map(|pairs| pooled(pairs, noise));
    seen.map(|cup| cup.widened(of_cups)).reduce(Belief::updated)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use rand::{RngExt, SeedableRng, rngs::ChaCha8Rng};
    use rand_distr::{Distribution, Normal};

    const READING: f64 = 0.1;
    /// A variant's interval after which to look again (common practice, no source).
    const RETHIN: Hours = Hours(1.0);

    fn practice() -> History {
        History::practice(Lid::On, READING)
    }

    const WINDOW: Window = Window {
        low: Seconds(2.0),
        high: Seconds(4.0),
    };

    fn pair(hours: f64, before: f64, after: f64) -> Pair {
        Pair {
            hours: Hours(hours),
            before: Seconds(before),
            after: Seconds(after),
        }
    }

    /// Common practice, no source: look again after 60 min.
    #[test]
    fn practice_holds_until_three_pairs() {
        let mut history = History {
            cup: vec![pair(1.0, 2.0, 2.5); 2],
            ..practice()
        };
        let ready = ready_until(Seconds(3.0), WINDOW, &history, RETHIN);
        assert_eq!(
            (ready.until, ready.from),
            (Some(Hours(1.0)), Backing::Practice)
        );
        history.variant.push(vec![pair(2.0, 2.0, 3.0)]);
        let ready = ready_until(Seconds(2.5), WINDOW, &history, RETHIN);
        assert_eq!((ready.from, ready.readings), (Backing::Yours, 3));
        assert!(ready.until.unwrap().0 > 0.0);
    }

    #[test]
    fn upper_edge_is_at_the_window_at_that_instant() {
        let history = History {
            cup: vec![pair(1.0, 2.0, 2.6); 5],
            ..practice()
        };
        let until = ready_until(Seconds(2.5), WINDOW, &history, RETHIN)
            .until
            .unwrap();
        let edge = history.rate().expect(Seconds(2.5), until).band.high;
        assert!((edge.0 - 4.0).abs() < 1e-9);
        assert_eq!(
            ready_until(Seconds(4.2), WINDOW, &history, RETHIN).until,
            Some(Hours::ZERO)
        );
    }

    #[test]
    fn cup_that_does_not_thicken_stays_ready() {
        let history = History {
            cup: vec![pair(24.0, 3.0, 2.0); 9],
            ..practice()
        };
        assert_eq!(
            ready_until(Seconds(2.5), WINDOW, &history, RETHIN).until,
            None
        );
    }

    #[test]
    fn default_rate_is_practice() {
        let rate = practice().rate();
        assert_eq!(rate.from, Backing::Practice);
        let band = rate.band();
        assert!((band.mid.0 - 0.18).abs() < 1e-12);
        assert!((band.low.0 - 0.03).abs() < 0.03 && (band.high.0 - 0.33).abs() < 0.03);
    }

    proptest! {
        #[test]
        fn thicker_cup_is_never_ready_longer(m in 2.0..3.9_f64, more in 1.0..1.5_f64, after in 2.0..4.0_f64) {
            let history = History { cup: vec![pair(1.0, 2.0, after); 4], ..practice() };
            let until = |m| ready_until(Seconds(m), WINDOW, &history, RETHIN).until.map_or(f64::MAX, |h| h.0);
            prop_assert!(until(m * more) <= until(m));
        }
    }

    struct Studio {
        rng: ChaCha8Rng,
        unit: Normal<f64>,
    }

    impl Studio {
        fn near(&mut self, mean: f64, variance: f64) -> f64 {
            mean + variance.sqrt() * self.unit.sample(&mut self.rng)
        }

        fn read(&mut self, mound: f64) -> f64 {
            mound * self.near(0.0, READING * READING).exp()
        }

        fn pairs(&mut self, rate: f64) -> Vec<Pair> {
            let count = self.rng.random_range(0..4);
            let mut one = || {
                let (hours, m) = (
                    self.rng.random_range(0.5..4.0),
                    self.rng.random_range(2.0..5.0),
                );
                let after = self.read(m * f64::exp(rate * hours));
                pair(hours, self.read(m), after)
            };
            (0..count).map(|_| one()).collect()
        }

        fn cups(&mut self, variant: f64) -> Vec<Vec<Pair>> {
            let mut one = || {
                let rate = self.near(variant, VAR_CUP);
                self.pairs(rate)
            };
            (0..2).map(|_| one()).collect()
        }
    }

    #[test]
    fn band_of_the_expected_mound_holds_four_in_five() {
        let mut studio = Studio {
            rng: ChaCha8Rng::seed_from_u64(11),
            unit: Normal::new(0.0, 1.0).unwrap(),
        };
        let (draws, mut inside) = (4000, 0);
        for _ in 0..draws {
            let level = studio.near(0.18, 0.0025);
            let other = studio.near(level, VAR_VARIANT);
            let variant = studio.near(level, VAR_VARIANT);
            let cup = studio.near(variant, VAR_CUP);
            let history = History {
                cup: studio.pairs(cup),
                variant: studio.cups(variant),
                studio: vec![studio.cups(other)],
                ..practice()
            };
            let truth = studio.rng.random_range(2.0..4.0);
            let hours = studio.rng.random_range(0.5..6.0);
            let read = Seconds(studio.read(truth));
            let band = history.rate().expect(read, Hours(hours)).band;
            let later = truth * f64::exp(cup * hours);
            inside += usize::from(band.low.0 <= later && later <= band.high.0);
        }
        let held = inside as f64 / f64::from(draws);
        assert!((0.75..=0.85).contains(&held), "held {held}");
    }

    #[test]
    fn one_cup_in_ten_leaves_before_its_instant() {
        let mut studio = Studio {
            rng: ChaCha8Rng::seed_from_u64(13),
            unit: Normal::new(0.0, 1.0).unwrap(),
        };
        let (mut told, mut early) = (0, 0);
        while told < 2500 {
            let level = studio.near(0.18, 0.0025);
            let variant = studio.near(level, VAR_VARIANT);
            let cup = studio.near(variant, VAR_CUP);
            let history = History {
                cup: studio.pairs(cup),
                variant: studio.cups(variant),
                ..practice()
            };
            let truth = studio.rng.random_range(2.0..2.8);
            let ready = ready_until(Seconds(studio.read(truth)), WINDOW, &history, RETHIN);
            if let (Backing::Yours, Some(until)) = (ready.from, ready.until) {
                told += 1;
                early += usize::from(truth * f64::exp(cup * until.0) > WINDOW.high.0);
            }
        }
        let share = early as f64 / f64::from(told);
        assert!((0.06..=0.14).contains(&share), "left early {share}");
    }
}
