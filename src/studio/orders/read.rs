//! To read a cup: by its drizzle mound, or by a flow cup.

use super::field::wrong;
use super::tend::WHEN;
use super::{Field, Given, Hint, TendOrder, Typed, Wrong};
use crate::studio::{Limit, Refusal};
use crate::trade::amount::Measures;
use crate::trade::cup::{Reading, Seen};
use crate::trade::ids::CupId;
use crate::trade::range::{never_fades, parse_mound};

/// The fields of a reading.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ReadField {
    /// The seconds, of the mound or of the flow cup; `never` where the mound does not fade.
    Seconds,
    /// The flow cup; the drizzle mound otherwise.
    FlowCup,
    /// When.
    When,
}

impl Field for ReadField {
    fn of(any: super::AnyField) -> Option<Self> {
        match any {
            super::AnyField::Read(field) => Some(field),
            _ => None,
        }
    }

    fn label(self) -> &'static str {
        match self {
            Self::Seconds => "seconds",
            Self::FlowCup => "flow cup",
            Self::When => "when",
        }
    }

    fn hint(self, _: Measures) -> Hint {
        Hint::Says(match self {
            Self::Seconds => "2.8; never where the mound does not fade",
            Self::FlowCup => "empty for the drizzle mound; else its name, as iso4",
            Self::When => WHEN,
        })
    }
}

impl ReadField {
    /// Reads what was typed of a cup: a mound that never fades is a look.
    ///
    /// # Errors
    /// The first field that cannot be read, and no seconds at all.
    pub fn order(typed: &Typed<Self>, cup: CupId, given: &Given<'_>) -> Result<TendOrder, Wrong> {
        let order = match typed.text(Self::Seconds).is_some_and(never_fades) {
            true => TendOrder::look(cup, Seen::Gelled),
            false => TendOrder::read(cup, reading(typed, given)?),
        };
        Ok(order.at(typed.read(Self::When, |text| given.past(text))?))
    }
}

fn reading(typed: &Typed<ReadField>, given: &Given<'_>) -> Result<Reading, Wrong> {
    let seconds = typed.need(ReadField::Seconds, missing(), |text| {
        Ok::<_, Refusal>(text.to_owned())
    })?;
    match typed.text(ReadField::FlowCup) {
        Some(cup) => {
            let read = given.flow_cup(cup, &seconds);
            read.map_err(|why| wrong(ReadField::FlowCup, why))
        }
        None => {
            let mound = parse_mound(&seconds).map_err(|why| wrong(ReadField::Seconds, why))?;
            Ok(Reading::Mound(mound))
        }
    }
}

const fn missing() -> Refusal {
    Refusal::Range(Limit::Reading)
}
