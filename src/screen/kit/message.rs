//! What is said beneath a place, until it is read.

use crate::trade::text::inert;

/// What was said last, until it is read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Message {
    /// The words, safe to show.
    pub words: String,
    /// How they are meant.
    pub tone: Tone,
}

/// How a message is meant.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tone {
    /// It was done.
    Done,
    /// It was done, but something is odd.
    Odd,
    /// It was not done.
    Refused,
}

impl Message {
    /// A message whose words may hold anything.
    pub fn new(tone: Tone, words: &str) -> Self {
        Self {
            words: inert(words).into_owned(),
            tone,
        }
    }
}
