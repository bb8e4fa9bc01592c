//! What a mixture is made of: volumes of its parts, down to materials, and what is known of their density.

use crate::logbook::Reader;
use crate::numbers::cost::{self, Money, Purchase};
use crate::numbers::density;
use crate::studio::cups::bench::RecipeBook;
use crate::studio::cups::mix::MixPart;
use crate::studio::{Answer, Damage, Refusal, RowFault, StoreError};
use crate::trade::cup::{Cup, Put, PutFrom};
use crate::trade::material::Material;
use crate::trade::recipe::{self, LayerKind, PartOf, Variant};
use crate::trade::units::{Density, Grams, Millilitres};
use rust_decimal::Decimal;
use std::collections::HashMap;

/// All mixtures of a studio.
#[derive(Debug, Clone, Default)]
pub(crate) struct Mixture {
    materials: HashMap<i64, Material>,
    /// Recipes and variants.
    pub(crate) cards: RecipeBook,
    newest: HashMap<i64, i64>,
}

impl Mixture {
    /// Reads every material, recipe and variant.
    pub(crate) fn read(read: &Reader<'_>) -> Answer<Self> {
        let cards = RecipeBook::read(read)?;
        let mut newest: HashMap<i64, (i64, i64)> = HashMap::new();
        for variant in cards.variants.values() {
            let one = newest
                .entry(variant.recipe)
                .or_insert((variant.number, variant.id));
            *one = (*one).max((variant.number, variant.id));
        }
        let newest: HashMap<i64, i64> = newest
            .into_iter()
            .map(|(recipe, (_, variant))| (recipe, variant))
            .collect();
        refuse_too_deep(&cards, &newest)?;
        let materials = read
            .materials()?
            .into_iter()
            .map(|one| (one.id, one))
            .collect();
        Ok(Self {
            materials,
            cards,
            newest,
        })
    }

    /// The recipe a cup was mixed by.
    pub(crate) fn recipe_of(&self, cup: &Cup) -> Option<i64> {
        self.cards
            .variants
            .get(&cup.variant)
            .map(|variant| variant.recipe)
    }

    /// What a part is called.
    pub(crate) fn name(&self, of: PartOf) -> String {
        match of {
            PartOf::Material(id) => self.materials.get(&id).map(|one| one.name.clone()),
            PartOf::Recipe(id) => self.cards.recipes.get(&id).map(|one| one.name.clone()),
        }
        .unwrap_or_default()
    }

    /// Every material.
    pub(crate) fn all_materials(&self) -> impl Iterator<Item = &Material> + Clone {
        self.materials.values()
    }

    /// A material by its number.
    pub(crate) fn material(&self, id: i64) -> Option<&Material> {
        self.materials.get(&id)
    }

    /// A recipe's newest variant.
    pub(crate) fn newest(&self, recipe: i64) -> Option<&Variant> {
        self.cards.variants.get(self.newest.get(&recipe)?)
    }

    /// One line of what goes in.
    pub(crate) fn line(&self, of: PartOf, ml: Millilitres) -> MixPart {
        let g: Option<Grams> = self.density(of).map(|density| ml.at(density));
        MixPart {
            name: self.name(of),
            ml,
            g,
            from: None,
            apart: false,
        }
    }

    /// A part's density; `None` where that of anything in it is unknown.
    ///
    /// Volumes are taken to add up: by volume it is the mean by volume, by weight the harmonic mean by weight.
    pub(crate) fn density(&self, of: PartOf) -> Option<Density> {
        match of {
            PartOf::Material(id) => self.materials.get(&id)?.density,
            PartOf::Recipe(id) => self.density_of(self.newest(id)?),
        }
    }

    /// A variant's density; `None` where that of anything in it is unknown.
    pub(crate) fn density_of(&self, variant: &Variant) -> Option<Density> {
        let parts = variant.parts.iter();
        let parts = parts.map(|part| (part.share, self.density(part.of)));
        if variant.by_weight {
            let weighed: Vec<_> = parts.map(|(share, rho)| (Grams(share), rho)).collect();
            return density::of_masses(&weighed);
        }
        let poured: Vec<_> = parts
            .map(|(share, rho)| (Millilitres(share), rho))
            .collect();
        density::of_volumes(&poured)
    }

    /// The volumes of a variant's parts that make up a total.
    pub(crate) fn volumes(
        &self,
        variant: &Variant,
        total: Millilitres,
    ) -> Answer<Vec<(PartOf, Millilitres)>> {
        let by_volume = |part: &crate::trade::recipe::Part| {
            if !variant.by_weight {
                return Ok(part.share);
            }
            let density = self.density(part.of);
            density
                .map(|density| part.share / density.get())
                .ok_or_else(|| self.no_density(part.of))
        };
        let shares: Vec<f64> = variant
            .parts
            .iter()
            .map(by_volume)
            .collect::<Result<_, _>>()?;
        let whole: f64 = shares.iter().sum();
        if whole <= 0.0 {
            return Err(Refusal::NoParts.into());
        }
        let parts = variant.parts.iter().zip(shares);
        Ok(parts
            .map(|(part, share)| (part.of, total * (share / whole)))
            .collect())
    }

    /// Where in the stack a variant goes.
    pub(crate) fn layer_of(&self, variant: i64) -> Option<LayerKind> {
        let recipe = self.cards.variants.get(&variant)?.recipe;
        self.cards.recipes.get(&recipe).map(|recipe| recipe.layer)
    }

    /// What a volume of a part costs; `None` where the price or pack of anything in it is unknown.
    pub(crate) fn cost(&self, of: PartOf, ml: Millilitres) -> Option<Decimal> {
        match of {
            PartOf::Material(id) => {
                let (price, volume) = self.materials.get(&id)?.paid()?;
                let price = Money(price);
                cost::of_part(ml, Purchase { price, volume })
                    .ok()
                    .map(|cost| cost.0)
            }
            PartOf::Recipe(id) => {
                let parts = self.volumes(self.newest(id)?, ml).ok()?;
                let costs = parts.into_iter().map(|(of, ml)| self.cost(of, ml));
                summed(costs)
            }
        }
    }

    fn no_density(&self, of: PartOf) -> Refusal {
        Refusal::NoDensity(self.name(of))
    }

    /// Takes a volume of a part apart into materials and adds them to what is put in.
    ///
    /// It ends because a recipe that leads to itself is refused when the recipes are read.
    pub(crate) fn expand(&self, of: PartOf, ml: Millilitres, puts: &mut Vec<Put>) -> Answer<()> {
        match of {
            PartOf::Material(id) => {
                add_put(
                    puts,
                    Put {
                        from: PutFrom::Material(id),
                        ml: ml.stored(),
                    },
                );
                Ok(())
            }
            PartOf::Recipe(id) => {
                let variant = self.newest(id).ok_or(Refusal::NoParts)?;
                for (part, ml) in self.volumes(variant, ml)? {
                    self.expand(part, ml, puts)?;
                }
                Ok(())
            }
        }
    }
}

/// No painter mixes a mixture of mixtures so deep (our own choice): a file that says so was made by another hand.
const MOST_DEEP: usize = 32;

fn refuse_too_deep(cards: &RecipeBook, newest: &HashMap<i64, i64>) -> Answer<()> {
    let parts = |(recipe, variant): (&i64, &i64)| {
        let variant = cards.variants.get(variant)?;
        Some((*recipe, recipe::recipes_in(&variant.parts).collect()))
    };
    let made_of = newest.iter().filter_map(parts).collect();
    match recipe::too_deep(&made_of, MOST_DEEP) {
        None => Ok(()),
        Some(id) => {
            let deep = Damage::row("recipe", id, RowFault::TooDeep(MOST_DEEP));
            Err(StoreError::Damaged(deep).into())
        }
    }
}

/// A sum of costs; `None` where one is unknown, or no number holds their sum.
pub(crate) fn summed(mut costs: impl Iterator<Item = Option<Decimal>>) -> Option<Decimal> {
    costs.try_fold(Decimal::ZERO, |sum, cost| sum.checked_add(cost?))
}

/// Adds a put, or more to the put of the same thing.
pub(crate) fn add_put(puts: &mut Vec<Put>, new: Put) {
    match puts.iter_mut().find(|put| put.from == new.from) {
        Some(put) => put.ml += new.ml,
        None if new.ml.get() > 0.0 => puts.push(new),
        None => {}
    }
}

/// The density of what a cup holds, from what really went in; `None` where that of anything in it is unknown.
pub(crate) fn cup_density(
    read: &Reader<'_>,
    mixture: &Mixture,
    cup: &Cup,
) -> Answer<Option<Density>> {
    weighed(read, mixture, cup.id, 0)
}

// A cup may be filled from a cup that was filled from a cup; the guard only stops a damaged store.
fn weighed(read: &Reader<'_>, mixture: &Mixture, cup: i64, depth: u8) -> Answer<Option<Density>> {
    let mut parts = Vec::new();
    for put in read.puts(cup)? {
        let density = match put.from {
            PutFrom::Material(id) => mixture.material(id).and_then(|one| one.density),
            PutFrom::Cup(source) if depth < 32 => weighed(read, mixture, source, depth + 1)?,
            PutFrom::Cup(_) => None,
        };
        parts.push((put.ml, density));
    }
    Ok(density::of_volumes(&parts))
}
