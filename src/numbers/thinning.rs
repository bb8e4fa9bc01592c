//! How much thinner brings a cup back into its window.
//!
//! ln(mound) falls with the thinner's share of the volume, phi: ln m1 = ln m0 - b phi. Prior, from memory, no
//! source: 10 % halves the mound (b = 6.9), within a factor of 1.6, read as the 80 % band of a log-normal
//! (sd of ln b = ln 1.6 / 1.2816 = 0.367). Part of that spread is shared by all variants with this thinner,
//! part (sd 0.2, ours) is the variant's own. Each reading, thinning, reading is a normal observation of ln b,
//! linearised at the current estimate. A mound that grew on thinning contradicts the model: it is kept, counted and
//! given a ninth of the weight. A reading's error is 10 % of it (0.3 s at 3 s, common practice).

use super::Z_80;
use crate::trade::range::Window;
use crate::trade::units::{Backing, Band, Estimate, Millilitres, Seconds, Share};
use thiserror::Error;

/// The prior's middle: ln 6.9.
const PRIOR: f64 = 1.931_521_411_603_214;
/// The variance of ln b between studios and thinners: 0.367 squared, less the variant's own.
const VAR_STUDIO: f64 = 0.1345 - VAR_VARIANT;
/// The variance of ln b between variants with one thinner (0.2 squared, ours).
const VAR_VARIANT: f64 = 0.04;
/// The sd of ln(mound) from one reading's error.
pub const READING: f64 = 0.1;
/// How much wider the error of a contradicting triple is taken, in variance.
const CONTRADICTION: f64 = 9.0;
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
    fn usable(&self) -> bool {
        let good = |x: f64| x.is_finite() && x > 0.0;
        good(self.before.0) && good(self.after.0) && good(self.added.0) && self.added.0 < 1.0
    }

    /// Whether the mound grew, or stood, on thinning.
    #[must_use]
    pub fn contradicts(&self) -> bool {
        self.after >= self.before
    }

    /// What it says of ln b; `None` where it says nothing.
    fn heard(&self) -> Option<Heard> {
        let wider = if self.contradicts() {
            CONTRADICTION
        } else {
            1.0
        };
        self.usable().then(|| Heard {
            added: self.added.0,
            drop: (self.before.0 / self.after.0).ln(),
            error: 2.0 * READING * READING * wider,
        })
    }
}

/// A triple as an observation: the drop of ln(mound) by a share of thinner, and the variance of its error.
struct Heard {
    added: f64,
    drop: f64,
    error: f64,
}

/// What is known of one thinner in one variant.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Strength {
    /// The middle of ln b.
    mean: f64,
    /// The sd of ln b.
    sd: f64,
    /// How many of the studio's triples were used, of this variant and of the others.
    pub readings: usize,
    /// How many triples of this variant contradict the model.
    pub contradicting: usize,
    /// Practice, or the studio's own.
    pub from: Backing,
}

impl Strength {
    /// Learns from the variant's own triples and from the studio's other variants with the same thinner.
    #[must_use]
    pub fn learn(own: &[Triple], others: &[Vec<Triple>]) -> Self {
        let (mut mean, mut variance) = (PRIOR, VAR_STUDIO);
        for variant in others {
            let (m, v) = update(PRIOR, VAR_STUDIO + VAR_VARIANT, variant);
            (mean, variance) = share_with(mean, variance, m, v);
        }
        let (mean, variance) = update(mean, variance + VAR_VARIANT, own);
        let used = |all: &[Triple]| all.iter().filter(|t| t.usable()).count();
        let shared: usize = others.iter().map(|all| used(all)).sum();
        Self {
            mean,
            sd: variance.sqrt(),
            readings: used(own) + shared,
            contradicting: own.iter().filter(|t| t.usable() && t.contradicts()).count(),
            from: if used(own) + shared == 0 {
                Backing::Practice
            } else {
                Backing::Yours
            },
        }
    }

    /// b itself with its 80 % band: ln(mound) lost per unit share of thinner.
    #[must_use]
    pub fn band(&self) -> Band<f64> {
        let at = |z: f64| (self.mean + z * self.sd).exp();
        Band {
            low: at(-Z_80),
            mid: at(0.0),
            high: at(Z_80),
        }
    }

    /// The mound expected after a share of thinner has gone in.
    #[must_use]
    pub fn expect(&self, mound: Seconds, added: Share) -> Estimate<Seconds> {
        let drop = added.0 * self.mean.exp();
        let sd = (drop * self.sd).hypot(READING);
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

/// The cup to be thinned.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cup {
    /// What is in it now, thinner included.
    pub volume: Millilitres,
    /// How much thinner that already includes.
    pub thinner: Millilitres,
    /// Its mound now.
    pub mound: Seconds,
    /// The sd of ln(mound): [`READING`] just after a reading, wider as it has stood since.
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
    /// It is too thick, and holds all the thinner its limit allows.
    AtLimit,
    /// Add thinner.
    Add(Dose),
}

/// How much thinner to add.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dose {
    /// Begin with this: what is in cannot be taken out (20th percentile).
    pub start_with: Millilitres,
    /// The likely need, and its 80 % band, none over the limit.
    pub likely: Estimate<Millilitres>,
    /// Whether the limit cut the likely need short.
    pub limited: bool,
}

/// Why no advice is given.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum ThinningError {
    /// The cup's volume is unknown or empty.
    #[error("the cup's volume is not known; enter how many millilitres are in it")]
    Volume,
    /// The mound is no reading.
    #[error("the cup has no mound above 0 s; take a reading first")]
    Mound,
    /// The window's edges are not in order.
    #[error("the window's edges are not in order; enter the lower one first, in seconds")]
    Window,
    /// The limit is no share below the whole.
    #[error("the thinner limit is not a share between 0 and 1; set it in the variant")]
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
    if room.is_nothing() {
        return Ok(Advice::AtLimit);
    }
    Ok(Advice::Add(dose(cup, window, strength, room)))
}

fn dose(cup: Cup, window: Window, strength: &Strength, room: Millilitres) -> Dose {
    let drop = (cup.mound / window.middle()).ln();
    // What is not known of the mound widens the need, the more so the nearer the goal.
    let sd = strength.sd.hypot(cup.spread.max(READING) / drop);
    let need = |z: f64| {
        let phi = drop * (z * sd - strength.mean).exp();
        if phi < 1.0 {
            cup.volume * (phi / (1.0 - phi))
        } else {
            Millilitres(f64::INFINITY)
        }
    };
    let capped = |z: f64| need(z).min(room);
    Dose {
        start_with: capped(-Z_20),
        likely: Estimate {
            band: Band {
                low: capped(-Z_80),
                mid: capped(0.0),
                high: capped(Z_80),
            },
            from: strength.from,
            readings: strength.readings,
        },
        limited: need(0.0) > room,
    }
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

/// One variant's posterior of ln b: conjugate normal, linearised anew until it stands.
fn update(mean: f64, variance: f64, triples: &[Triple]) -> (f64, f64) {
    let heard: Vec<Heard> = triples.iter().filter_map(Triple::heard).collect();
    let (mut at, mut left) = (mean, variance);
    for _ in 0..25 {
        let strength = at.exp();
        let (mut weight, mut sum) = (1.0 / variance, mean / variance);
        for triple in &heard {
            let slope = triple.added * strength;
            let information = slope * slope / triple.error;
            weight += information;
            sum += information * (at + (triple.drop - slope) / slope);
        }
        // Half steps: a full one can swing where one weak triple says far more than the prior expects.
        at = f64::midpoint(at, sum / weight).clamp(PRIOR - 3.0, PRIOR + 3.0);
        left = 1.0 / weight;
    }
    (at, left)
}

/// What another variant's posterior says of what all variants share.
fn share_with(mean: f64, variance: f64, other: f64, other_variance: f64) -> (f64, f64) {
    let prior = VAR_STUDIO + VAR_VARIANT;
    // Taking the prior out again leaves what that variant's own triples said.
    let information = 1.0 / other_variance - 1.0 / prior;
    if information <= 1e-9 {
        return (mean, variance);
    }
    let said = (other / other_variance - PRIOR / prior) / information;
    let weight = 1.0 / (1.0 / information + VAR_VARIANT);
    let total = 1.0 / variance + weight;
    ((mean / variance + said * weight) / total, 1.0 / total)
}

#[cfg(test)]
#[path = "thinning_tests.rs"]
mod tests;
