//! What the models expect of a cup: how long it rests, what it mounds now, until when that holds, and how much
//! thinner would bring it back. This is the one seam between a cup's life and the numbers.

use crate::logbook::Reader;
use crate::numbers::Z_80;
use crate::numbers::rest::{self, Resting};
use crate::numbers::thickening::{self, History, Lid, Rate};
use crate::numbers::thinning::{self, Strength};
use crate::studio::Answer;
use crate::studio::cups::lessons::{Lessons, hours, middle, resting};
use crate::studio::cups::mixture::Mixture;
use crate::studio::findings::evidence;
use crate::trade::cup::{Cup, Entry};
use crate::trade::life::{Expected, Life, Waits};
use crate::trade::moment::{Moment, later, milliseconds};
use crate::trade::range::Window;
use crate::trade::recipe::Variant;
use crate::trade::units::{Backing, Band, Density, Estimate, Hours, Millilitres, Seconds, Share};
use chrono::TimeDelta;
use std::collections::{BTreeSet, HashMap};

/// From how many pairs of readings on a variant's own rate tells its state (as the model itself asks).
const OWN_PAIRS: usize = 3;
/// How long after a reading practice still tells a mound (our own choice).
const PRACTICE_REACH: Hours = Hours(4.0);
/// From this ratio of its ends on a mound's band tells no state: 2 to 8 s is anything from too thin to too thick (ours).
const WIDE: f64 = 4.0;
/// The least time a fresh reading within the window holds, as a share of the interval to the next look (our own
/// choice): where the band's edge is outside at once, the reading itself still stands for a while.
const LEAST_HOLD: i32 = 2;

/// All that has been learned from the studio's own readings.
#[derive(Clone)]
pub(crate) struct Forecast {
    lessons: Lessons,
    densities: HashMap<i64, Density>,
}

/// What is expected of one cup at one instant.
#[derive(Debug, Clone)]
pub struct Outlook {
    /// The mound it has now; `None` where it never was read.
    pub mound: Option<Estimate<Seconds>>,
    /// What its state is told by.
    pub expected: Expected,
    /// How long it rests, and where that comes from.
    pub rest: Estimate<Hours>,
    /// How much thinner would bring it back, where it is above its window.
    pub advice: Option<Advice>,
    /// How much of its paint without thinner would bring it back, where it is below its window and was thinned.
    pub paint: Option<Estimate<Millilitres>>,
    /// How much more thinner its limit leaves room for.
    pub room: Millilitres,
    /// How many readings stand behind what thinner does, and whether any are the studio's own.
    pub thinner: (Backing, usize),
}

/// How much thinner to add.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Advice {
    /// Begin with this: what is in cannot be taken out.
    pub start_with: Millilitres,
    /// The likely need with its band.
    pub likely: Estimate<Millilitres>,
    /// The most that may still go in.
    pub limit: Millilitres,
    /// Whether more is likely needed than that: then nothing is to be added, and it is mixed anew.
    pub beyond: bool,
}

impl Forecast {
    /// Learns from the newest cups of the studio.
    pub(crate) fn learn(read: &Reader<'_>, mixture: &Mixture) -> Answer<Self> {
        let density = |variant: &Variant| Some((variant.id, mixture.density_of(variant)?));
        Ok(Self {
            lessons: Lessons::learn(read, mixture)?,
            densities: mixture
                .cards
                .variants
                .values()
                .filter_map(density)
                .collect(),
        })
    }

    /// Learns again from the cups that were touched since.
    pub(crate) fn read_again(
        &mut self,
        read: &Reader<'_>,
        mixture: &Mixture,
        touched: &BTreeSet<i64>,
    ) -> Answer<()> {
        self.lessons.read_again(read, mixture, touched)
    }

    fn density(&self, variant: &Variant) -> Option<Density> {
        self.densities.get(&variant.id).copied()
    }

    /// How long a cup rests: its variant's rest, lengthened for a thick or deep cup, or the studio's own.
    pub(crate) fn rest(&self, cup: &Cup, entries: &[Entry], variant: &Variant) -> Estimate<Hours> {
        let floor = hours(variant.targets.rest);
        if variant.targets.rest.is_zero() {
            return Estimate {
                band: Band::exactly(floor),
                from: Backing::Practice,
                readings: 0,
            };
        }
        let as_written = rest::by_practice_alone(floor);
        let read = evidence::of_cup(cup, entries).rest_mound;
        let own = self.lessons.own_rest(variant.id);
        let Some(mound) = read.or_else(|| middle(variant).filter(|_| own.is_some())) else {
            return as_written;
        };
        rest::clears_in(&resting(cup, mound, variant, self.density(variant)), own)
            .unwrap_or(as_written)
    }

    /// How long a cup of a variant is thought to rest before it is mixed: at the middle of its window.
    pub(crate) fn rest_planned(&self, variant: &Variant) -> TimeDelta {
        let floor = variant.targets.rest;
        let Some(mound) = middle(variant).filter(|_| !floor.is_zero()) else {
            return floor;
        };
        let resting = Resting {
            mound,
            depth: None,
            density: self.density(variant),
            floor: hours(floor),
        };
        let own = self.lessons.own_rest(variant.id);
        rest::clears_in(&resting, own).map_or(floor, |rest| time(rest.band.mid))
    }

    /// How long a cup waits.
    pub(crate) fn waits(&self, rest: &Estimate<Hours>, variant: &Variant) -> Waits {
        let minutes = (rest.band.mid.get() * 60.0).ceil();
        let rest = if rest.band.mid == hours(variant.targets.rest) {
            variant.targets.rest
        } else {
            TimeDelta::try_minutes(minutes as i64).unwrap_or(variant.targets.rest)
        };
        Waits {
            rest,
            recheck_after: variant.targets.recheck_after,
        }
    }

    /// What is expected of a cup at an instant.
    pub(crate) fn outlook(
        &self,
        cup: &Cup,
        entries: &[Entry],
        life: &Life,
        variant: &Variant,
        now: Moment,
    ) -> Outlook {
        let rest = self.rest(cup, entries, variant);
        let by_age = Expected {
            mound: life.mound(),
            holds_until: life.holds_until(),
        };
        let strength = self.strength(variant.id, None);
        let mut outlook = Outlook {
            mound: None,
            expected: by_age,
            rest,
            advice: None,
            paint: None,
            room: thinning::room(in_cup(life, &Band::exactly(Seconds::ZERO), variant)),
            thinner: (strength.from, strength.readings),
        };
        let Some(known) = self.known(cup, entries, life, variant) else {
            return outlook;
        };
        let now = now.max(life.last_at);
        if known.reaches_to(now) {
            outlook.mound = Some(known.at(now));
        }
        if let (Some(window), Some(mound)) = (variant.targets.window, outlook.mound) {
            outlook.expected = known.expected(&mound, window, life);
            outlook.advice = advise(&mound, window, life, variant, &known.strength);
            let thin = as_it_is(cup, life, &mound.band, variant);
            let paint = thinning::paint_to_thicken(thin, window, &known.strength);
            // More than is in it is no mending: it is mixed anew (ours).
            outlook.paint = paint.filter(|paint| paint.band.mid <= life.left);
        }
        outlook
    }

    fn known(&self, cup: &Cup, entries: &[Entry], life: &Life, variant: &Variant) -> Option<Known> {
        let read = life.known.as_ref()?;
        let mound = read.reading.mound()?;
        let own = evidence::of_cup(cup, entries);
        let lid = if life.capped { Lid::On } else { Lid::Off };
        let history = self.lessons.history(cup.id, &own, variant.id, lid);
        Some(Known {
            mound,
            at: read.at,
            thinned: own.thinned_since,
            rate: history.rate(),
            history,
            strength: self.strength(variant.id, own.thinned_with),
            recheck_after: hours(variant.targets.recheck_after),
        })
    }

    /// Which thinner a variant, else the studio, was last thinned with, where that was said.
    pub(crate) fn usual_thinner(&self, variant: i64) -> Option<i64> {
        self.lessons.usual_thinner(variant)
    }

    /// How strongly a thinner works in a variant, sharing strength with the others; the usual one where none is said.
    pub(crate) fn strength(&self, variant: i64, thinner: Option<i64>) -> Strength {
        self.lessons.strength(variant, thinner)
    }

    /// How much a reading errs in this studio: the sd of ln(mound).
    pub(crate) fn noise(&self) -> f64 {
        self.lessons.noise()
    }
}

/// What is known of a cup's consistency, and how it moves.
struct Known {
    mound: Seconds,
    at: Moment,
    thinned: Option<Share>,
    history: History,
    rate: Rate,
    strength: Strength,
    recheck_after: Hours,
}

impl Known {
    /// Whether a mound may be told for an instant at all: practice knows how paint thickens over an hour or two,
    /// not over a night.
    fn reaches_to(&self, now: Moment) -> bool {
        let own = self.rate.readings >= OWN_PAIRS;
        own && !is_wide(&self.at(now).band) || hours(now - self.at) <= PRACTICE_REACH
    }

    /// The mound at an instant: the last reading grown since, and brought down by what went in since.
    fn at(&self, now: Moment) -> Estimate<Seconds> {
        let grown = self
            .rate
            .expect(self.mound, hours(now - self.at).max(Hours::ZERO));
        match self.thinned {
            None => grown,
            Some(share) => {
                let thinned = self.strength.expect(grown.band.mid, share);
                Estimate {
                    band: joined(grown.band, thinned.band),
                    ..thinned
                }
            }
        }
    }

    /// What the state is told by. Practice claims no growth of a mound before its interval is over. After a thinning that
    /// nobody read no mound tells it: the cup wants a reading.
    fn expected(&self, mound: &Estimate<Seconds>, window: Window, life: &Life) -> Expected {
        let own_rate = self.rate.readings >= OWN_PAIRS;
        let told = match self.thinned {
            None if own_rate => Some(mound.band.mid),
            None => Some(self.mound),
            Some(_) => None,
        };
        Expected {
            mound: told,
            holds_until: self.holds_until(window, life, own_rate),
        }
    }

    fn holds_until(&self, window: Window, life: &Life, own_rate: bool) -> Moment {
        let by_age = life.holds_until();
        if !own_rate {
            return by_age;
        }
        let from = life.checked_at.unwrap_or(self.at);
        let mound = self.at(from).band.mid;
        let ready = thickening::ready_until(mound, window, &self.history, self.recheck_after);
        let own = ready.until.unwrap_or(Hours(168.0));
        let least = (by_age - from) / LEAST_HOLD;
        later(from, time(own).max(least))
    }
}

/// A cup as the thinning model sees it.
fn in_cup(life: &Life, mound: &Band<Seconds>, variant: &Variant) -> thinning::Cup {
    thinning::Cup {
        volume: life.left,
        thinner: life.thinner,
        mound: mound.mid,
        spread: (mound.high / mound.mid).ln() / Z_80,
        limit: variant.targets.limit,
    }
}

/// The same with the thinner that what is left of it holds.
pub(in crate::studio) fn as_it_is(
    cup: &Cup,
    life: &Life,
    mound: &Band<Seconds>,
    variant: &Variant,
) -> thinning::Cup {
    thinning::Cup {
        thinner: life.left * life.thinner_share(cup).get(),
        ..in_cup(life, mound, variant)
    }
}

fn advise(
    mound: &Estimate<Seconds>,
    window: Window,
    life: &Life,
    variant: &Variant,
    strength: &Strength,
) -> Option<Advice> {
    let cup = in_cup(life, &mound.band, variant);
    let limit = thinning::room(cup);
    match thinning::advise(cup, window, strength).ok()? {
        thinning::Advice::Add(dose) => Some(Advice {
            start_with: dose.start_with,
            likely: dose.likely,
            limit,
            beyond: false,
        }),
        thinning::Advice::Beyond => {
            let nothing = Advice::nothing(limit, (strength.from, strength.readings));
            Some(Advice {
                beyond: true,
                ..nothing
            })
        }
        thinning::Advice::Ready | thinning::Advice::TooThin => None,
    }
}

impl Advice {
    /// To add nothing.
    pub(crate) const fn nothing(limit: Millilitres, (from, readings): (Backing, usize)) -> Self {
        let band = Band::exactly(Millilitres::ZERO);
        let likely = Estimate {
            band,
            from,
            readings,
        };
        Self {
            start_with: Millilitres::ZERO,
            likely,
            limit,
            beyond: false,
        }
    }
}

/// Whether a band says so little that a mound is not told by it: the cup wants a reading.
fn is_wide(band: &Band<Seconds>) -> bool {
    band.high / band.low > WIDE
}

/// Two bands of one middle, their widths added on the log scale as independent errors are.
fn joined(grown: Band<Seconds>, thinned: Band<Seconds>) -> Band<Seconds> {
    let half = |band: Band<Seconds>| (band.high / band.mid).ln();
    let width = half(grown).hypot(half(thinned)).exp();
    Band {
        low: thinned.mid / width,
        mid: thinned.mid,
        high: thinned.mid * width,
    }
}

fn time(hours: Hours) -> TimeDelta {
    milliseconds(hours.get() * 3_600_000.0)
}

impl Outlook {
    /// The mound to show and to hold a stack against; `None` where nothing is known.
    #[must_use]
    pub fn mound_mid(&self) -> Option<Seconds> {
        Some(self.mound?.band.mid)
    }
}
