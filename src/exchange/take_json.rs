//! Reading a whole studio from JSON (the format is told in `give_json.rs`), one row at a time.
//!
//! A hostile file costs no more memory than its longest row may have: the reader beneath counts what a row takes and
//! ends the reading past the limit; values of a wrong kind end it where they stand, so nothing nests.

use super::give_json::{FORMAT, VERSION};
use crate::studio::{
    Answer, Column, DocumentFault, FileFault, Holds, Intake, Numbered, Record, Studio, StudioError,
    SystemFault, TABLES, Table, Taken, TextPlace, Value,
};
use crate::trade::instant::Now;
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
/// [`FileFault`]; where the store refuses.
pub fn import(studio: &mut Studio, from: impl Read, now: &Now) -> Answer<Taken> {
    take(studio, from, now, false)
}

fn take(studio: &mut Studio, from: impl Read, now: &Now, even_so: bool) -> Answer<Taken> {
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
pub fn import_from(studio: &mut Studio, path: &Path, now: &Now, even_so: bool) -> Answer<Taken> {
    let failed = |err: std::io::Error| FileFault::Unread(Some(path.into()), SystemFault::of(&err));
    // Asked before it is opened: a pipe would be waited for.
    if !std::fs::metadata(path).map_err(failed)?.is_file() {
        return Err(FileFault::NotAFile(path.into()).into());
    }
    let file = std::fs::File::open(path).map_err(failed)?;
    take(studio, file, now, even_so)
}

fn read_document(
    from: impl Read,
    meter: &Meter,
    schema: u64,
    intake: &mut Intake<'_, '_>,
) -> Answer<()> {
    let state = State {
        meter,
        schema,
        intake: RefCell::new(intake),
        stopped: RefCell::new(None),
    };
    meter.allow(MOST_ROW);
    let mut json = serde_json::Deserializer::from_reader(from);
    let read = json
        .deserialize_map(Document(&state))
        .and_then(|()| json.end());
    let stopped = state.stopped.take();
    read.map_err(|err| match stopped {
        Some(Stop::Refused(why)) => why,
        Some(Stop::Odd(why)) => FileFault::NotAStudio(why, place(&err)).into(),
        None => unread(err, meter).into(),
    })
}

/// What the reader beneath met by itself.
fn unread(err: serde_json::Error, meter: &Meter) -> FileFault {
    use serde_json::error::Category;
    if let Some(why) = meter.stopped.take() {
        return why;
    }
    match err.classify() {
        Category::Io => FileFault::Unread(None, SystemFault::of(&err.into())),
        Category::Eof => FileFault::CutShort(err.line()),
        Category::Syntax => FileFault::NotJson(place(&err)),
        Category::Data => FileFault::NotAStudio(DocumentFault::Kind, place(&err)),
    }
}

fn place(err: &serde_json::Error) -> TextPlace {
    TextPlace {
        line: err.line(),
        column: err.column(),
    }
}

/// How much may still be read.
#[derive(Debug, Default)]
struct Meter {
    left: Cell<u64>,
    total: Cell<u64>,
    stopped: RefCell<Option<FileFault>>,
}

impl Meter {
    fn allow(&self, most: u64) {
        self.left.set(most);
    }

    fn take(&self, bytes: u64) -> std::io::Result<()> {
        let total = self.total.get().saturating_add(bytes);
        self.total.set(total);
        let why = match self.left.get().checked_sub(bytes) {
            None => FileFault::RowTooLarge,
            Some(_) if total > MOST_FILE => FileFault::TooLarge(MOST_FILE),
            Some(left) => {
                self.left.set(left);
                return Ok(());
            }
        };
        *self.stopped.borrow_mut() = Some(why);
        Err(std::io::ErrorKind::Other.into())
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

/// Why the reading ends before the end of the file.
enum Stop {
    /// What the file says where it stands makes no studio.
    Odd(DocumentFault),
    /// The file, or a row of it, is refused.
    Refused(StudioError),
}

struct State<'s, 'i, 'a, 'w> {
    meter: &'s Meter,
    schema: u64,
    intake: RefCell<&'i mut Intake<'a, 'w>>,
    stopped: RefCell<Option<Stop>>,
}

impl State<'_, '_, '_, '_> {
    /// Keeps the true reason while the JSON reader is told only to stop.
    fn stop<E: Error>(&self, why: Stop) -> E {
        *self.stopped.borrow_mut() = Some(why);
        E::custom("")
    }

    fn odd<E: Error>(&self, why: DocumentFault) -> E {
        self.stop(Stop::Odd(why))
    }

    fn put<E: Error>(&self, record: &Record) -> Result<(), E> {
        let put = self.intake.borrow_mut().put(record);
        put.map_err(|err| self.stop(Stop::Refused(err.into())))
    }

    fn header<'de, A: MapAccess<'de>>(&self, map: &mut A) -> Result<(), A::Error> {
        let other = || self.odd(DocumentFault::Beginning);
        let named = |key: Option<String>, name: &str| (key.as_deref() == Some(name)).then_some(());
        named(map.next_key()?, "format").ok_or_else(other)?;
        if map.next_value::<String>()? != FORMAT {
            return Err(self.odd(DocumentFault::Format));
        }
        for (part, key, ours) in [
            (Numbered::Format, "version", VERSION),
            (Numbered::Schema, "schema", self.schema),
        ] {
            named(map.next_key()?, key).ok_or_else(other)?;
            let theirs: u64 = map.next_value()?;
            if theirs > ours {
                let newer = FileFault::Newer { part, theirs, ours };
                return Err(self.stop(Stop::Refused(newer.into())));
            }
        }
        Ok(())
    }
}

struct Document<'t, 's, 'i, 'a, 'w>(&'t State<'s, 'i, 'a, 'w>);

impl<'de> Visitor<'de> for Document<'_, '_, '_, '_, '_> {
    type Value = ();

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(FORMAT)
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<(), A::Error> {
        self.0.header(&mut map)?;
        let mut next = 0;
        while let Some(key) = map.next_key::<String>()? {
            let place = TABLES.iter().position(|table| table.name == key);
            let place = place.ok_or_else(|| self.0.odd(DocumentFault::NoTable(short(&key))))?;
            let table = &TABLES[place];
            if place < next {
                return Err(self.0.odd(DocumentFault::TableOrder(table.name)));
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

/// A name that nobody gave a limit.
fn short(name: &str) -> String {
    name.chars().take(40).collect()
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
        f.write_str(self.table.name)
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut rows: A) -> Result<(), A::Error> {
        let most = if self.table.name == "change" {
            MOST_CHANGE
        } else {
            MOST_ROW
        };
        loop {
            self.state.meter.allow(most);
            match rows.next_element_seed(OneRow(self.table, self.state))? {
                Some(record) => self.state.put(&record)?,
                None => return Ok(()),
            }
        }
    }
}

/// One row: each of its columns at most once, nothing else.
struct OneRow<'t, 's, 'i, 'a, 'w>(&'static Table, &'t State<'s, 'i, 'a, 'w>);

impl<'de> DeserializeSeed<'de> for OneRow<'_, '_, '_, '_, '_> {
    type Value = Record;

    fn deserialize<D: Deserializer<'de>>(self, from: D) -> Result<Record, D::Error> {
        from.deserialize_map(self)
    }
}

impl<'de> Visitor<'de> for OneRow<'_, '_, '_, '_, '_> {
    type Value = Record;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.0.name)
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Record, A::Error> {
        let Self(table, state) = self;
        let mut record = table.blank();
        while let Some(key) = map.next_key::<String>()? {
            if let Some(place) = table.columns.iter().position(|one| one.said() == key) {
                let column = &table.columns[place];
                if record.fields[place].is_some() {
                    return Err(state.odd(DocumentFault::Twice(column.said())));
                }
                record.fields[place] = Some(map.next_value_seed(OneValue(column, state))?);
                continue;
            }
            let child = table.children.iter().find(|child| child.name == key);
            let child = child.ok_or_else(|| state.odd(DocumentFault::NoColumn(short(&key))))?;
            map.next_value_seed(Under(child, &mut record.children, state))?;
        }
        Ok(record)
    }
}

/// The rows under one row.
struct Under<'r, 't, 's, 'i, 'a, 'w>(
    &'static Table,
    &'r mut Vec<Record>,
    &'t State<'s, 'i, 'a, 'w>,
);

impl<'de> DeserializeSeed<'de> for Under<'_, '_, '_, '_, '_, '_> {
    type Value = ();

    fn deserialize<D: Deserializer<'de>>(self, from: D) -> Result<(), D::Error> {
        from.deserialize_seq(self)
    }
}

impl<'de> Visitor<'de> for Under<'_, '_, '_, '_, '_, '_> {
    type Value = ();

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.0.name)
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut rows: A) -> Result<(), A::Error> {
        let Self(table, beneath, state) = self;
        while let Some(row) = rows.next_element_seed(OneRow(table, state))? {
            beneath.push(row);
            if beneath.len() > MOST_UNDER {
                return Err(state.odd(DocumentFault::TooManyBeneath));
            }
        }
        Ok(())
    }
}

/// One value, of the kind its column holds.
struct OneValue<'t, 's, 'i, 'a, 'w>(&'static Column, &'t State<'s, 'i, 'a, 'w>);

impl OneValue<'_, '_, '_, '_, '_> {
    /// That a value is of another kind.
    fn other<E: Error>(&self) -> E {
        let Self(column, state) = self;
        state.odd(DocumentFault::Value(column.said(), column.holds))
    }

    /// A real number in the very form an export writes, so that it goes out as it came in.
    fn real<E: Error>(&self, text: &str) -> Result<Value, E> {
        let number = text.parse().ok();
        let number = number.filter(|number: &f64| number.is_finite());
        let exact = number.filter(|number| format!("{number:?}") == text);
        exact.map(Value::Real).ok_or_else(|| self.other())
    }
}

impl<'de> DeserializeSeed<'de> for OneValue<'_, '_, '_, '_, '_> {
    type Value = Value;

    fn deserialize<D: Deserializer<'de>>(self, from: D) -> Result<Value, D::Error> {
        from.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for OneValue<'_, '_, '_, '_, '_> {
    type Value = Value;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.0.said())
    }

    fn visit_unit<E: Error>(self) -> Result<Value, E> {
        Ok(Value::Null)
    }

    fn visit_i64<E: Error>(self, number: i64) -> Result<Value, E> {
        Ok(Value::Integer(number))
    }

    fn visit_u64<E: Error>(self, number: u64) -> Result<Value, E> {
        let fits = i64::try_from(number).map(Value::Integer);
        fits.map_err(|_| self.1.odd(DocumentFault::Range(self.0.said())))
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<Value, E> {
        match self.0.holds {
            Holds::Real => self.real(text),
            _ => Ok(Value::Text(text.to_owned())),
        }
    }

    fn visit_string<E: Error>(self, text: String) -> Result<Value, E> {
        match self.0.holds {
            Holds::Real => self.real(&text),
            _ => Ok(Value::Text(text)),
        }
    }

    fn visit_f64<E: Error>(self, _: f64) -> Result<Value, E> {
        Err(self.other())
    }

    fn visit_bool<E: Error>(self, _: bool) -> Result<Value, E> {
        Err(self.other())
    }

    fn visit_seq<A: SeqAccess<'de>>(self, _: A) -> Result<Value, A::Error> {
        Err(self.other())
    }

    fn visit_map<A: MapAccess<'de>>(self, _: A) -> Result<Value, A::Error> {
        Err(self.other())
    }
}
