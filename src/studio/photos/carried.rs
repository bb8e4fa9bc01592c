//! Originals that go out beside an export, and come in beside an import.

use crate::logbook::originals_in;
use crate::studio::{Answer, Studio};
use std::path::Path;

/// Originals that went along.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct PhotosCarried {
    /// How many were copied.
    pub copied: usize,
    /// How many were there already.
    pub there: usize,
    /// Photos whose original is gone or changed, so that it did not go along.
    pub lost: Vec<i64>,
}

impl Studio {
    /// Copies the original of each photo, as it is, into a folder; one that is there already is left.
    ///
    /// # Errors
    /// Where the store cannot be read, or the folder not be written.
    pub fn give_photos(&self, folder: &Path) -> Answer<PhotosCarried> {
        let checked = self.check_photos()?;
        let lost = [checked.missing, checked.changed].concat();
        let mut carried = PhotosCarried::default();
        for photo in self.book.read()?.photos(None)? {
            if lost.contains(&photo.id) {
                continue;
            }
            match self.book.give_original(&photo.file_name(), folder)? {
                true => carried.copied += 1,
                false => carried.there += 1,
            }
        }
        carried.lost = lost;
        Ok(carried)
    }

    /// Takes every original of a folder that is what its name says; answers the names of those that were not here.
    ///
    /// # Errors
    /// Where the folder cannot be read, or the studio's own not be written.
    pub fn take_originals(&self, folder: &Path) -> Answer<Vec<String>> {
        let mut taken = Vec::new();
        for name in originals_in(folder)? {
            if self.book.take_original(&name, folder)? {
                taken.push(name);
            }
        }
        Ok(taken)
    }

    /// Removes originals that were taken for an import that came to nothing.
    ///
    /// # Errors
    /// Where one cannot be removed.
    pub fn leave_originals(&self, names: &[String]) -> Answer<()> {
        for name in names {
            self.book.remove_original(name)?;
        }
        Ok(())
    }
}
