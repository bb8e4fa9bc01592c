//! Thickening: the band of a mound some hours after a reading, and how often a cup has left its window by "ready until",
//! where readings err more or less than practice says, lids are off, and paint does not thicken as the model thinks.

use super::rests::normal;
use super::{Claim, Measured};
use rand::{RngExt, SeedableRng, rngs::ChaCha8Rng};
use stillcup::numbers::noise::{Readings, scatter};
use stillcup::numbers::thickening::{History, Lid, Pair, ready_until};
use stillcup::trade::range::Window;
use stillcup::trade::units::{Hours, Seconds};

/// A studio: what its readings err by, how many pairs its variant has, and how its paint thickens.
#[derive(Debug, Clone, Copy)]
struct Studio {
    noise: f64,
    pairs: usize,
    /// Whether rates are log-normal between variants, with a long tail of quick ones.
    skewed: bool,
    /// Whether the lid is off, and paint thickens three times as fast as that of the capped cups beside.
    open: bool,
    /// How much quicker the first hour is than the third.
    bent: f64,
    /// The sd of the rate between the cups of a variant.
    apart: f64,
    /// How many hours later, at least and at most.
    later: (f64, f64),
}

const PLAIN: Studio = Studio {
    noise: 0.08,
    pairs: 10,
    skewed: false,
    open: false,
    bent: 0.0,
    apart: 0.05,
    later: (0.5, 3.0),
};

/// A variant's interval after which to look again (common practice, no source).
const RETHIN: Hours = Hours(1.0);
const WINDOW: Window = Window {
    low: Seconds(2.0),
    high: Seconds(4.0),
};

/// The rows of this file.
pub fn claims() -> Vec<Claim> {
    let mut all = Vec::new();
    for noise in [0.03, 0.08, 0.15] {
        for pairs in [3, 10, 30] {
            let name = format!("noise {noise}, {pairs} pairs");
            let studio = Studio {
                noise,
                pairs,
                ..PLAIN
            };
            all.extend(rows(&name, studio));
        }
    }
    let skewed = Studio {
        skewed: true,
        ..PLAIN
    };
    let open = Studio {
        open: true,
        ..PLAIN
    };
    let bent = Studio { bent: 0.3, ..PLAIN };
    all.extend(rows("rates of a long tail, 10 pairs", skewed));
    all.extend(rows("open cups, three times as fast, 10 pairs", open));
    all.extend(rows("quick at first, 10 pairs", bent));
    all.extend(overnight());
    all
}

/// A night later, where the cups of a variant are alike, or differ as practice has it, or more. Thirty pairs cannot tell how
/// far the rates of ten cups differ, so that the band is wide for cups that are alike and narrow for those that are not.
fn overnight() -> Vec<Claim> {
    let mut all = Vec::new();
    for apart in [0.0, 0.02, 0.05, 0.1] {
        for pairs in [10, 30, 90] {
            let studio = Studio {
                apart,
                pairs,
                later: (8.0, 20.0),
                ..PLAIN
            };
            let name = format!("8 to 20 h, cups {apart} apart, {pairs} pairs");
            let [held, _] = rows(&name, studio);
            let wanted = match pairs < 90 {
                true => 0.64..=1.0,
                false => 0.72..=0.97,
            };
            all.push(Claim { wanted, ..held });
        }
    }
    all
}

fn rows(name: &str, studio: Studio) -> [Claim; 2] {
    // Fewer than ten readings cannot tell a studio's noise.
    let wanted = match studio.pairs < 10 {
        true => 0.60..=0.97,
        false => 0.72..=0.88,
    };
    [
        Claim::new(
            format!("thickening: 80 % band of a mound hours later, {name}"),
            wanted,
            (40, 2000),
            move |seeds| {
                let held = seeds.each().filter(|seed| band_holds(*seed, studio));
                Measured::share(held.count(), seeds.count)
            },
        ),
        Claim::new(
            format!("thickening: past the window by ready until, {name}"),
            0.0..=0.2,
            (40, 2000),
            move |seeds| {
                let left: Vec<bool> = seeds
                    .each()
                    .filter_map(|seed| has_left(seed, studio))
                    .collect();
                Measured::share(left.iter().filter(|left| **left).count(), left.len())
            },
        ),
    ]
}

/// The paint of a studio, and the hand that reads it.
struct Bench {
    rng: ChaCha8Rng,
    studio: Studio,
    /// The rate of the variant.
    rate: f64,
}

impl Bench {
    fn new(seed: u64, studio: Studio) -> Self {
        let mut rng = ChaCha8Rng::seed_from_u64(seed);
        let rate = match studio.skewed {
            true => 0.16 * (0.6 * normal(&mut rng)).exp(),
            false => 0.18 + 0.05 * normal(&mut rng) + 0.1 * normal(&mut rng),
        };
        Self { rng, studio, rate }
    }

    fn cup(&mut self, lid: Lid) -> f64 {
        let rate = self.rate + self.studio.apart * normal(&mut self.rng);
        match lid {
            Lid::On => rate,
            Lid::Off => 3.0 * rate,
        }
    }

    /// ln(mound) gained by some hours after the last thinning.
    fn gained(&self, rate: f64, hours: f64) -> f64 {
        rate * (hours + self.studio.bent * (1.0 - (-hours).exp()))
    }

    fn read(&mut self, mound: f64) -> Seconds {
        Seconds(mound * (self.studio.noise * normal(&mut self.rng)).exp())
    }

    /// Cups of up to three pairs each, one after another.
    fn cups(&mut self, lid: Lid, pairs: usize) -> Vec<Vec<Pair>> {
        let mut cups = Vec::new();
        for first in (0..pairs).step_by(3) {
            let rate = self.cup(lid);
            let few = (pairs - first).min(3);
            cups.push((0..few).map(|_| self.pair(rate)).collect());
        }
        cups
    }

    fn pair(&mut self, rate: f64) -> Pair {
        let hours = self.rng.random_range(0.5..3.0);
        let mound = self.rng.random_range(2.0..4.0);
        let after = mound * self.gained(rate, hours).exp();
        Pair {
            hours: Hours(hours),
            before: self.read(mound),
            after: self.read(after),
        }
    }

    /// What is known of a new cup of the variant.
    fn known(&mut self) -> History {
        let lid = if self.studio.open { Lid::Off } else { Lid::On };
        let own = self.cups(lid, self.studio.pairs);
        let beside = self.cups(Lid::On, self.studio.pairs);
        let readings = Readings {
            thinned: Vec::new(),
            stood: vec![(lid, vec![own.clone()]), (Lid::On, vec![beside])],
        };
        History {
            variant: own,
            ..History::practice(lid, scatter(&readings).reading)
        }
    }
}

fn band_holds(seed: u64, studio: Studio) -> bool {
    let mut bench = Bench::new(seed, studio);
    let known = bench.known();
    let (rate, mound) = (bench.cup(known.lid), bench.rng.random_range(2.0..4.0));
    let (least, most) = studio.later;
    let hours = bench.rng.random_range(least..most);
    let band = known.rate().expect(bench.read(mound), Hours(hours)).band;
    let truth = mound * bench.gained(rate, hours).exp();
    (band.low.get()..=band.high.get()).contains(&truth)
}

/// Whether a cup that was read in its window is above it at the instant until which it is called ready; none where it is
/// not called ready, or practice's interval alone is said.
fn has_left(seed: u64, studio: Studio) -> Option<bool> {
    let mut bench = Bench::new(seed, studio);
    let known = bench.known();
    let (rate, mound) = (bench.cup(known.lid), bench.rng.random_range(2.0..3.5));
    let read = bench.read(mound);
    let until = ready_until(read, WINDOW, &known, RETHIN).until?;
    (until > Hours::ZERO).then(|| mound * bench.gained(rate, until.get()).exp() > WINDOW.high.get())
}
