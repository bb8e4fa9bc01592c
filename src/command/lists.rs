//! `import FILE.csv --as …`: a painter's own lists in.

use crate::command::Desk;
use crate::command::bar::Bar;
use crate::command::files::FileArguments;
use crate::command::report::{Report, Table};
use crate::exchange::spreadsheet::{ListOrder, SheetRead};
use crate::studio::orders::{ColumnOrder, ListKind};
use crate::studio::{Answer, DateOrder, RowsTaken};
use crate::tell::views::{ColumnView, ListView};
use crate::tell::{self, Face};
use clap::ValueEnum;

/// How dates of two numbers begin.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Dates {
    /// 24/11
    DayFirst,
    /// 11/24
    MonthFirst,
}

impl Dates {
    const fn order(self) -> DateOrder {
        match self {
            Self::DayFirst => DateOrder::DayFirst,
            Self::MonthFirst => DateOrder::MonthFirst,
        }
    }
}

impl Desk<'_> {
    pub(super) fn import_list(&mut self, typed: &FileArguments, kind: ListKind) -> Answer<Report> {
        let columns = typed.columns.iter();
        let columns: Result<Vec<ColumnOrder>, _> =
            columns.map(|said| ColumnOrder::read(said, kind)).collect();
        let order = ListOrder {
            kind,
            file: typed.file.clone(),
            columns: columns?,
            dates: typed.dates.map(Dates::order),
        };
        let sheet = order.read(self.studio, &self.now)?;
        let bar = Bar::new("lines", sheet.rows.len());
        let taken =
            self.studio
                .take_rows(&sheet.rows, !typed.dry, &|done| bar.at(done), &self.now)?;
        drop(bar);
        Ok(list_report(kind, sheet, taken, !typed.dry))
    }
}

fn list_report(kind: ListKind, sheet: SheetRead, taken: RowsTaken, kept: bool) -> Report {
    let notes = sheet.notes.iter().cloned().chain(taken.note());
    let notes = notes.map(|note| tell::lists::note(&note, Face::CommandLine));
    let columns = sheet.columns.into_iter().map(|one| ColumnView {
        heading: one.heading,
        field: one.field.map(|field| field.word()),
        first: one.first,
    });
    let view = ListView {
        kind: kind.to_string(),
        kept,
        rows: sheet.rows.len(),
        new: taken.new,
        known: taken.known,
        columns: columns.collect(),
        notes: notes.collect(),
    };
    let rows = view.columns.iter().map(|one| {
        [
            one.heading.clone(),
            one.field.unwrap_or("- left out").to_owned(),
            shortened(&one.first),
        ]
    });
    let table = rows.fold(Table::headed(&["column", "becomes", "first"]), Table::row);
    let came = tell::lists::came(kind, &taken, kept);
    let lines: Vec<String> = view.notes.iter().map(|note| format!("! {note}")).collect();
    Report::of(&view).table(&table).lines(lines).line(came)
}

fn shortened(cell: &str) -> String {
    match cell.chars().count() > 30 {
        true => cell.chars().take(29).chain(['…']).collect(),
        false => cell.to_owned(),
    }
}
