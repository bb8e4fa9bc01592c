//! What a cup's entries say about rest, thickening and thinning: the plain observations the models learn from.

use crate::trade::cup::{Cup, Entry, Happened, Seen};
use crate::trade::life::{self, Made};
use crate::trade::moment::Moment;
use crate::trade::units::{Hours, Millilitres, Seconds, Share};

/// A look at a cup while it stood.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Looked {
    /// When it was last stirred: each stirring begins a rest of its own.
    pub stirred: Moment,
    /// How long after its last stirring.
    pub after: Hours,
    /// The mound it rests at, where one was read.
    pub mound: Option<Seconds>,
    /// Whether it was clear.
    pub clear: bool,
}

/// Two readings between which nothing was put in and nothing stirred.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Thickened {
    /// The time between.
    pub over: Hours,
    /// The earlier mound.
    pub before: Seconds,
    /// The later mound.
    pub after: Seconds,
    /// Whether the lid was off for the greater part of it.
    pub open: bool,
}

/// A reading, a thinning and a reading.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct ThinnedBy {
    /// The mound before.
    pub before: Seconds,
    /// The thinner's share of the volume after.
    pub added: Share,
    /// The mound after.
    pub after: Seconds,
    /// The thinner, where it was said.
    pub with: Option<i64>,
}

/// All that one cup's entries say.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Evidence {
    /// Looks at it.
    pub looked: Vec<Looked>,
    /// How it thickened.
    pub thickened: Vec<Thickened>,
    /// How it was thinned.
    pub thinned: Vec<ThinnedBy>,
    /// The mound it was set to rest at: read within the hour after its last stirring, or known before it.
    pub(crate) rest_mound: Option<Seconds>,
    /// The thinner's share of the volume that went in since the last reading.
    pub(crate) thinned_since: Option<Share>,
    /// Which thinner that was, where it was said.
    pub(crate) thinned_with: Option<i64>,
}

/// Readings further apart than this say nothing about a thinning between them: too much thickened meanwhile.
const SAME_SITTING: Hours = Hours(0.5);

/// A reading this soon after the stirring tells the mound the cup rests at; a later one tells how it thickened.
const SET_TO_REST: Hours = Hours(1.0);

/// What is carried from entry to entry.
struct Walk {
    left: Millilitres,
    stirred: Moment,
    read: Option<(Moment, Seconds)>,
    /// Thinner since the last reading: its share so far, and which.
    thinned: Option<(Share, Option<i64>)>,
    /// Whether a reading told the mound it rests at.
    rest_read: bool,
    /// Since when the lid is off, where it is.
    open_since: Option<Moment>,
    /// For how long it was off since the last reading, as far as it is on again.
    open_for: Hours,
    evidence: Evidence,
}

/// Reads a cup's entries, given in order of entry.
pub(crate) fn of_cup(cup: &Cup, entries: &[Entry]) -> Evidence {
    let mut walk = Walk {
        left: cup.volume,
        stirred: cup.mixed_at,
        read: None,
        thinned: None,
        rest_read: false,
        open_since: None,
        open_for: Hours::ZERO,
        evidence: Evidence::default(),
    };
    for (at, entry) in life::in_place(&in_time(entries)).0 {
        walk.take(at, &entry.what);
    }
    walk.evidence.thinned_since = walk.thinned.map(|(share, _)| share);
    walk.evidence.thinned_with = walk.thinned.and_then(|(_, with)| with);
    walk.evidence
}

/// The entries by a clock that stood right: one that lies after the last that the clock dated was made while it stood
/// wrong, and no time is learned from it. What a person dated after that one holds as it is.
fn in_time(entries: &[Entry]) -> Vec<Entry> {
    let end = entries.iter().rposition(|entry| !entry.backdated);
    let (dated, backdated) = entries.split_at(end.map_or(0, |last| last + 1));
    let mut seen = match dated.last() {
        Some(last) => life::not_ahead(dated, last.at, |_| Made::default()).into_owned(),
        None => Vec::new(),
    };
    seen.extend_from_slice(backdated);
    seen
}

impl Walk {
    fn take(&mut self, at: Moment, what: &Happened) {
        match what {
            Happened::Mixed { .. } | Happened::Stirred { .. } => self.stir(at),
            Happened::Thinned { ml, with, hard, .. } => self.thin(at, *ml, *with, *hard),
            Happened::Added { ml, .. } => self.add(*ml),
            Happened::Looked(seen) => self.look(at, *seen),
            Happened::Drawn { ml, .. } => self.left -= *ml,
            Happened::Opened => self.open_since = self.open_since.or(Some(at)),
            Happened::Capped => {
                self.open_for += self.open_until(at);
                self.open_since = None;
            }
            Happened::Read(_) | Happened::Ended(_) => {}
        }
        if let Some(mound) = what.reading().and_then(|reading| reading.mound()) {
            self.read(at, mound);
        }
    }

    // Stirring breaks what had set up: the readings on either side tell nothing of standing.
    fn stir(&mut self, at: Moment) {
        // Until it is read again, it rests at what it last was.
        let was = self.read.filter(|_| self.thinned.is_none());
        self.evidence.rest_mound = was.map(|(_, mound)| mound);
        self.rest_read = false;
        self.stirred = at;
        self.read = None;
        self.thinned = None;
    }

    fn thin(&mut self, at: Moment, ml: Millilitres, with: Option<i64>, hard: bool) {
        let kept = self.thinned.map_or(1.0, |(share, _)| 1.0 - share.get());
        let after = self.left + ml;
        if self.left.get() > 0.0 {
            let share = Share(1.0 - kept * (self.left / after));
            self.thinned = Some((share, with));
        }
        self.left = after;
        if hard {
            self.stirred = at;
            self.evidence.rest_mound = None;
            self.rest_read = false;
        }
    }

    // Other paint than was read: the readings on either side tell nothing of each other.
    fn add(&mut self, ml: Millilitres) {
        self.left += ml;
        self.read = None;
        self.thinned = None;
    }

    fn look(&mut self, at: Moment, seen: Seen) {
        if seen == Seen::Gelled {
            // A gel tells nothing of bubbles, and what it mounded before is no measure of what comes after.
            self.read = None;
            return;
        }
        let after = hours(self.stirred, at);
        if after.get() > 0.0 {
            self.evidence.looked.push(Looked {
                stirred: self.stirred,
                after,
                mound: self.evidence.rest_mound,
                clear: seen == Seen::Clear,
            });
        }
    }

    /// How long the lid has been off at an instant, from its opening or from the last reading after that.
    fn open_until(&self, at: Moment) -> Hours {
        let Some(since) = self.open_since else {
            return Hours::ZERO;
        };
        let since = self.read.map_or(since, |(read, _)| read.max(since));
        hours(since, at)
    }

    fn read(&mut self, at: Moment, mound: Seconds) {
        let open = self.open_for + self.open_until(at);
        self.open_for = Hours::ZERO;
        if let Some((was_at, was)) = self.read {
            let over = hours(was_at, at);
            match self.thinned {
                None if over.get() > 0.0 => {
                    self.evidence.thickened.push(Thickened {
                        over,
                        before: was,
                        after: mound,
                        open: open.get() > over.get() / 2.0,
                    });
                }
                Some((added, with)) if over <= SAME_SITTING => {
                    self.evidence.thinned.push(ThinnedBy {
                        before: was,
                        added,
                        after: mound,
                        with,
                    });
                }
                _ => {}
            }
        }
        self.read = Some((at, mound));
        self.thinned = None;
        if !self.rest_read && hours(self.stirred, at) <= SET_TO_REST {
            self.evidence.rest_mound = Some(mound);
            self.rest_read = true;
        }
    }
}

fn hours(from: Moment, to: Moment) -> Hours {
    Hours((to - from).num_milliseconds() as f64 / 3_600_000.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::cup::Reading;
    use crate::trade::mark::Mark;
    use chrono::{DateTime, TimeDelta};

    fn cup() -> Cup {
        Cup {
            id: 1,
            mark: Mark::parse("K7").unwrap(),
            variant: 1,
            mixed_at: DateTime::parse_from_rfc3339("2026-11-24T18:30:00+01:00").unwrap(),
            volume: Millilitres(90.0),
            depth: None,
            diameter: None,
            tape: None,
            note: None,
            spent: false,
        }
    }

    fn told(what: Vec<(i64, Happened)>) -> Evidence {
        let cup = cup();
        let entry = |(id, (minutes, what))| Entry {
            id,
            at: cup.mixed_at + TimeDelta::minutes(minutes),
            backdated: false,
            what,
        };
        let entries: Vec<_> = (1_i64..).zip(what).map(entry).collect();
        of_cup(&cup, &entries)
    }

    fn read(seconds: f64) -> Happened {
        Happened::Read(Reading::Mound(Seconds(seconds)))
    }

    fn thin(ml: f64, mound: Option<f64>) -> Happened {
        let reading = mound.map(|s| Reading::Mound(Seconds(s)));
        Happened::Thinned {
            ml: Millilitres(ml),
            with: Some(4),
            hard: false,
            reading,
        }
    }

    #[test]
    fn two_readings_are_a_thickening() {
        let evidence = told(vec![(720, read(2.4)), (780, read(3.0))]);
        let wanted = Thickened {
            over: Hours(1.0),
            before: Seconds(2.4),
            after: Seconds(3.0),
            open: false,
        };
        assert_eq!(evidence.thickened, [wanted]);
    }

    #[test]
    fn a_cup_that_stood_open_for_the_greater_part_thickened_open() {
        let open = |off: i64, on: i64| {
            let evidence = told(vec![
                (720, read(2.4)),
                (off, Happened::Opened),
                (on, Happened::Capped),
                (780, read(3.0)),
                (790, Happened::Opened),
                (840, read(3.4)),
            ]);
            let open: Vec<bool> = evidence.thickened.iter().map(|one| one.open).collect();
            open
        };
        assert_eq!(open(721, 755), [true, true]);
        assert_eq!(open(721, 745), [false, true]);
    }

    #[test]
    fn ten_years_of_a_wrong_clock_are_no_thickening() {
        let ten_years = 10 * 365 * 24 * 60;
        let evidence = told(vec![
            (720, read(2.4)),
            (ten_years, read(2.6)),
            (780, read(3.0)),
        ]);
        let longest = evidence.thickened.iter().map(|one| one.over.get());
        assert_eq!(longest.fold(0.0, f64::max), 1.0);
        // Put back to its beginning: nothing is known of the time between.
        let evidence = told(vec![(720, read(2.4)), (-ten_years, read(2.6))]);
        assert_eq!(evidence.thickened, []);
    }

    #[test]
    fn ten_of_a_hundred_is_a_share_of_a_tenth_in_one_go_or_in_two() {
        let at_once = told(vec![(720, read(4.0)), (725, thin(10.0, Some(2.0)))]);
        assert!((at_once.thinned[0].added.get() - 0.1).abs() < 1e-12);
        let twice = told(vec![
            (720, read(4.0)),
            (722, thin(4.0, None)),
            (725, thin(6.0, Some(2.0))),
        ]);
        assert!((twice.thinned[0].added.get() - 0.1).abs() < 1e-12);
        assert!(twice.thickened.is_empty());
    }

    #[test]
    fn a_reading_hours_after_a_thinning_tells_of_neither() {
        let evidence = told(vec![
            (720, read(4.0)),
            (725, thin(10.0, None)),
            (840, read(2.6)),
        ]);
        assert!(evidence.thickened.is_empty() && evidence.thinned.is_empty());
    }

    #[test]
    fn a_stirring_parts_the_readings_around_it() {
        let stirred = Happened::Stirred {
            minutes: crate::trade::units::Minutes(4.0),
        };
        assert!(
            told(vec![(720, read(2.4)), (730, stirred), (780, read(2.2))])
                .thickened
                .is_empty()
        );
    }

    #[test]
    fn it_rests_at_what_was_read_within_the_hour_and_never_at_what_it_thickened_to() {
        assert_eq!(
            told(vec![(30, read(2.6)), (725, read(3.9))]).rest_mound,
            Some(Seconds(2.6))
        );
        assert_eq!(told(vec![(725, read(3.9))]).rest_mound, None);
        let stirred = Happened::Stirred {
            minutes: crate::trade::units::Minutes(4.0),
        };
        assert_eq!(
            told(vec![(725, read(4.5)), (730, stirred)]).rest_mound,
            Some(Seconds(4.5))
        );
    }

    /// A cup mixed by the clock and read at an hour that was told: the hour counts.
    #[test]
    fn what_was_dated_by_hand_after_the_clocks_last_entry_keeps_its_hour() {
        let cup = cup();
        let entry = |id, hours, backdated, what| Entry {
            id,
            at: cup.mixed_at + TimeDelta::hours(hours),
            backdated,
            what,
        };
        let mixed = Happened::Mixed {
            stirred: None,
            reading: Some(Reading::Mound(Seconds(2.0))),
        };
        let entries = [
            entry(1, 0, false, mixed),
            entry(2, 12, true, Happened::Looked(Seen::Clear)),
            entry(3, 13, true, read(3.9)),
        ];
        let evidence = of_cup(&cup, &entries);
        assert_eq!(evidence.rest_mound, Some(Seconds(2.0)));
        assert_eq!(evidence.looked[0].after, Hours(12.0));
        assert_eq!(evidence.thickened[0].over, Hours(13.0));
    }

    #[test]
    fn looks_count_from_the_last_stirring() {
        let evidence = told(vec![
            (60, Happened::Looked(Seen::Bubbles)),
            (720, Happened::Looked(Seen::Clear)),
        ]);
        let after: Vec<_> = evidence
            .looked
            .iter()
            .map(|look| (look.after.get(), look.clear))
            .collect();
        assert_eq!(after, [(1.0, false), (12.0, true)]);
    }
}
