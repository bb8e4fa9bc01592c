//! To put an entry of a cup's life right: what it says, when it was, which cup it was of.

use super::{Field, Given, Hint, Typed, Wrong};
use crate::numbers::flow_cup;
use crate::studio::orders::field::word;
use crate::studio::{Refusal, WordOf};
use crate::trade::amount::Measures;
use crate::trade::cup::{DrawnInto, End, Entry, Happened, PutFrom, Reading, Seen};
use crate::trade::duration::parse_stirring;
use crate::trade::ids::{CupId, EntryId};
use crate::trade::moment::Moment;
use crate::trade::range::{parse_efflux, parse_mound};
use crate::trade::recipe::PartOf;

/// What an entry really was; what is left out stays as it is.
#[derive(Debug, Clone, PartialEq)]
pub struct AmendOrder {
    /// The entry.
    pub entry: EntryId,
    /// What really happened.
    pub what: Option<Happened>,
    /// When.
    pub at: Option<Moment>,
    /// To which cup.
    pub cup: Option<CupId>,
    /// Whether it is kept though it is far from what can be.
    pub even_so: bool,
}

/// Which entry of a cup's life.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WhichEntry {
    /// The one of a number.
    Number(i64),
    /// The last.
    Last,
}

impl WhichEntry {
    /// Reads an entry's number, or `last`.
    ///
    /// # Errors
    /// Neither.
    pub fn read(text: &str) -> Result<Self, Refusal> {
        let text = text.trim();
        if text.eq_ignore_ascii_case("last") {
            return Ok(Self::Last);
        }
        let number = text.parse().map(Self::Number);
        number.map_err(|_| Refusal::NotAnEntry(text.to_owned()))
    }
}

/// The fields of putting right.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AmendField {
    /// Its value: seconds, an amount, a time, what was seen, how it ended.
    Value,
    /// When.
    When,
    /// The mark of the cup that it was of.
    Cup,
}

impl Field for AmendField {
    fn of(any: super::AnyField) -> Option<Self> {
        match any {
            super::AnyField::Amend(field) => Some(field),
            _ => None,
        }
    }

    fn label(self) -> &'static str {
        match self {
            Self::Value => "really",
            Self::When => "when",
            Self::Cup => "cup",
        }
    }

    fn hint(self, _: Measures) -> Hint {
        Hint::Says(match self {
            Self::Value => "what it really was; empty leaves it",
            Self::When => "when it really was; empty leaves it",
            Self::Cup => "the cup it was really of; empty leaves it",
        })
    }

    fn mark(self, text: &str) -> Option<&str> {
        (self == Self::Cup).then_some(text)
    }
}

impl AmendField {
    /// Reads what was typed of an entry: its value by the entry's own kind.
    ///
    /// # Errors
    /// The first field that cannot be read, and a value for an entry that has none.
    pub fn order(
        typed: &Typed<Self>,
        entry: &Entry,
        given: &Given<'_>,
    ) -> Result<AmendOrder, Wrong> {
        Ok(AmendOrder {
            entry: EntryId(entry.id),
            what: typed.read(Self::Value, |text| value(&entry.what, text, given))?,
            at: typed.read(Self::When, |text| given.past(text))?,
            cup: typed.read(Self::Cup, |text| given.known.cup(text))?,
            even_so: false,
        })
    }
}

/// The same happening with another value.
fn value(was: &Happened, text: &str, given: &Given<'_>) -> Result<Happened, Refusal> {
    Ok(match was {
        Happened::Read(reading) => Happened::Read(read_anew(reading, text)?),
        Happened::Mixed { stirred, reading } => Happened::Mixed {
            stirred: *stirred,
            reading: Some(first(reading.as_ref(), text)?),
        },
        Happened::Thinned {
            with,
            hard,
            reading,
            ..
        } => {
            let density = with.and_then(|id| given.known.density(PartOf::Material(id)));
            Happened::Thinned {
                ml: given.volume(text, density)?,
                with: *with,
                hard: *hard,
                reading: reading.clone(),
            }
        }
        Happened::Added {
            from: PutFrom::Material(id),
            thinner,
            reading,
            ..
        } => {
            let density = given.known.density(PartOf::Material(*id));
            Happened::Added {
                ml: given.volume(text, density)?,
                from: PutFrom::Material(*id),
                thinner: *thinner,
                reading: reading.clone(),
            }
        }
        Happened::Added { .. }
        | Happened::Drawn {
            into: DrawnInto::Cup(_),
            ..
        } => was.with_amount(given.volume(text, None)?),
        Happened::Drawn {
            into: DrawnInto::Pour(pour),
            ..
        } => return Err(Refusal::InPicture(*pour)),
        Happened::Stirred { .. } => Happened::Stirred {
            minutes: parse_stirring(text)?,
        },
        Happened::Looked(_) => Happened::Looked(word(WordOf::Seen, text, Seen::parse)?),
        Happened::Ended(_) => Happened::Ended(word(WordOf::End, text, End::parse)?),
        Happened::Capped | Happened::Opened => return Err(Refusal::NoValue(was.kind())),
    })
}

fn first(was: Option<&Reading>, text: &str) -> Result<Reading, Refusal> {
    match was {
        None => Ok(Reading::Mound(parse_mound(text)?)),
        Some(was) => read_anew(was, text),
    }
}

/// The same instrument with another number of seconds.
fn read_anew(was: &Reading, text: &str) -> Result<Reading, Refusal> {
    match was {
        Reading::Mound(_) => Ok(Reading::Mound(parse_mound(text)?)),
        Reading::FlowCup { cup, .. } => Ok(flow_cup::reading(cup, parse_efflux(text)?)?),
    }
}
