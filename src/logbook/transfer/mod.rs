//! The whole studio out of one file and into another, row by row.
//!
//! [`TABLES`] says what there is; [`Logbook::give_out`](crate::logbook::Logbook::give_out) hands it out and
//! [`Logbook::take_in`](crate::logbook::Logbook::take_in) takes it in. What a file of it looks like is not known here.

mod contradictions;
mod give;
mod layout;
mod merge;
mod sheets;
pub(super) mod sound;
mod take;

pub use layout::{Column, Holds, TABLES, Table};
pub use sheets::Sheet;
pub use take::{Intake, Renamed, Taken};

use crate::logbook::Value;
use crate::logbook::foreign::RowName;

/// One row on its way from a studio to another, with those that hang under it.
#[derive(Debug, Clone, PartialEq)]
pub struct Record {
    /// Its table.
    pub table: &'static Table,
    /// A value a column, a reference as the uid of what it refers to; `None` where a file does not say.
    pub fields: Vec<Option<Value>>,
    /// The rows under it.
    pub children: Vec<Self>,
}

impl Record {
    /// Its number in its own file, or 0 where none is said.
    pub(super) fn id(&self) -> i64 {
        match self.value("id") {
            Some(Value::Integer(id)) => *id,
            _ => 0,
        }
    }

    pub(super) fn value(&self, column: &str) -> Option<&Value> {
        let place = self.table.place(column)?;
        self.fields.get(place)?.as_ref()
    }

    pub(super) fn text(&self, column: &str) -> Option<&str> {
        match self.value(column) {
            Some(Value::Text(text)) => Some(text),
            _ => None,
        }
    }

    /// The row as a person knows it: by its mark or name, else by its uid.
    pub(super) fn row_name(&self) -> RowName {
        let names = ["mark", "name", self.table.key];
        let name = names.iter().find_map(|column| self.text(column));
        RowName {
            table: self.table.name.to_owned(),
            id: None,
            name: name.map(str::to_owned),
        }
    }

    /// The bytes it weighs, near enough to set a bound.
    pub(super) fn weight(&self) -> usize {
        let text = |field: &Option<Value>| match field {
            Some(Value::Text(text)) => text.len() + 24,
            _ => 24,
        };
        let own: usize = self.fields.iter().map(text).sum();
        own + self.children.iter().map(Self::weight).sum::<usize>()
    }
}
