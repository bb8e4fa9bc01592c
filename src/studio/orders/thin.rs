//! To thin a cup.

use super::field::wrong;
use super::tend::WHEN;
use super::{Field, Given, Hint, TendOrder, Typed, Wrong};
use crate::studio::Refusal;
use crate::trade::amount::Measures;
use crate::trade::cup::Reading;
use crate::trade::ids::{CupId, MaterialId};
use crate::trade::range::parse_mound;
use crate::trade::recipe::PartOf;

/// The fields of a thinning.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ThinField {
    /// How much.
    Amount,
    /// With which material; the one that the cup was thinned with, or the shelf's only one, otherwise.
    With,
    /// The mound once it was stirred in.
    Mound,
    /// A flow cup in place of a mound.
    FlowCup,
    /// The flow cup's time.
    Efflux,
    /// Gently, or hard.
    Stirred,
    /// When.
    When,
}

impl Field for ThinField {
    fn of(any: super::AnyField) -> Option<Self> {
        match any {
            super::AnyField::Thin(field) => Some(field),
            _ => None,
        }
    }

    fn label(self) -> &'static str {
        match self {
            Self::Amount => "amount",
            Self::With => "with",
            Self::Mound => "mound",
            Self::FlowCup => "flow cup",
            Self::Efflux => "efflux",
            Self::Stirred => "stirred",
            Self::When => "when",
        }
    }

    fn hint(self, measures: Measures) -> Hint {
        match (self, measures) {
            (Self::Amount, Measures::Metric) => Hint::SuchAs("3 ml"),
            (Self::Amount, Measures::UsCustomary) => Hint::SuchAs("0.1 fl oz"),
            (Self::With, _) => Hint::Says("which thinner"),
            (Self::Mound, _) => Hint::Says("seconds, once it was stirred in"),
            (Self::FlowCup, _) => Hint::Says("in place of a mound, as iso4"),
            (Self::Efflux, _) => Hint::SuchAs("38 s"),
            (Self::Stirred, _) => Hint::Says("hard: its rest starts anew"),
            (Self::When, _) => Hint::Says(WHEN),
        }
    }
}

impl ThinField {
    /// How thinner may be stirred in, the usual way first.
    pub const STIRS: [&str; 2] = ["gently", Self::HARD];
    /// Stirred so that its rest starts anew.
    pub const HARD: &str = "hard";

    /// Reads what was typed of a cup.
    ///
    /// # Errors
    /// The first field that cannot be read, and no amount at all.
    pub fn order(typed: &Typed<Self>, cup: CupId, given: &Given<'_>) -> Result<TendOrder, Wrong> {
        let known = given.known;
        let named = typed.read(Self::With, |text| {
            known.material(text).map(|one| MaterialId(one.id))
        })?;
        let with = match named {
            Some(named) => Some(named),
            None => known
                .thinner_for(cup)
                .map_err(|why| wrong(Self::With, why))?,
        };
        let density = with.and_then(|one| known.density(PartOf::Material(one.0)));
        let missing = Refusal::Needed(Self::Amount.label());
        let ml = typed.need(Self::Amount, missing, |text| given.volume(text, density))?;
        let hard = typed.text(Self::Stirred) == Some(Self::HARD);
        let reading = reading(typed, given)?;
        let at = typed.read(Self::When, |text| given.past(text))?;
        Ok(TendOrder::thin(cup, ml, with, hard, reading).at(at))
    }
}

fn reading(typed: &Typed<ThinField>, given: &Given<'_>) -> Result<Option<Reading>, Wrong> {
    if let (Some(cup), Some(efflux)) = (
        typed.text(ThinField::FlowCup),
        typed.text(ThinField::Efflux),
    ) {
        let read = given.flow_cup(cup, efflux);
        return read.map(Some).map_err(|why| wrong(ThinField::FlowCup, why));
    }
    let mound = typed.read(ThinField::Mound, parse_mound)?;
    Ok(mound.map(Reading::Mound))
}
