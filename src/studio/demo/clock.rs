//! The demo's days, counted back from the present instant in the studio's zone.

use crate::studio::{Answer, Limit, Refusal};
use crate::trade::instant::Now;
use chrono::{Datelike, NaiveDate, TimeDelta};

/// The first day of the demo, counted back from today.
pub(super) const FIRST_DAY: i64 = 152;

pub(super) struct Clock {
    now: Now,
    today: NaiveDate,
}

impl Clock {
    pub(super) fn new(now: &Now) -> Answer<Self> {
        let here = now.local();
        let early = || Refusal::Range(Limit::DemoDay);
        let margin = TimeDelta::days(FIRST_DAY + 10);
        here.checked_sub_signed(margin).ok_or_else(early)?;
        Ok(Self {
            now: *now,
            today: here.date_naive(),
        })
    }

    /// Some days ago, at an hour of the clock on the wall; by elapsed hours where the clock leaves that hour out.
    pub(super) fn day(&self, ago: i64, hour: f64) -> Now {
        let shown = (self.today - TimeDelta::days(ago)).and_time(chrono::NaiveTime::MIN)
            + TimeDelta::minutes((hour * 60.0) as i64);
        let at = self.now.zone.instant(shown);
        let at = at.unwrap_or_else(|| self.now.at - TimeDelta::days(ago));
        Now { at, ..self.now }
    }

    /// Some minutes before the present.
    pub(super) fn before(&self, minutes: i64) -> Now {
        later(&self.now, -minutes)
    }

    /// How warm the season is some days ago, -1 in the middle of January to 1 in the middle of July.
    pub(super) fn season(&self, ago: i64) -> f64 {
        let day = (self.today - TimeDelta::days(ago)).ordinal();
        -((f64::from(day) - 15.0) / 365.25 * std::f64::consts::TAU).cos()
    }
}

/// An instant some minutes later.
pub(super) fn later(now: &Now, minutes: i64) -> Now {
    let at = now.zone.tell(now.at + TimeDelta::minutes(minutes));
    Now { at, ..*now }
}
