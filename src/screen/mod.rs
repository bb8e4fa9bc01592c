//! The terminal (being built).

use crate::studio::Studio;
use crate::trade::instant::Now;
use std::path::Path;

/// Why the screen could not be shown, or had to be left.
#[derive(Debug, thiserror::Error)]
pub enum ScreenError {
    /// The terminal could not be used.
    #[error("the terminal cannot be used: {0}")]
    Terminal(#[from] std::io::Error),
}

impl ScreenError {
    /// What to do next.
    #[must_use]
    pub const fn hint(&self) -> &'static str {
        "run it in a terminal, or use the commands: stillcup help"
    }
}

/// Shows a studio on the terminal until the painter leaves.
///
/// # Errors
/// Where the terminal cannot be used. What the store cannot do is said on the screen, which stays.
pub fn run(_studio: Studio, _file: &Path, _clock: &dyn Fn() -> Now) -> Result<(), ScreenError> {
    Err(std::io::Error::other("there is no screen yet").into())
}
