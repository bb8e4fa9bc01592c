//! An instant within work that is done step by step: what is written down, and beside it the clock that never jumps.

use crate::screen::kit::beat::Beat;
use crate::trade::moment::Moment;
use crate::trade::units::Seconds;
use serde::{Deserialize, Serialize};
use std::time::Duration;

/// When something was done.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Mark {
    /// As it is written down.
    pub at: Moment,
    /// Since the screen was opened; unknown where that was another screen.
    #[serde(skip)]
    elapsed: Option<Duration>,
}

impl Mark {
    /// The present.
    pub const fn of(beat: &Beat) -> Self {
        Self {
            at: beat.now.at,
            elapsed: Some(beat.elapsed),
        }
    }

    /// How long after an earlier one this was; never less than nothing, though a clock was set back.
    pub fn after(&self, earlier: &Self) -> Seconds {
        let steady = self.elapsed.zip(earlier.elapsed);
        let steady = steady.and_then(|(this, that)| this.checked_sub(that));
        let told = || (self.at - earlier.at).as_seconds_f64().max(0.0);
        Seconds(steady.map_or_else(told, |passed| passed.as_secs_f64()))
    }
}

/// Minutes and seconds: `0:12`.
pub fn minutes(passed: Seconds) -> String {
    let seconds = passed.get() as u64;
    format!("{}:{:02}", seconds / 60, seconds % 60)
}
