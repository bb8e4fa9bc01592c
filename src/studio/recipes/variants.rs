//! Recipes: writing them down, and changing them, which makes a new variant.

use crate::logbook::{Reader, Writer};
use crate::studio::{Answer, Limit, Refusal, Studio, lookup};
use crate::trade::act::{Act, Called};
use crate::trade::instant::Now;
use crate::trade::range::{Window, parse_parts};
use crate::trade::recipe::{self, LayerKind, Part, PartOf, Recipe, Target, Targets, Variant};
use crate::trade::units::{Minutes, Share};
use chrono::TimeDelta;
use std::collections::HashMap;

/// What a variant is meant to do; what is left out is as usual, or as it was.
#[derive(Debug, Clone, Default)]
pub struct TargetsOrder {
    /// The mound it should have.
    pub window: Option<Window>,
    /// How long it rests.
    pub rest: Option<TimeDelta>,
    /// After how long it is looked at again.
    pub recheck_after: Option<TimeDelta>,
    /// How long it is stirred.
    pub stir: Option<Minutes>,
    /// The most thinner, as a share of its volume.
    pub limit: Option<Share>,
    /// What is as usual for its layer again.
    pub usual: Vec<Target>,
}

/// A recipe or a change of one.
#[derive(Debug, Clone, Default)]
pub struct RecipeOrder {
    /// Its parts, each `NAME SHARE`; a change that names none keeps them.
    pub parts: Vec<String>,
    /// Whether the shares are by weight.
    pub by_weight: Option<bool>,
    /// What it is meant to do.
    pub targets: TargetsOrder,
    /// Anything else.
    pub note: Option<String>,
}

/// A recipe with its variants, oldest first, its parts by name.
#[derive(Debug, Clone)]
pub struct RecipePage {
    /// The recipe.
    pub recipe: Recipe,
    /// Its variants, oldest first.
    pub variants: Vec<Variant>,
    /// For each variant, its parts' names and shares.
    pub parts: Vec<Vec<(String, f64)>>,
}

impl RecipePage {
    /// The newest variant; `None` only in a store that was damaged.
    #[must_use]
    pub fn newest(&self) -> Option<&Variant> {
        self.variants.last()
    }

    /// What a variant changed of its parent, in words; empty for a first one.
    #[must_use]
    pub fn changed(&self, place: usize) -> Vec<String> {
        let Some(variant) = self.variants.get(place) else {
            return Vec::new();
        };
        let Some(parent) = variant.parent else {
            return Vec::new();
        };
        let Some(before) = self.variants.iter().position(|one| one.id == parent) else {
            return Vec::new();
        };
        let mut words = parts_changed(&self.parts[before], &self.parts[place]);
        words.extend(targets_changed(
            &self.variants[before].targets,
            &variant.targets,
        ));
        words
    }
}

impl Studio {
    /// Every recipe with its variants, by name.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn recipes(&self) -> Answer<Vec<RecipePage>> {
        let read = self.book.read()?;
        let names = names(&read)?;
        let mut by_recipe: HashMap<i64, Vec<Variant>> = HashMap::new();
        for variant in read.variants()? {
            by_recipe.entry(variant.recipe).or_default().push(variant);
        }
        let page = |recipe: Recipe| {
            let variants = by_recipe.remove(&recipe.id).unwrap_or_default();
            page_of(recipe, variants, &names)
        };
        Ok(read.recipes()?.into_iter().map(page).collect())
    }

    /// Writes down a new recipe with its first variant.
    ///
    /// # Errors
    /// Where the name is taken, a part is unknown, or it would go into itself.
    pub fn add_recipe(
        &mut self,
        name: &str,
        layer: LayerKind,
        order: &RecipeOrder,
        now: &Now,
    ) -> Answer<RecipePage> {
        let name = lookup::proper_name(name)?;
        self.book.commit_as(now.at.into(), |write| {
            let page = add_within(write, &name, layer, order, now)?;
            let recipe = called(&page.recipe);
            Ok((page, Act::RecipeAdded { recipe }))
        })
    }

    /// Changes a recipe: a new variant that remembers the one it was changed from.
    ///
    /// # Errors
    /// Where there is no such recipe, nothing differs, a part is unknown, or it would go into itself.
    pub fn change_recipe(
        &mut self,
        name: &str,
        order: &RecipeOrder,
        now: &Now,
    ) -> Answer<RecipePage> {
        self.book.commit_as(now.at.into(), |write| {
            let read = write.read();
            let recipe = lookup::recipe_called(&read, name)?;
            let before = lookup::variant_of(&read, &recipe, None)?;
            let parts = match order.parts.as_slice() {
                [] => before.parts.clone(),
                parts => read_parts(&read, parts)?,
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
                return Err(
                    Refusal::NoChange(format!("{} v{}", recipe.name, before.number)).into(),
                );
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
    let parts = read_parts(&read, &order.parts)?;
    let mut recipe = Recipe {
        id: 0,
        name: name.to_owned(),
        layer,
    };
    recipe.id = write.add_recipe(&recipe)?;
    let first = Variant {
        id: 0,
        recipe: recipe.id,
        number: 1,
        parent: None,
        at: now.at,
        by_weight: order.by_weight.unwrap_or(false),
        parts,
        targets: aimed(Targets::usual(layer), layer, &order.targets)?,
        note: order.note.clone(),
    };
    add_variant(write, recipe, first)
}

fn refuse_taken(read: &Reader<'_>, name: &str) -> Answer<()> {
    let kind = match read.recipe_named(name)? {
        Some(_) => "recipe",
        None if read.material_named(name)?.is_some() => "material",
        None => return Ok(()),
    };
    Err(Refusal::NameTaken {
        kind,
        name: name.to_owned(),
    }
    .into())
}

fn same_mixture(a: &Variant, b: &Variant) -> bool {
    a.parts == b.parts && a.targets == b.targets && a.by_weight == b.by_weight
}

fn add_variant(write: &mut Writer<'_>, recipe: Recipe, new: Variant) -> Answer<RecipePage> {
    write.add_variant(&new)?;
    let read = write.read();
    let variants = read
        .variants()?
        .into_iter()
        .filter(|one| one.recipe == recipe.id)
        .collect();
    Ok(page_of(recipe, variants, &names(&read)?))
}

fn page_of(recipe: Recipe, variants: Vec<Variant>, names: &HashMap<PartOf, String>) -> RecipePage {
    let named = |part: &Part| (names.get(&part.of).cloned().unwrap_or_default(), part.share);
    let parts = variants
        .iter()
        .map(|variant| variant.parts.iter().map(named).collect())
        .collect();
    RecipePage {
        recipe,
        variants,
        parts,
    }
}

/// What every part is called.
pub(crate) fn names(read: &Reader<'_>) -> Answer<HashMap<PartOf, String>> {
    let materials = read
        .materials()?
        .into_iter()
        .map(|one| (PartOf::Material(one.id), one.name));
    let recipes = read
        .recipes()?
        .into_iter()
        .map(|one| (PartOf::Recipe(one.id), one.name));
    Ok(materials.chain(recipes).collect())
}

fn read_parts(read: &Reader<'_>, texts: &[String]) -> Answer<Vec<Part>> {
    let parts: Vec<Part> = texts
        .iter()
        .map(|text| read_part(read, text))
        .collect::<Answer<_>>()?;
    if parts.is_empty() {
        return Err(Refusal::NoParts.into());
    }
    Ok(parts)
}

fn read_part(read: &Reader<'_>, text: &str) -> Answer<Part> {
    let bad = || Refusal::BadPart(text.to_owned());
    let (name, share) = text
        .trim()
        .rsplit_once(char::is_whitespace)
        .ok_or_else(bad)?;
    let share = parse_parts(share).map_err(|_| bad())?;
    let (of, _) = lookup::part_called(read, name)?;
    Ok(Part { of, share })
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
            .unwrap_or(was(Target::Again).recheck_after),
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

fn parts_changed(before: &[(String, f64)], after: &[(String, f64)]) -> Vec<String> {
    let share = |parts: &[(String, f64)], name: &str| {
        parts
            .iter()
            .find(|(one, _)| one == name)
            .map(|(_, share)| *share)
    };
    let mut words = Vec::new();
    for (name, now) in after {
        match share(before, name) {
            None => words.push(format!("{name} {now} added")),
            Some(was) if was != *now => words.push(format!("{name} {was} to {now}")),
            Some(_) => {}
        }
    }
    let gone = before
        .iter()
        .filter(|(name, _)| share(after, name).is_none());
    words.extend(gone.map(|(name, _)| format!("{name} left out")));
    words
}

fn targets_changed(before: &Targets, after: &Targets) -> Vec<String> {
    use crate::trade::duration::show;
    let mut words = Vec::new();
    if before.window != after.window
        && let Some(window) = after.window
    {
        words.push(format!("mound {window}"));
    }
    if before.rest != after.rest {
        words.push(format!(
            "rest {} to {}",
            show(before.rest),
            show(after.rest)
        ));
    }
    if before.recheck_after != after.recheck_after {
        words.push(format!(
            "look again after {} to {}",
            show(before.recheck_after),
            show(after.recheck_after)
        ));
    }
    if before.stir != after.stir
        && let Some(stir) = after.stir
    {
        words.push(format!("stir {} min", stir.get()));
    }
    if before.limit != after.limit {
        words.push(format!(
            "thinner at most {:.0} %",
            after.limit.get() * 100.0
        ));
    }
    words
}
