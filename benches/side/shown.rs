//! A program on a real terminal of its own, as a painter would see it.

use anyhow::Context;
use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};
use std::io::{Read, Write};
use std::sync::mpsc::{Receiver, channel};
use std::time::{Duration, Instant};

/// The terminal's size.
const ROWS: u16 = 40;
const COLUMNS: u16 = 120;
/// Longer than this nothing takes here; a program that shows nothing by then has failed.
const DEADLINE: Duration = Duration::from_secs(30);

/// A program that runs on a terminal, and what it shows.
pub struct Shown {
    child: Box<dyn Child + Send + Sync>,
    keys: Box<dyn Write + Send>,
    bytes: Receiver<Vec<u8>>,
    screen: vt100::Parser,
    _terminal: Box<dyn MasterPty + Send>,
}

impl Shown {
    /// Starts a program.
    pub fn start(program: &str, args: &[&str], now: &str) -> anyhow::Result<Self> {
        let size = PtySize {
            rows: ROWS,
            cols: COLUMNS,
            pixel_width: 0,
            pixel_height: 0,
        };
        let pair = native_pty_system().openpty(size)?;
        let mut command = CommandBuilder::new(program);
        command.args(args);
        command.env("STILLCUP_NOW", now);
        command.env("TERM", "xterm-256color");
        let child = pair.slave.spawn_command(command)?;
        let (tell, bytes) = channel();
        let mut output = pair.master.try_clone_reader()?;
        std::thread::spawn(move || {
            let mut chunk = vec![0; 65_536];
            while let Ok(count @ 1..) = output.read(&mut chunk) {
                if tell.send(chunk[..count].to_vec()).is_err() {
                    break;
                }
            }
        });
        Ok(Self {
            child,
            keys: pair.master.take_writer()?,
            bytes,
            screen: vt100::Parser::new(ROWS.try_into()?, COLUMNS.try_into()?, 0),
            _terminal: pair.master,
        })
    }

    /// Waits until the screen is as wished.
    pub fn wait(&mut self, wished: impl Fn(&str) -> bool) -> anyhow::Result<()> {
        let until = Instant::now() + DEADLINE;
        while !self.seen(&wished) {
            let left = until.saturating_duration_since(Instant::now());
            let bytes = self.bytes.recv_timeout(left);
            self.screen
                .process(&bytes.context("it never shows what was waited for")?);
        }
        Ok(())
    }

    /// What is to be found on the screen now.
    pub fn seen<T>(&self, find: impl Fn(&str) -> T) -> T {
        find(&self.screen.screen().contents())
    }

    /// Types.
    pub fn keys(&mut self, keys: &str) -> anyhow::Result<()> {
        self.keys.write_all(keys.as_bytes())?;
        Ok(self.keys.flush()?)
    }

    /// What it holds in memory now, in KiB, where the system tells (Linux: `VmRSS`).
    pub fn resident_kib(&self) -> Option<u64> {
        let status = std::fs::read_to_string(format!("/proc/{}/status", self.child.process_id()?));
        let status = status.ok()?;
        let line = status.lines().find(|line| line.starts_with("VmRSS:"))?;
        line.split_whitespace().nth(1)?.parse().ok()
    }

    /// Ends it.
    pub fn end(mut self) -> anyhow::Result<()> {
        self.child.kill()?;
        self.child.wait()?;
        Ok(())
    }
}
