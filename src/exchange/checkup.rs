//! Looks at the terminal, the file, its copies and the clock, and changes nothing that is there.

use super::terminal::terminal_facts;
use crate::studio::{Checkup, CopiesFacts, FileHealth, StoreError, Studio, StudioError, copies};
use crate::trade::instant::Now;
use std::path::Path;

/// What a checkup finds. A file that is missing is not made.
#[must_use]
pub fn check_up(file: &Path, now: &Now) -> Checkup {
    let (health, clock_behind) = health(file, now);
    Checkup {
        terminal: terminal_facts(|name| std::env::var(name).ok()),
        file: file.display().to_string(),
        health,
        copies: copies_beside(file),
        rehearsed: std::env::var_os("STILLCUP_NOW").is_some(),
        clock_behind,
    }
}

fn health(file: &Path, now: &Now) -> (FileHealth, bool) {
    let Ok(there) = std::fs::metadata(file) else {
        // A missing file beside its copies is a loss, which only opening it tells; nothing is made where there are none.
        return match copies(file).is_ok_and(|copies| !copies.is_empty()) {
            true => (opened(file, 0, now).0, false),
            false => (FileHealth::Missing, false),
        };
    };
    opened(file, there.len(), now)
}

fn opened(file: &Path, bytes: u64, now: &Now) -> (FileHealth, bool) {
    match Studio::open(file) {
        Ok(studio) => {
            let behind = matches!(studio.clock_oddity(now), Ok(Some(_)));
            let health = match studio.barred() {
                Some(why) => FileHealth::ReadOnly(why.clone()),
                None => FileHealth::Whole {
                    bytes,
                    is_large: studio.copies_slowly(),
                },
            };
            (health, behind)
        }
        Err(StudioError::Store(error)) => (FileHealth::Broken(error), false),
        Err(StudioError::Refused(_)) => {
            (FileHealth::Broken(StoreError::Missing(file.into())), false)
        }
    }
}

fn copies_beside(file: &Path) -> CopiesFacts {
    let kept = copies(file).unwrap_or_default();
    CopiesFacts {
        count: kept.len(),
        bytes: kept.iter().map(|one| one.bytes).sum(),
        newest: kept.iter().map(|one| one.at.into()).max(),
    }
}
