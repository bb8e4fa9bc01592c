//! The tables `cup`, `put` and `entry`.

use crate::logbook::read::{Read, Reader, moment_in, moment_of, parsed_in, says_nothing, word_in};
use crate::logbook::{Value, Writer, write};
use crate::trade::cup::{
    Cup, DrawnInto, End, Entry, EntryKind, Happened, Put, PutFrom, Reading, Seen,
};
use crate::trade::mark::Mark;
use crate::trade::moment::Moment;
use crate::trade::units::{Millilitres, Millimetres, Minutes, Seconds};
use rusqlite::Row;
use std::collections::{HashMap, HashSet};
use std::ops::Range;

/// The cups, by the index that holds the living ones alone: left to itself SQLite goes through all that ever were, to
/// have them in order.
const LIVING: &str = "cup INDEXED BY cup_living_mark";

/// The cups that lie in a pour since an instant.
const POURED: &str = "SELECT layer.cup_id FROM pour JOIN layer ON layer.pour_id = pour.id
                      WHERE pour.at_ms >= ?1";

impl Reader<'_> {
    /// Every cup that is not spent, in order of entry.
    ///
    /// # Errors
    /// Where the store cannot be read; so of all readings below.
    pub fn living_cups(&self) -> Read<Vec<Cup>> {
        let sql = format!("SELECT * FROM {LIVING} WHERE spent_at_ms IS NULL ORDER BY id");
        self.all(&sql, [], cup)
    }

    /// The marks that are in use.
    pub fn living_marks(&self) -> Read<HashSet<Mark>> {
        let sql = format!("SELECT mark FROM {LIVING} WHERE spent_at_ms IS NULL");
        let mark = |row: &Row<'_>| parsed_in(row, "mark", |text| Mark::parse(text).ok());
        Ok(self.all(&sql, [], mark)?.into_iter().collect())
    }

    /// A cup by its number.
    pub fn cup(&self, id: i64) -> Read<Option<Cup>> {
        self.first("SELECT * FROM cup WHERE id = ?1", [id], cup)
    }

    /// The living cup of a mark, else the last that bore it.
    pub fn cup_marked(&self, mark: &Mark) -> Read<Option<Cup>> {
        // Two questions, for a mark is given again and again: one that sorts its bearers reads them all.
        let living = "SELECT * FROM cup WHERE mark = ?1 AND spent_at_ms IS NULL";
        let last = "SELECT * FROM cup WHERE mark = ?1 ORDER BY id DESC LIMIT 1";
        match self.first(living, [mark.as_str()], cup)? {
            None => self.first(last, [mark.as_str()], cup),
            found => Ok(found),
        }
    }

    /// Cups that were spent since an instant, and when.
    pub fn spent_since(&self, from_ms: i64) -> Read<Vec<(Cup, Moment)>> {
        let sql = "SELECT * FROM cup WHERE spent_at_ms >= ?1 ORDER BY id";
        self.all(sql, [from_ms], |row| {
            Ok((cup(row)?, moment_in(row, "spent_at_ms", "offset_min")?))
        })
    }

    /// The cup that was mixed last.
    pub fn last_cup(&self) -> Read<Option<Cup>> {
        self.first("SELECT * FROM cup ORDER BY id DESC LIMIT 1", [], cup)
    }

    /// What the newest cups of a variant were mixed to hold, the newest first.
    pub fn volumes_of(&self, variant: i64, count: u32) -> Read<Vec<Millilitres>> {
        let sql = "SELECT volume_ml FROM cup WHERE variant_id = ?1 ORDER BY id DESC LIMIT ?2";
        self.all(sql, (variant, count), |row| Ok(Millilitres(row.get(0)?)))
    }

    /// What the newest cups were mixed to hold, the newest first.
    pub fn newest_volumes(&self, count: u32) -> Read<Vec<Millilitres>> {
        let sql = "SELECT volume_ml FROM cup ORDER BY id DESC LIMIT ?1";
        self.all(sql, [count], |row| Ok(Millilitres(row.get(0)?)))
    }

    /// The entries of one cup, in order of entry.
    pub fn entries(&self, cup: i64) -> Read<Vec<Entry>> {
        self.all(
            "SELECT * FROM entry WHERE cup_id = ?1 ORDER BY id",
            [cup],
            entry,
        )
    }

    /// An entry by its number, and the cup that it is of.
    pub fn entry(&self, id: i64) -> Read<Option<(i64, Entry)>> {
        let read = |row: &Row<'_>| Ok((row.get("cup_id")?, entry(row)?));
        self.first("SELECT * FROM entry WHERE id = ?1", [id], read)
    }

    /// The entries of every living cup, by cup, in order of entry.
    pub fn entries_of_living(&self) -> Read<HashMap<i64, Vec<Entry>>> {
        let sql = format!(
            "SELECT entry.* FROM {LIVING} CROSS JOIN entry ON entry.cup_id = cup.id
             WHERE cup.spent_at_ms IS NULL ORDER BY cup.id, entry.id"
        );
        let rows = self.all(&sql, [], |row| Ok((row.get("cup_id")?, entry(row)?)))?;
        Ok(grouped(rows))
    }

    /// The oldest of the newest cups, spent or not; `None` where there are not so many.
    pub fn oldest_of_newest(&self, count: u32) -> Read<Option<i64>> {
        let sql = "SELECT id FROM cup ORDER BY id DESC LIMIT 1 OFFSET ?1";
        self.first(sql, [count.saturating_sub(1)], |row| row.get(0))
    }

    /// The cups of a range of numbers, spent or not, in order of entry.
    pub fn cups_within(&self, numbers: Range<i64>) -> Read<Vec<Cup>> {
        let sql = "SELECT * FROM cup WHERE id >= ?1 AND id < ?2 ORDER BY id";
        self.all(sql, [numbers.start, numbers.end], cup)
    }

    /// The entries of the cups of a range of numbers, by cup, in order of entry.
    pub fn entries_within(&self, cups: Range<i64>) -> Read<HashMap<i64, Vec<Entry>>> {
        let sql = "SELECT * FROM entry WHERE cup_id >= ?1 AND cup_id < ?2 ORDER BY cup_id, id";
        let rows = self.all(sql, [cups.start, cups.end], |row| {
            Ok((row.get("cup_id")?, entry(row)?))
        })?;
        Ok(grouped(rows))
    }

    /// Every cup that lies in a pour since an instant.
    pub fn cups_poured_since(&self, from_ms: i64) -> Read<Vec<Cup>> {
        self.all(
            &format!("SELECT * FROM cup WHERE id IN ({POURED})"),
            [from_ms],
            cup,
        )
    }

    /// What was done to every cup that lies in a pour since an instant, by cup, in order of entry; but for what was taken
    /// out of it, which is half of all entries and says nothing of how its paint was.
    pub fn care_poured_since(&self, from_ms: i64) -> Read<HashMap<i64, Vec<Entry>>> {
        let sql = format!(
            "SELECT * FROM entry WHERE cup_id IN ({POURED}) AND kind NOT IN ('drawn', 'ended') ORDER BY cup_id, id"
        );
        let rows = self.all(&sql, [from_ms], |row| Ok((row.get("cup_id")?, entry(row)?)))?;
        Ok(grouped(rows))
    }

    /// What went into every cup that lies in a pour since an instant, by cup, in order.
    pub fn puts_poured_since(&self, from_ms: i64) -> Read<HashMap<i64, Vec<Put>>> {
        let sql = format!("SELECT * FROM put WHERE cup_id IN ({POURED}) ORDER BY cup_id, place");
        let mut puts: HashMap<i64, Vec<Put>> = HashMap::new();
        for (cup, one) in self.all(&sql, [from_ms], |row| Ok((row.get("cup_id")?, put(row)?)))? {
            puts.entry(cup).or_default().push(one);
        }
        Ok(puts)
    }

    /// What went into a cup, in order.
    pub fn puts(&self, cup: i64) -> Read<Vec<Put>> {
        self.all(
            "SELECT * FROM put WHERE cup_id = ?1 ORDER BY place",
            [cup],
            put,
        )
    }
}

impl Writer<'_> {
    /// Writes down a new cup; its `id` and `spent` are not looked at.
    ///
    /// # Errors
    /// Where the store refuses it; so of all writings below.
    pub fn add_cup(&mut self, new: &Cup) -> Read<i64> {
        let [at_ms, offset_min] = write::moment(new.mixed_at);
        let columns = [
            ("uid", write::uid()),
            ("mark", new.mark.as_str().into()),
            ("variant_id", new.variant.into()),
            ("at_ms", at_ms),
            ("offset_min", offset_min),
            ("volume_ml", new.volume.get().into()),
            ("depth_mm", new.depth.map(Millimetres::get).into()),
            ("diameter_mm", new.diameter.map(Millimetres::get).into()),
            ("tape", new.tape.clone().into()),
            ("note", new.note.clone().into()),
        ];
        self.insert("cup", &columns)
    }

    /// Gives a cup another mark.
    pub fn set_mark(&mut self, cup: i64, mark: &Mark) -> Read<()> {
        self.update("cup", cup, &[("mark", mark.as_str().into())])
    }

    /// Says what went into a cup, in order.
    pub fn add_puts(&mut self, cup: i64, puts: &[Put]) -> Read<()> {
        for (place, put) in (1_i64..).zip(puts) {
            let (material, source) = match put.from {
                PutFrom::Material(material) => (Some(material), None),
                PutFrom::Cup(source) => (None, Some(source)),
            };
            let columns = [
                ("cup_id", cup.into()),
                ("place", place.into()),
                ("material_id", material.into()),
                ("source_cup_id", source.into()),
                ("ml", put.ml.get().into()),
            ];
            self.insert("put", &columns)?;
        }
        Ok(())
    }

    /// Says how much really went into a cup; as many, and in the order, as [`crate::logbook::Reader::puts`] tells.
    pub fn set_puts(&mut self, cup: i64, puts: &[Put]) -> Read<()> {
        let sql = "SELECT id FROM put WHERE cup_id = ?1 ORDER BY place";
        let rows: Vec<i64> = self.read().all(sql, [cup], |row| row.get(0))?;
        for (row, put) in rows.into_iter().zip(puts) {
            self.update("put", row, &[("ml", put.ml.get().into())])?;
        }
        Ok(())
    }

    /// Says how much a cup really held when it was mixed, and when that was.
    pub fn set_mixed(&mut self, cup: i64, volume: Millilitres, at: Moment) -> Read<()> {
        let [at_ms, offset_min] = write::moment(at);
        let columns = [
            ("volume_ml", volume.get().into()),
            ("at_ms", at_ms),
            ("offset_min", offset_min),
        ];
        self.update("cup", cup, &columns)
    }

    /// Adds a line to a cup's life.
    pub fn add_entry(
        &mut self,
        cup: i64,
        at: Moment,
        backdated: bool,
        what: &Happened,
    ) -> Read<i64> {
        let [at_ms, offset_min] = write::moment(at);
        let mut columns = vec![
            ("uid", write::uid()),
            ("cup_id", cup.into()),
            ("at_ms", at_ms),
            ("offset_min", offset_min),
            ("told", i64::from(backdated).into()),
            ("kind", what.word().into()),
        ];
        columns.extend(reading_columns(what.reading()));
        columns.extend(own_columns(what));
        self.insert("entry", &columns)
    }

    /// Puts an entry right: what happened, when and to which cup.
    pub fn change_entry(&mut self, cup: i64, entry: &Entry) -> Read<()> {
        let [at_ms, offset_min] = write::moment(entry.at);
        let mut columns: Vec<(&str, Value)> = vec![
            ("cup_id", cup.into()),
            ("at_ms", at_ms),
            ("offset_min", offset_min),
            ("told", i64::from(entry.backdated).into()),
        ];
        let none = ["mound_s", "flow_cup", "efflux_s"].map(|column| (column, Value::Null));
        let reading = reading_columns(entry.what.reading());
        let said = |column: &str| reading.iter().any(|(one, _)| *one == column);
        columns.extend(none.into_iter().filter(|(column, _)| !said(column)));
        columns.extend(reading);
        columns.extend(own_columns(&entry.what));
        self.update("entry", entry.id, &columns)
    }

    /// Strikes an entry out of a cup's life.
    pub fn strike_entry(&mut self, entry: i64) -> Read<()> {
        self.delete("entry", entry)
    }

    /// Says that a cup lives again.
    pub fn set_living(&mut self, cup: i64) -> Read<()> {
        self.update("cup", cup, &[("spent_at_ms", Value::Null)])
    }

    /// Marks a cup as spent, which frees its mark.
    pub fn set_spent(&mut self, cup: i64, at: Moment) -> Read<()> {
        self.update("cup", cup, &[("spent_at_ms", at.timestamp_millis().into())])
    }
}

fn grouped(rows: Vec<(i64, Entry)>) -> HashMap<i64, Vec<Entry>> {
    let mut groups: HashMap<i64, Vec<Entry>> = HashMap::new();
    for (cup, entry) in rows {
        groups.entry(cup).or_default().push(entry);
    }
    groups
}

fn reading_columns(reading: Option<&Reading>) -> Vec<(&'static str, Value)> {
    match reading {
        None => vec![],
        Some(Reading::Mound(seconds)) => vec![("mound_s", seconds.get().into())],
        Some(Reading::FlowCup { cup, efflux }) => {
            vec![
                ("flow_cup", cup.as_str().into()),
                ("efflux_s", efflux.get().into()),
            ]
        }
    }
}

fn own_columns(what: &Happened) -> Vec<(&'static str, Value)> {
    match what {
        Happened::Mixed { stirred, .. } => vec![("minutes", stirred.map(Minutes::get).into())],
        Happened::Stirred { minutes } => vec![("minutes", minutes.get().into())],
        Happened::Thinned { ml, with, hard, .. } => vec![
            ("ml", ml.get().into()),
            ("material_id", (*with).into()),
            ("hard", i64::from(*hard).into()),
        ],
        Happened::Added {
            ml, from, thinner, ..
        } => {
            let (material, cup) = match from {
                PutFrom::Material(material) => (Some(*material), None),
                PutFrom::Cup(cup) => (None, Some(*cup)),
            };
            vec![
                ("ml", ml.get().into()),
                ("material_id", material.into()),
                ("from_cup_id", cup.into()),
                ("thinner_ml", thinner.get().into()),
            ]
        }
        Happened::Looked(seen) => vec![("word", seen.word().into())],
        Happened::Ended(end) => vec![("word", end.word().into())],
        Happened::Drawn {
            ml,
            into: DrawnInto::Pour(pour),
        } => {
            vec![("ml", ml.get().into()), ("pour_id", (*pour).into())]
        }
        Happened::Drawn {
            ml,
            into: DrawnInto::Cup(cup),
        } => {
            vec![("ml", ml.get().into()), ("into_cup_id", (*cup).into())]
        }
        Happened::Read(_) | Happened::Capped | Happened::Opened => vec![],
    }
}

pub(super) fn cup(row: &Row<'_>) -> rusqlite::Result<Cup> {
    Ok(Cup {
        id: row.get("id")?,
        mark: parsed_in(row, "mark", |text| Mark::parse(text).ok())?,
        variant: row.get("variant_id")?,
        mixed_at: moment_of(row)?,
        volume: Millilitres(row.get("volume_ml")?),
        depth: row.get::<_, Option<f64>>("depth_mm")?.map(Millimetres),
        diameter: row.get::<_, Option<f64>>("diameter_mm")?.map(Millimetres),
        tape: row.get("tape")?,
        note: row.get("note")?,
        spent: row.get::<_, Option<i64>>("spent_at_ms")?.is_some(),
    })
}

pub(super) fn put(row: &Row<'_>) -> rusqlite::Result<Put> {
    let material: Option<i64> = row.get("material_id")?;
    let source: Option<i64> = row.get("source_cup_id")?;
    let from = material.map(PutFrom::Material).or(source.map(PutFrom::Cup));
    Ok(Put {
        from: from.ok_or_else(|| says_nothing(&["material_id", "source_cup_id"]))?,
        ml: Millilitres(row.get("ml")?),
    })
}

pub(super) fn entry(row: &Row<'_>) -> rusqlite::Result<Entry> {
    Ok(Entry {
        id: row.get("id")?,
        at: moment_in(row, "at_ms", "offset_min")?,
        backdated: row.get("told")?,
        what: happened(row)?,
    })
}

fn happened(row: &Row<'_>) -> rusqlite::Result<Happened> {
    let minutes = row.get::<_, Option<f64>>("minutes")?.map(Minutes);
    let ml = Millilitres(row.get::<_, Option<f64>>("ml")?.unwrap_or(0.0));
    let reading = reading(row)?;
    Ok(match word_in(row, "kind", EntryKind::parse)? {
        EntryKind::Mixed => Happened::Mixed {
            stirred: minutes,
            reading,
        },
        EntryKind::Stirred => Happened::Stirred {
            minutes: minutes.unwrap_or(Minutes::ZERO),
        },
        EntryKind::Read => {
            Happened::Read(reading.ok_or_else(|| says_nothing(&["mound_s", "efflux_s"]))?)
        }
        EntryKind::Thinned => Happened::Thinned {
            ml,
            with: row.get("material_id")?,
            hard: row.get("hard")?,
            reading,
        },
        EntryKind::Added => Happened::Added {
            ml,
            from: added_from(row)?,
            thinner: Millilitres(row.get::<_, Option<f64>>("thinner_ml")?.unwrap_or(0.0)),
            reading,
        },
        EntryKind::Looked => Happened::Looked(word_in(row, "word", Seen::parse)?),
        EntryKind::Capped => Happened::Capped,
        EntryKind::Opened => Happened::Opened,
        EntryKind::Drawn => Happened::Drawn {
            ml,
            into: drawn_into(row)?,
        },
        EntryKind::Ended => Happened::Ended(word_in(row, "word", End::parse)?),
    })
}

fn added_from(row: &Row<'_>) -> rusqlite::Result<PutFrom> {
    let material: Option<i64> = row.get("material_id")?;
    let cup: Option<i64> = row.get("from_cup_id")?;
    let from = material.map(PutFrom::Material).or(cup.map(PutFrom::Cup));
    from.ok_or_else(|| says_nothing(&["material_id", "from_cup_id"]))
}

fn drawn_into(row: &Row<'_>) -> rusqlite::Result<DrawnInto> {
    let pour: Option<i64> = row.get("pour_id")?;
    let cup: Option<i64> = row.get("into_cup_id")?;
    pour.map(DrawnInto::Pour)
        .or(cup.map(DrawnInto::Cup))
        .ok_or_else(|| says_nothing(&["pour_id", "into_cup_id"]))
}

fn reading(row: &Row<'_>) -> rusqlite::Result<Option<Reading>> {
    let mound: Option<f64> = row.get("mound_s")?;
    let cup: Option<String> = row.get("flow_cup")?;
    let efflux: Option<f64> = row.get("efflux_s")?;
    let flow = cup.zip(efflux).map(|(cup, efflux)| Reading::FlowCup {
        cup,
        efflux: Seconds(efflux),
    });
    Ok(mound.map(|mound| Reading::Mound(Seconds(mound))).or(flow))
}
