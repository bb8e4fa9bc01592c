//! Studios of any size, made fast and always the same: a seed, plain inserts, one transaction.

use crate::told;
use rand::{RngExt, SeedableRng, rngs::ChaCha8Rng};
use rusqlite::{Connection, Statement, Transaction, params};
use std::path::{Path, PathBuf};
use stillcup::studio::{MaterialOrder, RecipeOrder, Studio};
use stillcup::trade::instant::Now;
use stillcup::trade::material::MaterialKind;
use stillcup::trade::recipe::LayerKind;

/// A studio that was made.
pub struct Made {
    /// Its file.
    pub file: PathBuf,
    /// How many cups it ever had.
    pub cups: i64,
    /// The instant it ends at.
    pub now: Now,
}

impl Made {
    /// Its file's path as text.
    pub fn path(&self) -> &str {
        self.file.to_str().unwrap_or_default()
    }
}

/// Cups that live at the end, whatever the size.
const LIVING: i64 = 40;

/// Makes a studio that ever had so many cups, 40 of which live.
pub fn make(folder: &Path, cups: i64) -> anyhow::Result<Made> {
    let file = folder.join(format!("{cups}.studio"));
    let now = crate::last_day()?;
    found(&mut Studio::open(&file).map_err(told)?, &now)?;
    let mut conn = Connection::open(&file)?;
    let tx = conn.transaction()?;
    fill(&tx, cups, now.at.timestamp_millis())?;
    tx.commit()?;
    conn.execute_batch("PRAGMA wal_checkpoint(TRUNCATE);")?;
    Ok(Made { file, cups, now })
}

fn found(studio: &mut Studio, now: &Now) -> anyhow::Result<()> {
    let thinner = MaterialOrder {
        kind: Some(MaterialKind::Thinner),
        ..MaterialOrder::default()
    };
    studio.add_material("Water", &thinner, now).map_err(told)?;
    for number in 1..=8 {
        let paint = MaterialOrder {
            kind: Some(MaterialKind::Paint),
            ..MaterialOrder::default()
        };
        studio
            .add_material(&format!("Paint {number}"), &paint, now)
            .map_err(told)?;
        let known = studio.known([]).map_err(told)?;
        let parts = known.parts([format!("Paint {number} 1").as_str(), "Water 0.1"]);
        let parts = parts.map_err(|refusal| told(refusal.into()))?;
        let order = RecipeOrder {
            parts,
            ..RecipeOrder::default()
        };
        studio
            .add_recipe(&format!("Colour {number}"), LayerKind::Colour, &order, now)
            .map_err(told)?;
    }
    Ok(())
}

fn fill(tx: &Transaction<'_>, cups: i64, end_ms: i64) -> anyhow::Result<()> {
    let mut draws = ChaCha8Rng::seed_from_u64(20_261_124);
    let mut cup = tx.prepare(
        "INSERT INTO cup (id, uid, mark, variant_id, at_ms, offset_min, volume_ml, spent_at_ms)
         VALUES (?1, ?2, ?3, ?4, ?5, 60, 120.0, ?6)",
    )?;
    let mut put =
        tx.prepare("INSERT INTO put (cup_id, place, material_id, ml) VALUES (?1, 1, ?2, 120.0)")?;
    let mut entry = tx.prepare(
        "INSERT INTO entry (uid, cup_id, at_ms, offset_min, kind, mound_s, ml, material_id, word)
         VALUES (?1, ?2, ?3, 60, ?4, ?5, ?6, ?7, ?8)",
    )?;
    for id in 1..=cups {
        let living = id > cups - LIVING;
        let at = end_ms - (cups - id) * 1_800_000 - 50_000_000;
        let mark = mark_of(id % 150);
        let spent = (!living).then_some(at + 90_000_000);
        let variant: i64 = draws.random_range(1..=8);
        cup_row(&mut cup, id, &mark, variant, at, spent)?;
        put.execute(params![id, variant + 1])?;
        life(&mut entry, id, at, &mut draws, living)?;
    }
    drop((cup, put, entry));
    pours(tx, cups, end_ms, &mut draws)
}

fn cup_row(
    cup: &mut Statement<'_>,
    id: i64,
    mark: &str,
    variant: i64,
    at: i64,
    spent: Option<i64>,
) -> anyhow::Result<()> {
    cup.execute(params![id, format!("cup-{id}"), mark, variant, at, spent])?;
    Ok(())
}

fn life(
    entry: &mut Statement<'_>,
    cup: i64,
    at: i64,
    draws: &mut ChaCha8Rng,
    living: bool,
) -> anyhow::Result<()> {
    let mound = draws.random_range(2.0..4.0);
    let hour = 3_600_000;
    let mut line =
        |nth: i64, at: i64, kind: &str, mound: Option<f64>, ml: Option<f64>, word: Option<&str>| {
            let with = ml.map(|_| 1_i64);
            entry.execute(params![
                format!("{cup}-{nth}"),
                cup,
                at,
                kind,
                mound,
                ml,
                with,
                word
            ])
        };
    line(1, at, "mixed", Some(mound), None, None)?;
    line(2, at + 12 * hour, "looked", None, None, Some("clear"))?;
    line(3, at + 13 * hour, "read", Some(mound * 1.3), None, None)?;
    line(
        4,
        at + 13 * hour + 60_000,
        "thinned",
        Some(2.4),
        Some(3.0),
        None,
    )?;
    line(5, at + 14 * hour, "read", Some(2.7), None, None)?;
    if !living {
        line(6, at + 25 * hour, "ended", None, None, Some("used"))?;
    }
    Ok(())
}

fn pours(
    tx: &Transaction<'_>,
    cups: i64,
    end_ms: i64,
    draws: &mut ChaCha8Rng,
) -> anyhow::Result<()> {
    tx.execute_batch("INSERT INTO panel VALUES (1, 'panel-1', 'rectangle', 400.0, 500.0)")?;
    let mut pour = tx.prepare(
        "INSERT INTO pour (id, uid, panel_id, go, at_ms, offset_min) VALUES (?1, ?2, 1, 1, ?3, 60)",
    )?;
    let mut layer = tx.prepare(
        "INSERT INTO layer (pour_id, place, cup_id, ml, state) VALUES (?1, ?2, ?3, 30.0, 'ready')",
    )?;
    let mut judgement = tx.prepare(
        "INSERT INTO judgement (uid, pour_id, at_ms, offset_min, dry, cells) VALUES (?1, ?2, ?3, 60, 0, ?4)",
    )?;
    for id in 1..=cups / 4 {
        let at = end_ms - (cups - id * 4) * 1_800_000;
        pour.execute(params![id, format!("pour-{id}"), at])?;
        for place in 1..=3_i64 {
            layer.execute(params![id, place, id * 4 - place])?;
        }
        judgement.execute(params![
            format!("judgement-{id}"),
            id,
            at,
            draws.random_range(0..=5_i64)
        ])?;
    }
    Ok(())
}

fn mark_of(nth: i64) -> String {
    let letters = b"ABCDEFGHJKMNPQRSTUVWXYZ";
    let letter = usize::try_from(nth).unwrap_or(0) % letters.len();
    format!("{}{}", char::from(letters[letter]), 2 + nth / 23)
}
