//! The tables `material` and `stock`.

use crate::logbook::read::{Read, Reader, moment_of, unreadable, word_in};
use crate::logbook::{Value, Writer, write};
use crate::trade::colour::Colour;
use crate::trade::material::{Material, MaterialKind};
use crate::trade::moment::Moment;
use crate::trade::units::{Density, Millilitres};
use rusqlite::Row;
use rust_decimal::Decimal;
use std::collections::HashMap;

/// A bottle bought, or a shelf counted.
#[derive(Debug, Clone, PartialEq)]
pub struct Stock {
    /// The material's number.
    pub material: i64,
    /// When.
    pub at: Moment,
    /// Whether the shelf was counted, which overrules all before it.
    pub counted: bool,
    /// How much.
    pub ml: Millilitres,
    /// What it cost, if it was bought.
    pub price: Option<Decimal>,
}

impl Reader<'_> {
    /// Every material, by name.
    ///
    /// # Errors
    /// Where the store cannot be read; so of all readings below.
    pub fn materials(&self) -> Read<Vec<Material>> {
        self.all("SELECT * FROM material ORDER BY name", [], material)
    }

    /// The material of a name, whatever its case.
    pub fn material_named(&self, name: &str) -> Read<Option<Material>> {
        self.first("SELECT * FROM material WHERE name = ?1", [name], material)
    }

    /// What was bought and counted of every material, in order of time.
    pub fn stock(&self) -> Read<Vec<Stock>> {
        self.all("SELECT * FROM stock ORDER BY at_ms, id", [], stock)
    }

    /// The most of a material that was bought at once.
    pub fn most_bought(&self, material: i64) -> Read<Option<Millilitres>> {
        let sql = "SELECT max(ml) FROM stock WHERE material_id = ?1 AND kind = 'bought'";
        let most = self.first(sql, [material], |row| row.get::<_, Option<f64>>(0))?;
        Ok(most.flatten().map(Millilitres))
    }

    /// How much of each material went into cups after an instant, parts and thinner together; of one that did not, nothing. It
    /// costs what was mixed since then.
    pub fn used_of_each(&self, after_ms: i64) -> Read<HashMap<i64, Millilitres>> {
        // The cups are gone through by their time, never the puts of all years.
        let sql = "SELECT material_id, sum(ml) FROM (
              SELECT put.material_id, put.ml FROM cup INDEXED BY cup_at CROSS JOIN put ON put.cup_id = cup.id
               WHERE cup.at_ms > ?1 AND put.material_id IS NOT NULL
              UNION ALL
              SELECT entry.material_id, entry.ml FROM material CROSS JOIN entry ON entry.material_id = material.id
               WHERE entry.at_ms > ?1)
            GROUP BY material_id";
        let used = |row: &Row<'_>| {
            let ml: Option<f64> = row.get(1)?;
            Ok((row.get(0)?, Millilitres(ml.unwrap_or(0.0))))
        };
        Ok(self.all(sql, [after_ms], used)?.into_iter().collect())
    }

    /// How much of a material went into cups after an instant, parts and thinner together.
    pub fn used_since(&self, material: i64, after_ms: i64) -> Read<Millilitres> {
        // Since ever no cup's time needs to be looked up: the index of puts has all that is asked.
        let puts = match after_ms {
            i64::MIN => "put WHERE put.material_id = ?1",
            _ => {
                "put JOIN cup ON cup.id = put.cup_id WHERE put.material_id = ?1 AND cup.at_ms > ?2"
            }
        };
        let sql = format!(
            "SELECT (SELECT coalesce(sum(put.ml), 0.0) FROM {puts})
          + (SELECT coalesce(sum(ml), 0.0) FROM entry WHERE material_id = ?1 AND at_ms > ?2)"
        );
        let sum = self.first(&sql, (material, after_ms), |row| row.get(0))?;
        Ok(Millilitres(sum.unwrap_or(0.0)))
    }

    /// Each use of a material after an instant, with its own instant in milliseconds, in order of time.
    pub fn uses_since(&self, material: i64, after_ms: i64) -> Read<Vec<(i64, Millilitres)>> {
        let sql = "SELECT cup.at_ms AS at_ms, put.ml AS ml FROM put JOIN cup ON cup.id = put.cup_id
              WHERE put.material_id = ?1 AND cup.at_ms > ?2
            UNION ALL SELECT at_ms, ml FROM entry WHERE material_id = ?1 AND at_ms > ?2 AND ml IS NOT NULL ORDER BY 1";
        let use_of = |row: &Row<'_>| Ok((row.get("at_ms")?, Millilitres(row.get("ml")?)));
        self.all(sql, (material, after_ms), use_of)
    }
}

impl Writer<'_> {
    /// Writes down a new material; its `id` is not looked at.
    ///
    /// # Errors
    /// Where the store refuses it; so of all writings below.
    pub fn add_material(&mut self, new: &Material) -> Read<i64> {
        let mut columns = vec![("uid", write::uid())];
        columns.extend(material_columns(new));
        self.insert("material", &columns)
    }

    /// Rewrites a material.
    pub fn set_material(&mut self, changed: &Material) -> Read<()> {
        self.update("material", changed.id, &material_columns(changed))
    }

    /// Writes down a bottle bought or a shelf counted.
    pub fn add_stock(&mut self, new: &Stock) -> Read<i64> {
        let [at_ms, offset_min] = write::moment(new.at);
        let kind = if new.counted { "counted" } else { "bought" };
        let columns = [
            ("uid", write::uid()),
            ("material_id", new.material.into()),
            ("at_ms", at_ms),
            ("offset_min", offset_min),
            ("kind", kind.into()),
            ("ml", new.ml.get().into()),
            ("price", new.price.map(|price| price.to_string()).into()),
        ];
        self.insert("stock", &columns)
    }
}

fn material_columns(of: &Material) -> [(&'static str, Value); 9] {
    [
        ("name", of.name.as_str().into()),
        ("kind", of.kind.word().into()),
        ("pack_ml", of.pack_ml.map(Millilitres::get).into()),
        ("price", of.price.map(|price| price.to_string()).into()),
        ("density", of.density.map(Density::get).into()),
        ("colour_index", of.colour_index.clone().into()),
        ("hazard", of.hazard.clone().into()),
        ("colour", of.colour.map(|one| one.to_string()).into()),
        ("priced_ml", of.priced_ml.map(Millilitres::get).into()),
    ]
}

pub(super) fn material(row: &Row<'_>) -> rusqlite::Result<Material> {
    Ok(Material {
        id: row.get("id")?,
        name: row.get("name")?,
        kind: word_in(row, "kind", MaterialKind::parse)?,
        pack_ml: row.get::<_, Option<f64>>("pack_ml")?.map(Millilitres),
        price: price_in(row)?,
        density: row.get::<_, Option<f64>>("density")?.map(Density),
        colour_index: row.get("colour_index")?,
        hazard: row.get("hazard")?,
        colour: colour_in(row)?,
        priced_ml: row.get::<_, Option<f64>>("priced_ml")?.map(Millilitres),
        retired: row.get::<_, Option<i64>>("retired_at_ms")?.is_some(),
    })
}

pub(super) fn stock(row: &Row<'_>) -> rusqlite::Result<Stock> {
    Ok(Stock {
        material: row.get("material_id")?,
        at: moment_of(row)?,
        counted: row.get::<_, String>("kind")? == "counted",
        ml: Millilitres(row.get("ml")?),
        price: price_in(row)?,
    })
}

fn colour_in(row: &Row<'_>) -> rusqlite::Result<Option<Colour>> {
    let colour: Option<String> = row.get("colour")?;
    let read = colour.map(|text| Colour::parse(&text).map_err(|_| unreadable("colour")));
    read.transpose()
}

fn price_in(row: &Row<'_>) -> rusqlite::Result<Option<Decimal>> {
    let price: Option<String> = row.get("price")?;
    let read = price.map(|text| text.parse().map_err(|_| unreadable("price")));
    read.transpose()
}
