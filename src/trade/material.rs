//! Anything bought for the studio, and the packs it comes in.

use crate::trade::colour::Colour;
use crate::trade::units::{Density, Millilitres};
use crate::trade::words::word_enum;
use rust_decimal::Decimal;
use serde::Serialize;

word_enum! {
    /// What a material is for.
    MaterialKind {
        /// Colour, from a tube or fluid.
        Paint = "paint",
        /// White or coloured ground paint for the lowest coat.
        Base = "base",
        /// A varnish, as a part or over the dry picture.
        Varnish = "varnish",
        /// Keeps a mix from separating.
        Stabiliser = "stabiliser",
        /// Makes paint flow and level: a pouring medium or a flow aid.
        Conditioner = "conditioner",
        /// Water or another liquid that thins.
        Thinner = "thinner",
        /// A few drops of anything else.
        Additive = "additive",
    }
}

word_enum! {
    /// What may be known of a material, and forgotten again.
    Fact {
        /// What one pack holds.
        Pack = "pack",
        /// What one pack costs.
        Price = "price",
        /// Its density.
        Density = "density",
        /// Its pigment's Colour Index name.
        ColourIndex = "colour-index",
        /// What its label warns of.
        Hazard = "hazard",
        /// Its colour.
        Colour = "colour",
    }
}

/// A material as the studio knows it. Unknown is `None`, never zero.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Material {
    /// The store's number.
    pub id: i64,
    /// Its name, unique whatever the case.
    pub name: String,
    /// What it is for.
    pub kind: MaterialKind,
    /// What one pack holds.
    pub pack_ml: Option<Millilitres>,
    /// What one pack costs, in the studio's currency.
    pub price: Option<Decimal>,
    /// Its density.
    pub density: Option<Density>,
    /// The pigment's Colour Index generic name, such as `PW6`.
    pub colour_index: Option<String>,
    /// What its label warns of, in the label's words.
    pub hazard: Option<String>,
    /// Its colour, thick and dry.
    pub colour: Option<Colour>,
    /// What the price was paid for, where that was not one pack.
    pub priced_ml: Option<Millilitres>,
    /// Whether it is no longer offered.
    pub retired: bool,
}

impl Material {
    /// What was paid and for how much of it. Water from the tap costs nothing unless a price is given; `None` where
    /// nothing is known.
    #[must_use]
    pub fn paid(&self) -> Option<(Decimal, Millilitres)> {
        if self.price.is_none() && self.is_water() {
            return Some((Decimal::ZERO, Millilitres(1.0)));
        }
        Some((self.price?, self.priced_ml.or(self.pack_ml)?))
    }

    /// The price of one millilitre, where it is known.
    #[must_use]
    pub fn price_per_ml(&self) -> Option<Decimal> {
        let (price, of) = self.paid()?;
        price.checked_div(Decimal::from_f64_retain(of.get())?)
    }

    /// Whether it is a thinner that is called water, of whatever kind.
    #[must_use]
    pub fn is_water(&self) -> bool {
        let mut words = self.name.split(|letter: char| !letter.is_alphabetic());
        self.kind == MaterialKind::Thinner && words.any(|word| word.eq_ignore_ascii_case("water"))
    }
}
