//! A painter's own keys, as sentences that name a key ask for them. Set once, before the screen opens.

use crate::screen::kit::keys::Key;
use std::sync::OnceLock;

/// A line of a table whose keys are others.
#[derive(Debug, Clone, Copy)]
pub struct Moved {
    /// The sentence of the line, which tells it from others.
    pub help: &'static str,
    /// Its keys as they come.
    pub from: &'static [Key],
    /// Its keys as the painter has them.
    pub to: &'static [Key],
}

static MOVED: OnceLock<Vec<Moved>> = OnceLock::new();

/// Takes the painter's own keys; only the first time.
pub fn take(moved: Vec<Moved>) {
    drop(MOVED.set(moved));
}

/// The keys of a line as they are by now.
pub fn keys(help: &str, from: &'static [Key]) -> &'static [Key] {
    let moved = MOVED.get().into_iter().flatten();
    let mut found = moved.filter(|one| one.help == help && one.from == from);
    found.next().map_or(from, |one| one.to)
}
