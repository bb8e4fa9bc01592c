//! Whether every row can be read as a studio's: what the readers choke on must never be kept.

use crate::logbook::damage::{Damage, RowFault};
use crate::logbook::driver::of_row;
use crate::logbook::{
    LogbookError, cups, history, materials, photos, pictures, plans, pours, recipes, trials,
};
use rusqlite::{Connection, Row};
use std::collections::HashMap;

/// The most parts that are recipes; more is no painter's doing.
const MOST_EDGES: usize = 1_000_000;

type Readable = fn(&Row<'_>) -> rusqlite::Result<()>;

const READERS: &[(&str, Readable)] = &[
    ("SELECT * FROM material", |row| {
        materials::material(row).map(drop)
    }),
    ("SELECT * FROM stock", |row| materials::stock(row).map(drop)),
    ("SELECT * FROM recipe", |row| recipes::recipe(row).map(drop)),
    ("SELECT * FROM variant", |row| {
        recipes::variant(row).map(drop)
    }),
    ("SELECT * FROM part", |row| recipes::part(row).map(drop)),
    ("SELECT * FROM cup", |row| cups::cup(row).map(drop)),
    ("SELECT * FROM put", |row| cups::put(row).map(drop)),
    ("SELECT * FROM entry", |row| cups::entry(row).map(drop)),
    (pours::POUR, |row| pours::pour(row).map(drop)),
    ("SELECT * FROM layer", |row| pours::layer(row).map(drop)),
    ("SELECT * FROM move", |row| pours::one_move(row).map(drop)),
    ("SELECT * FROM judgement", |row| {
        pours::judgement(row).map(drop)
    }),
    ("SELECT * FROM picture", |row| {
        pictures::picture(row).map(drop)
    }),
    ("SELECT * FROM photo", |row| photos::photo(row).map(drop)),
    ("SELECT * FROM measurement", |row| {
        photos::measurement(row).map(drop)
    }),
    ("SELECT * FROM plan", |row| plans::plan(row).map(drop)),
    ("SELECT * FROM planned_cup", |row| {
        plans::planned_cup(row).map(drop)
    }),
    ("SELECT * FROM trial", |row| trials::trial(row).map(drop)),
    ("SELECT * FROM trial_factor", |row| {
        trials::factor(row).map(drop)
    }),
    ("SELECT * FROM trial_run", |row| trials::run(row).map(drop)),
];

/// Reads every row once and looks for recipes that go into themselves.
pub(in crate::logbook) fn check(conn: &Connection) -> Result<(), LogbookError> {
    for (sql, readable) in READERS {
        let mut read = conn.prepare(sql)?;
        let mut rows = read.query([])?;
        while let Some(row) = rows.next()? {
            readable(row).map_err(|err| of_row(row, err))?;
        }
    }
    history::check(conn)?;
    refuse_cycles(conn)
}

/// Takes away, again and again, the recipes that no remaining recipe goes into; what is left goes round.
fn refuse_cycles(conn: &Connection) -> Result<(), LogbookError> {
    let mut made_of: HashMap<i64, Vec<i64>> = HashMap::new();
    let mut uses: HashMap<i64, usize> = HashMap::new();
    for (whole, part) in edges(conn)? {
        made_of.entry(whole).or_default().push(part);
        uses.entry(whole).or_default();
        *uses.entry(part).or_default() += 1;
    }
    let mut free: Vec<i64> = uses
        .iter()
        .filter(|(_, n)| **n == 0)
        .map(|(id, _)| *id)
        .collect();
    while let Some(whole) = free.pop() {
        uses.remove(&whole);
        for part in made_of.remove(&whole).unwrap_or_default() {
            if let Some(left) = uses.get_mut(&part) {
                *left -= 1;
                if *left == 0 {
                    free.push(part);
                }
            }
        }
    }
    match uses.keys().min() {
        None => Ok(()),
        Some(id) => {
            let round = Damage::row("recipe", *id, RowFault::IntoItself);
            Err(LogbookError::Damaged(round))
        }
    }
}

fn edges(conn: &Connection) -> Result<Vec<(i64, i64)>, LogbookError> {
    let sql = "SELECT DISTINCT variant.recipe_id, part.recipe_id FROM part \
               JOIN variant ON variant.id = part.variant_id WHERE part.recipe_id IS NOT NULL LIMIT ?1";
    let mut read = conn.prepare(sql)?;
    let limit = i64::try_from(MOST_EDGES + 1).unwrap_or(i64::MAX);
    let rows = read.query_map([limit], |row| Ok((row.get(0)?, row.get(1)?)))?;
    let found = rows.collect::<rusqlite::Result<Vec<_>>>()?;
    if found.len() > MOST_EDGES {
        let most = MOST_EDGES;
        return Err(LogbookError::Damaged(Damage::Parts { most }));
    }
    Ok(found)
}
