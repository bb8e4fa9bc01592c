//! How much thinner brings a cup back into its window.
//!
//! ln(mound) falls with the thinner's share of the volume, phi: ln m1 = ln m0 - b phi. Prior, from memory, no
//! source: 10 % halves the mound (b = 6.9), within a factor of 1.9 (3.6 to 13), read as the 80 % band of a
//! log-normal (sd of ln b = 0.51). Part of that spread is shared by all of a studio, the greater part is the
//! thinner's own, part (sd 0.2, ours) the variant's. Each reading, thinning, reading is a normal observation of ln b,
//! linearised at the current estimate; one that lies far off (over 2.5 sd: a wrong cup, a wrong key) is given the
//! less weight. A mound that grew on thinning is counted. A reading's error, and what the cups of one variant differ by, is the
//! studio's own: [`super::noise`]. What is expected of one cup is as wide as cups differ.

use super::Z_80;
use super::noise::{PRACTICE, Scatter};
use crate::trade::range::Window;
use crate::trade::units::{Backing, Band, Estimate, Millilitres, Seconds, Share};

/// The prior's middle: ln 6.9.
pub(super) const PRIOR: f64 = 1.931_521_411_603_214;
/// The variance of ln b between studios.
const VAR_STUDIO: f64 = 0.03;
/// The variance of ln b between thinners: water, medium and spirits differ by more than studios do.
const VAR_THINNER: f64 = 0.19;
/// The variance of ln b between variants with one thinner (0.2 squared, ours).
const VAR_VARIANT: f64 = 0.04;
/// All of it: what is open of a thinner nobody tried.
pub(super) const VAR_ALL: f64 = VAR_STUDIO + VAR_THINNER + VAR_VARIANT;
/// From so many sds on an observation weighs less.
const FAR: f64 = 2.5;
/// The standard normal's 80 % point.
const Z_20: f64 = 0.841_621_233_572_914_3;
/// The limit where the variant has none: 25 % of the cup (common practice, no source).
pub const LIMIT: Share = Share(0.25);

/// A mound, what was then added as a share of the volume after, and the mound after it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Triple {
    /// The mound before.
    pub before: Seconds,
    /// The thinner added, as a share of the volume after adding.
    pub added: Share,
    /// The mound after.
    pub after: Seconds,
}

impl Triple {
    /// Whether the readings and the amount can be used at all.
    pub(super) fn usable(&self) -> bool {
        let good = |x: f64| x.is_finite() && x > 0.0;
        good(self.before.0) && good(self.after.0) && good(self.added.0) && self.added.0 < 1.0
    }

    /// Whether the mound grew, or stood, on thinning.
    #[must_use]
    pub fn contradicts(&self) -> bool {
        self.after >= self.before
    }

    /// The drop of ln(mound).
    pub(super) fn drop(&self) -> f64 {
        (self.before.0 / self.after.0).ln()
    }
}

/// What is known of one thinner in one variant.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Strength {
    /// The middle of ln b.
    mean: f64,
    /// The sd of ln b.
    sd: f64,
    /// The sd of ln b between cups.
    cups: f64,
    /// The sd of ln(mound) from one reading's error.
    pub noise: f64,
    /// How many of the studio's triples were used, of this variant and of the others.
    pub readings: usize,
    /// How many triples of this variant contradict the model.
    pub contradicting: usize,
    /// Practice, or the studio's own.
    pub from: Backing,
}

impl Strength {
    /// Learns from the variant's own triples with a thinner, from the studio's other variants with it, and from those of
    /// each other thinner, where readings and cups scatter so much.
    #[must_use]
    pub fn learn(
        own: &[Triple],
        others: &[Vec<Triple>],
        elsewhere: &[Vec<Vec<Triple>>],
        scatter: Scatter,
    ) -> Self {
        let changed = changed_at(own);
        let (before, own) = own.split_at(changed);
        // What the bottle was before is another thinner that nobody named.
        let before = (changed > 0).then(|| vec![before.to_vec()]);
        let elsewhere: Vec<Vec<Vec<Triple>>> = elsewhere.iter().cloned().chain(before).collect();
        let learn = |from: Belief, triples: &[Triple]| from.updated(triples, scatter);
        let said = |variants: &[Vec<Triple>]| {
            let prior = Belief {
                mean: PRIOR,
                variance: VAR_ALL,
            };
            let each = variants.iter().map(|one| learn(prior, one).without(prior));
            each.map(|one| one.widened(VAR_VARIANT))
                .fold(Said::NOTHING, Said::and)
        };
        let studio = Belief {
            mean: PRIOR,
            variance: VAR_STUDIO,
        };
        let thinners = elsewhere.iter().map(|one| said(one).widened(VAR_THINNER));
        let studio = thinners.fold(studio, Belief::told);
        let thinner = studio.widened(VAR_THINNER).told(said(others));
        let known = learn(thinner.widened(VAR_VARIANT), own);
        let used = |all: &[Triple]| all.iter().filter(|t| t.usable()).count();
        let readings = used(own) + others.iter().map(|all| used(all)).sum::<usize>();
        Self {
            mean: known.mean,
            sd: known.variance.sqrt(),
            cups: scatter.cups,
            noise: scatter.reading,
            readings,
            contradicting: own.iter().filter(|t| t.usable() && t.contradicts()).count(),
            from: match readings {
                0 => Backing::Practice,
                _ => Backing::Yours,
            },
        }
    }

    /// b of the variant's cups in the middle, with its 80 % band: ln(mound) lost per unit share of thinner.
    #[must_use]
    pub fn band(&self) -> Band<f64> {
        let at = |z: f64| (self.mean + z * self.sd).exp();
        Band {
            low: at(-Z_80),
            mid: at(0.0),
            high: at(Z_80),
        }
    }

    /// The sd of ln b of the next cup.
    fn open(&self) -> f64 {
        self.sd.hypot(self.cups)
    }

    /// The mound expected after a share of thinner has gone in.
    #[must_use]
    pub fn expect(&self, mound: Seconds, added: Share) -> Estimate<Seconds> {
        let drop = added.0 * self.mean.exp();
        let sd = (drop * self.open()).hypot(self.noise);
        let at = |z: f64| mound * (z * sd - drop).exp();
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
}

/// A strength is another one where those before and after lie so many sds apart, and each side has so many triples (ours).
const APART: f64 = 4.0;
const EACH: usize = 5;

/// From which triple on the thinner was another one, though nobody said so: a new bottle, or water for flow medium; 0 where
/// all agree. Triples in the order of time. What counts as apart follows from how the triples of each side lie together, so
/// that cups that differ anyway are no change.
pub(super) fn changed_at(triples: &[Triple]) -> usize {
    let splits = EACH..(triples.len() + 1).saturating_sub(EACH);
    let apart = |at: usize| {
        let (a, b) = (straight(&triples[..at])?, straight(&triples[at..])?);
        // Half of what practice says two readings err by: few triples can lie together by chance.
        let freedom = (a.count + b.count - 2) as f64;
        let error = ((a.off + b.off) / freedom).max(PRACTICE * PRACTICE);
        let sd = (error * (1.0 / a.squares + 1.0 / b.squares)).sqrt();
        Some((a.strength - b.strength).abs() / sd)
    };
    let all = splits.filter_map(|at| Some((at, apart(at)?)));
    let far = all.filter(|(_, apart)| *apart > APART);
    far.max_by(|a, b| a.1.total_cmp(&b.1))
        .map_or(0, |one| one.0)
}

/// A strength by least squares.
struct Straight {
    strength: f64,
    /// The sum of squares of what is left over.
    off: f64,
    /// The sum of squares of the thinner's shares.
    squares: f64,
    count: usize,
}

fn straight(triples: &[Triple]) -> Option<Straight> {
    let usable = || triples.iter().filter(|triple| triple.usable());
    let squares: f64 = usable().map(|triple| triple.added.0.powi(2)).sum();
    let drops: f64 = usable().map(|triple| triple.added.0 * triple.drop()).sum();
    let strength = drops / squares;
    let off = usable().map(|triple| (triple.drop() - triple.added.0 * strength).powi(2));
    let (off, count) = (off.sum(), usable().count());
    (count >= EACH).then_some(Straight {
        strength,
        off,
        squares,
        count,
    })
}

/// The cup to be thinned.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cup {
    /// What is in it now, thinner included.
    pub volume: Millilitres,
    /// How much thinner that already includes.
    pub thinner: Millilitres,
    /// Its mound now.
    pub mound: Seconds,
    /// The sd of ln(mound): a reading's noise just after it, wider as it has stood since.
    pub spread: f64,
    /// The most thinner it may hold, as a share of the whole.
    pub limit: Share,
}

/// What to do with a cup.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Advice {
    /// It is within its window.
    Ready,
    /// It is thinner than its window: thinner will not help.
    TooThin,
    /// It likely needs more thinner than its limit leaves room for.
    Beyond,
    /// Add thinner.
    Add(Dose),
}

/// How much thinner to add.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dose {
    /// Begin with this: what is in cannot be taken out (20th percentile; the 10th where nobody has thinned with it).
    pub start_with: Millilitres,
    /// The likely need, and its 80 % band, whose upper end may lie over the limit.
    pub likely: Estimate<Millilitres>,
}

/// Why no advice is given.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ThinningError {
    /// The cup's volume is unknown or empty.
    Volume,
    /// The mound is no reading.
    Mound,
    /// The window's edges are not in order.
    Window,
    /// The limit is no share below the whole.
    Limit,
}

/// Advises how much thinner brings a cup to the middle of its window.
///
/// # Errors
/// A volume, mound, window or limit that is none.
pub fn advise(cup: Cup, window: Window, strength: &Strength) -> Result<Advice, ThinningError> {
    check(cup, window)?;
    if cup.mound < window.low {
        return Ok(Advice::TooThin);
    }
    if cup.mound <= window.high {
        return Ok(Advice::Ready);
    }
    let room = room(cup);
    let need = need(cup, window, strength);
    if room.is_nothing() || need(0.0) > room {
        return Ok(Advice::Beyond);
    }
    let careful = match strength.from {
        Backing::Practice => Z_80,
        _ => Z_20,
    };
    Ok(Advice::Add(Dose {
        start_with: need(-careful).min(room),
        likely: Estimate {
            band: Band {
                low: need(-Z_80),
                mid: need(0.0),
                high: need(Z_80),
            },
            from: strength.from,
            readings: strength.readings,
        },
    }))
}

/// More than this share of thinner is no paint: a need is told up to it.
const MOST: f64 = 0.9;

/// The need for the middle of the window, some sds from the likely one.
fn need(cup: Cup, window: Window, strength: &Strength) -> impl Fn(f64) -> Millilitres {
    let drop = (cup.mound / window.middle()).ln();
    // What is not known of the mound widens the need, the more so the nearer the goal.
    let sd = strength.open().hypot(cup.spread.max(strength.noise) / drop);
    let mean = strength.mean;
    move |z: f64| {
        let phi = (drop * (z * sd - mean).exp()).min(MOST);
        cup.volume * (phi / (1.0 - phi))
    }
}

/// How much paint without thinner brings a cup that is too thin to the middle of its window: the thinner's share falls by
/// what goes in. `None` where it is not too thin, or no amount would.
#[must_use]
pub fn paint_to_thicken(
    cup: Cup,
    window: Window,
    strength: &Strength,
) -> Option<Estimate<Millilitres>> {
    let share = cup.thinner / cup.volume;
    let rise = |z: f64| share * (strength.mean + z * strength.open()).exp();
    let mid = blended(cup, window, rise(0.0))?;
    // The weaker the thinner, the less its leaving thickens; where that is too weak, the most that is told.
    let at = |z: f64| blended(cup, window, rise(z)).unwrap_or(cup.volume * (MOST / (1.0 - MOST)));
    Some(Estimate {
        band: Band {
            low: at(Z_80),
            mid,
            high: at(-Z_80),
        },
        from: strength.from,
        readings: strength.readings,
    })
}

/// How much of a thicker cup of the same variant brings one that is too thin to the middle of its window: ln(mound) goes
/// with the thinner's share, and so with the share of each. `None` as for [`paint_to_thicken`].
#[must_use]
pub fn cup_to_thicken(cup: Cup, window: Window, thicker: Seconds) -> Option<Millilitres> {
    blended(cup, window, (thicker / cup.mound).ln())
}

/// How much goes in of what lies `rise` above the cup on the log.
fn blended(cup: Cup, window: Window, rise: f64) -> Option<Millilitres> {
    let share = (window.middle() / cup.mound).ln() / rise;
    let some = cup.mound < window.low && share > 0.0 && share < MOST;
    some.then(|| cup.volume * (share / (1.0 - share)))
}

/// How much more thinner the limit leaves room for.
#[must_use]
pub fn room(cup: Cup) -> Millilitres {
    let limit = cup.limit.0;
    ((cup.volume * limit - cup.thinner) / (1.0 - limit)).max(Millilitres::ZERO)
}

fn check(cup: Cup, window: Window) -> Result<(), ThinningError> {
    let good = |x: f64| x.is_finite() && x > 0.0;
    if !good(cup.volume.0) || !cup.thinner.is_finite() {
        return Err(ThinningError::Volume);
    }
    if !good(cup.mound.0) {
        return Err(ThinningError::Mound);
    }
    if !(good(window.low.0) && good(window.high.0) && window.low < window.high) {
        return Err(ThinningError::Window);
    }
    if !(0.0..1.0).contains(&cup.limit.0) {
        return Err(ThinningError::Limit);
    }
    Ok(())
}

/// A normal belief of ln b.
#[derive(Debug, Clone, Copy)]
struct Belief {
    mean: f64,
    variance: f64,
}

/// What was said of ln b beside what was believed before: its place, and how much it weighs.
#[derive(Debug, Clone, Copy)]
struct Said {
    place: f64,
    weight: f64,
}

impl Belief {
    fn widened(self, by: f64) -> Self {
        Self {
            variance: self.variance + by,
            ..self
        }
    }

    fn told(self, said: Said) -> Self {
        let weight = 1.0 / self.variance + said.weight;
        Self {
            mean: (self.mean / self.variance + said.weight * said.place) / weight,
            variance: 1.0 / weight,
        }
    }

    /// After some triples: conjugate normal, linearised anew until it stands.
    fn updated(self, triples: &[Triple], scatter: Scatter) -> Self {
        let (mut at, mut left) = (self.mean, self.variance);
        for _ in 0..25 {
            let strength = at.exp();
            let (mut weight, mut sum) = (1.0 / self.variance, self.mean / self.variance);
            for triple in triples.iter().filter(|t| t.usable()) {
                let slope = triple.added.0 * strength;
                let error = 2.0 * scatter.reading.powi(2) + (slope * scatter.cups).powi(2);
                let off = triple.drop() - slope;
                // Far off against what is believed of ln b, too.
                let far = off.abs() / (error + slope * slope * left).sqrt() / FAR;
                let information = slope * slope / (error * (far * far).max(1.0));
                weight += information;
                sum += information * (at + off / slope);
            }
            // Half steps: a full one can swing where one weak triple says far more than the prior expects.
            at = f64::midpoint(at, sum / weight).clamp(PRIOR - 3.0, PRIOR + 3.0);
            left = 1.0 / weight;
        }
        Self {
            mean: at,
            variance: left,
        }
    }

    /// What the triples alone said, the belief before them taken out again.
    fn without(self, prior: Self) -> Said {
        let weight = 1.0 / self.variance - 1.0 / prior.variance;
        if weight <= 1e-9 {
            return Said::NOTHING;
        }
        let place = (self.mean / self.variance - prior.mean / prior.variance) / weight;
        Said { place, weight }
    }
}

impl Said {
    const NOTHING: Self = Self {
        place: 0.0,
        weight: 0.0,
    };

    fn and(self, other: Self) -> Self {
        let weight = self.weight + other.weight;
        let sum = self.weight * self.place + other.weight * other.place;
        Self {
            place: if weight > 0.0 { sum / weight } else { 0.0 },
            weight,
        }
    }

    fn widened(self, by: f64) -> Self {
        Self {
            weight: self.weight / (1.0 + self.weight * by),
            ..self
        }
    }
}

#[cfg(test)]
#[path = "thinning_tests.rs"]
mod tests;
