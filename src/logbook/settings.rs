//! The table `setting`.

use crate::logbook::Writer;
use crate::logbook::read::{Read, Reader};

impl Reader<'_> {
    /// The value of a setting, if it was ever set.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn setting(&self, name: &str) -> Read<Option<String>> {
        self.first("SELECT value FROM setting WHERE name = ?1", [name], |row| {
            row.get(0)
        })
    }
}

impl Writer<'_> {
    /// Sets a setting.
    ///
    /// # Errors
    /// Where the store refuses it.
    pub fn set_setting(&mut self, name: &str, value: &str) -> Read<()> {
        let there: Option<i64> =
            self.read()
                .first("SELECT id FROM setting WHERE name = ?1", [name], |row| {
                    row.get(0)
                })?;
        match there {
            Some(id) => self.update("setting", id, &[("value", value.into())]),
            None => self
                .insert("setting", &[("name", name.into()), ("value", value.into())])
                .map(|_| ()),
        }
    }
}
