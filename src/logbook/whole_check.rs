//! Reading a large file whole beside the work, and knowing the next time that it was found damaged.
//!
//! A small file is read whole at each opening; a larger one by a thread of its own while a screen shows it, and with each
//! day's copy. What was found damaged is noted in the folder of copies under the file's own number, and is then read whole
//! at each opening, until it is found whole or another file stands in its place.

use super::open::check_whole;
use super::{Logbook, LogbookError, header, identity, open, rows, shared_disk};
use rusqlite::{Connection, InterruptHandle, OpenFlags};
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, channel};
use std::thread::JoinHandle;

/// A reading that goes on; ended where it is dropped, so that it holds no log open.
pub(super) struct WholeCheck {
    found: Receiver<Result<(), LogbookError>>,
    handle: Option<InterruptHandle>,
    thread: Option<JoinHandle<()>>,
}

impl WholeCheck {
    fn begin(path: &Path) -> rusqlite::Result<Self> {
        let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX;
        let conn = Connection::open_with_flags(path, flags)?;
        conn.pragma_update(None, "cell_size_check", true)?;
        let handle = Some(conn.get_interrupt_handle());
        let (tell, found) = channel();
        let thread = std::thread::spawn(move || {
            let read = check_whole(&conn, "integrity_check").and_then(|()| rows::check_own(&conn));
            // Nobody listens any more where the studio was closed meanwhile.
            let _ = tell.send(read);
        });
        Ok(Self {
            found,
            handle,
            thread: Some(thread),
        })
    }
}

impl std::fmt::Debug for WholeCheck {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("WholeCheck").finish_non_exhaustive()
    }
}

impl Drop for WholeCheck {
    fn drop(&mut self) {
        if let Some(handle) = self.handle.take() {
            handle.interrupt();
        }
        if let Some(thread) = self.thread.take() {
            let _it_told_all_it_had_to = thread.join();
        }
    }
}

impl Logbook {
    /// Whether the file takes its time to be read whole.
    pub fn is_large(&self) -> bool {
        !open::is_small(&self.path)
    }

    /// Whether this program alone may have the file open.
    pub fn is_held_alone(&self) -> bool {
        shared_disk::is_one_at_a_time(&self.path)
    }

    /// Begins to read the whole file beside the work, where it was too large to be read at its opening.
    pub fn check_beside(&mut self) {
        if self.barred.is_none() && !open::is_small(&self.path) {
            self.beside = WholeCheck::begin(&self.path).ok();
        }
    }

    /// Whether that reading has just found damage; nothing more is written then, see [`Logbook::barred`].
    pub fn found_damaged(&mut self) -> bool {
        let Some(found) = self
            .beside
            .as_ref()
            .and_then(|one| one.found.try_recv().ok())
        else {
            return false;
        };
        self.beside = None;
        // An error of any other kind is met again by whoever reads the same.
        let damage = found
            .err()
            .filter(|why| matches!(why, LogbookError::Damaged(_)));
        let is_damaged = damage.is_some();
        damage.into_iter().for_each(|why| self.bar(why));
        is_damaged
    }

    /// Lets nothing more be written, because `why`; of damage the next who opens the file knows too.
    pub fn bar(&mut self, why: LogbookError) {
        if matches!(why, LogbookError::Damaged(_))
            && let Some(note) = note(&self.path)
        {
            // Where it cannot be noted, it is found anew.
            let _ = std::fs::File::create(note);
        }
        self.barred = Some(why);
    }
}

/// Whether the file at a path was found damaged before.
pub(super) fn is_suspect(path: &Path) -> bool {
    note(path).is_some_and(|note| note.exists())
}

/// Forgets that a file was found damaged: it was read and is whole.
pub(super) fn clear(path: &Path) {
    if let Some(note) = note(path) {
        let _it_may_be_gone = std::fs::remove_file(note);
    }
}

#[cfg(unix)]
fn note(path: &Path) -> Option<PathBuf> {
    let (device, number) = identity::of(path)?;
    let folder = header::beside(path, "-copies");
    Some(folder.join(format!("damaged-{device:x}-{number:x}")))
}

#[cfg(not(unix))]
fn note(path: &Path) -> Option<PathBuf> {
    identity::of(path)?;
    Some(header::beside(path, "-copies").join("damaged"))
}
