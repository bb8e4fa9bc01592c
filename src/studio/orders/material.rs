//! To write a material down, or to change what is known of it.

use super::field::{word, wrong};
use super::{Field, Given, Hint, Typed, Wrong};
use crate::studio::{Refusal, WordOf};
use crate::trade::amount::{Measures, show_volume};
use crate::trade::colour::Colour;
use crate::trade::material::{Fact, Material, MaterialKind};
use crate::trade::money::parse_price;
use crate::trade::range::parse_density;
use crate::trade::units::{Density, Millilitres};
use rust_decimal::Decimal;

/// What is known of a material; what is left out stays as it is.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct MaterialOrder {
    /// A new name.
    pub name: Option<String>,
    /// What it is for; a new material needs one.
    pub kind: Option<MaterialKind>,
    /// What one pack holds.
    pub pack_ml: Option<Millilitres>,
    /// What one pack costs.
    pub price: Option<Decimal>,
    /// Its density.
    pub density: Option<Density>,
    /// The pigment's Colour Index generic name.
    pub colour_index: Option<String>,
    /// What its label warns of.
    pub hazard: Option<String>,
    /// Its colour, thick and dry.
    pub colour: Option<Colour>,
    /// What is known no more.
    pub forget: Vec<Fact>,
}

/// The fields of a material.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MaterialField {
    /// Its name.
    Name,
    /// What it is for.
    Kind,
    /// What one pack holds.
    Pack,
    /// What one pack costs.
    Price,
    /// Its density.
    Density,
    /// Its pigment's Colour Index generic name.
    ColourIndex,
    /// What its label warns of.
    Hazard,
    /// Its colour, thick and dry.
    Colour,
    /// What is known no more; may be said several times.
    Forget,
}

impl Field for MaterialField {
    fn of(any: super::AnyField) -> Option<Self> {
        match any {
            super::AnyField::Material(field) => Some(field),
            _ => None,
        }
    }

    fn label(self) -> &'static str {
        match self {
            Self::Name => "name",
            Self::Kind => "kind",
            Self::Pack => "pack",
            Self::Price => "price",
            Self::Density => "density",
            Self::ColourIndex => "colour index",
            Self::Hazard => "hazard",
            Self::Colour => "colour",
            Self::Forget => "forget",
        }
    }

    fn hint(self, measures: Measures) -> Hint {
        Hint::Says(match (self, measures) {
            (Self::Name, _) => "as you call it",
            (Self::Kind, _) => "what it is for",
            (Self::Pack, Measures::Metric) => "what one pack holds: 250 ml",
            (Self::Pack, Measures::UsCustomary) => "what one pack holds: 8 fl oz",
            (Self::Price, _) => "what one pack costs: 8.90",
            (Self::Density, _) => "in g/ml, for weights: 1.24",
            (Self::ColourIndex, _) => "of its pigment, on the label: PW6",
            (Self::Hazard, _) => "what its label warns of, in its words",
            (Self::Colour, _) => "thick and dry: dark blue, or #1e5ab4",
            (Self::Forget, _) => "what is known no more",
        })
    }
}

impl MaterialField {
    /// What a form asks for.
    pub const FORM: [Self; 8] = [
        Self::Name,
        Self::Kind,
        Self::Pack,
        Self::Price,
        Self::Density,
        Self::ColourIndex,
        Self::Hazard,
        Self::Colour,
    ];

    /// What a form has in the field of a material that is to be changed; empty where it is not known.
    #[must_use]
    pub fn offer(self, of: &Material, measures: Measures) -> String {
        let offer = match self {
            Self::Name => Some(of.name.clone()),
            Self::Kind => Some(of.kind.to_string()),
            Self::Pack => of.pack_ml.map(|ml| show_volume(ml, measures)),
            Self::Price => of.price.map(|price| price.to_string()),
            Self::Density => of.density.map(|one| one.get().to_string()),
            Self::ColourIndex => of.colour_index.clone(),
            Self::Hazard => of.hazard.clone(),
            Self::Colour => of.colour.map(|colour| colour.to_string()),
            Self::Forget => None,
        };
        offer.unwrap_or_default()
    }

    /// What is forgotten where the field is emptied.
    const fn fact(self) -> Option<Fact> {
        match self {
            Self::Name | Self::Kind | Self::Forget => None,
            Self::Pack => Some(Fact::Pack),
            Self::Price => Some(Fact::Price),
            Self::Density => Some(Fact::Density),
            Self::ColourIndex => Some(Fact::ColourIndex),
            Self::Hazard => Some(Fact::Hazard),
            Self::Colour => Some(Fact::Colour),
        }
    }
}

impl MaterialOrder {
    /// Reads what was typed of a material that is new, or of which `before` is known.
    ///
    /// # Errors
    /// The first field that cannot be read.
    pub fn read(
        typed: &Typed<MaterialField>,
        given: &Given<'_>,
        before: Option<&Material>,
    ) -> Result<Self, Wrong> {
        let density = typed.read(MaterialField::Density, parse_density)?;
        let weighed_by = density.or(before.and_then(|one| one.density));
        let forget = typed.all(MaterialField::Forget).map(fact);
        let forget = forget.collect::<Result<_, _>>();
        Ok(Self {
            name: typed.text(MaterialField::Name).map(str::to_owned),
            kind: typed.read(MaterialField::Kind, kind)?,
            pack_ml: typed.read(MaterialField::Pack, |text| given.volume(text, weighed_by))?,
            price: typed.read(MaterialField::Price, parse_price)?,
            density,
            colour_index: typed.text(MaterialField::ColourIndex).map(str::to_owned),
            hazard: typed.note(MaterialField::Hazard),
            colour: typed.read(MaterialField::Colour, Colour::parse)?,
            forget: forget.map_err(|why| wrong(MaterialField::Forget, why))?,
        })
    }

    /// As [`MaterialOrder::read`], of a new material, beside its name.
    ///
    /// # Errors
    /// As there, and where there is no name.
    pub fn new(typed: &Typed<MaterialField>, given: &Given<'_>) -> Result<(String, Self), Wrong> {
        let mut order = Self::read(typed, given, None)?;
        let missing = || Refusal::Needed(MaterialField::Name.label());
        let name = order.name.take();
        let name = name.ok_or_else(|| wrong(MaterialField::Name, missing()))?;
        Ok((name, order))
    }

    /// Reads a form in which all that was known before stood: what stands there still is not written again,
    /// rounded as it was shown; what was emptied is known no more.
    ///
    /// # Errors
    /// As [`MaterialOrder::read`].
    pub fn edited(
        mut typed: Typed<MaterialField>,
        given: &Given<'_>,
        before: &Material,
    ) -> Result<Self, Wrong> {
        for field in MaterialField::FORM {
            let emptied = typed.leave_out(field, &field.offer(before, given.known.measures()));
            if let Some(fact) = field.fact().filter(|_| emptied) {
                typed = typed.with(MaterialField::Forget, fact.to_string());
            }
        }
        Self::read(&typed, given, Some(before))
    }
}

fn kind(text: &str) -> Result<MaterialKind, Refusal> {
    word(WordOf::MaterialKind, text, MaterialKind::parse)
}

fn fact(text: &str) -> Result<Fact, Refusal> {
    word(WordOf::Fact, text, Fact::parse)
}
