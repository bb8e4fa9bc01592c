//! A picture as goods: what it is called, what is asked for it, its sale.

use super::{Field, Given, Hint, Typed, Wrong};
use crate::studio::{Refusal, SaleOrder, TitleOrder};
use crate::trade::amount::Measures;
use crate::trade::money::parse_price;

/// The fields of a picture's page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TitleField {
    /// What it is called.
    Title,
    /// What is asked for it.
    Asked,
}

impl Field for TitleField {
    fn of(any: super::AnyField) -> Option<Self> {
        match any {
            super::AnyField::Title(field) => Some(field),
            _ => None,
        }
    }

    fn label(self) -> &'static str {
        match self {
            Self::Title => "title",
            Self::Asked => "price asked",
        }
    }

    fn hint(self, _: Measures) -> Hint {
        match self {
            Self::Title => Hint::Says("what the picture is called"),
            Self::Asked => Hint::SuchAs("240"),
        }
    }
}

impl TitleField {
    /// Reads what was typed of a picture. In a form an empty title is meant; a command leaves out what stays.
    ///
    /// # Errors
    /// A price that cannot be read.
    pub fn order(typed: &Typed<Self>, whole: bool) -> Result<TitleOrder, Wrong> {
        let said = typed.text(Self::Title).or(whole.then_some(""));
        Ok(TitleOrder {
            title: said.map(str::to_owned),
            asked: typed.read(Self::Asked, parse_price)?,
            even_so: false,
        })
    }
}

/// The fields of a sale.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SaleField {
    /// For how much.
    Price,
    /// To whom.
    Buyer,
    /// Where.
    Venue,
    /// When.
    When,
}

impl Field for SaleField {
    fn of(any: super::AnyField) -> Option<Self> {
        match any {
            super::AnyField::Sale(field) => Some(field),
            _ => None,
        }
    }

    fn label(self) -> &'static str {
        match self {
            Self::Price => "sold for",
            Self::Buyer => "to",
            Self::Venue => "where",
            Self::When => "when",
        }
    }

    fn hint(self, _: Measures) -> Hint {
        match self {
            Self::Price => Hint::SuchAs("240"),
            Self::Buyer => Hint::Says("a name stays in the studio"),
            Self::Venue => Hint::SuchAs("open studio"),
            Self::When => Hint::Says("a day, or a time; empty is now"),
        }
    }
}

impl SaleField {
    /// Reads what was typed of a sale.
    ///
    /// # Errors
    /// No price, or a field that cannot be read.
    pub fn order(typed: &Typed<Self>, given: &Given<'_>) -> Result<SaleOrder, Wrong> {
        Ok(SaleOrder {
            anew: false,
            even_so: false,
            price: typed.need(
                Self::Price,
                Refusal::Needed(Self::Price.label()),
                parse_price,
            )?,
            at: typed.read(Self::When, |text| given.day_or_past(text))?,
            buyer: typed.note(Self::Buyer),
            venue: typed.note(Self::Venue),
        })
    }
}
