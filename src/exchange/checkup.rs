//! Looks at the terminal, the file, its copies and the clock, and changes nothing that is there.

use super::terminal::terminal_facts;
use crate::studio::{Checkup, CopiesFacts, FileHealth, copies, health, is_behind};
use crate::trade::instant::Now;
use std::path::Path;

/// What a checkup finds. Nothing is made and nothing is changed.
#[must_use]
pub fn check_up(file: &Path, now: &Now) -> Checkup {
    let health = health(file);
    let opens = matches!(health, FileHealth::Opens { .. } | FileHealth::ReadOnly(_));
    Checkup {
        terminal: terminal_facts(|name| std::env::var(name).ok()),
        file: file.display().to_string(),
        clock_behind: opens && is_behind(file, now),
        health,
        copies: copies(file).ok().map(|kept| CopiesFacts {
            count: kept.len(),
            bytes: kept.iter().map(|one| one.bytes).sum(),
            newest: kept.iter().map(|one| one.at.into()).max(),
        }),
        rehearsed: std::env::var_os("STILLCUP_NOW").is_some(),
    }
}
