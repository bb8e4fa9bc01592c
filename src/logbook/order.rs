//! The order of entry over the whole logbook: which change wrote something down, and what was written before and after it.

use super::Stamp;
use super::read::{Read, Reader};
use rusqlite::Row;

impl Reader<'_> {
    /// The newest change that was written down at an instant.
    ///
    /// # Errors
    /// Where the store cannot be read; so of the reading below.
    pub fn change_at(&self, at: Stamp) -> Read<Option<i64>> {
        let sql = "SELECT id FROM change WHERE at_ms = ?1 ORDER BY id DESC LIMIT 1";
        self.first(sql, [at.at_ms], |row| row.get(0))
    }

    /// When the nearest changes before and after one were written down, but for those whose clock stood after `now`.
    pub fn written_around(&self, change: i64, now: Stamp) -> Read<[Option<Stamp>; 2]> {
        let side = |beyond: &str, order: &str| {
            let sql = format!(
                "SELECT at_ms, offset_min FROM change WHERE id {beyond} ?1 AND at_ms <= ?2 ORDER BY id {order} LIMIT 1"
            );
            self.first(&sql, (change, now.at_ms), stamp)
        };
        Ok([side("<", "DESC")?, side(">", "ASC")?])
    }

    /// The mark of a living cup with an entry after an instant, and when the last of these says it was.
    pub fn living_entry_after(&self, at: Stamp) -> Read<Option<(String, Stamp)>> {
        let sql = "SELECT entry.at_ms, entry.offset_min, cup.mark FROM cup JOIN entry ON entry.cup_id = cup.id \
                   WHERE cup.spent_at_ms IS NULL AND entry.at_ms > ?1 ORDER BY entry.at_ms DESC LIMIT 1";
        self.first(sql, [at.at_ms], |row| Ok((row.get(2)?, stamp(row)?)))
    }
}

fn stamp(row: &Row<'_>) -> rusqlite::Result<Stamp> {
    Ok(Stamp {
        at_ms: row.get(0)?,
        offset_min: row.get(1)?,
    })
}
