//! Recipes: writing them down, and changing them, which makes a new variant.

use crate::logbook::{Reader, Writer};
use crate::studio::cups::mixture::Mixture;
use crate::studio::orders::{RecipeOrder, TargetsOrder};
use crate::studio::{Answer, Limit, NameOf, Refusal, Studio, Unchanged, lookup};
use crate::trade::act::{Act, Called};
use crate::trade::colour::Colour;
use crate::trade::ids::RecipeId;
use crate::trade::instant::Now;
use crate::trade::recipe::{self, LayerKind, Part, Recipe, Target, Targets, Variant};
use chrono::TimeDelta;
use std::collections::HashMap;

/// A recipe with its variants, oldest first, its parts by name.
#[derive(Debug, Clone)]
pub struct RecipePage {
    /// The recipe.
    pub recipe: Recipe,
    /// Its variants, oldest first.
    pub variants: Vec<Variant>,
    /// For each variant, its parts' names and shares.
    pub parts: Vec<Vec<(String, f64)>>,
    /// For each variant, the colour its parts make, where it can be told.
    pub colours: Vec<Option<Colour>>,
}

impl RecipePage {
    /// The newest variant; `None` only in a store that was damaged.
    #[must_use]
    pub fn newest(&self) -> Option<&Variant> {
        self.variants.last()
    }
}

impl Studio {
    /// Every recipe with its variants, by name; what is no longer offered comes last.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn recipes(&self) -> Answer<Vec<RecipePage>> {
        let read = self.book.read()?;
        let mixture = Mixture::read(&read)?;
        let mut by_recipe: HashMap<i64, Vec<Variant>> = HashMap::new();
        for variant in read.variants()? {
            by_recipe.entry(variant.recipe).or_default().push(variant);
        }
        let page = |recipe: Recipe| {
            let variants = by_recipe.remove(&recipe.id).unwrap_or_default();
            page_of(recipe, variants, &mixture)
        };
        let mut recipes = read.recipes()?;
        recipes.sort_by_key(|one| one.retired);
        Ok(recipes.into_iter().map(page).collect())
    }

    /// Writes down a new recipe with its first variant.
    ///
    /// # Errors
    /// Where the name is taken, there is no part, or it would go into itself.
    pub fn add_recipe(
        &mut self,
        name: &str,
        layer: LayerKind,
        order: &RecipeOrder,
        now: &Now,
    ) -> Answer<RecipePage> {
        let name = lookup::lettered_name(name)?;
        self.book.commit_as(now.at.into(), |write| {
            let page = add_within(write, &name, layer, order, now)?;
            let recipe = called(&page.recipe);
            Ok((page, Act::RecipeAdded { recipe }))
        })
    }

    /// Changes a recipe: a new variant that remembers the one it was changed from.
    ///
    /// # Errors
    /// Where it is gone, nothing differs, or it would go into itself.
    pub fn change_recipe(
        &mut self,
        recipe: RecipeId,
        order: &RecipeOrder,
        now: &Now,
    ) -> Answer<RecipePage> {
        self.book.commit_as(now.at.into(), |write| {
            let read = write.read();
            let recipe = lookup::recipe(&read, recipe)?;
            let before = lookup::variant_of(&read, &recipe, None)?;
            let parts = match order.parts.as_slice() {
                [] => before.parts.clone(),
                parts => parts.to_vec(),
            };
            refuse_cycle(&read, &recipe, &parts)?;
            let after = Variant {
                id: 0,
                number: before.number + 1,
                parent: Some(before.id),
                at: now.at,
                by_weight: order.by_weight.unwrap_or(before.by_weight),
                parts,
                targets: aimed(before.targets, recipe.layer, &order.targets)?,
                note: order.note.clone(),
                recipe: recipe.id,
            };
            if same_mixture(&before, &after) {
                return Err(Refusal::NoChange(Unchanged::Variant(
                    recipe.name.clone(),
                    before.number,
                ))
                .into());
            }
            let page = add_variant(write, recipe, after)?;
            let (recipe, number) = (called(&page.recipe), before.number + 1);
            Ok((page, Act::RecipeChanged { recipe, number }))
        })
    }
}

/// A recipe as the history keeps it.
fn called(recipe: &Recipe) -> Called {
    Called {
        id: recipe.id,
        name: recipe.name.clone(),
    }
}

/// Writes down a new recipe with its first variant, inside a commit.
pub(crate) fn add_within(
    write: &mut Writer<'_>,
    name: &str,
    layer: LayerKind,
    order: &RecipeOrder,
    now: &Now,
) -> Answer<RecipePage> {
    let read = write.read();
    refuse_taken(&read, name)?;
    if order.parts.is_empty() {
        return Err(Refusal::NoParts.into());
    }
    let mut recipe = Recipe {
        id: 0,
        name: name.to_owned(),
        layer,
        retired: false,
    };
    recipe.id = write.add_recipe(&recipe)?;
    let first = Variant {
        id: 0,
        recipe: recipe.id,
        number: 1,
        parent: None,
        at: now.at,
        by_weight: order.by_weight.unwrap_or(false),
        parts: order.parts.clone(),
        targets: aimed(Targets::usual(layer), layer, &order.targets)?,
        note: order.note.clone(),
    };
    add_variant(write, recipe, first)
}

/// Refuses a name that a recipe or a material has.
pub(crate) fn refuse_taken(read: &Reader<'_>, name: &str) -> Answer<()> {
    let of = match read.recipe_named(name)? {
        Some(_) => NameOf::Recipe,
        None if read.material_named(name)?.is_some() => NameOf::Material,
        None => return Ok(()),
    };
    Err(Refusal::NameTaken {
        of,
        name: name.to_owned(),
    }
    .into())
}

/// Whether two variants are made of the same and meant to do the same.
pub(crate) fn same_mixture(a: &Variant, b: &Variant) -> bool {
    a.parts == b.parts && a.targets == b.targets && a.by_weight == b.by_weight
}

fn add_variant(write: &mut Writer<'_>, recipe: Recipe, new: Variant) -> Answer<RecipePage> {
    write.add_variant(&new)?;
    page_within(&write.read(), recipe)
}

/// A recipe with its variants, as they stand so far.
pub(crate) fn page_within(read: &Reader<'_>, recipe: Recipe) -> Answer<RecipePage> {
    let all = read.variants()?.into_iter();
    let variants = all.filter(|one| one.recipe == recipe.id).collect();
    Ok(page_of(recipe, variants, &Mixture::read(read)?))
}

fn page_of(recipe: Recipe, variants: Vec<Variant>, mixture: &Mixture) -> RecipePage {
    let named = |part: &Part| (mixture.name(part.of), part.share);
    let parts = variants
        .iter()
        .map(|variant| variant.parts.iter().map(named).collect())
        .collect();
    let colours = variants.iter().map(|one| mixture.colour_of(one));
    RecipePage {
        recipe,
        colours: colours.collect(),
        variants,
        parts,
    }
}

fn refuse_cycle(read: &Reader<'_>, recipe: &Recipe, parts: &[Part]) -> Answer<()> {
    let mut made_of: HashMap<i64, Vec<i64>> = HashMap::new();
    for variant in read.variants()? {
        made_of
            .entry(variant.recipe)
            .or_default()
            .extend(recipe::recipes_in(&variant.parts));
    }
    if recipe::leads_to_itself(recipe.id, parts, &made_of) {
        return Err(Refusal::Cycle(recipe.name.clone()).into());
    }
    Ok(())
}

/// What was aimed at before, or is as usual for the layer again, with what is ordered.
fn aimed(before: Targets, layer: LayerKind, order: &TargetsOrder) -> Answer<Targets> {
    let usual = Targets::usual(layer);
    let was = |target| match order.usual.contains(&target) {
        true => &usual,
        false => &before,
    };
    let targets = Targets {
        window: order.window.or(was(Target::Mound).window),
        rest: order.rest.unwrap_or(was(Target::Rest).rest),
        recheck_after: order
            .recheck_after
            .unwrap_or(was(Target::Recheck).recheck_after),
        stir: order.stir.or(was(Target::Stir).stir),
        limit: order.limit.unwrap_or(was(Target::Limit).limit),
    };
    if targets.recheck_after <= TimeDelta::zero() {
        return Err(Refusal::Range(Limit::NextLook).into());
    }
    if !(targets.limit.get() > 0.0 && targets.limit.get() < 1.0) {
        return Err(Refusal::Range(Limit::ThinnerLimit).into());
    }
    Ok(targets)
}
