//! A list of one's own, taken in: what each of its columns would become is told while it is typed.

use super::forms::whole;
use crate::exchange::photo::path_typed;
use crate::exchange::spreadsheet::{ListOrder, SheetRead};
use crate::screen::kit::desk::Desk;
use crate::screen::kit::form::{Fault, Field, Form};
use crate::screen::kit::place::Outcome;
use crate::screen::kit::refusal::words;
use crate::screen::kit::sheet::Sheet;
use crate::studio::orders::{IncomingField, ListField};
use crate::studio::{Answer, Studio};
use crate::tell::{self, Face};
use crate::trade::instant::Now;
use std::path::Path;

/// The form of a list.
pub fn form(folder: &str, desk: &Desk) -> Form {
    let measures = desk.measures();
    let kinds = IncomingField::KINDS.map(|kind| kind.word().to_owned());
    let dates = IncomingField::DATES.map(str::to_owned);
    let fields = vec![
        Field::of(IncomingField::Kind, measures)
            .one_of(kinds.to_vec())
            .offering(&kinds[0]),
        Field::of(IncomingField::File, measures).offering(folder),
        Field::of(IncomingField::Dates, measures)
            .one_of(dates.to_vec())
            .offering(&dates[0]),
        Field::of(IncomingField::Columns, measures),
    ];
    Form::new(
        "A list of your own, from a spreadsheet's CSV".to_owned(),
        fields,
    )
}

/// Which list, and how it is read.
///
/// # Errors
/// The first field that cannot be read.
pub fn read(form: &Form, desk: &Desk) -> Result<ListOrder, Fault> {
    let typed = form.typed::<IncomingField>();
    let file = IncomingField::file(&typed).map_err(|wrong| desk.fault(wrong))?;
    Ok(ListOrder {
        kind: IncomingField::kind(&typed),
        file: whole(&path_typed(&file, Path::new("."))),
        columns: IncomingField::columns(&typed).map_err(|wrong| desk.fault(wrong))?,
        dates: IncomingField::dates(&typed),
    })
}

/// What its columns would become, and what was taken for granted; why it could not be read, where it could not.
pub fn tried(studio: &Studio, order: &ListOrder, desk: &Desk) -> Answer<Outcome> {
    if !order.is_short() {
        return Ok(Outcome::default());
    }
    let now = desk.beat.now;
    Ok(Outcome::aside(match order.read(studio, &now) {
        Ok(sheet) => {
            let columns = sheet.columns.iter();
            let columns = columns.map(|one| format!("{} → {}", one.heading, became(one.field)));
            let count = format!("{} lines, none written yet", sheet.rows.len());
            let columns = columns.collect::<Vec<_>>().join(",  ");
            [count, columns].into_iter().chain(notes(&sheet)).collect()
        }
        Err(error) => vec![words(&error, desk.measures(), &now)],
    }))
}

/// Takes it in, whole or not at all; what became of it is a page.
pub fn taken(studio: &mut Studio, order: &ListOrder, now: &Now) -> Answer<Outcome> {
    let sheet = order.read(studio, now)?;
    let taken = studio.take_rows(&sheet.rows, true, &|_| {}, now)?;
    let came = tell::lists::came(order.kind, &taken, true);
    let mut page = Sheet::titled(&came);
    for one in &sheet.columns {
        page.beside(&one.heading, became(one.field));
    }
    let used_up = taken.note();
    let used_up = used_up.map(|note| tell::lists::note(&note, Face::Screen));
    let notes: Vec<String> = notes(&sheet).chain(used_up).collect();
    if !notes.is_empty() {
        page.heading("taken for granted");
    }
    for note in &notes {
        page.words(note);
    }
    Ok(Outcome {
        wrote: (taken.new > 0).then_some(came),
        closes: true,
        ..Outcome::page(page)
    })
}

fn became(field: Option<ListField>) -> &'static str {
    field.map_or("left out", ListField::word)
}

fn notes(sheet: &SheetRead) -> impl Iterator<Item = String> {
    let notes = sheet.notes.iter();
    notes.map(|note| tell::lists::note(note, Face::Screen))
}
