//! The terminal (being built).

use crate::clock::Clock;
use crate::studio::{Answer, Studio};
use std::path::Path;

/// Opens a studio's Bench in the terminal and stays until it is left.
///
/// # Errors
/// Where the studio cannot be opened or the terminal fails.
pub fn run(file: &Path, clock: Clock) -> Answer<()> {
    Studio::open(file)?.bench(&clock.now()).map(|_| ())
}
