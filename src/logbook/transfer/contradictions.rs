//! What in a file that comes in cannot all be true, though each row by itself could: said by row, and taken in only where a
//! person says that it is so all the same.

use crate::logbook::LogbookError;
use crate::logbook::change::Touch;
use crate::logbook::damage::RowAt;
use crate::logbook::foreign::{Contradiction, Contradictions};
use crate::logbook::shape::Shape;
use crate::logbook::value::{Row, Value};
use crate::trade::units::Millilitres;
use rusqlite::Connection;
use std::cmp::Ordering;
use std::collections::{HashMap, HashSet};

/// The most that are said; the rest are counted.
const MOST_SAID: usize = 20;

/// Amounts are entered to a tenth of a millilitre and summed: less than this is rounding.
const ROUNDING_ML: f64 = 0.5;

/// Cups of which more came out than was ever in them, each with what it is.
fn overdrawn(conn: &Connection) -> Result<HashMap<i64, Contradiction>, LogbookError> {
    let sql = "SELECT cup.id, cup.mark, cup.volume_ml + coalesce(moved.thinned, 0), moved.drawn FROM cup JOIN \
               (SELECT cup_id, sum(CASE kind WHEN 'drawn' THEN ml END) AS drawn, \
                sum(CASE WHEN kind IN ('thinned', 'added') THEN ml END) AS thinned FROM entry GROUP BY cup_id) AS moved \
               ON moved.cup_id = cup.id WHERE moved.drawn > cup.volume_ml + coalesce(moved.thinned, 0) + ?1";
    let mut read = conn.prepare(sql)?;
    let cups = read.query_map([ROUNDING_ML], |row| {
        let (id, mark): (i64, String) = (row.get(0)?, row.get(1)?);
        let (held, drawn) = (Millilitres(row.get(2)?), Millilitres(row.get(3)?));
        Ok((id, Contradiction::Overdrawn { mark, drawn, held }))
    })?;
    Ok(cups.collect::<rusqlite::Result<_>>()?)
}

/// Cups that were never mixed, each with what it is.
fn unmixed(conn: &Connection) -> Result<HashMap<i64, Contradiction>, LogbookError> {
    let sql = "SELECT id, mark FROM cup WHERE NOT EXISTS \
               (SELECT 1 FROM entry WHERE entry.cup_id = cup.id AND entry.kind = 'mixed')";
    let mut read = conn.prepare(sql)?;
    let cups = read.query_map([], |row| {
        let (id, mark) = (row.get(0)?, row.get(1)?);
        Ok((id, Contradiction::Unmixed { mark }))
    })?;
    Ok(cups.collect::<rusqlite::Result<_>>()?)
}

/// What of cups cannot be true, by cup.
pub(super) fn of_cups(conn: &Connection) -> Result<HashMap<i64, Contradiction>, LogbookError> {
    let mut said = overdrawn(conn)?;
    said.extend(unmixed(conn)?);
    Ok(said)
}

/// Rows that are not what the history leaves, and tables with rows of which it says nothing.
pub(super) fn unhistoric(conn: &Connection) -> Result<Vec<Contradiction>, LogbookError> {
    let shape = Shape::read(conn)?;
    let (mut seen, mut left) = (HashSet::new(), HashMap::<String, u64>::new());
    let mut said = Vec::new();
    let mut read = conn.prepare("SELECT \"rows\" FROM change ORDER BY id DESC")?;
    let mut changes = read.query([])?;
    let mut any = false;
    while let Some(change) = changes.next()? {
        any = true;
        let touches = Touch::all_in(change.get_ref(0)?.as_str().unwrap_or_default());
        for touch in touches.unwrap_or_default().into_iter().rev() {
            if !seen.insert((touch.table.clone(), touch.id)) {
                continue;
            }
            *left.entry(touch.table.clone()).or_default() += u64::from(touch.after.is_some());
            said.extend(differs(conn, &shape, &touch)?);
        }
    }
    if any {
        said.extend(untold(conn, &shape, &left)?);
    }
    Ok(said)
}

fn differs(
    conn: &Connection,
    shape: &Shape,
    touch: &Touch,
) -> Result<Option<Contradiction>, LogbookError> {
    let which = RowAt::new(&*touch.table, touch.id);
    let now = row(conn, shape, &touch.table, touch.id)?;
    Ok(match (&touch.after, now) {
        (None, None) => None,
        (None, Some(_)) => Some(Contradiction::TakenAway(which)),
        (Some(_), None) => Some(Contradiction::NotThere(which)),
        (Some(after), Some(now)) => {
            // A column that came later is not in an older record.
            let other = after.0.iter().find(|(name, value)| {
                name != "id" && now.get(name).is_some_and(|now| now != value)
            });
            other.map(|(name, _)| Contradiction::Differs(which, name.clone()))
        }
    })
}

fn row(
    conn: &Connection,
    shape: &Shape,
    table: &str,
    id: i64,
) -> Result<Option<Row>, LogbookError> {
    let Ok(columns) = shape.columns(table) else {
        return Ok(None);
    };
    let list: Vec<String> = columns.iter().map(|name| format!("\"{name}\"")).collect();
    let sql = format!("SELECT {} FROM \"{table}\" WHERE id = ?1", list.join(", "));
    let mut read = conn.prepare_cached(&sql)?;
    let mut rows = read.query([id])?;
    let Some(found) = rows.next()? else {
        return Ok(None);
    };
    let pairs = columns.iter().enumerate();
    let pair =
        |(at, name): (usize, &String)| Ok((name.clone(), Value::from_sql(found.get_ref(at)?)?));
    let pairs: Result<_, LogbookError> = pairs.map(pair).collect();
    Ok(Some(Row(pairs?)))
}

/// The tables that hold more rows than the history leaves.
fn untold(
    conn: &Connection,
    shape: &Shape,
    left: &HashMap<String, u64>,
) -> Result<Vec<Contradiction>, LogbookError> {
    let mut said = Vec::new();
    for table in shape.tables() {
        let sql = format!("SELECT count(*) FROM \"{table}\"");
        let held: i64 = conn.query_row(&sql, [], |row| row.get(0))?;
        let told = left.get(table).copied().unwrap_or(0);
        let held = u64::try_from(held).unwrap_or(0);
        if held > told {
            let table = table.clone();
            said.push(Contradiction::Untold { table, held, told });
        }
    }
    Ok(said)
}

/// No more of them than anybody reads.
pub(super) fn shortened(mut said: Vec<Contradiction>) -> Contradictions {
    said.sort_by(|one, other| one.partial_cmp(other).unwrap_or(Ordering::Equal));
    let more = said.len().saturating_sub(MOST_SAID);
    said.truncate(MOST_SAID);
    Contradictions { said, more }
}
