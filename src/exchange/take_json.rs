//! Reading a whole studio from JSON (the format is told in `give_json.rs`), one row at a time.
//!
//! A hostile file costs no more memory than its longest row may have: the reader beneath counts what a row takes and
//! ends the reading past the limit; values of a wrong kind end it where they stand, so nothing nests.

use super::ExchangeError;
use super::give_json::{FORMAT, VERSION};
use crate::studio::{
    Column, Holds, Intake, Record, StoreError, Studio, TABLES, Table, Taken, Value,
};
use crate::trade::instant::Now;
use crate::trade::text::inert;
use serde::de::{DeserializeSeed, Deserializer, Error, MapAccess, SeqAccess, Visitor};
use std::cell::{Cell, RefCell};
use std::fmt;
use std::io::{BufReader, Read};
use std::path::Path;
use std::rc::Rc;

/// The most bytes of one row.
const MOST_ROW: u64 = 16 << 20;
/// The most bytes of one change, which holds every row it touched, each twice escaped.
const MOST_CHANGE: u64 = 128 << 20;
/// The most bytes of a file.
const MOST_FILE: u64 = 2 << 30;
/// The most rows under one row.
const MOST_UNDER: usize = 10_000;

/// Takes a studio in from a stream: all of it, or nothing.
///
/// # Errors
/// One sentence of what is wrong with the file; where the store refuses.
pub fn import(studio: &mut Studio, from: impl Read, now: &Now) -> Result<Taken, ExchangeError> {
    take(studio, from, now, false)
}

fn take(
    studio: &mut Studio,
    from: impl Read,
    now: &Now,
    even_so: bool,
) -> Result<Taken, ExchangeError> {
    let meter = Rc::new(Meter::default());
    let schema = u64::from(studio.version());
    studio.take_in(now, even_so, |intake| {
        let metered = Metered {
            from,
            meter: Rc::clone(&meter),
        };
        read_document(BufReader::new(metered), &meter, schema, intake)
    })
}

/// Takes a studio in from a file; what cannot all be true only where it is said to be so `even_so`.
///
/// # Errors
/// As [`import`]; where the file cannot be opened, or is a folder, a pipe or a device.
pub fn import_from(
    studio: &mut Studio,
    path: &Path,
    now: &Now,
    even_so: bool,
) -> Result<Taken, ExchangeError> {
    let shown = path.display().to_string();
    let failed = |err: std::io::Error| ExchangeError::unread(&shown, &err);
    // Asked before it is opened: a pipe would be waited for.
    if !std::fs::metadata(path).map_err(failed)?.is_file() {
        return Err(ExchangeError::NotAFile(shown));
    }
    let file = std::fs::File::open(path).map_err(failed)?;
    take(studio, file, now, even_so)
}

fn read_document(
    from: impl Read,
    meter: &Meter,
    schema: u64,
    intake: &mut Intake<'_, '_>,
) -> Result<(), ExchangeError> {
    let state = State {
        meter,
        schema,
        intake: RefCell::new(intake),
        refused: RefCell::new(None),
    };
    meter.allow(MOST_ROW);
    let mut json = serde_json::Deserializer::from_reader(from);
    let read = json
        .deserialize_map(Document(&state))
        .and_then(|()| json.end());
    let refused = state.refused.take();
    read.map_err(|err| refused.unwrap_or_else(|| told(&err, meter)))
}

fn told(err: &serde_json::Error, meter: &Meter) -> ExchangeError {
    use serde_json::error::Category;
    if let Some(why) = meter.stopped.get() {
        return ExchangeError::TooLarge(why);
    }
    // What the file says may be quoted in it: no escape codes, and no megabytes.
    let long = err.to_string();
    let why: String = inert(&long).chars().take(200).collect();
    match err.classify() {
        Category::Io => ExchangeError::System {
            path: "the file".into(),
            why,
        },
        Category::Eof => ExchangeError::CutShort(err.line()),
        Category::Syntax => ExchangeError::NotJson(why),
        Category::Data => ExchangeError::NotAStudio(why),
    }
}

/// How much may still be read.
#[derive(Debug, Default)]
struct Meter {
    left: Cell<u64>,
    total: Cell<u64>,
    stopped: Cell<Option<&'static str>>,
}

impl Meter {
    fn allow(&self, most: u64) {
        self.left.set(most);
    }

    fn take(&self, bytes: u64) -> std::io::Result<()> {
        let total = self.total.get().saturating_add(bytes);
        self.total.set(total);
        let why = match self.left.get().checked_sub(bytes) {
            None => "one row of the file is larger than any studio's",
            Some(_) if total > MOST_FILE => "the file has more than 2 GiB",
            Some(left) => {
                self.left.set(left);
                return Ok(());
            }
        };
        self.stopped.set(Some(why));
        Err(std::io::Error::other(why))
    }
}

struct Metered<R> {
    from: R,
    meter: Rc<Meter>,
}

impl<R: Read> Read for Metered<R> {
    fn read(&mut self, buffer: &mut [u8]) -> std::io::Result<usize> {
        let read = self.from.read(buffer)?;
        self.meter.take(read as u64)?;
        Ok(read)
    }
}

struct State<'s, 'i, 'a, 'w> {
    meter: &'s Meter,
    schema: u64,
    intake: RefCell<&'i mut Intake<'a, 'w>>,
    refused: RefCell<Option<ExchangeError>>,
}

impl State<'_, '_, '_, '_> {
    /// Keeps the true reason while the JSON reader is told only to stop.
    fn stop<E: Error>(&self, why: ExchangeError) -> E {
        let said = E::custom(&why);
        *self.refused.borrow_mut() = Some(why);
        said
    }

    fn put<E: Error>(&self, record: &Record) -> Result<(), E> {
        let put: Result<(), StoreError> = self.intake.borrow_mut().put(record);
        put.map_err(|err| self.stop(err.into()))
    }

    fn header<'de, A: MapAccess<'de>>(&self, map: &mut A) -> Result<(), A::Error> {
        let other =
            || A::Error::custom("it does not begin with \"format\", \"version\" and \"schema\"");
        let named = |key: Option<String>, name: &str| (key.as_deref() == Some(name)).then_some(());
        named(map.next_key()?, "format").ok_or_else(other)?;
        if map.next_value::<String>()? != FORMAT {
            return Err(A::Error::custom("its format is another"));
        }
        for (what, key, ours) in [
            ("format version", "version", VERSION),
            ("schema", "schema", self.schema),
        ] {
            named(map.next_key()?, key).ok_or_else(other)?;
            let theirs: u64 = map.next_value()?;
            if theirs > ours {
                return Err(self.stop(ExchangeError::Newer { what, theirs, ours }));
            }
        }
        Ok(())
    }
}

struct Document<'t, 's, 'i, 'a, 'w>(&'t State<'s, 'i, 'a, 'w>);

impl<'de> Visitor<'de> for Document<'_, '_, '_, '_, '_> {
    type Value = ();

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a studio")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<(), A::Error> {
        self.0.header(&mut map)?;
        let mut next = 0;
        while let Some(key) = map.next_key::<String>()? {
            let place = TABLES.iter().position(|table| table.name == key);
            let place = place.ok_or_else(|| A::Error::custom(unknown("table", &key)))?;
            let table = &TABLES[place];
            if place < next {
                let why =
                    format!("its table {key} stands there twice, or after one that refers to it");
                return Err(A::Error::custom(why));
            }
            next = place + 1;
            map.next_value_seed(Rows {
                table,
                state: self.0,
            })?;
        }
        Ok(())
    }
}

fn unknown(what: &str, name: &str) -> String {
    let short: String = name.chars().take(40).collect();
    format!("it has an unknown {what} {short:?}")
}

struct Rows<'t, 's, 'i, 'a, 'w> {
    table: &'static Table,
    state: &'t State<'s, 'i, 'a, 'w>,
}

impl<'de> DeserializeSeed<'de> for Rows<'_, '_, '_, '_, '_> {
    type Value = ();

    fn deserialize<D: Deserializer<'de>>(self, from: D) -> Result<(), D::Error> {
        from.deserialize_seq(self)
    }
}

impl<'de> Visitor<'de> for Rows<'_, '_, '_, '_, '_> {
    type Value = ();

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "the rows of {}", self.table.name)
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut rows: A) -> Result<(), A::Error> {
        let most = if self.table.name == "change" {
            MOST_CHANGE
        } else {
            MOST_ROW
        };
        loop {
            self.state.meter.allow(most);
            match rows.next_element_seed(OneRow(self.table))? {
                Some(record) => self.state.put(&record)?,
                None => return Ok(()),
            }
        }
    }
}

/// One row: each of its columns at most once, nothing else.
struct OneRow(&'static Table);

impl<'de> DeserializeSeed<'de> for OneRow {
    type Value = Record;

    fn deserialize<D: Deserializer<'de>>(self, from: D) -> Result<Record, D::Error> {
        from.deserialize_map(self)
    }
}

impl<'de> Visitor<'de> for OneRow {
    type Value = Record;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "a row of {}", self.0.name)
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Record, A::Error> {
        let mut record = self.0.blank();
        while let Some(key) = map.next_key::<String>()? {
            if let Some(place) = self.0.columns.iter().position(|one| one.said() == key) {
                if record.fields[place].is_some() {
                    return Err(A::Error::custom(format!("a row says {key} twice")));
                }
                let value = map.next_value_seed(OneValue(&self.0.columns[place]))?;
                record.fields[place] = Some(value);
                continue;
            }
            let child = self.0.children.iter().find(|child| child.name == key);
            let child = child.ok_or_else(|| A::Error::custom(unknown("column", &key)))?;
            map.next_value_seed(Under(child, &mut record.children))?;
        }
        Ok(record)
    }
}

/// The rows under one row.
struct Under<'r>(&'static Table, &'r mut Vec<Record>);

impl<'de> DeserializeSeed<'de> for Under<'_> {
    type Value = ();

    fn deserialize<D: Deserializer<'de>>(self, from: D) -> Result<(), D::Error> {
        from.deserialize_seq(self)
    }
}

impl<'de> Visitor<'de> for Under<'_> {
    type Value = ();

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "the rows of {}", self.0.name)
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut rows: A) -> Result<(), A::Error> {
        while let Some(row) = rows.next_element_seed(OneRow(self.0))? {
            self.1.push(row);
            if self.1.len() > MOST_UNDER {
                return Err(A::Error::custom("too many rows hang under one"));
            }
        }
        Ok(())
    }
}

/// One value, of the kind its column holds.
struct OneValue(&'static Column);

impl<'de> DeserializeSeed<'de> for OneValue {
    type Value = Value;

    fn deserialize<D: Deserializer<'de>>(self, from: D) -> Result<Value, D::Error> {
        from.deserialize_any(self)
    }
}

impl Visitor<'_> for OneValue {
    type Value = Value;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let kind = match self.0.holds {
            Holds::Id | Holds::Whole | Holds::Instant | Holds::Span => "a whole number",
            Holds::Real => "a real number written as text, such as \"2.5\"",
            _ => "a text",
        };
        write!(f, "{kind} for {}", self.0.said())
    }

    fn visit_unit<E: Error>(self) -> Result<Value, E> {
        Ok(Value::Null)
    }

    fn visit_i64<E: Error>(self, number: i64) -> Result<Value, E> {
        Ok(Value::Integer(number))
    }

    fn visit_u64<E: Error>(self, number: u64) -> Result<Value, E> {
        let fits = i64::try_from(number).map(Value::Integer);
        fits.map_err(|_| E::custom(format!("{} is out of range", self.0.said())))
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<Value, E> {
        match self.0.holds {
            Holds::Real => {
                real(text).ok_or_else(|| E::custom(format!("{} is no number", self.0.said())))
            }
            _ => Ok(Value::Text(text.to_owned())),
        }
    }

    fn visit_string<E: Error>(self, text: String) -> Result<Value, E> {
        match self.0.holds {
            Holds::Real => self.visit_str(&text),
            _ => Ok(Value::Text(text)),
        }
    }
}

/// A real number in the very form an export writes, so that it goes out as it came in.
fn real(text: &str) -> Option<Value> {
    let number: f64 = text
        .parse()
        .ok()
        .filter(|number: &f64| number.is_finite())?;
    (format!("{number:?}") == text).then_some(Value::Real(number))
}
