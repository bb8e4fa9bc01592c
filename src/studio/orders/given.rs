//! What a text is read by: what is known, the measures, the instant.

use super::Known;
use crate::numbers::flow_cup;
use crate::studio::Refusal;
use crate::trade::amount::{Amount, Measures, Unit, is_none_at_all};
use crate::trade::cup::Reading;
use crate::trade::duration;
use crate::trade::instant::{Lean, Now, parse_date, parse_instant};
use crate::trade::moment::Moment;
use crate::trade::panel::Panel;
use crate::trade::pour::{Air, PourProblem};
use crate::trade::problem::ParseProblem;
use crate::trade::range::parse_efflux;
use crate::trade::units::{Density, Millilitres};
use chrono::TimeDelta;

/// What a number without its unit is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bare {
    /// Nothing: a command, which a script may hold for years, must say its unit.
    Refused,
    /// In the studio's own small unit: a form says it beside the field.
    InMeasures,
}

/// What a text is read by.
#[derive(Debug, Clone, Copy)]
pub struct Given<'a> {
    /// What names and marks stand for.
    pub known: &'a Known,
    /// The present instant.
    pub now: &'a Now,
    /// What a number without its unit is.
    pub bare: Bare,
}

impl Given<'_> {
    /// An amount by volume or by weight.
    ///
    /// # Errors
    /// As [`Amount::parse`].
    pub fn amount(&self, text: &str) -> Result<Amount, ParseProblem> {
        let unit = match self.known.measures() {
            Measures::Metric => Unit::Millilitre,
            Measures::UsCustomary => Unit::UsFluidOunce,
        };
        match self.bare {
            Bare::Refused => Amount::parse(text),
            Bare::InMeasures => Amount::parse_or(text, unit),
        }
    }

    /// An amount as a volume, to the microlitre in which it is kept; what was weighed needs its density.
    ///
    /// # Errors
    /// As [`Amount::parse`], and a weight of what no density is known of.
    pub fn volume(&self, text: &str, density: Option<Density>) -> Result<Millilitres, Refusal> {
        Ok(self.amount(text)?.volume(density)?.stored())
    }

    /// As [`Given::volume`], where none at all is an answer too.
    ///
    /// # Errors
    /// As there.
    pub fn volume_or_none(
        &self,
        text: &str,
        density: Option<Density>,
    ) -> Result<Millilitres, Refusal> {
        match is_none_at_all(text) {
            true => Ok(Millilitres::ZERO),
            false => self.volume(text, density),
        }
    }

    /// A length of time; a number alone is in `unit` where that may be left out.
    ///
    /// # Errors
    /// As [`duration::parse`].
    pub fn time(&self, text: &str, unit: duration::Unit) -> Result<TimeDelta, ParseProblem> {
        match self.bare {
            Bare::Refused => duration::parse(text),
            Bare::InMeasures => duration::parse_or(text, unit),
        }
    }

    /// A panel; in a form a size without its unit is in the studio's own.
    ///
    /// # Errors
    /// As [`Panel::parse`].
    pub fn panel(&self, text: &str) -> Result<Panel, ParseProblem> {
        match self.bare {
            Bare::Refused => Panel::parse(text),
            Bare::InMeasures => Panel::parse_in(text, self.known.measures()),
        }
    }

    /// The air of a room; in a form numbers without their units are warmth and damp, in this order.
    ///
    /// # Errors
    /// As [`Air::parse`].
    pub fn air(&self, text: &str) -> Result<Air, PourProblem> {
        match self.bare {
            Bare::Refused => Air::parse(text),
            Bare::InMeasures => Air::parse_in(text, self.known.measures()),
        }
    }

    /// An instant that is over; the last of its kind before now where its day is open.
    ///
    /// # Errors
    /// As [`parse_instant`].
    pub fn past(&self, text: &str) -> Result<Moment, ParseProblem> {
        parse_instant(text, self.now, Lean::Past)
    }

    /// As [`Given::past`]; a day alone stands for its noon, or for now where that is still to come.
    ///
    /// # Errors
    /// As there.
    pub fn day_or_past(&self, text: &str) -> Result<Moment, ParseProblem> {
        let day = parse_date(text.trim()).ok();
        let noon = day.and_then(|day| day.and_hms_opt(12, 0, 0));
        let noon = noon.and_then(|noon| self.now.zone.instant(noon));
        let today = self.now.local().date_naive();
        match noon {
            Some(_) if day == Some(today) => Ok(self.now.at),
            Some(noon) => Ok(noon),
            None => self.past(text),
        }
    }

    /// An instant to come; the next of its kind after now where its day is open.
    ///
    /// # Errors
    /// As [`parse_instant`].
    pub fn future(&self, text: &str) -> Result<Moment, ParseProblem> {
        parse_instant(text, self.now, Lean::Future)
    }

    /// A reading by a flow cup of a name, inside its window.
    ///
    /// # Errors
    /// A cup that is not known, no time, or one outside the cup's window.
    pub fn flow_cup(&self, cup: &str, efflux: &str) -> Result<Reading, Refusal> {
        Ok(flow_cup::reading(cup, parse_efflux(efflux)?)?)
    }
}
