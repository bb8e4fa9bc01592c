//! The demo: an invented studio with months of life behind it, written through the studio's own deeds.
//!
//! The same present instant always gives the same studio.

mod bench;
mod cast;
mod clock;
mod days;
mod hands;
mod paint;
mod stock;

use crate::studio::{Answer, Refusal, Studio};
use crate::trade::instant::Now;
use cast::Cast;
use clock::Clock;
use hands::Hands;

/// How much of a life was written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DemoSeeded {
    /// Cups mixed.
    pub cups: usize,
    /// Goes poured, start-overs among them.
    pub pours: usize,
    /// Pours with a judgement that counts.
    pub judged: usize,
}

/// How many times the demo's studio poured: the steps that its making tells.
pub const DEMO_SESSIONS: usize = days::SESSIONS;

impl Studio {
    /// Fills an empty studio with about five months of an invented one's life, up to `now`.
    ///
    /// Every deed is its own change. Where one fails, those before it stay: give the demo a file of its own.
    ///
    /// # Errors
    /// Where the studio is not empty, `now` is at the calendar's very beginning, or the store cannot write.
    pub fn seed_demo(&mut self, now: &Now) -> Answer<DemoSeeded> {
        self.seed_demo_telling(now, &|_| ())
    }

    /// As [`Studio::seed_demo`]; tells which of the [`DEMO_SESSIONS`] begins.
    ///
    /// # Errors
    /// As there.
    pub fn seed_demo_telling(&mut self, now: &Now, told: &dyn Fn(usize)) -> Answer<DemoSeeded> {
        if !self.is_empty()? {
            return Err(Refusal::DemoNotHere.into());
        }
        let clock = Clock::new(now)?;
        let mut hands = Hands::new(self, Cast::read()?, clock);
        hands.open_studio()?;
        hands.live(told)?;
        hands.set_bench()?;
        let (cups, pours) = (hands.cups, hands.pours);
        let judged = self.pours(None)?;
        let judged = judged
            .iter()
            .filter(|page| page.counting().is_some())
            .count();
        Ok(DemoSeeded {
            cups,
            pours,
            judged,
        })
    }
}
