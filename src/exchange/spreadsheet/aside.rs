//! Lines of a list that are no rows of it: sums, headings told again, a year or a word that stands alone over what follows.
//! Each is left out and said by its number.

use super::Reading;
use super::dates;
use super::fields::{Column, plain};
use super::grid::Line;
use crate::studio::orders::{ListField, ListKind};
use crate::studio::{Aside, DateOrder, ListNote};

/// Where a line begins that sums up others.
const SUMS: &[&str] = &[
    "total", "totals", "sum", "sums", "average", "mean", "subtotal", "grand", "summe", "gesamt",
];

/// The lines that are rows; the others are told.
pub(super) fn without<'a>(
    lines: &'a [Line],
    headings: &Line,
    columns: &[Column],
    reading: &Reading<'_>,
    notes: &mut Vec<ListNote>,
) -> Vec<&'a Line> {
    let of = |line: &Line| aside(line, headings, columns, reading);
    let (rows, left): (Vec<&Line>, Vec<&Line>) = lines.iter().partition(|line| of(line).is_none());
    for why in [Aside::Sum, Aside::Headings, Aside::Alone] {
        let numbers = left.iter().filter(|line| of(line) == Some(why));
        let numbers: Vec<u64> = numbers.map(|line| line.place.line).collect();
        notes.extend((!numbers.is_empty()).then_some(ListNote::LeftOut(why, numbers)));
    }
    rows
}

fn aside(line: &Line, headings: &Line, columns: &[Column], reading: &Reading<'_>) -> Option<Aside> {
    let mut said = line.cells.iter().filter(|cell| !cell.is_empty());
    let first = said.next()?;
    let alone = said.next().is_none();
    if sums(first, line, columns, reading) {
        return Some(Aside::Sum);
    }
    let named = columns.iter().filter(|one| one.field.is_some());
    let again = |one: &Column| line.cells.get(one.place) == headings.cells.get(one.place);
    if !alone && named.clone().all(again) {
        return Some(Aside::Headings);
    }
    // A material may have nothing but its name.
    let is_row = reading.kind == ListKind::Materials || is_date(first, reading);
    (alone && named.count() > 1 && !is_row).then_some(Aside::Alone)
}

/// Whether a line begins as sums do: by their word alone, or by it where a date would stand and none does.
fn sums(first: &str, line: &Line, columns: &[Column], reading: &Reading<'_>) -> bool {
    let words = plain(first);
    let begins = words
        .split(' ')
        .next()
        .is_some_and(|word| SUMS.contains(&word));
    let dates = columns.iter().find(|one| one.field == Some(ListField::At));
    let date = dates.map(|one| line.cells.get(one.place).map_or("", String::as_str));
    begins && (SUMS.contains(&words.as_str()) || date.is_some_and(|cell| !is_date(cell, reading)))
}

fn is_date(cell: &str, reading: &Reading<'_>) -> bool {
    let read = |order| dates::date(cell, order, reading.now).is_ok();
    read(DateOrder::DayFirst) || read(DateOrder::MonthFirst)
}
