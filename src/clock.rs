//! The studio's clock: the system's, or one that stands still for rehearsals and tests. Nothing else
//! reads the time; everyone is told.

use crate::trade::instant::{Now, Zone};
use crate::trade::problem::{Misread, ParseProblem, Sought};
use chrono::{DateTime, Local, Offset, Utc};

/// A clock that may be asked again and again.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Clock {
    /// It stands still.
    Fixed(Now),
    /// The system's, told in a zone.
    System(Zone),
}

impl Clock {
    /// A clock that stands still at an RFC 3339 instant, whose offset is the studio's.
    ///
    /// # Errors
    /// Where the text is no such instant.
    pub fn fixed(text: &str) -> Result<Self, ParseProblem> {
        let at = DateTime::parse_from_rfc3339(text.trim())
            .map_err(|_| ParseProblem::new(text, Sought::ClockInstant, Misread::NotOne))?;
        Ok(Self::Fixed(Now {
            at,
            zone: Zone::Fixed(*at.offset()),
        }))
    }

    /// The system's clock, in the zone of this name; in the system's present offset where there is none.
    #[must_use]
    pub fn system(zone: Option<&str>) -> Self {
        let named = zone.and_then(|name| name.parse().ok()).map(Zone::Named);
        Self::System(named.unwrap_or_else(|| Zone::Fixed(Local::now().offset().fix())))
    }

    /// The present instant.
    #[must_use]
    pub fn now(&self) -> Now {
        match self {
            Self::Fixed(now) => *now,
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

    #[test]
    fn a_fixed_clock_stands_at_its_instant_and_offset() {
        let clock = Clock::fixed("2026-11-24T18:30:00+05:30").unwrap();
        assert_eq!(
            clock.now().local().to_rfc3339(),
            "2026-11-24T18:30:00+05:30"
        );
        assert_eq!(clock.now(), clock.now());
    }

    #[test]
    fn what_is_no_instant_is_refused() {
        for text in ["", "18:30", "2026-11-24", "2026-11-24T18:30:00"] {
            assert!(Clock::fixed(text).is_err(), "{text}");
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
