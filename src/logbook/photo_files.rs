//! The originals of photos: a folder beside the studio, each file named by its SHA-256. A file is whole and on the disk
//! before the row that names it is written.

use super::new_file::{NewFile, common_rights, left_in, sync_folder};
use super::open::make_private;
use super::{Logbook, LogbookError, header, own_files};
use sha2::{Digest, Sha256};
use std::io::Write;
use std::path::{Path, PathBuf};

/// What a file in the folder is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Original {
    /// There, and as it was.
    Whole,
    /// Not there.
    Missing,
    /// There, and no longer what it was.
    Changed,
}

/// The SHA-256 of some bytes, in hexadecimal.
#[must_use]
pub fn sha256(bytes: &[u8]) -> String {
    Sha256::digest(bytes)
        .iter()
        .map(|byte| format!("{byte:02x}"))
        .collect()
}

/// The folder of a studio's originals.
#[must_use]
pub fn photos_folder(studio: &Path) -> PathBuf {
    header::beside(studio, "-photos")
}

impl Logbook {
    /// Keeps an original under its name; one that is there and whole is left alone.
    ///
    /// # Errors
    /// [`LogbookError::System`] and [`LogbookError::Full`] where the folder cannot be made or the file not written.
    pub fn keep_original(&self, name: &str, bytes: &[u8]) -> Result<(), LogbookError> {
        let folder = photos_folder(self.path());
        make_private(&folder)?;
        let target = folder.join(name);
        if self.original(name)? == Original::Whole {
            // Whoever put it there may have been killed before its name was on the disk.
            sync_folder(&target);
            return Ok(());
        }
        write_whole(&target, self.path(), bytes)
    }

    /// The bytes of an original.
    ///
    /// # Errors
    /// [`LogbookError::System`].
    pub fn read_original(&self, name: &str) -> Result<Vec<u8>, LogbookError> {
        let path = photos_folder(self.path()).join(name);
        std::fs::read(&path).map_err(|err| LogbookError::system(&path, &err))
    }

    /// What an original is now: its hash is its name up to the point.
    ///
    /// # Errors
    /// [`LogbookError::System`] where a file is there that cannot be read.
    pub fn original(&self, name: &str) -> Result<Original, LogbookError> {
        is_whole(&photos_folder(self.path()).join(name), name)
    }

    /// The names of all files in the folder of originals that look like originals.
    ///
    /// # Errors
    /// [`LogbookError::System`] where a folder is there that cannot be read.
    pub fn originals(&self) -> Result<Vec<String>, LogbookError> {
        match originals_in(&photos_folder(self.path())) {
            Err(LogbookError::System { .. }) if !photos_folder(self.path()).exists() => {
                Ok(Vec::new())
            }
            found => found,
        }
    }

    /// The names of originals that were not written to their end: a kill left them there, and nobody writes on.
    #[must_use]
    pub fn unfinished_originals(&self) -> Vec<String> {
        let mut names = left_in(&photos_folder(self.path()));
        names.sort();
        names
    }

    /// Copies an original into a folder, made where it is not there; answers whether it had to be copied.
    ///
    /// # Errors
    /// [`LogbookError::System`], [`LogbookError::Full`]; [`LogbookError::NotToWrite`] for a folder of the studio's own.
    pub fn give_original(&self, name: &str, folder: &Path) -> Result<bool, LogbookError> {
        let target = folder.join(name);
        own_files::refuse(self.path(), &target)?;
        make_private(folder)?;
        if is_whole(&target, name)? == Original::Whole {
            return Ok(false);
        }
        let bytes = self.read_original(name)?;
        write_whole(&target, self.path(), &bytes).map(|()| true)
    }

    /// Takes an original out of a folder; answers whether it had to be: one that is here, or is not what its name says, is
    /// left.
    ///
    /// # Errors
    /// [`LogbookError::System`], [`LogbookError::Full`].
    pub fn take_original(&self, name: &str, folder: &Path) -> Result<bool, LogbookError> {
        let source = folder.join(name);
        let here = self.original(name)? == Original::Whole;
        if here || is_whole(&source, name)? != Original::Whole {
            return Ok(false);
        }
        let bytes = std::fs::read(&source).map_err(|err| LogbookError::system(&source, &err))?;
        self.keep_original(name, &bytes).map(|()| true)
    }

    /// Removes one original.
    ///
    /// # Errors
    /// [`LogbookError::System`].
    pub fn remove_original(&self, name: &str) -> Result<(), LogbookError> {
        let path = photos_folder(self.path()).join(name);
        std::fs::remove_file(&path).map_err(|err| LogbookError::system(&path, &err))
    }
}

/// The names of all files in a folder that look like originals.
///
/// # Errors
/// [`LogbookError::System`] where it cannot be read.
pub fn originals_in(folder: &Path) -> Result<Vec<String>, LogbookError> {
    let entries = std::fs::read_dir(folder).map_err(|err| LogbookError::system(folder, &err))?;
    let mut names: Vec<String> = entries
        .filter_map(|entry| entry.ok()?.file_name().into_string().ok())
        .filter(|name| is_original(name))
        .collect();
    names.sort();
    Ok(names)
}

fn write_whole(target: &Path, studio: &Path, bytes: &[u8]) -> Result<(), LogbookError> {
    let new = NewFile::beside(target, common_rights(&[studio]))?;
    new.file()
        .write_all(bytes)
        .map_err(|err| LogbookError::system(target, &err))?;
    new.replace().map(drop)
}

/// What a file is: its hash is its name up to the point.
fn is_whole(path: &Path, name: &str) -> Result<Original, LogbookError> {
    match std::fs::read(path) {
        Ok(bytes) if name.split('.').next() == Some(&sha256(&bytes)) => Ok(Original::Whole),
        Ok(_) => Ok(Original::Changed),
        Err(err) if err.kind() == std::io::ErrorKind::NotFound => Ok(Original::Missing),
        Err(err) => Err(LogbookError::system(path, &err)),
    }
}

/// Whether a name is a hash with an ending: nothing else in the folder is ours.
fn is_original(name: &str) -> bool {
    let (hash, ending) = name.split_once('.').unwrap_or((name, ""));
    let hexadecimal = |c: char| c.is_ascii_digit() || ('a'..='f').contains(&c);
    hash.len() == 64
        && hash.chars().all(hexadecimal)
        && ["jpeg", "png", "webp", "heic"].contains(&ending)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The two examples of FIPS 180-4's own test vectors (from memory).
    #[test]
    fn hashes_are_those_of_the_standard() {
        let table = [
            (
                "",
                "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855",
            ),
            (
                "abc",
                "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad",
            ),
        ];
        for (text, want) in table {
            assert_eq!(sha256(text.as_bytes()), want);
        }
        assert!(is_original(&format!("{}.jpeg", table[0].1)));
        assert!(!is_original("holiday.jpeg") && !is_original(table[0].1));
    }
}
