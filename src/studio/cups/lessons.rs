//! What each of the newest cups has taught, and what follows from all of them together: worked out once, and
//! only where it is asked for.

use crate::logbook::Reader;
use crate::numbers::noise::{self, Readings, Scatter};
use crate::numbers::rest::{self, Beside, Look, Looked, Rest, Resting, Rests};
use crate::numbers::thickening::{History, Lid, Pair};
use crate::numbers::thinning::{Strength, Triple};
use crate::studio::Answer;
use crate::studio::cups::mixture::Mixture;
use crate::studio::findings::evidence::{self, Evidence};
use crate::trade::cup::{Cup, Entry};
use crate::trade::range::Window;
use crate::trade::recipe::Variant;
use crate::trade::units::{Density, Hours, Millimetres, Seconds};
use chrono::{Datelike, TimeDelta};
use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;
use std::sync::{Mutex, MutexGuard, OnceLock, PoisonError};

/// How many of the newest cups are learned from: months of a busy studio, and the same work however old it is.
const LEARNED_FROM: u32 = 400;

/// The pairs of readings of each cup of a variant under one lid, by the cup's number.
type Pairs = Vec<(i64, Vec<Pair>)>;

/// A thinner's material, where it was said.
type Thinner = Option<i64>;

/// What one cup has taught.
#[derive(Clone, PartialEq)]
struct Lesson {
    variant: i64,
    rests: Vec<Rest>,
    pairs: Vec<(Lid, Pair)>,
    triples: Vec<(Thinner, Triple)>,
}

/// What the newest cups have taught.
#[derive(Clone, Default)]
pub(crate) struct Lessons {
    cups: BTreeMap<i64, Lesson>,
    /// The oldest cup that is learned from.
    oldest: i64,
    follows: Follows,
}

/// What follows from the lessons of all cups.
#[derive(Default)]
struct Follows {
    rests: OnceLock<Rests>,
    pairs: OnceLock<BTreeMap<Lid, BTreeMap<i64, Pairs>>>,
    triples: OnceLock<BTreeMap<Thinner, BTreeMap<i64, Vec<Triple>>>>,
    scatter: OnceLock<Scatter>,
    strengths: Mutex<BTreeMap<(i64, Thinner), Strength>>,
}

impl Follows {
    fn strengths(&self) -> MutexGuard<'_, BTreeMap<(i64, Thinner), Strength>> {
        // What was kept before a panic elsewhere is as good as any.
        self.strengths
            .lock()
            .unwrap_or_else(PoisonError::into_inner)
    }
}

impl Clone for Follows {
    fn clone(&self) -> Self {
        Self {
            rests: self.rests.clone(),
            pairs: self.pairs.clone(),
            triples: self.triples.clone(),
            scatter: self.scatter.clone(),
            strengths: Mutex::new(self.strengths().clone()),
        }
    }
}

impl Lessons {
    /// Learns from the newest cups.
    pub(crate) fn learn(read: &Reader<'_>, mixture: &Mixture) -> Answer<Self> {
        let mut lessons = Self {
            oldest: oldest(read)?,
            ..Self::default()
        };
        lessons.take(read, mixture, lessons.oldest..i64::MAX)?;
        Ok(lessons)
    }

    /// Learns again from the cups that were touched since, and from as many in all as at first.
    pub(crate) fn read_again(
        &mut self,
        read: &Reader<'_>,
        mixture: &Mixture,
        touched: &BTreeSet<i64>,
    ) -> Answer<()> {
        let was = std::mem::replace(&mut self.oldest, oldest(read)?);
        let older: Vec<i64> = self.cups.range(..self.oldest).map(|(id, _)| *id).collect();
        for cup in older {
            self.put(cup, None);
        }
        for &cup in touched.range(self.oldest..) {
            self.put(cup, None);
            self.take(read, mixture, cup..cup + 1)?;
        }
        if self.oldest < was {
            self.take(read, mixture, self.oldest..was)?;
        }
        Ok(())
    }

    fn take(&mut self, read: &Reader<'_>, mixture: &Mixture, cups: Range<i64>) -> Answer<()> {
        let mut entries = read.entries_within(cups.clone())?;
        for cup in read.cups_within(cups)? {
            let entries = entries.remove(&cup.id).unwrap_or_default();
            if let Some(variant) = mixture.cards.variants.get(&cup.variant) {
                let lesson = Lesson::of(&cup, &entries, variant, mixture.density_of(variant));
                self.put(cup.id, Some(lesson));
            }
        }
        Ok(())
    }

    /// Puts a lesson in the place of what the cup taught before; what follows is kept where neither says anything.
    fn put(&mut self, cup: i64, lesson: Option<Lesson>) {
        let says = |one: &Lesson| !one.is_empty();
        let news = lesson.as_ref().is_some_and(says);
        let before = match lesson {
            Some(lesson) => self.cups.insert(cup, lesson),
            None => self.cups.remove(&cup),
        };
        if news || before.as_ref().is_some_and(says) {
            self.follows = Follows::default();
        }
    }

    /// What is known of how a variant rests; `None` where nothing was looked at in all the studio.
    pub(crate) fn own_rest(&self, variant: i64) -> Option<Beside> {
        let rests = self.follows.rests.get_or_init(|| self.learn_rests());
        rests.of(variant)
    }

    fn learn_rests(&self) -> Rests {
        let mut looked: BTreeMap<i64, Looked> = BTreeMap::new();
        for lesson in self.cups.values().filter(|one| !one.rests.is_empty()) {
            let of_variant = looked.entry(lesson.variant).or_default();
            of_variant.rests.extend_from_slice(&lesson.rests);
        }
        Rests::learn(&looked)
    }

    /// How a cup's variant and the studio thicken under a lid, seen from the cup: its own lesson is what its entries say
    /// now.
    pub(crate) fn history(&self, cup: i64, own: &Evidence, variant: i64, lid: Lid) -> History {
        let others = |cups: &Pairs| -> Vec<Vec<Pair>> {
            let others = cups.iter().filter(|(id, _)| *id != cup);
            others.map(|(_, pairs)| pairs.clone()).collect()
        };
        let nothing = BTreeMap::new();
        let pairs = self.pairs().get(&lid).unwrap_or(&nothing);
        let elsewhere = pairs.iter().filter(|(id, _)| **id != variant);
        History {
            lid,
            noise: self.noise(),
            cup: under(lid, &pairs_of(own)),
            variant: pairs.get(&variant).map(others).unwrap_or_default(),
            studio: elsewhere.map(|(_, cups)| others(cups)).collect(),
        }
    }

    fn pairs(&self) -> &BTreeMap<Lid, BTreeMap<i64, Pairs>> {
        self.follows.pairs.get_or_init(|| {
            let mut all: BTreeMap<Lid, BTreeMap<i64, Pairs>> = BTreeMap::new();
            for lid in [Lid::On, Lid::Off] {
                let variants = all.entry(lid).or_default();
                for (&cup, lesson) in &self.cups {
                    let pairs = under(lid, &lesson.pairs);
                    if !pairs.is_empty() {
                        let of_variant = variants.entry(lesson.variant).or_default();
                        of_variant.push((cup, pairs));
                    }
                }
            }
            all
        })
    }

    fn triples(&self) -> &BTreeMap<Thinner, BTreeMap<i64, Vec<Triple>>> {
        self.follows.triples.get_or_init(|| {
            let mut all: BTreeMap<Thinner, BTreeMap<i64, Vec<Triple>>> = BTreeMap::new();
            for lesson in self.cups.values() {
                for &(thinner, triple) in &lesson.triples {
                    let variants = all.entry(thinner).or_default();
                    variants.entry(lesson.variant).or_default().push(triple);
                }
            }
            all
        })
    }

    /// How much a reading errs in this studio: the sd of ln(mound).
    pub(crate) fn noise(&self) -> f64 {
        self.scatter().reading
    }

    /// How much a reading errs, and how much cups differ.
    fn scatter(&self) -> Scatter {
        *self.follows.scatter.get_or_init(|| {
            let variants = |all: &BTreeMap<i64, Pairs>| -> Vec<Vec<Vec<Pair>>> {
                let cups = |cups: &Pairs| cups.iter().map(|(_, pairs)| pairs.clone()).collect();
                all.values().map(cups).collect()
            };
            let stood = self.pairs().iter();
            noise::scatter(&Readings {
                thinned: self
                    .triples()
                    .values()
                    .flat_map(BTreeMap::values)
                    .cloned()
                    .collect(),
                stood: stood.map(|(lid, all)| (*lid, variants(all))).collect(),
            })
        })
    }

    /// How strongly a thinner works in a variant, sharing strength with the others; where none is said, the one that the
    /// variant, else the studio, was last thinned with.
    pub(crate) fn strength(&self, variant: i64, thinner: Thinner) -> Strength {
        let thinner = thinner.or_else(|| self.usual_thinner(variant));
        let mut known = self.follows.strengths();
        *known
            .entry((variant, thinner))
            .or_insert_with(|| self.learn_strength(variant, thinner))
    }

    /// Which thinner a variant, else the studio, was last thinned with.
    pub(crate) fn usual_thinner(&self, variant: i64) -> Thinner {
        let newest = |of: &dyn Fn(&Lesson) -> bool| {
            let lessons = self.cups.values().rev().filter(|one| of(one));
            lessons
                .filter_map(|one| one.triples.last())
                .map(|one| one.0)
                .next()
        };
        let own = newest(&|one| one.variant == variant);
        own.or_else(|| newest(&|_| true)).flatten()
    }

    fn learn_strength(&self, variant: i64, thinner: Thinner) -> Strength {
        let all = |variants: &BTreeMap<i64, Vec<Triple>>| -> Vec<Vec<Triple>> {
            variants.values().cloned().collect()
        };
        let nothing = BTreeMap::new();
        let with = self.triples().get(&thinner).unwrap_or(&nothing);
        let own = with.get(&variant).cloned().unwrap_or_default();
        let others = with.iter().filter(|(id, _)| **id != variant);
        let others: Vec<_> = others.map(|(_, triples)| triples.clone()).collect();
        let elsewhere = self.triples().iter().filter(|(id, _)| **id != thinner);
        let elsewhere: Vec<_> = elsewhere.map(|(_, variants)| all(variants)).collect();
        Strength::learn(&own, &others, &elsewhere, self.scatter())
    }
}

/// Those of the pairs that stood under a lid.
fn under(lid: Lid, pairs: &[(Lid, Pair)]) -> Vec<Pair> {
    let under = pairs.iter().filter(|(of, _)| *of == lid);
    under.map(|(_, pair)| *pair).collect()
}

impl Lesson {
    fn of(cup: &Cup, entries: &[Entry], variant: &Variant, density: Option<Density>) -> Self {
        let evidence = evidence::of_cup(cup, entries);
        Self {
            variant: variant.id,
            rests: rests(&evidence, cup, variant, density),
            pairs: pairs_of(&evidence),
            triples: triples_of(&evidence),
        }
    }

    fn is_empty(&self) -> bool {
        self.rests.is_empty() && self.pairs.is_empty() && self.triples.is_empty()
    }
}

/// What the looks at a cup say of each of its rests; nothing where its variant asks for no rest.
fn rests(evidence: &Evidence, cup: &Cup, variant: &Variant, density: Option<Density>) -> Vec<Rest> {
    if variant.targets.rest.is_zero() {
        return Vec::new();
    }
    let look = |look: &evidence::Looked| {
        let mound = look.mound.or_else(|| middle(variant))?;
        let resting = resting(cup, mound, variant, density);
        Some(Look {
            after: look.after,
            scale: rest::scale(&resting).ok()?,
            practice: rest::practice(&resting).ok()?,
            clear: look.clear,
        })
    };
    let each = evidence.looked.chunk_by(|a, b| a.stirred == b.stirred);
    let each = each.map(|looks| Rest {
        day: i64::from(looks[0].stirred.num_days_from_ce()),
        looks: looks.iter().filter_map(look).collect(),
    });
    each.filter(|rest| !rest.looks.is_empty()).collect()
}

fn pairs_of(evidence: &Evidence) -> Vec<(Lid, Pair)> {
    let pair = |one: &evidence::Thickened| {
        let lid = if one.open { Lid::Off } else { Lid::On };
        let pair = Pair {
            hours: one.over,
            before: one.before,
            after: one.after,
        };
        (lid, pair)
    };
    let pairs = evidence.thickened.iter().map(pair);
    pairs.filter(|(lid, pair)| !pair.is_slip(*lid)).collect()
}

fn triples_of(evidence: &Evidence) -> Vec<(Thinner, Triple)> {
    let triple = |one: &evidence::ThinnedBy| {
        let triple = Triple {
            before: one.before,
            added: one.added,
            after: one.after,
        };
        (one.with, triple)
    };
    evidence.thinned.iter().map(triple).collect()
}

/// A cup as the model of rest sees it.
pub(crate) fn resting(
    cup: &Cup,
    mound: Seconds,
    variant: &Variant,
    density: Option<Density>,
) -> Resting {
    Resting {
        mound,
        depth: depth(cup),
        density,
        floor: hours(variant.targets.rest),
    }
}

/// The depth of paint: measured, or from the volume and the container's width.
pub(crate) fn depth(cup: &Cup) -> Option<Millimetres> {
    cup.depth
        .or_else(|| Some(rest::depth_in(cup.volume, cup.diameter?)))
}

/// The middle of a variant's window.
pub(crate) fn middle(variant: &Variant) -> Option<Seconds> {
    variant.targets.window.map(Window::middle)
}

/// A time in hours.
pub(crate) fn hours(time: TimeDelta) -> Hours {
    Hours(time.num_milliseconds() as f64 / 3_600_000.0)
}

fn oldest(read: &Reader<'_>) -> Answer<i64> {
    Ok(read.oldest_of_newest(LEARNED_FROM)?.unwrap_or(i64::MIN))
}
