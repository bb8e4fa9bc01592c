//! Copies of the studio: one each day, one on request, and bringing one back.

use crate::logbook::{self, Backups, Kept, NewCopy, Restored, STEPS, WholeState};
use crate::studio::{Answer, Refusal, StoreError, Studio};
use crate::trade::instant::Now;
use chrono::Utc;
use std::path::{Path, PathBuf};

/// Told after each stretch of a copy how many of how many pages are copied; what is copied is then checked.
pub type HowFar<'a> = &'a dyn Fn(usize, usize);

/// Where a studio's dated copies stand: a folder beside its file, where a link to it leads.
#[must_use]
pub fn copies_folder(file: &Path) -> PathBuf {
    let file = logbook::real_path(file);
    let mut name = file.file_name().unwrap_or_default().to_owned();
    name.push("-copies");
    file.with_file_name(name)
}

impl Studio {
    /// The way back, where this studio is damaged; see [`way_back`].
    #[must_use]
    pub fn way_back(&self, now: &Now) -> Option<WayBack> {
        way_back(self.book.path(), now)
    }

    /// Takes a dated copy, checked whole; to a file of its own where one is named.
    ///
    /// # Errors
    /// Where the copy cannot be written, or is not whole; a file that is there already is never overwritten.
    pub fn copy(&self, to: Option<&Path>, now: &Now, told: HowFar<'_>) -> Answer<NewCopy> {
        if let Some(damage @ StoreError::Damaged(_)) = self.book.barred() {
            return Err(damage.clone().into());
        }
        match to {
            None => {
                let copies = Backups::new(copies_folder(self.book.path()));
                Ok(copies.take(&self.book, now.at.into(), told)?)
            }
            Some(path) => {
                refuse_no_folder(path)?;
                let copied = self.book.copy_to(path, told)?;
                let kept = Kept {
                    path: path.to_owned(),
                    at: now.at.with_timezone(&Utc),
                    bytes: copied.bytes,
                };
                let newer = copied.newer;
                Ok(NewCopy { kept, newer })
            }
        }
    }

    /// Whether the day's copy takes long enough that nobody is to wait for it.
    #[must_use]
    pub fn copies_slowly(&self) -> bool {
        self.book.is_large()
    }

    /// Whether this program alone may have the file open, so that no second studio of it can be opened beside.
    #[must_use]
    pub fn is_held_alone(&self) -> bool {
        self.book.is_held_alone()
    }

    /// Whether the day's first copy is still to be taken. An empty studio needs none, and one that may not be written has none.
    ///
    /// # Errors
    /// Where the folder of copies or the store cannot be read.
    pub fn lacks_copy_of_the_day(&self, now: &Now) -> Answer<bool> {
        if self.book.barred().is_some() {
            return Ok(false);
        }
        let today = now.zone.tell(now.at).date_naive();
        let taken = copies(self.book.path())?;
        let mut days = taken.iter().map(|kept| now.zone.tell(kept.at).date_naive());
        Ok(!days.any(|day| day == today) && !self.is_empty()?)
    }

    /// Takes the day's first copy, if none was taken today, and lets old ones go: of 7 days, 5 weeks and 12
    /// months one each is kept.
    ///
    /// # Errors
    /// As [`Studio::copy`].
    pub fn copy_of_the_day(&mut self, now: &Now, told: HowFar<'_>) -> Answer<Option<Kept>> {
        if !self.lacks_copy_of_the_day(now)? {
            return Ok(None);
        }
        let copies = Backups::new(copies_folder(self.book.path()));
        let kept = copies.take(&self.book, now.at.into(), told);
        if let Err(damage @ StoreError::Damaged(_)) = &kept {
            // Whoever goes on writing into a damaged file loses more of it.
            self.book.bar(damage.clone());
        }
        let kept = kept?.kept;
        copies.thin(now.at.with_timezone(&Utc))?;
        Ok(Some(kept))
    }
}

/// Refuses a file whose folder is missing: a slip of the finger makes no folders.
///
/// # Errors
/// With the folder's name.
pub fn refuse_no_folder(file: &Path) -> Answer<()> {
    // A link that leads nowhere makes none either.
    let file = logbook::real_path(file);
    let folder = file.parent().filter(|one| !one.as_os_str().is_empty());
    match folder.filter(|one| !one.is_dir()) {
        None => Ok(()),
        Some(folder) => Err(Refusal::NoFolder(folder.to_owned()).into()),
    }
}

/// The dated copies of the studio in a file, newest first; the file itself need not be whole.
///
/// # Errors
/// Where the folder cannot be read.
pub fn copies(file: &Path) -> Answer<Vec<Kept>> {
    Ok(Backups::new(copies_folder(file)).list()?)
}

/// The way back for a studio that is damaged or lost: the newest of its whole states.
#[derive(Debug, Clone)]
pub struct WayBack {
    /// The studio's file.
    pub file: PathBuf,
    /// The state to bring back.
    pub state: WholeState,
}

/// The newest of a studio's whole states; `None` where there is none.
#[must_use]
pub fn way_back(file: &Path, now: &Now) -> Option<WayBack> {
    let state = newest_whole_state(file, now).ok()??;
    let file = file.to_owned();
    Some(WayBack { file, state })
}

/// The newest whole state of the studio in a file, among its dated copies and what restores put aside; one dated after
/// `now` was taken while the clock stood wrong, and counts only where there is no other.
///
/// # Errors
/// Where the folder cannot be read.
fn newest_whole_state(file: &Path, now: &Now) -> Answer<Option<WholeState>> {
    let copies = Backups::new(copies_folder(file));
    let newest = logbook::newest_whole(file, &copies, now.at.with_timezone(&Utc), STEPS);
    Ok(newest?)
}

/// Whether a file is missing or empty though there are copies of it, or files put aside: a new studio there would hide the
/// loss.
pub(in crate::studio) fn is_lost(file: &Path) -> bool {
    logbook::is_blank(file)
        && (copies(file).is_ok_and(|copies| !copies.is_empty())
            || !logbook::kept_aside(file).is_empty())
}

/// Brings a copy back: the newest that is not dated after `now`, one by its place in the list from 1, or one by its file. The
/// present file is kept aside. Where the studio is lost, the newest is that of all whole states, those put aside too.
///
/// # Errors
/// Where there is no such copy, it is not whole, or another program holds the studio.
pub fn bring_back(file: &Path, which: &str, now: &Now) -> Answer<(PathBuf, Restored)> {
    if which == "newest" && is_lost(file) {
        let state = newest_whole_state(file, now)?.ok_or(Refusal::NoCopyYet)?;
        let restored = logbook::restore(file, &state.path, now.at.into(), STEPS)?;
        return Ok((state.path, restored));
    }
    let all = copies(file)?;
    let place = if which == "newest" {
        let dated = all.iter().position(|kept| kept.at <= now.at);
        Some(dated.map_or(1, |before| before + 1))
    } else {
        which.parse::<usize>().ok()
    };
    let path = match place {
        Some(_) if all.is_empty() => return Err(Refusal::NoCopyYet.into()),
        Some(place) => {
            let missing = || Refusal::NoCopy(place);
            all.get(place.wrapping_sub(1))
                .ok_or_else(missing)?
                .path
                .clone()
        }
        None => PathBuf::from(which),
    };
    let restored = logbook::restore(file, &path, now.at.into(), STEPS)?;
    Ok((path, restored))
}
