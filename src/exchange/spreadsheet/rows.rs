//! Lines as rows of a studio: every cell read by its column, every line that cannot be read told with its number.

use super::aside;
use super::cells::{Cells, unit_of};
use super::fields::{Column, Field, Kind, columns, packs_meant, plain};
use super::grid::Line;
use super::values::{self, Decimal, Order};
use super::{Reading, told, values::Wrong};
use crate::exchange::ExchangeError;
use crate::studio::SheetRow;
use crate::trade::amount::Measures;
use sha2::{Digest, Sha256};
use std::collections::HashMap;

/// What a column becomes, for a person to look at.
#[derive(Debug, Clone)]
pub struct Became {
    /// The column's heading.
    pub heading: String,
    /// What it becomes; nothing where it is left out.
    pub field: Option<&'static str>,
    /// The first cell that is not empty.
    pub first: String,
}

/// A sheet that was read.
#[derive(Debug, Clone)]
pub struct SheetRead {
    /// What its columns become.
    pub columns: Vec<Became>,
    /// What was taken for granted.
    pub notes: Vec<String>,
    /// Its rows.
    pub rows: Vec<SheetRow>,
}

/// So much is told of one.
const MOST_OF_A_LINE: usize = 160;
/// So many lines that cannot be read are told one by one.
const TOLD: usize = 8;
pub(super) fn read(
    lines: &[Line],
    mut notes: Vec<String>,
    reading: &Reading<'_>,
) -> Result<SheetRead, ExchangeError> {
    let (mut columns, skip) = columns(lines, reading.kind, reading.columns)?;
    match skip - 1 {
        0 => {}
        1 => notes.push("the line before the headings was skipped".to_owned()),
        lines => notes.push(format!(
            "the {lines} lines before the headings were skipped"
        )),
    }
    if skip == lines.len() {
        let why = "it has no line below its headings".to_owned();
        return Err(ExchangeError::NoSheet(why));
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
    if reading.kind == Kind::Stock {
        notes.extend(packs_meant(&mut columns, reading.columns));
    }
    let columns_of = Columns::new(&columns, &body, reading, &mut notes)?;
    notes.extend(columns_of.sales_without_price(&body));
    let mut rows = Vec::new();
    let mut wrong = Vec::new();
    let mut seen: HashMap<String, u32> = HashMap::new();
    for line in &body {
        let content = columns_of.content(line, &lines[skip - 1]);
        if content.is_empty() {
            continue;
        }
        let nth = seen
            .entry(content.clone())
            .and_modify(|nth| *nth += 1)
            .or_insert(0);
        match columns_of.row(line, format!("{content}#{nth}")) {
            Ok(row) => rows.push(row),
            Err(why) => wrong.push(format!("{}: {}", line.place(), told(&why, MOST_OF_A_LINE))),
        }
    }
    refuse(&wrong)?;
    let first = |column: &Column| {
        let cells = body.iter().filter_map(|line| line.cells.get(column.place));
        cells
            .clone()
            .find(|cell| !cell.is_empty())
            .cloned()
            .unwrap_or_default()
    };
    let became = columns
        .iter()
        .filter(|one| !one.heading.is_empty())
        .map(|one| Became {
            heading: one.heading.clone(),
            field: one.field.map(Field::word),
            first: first(one),
        });
    Ok(SheetRead {
        columns: became.collect(),
        notes,
        rows,
    })
}

fn refuse(wrong: &[String]) -> Result<(), ExchangeError> {
    if wrong.is_empty() {
        return Ok(());
    }
    let mut told = wrong
        .iter()
        .take(TOLD)
        .cloned()
        .collect::<Vec<_>>()
        .join("; ");
    if wrong.len() > TOLD {
        told.push_str(&format!("; and {} lines more", wrong.len() - TOLD));
    }
    Err(ExchangeError::Lines(told))
}

/// The columns that become something, with what their cells decide together.
pub(super) struct Columns<'a> {
    pub(super) known: Vec<(&'a Column, Decimal)>,
    pub(super) order: Order,
    pub(super) reading: &'a Reading<'a>,
}

impl<'a> Columns<'a> {
    fn new(
        columns: &'a [Column],
        body: &[&Line],
        reading: &'a Reading<'a>,
        notes: &mut Vec<String>,
    ) -> Result<Self, ExchangeError> {
        let known: Vec<(&Column, Decimal)> = columns
            .iter()
            .filter(|one| one.field.is_some())
            .map(|one| {
                (
                    one,
                    values::decimal(cells(body, one.place).map(|(_, cell)| cell)),
                )
            })
            .collect();
        let us = reading.measures == Measures::UsCustomary;
        let dates = known.iter().find(|(one, _)| one.field == Some(Field::At));
        let order = match (reading.day_first, dates) {
            (Some(true), _) => Order::DayFirst,
            (Some(false), _) => Order::MonthFirst,
            (None, None) => Order::DayFirst,
            (None, Some((column, _))) => {
                let dates: Vec<(u64, &str)> = cells(body, column.place).collect();
                notes.extend(values::day_numbers(&dates));
                let (order, why) =
                    values::order(&dates, us, reading.now).map_err(ExchangeError::Lines)?;
                notes.extend(why);
                order
            }
        };
        let without = known.iter().filter(|(one, _)| one.unit.is_none());
        let bare = without.filter(|(one, _)| {
            one.field.is_some_and(|field| {
                matches!(
                    field,
                    Field::Volume | Field::Pack | Field::Panel | Field::Width | Field::Height
                )
            })
        });
        for (column, _) in bare {
            let bare = |cell: &str| !cell.ends_with(|c: char| c.is_alphabetic() || c == '"');
            let numbers = cells(body, column.place).any(|(_, cell)| bare(cell));
            if numbers {
                let unit = unit_of(column, us);
                let unit = if unit == "in" { "inches" } else { unit };
                notes.push(format!(
                    "where \"{}\" has no unit, it was read in {unit}{}",
                    column.heading,
                    column
                        .written
                        .as_ref()
                        .map_or("", |_| ", as its other cells are")
                ));
            }
        }
        Ok(Self {
            known,
            order,
            reading,
        })
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

    /// The lines that say to whom, when or where, and not for how much: there is no sale in them.
    fn sales_without_price(&self, body: &[&Line]) -> Option<String> {
        let said = |line: &Line, field: Field| {
            let column = self.known.iter().find(|(one, _)| one.field == Some(field));
            let cell = column.and_then(|(one, _)| line.cells.get(one.place));
            cell.is_some_and(|cell| !cell.is_empty())
        };
        let about = [Field::SoldOn, Field::Buyer, Field::Where];
        let without = body.iter().filter(|line| {
            !said(line, Field::Sold) && about.iter().any(|field| said(line, *field))
        });
        let numbers: Vec<String> = without.map(|line| line.number.to_string()).collect();
        (!numbers.is_empty()).then(|| {
            let lines = if numbers.len() == 1 { "line" } else { "lines" };
            let told = told(&numbers.join(", "), MOST_OF_A_LINE);
            format!(
                "no sale was written down for {lines} {told}: no price is said there; 0 is a gift"
            )
        })
    }

    fn row(&self, line: &Line, content: String) -> Result<SheetRow, Wrong> {
        let cells = Cells {
            columns: self,
            line,
        };
        Ok(match self.reading.kind {
            Kind::Materials => SheetRow::Material(cells.material(content)?),
            Kind::Stock => SheetRow::Stock(cells.stock(content)?),
            Kind::Cups => SheetRow::Cup(cells.cup(content)?),
            Kind::Pours => SheetRow::Pour(Box::new(cells.pour(content)?)),
            Kind::Judgements => SheetRow::Judged(cells.judged(content)?),
        })
    }
}

fn cells<'a>(body: &'a [&'a Line], place: usize) -> impl Iterator<Item = (u64, &'a str)> + Clone {
    let cell = move |line: &&'a Line| {
        line.cells
            .get(place)
            .map(|cell| (line.number, cell.as_str()))
    };
    body.iter()
        .filter_map(cell)
        .filter(|(_, cell)| !cell.is_empty())
}
