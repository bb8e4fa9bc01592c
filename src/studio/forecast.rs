//! What the models expect of a cup: how long it rests, what it mounds now, until when it holds.
//!
//! This is the one seam between a cup's life and the numbers.

use crate::logbook::Reader;
use crate::studio::Answer;
use crate::trade::cup::{Cup, Entry};
use crate::trade::life::{Expected, Life, Waits};
use crate::trade::moment::Moment;
use crate::trade::recipe::Variant;
use crate::trade::units::{Backing, Band, Estimate, Seconds};

/// All that has been learned from the studio's own readings.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Forecast;

/// What is expected of one cup at one instant.
#[derive(Debug, Clone)]
pub struct Outlook {
    /// The mound it has now; `None` where nothing is known.
    pub mound: Option<Estimate<Seconds>>,
    /// What its state is told by.
    pub expected: Expected,
    /// Where its rest comes from.
    pub rest_from: Backing,
}

impl Outlook {
    /// The middle of the expected mound.
    #[must_use]
    pub fn mound_mid(&self) -> Option<Seconds> {
        Some(self.mound?.band.mid)
    }
}

impl Forecast {
    /// Learns from the studio.
    pub(crate) fn learn(_read: &Reader<'_>) -> Answer<Self> {
        Ok(Self)
    }

    /// How long a cup waits.
    pub(crate) fn waits(&self, _cup: &Cup, _entries: &[Entry], variant: &Variant) -> Waits {
        Waits {
            rest: variant.targets.rest,
            again: variant.targets.again,
        }
    }

    /// What is expected of a cup.
    pub(crate) fn outlook(
        &self,
        _cup: &Cup,
        life: &Life,
        _variant: &Variant,
        _now: Moment,
    ) -> Outlook {
        let estimate = |mound| Estimate {
            band: Band::exactly(mound),
            from: Backing::Practice,
            readings: 0,
        };
        Outlook {
            mound: life.mound().map(estimate),
            expected: Expected {
                mound: life.mound(),
                holds_until: life.holds_until(),
            },
            rest_from: Backing::Practice,
        }
    }
}
