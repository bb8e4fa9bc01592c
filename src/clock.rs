//! The studio's clock: the system's, or one that stands still or runs fast for rehearsals and tests. Nothing else
//! reads the time; everyone is told.

use crate::trade::instant::{Now, Zone};
use crate::trade::problem::{Misread, ParseProblem, Sought};
use chrono::{DateTime, Local, Offset, Utc};
use std::time::Duration;

/// How many times as fast as time a rehearsal's clock may run.
const FASTER: std::ops::RangeInclusive<u32> = 1..=86_400;

/// A clock that may be asked again and again.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Clock {
    /// It stands still.
    Fixed(Now),
    /// It runs from an instant on, so many times as fast as time does.
    Running {
        /// What it showed.
        from: Now,
        /// When it showed that.
        since: DateTime<Utc>,
        /// How many times as fast it runs.
        times: u32,
    },
    /// The system's, told in a zone.
    System(Zone),
}

impl Clock {
    /// A rehearsal's clock: it stands still at an RFC 3339 instant, whose offset is the studio's, or runs from there on:
    /// `2026-11-24T18:30:00+01:00`, `2026-11-24T18:30:00+01:00 x60`.
    ///
    /// # Errors
    /// Where the text is no such instant, or the clock runs not at all or faster than a day in a second.
    pub fn rehearsal(text: &str) -> Result<Self, ParseProblem> {
        let refused = || ParseProblem::new(text, Sought::ClockInstant, Misread::NotOne);
        let (at, times) = match text.trim().split_once(" x") {
            Some((at, times)) => (at, Some(times.trim())),
            None => (text, None),
        };
        let at = DateTime::parse_from_rfc3339(at.trim()).map_err(|_| refused())?;
        let from = Now {
            at,
            zone: Zone::Fixed(*at.offset()),
        };
        let Some(times) = times else {
            return Ok(Self::Fixed(from));
        };
        let times = times.parse().ok().filter(|times| FASTER.contains(times));
        Ok(Self::Running {
            from,
            since: Utc::now(),
            times: times.ok_or_else(refused)?,
        })
    }

    /// The system's clock, in the zone of this name; in the system's present offset where there is none.
    #[must_use]
    pub fn system(zone: Option<&str>) -> Self {
        let named = zone.and_then(|name| name.parse().ok()).map(Zone::Named);
        Self::System(named.unwrap_or_else(|| Zone::Fixed(Local::now().offset().fix())))
    }

    /// How long one has to wait until so much has passed on it.
    #[must_use]
    pub fn wait_for(&self, span: Duration) -> Duration {
        match self {
            Self::Running { times, .. } => span / (*times).max(1),
            Self::Fixed(_) | Self::System(_) => span,
        }
    }

    /// The present instant.
    #[must_use]
    pub fn now(&self) -> Now {
        match self {
            Self::Fixed(now) => *now,
            Self::Running { from, since, times } => {
                let times = i32::try_from(*times).unwrap_or(i32::MAX);
                let passed = (Utc::now() - *since).checked_mul(times);
                let at = passed.and_then(|passed| from.at.checked_add_signed(passed));
                let at = at.unwrap_or(from.at);
                Now {
                    at,
                    zone: from.zone,
                }
            }
            Self::System(zone) => Now {
                at: zone.tell(Utc::now()),
                zone: *zone,
            },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use chrono::TimeDelta;

    #[test]
    fn a_fixed_clock_stands_at_its_instant_and_offset() {
        let clock = Clock::rehearsal("2026-11-24T18:30:00+05:30").unwrap();
        assert_eq!(
            clock.now().local().to_rfc3339(),
            "2026-11-24T18:30:00+05:30"
        );
        assert_eq!(clock.now(), clock.now());
    }

    #[test]
    fn a_running_clock_runs_on_from_its_instant_as_fast_as_is_said() {
        let clock = Clock::rehearsal("2026-11-24T18:30:00+01:00 x86400").unwrap();
        let begun = clock.now().at;
        let wanted = begun + TimeDelta::hours(1);
        while clock.now().at < wanted {
            std::thread::yield_now();
        }
        let Clock::Running { since, .. } = clock else {
            panic!("a running clock");
        };
        assert!(
            Utc::now() - since >= TimeDelta::milliseconds(41),
            "a day takes a second"
        );
        assert_eq!(
            clock.wait_for(Duration::from_secs(86_400)),
            Duration::from_secs(1)
        );
    }

    #[test]
    fn what_is_no_instant_is_refused() {
        for text in [
            "",
            "18:30",
            "2026-11-24",
            "2026-11-24T18:30:00",
            "2026-11-24T18:30:00Z x0",
            "2026-11-24T18:30:00Z x-2",
            "2026-11-24T18:30:00Z x86401",
            "2026-11-24T18:30:00Z xfast",
        ] {
            assert!(Clock::rehearsal(text).is_err(), "{text}");
        }
    }

    #[test]
    fn a_system_clock_tells_in_its_zone() {
        let Clock::System(zone) = Clock::system(Some("Asia/Kolkata")) else {
            panic!("a system clock");
        };
        let at = DateTime::parse_from_rfc3339("2026-01-01T00:00:00Z").unwrap();
        assert_eq!(zone.tell(at).to_rfc3339(), "2026-01-01T05:30:00+05:30");
    }
}
