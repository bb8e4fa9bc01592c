//! Lines as rows of a studio: every cell read by its column, every line that cannot be read told with its number.

use super::Reading;
use super::aside;
use super::cells::{Cells, said, unit_of};
use super::dates;
use super::fields::{Column, columns, packs_meant, plain};
use super::grid::Line;
use super::numbers::{self, Decimal, Scale};
use crate::studio::orders::{ListField, ListKind};
use crate::studio::{CellFault, DateOrder, ListFault, ListNote, SheetRow};
use crate::trade::amount::Measures;
use sha2::{Digest, Sha256};
use std::collections::HashMap;

/// What a column becomes, for a person to look at.
#[derive(Debug, Clone)]
pub struct Became {
    /// The column's heading.
    pub heading: String,
    /// What it becomes; nothing where it is left out.
    pub field: Option<ListField>,
    /// The first cell that is not empty.
    pub first: String,
}

/// A sheet that was read.
#[derive(Debug, Clone)]
pub struct SheetRead {
    /// What its columns become.
    pub columns: Vec<Became>,
    /// What was taken for granted.
    pub notes: Vec<ListNote>,
    /// Its rows.
    pub rows: Vec<SheetRow>,
}

/// So many lines that cannot be read are told one by one.
const TOLD: usize = 8;

pub(super) fn read(
    lines: &[Line],
    mut notes: Vec<ListNote>,
    reading: &Reading<'_>,
) -> Result<SheetRead, ListFault> {
    let (mut columns, skip) = columns(lines, reading.kind, reading.columns)?;
    if skip > 1 {
        notes.push(ListNote::BeforeHeadings(skip - 1));
    }
    if skip == lines.len() {
        return Err(ListFault::HeadingsAlone);
    }
    let body = aside::without(
        &lines[skip..],
        &lines[skip - 1],
        &columns,
        reading,
        &mut notes,
    );
    for column in &mut columns {
        column.learn_unit(cells(&body, column.place).map(|(_, cell)| cell));
    }
    if reading.kind == ListKind::Stock {
        notes.extend(packs_meant(&mut columns, reading.columns));
    }
    let columns_of = Columns::new(&columns, &body, reading, &mut notes)?;
    notes.extend(columns_of.left_out(&body));
    let rows = columns_of.rows(&body, &lines[skip - 1])?;
    let named = columns.iter().filter(|one| !one.heading.is_empty());
    Ok(SheetRead {
        columns: named.map(|one| became(one, &body)).collect(),
        notes,
        rows,
    })
}

fn became(column: &Column, body: &[&Line]) -> Became {
    let first = cells(body, column.place).next();
    Became {
        heading: column.heading.clone(),
        field: column.field,
        first: first.map_or_else(String::new, |(_, cell)| cell.to_owned()),
    }
}

/// The columns that become something, with what their cells decide together.
pub(super) struct Columns<'a> {
    pub(super) known: Vec<(&'a Column, Decimal)>,
    pub(super) order: DateOrder,
    /// In what bare temperatures are, where there are any.
    scale: Option<Scale>,
    pub(super) reading: &'a Reading<'a>,
}

impl<'a> Columns<'a> {
    fn new(
        columns: &'a [Column],
        body: &[&Line],
        reading: &'a Reading<'a>,
        notes: &mut Vec<ListNote>,
    ) -> Result<Self, ListFault> {
        let known: Vec<(&Column, Decimal)> = columns
            .iter()
            .filter(|one| one.field.is_some())
            .map(|one| {
                (
                    one,
                    numbers::decimal(cells(body, one.place).map(|(_, cell)| cell)),
                )
            })
            .collect();
        let order = dates(&known, body, reading, notes)?;
        notes.extend(
            known
                .iter()
                .filter_map(|(one, _)| bare_unit(one, body, reading)),
        );
        let scale = known.iter().find_map(|one| bare_scale(*one, body));
        notes.extend(scale.as_ref().map(|(_, note)| note.clone()));
        Ok(Self {
            known,
            order,
            scale: scale.map(|(scale, _)| scale),
            reading,
        })
    }

    /// In what a column of temperatures is: as its heading says, else as its numbers must be.
    pub(super) fn scale_of(&self, column: &Column) -> Option<Scale> {
        let said = column.unit.as_deref().and_then(Scale::named);
        said.or(self.scale)
    }

    /// Each line as a row; refused where one of them cannot be read.
    fn rows(&self, body: &[&Line], headings: &Line) -> Result<Vec<SheetRow>, ListFault> {
        let (mut rows, mut wrong) = (Vec::new(), Vec::new());
        let mut seen: HashMap<String, u32> = HashMap::new();
        for line in body {
            let content = self.content(line, headings);
            if content.is_empty() {
                continue;
            }
            let before = seen.entry(content.clone()).or_insert(0);
            let content = format!("{content}#{before}");
            *before += 1;
            match self.row(line, content) {
                Ok(row) => rows.push(row),
                Err(why) => wrong.push((line.place, why)),
            }
        }
        if wrong.is_empty() {
            return Ok(rows);
        }
        let more = wrong.len().saturating_sub(TOLD);
        wrong.truncate(TOLD);
        Err(ListFault::Lines(wrong, more))
    }

    /// What makes a line the same again, however its columns are read: all that stands in it, each beneath its heading,
    /// as 128 bits of its SHA-256; empty where no column that is known has a cell.
    fn content(&self, line: &Line, headings: &Line) -> String {
        let cell = |place: usize| line.cells.get(place).filter(|cell| !cell.is_empty());
        let says = self
            .known
            .iter()
            .any(|(column, _)| cell(column.place).is_some());
        if !says {
            return String::new();
        }
        let mut hash = Sha256::new();
        for place in 0..line.cells.len() {
            let heading = headings.cells.get(place).map_or("", String::as_str);
            if let Some(cell) = cell(place) {
                hash.update(format!("{}={cell}\u{1f}", plain(heading)));
            }
        }
        let bytes = hash.finalize();
        bytes
            .iter()
            .take(16)
            .map(|byte| format!("{byte:02x}"))
            .collect()
    }

    /// The lines that say to whom, when or where, and not for how much: there is no sale in them. And those that say what
    /// came of a pour, and not its cells: it is not judged by them.
    fn left_out(&self, body: &[&Line]) -> impl Iterator<Item = ListNote> {
        use ListField::{
            Buyer, Cells, Crazed, Dry, Evenness, Fate, Lacing, Muddy, Pinholes, Sold, SoldOn, Where,
        };
        let pours = self.reading.kind == ListKind::Pours;
        let seen = [Dry, Fate, Evenness, Lacing, Muddy, Crazed, Pinholes];
        let ungraded = if pours { &seen[..] } else { &[] };
        [
            (
                ListNote::Unpriced as fn(_) -> _,
                self.lacking(body, Sold, &[SoldOn, Buyer, Where]),
            ),
            (ListNote::Ungraded, self.lacking(body, Cells, ungraded)),
        ]
        .into_iter()
        .filter(|(_, lines)| !lines.is_empty())
        .map(|(note, lines)| note(lines))
    }

    /// The lines that say something of a matter, and not what all of it hangs on.
    fn lacking(&self, body: &[&Line], needed: ListField, about: &[ListField]) -> Vec<u64> {
        let says = |line: &Line, field: ListField| {
            let mut of = self
                .known
                .iter()
                .filter(|(one, _)| one.field == Some(field));
            of.any(|(column, _)| said(line, column).is_some())
        };
        let lacks =
            |line: &&&Line| !says(line, needed) && about.iter().any(|field| says(line, *field));
        body.iter()
            .filter(lacks)
            .map(|line| line.place.line)
            .collect()
    }

    fn row(&self, line: &Line, content: String) -> Result<SheetRow, CellFault> {
        let cells = Cells {
            columns: self,
            line,
        };
        Ok(match self.reading.kind {
            ListKind::Materials => SheetRow::Material(cells.material(content)?),
            ListKind::Stock => SheetRow::Stock(cells.stock(content)?),
            ListKind::Cups => SheetRow::Cup(cells.cup(content)?),
            ListKind::Pours => SheetRow::Pour(Box::new(cells.pour(content)?)),
            ListKind::Judgements => SheetRow::Judged(cells.judged(content)?),
        })
    }
}

/// How dates are read: as is said, else as the whole column tells.
fn dates(
    known: &[(&Column, Decimal)],
    body: &[&Line],
    reading: &Reading<'_>,
    notes: &mut Vec<ListNote>,
) -> Result<DateOrder, ListFault> {
    if let Some(order) = reading.dates {
        return Ok(order);
    }
    let are_dates =
        |column: &&Column| matches!(column.field, Some(ListField::At | ListField::SoldOn));
    let columns = known.iter().map(|(column, _)| *column).filter(are_dates);
    let dates: Vec<Vec<(u64, &str)>> = columns
        .map(|column| cells(body, column.place).collect())
        .collect();
    notes.extend(dates.iter().find_map(|dates| dates::day_numbers(dates)));
    let us = reading.measures == Measures::UsCustomary;
    let Some((order, why)) = dates::order(&dates, us, reading.now)? else {
        return Ok(DateOrder::DayFirst);
    };
    notes.push(ListNote::Dates(order, why));
    Ok(order)
}

/// In what a column's bare numbers are read, where its heading has no unit and it has some.
fn bare_unit(column: &Column, body: &[&Line], reading: &Reading<'_>) -> Option<ListNote> {
    use ListField::{Height, Pack, Panel, Volume, Width};
    let measured = matches!(column.field?, Volume | Pack | Panel | Width | Height);
    let bare = |cell: &str| !cell.ends_with(|c: char| c.is_alphabetic() || c == '"');
    let numbers = || cells(body, column.place).any(|(_, cell)| bare(cell));
    let told = measured && column.unit.is_none() && numbers();
    told.then(|| ListNote::Unit {
        heading: column.heading.clone(),
        unit: unit_of(column, reading.measures == Measures::UsCustomary),
        as_others: column.written.is_some(),
    })
}

/// In what a column's bare temperatures were read, where its heading does not say it.
fn bare_scale((column, decimal): (&Column, Decimal), body: &[&Line]) -> Option<(Scale, ListNote)> {
    let said = column.unit.as_deref().and_then(Scale::named);
    if column.field != Some(ListField::Temperature) || said.is_some() {
        return None;
    }
    let degrees = cells(body, column.place)
        .filter_map(|(_, cell)| numbers::temperature(cell, decimal).ok())
        .filter_map(|(degrees, own)| own.is_none().then_some(degrees));
    let scale = Scale::of(degrees.collect())?;
    let note = ListNote::Unit {
        heading: column.heading.clone(),
        unit: scale.sign(),
        as_others: false,
    };
    Some((scale, note))
}

fn cells<'a>(body: &'a [&'a Line], place: usize) -> impl Iterator<Item = (u64, &'a str)> + Clone {
    let cell = move |line: &&'a Line| {
        line.cells
            .get(place)
            .map(|cell| (line.place.line, cell.as_str()))
    };
    body.iter()
        .filter_map(cell)
        .filter(|(_, cell)| !cell.is_empty())
}
