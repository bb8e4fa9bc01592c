//! The tables `recipe`, `variant` and `part`.

use crate::logbook::read::{Read, Reader, moment_of, says_nothing, word_in};
use crate::logbook::{Value, Writer, write};
use crate::trade::range::Window;
use crate::trade::recipe::{LayerKind, Part, PartOf, Recipe, Targets, Variant};
use crate::trade::units::{Minutes, Seconds, Share};
use chrono::TimeDelta;
use rusqlite::Row;
use std::collections::HashMap;

impl Reader<'_> {
    /// Every recipe, by layer and name.
    ///
    /// # Errors
    /// Where the store cannot be read; so of all readings below.
    pub fn recipes(&self) -> Read<Vec<Recipe>> {
        self.all("SELECT * FROM recipe ORDER BY name", [], recipe)
    }

    /// The recipe of a name, whatever its case.
    pub fn recipe_named(&self, name: &str) -> Read<Option<Recipe>> {
        self.first("SELECT * FROM recipe WHERE name = ?1", [name], recipe)
    }

    /// Every variant with its parts, by recipe and number.
    pub fn variants(&self) -> Read<Vec<Variant>> {
        let mut parts: HashMap<i64, Vec<Part>> = HashMap::new();
        for (variant, part) in
            self.all("SELECT * FROM part ORDER BY variant_id, place", [], part)?
        {
            parts.entry(variant).or_default().push(part);
        }
        let mut variants = self.all(
            "SELECT * FROM variant ORDER BY recipe_id, number",
            [],
            variant,
        )?;
        for variant in &mut variants {
            variant.parts = parts.remove(&variant.id).unwrap_or_default();
        }
        Ok(variants)
    }
}

impl Writer<'_> {
    /// Writes down a new recipe; its `id` is not looked at.
    ///
    /// # Errors
    /// Where the store refuses it; so of all writings below.
    pub fn add_recipe(&mut self, new: &Recipe) -> Read<i64> {
        let columns = [
            ("uid", write::uid()),
            ("name", new.name.as_str().into()),
            ("layer", new.layer.word().into()),
        ];
        self.insert("recipe", &columns)
    }

    /// Writes down a new variant with its parts; its `id` is not looked at.
    pub fn add_variant(&mut self, new: &Variant) -> Read<i64> {
        let id = self.insert("variant", &variant_columns(new))?;
        for (place, part) in (1_i64..).zip(&new.parts) {
            let (material, recipe) = match part.of {
                PartOf::Material(material) => (Some(material), None),
                PartOf::Recipe(recipe) => (None, Some(recipe)),
            };
            let columns = [
                ("variant_id", id.into()),
                ("place", place.into()),
                ("material_id", material.into()),
                ("recipe_id", recipe.into()),
                ("share", part.share.into()),
            ];
            self.insert("part", &columns)?;
        }
        Ok(id)
    }
}

fn variant_columns(of: &Variant) -> [(&'static str, Value); 14] {
    let [at_ms, offset_min] = write::moment(of.at);
    let targets = &of.targets;
    [
        ("uid", write::uid()),
        ("recipe_id", of.recipe.into()),
        ("number", of.number.into()),
        ("parent_id", of.parent.into()),
        ("at_ms", at_ms),
        ("offset_min", offset_min),
        ("by_weight", i64::from(of.by_weight).into()),
        (
            "mound_low",
            targets.window.map(|window| window.low.get()).into(),
        ),
        (
            "mound_high",
            targets.window.map(|window| window.high.get()).into(),
        ),
        ("rest_ms", targets.rest.num_milliseconds().into()),
        ("again_ms", targets.recheck_after.num_milliseconds().into()),
        ("stir_min", targets.stir.map(Minutes::get).into()),
        ("limit_share", targets.limit.get().into()),
        ("note", of.note.clone().into()),
    ]
}

pub(super) fn recipe(row: &Row<'_>) -> rusqlite::Result<Recipe> {
    Ok(Recipe {
        retired: row.get::<_, Option<i64>>("retired_at_ms")?.is_some(),
        id: row.get("id")?,
        name: row.get("name")?,
        layer: word_in(row, "layer", LayerKind::parse)?,
    })
}

pub(super) fn variant(row: &Row<'_>) -> rusqlite::Result<Variant> {
    Ok(Variant {
        id: row.get("id")?,
        recipe: row.get("recipe_id")?,
        number: row.get("number")?,
        parent: row.get("parent_id")?,
        at: moment_of(row)?,
        by_weight: row.get("by_weight")?,
        parts: Vec::new(),
        targets: targets(row)?,
        note: row.get("note")?,
    })
}

fn targets(row: &Row<'_>) -> rusqlite::Result<Targets> {
    let low: Option<f64> = row.get("mound_low")?;
    let high: Option<f64> = row.get("mound_high")?;
    Ok(Targets {
        window: low.zip(high).map(|(low, high)| Window {
            low: Seconds(low),
            high: Seconds(high),
        }),
        rest: TimeDelta::milliseconds(row.get("rest_ms")?),
        recheck_after: TimeDelta::milliseconds(row.get("again_ms")?),
        stir: row.get::<_, Option<f64>>("stir_min")?.map(Minutes),
        limit: Share(row.get("limit_share")?),
    })
}

pub(super) fn part(row: &Row<'_>) -> rusqlite::Result<(i64, Part)> {
    let material: Option<i64> = row.get("material_id")?;
    let recipe: Option<i64> = row.get("recipe_id")?;
    let of = match (material, recipe) {
        (Some(material), _) => PartOf::Material(material),
        (None, Some(recipe)) => PartOf::Recipe(recipe),
        (None, None) => return Err(says_nothing(&["material_id", "recipe_id"])),
    };
    Ok((
        row.get("variant_id")?,
        Part {
            of,
            share: row.get("share")?,
        },
    ))
}
