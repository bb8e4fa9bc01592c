//! The colour that a recipe's parts make, as far as the colours of its materials are known. See `numbers::paint` for what it
//! does not know.

use crate::numbers::paint;
use crate::studio::cups::mixture::Mixture;
use crate::studio::orders::Known;
use crate::trade::colour::Colour;
use crate::trade::ids::VariantId;
use crate::trade::material::{Material, MaterialKind};
use crate::trade::recipe::{Part, PartOf, Variant};
use crate::trade::units::Density;

/// What is mixed, its parts by weight.
#[derive(Default)]
struct Palette {
    parts: Vec<(f64, Colour)>,
    /// A paint or base whose colour nobody said.
    unknown: bool,
}

impl Mixture {
    /// The colour of a part; `None` where that of a paint or base in it is unknown, or it has none.
    pub(crate) fn colour(&self, of: PartOf) -> Option<Colour> {
        match of {
            PartOf::Material(id) => self.material(id)?.colour,
            PartOf::Recipe(id) => self.colour_of(self.newest(id)?),
        }
    }

    /// The colour of a variant, as [`Mixture::colour`].
    pub(crate) fn colour_of(&self, variant: &Variant) -> Option<Colour> {
        let mut palette = Palette::default();
        self.lay_out(variant, 1.0, &mut palette);
        let parts = (!palette.unknown).then_some(palette.parts)?;
        paint::mixed(&parts)
    }

    /// Takes so much of a variant apart. It ends because a recipe that leads to itself is refused when the recipes are read.
    fn lay_out(&self, variant: &Variant, amount: f64, on: &mut Palette) {
        let weights = self.weights(variant);
        let whole: f64 = weights.iter().sum();
        for (part, weight) in variant.parts.iter().zip(weights) {
            let weight = amount * weight / whole;
            match part.of {
                PartOf::Material(id) => self
                    .material(id)
                    .into_iter()
                    .for_each(|one| on.put(one, weight)),
                PartOf::Recipe(id) => self
                    .newest(id)
                    .into_iter()
                    .for_each(|one| self.lay_out(one, weight, on)),
            }
        }
    }

    /// What its parts weigh, one to another; by volume where a density is not known.
    fn weights(&self, variant: &Variant) -> Vec<f64> {
        let shares = variant.parts.iter().map(|part| part.share);
        let density = |of| self.density(of).or_else(|| self.clear(of));
        let weight = |part: &Part| Some(part.share * density(part.of)?.get());
        let weighed: Option<Vec<f64>> = variant.parts.iter().map(weight).collect();
        match weighed {
            Some(weighed) if !variant.by_weight => weighed,
            _ => shares.collect(),
        }
    }

    /// What a medium or thinner of no colour weighs where nobody said: as water (our own choice), for it moves no hue.
    fn clear(&self, of: PartOf) -> Option<Density> {
        let PartOf::Material(id) = of else {
            return None;
        };
        let material = self.material(id)?;
        (material.colour.is_none() && !covers(material)).then_some(Density(1.0))
    }
}

/// Whether it is there for its colour.
const fn covers(material: &Material) -> bool {
    matches!(material.kind, MaterialKind::Paint | MaterialKind::Base)
}

impl Palette {
    /// A medium, varnish or thinner of no colour is clear: it moves no hue.
    fn put(&mut self, material: &Material, weight: f64) {
        match material.colour {
            Some(colour) => self.parts.push((weight, colour)),
            None => self.unknown |= covers(material),
        }
    }
}

impl Known {
    /// Whether the colour of anything is known.
    #[must_use]
    pub fn any_colour(&self) -> bool {
        let mut all = self.mixture().all_materials();
        all.any(|one| one.colour.is_some())
    }

    /// The colour that a variant's parts make; `None` where it cannot be told.
    #[must_use]
    pub fn colour(&self, variant: VariantId) -> Option<Colour> {
        self.mixture()
            .colour_of(self.mixture().cards.variants.get(&variant.0)?)
    }

    /// The colour of a variant by its recipe's name and its number.
    #[must_use]
    pub fn colour_of(&self, recipe: &str, number: i64) -> Option<Colour> {
        let recipe = self.recipe(recipe).ok()?;
        self.colour(self.variant(recipe, Some(number)).ok()?)
    }

    /// The colour of the newest variant of the recipe of a name, or of the material of that name.
    #[must_use]
    pub fn colour_named(&self, name: &str) -> Option<Colour> {
        self.mixture().colour(self.part(name).ok()?)
    }
}
