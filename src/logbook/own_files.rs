//! Which files are a studio's own: the file itself, what SQLite keeps beside it, its copies, its photos. Nothing else is
//! ever written over them, under whatever path they are named.

use super::faults::Occupied;
use super::header::{self, Look};
use super::identity::{self, Identity};
use super::new_file::folder_of;
use super::{Logbook, LogbookError};
use std::ffi::OsStr;
use std::path::{Path, PathBuf};

/// What SQLite keeps beside a file.
const BESIDE: [&str; 3] = ["-wal", "-shm", "-journal"];
/// How the names go on of files that were kept aside beside it.
const ASIDE: [&str; 2] = [".aside-", ".version-"];
/// The folders beside it.
const FOLDERS: [&str; 2] = ["-copies", "-photos"];

impl Logbook {
    /// Refuses a name beside the studio that SQLite would take for its own, or that keeps what was put aside.
    pub(super) fn refuse_own_name(&self, target: &Path) -> Result<(), LogbookError> {
        match Own::of(&self.path).iter().any(|own| own.is_named(target)) {
            true => Err(not_to_write(target, Occupied::Own)),
            false => Ok(()),
        }
    }
}

/// Refuses to write at `target` what would hide or overwrite a file of this studio, another studio, or no plain file.
pub(super) fn refuse(studio: &Path, target: &Path) -> Result<(), LogbookError> {
    if Own::of(studio).iter().any(|own| own.holds(target)) {
        return Err(not_to_write(target, Occupied::Own));
    }
    match target.metadata() {
        Ok(about) if about.is_dir() => Err(not_to_write(target, Occupied::Folder)),
        Ok(about) if !about.is_file() => Err(not_to_write(target, Occupied::Device)),
        Ok(_) if is_a_studio(target) => Err(not_to_write(target, Occupied::Studio)),
        _ => Ok(()),
    }
}

fn not_to_write(path: &Path, is: Occupied) -> LogbookError {
    let path = path.into();
    LogbookError::NotToWrite { path, is }
}

fn is_a_studio(target: &Path) -> bool {
    matches!(
        header::look(target),
        Ok(Look::Ours { .. } | Look::AskSqlite)
    )
}

/// The files of a studio at one of its paths.
struct Own {
    folder: PathBuf,
    name: Box<OsStr>,
}

impl Own {
    /// At the path it was named by, and at the one that a link there leads to.
    fn of(studio: &Path) -> Vec<Self> {
        let real = studio.canonicalize().ok();
        let paths = [Some(studio.to_owned()), real].into_iter().flatten();
        let own = |path: PathBuf| {
            let name = path.file_name()?.into();
            let folder = folder_of(&path).to_owned();
            Some(Self { folder, name })
        };
        paths.filter_map(own).collect()
    }

    fn holds(&self, target: &Path) -> bool {
        self.is_named(target) || self.is_in_a_folder(target) || self.is_one_file(target)
    }

    /// Whether it stands beside the studio under one of the studio's names.
    fn is_named(&self, target: &Path) -> bool {
        let beside = identity::of(folder_of(target));
        let name = target.file_name().unwrap_or_default();
        beside.is_some() && beside == identity::of(&self.folder) && self.is_own_name(name)
    }

    fn is_own_name(&self, name: &OsStr) -> bool {
        let rest = name.as_encoded_bytes();
        let Some(rest) = rest.strip_prefix(self.name.as_encoded_bytes()) else {
            return false;
        };
        rest.is_empty()
            || BESIDE.iter().any(|end| rest == end.as_bytes())
            || ASIDE.iter().any(|on| rest.starts_with(on.as_bytes()))
    }

    /// Whether it stands, or would stand, somewhere in the studio's folders.
    fn is_in_a_folder(&self, target: &Path) -> bool {
        let folders: Vec<Identity> = self
            .folders()
            .filter_map(|one| identity::of(&one))
            .collect();
        let real = folder_of(target).canonicalize();
        real.is_ok_and(|real| {
            let above = real.ancestors().filter_map(identity::of);
            above.into_iter().any(|one| folders.contains(&one))
        })
    }

    /// Whether it is one of the studio's files under another name.
    fn is_one_file(&self, target: &Path) -> bool {
        let Some(target) = identity::of(target) else {
            return false;
        };
        let mut own = files_in(&self.folder);
        own.retain(|path| path.file_name().is_some_and(|name| self.is_own_name(name)));
        own.extend(self.folders().flat_map(|folder| files_in(&folder)));
        own.iter().any(|path| identity::of(path) == Some(target))
    }

    fn folders(&self) -> impl Iterator<Item = PathBuf> {
        let file = self.folder.join(&*self.name);
        FOLDERS.iter().map(move |on| header::beside(&file, on))
    }
}

fn files_in(folder: &Path) -> Vec<PathBuf> {
    let entries = std::fs::read_dir(folder).into_iter().flatten().flatten();
    entries.map(|entry| entry.path()).collect()
}
