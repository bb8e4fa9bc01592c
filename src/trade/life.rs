//! A cup's life: a pure fold of its entries, and its state at an instant.
//!
//! The order of entry holds. Only an entry whose instant a person gave is put in its place among the others;
//! one that the clock gave comes after all before it, even where the clock had been set back.

use crate::trade::cup::{Cup, End, Entry, Happened, Reading, Seen};
use crate::trade::moment::{Moment, earlier, later};
use crate::trade::range::Window;
use crate::trade::units::{Millilitres, Seconds, Share};
use crate::trade::words::word_enum;
use chrono::TimeDelta;
use std::borrow::Cow;

word_enum! {
    /// What a cup is at an instant.
    State {
        /// It has turned: read it.
        Look = "look",
        /// Too thick, or not looked at for too long.
        Thick = "thick",
        /// Too thin.
        Thin = "thin",
        /// It may be poured.
        Ready = "ready",
        /// Its bubbles are rising.
        Resting = "resting",
        /// Ended or empty.
        Spent = "spent",
    }
}

/// How long a cup waits, as its variant says or a model computed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Waits {
    /// From the end of the last stirring until it clears.
    pub rest: TimeDelta,
    /// From the last reading or thinning until it must be looked at again.
    pub recheck_after: TimeDelta,
}

/// What is expected of a cup at an instant.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Expected {
    /// The mound it is thought to have; `None` where nothing is known, and only its age counts.
    pub mound: Option<Seconds>,
    /// Until when its last check holds.
    pub holds_until: Moment,
}

/// What was known of a cup's consistency, and when.
#[derive(Debug, Clone, PartialEq)]
pub struct Known {
    /// When it was read.
    pub at: Moment,
    /// What was read.
    pub reading: Reading,
}

/// All that a cup's entries add up to.
#[derive(Debug, Clone, PartialEq)]
pub struct Life {
    /// When its bubbles are, or were, gone.
    pub clears_at: Moment,
    /// Whether it was seen clear since it was last stirred.
    pub seen_clear: bool,
    /// When it was last stirred, so that its rest began.
    pub stirred_at: Moment,
    /// The last reading.
    pub known: Option<Known>,
    /// The last reading or thinning.
    pub checked_at: Option<Moment>,
    /// The last thinning.
    pub thinned_at: Option<Moment>,
    /// The last thinning, where no reading came with it or after it.
    pub thinned_since: Option<Moment>,
    /// When paint went in last, where no reading came with it or after it.
    pub added_since: Option<Moment>,
    /// All the thinner that went in after mixing, also what was in paint that was added.
    pub thinner: Millilitres,
    /// All that went in after mixing.
    pub poured_in: Millilitres,
    /// What is left; never below nothing.
    pub left: Millilitres,
    /// Whether its mound was seen never to fade, and nothing has loosened it since.
    pub gelled: bool,
    /// Whether the lid is on.
    pub capped: bool,
    /// How it ended, and when.
    pub ended: Option<(End, Moment)>,
    /// The last instant of its life: nothing is asked of it earlier than that.
    pub last_at: Moment,
    /// Where the clock stood earlier than at the entry before.
    pub clock_went_back: bool,
    waits: Waits,
}

impl Life {
    /// Folds a cup's entries, given in order of entry.
    #[must_use]
    pub fn of(cup: &Cup, entries: &[Entry], waits: Waits) -> Self {
        let mut life = Self::new(cup, waits);
        let (placed, clock_went_back) = in_place(entries);
        for (at, entry) in placed {
            life.apply(at, &entry.what);
        }
        Self {
            clock_went_back,
            ..life
        }
    }

    fn new(cup: &Cup, waits: Waits) -> Self {
        Self {
            clears_at: later(cup.mixed_at, waits.rest),
            stirred_at: cup.mixed_at,
            known: None,
            checked_at: None,
            thinned_at: None,
            thinned_since: None,
            added_since: None,
            seen_clear: false,
            thinner: Millilitres::ZERO,
            poured_in: Millilitres::ZERO,
            left: cup.volume,
            gelled: false,
            capped: true,
            ended: None,
            last_at: cup.mixed_at,
            clock_went_back: false,
            waits,
        }
    }

    fn apply(&mut self, at: Moment, what: &Happened) {
        self.last_at = at;
        match what {
            Happened::Mixed { .. } | Happened::Stirred { .. } => self.stir(at),
            Happened::Read(_) => {}
            Happened::Thinned { ml, hard, .. } => self.thin(at, *ml, *hard),
            Happened::Added { ml, thinner, .. } => self.add(at, *ml, *thinner),
            Happened::Looked(seen) => self.look(at, *seen),
            Happened::Capped => self.capped = true,
            Happened::Opened => self.capped = false,
            Happened::Drawn { ml, .. } => self.left = (self.left - *ml).max(Millilitres::ZERO),
            Happened::Ended(end) => self.ended = Some((*end, at)),
        }
        if let Some(reading) = what.reading() {
            self.read(at, reading.clone());
        }
    }

    fn stir(&mut self, at: Moment) {
        self.gelled = false;
        self.seen_clear = false;
        self.stirred_at = at;
        self.clears_at = later(at, self.waits.rest);
    }

    fn thin(&mut self, at: Moment, ml: Millilitres, hard: bool) {
        self.left += ml;
        self.poured_in += ml;
        self.thinner += ml;
        self.checked_at = Some(at);
        self.thinned_at = Some(at);
        self.thinned_since = Some(at);
        self.gelled = false;
        if hard {
            self.stir(at);
        }
    }

    // It is other paint than was read: what it mounded before says nothing any more.
    fn add(&mut self, at: Moment, ml: Millilitres, thinner: Millilitres) {
        self.left += ml;
        self.poured_in += ml;
        self.thinner += thinner;
        self.gelled = false;
        self.known = None;
        self.checked_at = Some(at);
        self.added_since = Some(at);
        self.thinned_since = None;
    }

    /// How much of all that ever was in a cup is thinner that went in after mixing.
    #[must_use]
    pub fn thinner_share(&self, cup: &Cup) -> Share {
        Share(self.thinner / (cup.volume + self.poured_in))
    }

    fn look(&mut self, at: Moment, seen: Seen) {
        match seen {
            Seen::Clear => {
                self.clears_at = self.clears_at.min(at);
                self.seen_clear = true;
            }
            Seen::Bubbles if at >= self.clears_at => {
                self.clears_at = later(at, extension(self.waits.rest));
                self.seen_clear = false;
            }
            Seen::Bubbles => {}
            Seen::Gelled => self.gel(at),
        }
    }

    // What it mounded before says nothing any more.
    fn gel(&mut self, at: Moment) {
        self.gelled = true;
        self.known = None;
        self.checked_at = Some(at);
        self.thinned_since = None;
    }

    fn read(&mut self, at: Moment, reading: Reading) {
        self.gelled = false;
        self.known = Some(Known { at, reading });
        self.checked_at = Some(at);
        self.thinned_since = None;
        self.added_since = None;
    }

    /// The last mound, unless thinner went in since or the reading was a flow cup's.
    #[must_use]
    pub fn mound(&self) -> Option<Seconds> {
        if self.thinned_since.is_some() {
            return None;
        }
        self.known.as_ref()?.reading.mound()
    }

    /// Whether it was read since it cleared.
    #[must_use]
    pub fn read_since_clear(&self) -> bool {
        self.known
            .as_ref()
            .is_some_and(|known| known.at >= self.clears_at)
    }

    /// The instant until which its last check holds; for one that never was checked, when it cleared.
    #[must_use]
    pub fn holds_until(&self) -> Moment {
        later(
            self.checked_at.unwrap_or(self.clears_at),
            self.waits.recheck_after,
        )
    }

    /// Its state at an instant: the first of these that holds: spent, gelled, resting, not read since it cleared or was
    /// thinned, thick, thin, ready.
    ///
    /// `window` is what its variant asks; a medium asks nothing and needs no reading.
    #[must_use]
    pub fn state(&self, now: Moment, expected: Expected, window: Option<Window>) -> State {
        let now = now.max(self.last_at);
        if self.ended.is_some() || self.left.is_nothing() {
            return State::Spent;
        }
        // No rest clears it and no reading fits it: it is thicker than any window.
        if self.gelled {
            return State::Thick;
        }
        if now < self.clears_at {
            return State::Resting;
        }
        let Some(window) = window else {
            return State::Ready;
        };
        // What thinner did is an expectation until it is read.
        if !self.read_since_clear() || self.thinned_since.is_some() {
            return State::Look;
        }
        if now > expected.holds_until || expected.mound.is_some_and(|mound| mound > window.high) {
            return State::Thick;
        }
        if expected.mound.is_some_and(|mound| mound < window.low) {
            return State::Thin;
        }
        State::Ready
    }
}

/// How much longer a cup stands that still had bubbles when it was due: a quarter of its rest, and at least
/// half an hour (our own choice, no source).
fn extension(rest: TimeDelta) -> TimeDelta {
    (rest / 4).max(TimeDelta::minutes(30))
}

/// So far ahead of the clock an entry still counts as just made: it is right again before it misleads.
const SLIGHTLY_AHEAD: TimeDelta = TimeDelta::hours(1);

/// How long ago what stands ahead of the clock is thought to have been made, where nothing bounds it: long enough that
/// every check is over (our own choice, no source).
const LONG_AGO: TimeDelta = TimeDelta::days(1);

/// Between which instants an entry was made, as far as is known.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Made {
    /// No earlier than that.
    pub after: Option<Moment>,
    /// No later than that.
    pub before: Option<Moment>,
}

/// The entries as the clock of `now` can have seen them. One that lies after `now` was made while the clock stood
/// wrong, or `now` does: it counts at the next entry that does not, or when it was `made` at the latest. Where none
/// follows, a check counts no later than the entry before it, or when it was made at the earliest, so that it holds no
/// cup ready for as long as the clock was out; and what begins a wait counts as late as it may, so that it shortens none.
#[must_use]
pub fn not_ahead(
    entries: &[Entry],
    now: Moment,
    made: impl Fn(&Entry) -> Made,
) -> Cow<'_, [Entry]> {
    if entries.iter().all(|entry| entry.at <= now) {
        return Cow::Borrowed(entries);
    }
    let mut seen = entries.to_vec();
    let bounded = entries
        .iter()
        .rposition(|entry| entry.at <= now && !entry.backdated);
    let tail = bounded.map_or(0, |last| last + 1);
    let mut next = now;
    for entry in seen.iter_mut().rev() {
        if entry.at > now {
            next = made(entry).before.map_or(next, |before| before.min(next));
            entry.at = next;
        } else if !entry.backdated {
            next = next.min(entry.at);
        }
    }
    let before = bounded.map_or_else(|| earlier(now, LONG_AGO), |last| entries[last].at);
    let far = |entry: &Entry| entry.at - now > SLIGHTLY_AHEAD;
    let checks = entries[tail..]
        .iter()
        .rposition(|entry| far(entry) && entry.what.checks());
    for place in tail..checks.map_or(tail, |last| tail + last + 1) {
        let entry = &entries[place];
        if entry.at > now {
            let after = made(entry).after.map_or(before, |after| after.max(before));
            seen[place].at = seen[place].at.min(after);
        }
    }
    Cow::Owned(seen)
}

/// The entries in the order they happened, each with the instant that counts, and whether the clock went back.
#[must_use]
pub fn in_place(entries: &[Entry]) -> (Vec<(Moment, &Entry)>, bool) {
    let mut placed: Vec<(Moment, &Entry)> = Vec::with_capacity(entries.len());
    let mut went_back = false;
    for entry in entries {
        if entry.backdated {
            let place = placed.partition_point(|(at, _)| *at <= entry.at);
            placed.insert(place, (entry.at, entry));
        } else {
            let before = placed.last().map_or(entry.at, |(at, _)| *at);
            went_back |= entry.at < before;
            placed.push((entry.at.max(before), entry));
        }
    }
    (placed, went_back)
}

#[cfg(test)]
mod tests;
