//! What a cup's rest rests on, in words: how long and from how many looks, and which bubbles have risen by now.

use crate::numbers::bubbles;
use crate::numbers::rest::DEPTH;
use crate::studio::cups::bench::CupStatus;
use crate::studio::cups::lessons::depth;
use crate::trade::amount::Measures;
use crate::trade::length::{about_length, show_length};
use crate::trade::life::State;
use crate::trade::moment::Moment;
use crate::trade::number::trimmed;
use crate::trade::range::Window;
use crate::trade::units::{Backing, Band, Hours, Millimetres};

impl CupStatus {
    /// The smallest bubble that has risen out of a resting cup by an instant: an order of magnitude, by the mound it was
    /// read at, else the middle of its window. `None` where it does not rest, or the law does not hold yet.
    #[must_use]
    pub fn bubble_risen(&self, now: Moment) -> Option<Band<Millimetres>> {
        if self.state != State::Resting {
            return None;
        }
        let mound = self.life.mound();
        let mound = mound.or_else(|| self.variant.targets.window.map(Window::middle))?;
        let rested = now - self.life.stirred_at;
        let rested = Hours(rested.num_milliseconds() as f64 / 3_600_000.0);
        let depth = depth(&self.cup).unwrap_or(DEPTH);
        bubbles::risen_by(depth, rested, mound, self.cup.diameter)
    }

    /// How long it rests and what stands behind that: `yours: 9.4 h (8.1 to 10.8), 14 looks`; `practice: 12 h (5 to
    /// 29)`; `practice and 3 looks: 11 h (7 to 17)`.
    #[must_use]
    pub fn rest_words(&self) -> String {
        let rest = &self.outlook.rest;
        if rest.band.high <= Hours::ZERO {
            return "none".into();
        }
        // What practice says has no tenths of an hour.
        let places = match rest.from {
            Backing::Yours => 1,
            Backing::Both | Backing::Practice => 0,
        };
        let told = rest.band.map(|hours| trimmed(hours.get(), places));
        let band = format!("{} h ({} to {})", told.mid, told.low, told.high);
        let looks = match rest.readings {
            1 => "1 look".to_owned(),
            many => format!("{many} looks"),
        };
        match rest.from {
            Backing::Yours => format!("yours: {band}, {looks}"),
            Backing::Both => format!("practice and {looks}: {band}"),
            Backing::Practice => format!("practice: {band}"),
        }
    }

    /// That its rest goes by a depth nobody measured; `None` where one is known, or nothing hangs on it.
    #[must_use]
    pub fn depth_words(&self, measures: Measures) -> Option<String> {
        let unknown = self.state == State::Resting && depth(&self.cup).is_none();
        let taken = show_length(DEPTH, measures);
        unknown.then(|| format!("its depth is not known: {taken} is taken"))
    }

    /// What rises while it rests: `bubbles over about 0.2 mm have risen`; `None` where nothing can be said.
    #[must_use]
    pub fn bubble_words(&self, now: Moment, measures: Measures) -> Option<String> {
        let mid = self.bubble_risen(now)?.mid;
        let size = about_length(mid, measures);
        Some(format!("bubbles over about {size} have risen"))
    }
}

/// Why no rest clears a gelled cup.
#[must_use]
pub fn gel_words(measures: Measures) -> String {
    let size = about_length(bubbles::held_by_gel(), measures);
    format!("paint so stiff holds bubbles of up to about {size}: they never rise")
}
