//! To add paint to a cup: from the shelf, or out of another cup.

use super::tend::WHEN;
use super::{Field, Given, Hint, Typed, Wrong};
use crate::studio::Refusal;
use crate::trade::amount::Measures;
use crate::trade::cup::{PutFrom, Reading};
use crate::trade::ids::CupId;
use crate::trade::moment::Moment;
use crate::trade::range::parse_mound;
use crate::trade::recipe::PartOf;
use crate::trade::units::{Density, Millilitres};

/// Paint that goes into a standing cup.
#[derive(Debug, Clone, PartialEq)]
pub struct AddOrder {
    /// The cup.
    pub cup: CupId,
    /// Where the paint comes from.
    pub from: PutFrom,
    /// How much; all of the other cup where it is left out.
    pub ml: Option<Millilitres>,
    /// The reading once it was stirred in.
    pub reading: Option<Reading>,
    /// When; now otherwise.
    pub at: Option<Moment>,
    /// Whether the other cup held more than was thought, and the reading is meant however far off.
    pub even_so: bool,
}

/// The fields of an adding.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AddField {
    /// A cup's mark, or a material's name.
    From,
    /// How much.
    Amount,
    /// The mound once it was stirred in.
    Mound,
    /// When.
    When,
}

impl Field for AddField {
    fn of(any: super::AnyField) -> Option<Self> {
        match any {
            super::AnyField::Add(field) => Some(field),
            _ => None,
        }
    }

    fn label(self) -> &'static str {
        match self {
            Self::From => "from",
            Self::Amount => "amount",
            Self::Mound => "mound",
            Self::When => "when",
        }
    }

    fn hint(self, measures: Measures) -> Hint {
        match (self, measures) {
            (Self::From, _) => Hint::Says("a cup by its mark, or a paint by its name"),
            (Self::Amount, Measures::Metric) => Hint::Says("12 ml; of a cup, empty for all of it"),
            (Self::Amount, Measures::UsCustomary) => {
                Hint::Says("0.4 fl oz; of a cup, empty for all of it")
            }
            (Self::Mound, _) => Hint::Says("seconds, once it was stirred in"),
            (Self::When, _) => Hint::Says(WHEN),
        }
    }

    fn mark(self, text: &str) -> Option<&str> {
        (self == Self::From).then_some(text)
    }
}

impl AddOrder {
    /// Reads what was typed of a cup.
    ///
    /// # Errors
    /// The first field that cannot be read, no source, and a material of which no amount is said.
    pub fn read(typed: &Typed<AddField>, cup: CupId, given: &Given<'_>) -> Result<Self, Wrong> {
        let missing = Refusal::Needed(AddField::From.label());
        let (from, density) = typed.need(AddField::From, missing, |text| source(text, given))?;
        let amount = |text: &str| given.volume(text, density);
        let ml = match from {
            PutFrom::Cup(_) => typed.read(AddField::Amount, amount)?,
            PutFrom::Material(_) => {
                Some(typed.need(AddField::Amount, Refusal::NoAmount, amount)?)
            }
        };
        let mound = typed.read(AddField::Mound, parse_mound)?;
        Ok(Self {
            cup,
            from,
            ml,
            reading: mound.map(Reading::Mound),
            at: typed.read(AddField::When, |text| given.past(text))?,
            even_so: false,
        })
    }
}

/// A living cup of a mark, else a material of a name, with its density.
fn source(text: &str, given: &Given<'_>) -> Result<(PutFrom, Option<Density>), Refusal> {
    let known = given.known;
    let by_mark = known.cup(text);
    let by_name = known.material(text);
    match (by_mark, by_name) {
        (Ok(cup), _) => Ok((PutFrom::Cup(cup.0), known.density_in(cup))),
        (_, Ok(material)) => {
            let density = known.density(PartOf::Material(material.id));
            Ok((PutFrom::Material(material.id), density))
        }
        // A text of two or three signs was a mark; any other was a name.
        (Err(no_cup @ (Refusal::Spent(..) | Refusal::UnknownMark(..))), _) => Err(no_cup),
        (_, Err(no_name)) => Err(no_name),
    }
}
