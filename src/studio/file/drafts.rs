//! What a screen is building and has not done yet: kept beside the history, offered again after a quit or a kill.

use crate::studio::{Answer, Studio};

impl Studio {
    /// Keeps what this program's screen is building; with none, nothing of it is left.
    ///
    /// # Errors
    /// Where the file cannot be written.
    pub fn keep_draft(&mut self, text: Option<&str>) -> Answer<()> {
        let session = self.session();
        Ok(self.book.keep_draft(&session, text)?)
    }

    /// What screens were building that are no more, the oldest first.
    ///
    /// # Errors
    /// Where the file cannot be written.
    pub fn adopt_drafts(&mut self) -> Answer<Vec<String>> {
        let session = self.session();
        Ok(self.book.adopt_drafts(&session, lives)?)
    }

    /// This very program, apart from all others that ever had its number.
    fn session(&mut self) -> String {
        self.session
            .get_or_insert_with(|| uuid::Uuid::now_v7().to_string())
            .clone()
    }
}

/// Whether a process lives, other than this one: what this one left is its own.
fn lives(pid: u32) -> bool {
    pid != std::process::id() && runs(pid)
}

#[cfg(unix)]
fn runs(pid: u32) -> bool {
    let pid = i32::try_from(pid).ok();
    let pid = pid.and_then(rustix::process::Pid::from_raw);
    // One that may not be signalled lives all the same.
    pid.is_some_and(|pid| {
        !matches!(
            rustix::process::test_kill_process(pid),
            Err(rustix::io::Errno::SRCH)
        )
    })
}

#[cfg(not(unix))]
fn runs(_pid: u32) -> bool {
    false
}
