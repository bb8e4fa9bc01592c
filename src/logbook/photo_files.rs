//! The originals of photos: a folder beside the studio, each file named by its SHA-256. A file is whole and on the disk
//! before the row that names it is written.

use super::new_file::{NewFile, common_rights, sync_folder};
use super::open::make_private;
use super::{Logbook, LogbookError, header};
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
        let new = NewFile::beside(&target, common_rights(&[self.path()]))?;
        new.file()
            .write_all(bytes)
            .map_err(|err| LogbookError::system(&target, &err))?;
        new.replace().map(drop)
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
        let path = photos_folder(self.path()).join(name);
        match std::fs::read(&path) {
            Ok(bytes) if name.split('.').next() == Some(&sha256(&bytes)) => Ok(Original::Whole),
            Ok(_) => Ok(Original::Changed),
            Err(err) if err.kind() == std::io::ErrorKind::NotFound => Ok(Original::Missing),
            Err(err) => Err(LogbookError::system(&path, &err)),
        }
    }

    /// The names of all files in the folder of originals that look like originals.
    ///
    /// # Errors
    /// [`LogbookError::System`] where a folder is there that cannot be read.
    pub fn originals(&self) -> Result<Vec<String>, LogbookError> {
        let folder = photos_folder(self.path());
        let entries = match std::fs::read_dir(&folder) {
            Ok(entries) => entries,
            Err(err) if err.kind() == std::io::ErrorKind::NotFound => return Ok(Vec::new()),
            Err(err) => return Err(LogbookError::system(&folder, &err)),
        };
        let mut names: Vec<String> = entries
            .filter_map(|entry| entry.ok()?.file_name().into_string().ok())
            .filter(|name| is_original(name))
            .collect();
        names.sort();
        Ok(names)
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
