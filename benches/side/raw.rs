//! What one would use instead: SQLite by hand, in this process or as its own program.

use rusqlite::{Connection, params};
use std::path::Path;
use std::process::{Command, Stdio};

/// The Bench's question, put to sqlite3.
pub const LIVING: &str = "SELECT cup.mark, recipe.name, variant.number, entry.* FROM cup
    JOIN variant ON variant.id = cup.variant_id JOIN recipe ON recipe.id = variant.recipe_id
    JOIN entry ON entry.cup_id = cup.id WHERE cup.spent_at_ms IS NULL ORDER BY cup.id, entry.id";

/// A store beside the studio's own, with the same tables, written to by hand.
pub struct Twin(Connection);

impl Twin {
    /// A copy of a studio's file, opened as durably as the studio is.
    pub fn of(file: &Path) -> anyhow::Result<Self> {
        let twin = file.with_extension("twin");
        std::fs::copy(file, &twin)?;
        let conn = Connection::open(twin)?;
        conn.execute_batch(
            "PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON;",
        )?;
        Ok(Self(conn))
    }

    /// Writes the rows of a mix and its history durably, then takes them away durably.
    pub fn mix(&self) -> anyhow::Result<()> {
        // As long as the record of a mix, and as good JSON.
        let record = format!("[\"{}\"]", "x".repeat(900));
        self.0.execute_batch("BEGIN IMMEDIATE")?;
        self.0
            .prepare_cached(
                "INSERT INTO cup (id, uid, mark, variant_id, at_ms, offset_min, volume_ml)
             VALUES (9000000, 'twin', 'ZZZ', 1, 1, 60, 120.0)",
            )?
            .execute([])?;
        self.0.prepare_cached("INSERT INTO put (id, cup_id, place, material_id, ml) VALUES (9000000, 9000000, 1, 2, 109.0)")?.execute([])?;
        self.0.prepare_cached("INSERT INTO put (id, cup_id, place, material_id, ml) VALUES (9000001, 9000000, 2, 1, 11.0)")?.execute([])?;
        self.0
            .prepare_cached(
                "INSERT INTO entry (id, uid, cup_id, at_ms, offset_min, kind)
             VALUES (9000000, 'twin', 9000000, 1, 60, 'mixed')",
            )?
            .execute([])?;
        self.record("do", &record)?;
        self.0.execute_batch("COMMIT; BEGIN IMMEDIATE")?;
        for table in ["entry", "put", "put", "cup"] {
            let sql = format!("DELETE FROM {table} WHERE id = (SELECT max(id) FROM {table})");
            self.0.prepare_cached(&sql)?.execute([])?;
        }
        self.record("undo", &record)?;
        self.0.execute_batch("COMMIT")?;
        Ok(())
    }

    fn record(&self, kind: &str, rows: &str) -> anyhow::Result<()> {
        let target: Option<i64> = match kind {
            "do" => None,
            _ => Some(
                self.0
                    .query_row("SELECT max(id) FROM change", [], |row| row.get(0))?,
            ),
        };
        let uid = uuid::Uuid::now_v7().to_string();
        let sql = "INSERT INTO change (uid, at_ms, offset_min, kind, label, target, \"rows\")
                   VALUES (?1, 1, 60, ?2, 'mixed by hand', ?3, ?4)";
        self.0
            .prepare_cached(sql)?
            .execute(params![uid, kind, target, rows])?;
        Ok(())
    }
}

/// Runs a program to its end, its output thrown away.
pub fn run(program: &str, args: &[&str], now: &str) -> anyhow::Result<()> {
    let mut command = Command::new(program);
    command
        .args(args)
        .env("STILLCUP_NOW", now)
        .stdout(Stdio::null())
        .stderr(Stdio::null());
    let status = command.status()?;
    anyhow::ensure!(status.success(), "{program} failed");
    Ok(())
}

/// A table as wide as an entry, for sqlite3 to import into.
pub const ROW_TABLE: &str = "CREATE TABLE row (a, b, c, d, e, f, g, h, i);";

/// Writes as many rows as a studio's tables hold, each as wide as an entry, as CSV.
pub fn rows_as_csv(studio: &Path, file: &str) -> anyhow::Result<()> {
    use std::io::Write;
    let conn = Connection::open(studio)?;
    let mut rows = 0_u32;
    for table in ["cup", "put", "entry", "pour", "layer", "judgement"] {
        let sql = format!("SELECT count(*) FROM {table}");
        rows += conn.query_row(&sql, [], |row| row.get::<_, u32>(0))?;
    }
    let mut out = std::io::BufWriter::new(std::fs::File::create(file)?);
    for row in 0..rows {
        writeln!(
            out,
            "{row},{row}-1,{},1796000000000,60,thinned,2.4,3.0,1",
            row / 6
        )?;
    }
    Ok(out.flush()?)
}
