//! How far a long work is: a bar on the error stream, where that is a terminal; nothing anywhere else.

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use std::io::IsTerminal;

/// Fewer steps are over before a bar is read.
const WORTH_A_BAR: usize = 50;

/// A bar that goes when its work ends.
pub(crate) struct Bar(ProgressBar);

impl Bar {
    /// A bar of so many quick steps of what is worked on.
    pub(crate) fn new(what: &'static str, steps: usize) -> Self {
        Self::shown(what, steps, steps >= WORTH_A_BAR)
    }

    /// A bar of steps that each take their time, however few.
    pub(crate) fn slow(what: &'static str, steps: usize) -> Self {
        Self::shown(what, steps, true)
    }

    fn shown(what: &'static str, steps: usize, worth: bool) -> Self {
        let target = match worth && std::io::stderr().is_terminal() {
            true => ProgressDrawTarget::stderr(),
            false => ProgressDrawTarget::hidden(),
        };
        let bar = ProgressBar::with_draw_target(Some(steps as u64), target);
        if let Ok(style) = ProgressStyle::with_template("{msg} {bar:32} {pos} of {len}") {
            bar.set_style(style);
        }
        bar.set_message(what);
        Self(bar)
    }

    /// So many steps are done.
    pub(crate) fn at(&self, done: usize) {
        self.0.set_position(done as u64);
    }
}

impl Drop for Bar {
    fn drop(&mut self) {
        self.0.finish_and_clear();
    }
}
