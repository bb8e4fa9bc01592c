//! Thumbnails of pours, each read once while its list is open.

use crate::exchange::photo::opened_thumbnail;
use crate::numbers::cells::Pixels;
use crate::studio::{Answer, Studio};
use std::collections::HashMap;

/// More are not held: each takes a quarter of a megabyte.
const HELD: usize = 64;

/// The thumbnails that were read, by the pour's number; nothing for a pour without a photo.
#[derive(Debug, Default)]
pub struct Thumbs(HashMap<i64, Option<Pixels>>);

impl Thumbs {
    /// Whether a pour's was not read yet.
    pub fn lacks(&self, pour: Option<i64>) -> bool {
        pour.is_some_and(|pour| !self.0.contains_key(&pour))
    }

    /// Reads a pour's, where it was not read yet.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn read(&mut self, studio: &Studio, pour: Option<i64>) -> Answer<()> {
        let Some(pour) = pour.filter(|pour| !self.0.contains_key(pour)) else {
            return Ok(());
        };
        if self.0.len() >= HELD {
            self.0.clear();
        }
        let kept = studio.thumbnail(pour)?;
        self.0
            .insert(pour, kept.as_deref().and_then(opened_thumbnail));
        Ok(())
    }

    /// Forgets all: there may be others now.
    pub fn forget(&mut self) {
        self.0.clear();
    }

    /// A pour's.
    pub fn of(&self, pour: i64) -> Option<&Pixels> {
        self.0.get(&pour)?.as_ref()
    }
}
