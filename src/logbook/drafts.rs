//! The table `draft`: what is being built on a screen and is in no deed yet. It is no part of the history.

use super::{Logbook, LogbookError};
use rusqlite::params;

impl Logbook {
    /// Keeps what a screen is building, in place of what it built before; with none, nothing of it is left.
    ///
    /// # Errors
    /// Where the file cannot be written.
    pub fn keep_draft(&mut self, session: &str, text: Option<&str>) -> Result<(), LogbookError> {
        self.regain()?;
        let tx = self.begin_change()?;
        tx.prepare_cached("DELETE FROM draft WHERE session = ?1")?
            .execute([session])?;
        if let Some(text) = text {
            let pid = std::process::id();
            tx.prepare_cached("INSERT INTO draft (session, pid, text) VALUES (?1, ?2, ?3)")?
                .execute(params![session, pid, text])?;
        }
        Ok(tx.commit()?)
    }

    /// Takes over what screens were building that are no more, the oldest first: it is this session's from now on.
    ///
    /// # Errors
    /// Where the file cannot be written.
    pub fn adopt_drafts(
        &mut self,
        session: &str,
        lives: impl Fn(u32) -> bool,
    ) -> Result<Vec<String>, LogbookError> {
        self.regain()?;
        let tx = self.begin_change()?;
        let mut texts = Vec::new();
        {
            let mut read = tx.prepare("SELECT id, pid, text FROM draft ORDER BY id")?;
            let mut adopt = tx.prepare("UPDATE draft SET session = ?1, pid = ?2 WHERE id = ?3")?;
            let rows = read.query_map([], |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?)))?;
            for row in rows {
                let (id, pid, text): (i64, u32, String) = row?;
                if !lives(pid) {
                    adopt.execute(params![session, std::process::id(), id])?;
                    texts.push(text);
                }
            }
        }
        tx.commit()?;
        Ok(texts)
    }
}
