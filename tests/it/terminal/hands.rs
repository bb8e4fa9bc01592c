//! A pseudo terminal with hands that count their keys, and eyes that wait for what they look for.

use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};
use std::io::{Read, Write};
use std::num::NonZeroU16;
use std::sync::{Arc, Condvar, Mutex, MutexGuard};
use std::time::{Duration, Instant};

/// How long eyes wait at most; far more than a loaded machine needs.
const PATIENCE: Duration = Duration::from_secs(30);

/// Counts bells, and hears what else a program asks of a terminal.
#[derive(Default)]
pub struct Ears {
    pub bells: usize,
    /// What the terminal was asked to be called, in turn.
    pub titles: Vec<String>,
    /// What no drawing needs: a clipboard, another size, signs that the terminal does not know.
    pub odd: Vec<String>,
}

impl vt100::Callbacks for Ears {
    fn audible_bell(&mut self, _: &mut vt100::Screen) {
        self.bells += 1;
    }

    fn resize(&mut self, _: &mut vt100::Screen, size: (u16, u16)) {
        self.odd.push(format!("size {size:?}"));
    }

    fn set_window_title(&mut self, _: &mut vt100::Screen, title: &[u8]) {
        self.titles
            .push(String::from_utf8_lossy(title).into_owned());
    }

    fn copy_to_clipboard(&mut self, _: &mut vt100::Screen, _: &[u8], data: &[u8]) {
        self.odd.push(format!("clipboard {data:?}"));
    }

    fn unhandled_char(&mut self, _: &mut vt100::Screen, c: char) {
        self.odd.push(format!("character {c:?}"));
    }

    fn unhandled_osc(&mut self, _: &mut vt100::Screen, words: &[&[u8]]) {
        self.odd.push(format!("command {words:?}"));
    }
}

/// What the terminal shows, all that was sent to it, and whether the program has closed it.
struct Shown {
    parser: vt100::Parser<Ears>,
    sent: Vec<u8>,
    closed: bool,
}

pub struct Hands {
    shown: Arc<(Mutex<Shown>, Condvar)>,
    master: Box<dyn MasterPty>,
    writer: Box<dyn Write + Send>,
    pub child: Box<dyn Child + Send + Sync>,
    /// Keys pressed so far, typed amounts aside.
    pub pressed: usize,
}

fn size(columns: u16, rows: u16) -> PtySize {
    PtySize {
        rows,
        cols: columns,
        pixel_width: 0,
        pixel_height: 0,
    }
}

fn cells(count: u16) -> NonZeroU16 {
    NonZeroU16::new(count).unwrap()
}

pub fn program(stage: &super::Stage) -> CommandBuilder {
    let mut command = CommandBuilder::new(env!("CARGO_BIN_EXE_stillcup"));
    command.env("STILLCUP_STUDIO", stage.file());
    command.env("STILLCUP_NOW", super::now().at.to_rfc3339());
    command
}

impl Hands {
    /// The program on a studio, its clock at ten o'clock.
    pub fn on(stage: &super::Stage, columns: u16, rows: u16) -> Self {
        let mut command = program(stage);
        command.env_remove("NO_COLOR");
        Self::start(command, columns, rows)
    }

    /// The same where no colour is wanted.
    pub fn on_plain(stage: &super::Stage) -> Self {
        let mut command = program(stage);
        command.env("NO_COLOR", "1");
        Self::start(command, 80, 24)
    }

    /// The same, its files growing to no more than so many blocks of 512 bytes until the limit is lifted.
    pub fn on_cramped(stage: &super::Stage, blocks: u32) -> Self {
        let mut command = CommandBuilder::new("sh");
        let limited = format!("ulimit -S -f {blocks} && exec \"$0\"");
        command.args(["-c", &limited, env!("CARGO_BIN_EXE_stillcup")]);
        command.env("STILLCUP_STUDIO", stage.file());
        command.env("STILLCUP_NOW", super::now().at.to_rfc3339());
        Self::start(command, 80, 24)
    }

    /// The program on any file, on a large terminal.
    pub fn on_file(file: &std::path::Path, now: &str) -> Self {
        Self::on_words(file, now, &[])
    }

    /// A command on any file, on a large terminal.
    pub fn on_words(file: &std::path::Path, now: &str, words: &[&str]) -> Self {
        let mut command = CommandBuilder::new(env!("CARGO_BIN_EXE_stillcup"));
        command.args(words);
        command.env("STILLCUP_STUDIO", file);
        command.env("STILLCUP_NOW", now);
        Self::start(command, 120, 40)
    }

    /// This test program as a child on a terminal, running one ignored test.
    pub fn on_test(name: &str, variables: &[(&str, &std::path::Path)]) -> Self {
        let mut command = CommandBuilder::new(std::env::current_exe().unwrap());
        command.args([
            "--exact",
            name,
            "--ignored",
            "--nocapture",
            "--test-threads=1",
        ]);
        for (variable, value) in variables {
            command.env(variable, value);
        }
        Self::start(command, 80, 24)
    }

    pub fn start(mut command: CommandBuilder, columns: u16, rows: u16) -> Self {
        command.env("TERM", "xterm-256color");
        // A backtrace would push what is looked for off the screen.
        command.env("RUST_BACKTRACE", "0");
        let pair = native_pty_system().openpty(size(columns, rows)).unwrap();
        let child = pair.slave.spawn_command(command).unwrap();
        let mut reader = pair.master.try_clone_reader().unwrap();
        let writer = pair.master.take_writer().unwrap();
        let parser =
            vt100::Parser::new_with_callbacks(cells(rows), cells(columns), 0, Ears::default());
        let shown = Arc::new((
            Mutex::new(Shown {
                parser,
                sent: Vec::new(),
                closed: false,
            }),
            Condvar::new(),
        ));
        let seen = Arc::clone(&shown);
        std::thread::spawn(move || {
            let mut bytes = [0; 4096];
            loop {
                let count = reader.read(&mut bytes).unwrap_or(0);
                let mut shown = seen.0.lock().unwrap();
                shown.parser.process(&bytes[..count]);
                shown.sent.extend_from_slice(&bytes[..count]);
                shown.closed = count == 0;
                seen.1.notify_all();
                if count == 0 {
                    return;
                }
            }
        });
        Self {
            shown,
            master: pair.master,
            writer,
            child,
            pressed: 0,
        }
    }

    /// Waits until the screen is as looked for; what it shows then.
    pub fn see(&self, what: &str, looked_for: impl Fn(&vt100::Screen) -> bool) -> String {
        self.wait(what, |shown| looked_for(shown.parser.screen()))
            .parser
            .screen()
            .contents()
    }

    /// Waits until a text is on the screen; what it shows then.
    pub fn see_text(&self, text: &str) -> String {
        self.see(text, |screen| screen.contents().contains(text))
    }

    /// Answers a question with a key: pressed until the question is gone, for one that comes at once is not taken for an
    /// answer.
    pub fn answer(&mut self, question: &str, key: &str) {
        self.see_text(question);
        let asks = |shown: &Shown| shown.parser.screen().contents().contains(question);
        let until = Instant::now() + PATIENCE;
        loop {
            let shown = self.shown.0.lock().unwrap();
            let soon = Duration::from_millis(100);
            let waited = self
                .shown
                .1
                .wait_timeout_while(shown, soon, |one| asks(one));
            if !asks(&waited.unwrap().0) {
                return;
            }
            assert!(Instant::now() < until, "asked still: {question}");
            self.press(key);
        }
    }

    /// Waits until the terminal is closed; what it shows then, and whether it is given back.
    pub fn see_closed(&self) -> (String, bool) {
        let shown = self.wait("the end", |shown| shown.closed);
        let screen = shown.parser.screen();
        let back = !screen.alternate_screen() && !screen.hide_cursor() && !screen.bracketed_paste();
        (screen.contents(), back)
    }

    /// How often it rang.
    pub fn bells(&self) -> usize {
        self.shown.0.lock().unwrap().parser.callbacks().bells
    }

    /// All that was sent so far, and what it asked of the terminal beside drawing: its titles, and what is odd.
    pub fn heard(&self) -> (Vec<u8>, Vec<String>, Vec<String>) {
        let shown = self.shown.0.lock().unwrap();
        let ears = shown.parser.callbacks();
        (shown.sent.clone(), ears.titles.clone(), ears.odd.clone())
    }

    fn wait(&self, what: &str, done: impl Fn(&Shown) -> bool) -> MutexGuard<'_, Shown> {
        let until = Instant::now() + PATIENCE;
        let mut shown = self.shown.0.lock().unwrap();
        while !done(&shown) {
            let left = until.saturating_duration_since(Instant::now());
            let contents = shown.parser.screen().contents();
            assert!(
                !left.is_zero() && !shown.closed,
                "never seen: {what}\n{contents}"
            );
            shown = self.shown.1.wait_timeout(shown, left).unwrap().0;
        }
        shown
    }

    /// Presses keys, each counted: `"m"`, `"Enter"`, `"Tab"`, `"Esc"`, `"Space"`, blanks between.
    pub fn press(&mut self, keys: &str) {
        for key in keys.split_whitespace() {
            self.pressed += 1;
            let bytes = match key {
                "Enter" => "\r",
                "Tab" => "\t",
                "Esc" => "\x1b",
                "Space" => " ",
                "Down" => "\x1b[B",
                one => one,
            };
            self.send(bytes);
        }
    }

    /// Types an amount, which no budget counts.
    pub fn type_amount(&mut self, text: &str) {
        self.send(text);
    }

    fn send(&mut self, text: &str) {
        self.writer.write_all(text.as_bytes()).unwrap();
        self.writer.flush().unwrap();
    }

    /// Another size. The parser learns it first, so that no picture of the new size meets the old one.
    pub fn resize(&self, columns: u16, rows: u16) {
        let mut shown = self.shown.0.lock().unwrap();
        shown.parser.set_size(cells(rows), cells(columns));
        self.master.resize(size(columns, rows)).unwrap();
    }

    /// Sends the program a signal by its name.
    pub fn signal(&self, name: &str) {
        let pid = self.child.process_id().unwrap().to_string();
        let sent = std::process::Command::new("kill")
            .args(["-s", name, &pid])
            .status();
        assert!(sent.unwrap().success());
    }
}

impl Drop for Hands {
    fn drop(&mut self) {
        // A child that ended already cannot be ended again.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}
