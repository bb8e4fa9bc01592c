//! Recipes and their variants.

use super::{PaintView, Telling, number};
use crate::studio::RecipePage;
use crate::trade::recipe::LayerKind;
use schemars::JsonSchema;
use serde::Serialize;

/// One part of a variant.
#[derive(Debug, Serialize, JsonSchema)]
pub struct VariantPartView {
    name: String,
    share: f64,
}

/// A variant: what goes in, and what it is meant to do.
#[derive(Debug, Serialize, JsonSchema)]
pub struct VariantView {
    variant: i64,
    /// The variant that it was changed from; null for a first one.
    parent: Option<i64>,
    at: String,
    parts: Vec<VariantPartView>,
    by_weight: bool,
    /// What it changed of its parent, in words.
    changed: Vec<String>,
    note: Option<String>,
    /// From the one to the other; null where no mound is asked.
    mound_s: Option<[f64; 2]>,
    rest_s: i64,
    /// To the next look.
    again_s: i64,
    stir_min: Option<f64>,
    /// The most thinner, as a share of the cup.
    limit: f64,
    /// What its parts mix to by weight in a model, never a promise; null where a paint's colour is not known.
    colour: Option<PaintView>,
}

impl VariantView {
    /// The variant at a place of its recipe, oldest first.
    #[must_use]
    pub fn of(page: &RecipePage, place: usize, telling: &Telling<'_>) -> Option<Self> {
        let variant = page.variants.get(place)?;
        let parts = page.parts.get(place).into_iter().flatten();
        let targets = &variant.targets;
        let mound = targets.window;
        Some(Self {
            variant: variant.number,
            parent: page.parent(place),
            at: telling.stamp(variant.at),
            parts: parts
                .map(|(name, share)| VariantPartView {
                    name: name.clone(),
                    share: *share,
                })
                .collect(),
            by_weight: variant.by_weight,
            changed: telling.all(&page.changed(place)),
            note: variant.note.clone(),
            mound_s: mound.map(|window| [window.low.get(), window.high.get()]),
            rest_s: targets.rest.num_seconds(),
            again_s: targets.recheck_after.num_seconds(),
            stir_min: targets.stir.map(|minutes| number(minutes.get())),
            limit: targets.limit.get(),
            colour: page
                .colours
                .get(place)
                .copied()
                .flatten()
                .map(PaintView::of),
        })
    }
}

/// A recipe as it was just written down, with its newest variant.
#[derive(Debug, Serialize, JsonSchema)]
pub struct RecipeView {
    name: String,
    layer: LayerKind,
    #[serde(flatten)]
    newest: Option<VariantView>,
}

impl RecipeView {
    /// A recipe with its newest variant.
    #[must_use]
    pub fn of(page: &RecipePage, telling: &Telling<'_>) -> Self {
        let last = page.variants.len().saturating_sub(1);
        Self {
            name: page.recipe.name.clone(),
            layer: page.recipe.layer,
            newest: VariantView::of(page, last, telling),
        }
    }
}

/// A recipe with all its variants.
#[derive(Debug, Serialize, JsonSchema)]
pub struct RecipePageView {
    name: String,
    layer: LayerKind,
    /// It is no longer offered.
    retired: bool,
    /// Oldest first.
    variants: Vec<VariantView>,
}

/// The recipes.
#[derive(Debug, Serialize, JsonSchema)]
pub struct RecipesView {
    recipes: Vec<RecipePageView>,
}

impl RecipesView {
    /// Every recipe.
    #[must_use]
    pub fn of(pages: &[RecipePage], telling: &Telling<'_>) -> Self {
        let page = |page: &RecipePage| RecipePageView {
            name: page.recipe.name.clone(),
            layer: page.recipe.layer,
            retired: page.recipe.retired,
            variants: (0..page.variants.len())
                .filter_map(|place| VariantView::of(page, place, telling))
                .collect(),
        };
        Self {
            recipes: pages.iter().map(page).collect(),
        }
    }
}
