//! The one door through which a file is written: whole and on the disk, or not at all.
//!
//! A file is made under a passing name in the folder it is to stand in, filled, brought to the disk (`fsync`), named in
//! one step, and the folder's entry brought to the disk too. Its maker holds a lock on it; whoever makes the next one in
//! the folder clears away those that nobody holds, for a kill left them there.

use super::{Logbook, LogbookError, header, leftovers, own_files};
use std::fs::{File, Permissions};
use std::io::{BufWriter, Write};
use std::path::{Path, PathBuf};
use tempfile::{NamedTempFile, PersistError};

/// What fills a new file.
pub type FileWriter<'a> = BufWriter<&'a File>;

const PREFIX: &str = ".stillcup-";
const SUFFIX: &str = ".part";

/// How often a passing file is made again that another program cleared away before it was locked.
const TRIES: u32 = 8;

impl Logbook {
    /// Writes the file at `path` through `fill`: whole, or what stood there stays, which is only `replace`d if asked.
    /// A link is followed, and stays. Nobody may read the file who may not read the studio.
    ///
    /// # Errors
    /// [`LogbookError::NotToWrite`] for a file of this studio or another, under whatever path, and for what is no plain
    /// file; [`LogbookError::Exists`]; what `fill` answers; [`LogbookError::System`] and [`LogbookError::Full`].
    pub fn write_file<E: From<LogbookError>>(
        &self,
        path: &Path,
        replace: bool,
        fill: impl FnOnce(&mut FileWriter<'_>) -> Result<(), E>,
    ) -> Result<(), E> {
        own_files::refuse(&self.path, path)?;
        // A link that leads nowhere is there too.
        let there = path.symlink_metadata().is_ok();
        if there && !replace {
            return Err(LogbookError::Exists(path.into()).into());
        }
        let target = match there {
            true => path
                .canonicalize()
                .map_err(|err| LogbookError::system(path, &err))?,
            false => path.to_owned(),
        };
        let new = NewFile::beside(&target, common_rights(&[&self.path, &target]))?;
        let mut out = BufWriter::new(new.file());
        fill(&mut out)?;
        out.flush()
            .map_err(|err| LogbookError::system(path, &err))?;
        drop(out);
        match replace {
            true => new.replace()?,
            false => new.place()?,
        };
        Ok(())
    }
}

/// A file that has not got its name yet; dropped before, it is gone.
#[derive(Debug)]
pub(super) struct NewFile {
    passing: NamedTempFile,
    /// Dropped after it.
    _beside: Beside,
    target: PathBuf,
}

/// What SQLite may leave beside a passing file, gone with it.
#[derive(Debug)]
struct Beside(PathBuf);

impl Drop for Beside {
    fn drop(&mut self) {
        discard_beside(&self.0);
    }
}

impl NewFile {
    /// An empty file that is to stand at `target`, readable to those whom `rights` lets.
    pub(super) fn beside(target: &Path, rights: Option<Permissions>) -> Result<Self, LogbookError> {
        let folder = folder_of(target);
        clear_left(folder);
        let failed = |err: std::io::Error| LogbookError::system(target, &err);
        for _ in 0..TRIES {
            let passing = make(folder, rights.clone()).map_err(failed)?;
            if hold(passing.as_file()) && passing.path().exists() {
                return Ok(Self {
                    _beside: Beside(passing.path().to_owned()),
                    passing,
                    target: target.to_owned(),
                });
            }
        }
        Err(LogbookError::Busy)
    }

    /// The passing name.
    pub(super) fn path(&self) -> &Path {
        self.passing.path()
    }

    /// The file itself.
    pub(super) fn file(&self) -> &File {
        self.passing.as_file()
    }

    /// Gives the file its name, unless something has it, and tells its size.
    pub(super) fn place(self) -> Result<u64, LogbookError> {
        self.put_in_place(|passing, target| passing.persist_noclobber(target).map(drop))
    }

    /// Gives the file another name, in the same folder, unless something has it.
    pub(super) fn place_at(mut self, name: &Path) -> Result<u64, LogbookError> {
        name.clone_into(&mut self.target);
        self.place()
    }

    /// Gives the file its name, whatever plain file has it.
    pub(super) fn replace(self) -> Result<u64, LogbookError> {
        self.put_in_place(|passing, target| passing.persist(target).map(drop))
    }

    fn put_in_place(
        self,
        name: impl FnOnce(NamedTempFile, &Path) -> Result<(), PersistError>,
    ) -> Result<u64, LogbookError> {
        let failed = |err: std::io::Error| match err.kind() {
            std::io::ErrorKind::AlreadyExists => LogbookError::Exists(self.target.clone()),
            _ => LogbookError::system(&self.target, &err),
        };
        self.passing.as_file().sync_all().map_err(failed)?;
        let bytes = self.passing.as_file().metadata().map_err(failed)?.len();
        name(self.passing, &self.target).map_err(|err| failed(err.error))?;
        sync_folder(&self.target);
        leftovers::clear_parts(&self.target);
        Ok(bytes)
    }
}

fn make(folder: &Path, rights: Option<Permissions>) -> std::io::Result<NamedTempFile> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(PREFIX).suffix(SUFFIX);
    if let Some(rights) = rights {
        return builder.permissions(rights).tempfile_in(folder);
    }
    builder.tempfile_in(folder)
}

/// Holds a passing file, as a sign that its maker lives; `false` where another clears it away just now.
#[cfg(unix)]
fn hold(file: &File) -> bool {
    // A file system without locks has no sign; there nobody clears anything away either.
    !matches!(file.try_lock(), Err(std::fs::TryLockError::WouldBlock))
}

/// A lock would keep SQLite itself out here.
#[cfg(not(unix))]
fn hold(_: &File) -> bool {
    true
}

/// Removes the passing files that nobody holds.
pub(super) fn clear_left(folder: &Path) {
    let Ok(entries) = std::fs::read_dir(folder) else {
        return;
    };
    for entry in entries.flatten() {
        let name = entry.file_name();
        if name.to_str().is_some_and(is_passing) && is_left(&entry.path()) {
            let _another_may_have_been_faster = std::fs::remove_file(entry.path());
            discard_beside(&entry.path());
        }
        if leftovers::is_unfinished_copy(&entry.path()) {
            let _another_may_have_been_faster = std::fs::remove_file(entry.path());
        }
    }
}

/// The names of the passing files in a folder that nobody holds.
pub(super) fn left_in(folder: &Path) -> Vec<String> {
    let entries = std::fs::read_dir(folder).into_iter().flatten().flatten();
    let left = entries.filter(|entry| is_left(&entry.path()));
    let names = left.filter_map(|entry| entry.file_name().into_string().ok());
    names.filter(|name| is_passing(name)).collect()
}

fn is_passing(name: &str) -> bool {
    name.starts_with(PREFIX) && name.ends_with(SUFFIX)
}

#[cfg(unix)]
fn is_left(path: &Path) -> bool {
    path.symlink_metadata().is_ok_and(|about| about.is_file())
        && File::open(path).is_ok_and(|file| file.try_lock().is_ok())
}

#[cfg(not(unix))]
fn is_left(_: &Path) -> bool {
    false
}

/// Removes what SQLite left beside a passing file.
fn discard_beside(path: &Path) {
    for suffix in ["-wal", "-shm", "-journal"] {
        let _gone_or_never_there = std::fs::remove_file(header::beside(path, suffix));
    }
}

/// The rights that every one of these files gives; `None` where the system knows none, or none of them is there.
#[cfg(unix)]
pub(super) fn common_rights(files: &[&Path]) -> Option<Permissions> {
    use std::os::unix::fs::PermissionsExt;
    let rights = |file: &&Path| Some(file.metadata().ok()?.permissions().mode() & 0o666);
    let common = files
        .iter()
        .filter_map(rights)
        .reduce(|one, other| one & other)?;
    // Whoever makes a file may write it, even beside a studio that may only be read.
    Some(Permissions::from_mode(common | 0o600))
}

/// The rights that every one of these files gives; `None` where the system knows none, or none of them is there.
#[cfg(not(unix))]
pub(super) fn common_rights(_: &[&Path]) -> Option<Permissions> {
    None
}

pub(super) fn folder_of(path: &Path) -> &Path {
    let folder = path.parent().filter(|one| !one.as_os_str().is_empty());
    folder.unwrap_or(Path::new("."))
}

// Not every system can flush a folder; the file itself is on the disk already.
pub(super) fn sync_folder(of: &Path) {
    if let Ok(open) = File::open(folder_of(of)) {
        let _not_everywhere_possible = open.sync_all();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn new(path: &Path) -> NewFile {
        NewFile::beside(path, None).unwrap()
    }

    fn fill(path: &Path, text: &str) -> NewFile {
        let new = new(path);
        new.file().write_all(text.as_bytes()).unwrap();
        new
    }

    fn count(folder: &Path) -> usize {
        std::fs::read_dir(folder).unwrap().count()
    }

    #[test]
    fn what_was_not_named_leaves_the_old_file_and_nothing_beside_it() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("x.json");
        std::fs::write(&path, "old").unwrap();
        drop(fill(&path, "half"));
        let refused = fill(&path, "new").place().unwrap_err();
        assert_eq!(refused, LogbookError::Exists(path.clone()));
        assert_eq!(std::fs::read_to_string(&path).unwrap(), "old");
        fill(&path, "new").replace().unwrap();
        assert_eq!(std::fs::read_to_string(&path).unwrap(), "new");
        assert_eq!(count(folder.path()), 1);
    }

    #[test]
    fn what_a_kill_left_is_cleared_and_what_is_in_use_is_not() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("x.json");
        let in_use = new(&path);
        let left = folder.path().join(".stillcup-abc.part");
        std::fs::write(&left, "left").unwrap();
        std::fs::write(header::beside(&left, "-journal"), "left").unwrap();
        std::fs::write(folder.path().join(".stillcup-notes"), "theirs").unwrap();
        let second = new(&path);
        assert!(in_use.path().exists() && second.path().exists() && !left.exists());
        assert_eq!(
            count(folder.path()),
            3,
            "two in use, one of somebody else's"
        );
    }
}
