//! By which recipes a plan is made, and what share of the paint each takes.

use crate::logbook::{PoursAsked, Reader};
use crate::numbers::film::Split;
use crate::numbers::technique;
use crate::studio::cups::bench;
use crate::studio::orders::PlanOrder;
use crate::studio::{Answer, Refusal, lookup};
use crate::trade::recipe::{LayerKind, Recipe};
use crate::trade::units::Share;
use std::collections::BTreeMap;

/// The recipes asked for; else those of the last pour of the technique; else the newest of each layer.
pub(super) fn chosen_recipes(
    read: &Reader<'_>,
    order: &PlanOrder,
    split: &Split,
) -> Answer<Vec<Recipe>> {
    if !order.recipes.is_empty() {
        return order
            .recipes
            .iter()
            .map(|recipe| lookup::recipe(read, *recipe))
            .collect();
    }
    if let Some(recipes) = last_poured(read, order.way.as_deref())? {
        return Ok(recipes);
    }
    let all = read.recipes()?;
    let newest = |layer| {
        all.iter()
            .filter(move |one| one.layer == layer && !one.retired)
            .max_by_key(|one| one.id)
    };
    let layers = [LayerKind::Base, LayerKind::Colour, LayerKind::Activator];
    let layers = layers
        .into_iter()
        .filter(|layer| split.of(*layer).get() > 0.0);
    let recipes: Vec<_> = layers.filter_map(newest).cloned().collect();
    if recipes.is_empty() {
        return Err(Refusal::NoRecipeYet.into());
    }
    Ok(recipes)
}

fn last_poured(read: &Reader<'_>, way: Option<&str>) -> Answer<Option<Vec<Recipe>>> {
    let cards = bench::RecipeBook::read(read)?;
    let newest = PoursAsked {
        way,
        limit: Some(1),
        ..PoursAsked::ALL
    };
    let Some(pour) = read.pours(newest)?.pop() else {
        return Ok(None);
    };
    let mut recipes: Vec<Recipe> = Vec::new();
    for layer in &pour.layers {
        let variant = read
            .cup(layer.cup)?
            .and_then(|cup| cards.variants.get(&cup.variant));
        let recipe = variant.and_then(|variant| cards.recipes.get(&variant.recipe));
        recipes.extend(
            recipe
                .filter(|one| !one.retired && recipes.iter().all(|had| had.id != one.id))
                .cloned(),
        );
    }
    Ok((!recipes.is_empty()).then_some(recipes))
}

/// The recipes with their shares; one that takes none is left out.
pub(super) fn shared(recipes: Vec<Recipe>, split: &Split) -> Vec<(Recipe, Share)> {
    let layers: Vec<_> = recipes.iter().map(|recipe| recipe.layer).collect();
    let shares = shares(&layers, split);
    let paired = recipes.into_iter().zip(shares);
    paired.filter(|(_, share)| share.get() > 0.0).collect()
}

/// The share of each layer: colours share theirs evenly, and what no layer takes goes to the others. A layer that was
/// asked for though the technique has none of it takes its common share.
pub(in crate::studio) fn shares(layers: &[LayerKind], split: &Split) -> Vec<Share> {
    let mut count: BTreeMap<LayerKind, f64> = BTreeMap::new();
    for layer in layers {
        *count.entry(*layer).or_default() += 1.0;
    }
    let own = |layer: LayerKind| match split.of(layer).get() {
        share if share > 0.0 => share,
        _ => technique::COMMON.of(layer).get(),
    };
    let whole: f64 = count.keys().map(|layer| own(*layer)).sum();
    let share = |layer: &LayerKind| {
        let layer = *layer;
        let all = if whole > 0.0 {
            own(layer) / whole
        } else {
            1.0 / count.len() as f64
        };
        Share(all / count.get(&layer).copied().unwrap_or(1.0))
    };
    layers.iter().map(share).collect()
}
