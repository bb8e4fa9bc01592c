//! Names put right: what refers to a row is pointed at another, what nothing refers to goes, what is no longer offered says so.

use crate::logbook::read::{Read, Reader};
use crate::logbook::{Value, Writer};
use crate::trade::moment::Moment;
use crate::trade::recipe::{PartOf, Recipe};

/// The rows that refer to one row: their table, the column, their numbers.
type Referring = Vec<(String, String, Vec<i64>)>;

impl Reader<'_> {
    /// How many rows of a table refer to a row of another.
    ///
    /// # Errors
    /// Where the store cannot be read; so of all below.
    pub fn references(&self, from: &str, to: &str, id: i64) -> Read<usize> {
        let all = self.referring(to, id)?.into_iter();
        let own = all.filter(|(table, ..)| table == from);
        Ok(own.map(|(.., rows)| rows.len()).sum())
    }

    /// Every row that refers to one, as the file itself declares it: a table that comes later is among them.
    fn referring(&self, to: &str, id: i64) -> Read<Referring> {
        let sql = "SELECT t.name, f.\"from\" FROM sqlite_schema AS t \
                   JOIN pragma_foreign_key_list(t.name) AS f \
                   WHERE t.type = 'table' AND f.\"table\" = ?1 ORDER BY t.name, f.id";
        let columns = self.all(sql, [to], |row| {
            Ok((row.get::<_, String>(0)?, row.get::<_, String>(1)?))
        })?;
        let rows = |(table, column): (String, String)| {
            let sql = format!("SELECT id FROM \"{table}\" WHERE \"{column}\" = ?1 ORDER BY id");
            let rows = self.all(&sql, [id], |row| row.get(0))?;
            Ok((table, column, rows))
        };
        columns.into_iter().map(rows).collect()
    }
}

impl Writer<'_> {
    /// Points all that refers to a row at another of its table; answers how many rows that were.
    ///
    /// # Errors
    /// Where the store refuses it; so of all below.
    pub fn repoint(&mut self, table: &str, from: i64, to: i64) -> Read<usize> {
        let mut count = 0;
        for (referring, column, rows) in self.read().referring(table, from)? {
            for row in rows {
                self.update(&referring, row, &[(&column, to.into())])?;
                count += 1;
            }
        }
        Ok(count)
    }

    /// In each variant that has both as parts, one part with both their shares.
    pub fn combine_parts(&mut self, from: PartOf, into: PartOf) -> Read<()> {
        for variant in self.read().variants()? {
            let share = |of| variant.parts.iter().find(|part| part.of == of);
            let (Some(less), Some(more)) = (share(from), share(into)) else {
                continue;
            };
            let share = less.share + more.share;
            let ids = self.part_ids(variant.id)?;
            for (id, part) in ids.into_iter().zip(&variant.parts) {
                if part.of == from {
                    self.delete("part", id)?;
                } else if part.of == into {
                    self.update("part", id, &[("share", share.into())])?;
                }
            }
        }
        Ok(())
    }

    fn part_ids(&self, variant: i64) -> Read<Vec<i64>> {
        let sql = "SELECT id FROM part WHERE variant_id = ?1 ORDER BY place";
        self.read().all(sql, [variant], |row| row.get(0))
    }

    /// Says since when a material or a recipe is no longer offered; `None` offers it again.
    pub fn set_retired(&mut self, of: PartOf, at: Option<Moment>) -> Read<()> {
        let at = at.map_or(Value::Null, |at| at.timestamp_millis().into());
        let (table, id) = row_of(of);
        self.update(table, id, &[("retired_at_ms", at)])
    }

    /// Rewrites a recipe's name and layer.
    pub fn set_recipe(&mut self, changed: &Recipe) -> Read<()> {
        let columns = [
            ("name", changed.name.as_str().into()),
            ("layer", changed.layer.word().into()),
        ];
        self.update("recipe", changed.id, &columns)
    }

    /// Makes a variant one of another recipe, with a number there.
    pub fn move_variant(&mut self, variant: i64, recipe: i64, number: i64) -> Read<()> {
        let columns = [("recipe_id", recipe.into()), ("number", number.into())];
        self.update("variant", variant, &columns)
    }

    /// Removes a variant's parts, and the variant itself once nothing else refers to it.
    pub fn remove_variant(&mut self, variant: i64) -> Read<()> {
        self.remove_parts(variant)?;
        self.delete("variant", variant)
    }

    /// Lets one variant stand for another that is the same.
    pub fn replace_variant(&mut self, variant: i64, by: i64) -> Read<()> {
        self.remove_parts(variant)?;
        self.repoint("variant", variant, by)?;
        self.delete("variant", variant)
    }

    fn remove_parts(&mut self, variant: i64) -> Read<()> {
        for part in self.part_ids(variant)? {
            self.delete("part", part)?;
        }
        Ok(())
    }

    /// Removes a material or a recipe to which nothing refers any more.
    pub fn remove_named(&mut self, of: PartOf) -> Read<()> {
        let (table, id) = row_of(of);
        self.delete(table, id)
    }

    /// Removes all that was bought and counted of a material.
    pub fn remove_stock(&mut self, material: i64) -> Read<()> {
        let sql = "SELECT id FROM stock WHERE material_id = ?1 ORDER BY id";
        for id in self.read().all(sql, [material], |row| row.get(0))? {
            self.delete("stock", id)?;
        }
        Ok(())
    }

    /// Gives a cup's lid another tape, or none.
    pub fn set_tape(&mut self, cup: i64, tape: Option<&str>) -> Read<()> {
        self.update("cup", cup, &[("tape", tape.map(str::to_owned).into())])
    }
}

const fn row_of(of: PartOf) -> (&'static str, i64) {
    match of {
        PartOf::Material(id) => ("material", id),
        PartOf::Recipe(id) => ("recipe", id),
    }
}
