//! Where an answer goes: standard output as it is made, or, of one longer than the terminal's screen, a pager.
//!
//! What was not heard is kept as an error until the end, so that who makes the answer may stop early.

use std::io::{self, IsTerminal, Stdout, Write};
use std::process::{Child, Command, Stdio};
#[cfg(unix)]
use std::sync::Arc;
#[cfg(unix)]
use std::sync::atomic::{AtomicBool, Ordering};
use unicode_width::UnicodeWidthStr;

/// What a person who turned no pages wants them turned with, the first that is there.
const USUAL: [&str; 2] = ["less", "more"];

/// How `less` is to show an answer, where its own variable says nothing: colours as they are, no screen of its own.
const LESS: &str = "FRX";

/// What one answer is printed through.
#[derive(Debug)]
pub struct Outlet {
    screen: Option<Screen>,
    held: Vec<u8>,
    pager: Option<Child>,
    /// Ctrl-C is the pager's while it runs.
    quiet: Option<Quiet>,
    started: bool,
    fault: Option<io::Error>,
}

/// A terminal's size, and the pager for what does not fit.
#[derive(Debug)]
struct Screen {
    rows: usize,
    columns: usize,
    pager: String,
}

impl Default for Outlet {
    fn default() -> Self {
        Self::plain()
    }
}

impl Outlet {
    /// Standard output, as it comes.
    #[must_use]
    pub const fn plain() -> Self {
        Self {
            screen: None,
            held: Vec::new(),
            pager: None,
            quiet: None,
            started: false,
            fault: None,
        }
    }

    /// Standard output; what is longer than the screen of a terminal goes through the pager that the environment names.
    #[must_use]
    pub fn paged() -> Self {
        Self {
            screen: Screen::of_terminal(),
            ..Self::plain()
        }
    }

    /// Whether anything was said already.
    #[must_use]
    pub const fn has_begun(&self) -> bool {
        self.started
    }

    /// Whether nobody listens any more.
    #[must_use]
    pub const fn is_closed(&self) -> bool {
        self.fault.is_some()
    }

    /// Says more of the answer.
    pub fn say(&mut self, text: &str) {
        self.started |= !text.is_empty();
        if self.fault.is_none() {
            let said = self.pass(text.as_bytes());
            self.fault = said.err();
        }
    }

    fn pass(&mut self, bytes: &[u8]) -> io::Result<()> {
        if let Some(pager) = &mut self.pager {
            return pager
                .stdin
                .as_mut()
                .map_or(Ok(()), |to| to.write_all(bytes));
        }
        let Some(screen) = &self.screen else {
            return io::stdout().write_all(bytes);
        };
        self.held.extend_from_slice(bytes);
        if screen.holds(&self.held) {
            return Ok(());
        }
        self.pager = screen.turn_pages();
        self.quiet = self.pager.as_ref().and_then(|_| Quiet::begin());
        self.screen = None;
        let held = std::mem::take(&mut self.held);
        self.pass(&held)
    }

    /// The last of the answer was said: waits until it was read.
    ///
    /// # Errors
    /// What kept it from being printed; a pager that was left early is none.
    pub fn finish(mut self) -> io::Result<()> {
        let Some(mut pager) = self.pager.take() else {
            return self.fault.map_or_else(|| print_rest(&self.held), Err);
        };
        drop(pager.stdin.take());
        let ended = pager.wait()?;
        // A shell's own words for a program that is not there, or is none.
        match ended.code() {
            Some(126 | 127) => Err(io::ErrorKind::NotFound.into()),
            _ => Ok(()),
        }
    }
}

fn print_rest(held: &[u8]) -> io::Result<()> {
    let mut out: Stdout = io::stdout();
    out.write_all(held)?;
    out.flush()
}

impl Screen {
    /// Where a person reads on a terminal that can turn pages.
    fn of_terminal() -> Option<Self> {
        let on_terminal = io::stdout().is_terminal() && io::stdin().is_terminal();
        let dumb = std::env::var_os("TERM").is_none_or(|term| term == "dumb" || term.is_empty());
        let (columns, rows) = size().filter(|_| on_terminal && !dumb)?;
        let pager = pager(std::env::var("PAGER").ok())?;
        Some(Self {
            rows,
            columns,
            pager,
        })
    }

    /// Whether all of a text is seen at once, the prompt beneath it too.
    fn holds(&self, text: &[u8]) -> bool {
        let text = String::from_utf8_lossy(text);
        let high = |line: &str| line.width().div_ceil(self.columns.max(1)).max(1);
        text.lines().map(high).sum::<usize>() < self.rows
    }

    /// Starts the pager; none where it cannot be.
    fn turn_pages(&self) -> Option<Child> {
        let mut command = shell(&self.pager);
        if std::env::var_os("LESS").is_none() {
            command.env("LESS", LESS);
        }
        command.stdin(Stdio::piped()).spawn().ok()
    }
}

/// The pager that `PAGER` names; none where it says that none is wanted.
fn pager(named: Option<String>) -> Option<String> {
    match named {
        Some(named) if matches!(named.trim(), "" | "cat") => None,
        Some(named) if can_be_run(&named) => Some(named.trim().to_owned()),
        _ => USUAL
            .into_iter()
            .find(|name| is_there(name))
            .map(Into::into),
    }
}

/// Whether the first word is a program; a setting before it is left to the shell.
fn can_be_run(words: &str) -> bool {
    let first = words.split_whitespace().next().unwrap_or_default();
    match first.contains('/') {
        true => std::path::Path::new(first).is_file(),
        false => first.contains('=') || is_there(first),
    }
}

fn is_there(program: &str) -> bool {
    let path = std::env::var_os("PATH").unwrap_or_default();
    std::env::split_paths(&path).any(|folder| folder.join(program).is_file())
}

#[cfg(unix)]
fn shell(words: &str) -> Command {
    let mut command = Command::new("sh");
    command.args(["-c", words]);
    command
}

#[cfg(not(unix))]
fn shell(words: &str) -> Command {
    let mut parts = words.split_whitespace();
    let mut command = Command::new(parts.next().unwrap_or_default());
    command.args(parts);
    command
}

/// While it lives Ctrl-C does not end this program: in a pager it is the pager's, and the answer waits for that to end.
#[cfg(unix)]
#[derive(Debug)]
struct Quiet(Arc<AtomicBool>);

#[cfg(unix)]
impl Quiet {
    /// None where it cannot be: then Ctrl-C ends both, as ever.
    fn begin() -> Option<Self> {
        use signal_hook::{consts::SIGINT, flag};
        let ends = Arc::new(AtomicBool::new(false));
        flag::register_conditional_default(SIGINT, Arc::clone(&ends)).ok()?;
        Some(Self(ends))
    }
}

#[cfg(unix)]
impl Drop for Quiet {
    fn drop(&mut self) {
        self.0.store(true, Ordering::Relaxed);
    }
}

#[cfg(not(unix))]
#[derive(Debug)]
struct Quiet;

#[cfg(not(unix))]
impl Quiet {
    const fn begin() -> Option<Self> {
        None
    }
}

/// Columns and rows of the terminal.
#[cfg(unix)]
pub(super) fn size() -> Option<(usize, usize)> {
    let size = rustix::termios::tcgetwinsize(io::stdout()).ok()?;
    let size = (usize::from(size.ws_col), usize::from(size.ws_row));
    (size.0 > 0 && size.1 > 0).then_some(size)
}

#[cfg(not(unix))]
pub(super) const fn size() -> Option<(usize, usize)> {
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pager_that_is_none_is_not_started() {
        for none in ["", " ", "cat"] {
            assert_eq!(pager(Some(none.to_owned())), None, "{none:?}");
        }
        let named = |words: &str| pager(Some(words.to_owned()));
        assert_eq!(named(" /bin/sh -S "), Some("/bin/sh -S".into()));
        assert_eq!(named("/gone/pager -S"), named("no-such-pager"));
    }

    #[test]
    fn a_screen_holds_what_leaves_room_for_the_prompt() {
        let screen = Screen {
            rows: 4,
            columns: 10,
            pager: String::new(),
        };
        assert!(screen.holds(b"a\nb\nc\n"));
        assert!(!screen.holds(b"a\nb\nc\nd\n"));
        // A line of eleven cells stands on two rows.
        assert!(!screen.holds(b"a\nb\n12345678901\n"));
    }
}
