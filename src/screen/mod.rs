//! The screen: the terminal's keys in, pictures out. ratatui and crossterm live here and nowhere else.
//!
//! A key goes one way round: terminal event, `keys` (place and key), `action::Action`,
//! `update::update` on the `model::Model`, `effect::Effect` done through the studio, what was written
//! read again, `view::view`. One thread; nothing is drawn but from the model.
//!
//! `kit` is what places are built of and knows none of them; `places` has one folder for each; `shell` holds them together.
//!
//! # How to add a place
//! 1. A folder of its own, such as `places/rack/`, with what it has read (`reread`, called only while the
//!    screen is open and something was written), `step`, `headline`, `view` and its `KEYS`.
//! 2. For wishes of its own: `enum Wish` (no text in it), an arm `Rack(rack::Wish)` in `action::Action` and in
//!    `update::update`. Keys that hold everywhere (`shell/everywhere.rs`) must not be bound again; a test holds that.
//! 3. For deeds: `enum Deed`, an arm `Rack(rack::Deed)` in `effect::Effect` and in `effect::perform`; it answers
//!    with an `effect::Outcome`, whose `wrote` closes the form and reads everything open again.
//! 4. For forms: `enum Ask`, an arm in `form::Ask`, in `update::changed` and in `update::kept`; `keep` turns what was typed
//!    into deeds (the form stays until they are done) or into a `form::Fault` in its field. A form stays open with all that was typed until it was kept.
//!    Left with Esc it is put by (`Model::leave`) and offered again by the key that asks for it.
//! 5. A new place that takes keys of its own (not a form, not a page) is a `keys::Context`.

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
