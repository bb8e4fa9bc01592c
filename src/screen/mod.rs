//! The screen: the terminal's keys in, pictures out. ratatui and crossterm live here and nowhere else.
//!
//! A key goes one way round: terminal event, `shell::keys` (context and key), `shell::action::Action`, the place's own
//! `update`, a `Deed` done through the studio, what was written read again, the place's own `view`. One thread, but for
//! what takes long (`kit::later`); nothing is drawn but from the model.
//!
//! `kit` is what places are built of and knows none of them; `places` has one folder for each, and none knows another or
//! the shell; `shell` holds them together. `tests/it/house.rs` holds these doors. What all places share (the instant,
//! names, living cups, what is said) is `kit::desk::Desk`; what a place wishes of another it lays there as a
//! `kit::handover::Handover`, and the shell hands it over.
//!
//! # How to add a place
//! 1. A folder of its own, such as `places/rack/`, with what it has read, and `kit::place::Place` for it: how it is read
//!    again (called only while the screen is open and something was written), walked through and drawn.
//! 2. `enum Wish` (no text in it), `enum Ask` for its forms, `enum Deed` for what it does, and `kit::place::Hands` for it:
//!    what a wish leads to, what is wrong with a form as it is left field by field (`check`, which changes nothing), how it
//!    is kept, how a deed is done. A form stays open with all that was typed until its deed was done; left with Esc it is
//!    put by and offered again by the key that asks for it.
//! 3. Its `KEYS`; those that do something in an empty place are bound `anyway`. Keys that hold everywhere
//!    (`shell/everywhere.rs`) must not be bound again; a test holds that.
//! 4. In the shell: a digit (`Screen`), a field of `Model`, and an arm each of `Action`, `Ask`, `Effect`; the compiler
//!    finds the rest. Keys of an inner place (a sheet, a clock) are a `keys::Context`.

mod kit;
mod places;
mod shell;

#[cfg(test)]
mod tests;

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
pub fn run(studio: Studio, file: &Path, clock: &dyn Fn() -> Now) -> Result<(), ScreenError> {
    shell::terminal::run(studio, file, clock)
}

/// The same for an ear: lines as they change, no drawing.
///
/// # Errors
/// As [`run`].
pub fn run_in_lines(
    studio: Studio,
    file: &Path,
    clock: &dyn Fn() -> Now,
) -> Result<(), ScreenError> {
    shell::terminal::run_in_lines(studio, file, clock)
}

/// Takes a painter's own keys out of a file's text, before the screen opens; of no text where it cannot be read. What is wrong
/// in it the screen says.
pub fn take_keys(name: &str, text: Option<&str>) {
    shell::own_keys::take(name, text);
}

/// The screens, in the order of their digits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Screen {
    /// The living cups.
    Bench,
    /// The stack being poured.
    Pour,
    /// Pictures drying.
    Rack,
    /// What worked.
    Findings,
    /// What is left of materials.
    Shelf,
    /// Paint for a panel.
    Plan,
    /// Recipes and their variants.
    Recipes,
    /// Planned sets of pours.
    Trials,
}

impl Screen {
    /// Every screen, in the order of their digits.
    pub const ALL: [Self; 8] = [
        Self::Bench,
        Self::Pour,
        Self::Rack,
        Self::Findings,
        Self::Shelf,
        Self::Plan,
        Self::Recipes,
        Self::Trials,
    ];

    /// Its name.
    #[must_use]
    pub const fn title(self) -> &'static str {
        match self {
            Self::Bench => "Bench",
            Self::Pour => "Pour",
            Self::Rack => "Rack",
            Self::Findings => "Findings",
            Self::Shelf => "Shelf",
            Self::Plan => "Plan",
            Self::Recipes => "Recipes",
            Self::Trials => "Trials",
        }
    }
}
