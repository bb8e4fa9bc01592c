//! To buy a material, or to count what is left of it.

use super::field::wrong;
use super::{Field, Given, Hint, Typed, Wrong};
use crate::studio::Refusal;
use crate::trade::amount::Measures;
use crate::trade::ids::MaterialId;
use crate::trade::material::Material;
use crate::trade::money::parse_price;
use crate::trade::range::parse_packs;
use crate::trade::units::Millilitres;
use rust_decimal::Decimal;

/// How much was bought.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Bought {
    /// So many packs, each of what one pack holds.
    Packs(f64),
    /// So much in all.
    Amount(Millilitres),
}

/// A purchase.
#[derive(Debug, Clone, PartialEq)]
pub struct BoughtOrder {
    /// Of which material.
    pub material: MaterialId,
    /// How much.
    pub much: Bought,
    /// What one pack cost, or all of the amount; as before otherwise.
    pub price: Option<Decimal>,
    /// Whether it is kept though the price is far from the one before.
    pub even_so: bool,
}

/// A count of the shelf.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CountedOrder {
    /// Of which material.
    pub material: MaterialId,
    /// How much is there; nothing is a count too.
    pub ml: Millilitres,
    /// Whether it is kept though it is far more or less than was thought to be there.
    pub even_so: bool,
}

/// The fields of a purchase.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BoughtField {
    /// The material's name.
    Material,
    /// How many packs; one otherwise.
    Packs,
    /// How much in all, in place of packs.
    Amount,
    /// What one pack cost, or all of the amount.
    Price,
}

/// The fields of a count.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CountedField {
    /// The material's name.
    Material,
    /// How much is there.
    Amount,
}

impl Field for BoughtField {
    fn of(any: super::AnyField) -> Option<Self> {
        match any {
            super::AnyField::Bought(field) => Some(field),
            _ => None,
        }
    }

    fn label(self) -> &'static str {
        match self {
            Self::Material => "material",
            Self::Packs => "packs",
            Self::Amount => "amount",
            Self::Price => "price",
        }
    }

    fn hint(self, measures: Measures) -> Hint {
        Hint::Says(match (self, measures) {
            (Self::Material, _) => WHICH,
            (Self::Packs, _) => "how many; empty for one",
            (Self::Amount, Measures::Metric) => "500 ml in all; empty for whole packs",
            (Self::Amount, Measures::UsCustomary) => "16 fl oz in all; empty for whole packs",
            (Self::Price, _) => "of a pack, or of the amount: 8.90",
        })
    }
}

impl Field for CountedField {
    fn of(any: super::AnyField) -> Option<Self> {
        match any {
            super::AnyField::Counted(field) => Some(field),
            _ => None,
        }
    }

    fn label(self) -> &'static str {
        match self {
            Self::Material => "material",
            Self::Amount => "amount",
        }
    }

    fn hint(self, measures: Measures) -> Hint {
        Hint::Says(match (self, measures) {
            (Self::Material, _) => WHICH,
            (Self::Amount, Measures::Metric) => "what is there: 180 ml; 0 for none",
            (Self::Amount, Measures::UsCustomary) => "what is there: 6 fl oz; 0 for none",
        })
    }
}

/// How a name is chosen out of a list.
pub(super) const WHICH: &str = "type some letters, Enter takes it";

impl BoughtOrder {
    /// So many packs of a material, at the price there was before.
    #[must_use]
    pub const fn packs(material: MaterialId, packs: f64) -> Self {
        Self {
            material,
            much: Bought::Packs(packs),
            price: None,
            even_so: false,
        }
    }

    /// Reads what was typed.
    ///
    /// # Errors
    /// The first field that cannot be read, and packs beside an amount.
    pub fn read(typed: &Typed<BoughtField>, given: &Given<'_>) -> Result<Self, Wrong> {
        let material = material(typed, BoughtField::Material, given)?;
        let packs = typed.read(BoughtField::Packs, parse_packs)?;
        let amount = typed.read(BoughtField::Amount, |text| {
            given.volume(text, material.density)
        })?;
        let much = match (packs, amount) {
            (Some(_), Some(_)) => return Err(wrong(BoughtField::Amount, Refusal::PacksAndAmount)),
            (packs, None) => Bought::Packs(packs.unwrap_or(1.0)),
            (None, Some(ml)) => Bought::Amount(ml),
        };
        Ok(Self {
            material: MaterialId(material.id),
            much,
            price: typed.read(BoughtField::Price, parse_price)?,
            even_so: false,
        })
    }
}

impl CountedOrder {
    /// Reads what was typed.
    ///
    /// # Errors
    /// The first field that cannot be read, and no amount at all.
    pub fn read(typed: &Typed<CountedField>, given: &Given<'_>) -> Result<Self, Wrong> {
        let material = material(typed, CountedField::Material, given)?;
        let missing = Refusal::Needed(CountedField::Amount.label());
        let ml = typed.need(CountedField::Amount, missing, |text| {
            given.volume_or_none(text, material.density)
        })?;
        Ok(Self {
            material: MaterialId(material.id),
            ml,
            even_so: false,
        })
    }
}

fn material<'a, F: Field>(
    typed: &Typed<F>,
    field: F,
    given: &Given<'a>,
) -> Result<&'a Material, Wrong> {
    let missing = Refusal::Needed(field.label());
    typed.need(field, missing, |text| given.known.material(text))
}
