//! A quick look at names while a person types: read only, and nothing is made, locked for long or renewed.

use super::{APPLICATION_ID, header};
use rusqlite::{Connection, OpenFlags};
use std::path::Path;
use std::time::Duration;

/// Longer lists help nobody who presses a key to be shown one (ours).
const MOST: u32 = 500;

/// Names that a person may mean.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct AtHand {
    /// The marks of living cups, each with its recipe.
    pub marks: Vec<(String, String)>,
    /// The recipes that are offered, each with its layer.
    pub recipes: Vec<(String, String)>,
    /// The materials that are offered, each with its kind.
    pub materials: Vec<(String, String)>,
}

/// What stands in the studio at `path`; nothing where it cannot be read at once.
#[must_use]
pub fn at_hand(path: &Path) -> AtHand {
    read(path).unwrap_or_default()
}

fn read(path: &Path) -> rusqlite::Result<AtHand> {
    let conn = open(path)?;
    let claimed: i32 = conn.pragma_query_value(None, "application_id", |row| row.get(0))?;
    if claimed != APPLICATION_ID {
        return Ok(AtHand::default());
    }
    Ok(AtHand {
        marks: pairs(
            &conn,
            "SELECT cup.mark, recipe.name FROM cup
             JOIN variant ON variant.id = cup.variant_id JOIN recipe ON recipe.id = variant.recipe_id
             WHERE cup.spent_at_ms IS NULL ORDER BY cup.mark LIMIT ?1",
        )?,
        recipes: pairs(
            &conn,
            "SELECT name, layer FROM recipe WHERE retired_at_ms IS NULL ORDER BY name LIMIT ?1",
        )?,
        materials: pairs(
            &conn,
            "SELECT name, kind FROM material WHERE retired_at_ms IS NULL ORDER BY name LIMIT ?1",
        )?,
    })
}

/// A file without a log is read as one that does not change, so that SQLite makes nothing beside it.
fn open(path: &Path) -> rusqlite::Result<Connection> {
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let conn = match header::has_log(path) {
        true => Connection::open_with_flags(path, flags)?,
        false => Connection::open_with_flags(
            header::unchanging(path),
            flags | OpenFlags::SQLITE_OPEN_URI,
        )?,
    };
    conn.busy_timeout(Duration::from_millis(50))?;
    Ok(conn)
}

fn pairs(conn: &Connection, sql: &str) -> rusqlite::Result<Vec<(String, String)>> {
    let mut asked = conn.prepare(sql)?;
    let rows = asked.query_map([MOST], |row| Ok((row.get(0)?, row.get(1)?)))?;
    rows.collect()
}
