//! What names and marks stand for, read from the store once for a form or a command.

use crate::logbook::Reader;
use crate::studio::cups::mixture::Mixture;
use crate::studio::lookup::{self, Offered, called, near_of, parse_mark};
use crate::studio::orders::split_part;
use crate::studio::{Answer, LayerOrder, NameOf, Refusal, Studio};
use crate::trade::amount::{Amount, Measures};
use crate::trade::cup::{Cup, Entry};
use crate::trade::ids::{CupId, MaterialId, RecipeId, VariantId};
use crate::trade::mark::Mark;
use crate::trade::material::{Material, MaterialKind};
use crate::trade::recipe::{Part, PartOf, Recipe, Variant};
use crate::trade::units::{Density, Millilitres};
use std::collections::HashMap;

/// What names and marks stand for, and in which measures amounts are said.
///
/// A name is resolved by one function alone: the name itself whatever its case, else the only one that begins so,
/// else it is refused with those near it.
#[derive(Debug, Clone, Default)]
pub struct Known {
    mixture: Mixture,
    /// The cups that live, and the last that bore each mark that was asked for.
    cups: Vec<Cup>,
    /// What each living cup was last thinned with, where that was said.
    usual_thinners: HashMap<i64, MaterialId>,
}

impl Studio {
    /// What names and marks stand for now; of cups those that live, and the last that bore each of `marks`.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn known<'a>(&self, marks: impl IntoIterator<Item = &'a str>) -> Answer<Known> {
        let read = self.book.read()?;
        // An entry that cannot be learned from hides no name.
        let mixture = match self.memory.recall(&read) {
            Ok(learned) => learned.mixture.clone(),
            Err(_) => Mixture::read(&read)?,
        };
        Ok(Known {
            usual_thinners: usual_thinners(&read, &mixture)?,
            mixture,
            cups: cups(&read, marks)?,
        })
    }
}

impl Known {
    /// What names stand for inside a commit; no cups.
    pub(in crate::studio) fn within(read: &Reader<'_>) -> Answer<Self> {
        Ok(Self {
            mixture: Mixture::read(read)?,
            ..Self::default()
        })
    }
}

/// What each living cup was last thinned with; nothing where there is no choice.
fn usual_thinners(read: &Reader<'_>, mixture: &Mixture) -> Answer<HashMap<i64, MaterialId>> {
    let thinner = |one: &&Material| one.kind == MaterialKind::Thinner && !one.retired;
    if mixture.all_materials().filter(thinner).nth(1).is_none() {
        return Ok(HashMap::new());
    }
    let last = |entries: Vec<Entry>| {
        let mut newest = entries.iter().rev();
        let with = newest.find_map(|entry| entry.what.thinned()?.1)?;
        let offered = mixture.material(with).filter(|one| !one.retired)?;
        Some(MaterialId(offered.id))
    };
    let all = read.entries_of_living()?.into_iter();
    Ok(all
        .filter_map(|(cup, entries)| Some((cup, last(entries)?)))
        .collect())
}

fn cups<'a>(read: &Reader<'_>, marks: impl IntoIterator<Item = &'a str>) -> Answer<Vec<Cup>> {
    let mut cups = read.living_cups()?;
    for mark in marks.into_iter().filter_map(|text| parse_mark(text).ok()) {
        let asked = read.cup_marked(&mark)?;
        cups.extend(asked.filter(|cup| cup.spent));
    }
    Ok(cups)
}

impl Known {
    /// What everything is made of.
    pub(in crate::studio) const fn mixture(&self) -> &Mixture {
        &self.mixture
    }

    /// The studio's measures.
    #[must_use]
    pub const fn measures(&self) -> Measures {
        self.mixture.cards.measures
    }

    /// The recipe of a name.
    ///
    /// # Errors
    /// Where there is none; so of all that are found by name below.
    pub fn recipe(&self, name: &str) -> Result<RecipeId, Refusal> {
        let all = self.mixture.cards.recipes.values();
        called(NameOf::Recipe, name, all).map(|one: &Recipe| RecipeId(one.id))
    }

    /// What a recipe is called; `None` where it is gone.
    #[must_use]
    pub fn recipe_name(&self, recipe: RecipeId) -> Option<&str> {
        let recipe = self.mixture.cards.recipes.get(&recipe.0)?;
        Some(&recipe.name)
    }

    /// A recipe's variant: of a number, or the newest.
    ///
    /// # Errors
    /// Where there is none of the number.
    pub fn variant(&self, recipe: RecipeId, number: Option<i64>) -> Result<VariantId, Refusal> {
        let cards = &self.mixture.cards;
        let recipe = cards.recipes.get(&recipe.0).ok_or(Refusal::NoRecipe)?;
        let variant = cards.variant_of(recipe, number)?;
        Ok(VariantId(variant.id))
    }

    /// The newest variant of the recipe of a name.
    ///
    /// # Errors
    /// Where there is none of the name.
    pub fn newest(&self, name: &str) -> Result<VariantId, Refusal> {
        self.variant(self.recipe(name)?, None)
    }

    /// The recipe and the variant of a cup.
    #[must_use]
    pub fn mixed_by(&self, cup: &Cup) -> Option<(RecipeId, &Variant)> {
        let variant = self.mixture.cards.variants.get(&cup.variant)?;
        Some((RecipeId(variant.recipe), variant))
    }

    /// The material of a name.
    ///
    /// # Errors
    /// As [`Known::recipe`].
    pub fn material(&self, name: &str) -> Result<&Material, Refusal> {
        called(NameOf::Material, name, self.mixture.all_materials())
    }

    /// The shelf's only thinner, where there is one alone.
    #[must_use]
    pub fn only_thinner(&self) -> Option<MaterialId> {
        let only = lookup::only_thinner(self.mixture.all_materials())?;
        Some(MaterialId(only.id))
    }

    /// The thinner for a cup where none is named: the shelf's only one; none where it has none.
    ///
    /// # Errors
    /// Where there are several to choose among.
    pub(super) fn thinner_for(&self, cup: CupId) -> Result<Option<MaterialId>, Refusal> {
        let usual = self.usual_thinners.get(&cup.0).copied();
        if let Some(thinner) = usual.or_else(|| self.only_thinner()) {
            return Ok(Some(thinner));
        }
        let mut names: Vec<String> = self.thinners().map(|one| one.name.clone()).collect();
        names.sort();
        match names.is_empty() {
            true => Ok(None),
            false => Err(Refusal::WhichThinner(names)),
        }
    }

    /// The thinners that are offered.
    fn thinners(&self) -> impl Iterator<Item = &Material> {
        let all = self.mixture.all_materials();
        all.filter(|one| one.kind == MaterialKind::Thinner && !one.retired)
    }

    /// The thinner that a cup was last thinned with.
    #[must_use]
    pub fn usual_thinner(&self, cup: CupId) -> Option<&Material> {
        let thinner = self.usual_thinners.get(&cup.0)?;
        self.mixture.material(thinner.0)
    }

    /// A part: a material or a recipe of a name.
    ///
    /// # Errors
    /// As [`Known::recipe`].
    pub fn part(&self, name: &str) -> Result<PartOf, Refusal> {
        called(NameOf::Part, name, self.all_parts().iter()).map(Either::part)
    }

    /// The only one of some parts that is called so.
    pub(super) fn part_among(&self, name: &str, parts: &[PartOf]) -> Option<PartOf> {
        let all = self.all_parts();
        let own = all.iter().filter(|one| parts.contains(&one.part()));
        called(NameOf::Part, name, own).map(Either::part).ok()
    }

    /// What a part is called.
    pub(super) fn part_name(&self, of: PartOf) -> String {
        self.mixture.name(of)
    }

    /// The parts of so much of a variant; none where their share in it cannot be told.
    pub(super) fn scaled(
        &self,
        variant: VariantId,
        volume: Millilitres,
    ) -> Vec<(PartOf, Millilitres)> {
        let variant = self.mixture.cards.variants.get(&variant.0);
        let parts = variant.and_then(|one| self.mixture.volumes(one, volume).ok());
        parts.unwrap_or_default()
    }

    /// All that may be a part.
    fn all_parts(&self) -> Vec<Either<'_>> {
        let materials = self.mixture.all_materials().map(Either::Material);
        let recipes = self.mixture.cards.recipes.values().map(Either::Recipe);
        materials.chain(recipes).collect()
    }

    /// Parts with their shares, each in one text: `White 2`.
    ///
    /// # Errors
    /// As [`Known::part`], and a text that has no share, or one that is no number above nothing.
    pub fn parts<'t>(
        &self,
        texts: impl IntoIterator<Item = &'t str>,
    ) -> Result<Vec<Part>, Refusal> {
        let part = |text| {
            let (name, share) = split_part(text)?;
            let of = self.part(name)?;
            Ok(Part { of, share })
        };
        texts.into_iter().map(part).collect()
    }

    /// The density of a part; `None` where that of anything in it is unknown.
    #[must_use]
    pub fn density(&self, of: PartOf) -> Option<Density> {
        self.mixture.density(of)
    }

    /// The density of what a cup was mixed by.
    pub(super) fn density_in(&self, cup: CupId) -> Option<Density> {
        let cup = self.cups.iter().find(|one| one.id == cup.0)?;
        let variant = self.mixture.cards.variants.get(&cup.variant)?;
        self.mixture.density_of(variant)
    }

    /// The living cup of a mark.
    ///
    /// # Errors
    /// No mark, one that no cup bears, or one of a cup that is spent.
    pub fn cup(&self, text: &str) -> Result<CupId, Refusal> {
        let cup = self.cup_ever(text)?;
        match cup.spent {
            true => Err(Refusal::Spent(cup.mark.clone(), self.near(text))),
            false => Ok(CupId(cup.id)),
        }
    }

    /// So much of the living cup of a mark, as a layer.
    ///
    /// # Errors
    /// As [`Known::cup`].
    pub fn layer(&self, mark: &str, amount: Amount) -> Result<LayerOrder, Refusal> {
        let cup = self.cup(mark)?;
        Ok(LayerOrder::of(cup, amount))
    }

    /// The cup of a mark: the living one, else the last that bore it.
    ///
    /// # Errors
    /// No mark, or one that no cup bears.
    pub fn cup_ever(&self, text: &str) -> Result<&Cup, Refusal> {
        let mark = parse_mark(text)?;
        let found = self.cups.iter().find(|cup| cup.mark == mark);
        found.ok_or_else(|| Refusal::UnknownMark(mark.to_string(), self.near(text)))
    }

    fn near(&self, text: &str) -> Vec<Mark> {
        let living = self.cups.iter().filter(|cup| !cup.spent);
        near_of(text, living.map(|cup| cup.mark.clone()).collect())
    }
}

/// What may be a part.
enum Either<'a> {
    Material(&'a Material),
    Recipe(&'a Recipe),
}

impl Either<'_> {
    const fn part(&self) -> PartOf {
        match self {
            Self::Material(one) => PartOf::Material(one.id),
            Self::Recipe(one) => PartOf::Recipe(one.id),
        }
    }
}

impl Offered for Either<'_> {
    fn name(&self) -> &String {
        match self {
            Self::Material(one) => one.name(),
            Self::Recipe(one) => one.name(),
        }
    }

    fn is_retired(&self) -> bool {
        match self {
            Self::Material(one) => one.is_retired(),
            Self::Recipe(one) => one.is_retired(),
        }
    }
}
