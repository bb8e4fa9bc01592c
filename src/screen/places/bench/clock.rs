//! The stopwatch and the stirring clock.

use crate::screen::kit::letters::{Large, large};
use crate::screen::kit::look::strong;
use crate::screen::kit::mark::minutes;
use crate::screen::kit::text::wrap;
use crate::trade::ids::CupId;
use crate::trade::units::Seconds;
use ratatui::text::Line;
use std::time::Duration;

/// A clock over the Bench.
#[derive(Debug, Clone, PartialEq)]
pub struct Watch {
    /// The cup.
    pub cup: CupId,
    /// Its mark.
    pub mark: String,
    /// What is timed.
    pub what: Timed,
    /// When it was started, by the clock that never jumps.
    pub since: Option<Duration>,
    /// The seconds that it stopped at, until they are written down: far from what was expected, they are kept only where
    /// that is said.
    pub stopped: Option<f64>,
}

/// What a clock times.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Timed {
    /// A drizzle mound, until it is gone.
    Mound,
    /// Stirring.
    Stirring,
}

/// Lines of its digits at most.
const HIGH: usize = 8;

/// The clock over the Bench, in digits to be read from afar.
pub fn watch_lines(watch: &Watch, elapsed: Duration, width: usize) -> Vec<Line<'static>> {
    let runs = |since| elapsed.saturating_sub(since).as_secs_f64();
    let ran = watch.stopped.or(watch.since.map(runs)).unwrap_or(0.0);
    let digits = match watch.what {
        Timed::Mound => format!("{ran:.1}"),
        Timed::Stirring => minutes(Seconds(ran)),
    };
    let mut lines = vec![Line::default()];
    lines.extend(large(&[Large::new(&digits, strong())], width, HIGH));
    lines.push(Line::default());
    let words = wrap(&watch_words(watch), width.saturating_sub(2));
    lines.extend(words.iter().map(|line| Line::from(format!("  {line}"))));
    lines
}

fn watch_words(watch: &Watch) -> String {
    let mark = &watch.mark;
    if watch.stopped.is_some() {
        return format!(
            "k keeps it as the mound of {mark} all the same; Space as another drizzle ends times it anew."
        );
    }
    match (watch.what, watch.since) {
        (Timed::Mound, None) => format!("Drizzle {mark} and press Space as the drizzle ends."),
        (Timed::Mound, Some(_)) => {
            format!("Press Space once the mound of {mark} is gone; n if it never fades.")
        }
        (Timed::Stirring, _) => {
            format!("{mark} is being stirred. Space ends it; its rest starts anew.")
        }
    }
}
