//! What a checkup finds, as facts: the terminal, the file, its copies, the clock.

use crate::logbook::{self, Inspected, Logbook, STEPS};
use crate::studio::file::copies::is_lost;
use crate::studio::{StoreError, Studio};
use crate::trade::instant::Now;
use crate::trade::moment::Moment;
use std::path::Path;

/// How many colours a terminal says that it has.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Colours {
    /// `NO_COLOR` is set.
    Unwanted,
    /// The terminal calls itself dumb.
    None,
    /// Its own sixteen.
    Sixteen,
    /// 256, as its name says.
    Many,
    /// Any.
    Full,
}

/// What a terminal's ground is, where it is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ground {
    /// Dark.
    Dark,
    /// Light.
    Light,
    /// Nobody says.
    Untold,
}

/// What the terminal can do, as far as it says so.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TerminalFacts {
    /// What it is called; empty where it is not.
    pub name: String,
    /// Columns and rows; `None` where the answer goes elsewhere.
    pub size: Option<(usize, usize)>,
    /// Its colours.
    pub colours: Colours,
    /// Its ground.
    pub ground: Ground,
    /// Whether letters beyond the first 128 are sent to it as they are: the locale says UTF-8.
    pub is_utf8: bool,
}

/// How the studio's file stands.
#[derive(Debug)]
pub enum FileHealth {
    /// There is none yet.
    Missing,
    /// It opens.
    Opens {
        /// Its size.
        bytes: u64,
        /// Whether it is of an older version, which the next command renews.
        older: bool,
        /// Whether all of it was read; of a large one only the copy of each day does that.
        whole: bool,
    },
    /// It can be read, not written.
    ReadOnly(StoreError),
    /// It cannot be opened.
    Broken(StoreError),
}

/// The copies beside the file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CopiesFacts {
    /// How many.
    pub count: usize,
    /// Their size together.
    pub bytes: u64,
    /// When the newest was taken.
    pub newest: Option<Moment>,
}

/// Everything that was looked at.
#[derive(Debug)]
pub struct Checkup {
    /// The terminal.
    pub terminal: TerminalFacts,
    /// The file's path, as it is shown.
    pub file: String,
    /// The file.
    pub health: FileHealth,
    /// Its copies; `None` where their folder cannot be read.
    pub copies: Option<CopiesFacts>,
    /// Whether the clock is one for rehearsals.
    pub rehearsed: bool,
    /// Whether the last thing done is later than the clock.
    pub clock_behind: bool,
}

/// How a studio's file stands; not a byte of it is changed.
#[must_use]
pub fn health(path: &Path) -> FileHealth {
    if is_lost(path) {
        return FileHealth::Broken(StoreError::Lost(path.into()));
    }
    if logbook::is_blank(path) {
        return FileHealth::Missing;
    }
    match logbook::inspect(path, STEPS) {
        Ok(Inspected {
            bytes,
            older,
            whole,
        }) => FileHealth::Opens {
            bytes,
            older,
            whole,
        },
        Err(why @ (StoreError::ReadOnly | StoreError::TwoNames(_))) => FileHealth::ReadOnly(why),
        Err(why) => FileHealth::Broken(why),
    }
}

/// Whether the last thing done in a studio's file is later than the clock; `false` where that cannot be read.
#[must_use]
pub fn is_behind(path: &Path, now: &Now) -> bool {
    let book = Logbook::open_to_read(path, STEPS, StoreError::ReadOnly);
    let oddity = book
        .ok()
        .and_then(|book| Studio::of(book).clock_oddity(now).ok());
    oddity.flatten().is_some()
}
