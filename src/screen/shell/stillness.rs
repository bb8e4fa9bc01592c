//! When the screen may rest: no key for a while, no clock running, and the second that is shown is still the same. A screen that
//! stands open all day then looks up once a second and draws once a second, and for the rest of it the processor sleeps.

use crate::screen::kit::beat::Beat;
use std::time::Duration;

/// The longest wait between two looks at the clock and at the store while the hands are busy.
const TICK: Duration = Duration::from_millis(250);

/// The same once they rest.
const RESTING: Duration = Duration::from_secs(1);

/// Hands that pressed nothing for so long rest (ours): what works beside the screen is mostly done by then.
const QUIET: Duration = Duration::from_secs(5);

/// Whether anything may have changed since the picture was drawn.
#[derive(Debug, Default)]
pub struct Stillness {
    heard: Duration,
    drawn: Option<i64>,
}

impl Stillness {
    /// Something came in.
    pub const fn heard(&mut self, beat: &Beat) {
        self.heard = beat.elapsed;
        self.drawn = None;
    }

    /// Whether the hands rest.
    fn rests(&self, beat: &Beat) -> bool {
        beat.elapsed.saturating_sub(self.heard) >= QUIET
    }

    /// Whether a picture is to be drawn now; a clock that `runs` is drawn at each tick.
    pub fn wants_picture(&mut self, beat: &Beat, runs: bool) -> bool {
        let second = Some(beat.now.at.timestamp());
        let same = std::mem::replace(&mut self.drawn, second) == second;
        runs || !same || !self.rests(beat)
    }

    /// How long the next event is waited for.
    pub fn wait(&self, beat: &Beat, runs: bool) -> Duration {
        match self.rests(beat) && !runs {
            true => RESTING,
            false => TICK,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::screen::tests::now;
    use crate::trade::instant::Now;
    use chrono::TimeDelta;

    /// So many milliseconds after the screen was opened.
    fn beat(milliseconds: u64) -> Beat {
        let elapsed = Duration::from_millis(milliseconds);
        let at = now().at + TimeDelta::from_std(elapsed).unwrap();
        Beat {
            now: Now { at, ..now() },
            elapsed,
        }
    }

    /// What a minute without a key takes: the pictures, and how often it wakes.
    fn minute(runs: bool) -> (usize, usize) {
        let (mut still, mut at, mut pictures, mut wakes) = (Stillness::default(), 5_000, 0, 0);
        still.heard(&beat(0));
        while at < 65_000 {
            pictures += usize::from(still.wants_picture(&beat(at), runs));
            wakes += 1;
            at += u64::try_from(still.wait(&beat(at), runs).as_millis()).unwrap();
        }
        (pictures, wakes)
    }

    #[test]
    fn a_screen_that_nobody_touches_wakes_once_a_second() {
        assert_eq!(minute(false), (60, 60));
        assert_eq!(minute(true), (240, 240));
    }

    #[test]
    fn a_key_is_answered_with_a_picture_within_the_same_second() {
        let mut still = Stillness::default();
        still.heard(&beat(0));
        assert!(still.wants_picture(&beat(9_000), false));
        assert!(!still.wants_picture(&beat(9_100), false));
        still.heard(&beat(9_200));
        assert!(still.wants_picture(&beat(9_200), false));
        assert_eq!(still.wait(&beat(9_200), false), TICK);
    }
}
