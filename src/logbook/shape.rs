//! The tables a change may touch, as the file itself declares them: the only names that ever enter a statement.

use super::LogbookError;
use rusqlite::Connection;
use std::collections::BTreeMap;

/// The file's tables and their columns.
#[derive(Debug, Default)]
pub(super) struct Shape(BTreeMap<String, Vec<String>>);

impl Shape {
    /// Reads the tables that can be recorded: plainly named, with `id` as their whole primary key.
    pub(super) fn read(conn: &Connection) -> Result<Self, LogbookError> {
        let mut tables = BTreeMap::new();
        for table in table_names(conn)? {
            if let Some(columns) = recordable(conn, &table)? {
                tables.insert(table, columns);
            }
        }
        Ok(Self(tables))
    }

    /// The tables.
    pub(super) fn tables(&self) -> impl Iterator<Item = &String> {
        self.0.keys()
    }

    /// The columns of a table, in order; an error for a name that is none.
    pub(super) fn columns(&self, table: &str) -> Result<&[String], LogbookError> {
        let known = self.0.get(table).map(Vec::as_slice);
        known.ok_or_else(|| LogbookError::UnknownName {
            table: table.to_owned(),
            column: None,
        })
    }

    /// Refuses a column the table has not got.
    pub(super) fn check(&self, table: &str, column: &str) -> Result<(), LogbookError> {
        let known = self.columns(table)?.iter().any(|name| name == column);
        known
            .then_some(())
            .ok_or_else(|| LogbookError::UnknownName {
                table: table.to_owned(),
                column: Some(column.to_owned()),
            })
    }
}

/// Every table but SQLite's own and the record itself.
fn table_names(conn: &Connection) -> rusqlite::Result<Vec<String>> {
    let sql = "SELECT name FROM sqlite_schema WHERE type = 'table' \
               AND name <> 'change' AND substr(name, 1, 7) <> 'sqlite_'";
    conn.prepare(sql)?
        .query_map([], |row| row.get(0))?
        .collect()
}

fn recordable(conn: &Connection, table: &str) -> rusqlite::Result<Option<Vec<String>>> {
    let mut read = conn.prepare("SELECT name, pk FROM pragma_table_info(?1) ORDER BY cid")?;
    let columns = read
        .query_map([table], |row| Ok((row.get(0)?, row.get(1)?)))?
        .collect::<rusqlite::Result<Vec<(String, i64)>>>()?;
    let keyed = columns.iter().all(|(name, pk)| (name == "id") == (*pk > 0));
    let has_id = columns.iter().any(|(name, _)| name == "id");
    let plain = is_plain(table) && columns.iter().all(|(name, _)| is_plain(name));
    let names = columns.into_iter().map(|(name, _)| name).collect();
    Ok((keyed && has_id && plain).then_some(names))
}

fn is_plain(name: &str) -> bool {
    !name.is_empty() && name.bytes().all(|b| b.is_ascii_alphanumeric() || b == b'_')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_plain_tables_with_an_id_can_be_touched() {
        let conn = Connection::open_in_memory().unwrap();
        conn.execute_batch(
            "CREATE TABLE cup (id INTEGER PRIMARY KEY, name TEXT);
             CREATE TABLE change (id INTEGER PRIMARY KEY);
             CREATE TABLE pair (a INTEGER, b INTEGER, PRIMARY KEY (a, b));
             CREATE TABLE [odd name] (id INTEGER PRIMARY KEY);",
        )
        .unwrap();
        let shape = Shape::read(&conn).unwrap();
        assert_eq!(shape.columns("cup").unwrap(), ["id", "name"]);
        for other in [
            "change",
            "pair",
            "odd name",
            "sqlite_schema",
            "cup; DROP TABLE cup",
        ] {
            assert!(
                matches!(shape.columns(other), Err(LogbookError::UnknownName { .. })),
                "{other}"
            );
        }
        assert!(shape.check("cup", "name = 1 --").is_err());
    }
}
