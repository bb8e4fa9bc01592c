//! Which bubbles have risen out of a resting cup by now.

use crate::numbers::bubbles;
use crate::numbers::flow_cup::FlowCup;
use crate::numbers::rest::DEPTH;
use crate::studio::cups::bench::CupStatus;
use crate::studio::cups::lessons::depth;
use crate::trade::cup::Reading;
use crate::trade::life::State;
use crate::trade::moment::Moment;
use crate::trade::range::Window;
use crate::trade::units::{Band, Hours, Millimetres, SquareMillimetresPerSecond};

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

    /// How deep it stands, where that was measured.
    #[must_use]
    pub fn measured_depth(&self) -> Option<Millimetres> {
        depth(&self.cup)
    }
}

impl CupStatus {
    /// The viscosity its flow cup told, where that was its last reading.
    #[must_use]
    pub fn flow_viscosity(&self) -> Option<SquareMillimetresPerSecond> {
        match &self.life.known.as_ref()?.reading {
            Reading::FlowCup { cup, efflux } => {
                cup.parse::<FlowCup>().ok()?.viscosity(*efflux).ok()
            }
            Reading::Mound(_) => None,
        }
    }
}
