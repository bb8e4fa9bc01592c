//! When a key was pressed.

use crate::trade::instant::Now;
use std::time::Duration;

/// The instant an action falls on: the studio's clock, and a clock for stopwatches that never jumps.
#[derive(Debug, Clone, Copy)]
pub struct Beat {
    /// The present instant, as it is written down.
    pub now: Now,
    /// Time since the screen was opened.
    pub elapsed: Duration,
}
