//! What a sheet was asked for: paint for a panel, or a picture once more.

use crate::exchange::fill_air;
use crate::studio::orders::RepeatOrder;
use crate::studio::{Answer, PlanKept, PlanOrder, PlanSheet, Studio};
use crate::trade::instant::Now;

/// What a sheet was asked for.
#[derive(Debug, Clone)]
pub enum Asked {
    /// Paint for a panel.
    Paint(PlanOrder),
    /// A picture once more.
    Repeat(RepeatOrder),
}

impl Asked {
    /// Works it out without keeping it.
    ///
    /// # Errors
    /// Where the studio refuses, or the store fails.
    pub fn work(&self, studio: &Studio, now: &Now) -> Answer<PlanSheet> {
        match self {
            Self::Paint(order) => studio.plan(order, now),
            Self::Repeat(order) => studio.repeat(order, now),
        }
    }

    /// Keeps it.
    ///
    /// # Errors
    /// As [`Asked::work`].
    pub fn keep(&self, studio: &mut Studio, now: &Now) -> Answer<PlanKept> {
        match self {
            Self::Paint(order) => studio.keep_plan(order, now),
            Self::Repeat(order) => studio.keep_repeat(order, now),
        }
    }

    /// The same with the room's air of now where a sensor is set and none was said. One that cannot be read now is none:
    /// then the air that was last told counts.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn sensed(self, studio: &Studio, now: &Now) -> Answer<Self> {
        let Self::Repeat(mut order) = self else {
            return Ok(self);
        };
        let settings = studio.settings()?;
        // Without an air of now the plan goes by the air that was last told: no reading is kept here that could be wrong.
        let _ = fill_air(&mut order.air, None, (studio, &settings), now);
        Ok(Self::Repeat(order))
    }
}
