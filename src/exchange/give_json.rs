//! The whole studio as one JSON document, format version 1 (also told in `assets/studio-json.md`).
//!
//! ```json
//! {
//! "format":"stillcup studio","version":1,"schema":4,
//! "setting":[
//! {"id":1,"name":"currency","value":"EUR"}
//! ],
//! "material":[ … ], … ,
//! "change":[ … ]
//! }
//! ```
//!
//! - `version` is this format's, `schema` the store's. `format`, `version` and `schema` stand first.
//! - One array a table, one row a line, by rising `id`; a table that is referred to comes before those that refer to it.
//! - A row is known by its `uid` (a setting by its `name`). Its `id` is its number in its own studio: a pour's
//!   number is its `id`. A reference is the `uid` of a row further up. Rows that belong to one other row hang under
//!   it, in an array with their table's name.
//! - A real number is text, the shortest decimal that gives back the same double (IEEE 754 binary64), because not
//!   every JSON reader gives back the same one. Whole numbers are numbers. What is unknown is `null`.
//! - Instants are milliseconds since 1970 in UTC (`at_ms`) beside the painter's own offset in minutes (`offset_min`).
//! - `change` is the history; its `rows` is the stored text itself, JSON within a string.
//!
//! The same studio always gives the same bytes.

use super::{unwritten, write_file};
use crate::studio::{Answer, Record, Studio, TABLES, Value};
use std::io::Write;
use std::path::Path;

/// What a file of a studio says it is.
pub(super) const FORMAT: &str = "stillcup studio";
/// The version of this format.
pub(super) const VERSION: u64 = 1;

/// Writes the whole studio to a stream, holding no more than one row at a time.
///
/// # Errors
/// Where the store cannot be read or the stream not written.
pub fn export(studio: &Studio, names: Names, out: &mut impl Write) -> Answer<()> {
    let schema = studio.version();
    let mut json = Document {
        out,
        names,
        tables: 0,
        rows: 0,
    };
    json.say(&format!(
        "{{\n\"format\":\"{FORMAT}\",\"version\":{VERSION},\"schema\":{schema}"
    ))?;
    studio.give_out(|record| json.row(record))?;
    json.open_tables(TABLES.len())?;
    json.say("\n]\n}\n")?;
    json.out.flush().map_err(|err| unwritten(&err))
}

/// Writes the whole studio to a file: whole, or what stood there stays; what stands there is only `replace`d.
///
/// # Errors
/// As [`export`], and where a file is there that is not to be replaced.
pub fn export_to(studio: &Studio, names: Names, path: &Path, replace: bool) -> Answer<()> {
    write_file(studio, path, replace, |out| export(studio, names, out))
}

/// Whether the names of those who bought a picture go out too.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Names {
    /// They stay; the history goes out without them too.
    Stay,
    /// They were asked for.
    Go,
}

struct Document<'a, W> {
    out: &'a mut W,
    names: Names,
    /// How many tables were begun.
    tables: usize,
    /// How many rows the last of them has.
    rows: u64,
}

/// A value without the name of a buyer, in its own row and in the history's record of it.
fn nameless(record: &Record, column: &str, value: Option<&Value>) -> Option<Value> {
    match (record.table.name, column, value) {
        ("picture", "buyer", Some(_)) => Some(Value::Null),
        ("change", "rows", Some(Value::Text(rows))) if rows.contains("\"buyer\"") => {
            Some(Value::Text(nameless_rows(rows)))
        }
        _ => value.cloned(),
    }
}

fn nameless_rows(rows: &str) -> String {
    let Ok(mut read) = serde_json::from_str::<serde_json::Value>(rows) else {
        return rows.to_owned();
    };
    let touched = read.as_array_mut().into_iter().flatten();
    for touch in touched.filter(|touch| touch["table"] == "picture") {
        for side in ["before", "after"] {
            if let Some(buyer) = touch[side].get_mut("buyer") {
                *buyer = serde_json::Value::Null;
            }
        }
    }
    read.to_string()
}

impl<W: Write> Document<'_, W> {
    fn row(&mut self, record: &Record) -> Answer<()> {
        let place = TABLES
            .iter()
            .position(|table| table.name == record.table.name);
        self.open_tables(place.map_or(self.tables, |place| place + 1))?;
        self.say(if self.rows == 0 { "\n" } else { ",\n" })?;
        self.rows += 1;
        self.record(record)
    }

    fn open_tables(&mut self, wanted: usize) -> Answer<()> {
        while self.tables < wanted {
            self.say(if self.tables == 0 {
                ",\n\""
            } else {
                "\n],\n\""
            })?;
            self.say(TABLES[self.tables].name)?;
            self.say("\":[")?;
            (self.tables, self.rows) = (self.tables + 1, 0);
        }
        Ok(())
    }

    fn record(&mut self, record: &Record) -> Answer<()> {
        for (place, (column, field)) in record.table.columns.iter().zip(&record.fields).enumerate()
        {
            self.say(if place == 0 { "{" } else { "," })?;
            self.text(column.said())?;
            self.say(":")?;
            match self.names {
                Names::Go => self.value(field.as_ref())?,
                Names::Stay => {
                    self.value(nameless(record, column.said(), field.as_ref()).as_ref())?
                }
            }
        }
        for child in record.table.children {
            self.say(",")?;
            self.text(child.name)?;
            self.say(":[")?;
            let under = record
                .children
                .iter()
                .filter(|row| row.table.name == child.name);
            for (place, row) in under.enumerate() {
                self.say(if place == 0 { "" } else { "," })?;
                self.record(row)?;
            }
            self.say("]")?;
        }
        self.say("}")
    }

    fn value(&mut self, value: Option<&Value>) -> Answer<()> {
        match value {
            None | Some(Value::Null) => self.say("null"),
            Some(Value::Integer(number)) => self.say(&number.to_string()),
            Some(Value::Real(number)) => self.say(&format!("\"{number:?}\"")),
            Some(Value::Text(text)) => self.text(text),
        }
    }

    fn text(&mut self, text: &str) -> Answer<()> {
        serde_json::to_writer(&mut *self.out, text).map_err(|err| unwritten(&err.into()))
    }

    fn say(&mut self, text: &str) -> Answer<()> {
        self.out
            .write_all(text.as_bytes())
            .map_err(|err| unwritten(&err))
    }
}
