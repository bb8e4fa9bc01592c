//! The whole states of a studio that can be brought back: its dated copies, and what restores put aside.

use super::backup::{Backups, Kept};
use super::{LogbookError, Steps, restore};
use crate::logbook::new_file::folder_of;
use chrono::{DateTime, NaiveDateTime, Utc};
use std::path::{Path, PathBuf};

/// How the name of a file goes on that was put aside, before its date.
pub(super) const ASIDE: &str = ".aside-";
/// How its date is written.
pub(super) const ASIDE_DATED: &str = "%Y%m%dT%H%M%SZ";

/// A state that is whole.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WholeState {
    /// Its place in the list of copies, from 1; `None` for a file that was put aside.
    pub place: Option<usize>,
    /// Where it stands.
    pub path: PathBuf,
    /// When it was taken, or put aside.
    pub at: DateTime<Utc>,
    /// The files that were put aside beside it.
    pub aside: Vec<PathBuf>,
}

/// The file that a path leads to, through links, there or not.
#[must_use]
pub fn real_path(path: &Path) -> PathBuf {
    // As many as the system itself follows.
    const MOST: u32 = 40;
    let mut real = path.to_owned();
    for _ in 0..MOST {
        match std::fs::read_link(&real) {
            Ok(next) => real = folder_of(&real).join(next),
            Err(_) => return real,
        }
    }
    path.to_owned()
}

/// The files that restores put aside from the studio at `path`, newest first.
#[must_use]
pub fn kept_aside(path: &Path) -> Vec<Kept> {
    let path = real_path(path);
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    let prefix = format!("{name}{ASIDE}");
    let entries = std::fs::read_dir(folder_of(&path)).into_iter().flatten();
    let put = |entry: std::io::Result<std::fs::DirEntry>| {
        let entry = entry.ok()?;
        let at = read_date(entry.file_name().to_str()?.strip_prefix(&prefix)?)?;
        let bytes = entry.metadata().ok()?.len();
        Some(Kept {
            path: entry.path(),
            at,
            bytes,
        })
    };
    let mut all: Vec<Kept> = entries.filter_map(put).collect();
    all.sort_by_key(|kept| std::cmp::Reverse(kept.at));
    all
}

/// A date, and perhaps a number where another of that second was there.
fn read_date(rest: &str) -> Option<DateTime<Utc>> {
    let (date, number) = rest.split_once('-').unwrap_or((rest, "2"));
    number.parse::<u32>().ok()?;
    let read = NaiveDateTime::parse_from_str(date, ASIDE_DATED).ok()?;
    Some(read.and_utc())
}

/// The newest of all whole states of the studio at `path`. What counts is the last thing written down in it; one dated
/// after `now` counts only where there is no other: the clock had stood wrong.
///
/// # Errors
/// [`LogbookError::System`] where the folder of copies cannot be read.
pub fn newest_whole(
    path: &Path,
    copies: &Backups,
    now: DateTime<Utc>,
    steps: &Steps,
) -> Result<Option<WholeState>, LogbookError> {
    let aside = kept_aside(path);
    let placed = (1..).zip(copies.list()?);
    let placed = placed.map(|(place, kept)| (Some(place), kept));
    let all = placed.chain(aside.iter().map(|kept| (None, kept.clone())));
    let whole = all.filter_map(|(place, kept)| {
        let last = last_change(&kept, steps)?;
        Some(((kept.at <= now, last, kept.at), place, kept))
    });
    // Of states alike the first: a copy before what was put aside.
    let newest = whole.reduce(|one, other| if other.0 > one.0 { other } else { one });
    Ok(newest.map(|(_, place, kept)| WholeState {
        aside: others(&aside, &kept),
        place,
        path: kept.path,
        at: kept.at,
    }))
}

fn others(aside: &[Kept], but: &Kept) -> Vec<PathBuf> {
    let other = aside.iter().filter(|kept| kept.path != but.path);
    other.map(|kept| kept.path.clone()).collect()
}

/// When the last thing in a whole state was written down, and not after the state itself; `None` where it is not whole.
fn last_change(kept: &Kept, steps: &Steps) -> Option<i64> {
    let conn = restore::open_whole(&kept.path, steps).ok()?;
    let sql = "SELECT at_ms FROM change ORDER BY id DESC LIMIT 1";
    let last: rusqlite::Result<i64> = conn.query_row(sql, [], |row| row.get(0));
    let last = match last {
        Err(rusqlite::Error::QueryReturnedNoRows) => i64::MIN,
        other => other.ok()?,
    };
    Some(last.min(kept.at.timestamp_millis()))
}
