//! Reading every row out, in an order that never changes, from one snapshot.

use super::Record;
use super::layout::{Holds, TABLES, Table};
use crate::logbook::{Logbook, LogbookError, Value};
use rusqlite::{CachedStatement, Connection, Row};

impl Logbook {
    /// Hands out every row of the studio, table by table in the order of [`TABLES`], each with those under it.
    ///
    /// # Errors
    /// What `each` answers, and then no more is read; [`LogbookError`] where the file cannot be read.
    pub fn give_out<E: From<LogbookError>>(
        &self,
        mut each: impl FnMut(&Record) -> Result<(), E>,
    ) -> Result<(), E> {
        let snapshot = self
            .conn()
            .unchecked_transaction()
            .map_err(LogbookError::from)?;
        for table in TABLES {
            let mut query = Query::of(&snapshot, table, "TRUE")?;
            let mut rows = query.read.query([]).map_err(LogbookError::from)?;
            while let Some(row) = rows.next().map_err(LogbookError::from)? {
                each(&filled(&snapshot, table, row)?)?;
            }
        }
        Ok(())
    }

    /// The version of the file's shape.
    #[must_use]
    pub fn version(&self) -> u32 {
        crate::logbook::migrate::latest(self.steps)
    }
}

struct Query<'a> {
    read: CachedStatement<'a>,
}

impl<'a> Query<'a> {
    fn of(conn: &'a Connection, table: &Table, which: &str) -> Result<Self, LogbookError> {
        let column = |column: &super::layout::Column| match column.holds {
            Holds::To(other) => format!(
                "(SELECT uid FROM \"{other}\" WHERE id = t.\"{}\")",
                column.name
            ),
            _ => format!("t.\"{}\"", column.name),
        };
        let columns: Vec<_> = table.columns.iter().map(column).collect();
        let (list, name) = (columns.join(", "), table.name);
        let sql = format!("SELECT {list} FROM \"{name}\" AS t WHERE {which} ORDER BY t.id");
        Ok(Self {
            read: conn.prepare_cached(&sql)?,
        })
    }
}

/// The row of a number, with those under it.
pub(super) fn one(
    conn: &Connection,
    table: &'static Table,
    id: i64,
) -> Result<Option<Record>, LogbookError> {
    let mut query = Query::of(conn, table, "t.id = ?1")?;
    let mut rows = query.read.query([id])?;
    rows.next()?.map(|row| filled(conn, table, row)).transpose()
}

fn filled(conn: &Connection, table: &'static Table, row: &Row<'_>) -> Result<Record, LogbookError> {
    let mut record = bare(table, row)?;
    for child in table.children {
        let which = format!("t.\"{}\" = ?1", child.parent.unwrap_or("id"));
        let mut query = Query::of(conn, child, &which)?;
        let mut rows = query.read.query([record.id()])?;
        while let Some(row) = rows.next()? {
            record.children.push(bare(child, row)?);
        }
    }
    Ok(record)
}

fn bare(table: &'static Table, row: &Row<'_>) -> Result<Record, LogbookError> {
    let field = |place| Value::from_sql(row.get_ref(place)?).map(Some);
    let fields = (0..table.columns.len())
        .map(field)
        .collect::<Result<_, _>>()?;
    Ok(Record {
        table,
        fields,
        children: Vec::new(),
    })
}
