//! Materials, and what is left of them.

use super::{Telling, estimate, ml, number};
use crate::numbers::paint;
use crate::studio::ShelfLine;
use crate::trade::caution::Metal;
use crate::trade::colour::Colour;
use crate::trade::material::{Material, MaterialKind};
use rust_decimal::Decimal;
use schemars::JsonSchema;
use serde::Serialize;

/// The colour of a paint, thick and dry, as a screen shows it.
#[derive(Debug, Serialize, JsonSchema)]
pub struct PaintView {
    /// `#rrggbb` in sRGB.
    rgb: String,
    /// The nearest plain word.
    word: &'static str,
}

impl PaintView {
    /// A colour.
    #[must_use]
    pub fn of(colour: Colour) -> Self {
        Self {
            rgb: colour.to_string(),
            word: paint::word(colour),
        }
    }
}

/// One material as it stands on the shelf.
#[derive(Debug, Serialize, JsonSchema)]
pub struct ShelfLineView {
    name: String,
    kind: MaterialKind,
    /// Null where none was ever bought or counted.
    left_ml: Option<f64>,
    used_30d_ml: f64,
    counted_at: Option<String>,
    pack_ml: Option<f64>,
    #[schemars(with = "Option<String>")]
    price_per_ml: Option<Decimal>,
    days_of_supply: Option<f64>,
    colour_index: Option<String>,
    metals: Vec<Metal>,
    hazard: Option<String>,
    colour: Option<PaintView>,
    /// It is no longer offered.
    retired: bool,
}

impl ShelfLineView {
    /// One material.
    #[must_use]
    pub fn of(line: &ShelfLine, telling: &Telling<'_>) -> Self {
        let material = &line.material;
        let price = material.price_per_ml();
        Self {
            name: material.name.clone(),
            kind: material.kind,
            left_ml: line.left.map(ml),
            used_30d_ml: ml(line.used_30d),
            counted_at: line.counted_at.map(|at| telling.stamp(at)),
            pack_ml: material.pack_ml.map(ml),
            price_per_ml: price.and_then(|price| price.round_sf(4)),
            days_of_supply: line.days_of_supply().map(|days| estimate(days.get())),
            colour_index: material.colour_index.clone(),
            metals: line.metals().to_vec(),
            hazard: material.hazard.clone(),
            colour: material.colour.map(PaintView::of),
            retired: material.retired,
        }
    }
}

/// What is left on the shelf.
#[derive(Debug, Serialize, JsonSchema)]
pub struct ShelfView {
    at: String,
    materials: Vec<ShelfLineView>,
}

impl ShelfView {
    /// Every material.
    #[must_use]
    pub fn of(lines: &[ShelfLine], telling: &Telling<'_>) -> Self {
        let shelf = lines.iter();
        Self {
            at: telling.stamp(telling.now.at),
            materials: shelf.map(|line| ShelfLineView::of(line, telling)).collect(),
        }
    }
}

/// What is known of a material.
#[derive(Debug, Serialize, JsonSchema)]
pub struct MaterialView {
    name: String,
    kind: MaterialKind,
    pack_ml: Option<f64>,
    #[schemars(with = "Option<String>")]
    price: Option<Decimal>,
    /// What the price was paid for, where that was not one pack.
    priced_ml: Option<f64>,
    density: Option<f64>,
    colour_index: Option<String>,
    hazard: Option<String>,
    colour: Option<PaintView>,
    /// It is no longer offered.
    retired: bool,
}

impl MaterialView {
    /// A material.
    #[must_use]
    pub fn of(material: &Material) -> Self {
        Self {
            name: material.name.clone(),
            kind: material.kind,
            pack_ml: material.pack_ml.map(ml),
            price: material.price,
            priced_ml: material.priced_ml.map(ml),
            density: material.density.map(|density| number(density.get())),
            colour_index: material.colour_index.clone(),
            hazard: material.hazard.clone(),
            colour: material.colour.map(PaintView::of),
            retired: material.retired,
        }
    }
}

/// The materials.
#[derive(Debug, Serialize, JsonSchema)]
pub struct MaterialsView {
    materials: Vec<MaterialView>,
}

impl MaterialsView {
    /// Every material.
    #[must_use]
    pub fn of(materials: &[Material]) -> Self {
        Self {
            materials: materials.iter().map(MaterialView::of).collect(),
        }
    }
}
