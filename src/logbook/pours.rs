//! The tables `panel`, `pour`, `layer`, `move` and `judgement`.

use crate::logbook::read::{Read, Reader, moment_of, unreadable, word_in, word_maybe};
use crate::logbook::{Value, Writer, write};
use crate::trade::judgement::{CellSize, Fate, Judgement};
use crate::trade::life::State;
use crate::trade::moment::{Moment, from_parts};
use crate::trade::panel::{Panel, Shape};
use crate::trade::pour::{Air, Move, MoveKind, Pour, PouredLayer};
use crate::trade::units::{Celsius, Millilitres, Millimetres, Seconds, Share};
use rusqlite::Row;
use std::collections::HashMap;

pub(super) const POUR: &str = "SELECT pour.*, panel.shape, panel.width_mm, panel.height_mm
                    FROM pour JOIN panel ON panel.id = pour.panel_id";

/// Which pours are wanted, newest first.
#[derive(Debug, Clone, Copy)]
pub struct PoursAsked<'a> {
    /// From this instant on, in milliseconds.
    pub from_ms: i64,
    /// Of this technique, however its words are written; empty of those of none.
    pub way: Option<&'a str>,
    /// Only those that come after this one, which is told by its instant in milliseconds and its number.
    pub below: Option<(i64, i64)>,
    /// Without so many of the newest.
    pub skip: u32,
    /// At most so many; none for all.
    pub limit: Option<u32>,
}

impl PoursAsked<'_> {
    /// All of them.
    pub const ALL: Self = Self {
        from_ms: i64::MIN,
        way: None,
        below: None,
        skip: 0,
        limit: None,
    };
}

/// Pours by their numbers, as SQLite reads a list.
pub struct Among(pub(super) String);

impl Among {
    /// Of these pours.
    #[must_use]
    pub fn of(pours: &[Pour]) -> Self {
        let numbers: Vec<String> = pours.iter().map(|pour| pour.id.to_string()).collect();
        Self(format!("[{}]", numbers.join(",")))
    }
}

/// The numbers of [`Among`], within a statement.
pub(super) const AMONG: &str = "(SELECT value FROM json_each(?1))";

impl Reader<'_> {
    /// The pours asked for, newest first, with layers and moves.
    ///
    /// # Errors
    /// Where the store cannot be read; so of all readings below.
    pub fn pours(&self, asked: PoursAsked<'_>) -> Read<Vec<Pour>> {
        // Of one technique they are found by its index, however seldom it is poured.
        let way = match asked.way {
            Some(_) => "trim(coalesce(pour.way, '')) = trim(?2) COLLATE NOCASE",
            None => "?2 IS NULL",
        };
        let sql = format!(
            "{POUR} WHERE {way} AND pour.at_ms >= ?1 AND (pour.at_ms, pour.id) < (?5, ?6)
             ORDER BY pour.at_ms DESC, pour.id DESC LIMIT ?3 OFFSET ?4"
        );
        let limit = asked.limit.map_or(-1, i64::from);
        let (at_ms, id) = asked.below.unwrap_or((i64::MAX, i64::MAX));
        let params = (asked.from_ms, asked.way, limit, asked.skip, at_ms, id);
        let pours = self.all(&sql, params, pour)?;
        self.whole(pours)
    }

    /// Pours with their layers and moves.
    fn whole(&self, mut pours: Vec<Pour>) -> Read<Vec<Pour>> {
        let among = Among::of(&pours);
        let mut layers = self.grouped("layer", &among, layer)?;
        let mut moves = self.grouped("move", &among, one_move)?;
        for pour in &mut pours {
            pour.layers = layers.remove(&pour.id).unwrap_or_default();
            pour.moves = moves.remove(&pour.id).unwrap_or_default();
            on_its_clock(pour);
        }
        Ok(pours)
    }

    /// How many pours there are since an instant.
    pub fn count_pours(&self, from_ms: i64) -> Read<u64> {
        let sql = "SELECT count(*) FROM pour WHERE at_ms >= ?1";
        let count = self.first(sql, [from_ms], |row| row.get::<_, i64>(0))?;
        Ok(count.unwrap_or(0).unsigned_abs())
    }

    /// The number and instant of the pours before an instant, the latest of them first, at most so many.
    pub fn poured_before(&self, to_ms: i64, limit: u32) -> Read<Vec<(i64, i64)>> {
        let sql = "SELECT id, at_ms FROM pour WHERE at_ms <= ?1 ORDER BY at_ms DESC, id LIMIT ?2";
        self.all(sql, (to_ms, limit), |row| Ok((row.get(0)?, row.get(1)?)))
    }

    /// One pour by its number.
    pub fn pour(&self, id: i64) -> Read<Option<Pour>> {
        let found = self.first(&format!("{POUR} WHERE pour.id = ?1"), [id], pour)?;
        Ok(self.whole(found.into_iter().collect())?.pop())
    }

    /// The mark and variant of every cup that lies in one of the pours, by the cup's number.
    pub fn poured_cups_among(&self, among: &Among) -> Read<HashMap<i64, (String, i64)>> {
        let sql = format!(
            "SELECT DISTINCT cup.id, cup.mark, cup.variant_id FROM layer
             JOIN cup ON cup.id = layer.cup_id WHERE layer.pour_id IN {AMONG}"
        );
        let rows = self.all(&sql, [&among.0], marked)?;
        Ok(rows.into_iter().collect())
    }

    /// The pour that began again after this one was scraped.
    pub fn scraped_for(&self, pour: i64) -> Read<Option<i64>> {
        self.first("SELECT id FROM pour WHERE again_of = ?1", [pour], |row| {
            row.get(0)
        })
    }

    /// Which pour began again after each of these was scraped.
    pub fn scraped_among(&self, among: &Among) -> Read<HashMap<i64, i64>> {
        let sql = format!("SELECT again_of, id FROM pour WHERE again_of IN {AMONG}");
        let rows = self.all(&sql, [&among.0], |row| Ok((row.get(0)?, row.get(1)?)))?;
        Ok(rows.into_iter().collect())
    }

    /// Every judgement of the pours, by pour, in order of entry.
    pub fn judgements_among(&self, among: &Among) -> Read<HashMap<i64, Vec<Judgement>>> {
        let sql = format!("SELECT * FROM judgement WHERE pour_id IN {AMONG} ORDER BY pour_id, id");
        let mut by_pour: HashMap<i64, Vec<Judgement>> = HashMap::new();
        for one in self.all(&sql, [&among.0], judgement)? {
            by_pour.entry(one.pour).or_default().push(one);
        }
        Ok(by_pour)
    }

    /// The judgements of one pour, in order of entry.
    pub fn judgements(&self, pour: i64) -> Read<Vec<Judgement>> {
        self.all(
            "SELECT * FROM judgement WHERE pour_id = ?1 ORDER BY id",
            [pour],
            judgement,
        )
    }

    /// The rows of a table that belong to pours, by pour, in their places.
    fn grouped<T>(
        &self,
        table: &str,
        among: &Among,
        make: impl Fn(&Row<'_>) -> rusqlite::Result<T>,
    ) -> Read<HashMap<i64, Vec<T>>> {
        let sql = format!("SELECT * FROM {table} WHERE pour_id IN {AMONG} ORDER BY pour_id, place");
        let row = |row: &Row<'_>| Ok((row.get("pour_id")?, make(row)?));
        let mut groups: HashMap<i64, Vec<T>> = HashMap::new();
        for (pour, one) in self.all(&sql, [&among.0], row)? {
            groups.entry(pour).or_default().push(one);
        }
        Ok(groups)
    }
}

/// A cup's number, mark and variant.
fn marked(row: &Row<'_>) -> rusqlite::Result<(i64, (String, i64))> {
    Ok((row.get(0)?, (row.get(1)?, row.get(2)?)))
}

impl Writer<'_> {
    /// Writes down a panel.
    ///
    /// # Errors
    /// Where the store refuses it; so of all writings below.
    pub fn add_panel(&mut self, panel: Panel) -> Read<i64> {
        let mut columns = vec![("uid", write::uid())];
        columns.extend(panel_columns(panel));
        self.insert("panel", &columns)
    }

    /// Writes down a pour with its layers and moves; its `id` is not looked at.
    pub fn add_pour(&mut self, new: &Pour) -> Read<i64> {
        let [at_ms, offset_min] = write::moment(new.at);
        let celsius = new.air.and_then(|air| air.celsius).map(Celsius::get);
        let humidity = new.air.and_then(|air| air.humidity).map(Share::get);
        let columns = [
            ("uid", write::uid()),
            ("panel_id", new.panel_id.into()),
            ("go", new.go.into()),
            ("again_of", new.again_of.into()),
            ("at_ms", at_ms),
            ("offset_min", offset_min),
            ("way", new.way.clone().into()),
            ("air_c", celsius.into()),
            ("air_rh", humidity.into()),
            ("note", new.note.clone().into()),
        ];
        let id = self.insert("pour", &columns)?;
        self.add_layers(id, &new.layers)?;
        self.add_moves(id, &new.moves)?;
        Ok(id)
    }

    /// Puts a pour right: its panel, its words and air, how much of each layer, its moves. Its instant, its cups and where
    /// it stands on its panel stay.
    pub fn change_pour(&mut self, pour: &Pour) -> Read<()> {
        let celsius = pour.air.and_then(|air| air.celsius).map(Celsius::get);
        let humidity = pour.air.and_then(|air| air.humidity).map(Share::get);
        let columns = [
            ("way", pour.way.clone().into()),
            ("air_c", celsius.into()),
            ("air_rh", humidity.into()),
            ("note", pour.note.clone().into()),
        ];
        self.update("pour", pour.id, &columns)?;
        self.update("panel", pour.panel_id, &panel_columns(pour.panel))?;
        let layers = self.ids("layer", pour.id)?;
        for (id, layer) in layers.into_iter().zip(&pour.layers) {
            self.update("layer", id, &[("ml", layer.ml.get().into())])?;
        }
        for id in self.ids("move", pour.id)? {
            self.delete("move", id)?;
        }
        self.add_moves(pour.id, &pour.moves)
    }

    /// The rows of a table that belong to a pour, in their places.
    fn ids(&self, table: &str, pour: i64) -> Read<Vec<i64>> {
        let sql = format!("SELECT id FROM {table} WHERE pour_id = ?1 ORDER BY place");
        self.read().all(&sql, [pour], |row| row.get(0))
    }

    fn add_layers(&mut self, pour: i64, layers: &[PouredLayer]) -> Read<()> {
        for (place, layer) in (1_i64..).zip(layers) {
            let columns = [
                ("pour_id", pour.into()),
                ("place", place.into()),
                ("cup_id", layer.cup.into()),
                ("ml", layer.ml.get().into()),
                ("state", layer.state.word().into()),
                ("mound_s", layer.mound.map(Seconds::get).into()),
                ("poured_ms", layer.at.map(|at| at.timestamp_millis()).into()),
            ];
            self.insert("layer", &columns)?;
        }
        Ok(())
    }

    fn add_moves(&mut self, pour: i64, moves: &[Move]) -> Read<()> {
        for (place, one) in (1_i64..).zip(moves) {
            let columns = [
                ("pour_id", pour.into()),
                ("place", place.into()),
                ("kind", one.kind.word().into()),
                ("direction", one.direction.clone().into()),
                ("times", one.times.into()),
                ("begun_ms", one.begun.map(|at| at.timestamp_millis()).into()),
                ("took_s", one.took.map(Seconds::get).into()),
            ];
            self.insert("move", &columns)?;
        }
        Ok(())
    }

    /// Writes down a judgement; its `id` is not looked at.
    pub fn add_judgement(&mut self, new: &Judgement) -> Read<i64> {
        let mut columns = judgement_columns(new);
        columns.extend([("uid", write::uid()), ("pour_id", new.pour.into())]);
        self.insert("judgement", &columns)
    }

    /// Writes a judgement anew.
    pub fn change_judgement(&mut self, is: &Judgement) -> Read<()> {
        self.update("judgement", is.id, &judgement_columns(is))
    }

    /// Strikes a judgement.
    pub fn strike_judgement(&mut self, id: i64) -> Read<()> {
        self.delete("judgement", id)
    }
}

fn judgement_columns(new: &Judgement) -> Vec<(&'static str, Value)> {
    let [at_ms, offset_min] = write::moment(new.at);
    let grade = |grade: Option<u8>| Value::from(grade.map(i64::from));
    vec![
        ("at_ms", at_ms),
        ("offset_min", offset_min),
        ("dry", i64::from(new.dry).into()),
        ("cells", i64::from(new.cells).into()),
        ("size", new.size.map(CellSize::word).into()),
        ("evenness", grade(new.evenness)),
        ("lacing", grade(new.lacing)),
        ("muddy", grade(new.muddy)),
        ("crazed", grade(new.crazed)),
        ("pinholes", grade(new.pinholes)),
        ("fate", new.fate.map(Fate::word).into()),
        ("note", new.note.clone().into()),
    ]
}

pub(super) fn pour(row: &Row<'_>) -> rusqlite::Result<Pour> {
    let celsius = row.get::<_, Option<f64>>("air_c")?.map(Celsius);
    let humidity = row.get::<_, Option<f64>>("air_rh")?.map(Share);
    let known = celsius.is_some() || humidity.is_some();
    Ok(Pour {
        id: row.get("id")?,
        panel_id: row.get("panel_id")?,
        panel: panel(row)?,
        go: row.get("go")?,
        again_of: row.get("again_of")?,
        at: moment_of(row)?,
        way: row.get("way")?,
        air: known.then_some(Air { celsius, humidity }),
        layers: Vec::new(),
        moves: Vec::new(),
        note: row.get("note")?,
    })
}

/// A panel as the columns `shape`, `width_mm`, `height_mm`.
pub(super) fn panel_columns(panel: Panel) -> [(&'static str, Value); 3] {
    let (shape, width, height) = match panel.shape {
        Shape::Rectangle { width, height } => ("rectangle", width, height),
        Shape::Round { diameter } => ("round", diameter, diameter),
        Shape::Oval { width, height } => ("oval", width, height),
    };
    [
        ("shape", shape.into()),
        ("width_mm", width.get().into()),
        ("height_mm", height.get().into()),
    ]
}

pub(super) fn panel(row: &Row<'_>) -> rusqlite::Result<Panel> {
    let width = Millimetres(row.get("width_mm")?);
    let height = Millimetres(row.get("height_mm")?);
    let shape: String = row.get("shape")?;
    let shape = match shape.as_str() {
        "rectangle" => Shape::Rectangle { width, height },
        "round" => Shape::Round { diameter: width },
        "oval" => Shape::Oval { width, height },
        _ => return Err(unreadable("shape")),
    };
    Ok(Panel { shape })
}

pub(super) fn layer(row: &Row<'_>) -> rusqlite::Result<PouredLayer> {
    Ok(PouredLayer {
        cup: row.get("cup_id")?,
        ml: Millilitres(row.get("ml")?),
        state: word_in(row, "state", State::parse)?,
        mound: row.get::<_, Option<f64>>("mound_s")?.map(Seconds),
        at: instant(row, "poured_ms")?,
    })
}

/// An instant within a pour, whose offset is the pour's own.
fn instant(row: &Row<'_>, column: &str) -> rusqlite::Result<Option<Moment>> {
    let at = row.get::<_, Option<i64>>(column)?;
    Ok(at.and_then(|at| from_parts(at, 0)))
}

/// What was done within a pour was read from the same clock on the wall.
fn on_its_clock(pour: &mut Pour) {
    let zone = *pour.at.offset();
    let layers = pour.layers.iter_mut().map(|layer| &mut layer.at);
    let moves = pour.moves.iter_mut().map(|one| &mut one.begun);
    for at in layers.chain(moves) {
        *at = at.map(|at| at.with_timezone(&zone));
    }
}

pub(super) fn one_move(row: &Row<'_>) -> rusqlite::Result<Move> {
    Ok(Move {
        kind: word_in(row, "kind", MoveKind::parse)?,
        direction: row.get("direction")?,
        times: row.get("times")?,
        begun: instant(row, "begun_ms")?,
        took: row.get::<_, Option<f64>>("took_s")?.map(Seconds),
    })
}

pub(super) fn judgement(row: &Row<'_>) -> rusqlite::Result<Judgement> {
    Ok(Judgement {
        id: row.get("id")?,
        pour: row.get("pour_id")?,
        at: moment_of(row)?,
        dry: row.get("dry")?,
        cells: row.get("cells")?,
        size: word_maybe(row, "size", CellSize::parse)?,
        evenness: row.get("evenness")?,
        lacing: row.get("lacing")?,
        muddy: row.get("muddy")?,
        crazed: row.get("crazed")?,
        pinholes: row.get("pinholes")?,
        fate: word_maybe(row, "fate", Fate::parse)?,
        note: row.get("note")?,
    })
}
