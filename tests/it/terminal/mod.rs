//! The real program on a real (pseudo) terminal, its screen read cell by cell.

mod budgets;
mod given_back;
pub(crate) mod hands;
mod hostile;
mod hung_up;
mod leaving;
mod others;
mod shells;
#[path = "../../stage/mod.rs"]
mod stage;
mod trials;
mod turning;

pub use stage::now;

use std::path::PathBuf;
use stillcup::studio::Studio;

/// A studio in a folder of its own: K7 thick, A3 resting until 19:00, B4 ready to be poured.
pub struct Stage {
    dir: tempfile::TempDir,
}

impl Stage {
    pub fn empty() -> Self {
        let dir = tempfile::tempdir().unwrap();
        Self { dir }
    }

    pub fn with_cups() -> Self {
        let stage = Self::empty();
        let mut studio = stage.studio();
        stage::recipes(&mut studio, &now());
        stage::cups(&mut studio, &now());
        stage
    }

    pub fn file(&self) -> PathBuf {
        self.dir.path().join("studio.db")
    }

    pub fn studio(&self) -> Studio {
        Studio::open(&self.file()).unwrap()
    }
}
