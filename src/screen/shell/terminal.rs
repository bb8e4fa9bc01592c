//! The real terminal: taken over, given back whatever happens, listened to, rung.

use crate::exchange::terminal_facts;
use crate::screen::ScreenError;
use crate::screen::kit::look::Look;
use crate::screen::kit::picture::Pictures;
use crate::screen::shell::drive::{Bell, EventLoop, Incoming, Source};
use crate::screen::shell::lines::Lines;
use crate::studio::Studio;
use crate::trade::instant::Now;
use crate::trade::text::inert;
use crossterm::cursor::Show;
use crossterm::event::{
    self, DisableBracketedPaste, EnableBracketedPaste, Event, KeyCode, KeyEventKind, KeyModifiers,
};
use crossterm::execute;
use crossterm::terminal::{
    Clear, ClearType, EnterAlternateScreen, LeaveAlternateScreen, SetTitle, disable_raw_mode,
    enable_raw_mode,
};
use ratatui::Terminal;
use ratatui::backend::CrosstermBackend;
use std::io::{self, IsTerminal, Write};
use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

/// How often a waiting read looks whether the process was asked to end. A signal ends the waiting by itself; this is for the one
/// that came just before it began.
const GLANCE: Duration = Duration::from_millis(250);

/// How a studio is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Shown {
    /// Drawn, on a terminal that is taken over.
    Drawn,
    /// In lines as they change.
    InLines,
}

/// Shows a studio until the painter leaves.
///
/// # Errors
/// Where the terminal cannot be used.
pub fn run(studio: Studio, file: &Path, clock: &dyn Fn() -> Now) -> Result<(), ScreenError> {
    let look = Look::of(&terminal_facts(variable));
    let pictures = Pictures::told(look, cell(), variable);
    let (mut room, _guard) = taken(studio, file, (clock, Shown::Drawn), pictures)?;
    let mut terminal = Terminal::new(CrosstermBackend::new(io::stdout()))?;
    Ok(room.run(&mut terminal, look)?)
}

/// The same in lines as they change.
///
/// # Errors
/// As [`run`].
pub fn run_in_lines(
    studio: Studio,
    file: &Path,
    clock: &dyn Fn() -> Now,
) -> Result<(), ScreenError> {
    let (mut room, _guard) = taken(studio, file, (clock, Shown::InLines), Pictures::Words)?;
    let mut terminal = Terminal::new(Lines::to(io::stdout()))?;
    Ok(room.run(&mut terminal, Look::Plain)?)
}

fn variable(name: &str) -> Option<String> {
    std::env::var(name).ok()
}

/// The terminal in our hands, and the loop that reads it.
fn taken<'a>(
    mut studio: Studio,
    file: &Path,
    (clock, shown): (&'a dyn Fn() -> Now, Shown),
    pictures: Pictures,
) -> Result<(EventLoop<'a, Keyboard, Ring>, Guard), ScreenError> {
    if !io::stdout().is_terminal() {
        return Err(io::Error::other("standard output is none").into());
    }
    // A picture that stands still for longer looks like a program that hangs.
    drop(studio.wait_at_most(Duration::from_millis(600)));
    let ended = ended_by_signals()?;
    let stops = Stops::heard(shown)?;
    let guard = Guard::take(&title(file), shown)?;
    let room = EventLoop {
        studio,
        clock,
        source: Keyboard {
            ended,
            stops,
            title: title(file),
            opened: Instant::now(),
        },
        bell: Ring::told(variable("STILLCUP_NOTE").as_deref()),
        keeps_drafts: true,
        pictures: Some(pictures),
    };
    Ok((room, guard))
}

/// A cell's size in pixels, as the system knows it; the terminal itself is not asked.
fn cell() -> Option<(u16, u16)> {
    let size = crossterm::terminal::window_size().ok()?;
    let wide = size.width.checked_div(size.columns)?;
    let high = size.height.checked_div(size.rows)?;
    (wide > 0 && high > 0).then_some((wide, high))
}

fn title(file: &Path) -> String {
    let name = file.file_name().map(|name| name.to_string_lossy());
    format!("stillcup {}", inert(&name.unwrap_or_default()))
}

/// A flag that is raised once the process is asked to end or its terminal hangs up.
fn ended_by_signals() -> io::Result<Arc<AtomicBool>> {
    let ended = Arc::new(AtomicBool::new(false));
    for signal in [
        signal_hook::consts::SIGTERM,
        signal_hook::consts::SIGHUP,
        signal_hook::consts::SIGINT,
    ] {
        signal_hook::flag::register(signal, Arc::clone(&ended))?;
    }
    Ok(ended)
}

/// Holds the terminal; gives it back as it was when it goes out of scope, and before a panic speaks.
struct Guard(Shown);

impl Guard {
    fn take(title: &str, shown: Shown) -> io::Result<Self> {
        let before = std::panic::take_hook();
        std::panic::set_hook(Box::new(move |panic| {
            give_back(shown);
            before(panic);
        }));
        let guard = Self(shown);
        take_over(title, shown)?;
        Ok(guard)
    }
}

fn take_over(title: &str, shown: Shown) -> io::Result<()> {
    enable_raw_mode()?;
    if shown == Shown::InLines {
        return Ok(());
    }
    // Cleared here: ratatui's own clearing asks where the cursor is, which blocks where nobody answers.
    execute!(
        io::stdout(),
        EnterAlternateScreen,
        EnableBracketedPaste,
        SetTitle(title),
        Clear(ClearType::All)
    )
}

impl Drop for Guard {
    fn drop(&mut self) {
        give_back(self.0);
    }
}

/// Best effort: a terminal that is gone cannot be given back.
fn give_back(shown: Shown) {
    if shown == Shown::Drawn {
        let _ = execute!(
            io::stdout(),
            DisableBracketedPaste,
            LeaveAlternateScreen,
            Show
        );
    }
    let _ = disable_raw_mode();
}

/// Whether the process is to stop for a while (SIGTSTP, or Ctrl-Z), or goes on after it was stopped (SIGCONT).
struct Stops {
    shown: Shown,
    stop: Arc<AtomicBool>,
    goes_on: Arc<AtomicBool>,
}

impl Stops {
    fn heard(shown: Shown) -> io::Result<Self> {
        let stops = Self {
            shown,
            stop: Arc::default(),
            goes_on: Arc::default(),
        };
        #[cfg(unix)]
        {
            use signal_hook::{consts, flag};
            flag::register(consts::SIGTSTP, Arc::clone(&stops.stop))?;
            flag::register(consts::SIGCONT, Arc::clone(&stops.goes_on))?;
        }
        Ok(stops)
    }

    /// Gives the terminal back, stops until somebody says to go on, and takes it over again, if that was asked for.
    /// Whatever stopped the process, the terminal was another's meanwhile. Answers whether it was.
    fn stopped(&self, title: &str) -> io::Result<bool> {
        if self.stop.swap(false, Ordering::Relaxed) {
            give_back(self.shown);
            #[cfg(unix)]
            signal_hook::low_level::emulate_default_handler(signal_hook::consts::SIGTSTP)?;
            self.goes_on.store(true, Ordering::Relaxed);
        }
        if !self.goes_on.swap(false, Ordering::Relaxed) {
            return Ok(false);
        }
        // The shell has set its own modes, which crossterm knows nothing of.
        disable_raw_mode()?;
        take_over(title, self.shown)?;
        Ok(true)
    }
}

/// Events of the real terminal.
struct Keyboard {
    ended: Arc<AtomicBool>,
    stops: Stops,
    title: String,
    opened: Instant,
}

impl Keyboard {
    /// Waits until something is typed or the time is over; `false` where the terminal is gone.
    ///
    /// The event reader itself would spin for ever on a terminal that hung up, so it is asked only after this.
    #[cfg(unix)]
    fn listen(&self, wait: Duration) -> bool {
        use rustix::event::{PollFd, PollFlags, Timespec, poll};
        let stdin = io::stdin();
        let mut typed = [PollFd::new(&stdin, PollFlags::IN)];
        let wait = Timespec::try_from(wait).ok();
        let heard = poll(&mut typed, wait.as_ref());
        let gone = PollFlags::HUP | PollFlags::ERR | PollFlags::NVAL;
        heard.is_err() || !typed[0].revents().intersects(gone)
    }

    #[cfg(not(unix))]
    fn listen(&self, wait: Duration) -> bool {
        event::poll(wait).is_ok()
    }
}

impl Source for Keyboard {
    fn next(&mut self, wait: Duration) -> io::Result<Option<Incoming>> {
        let until = Instant::now() + wait;
        loop {
            if self.ended.load(Ordering::Relaxed) {
                return Ok(Some(Incoming::End));
            }
            if self.stops.stopped(&self.title)? {
                return Ok(Some(Incoming::Redraw));
            }
            if !self.listen(Duration::ZERO) {
                return Ok(Some(Incoming::End));
            }
            if event::poll(Duration::ZERO)? {
                let event = event::read()?;
                if is_stop(&event) {
                    self.stops.stop.store(true, Ordering::Relaxed);
                    continue;
                }
                return Ok(Some(incoming(event)));
            }
            let left = until.saturating_duration_since(Instant::now());
            if left.is_zero() {
                return Ok(None);
            }
            if !self.listen(left.min(GLANCE)) {
                return Ok(Some(Incoming::End));
            }
        }
    }

    fn elapsed(&self) -> Duration {
        self.opened.elapsed()
    }
}

/// Ctrl-Z, which a terminal in raw mode no longer turns into a signal itself.
fn is_stop(event: &Event) -> bool {
    let Event::Key(key) = event else {
        return false;
    };
    cfg!(unix) && key.code == KeyCode::Char('z') && key.modifiers == KeyModifiers::CONTROL
}

fn incoming(event: Event) -> Incoming {
    match event {
        Event::Key(key) if key.kind != KeyEventKind::Release => Incoming::Key(key.into()),
        Event::Paste(text) => Incoming::Paste(text),
        _ => Incoming::Other,
    }
}

/// How a terminal is asked for a note on the desktop.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Ring {
    /// The bell alone.
    Bell,
    /// OSC 9 beside it.
    Osc9,
    /// OSC 777 beside it.
    Osc777,
}

impl Ring {
    /// As the person said (`STILLCUP_NOTE=osc9` or `osc777`): a terminal that does not know a note would show
    /// it as rubbish, and asking it takes seconds.
    fn told(wanted: Option<&str>) -> Self {
        match wanted {
            Some("osc9") => Self::Osc9,
            Some("osc777") => Self::Osc777,
            _ => Self::Bell,
        }
    }

    fn bytes(self, words: &str) -> String {
        // A semicolon would end the note's field.
        let words = inert(words).replace(';', ",");
        match self {
            Self::Bell => "\x07".to_owned(),
            Self::Osc9 => format!("\x07\x1b]9;{words}\x1b\\"),
            Self::Osc777 => format!("\x07\x1b]777;notify;stillcup;{words}\x1b\\"),
        }
    }
}

impl Bell for Ring {
    fn ring(&mut self, words: &str) {
        let mut out = io::stdout();
        // A bell that cannot be heard is no reason to stop.
        let _ = out.write_all(self.bytes(words).as_bytes());
        let _ = out.flush();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_note_holds_no_escape_of_its_own() {
        let note = Ring::told(Some("osc9")).bytes("K7\x1b]0;x\x07 is clear");
        assert_eq!(note, "\x07\x1b]9;K7␛]0,x␇ is clear\x1b\\");
        assert_eq!(Ring::told(None).bytes("K7"), "\x07");
        let note = Ring::told(Some("osc777")).bytes("K7 is clear");
        assert_eq!(note, "\x07\x1b]777;notify;stillcup;K7 is clear\x1b\\");
    }
}
