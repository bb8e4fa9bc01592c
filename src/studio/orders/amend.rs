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
use crate::trade::units::Millilitres;

/// What an entry really was; what is left out stays as it is.
#[derive(Debug, Clone, PartialEq)]
pub struct AmendOrder {
    /// The entry.
    pub entry: EntryId,
    /// What really happened.
    pub what: Option<Happened>,
    /// How much was mixed; of a mixing alone.
    pub volume: Option<Millilitres>,
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
    /// How much was mixed.
    Volume,
    /// How long it was stirred when it was mixed.
    Stirred,
    /// What was read with it.
    Mound,
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
            Self::Volume => "amount",
            Self::Stirred => "stirred",
            Self::Mound => "mound",
            Self::When => "when",
            Self::Cup => "cup",
        }
    }

    fn hint(self, _: Measures) -> Hint {
        Hint::Says(match self {
            Self::Value => "what it really was; empty leaves it",
            Self::Volume => "how much was really mixed: 60 ml; empty leaves it",
            Self::Stirred => "how long it was really stirred: 4 min; empty leaves it",
            Self::Mound => "what the mound really took: 2.6; empty leaves it",
            Self::When => "when it really was; empty leaves it",
            Self::Cup => "the cup it was really of; empty leaves it",
        })
    }

    fn mark(self, text: &str) -> Option<&str> {
        (self == Self::Cup).then_some(text)
    }
}

impl AmendField {
    /// What can be put right of an entry of such a kind.
    #[must_use]
    pub fn of_kind(what: &Happened) -> Vec<Self> {
        let own: &[Self] = match what {
            Happened::Mixed { .. } => &[Self::Volume, Self::Stirred, Self::Mound],
            Happened::Thinned { .. } | Happened::Added { .. } => &[Self::Value, Self::Mound],
            Happened::Read(_)
            | Happened::Stirred { .. }
            | Happened::Drawn { .. }
            | Happened::Looked(_)
            | Happened::Ended(_) => &[Self::Value],
            Happened::Capped | Happened::Opened => &[],
        };
        let moves: &[Self] = match what {
            Happened::Mixed { .. } => &[Self::When],
            _ => &[Self::When, Self::Cup],
        };
        [own, moves].concat()
    }

    fn what(
        typed: &Typed<Self>,
        was: &Happened,
        given: &Given<'_>,
    ) -> Result<Option<Happened>, Wrong> {
        let mut what = typed.read(Self::Value, |text| value(was, text, given))?;
        let so_far = |what: &Option<Happened>| what.clone().unwrap_or_else(|| was.clone());
        if let Some(is) = typed.read(Self::Stirred, |text| stirred(so_far(&what), text))? {
            what = Some(is);
        }
        if let Some(is) = typed.read(Self::Mound, |text| mound(so_far(&what), text))? {
            what = Some(is);
        }
        Ok(what)
    }

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
            what: Self::what(typed, &entry.what, given)?,
            volume: typed.read(Self::Volume, |text| mixed(&entry.what, text, given))?,
            at: typed.read(Self::When, |text| given.past(text))?,
            cup: typed.read(Self::Cup, |text| given.known.cup(text))?,
            even_so: false,
        })
    }
}

/// How much was mixed, of a mixing.
fn mixed(was: &Happened, text: &str, given: &Given<'_>) -> Result<Millilitres, Refusal> {
    match was {
        Happened::Mixed { .. } => given.volume(text, None),
        _ => Err(not_said(was, AmendField::Volume)),
    }
}

fn not_said(was: &Happened, field: AmendField) -> Refusal {
    Refusal::NotSaidOf {
        kind: was.kind(),
        field: field.label(),
    }
}

/// The same mixing with another time of stirring.
fn stirred(mut was: Happened, text: &str) -> Result<Happened, Refusal> {
    match &mut was {
        Happened::Mixed { stirred, .. } => *stirred = Some(parse_stirring(text)?),
        _ => return Err(not_said(&was, AmendField::Stirred)),
    }
    Ok(was)
}

/// The same happening with another reading taken with it.
fn mound(mut was: Happened, text: &str) -> Result<Happened, Refusal> {
    match &mut was {
        Happened::Mixed { reading, .. }
        | Happened::Thinned { reading, .. }
        | Happened::Added { reading, .. } => *reading = Some(first(reading.as_ref(), text)?),
        Happened::Read(reading) => *reading = read_anew(reading, text)?,
        _ => return Err(not_said(&was, AmendField::Mound)),
    }
    Ok(was)
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
