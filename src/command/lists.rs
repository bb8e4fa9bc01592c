//! `import FILE.csv --as …`: a painter's own lists in.

use crate::command::Desk;
use crate::command::bar::Bar;
use crate::command::files::{FileArguments, told};
use crate::command::report::{Report, Table};
use crate::exchange::spreadsheet::{Kind, Reading, SheetRead, read_sheet};
use crate::studio::{Answer, RowsTaken};
use crate::tell::views::{ColumnView, ListView};
use clap::ValueEnum;

/// How dates of two numbers begin.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Dates {
    /// 24/11
    DayFirst,
    /// 11/24
    MonthFirst,
}

impl Desk<'_> {
    pub(super) fn import_list(&mut self, typed: &FileArguments, kind: Kind) -> Answer<Report> {
        let reading = Reading {
            kind,
            columns: &typed.columns,
            day_first: typed.dates.map(|dates| dates == Dates::DayFirst),
            measures: self.settings.measures,
            now: &self.now,
        };
        let sheet = read_sheet(&typed.file, &reading).map_err(told)?;
        let bar = Bar::new("lines", sheet.rows.len());
        let taken =
            self.studio
                .take_rows(&sheet.rows, !typed.dry, &|done| bar.at(done), &self.now)?;
        drop(bar);
        Ok(list_report(kind, sheet, taken, !typed.dry))
    }
}

fn list_report(kind: Kind, sheet: SheetRead, taken: RowsTaken, kept: bool) -> Report {
    let mut notes = sheet.notes;
    if taken.used_up > 0 {
        notes.push(format!(
            "{} cups are older than 30 days and were taken as used up",
            taken.used_up
        ));
    }
    let columns: Vec<ColumnView> = sheet
        .columns
        .into_iter()
        .map(|one| ColumnView {
            heading: one.heading,
            field: one.field,
            first: one.first,
        })
        .collect();
    let rows = columns.iter().map(|one| {
        [
            one.heading.clone(),
            one.field.unwrap_or("- left out").to_owned(),
            shortened(&one.first),
        ]
    });
    let table = rows.fold(Table::headed(&["column", "becomes", "first"]), Table::row);
    let came = match (kept, taken.new) {
        (true, 0) => format!("Nothing new: {} {kind} were here already", taken.known),
        (true, new) => format!("{new} {kind} came in, {} were here already", taken.known),
        (false, new) => format!(
            "{new} {kind} would come in, {} are here already; nothing was written",
            taken.known
        ),
    };
    let lines: Vec<String> = notes.iter().map(|note| format!("! {note}")).collect();
    let view = ListView {
        kind: kind.to_string(),
        kept,
        rows: sheet.rows.len(),
        new: taken.new,
        known: taken.known,
        columns,
        notes,
    };
    Report::of(&view).table(&table).lines(lines).line(came)
}

fn shortened(cell: &str) -> String {
    match cell.chars().count() > 30 {
        true => cell.chars().take(29).chain(['…']).collect(),
        false => cell.to_owned(),
    }
}
