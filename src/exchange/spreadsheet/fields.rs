//! What each column would become: guessed from its heading by nearness, or said.

use super::grid::Line;
use super::headings::HEADINGS;
use crate::studio::orders::{ColumnOrder, ListField, ListKind};
use crate::studio::{Lacking, ListFault, ListNote};

/// A heading this near to one that is known is taken for it.
const NEAR: f64 = 0.91;
/// A heading stands within the first lines.
const HEAD_WITHIN: usize = 20;

/// A column: its place, its heading, what it becomes, and the unit in its heading.
#[derive(Debug, Clone)]
pub(super) struct Column {
    pub(super) place: usize,
    pub(super) heading: String,
    pub(super) field: Option<ListField>,
    pub(super) unit: Option<String>,
    /// The one unit that its cells have where they have any.
    pub(super) written: Option<String>,
    /// Whether any cell has a unit.
    pub(super) units_within: bool,
}

impl Column {
    /// Takes the unit of its cells, where it is the same in all that have one.
    pub(super) fn learn_unit<'a>(&mut self, cells: impl Iterator<Item = &'a str>) {
        let mut units = cells.filter_map(unit_after);
        let first = units.next();
        self.units_within = first.is_some();
        self.written = first.filter(|one| units.all(|unit| unit == *one));
    }
}

/// The unit at a cell's end: `12 x 16 in` and `11"x14"` have inches.
fn unit_after(cell: &str) -> Option<String> {
    let from = cell.rfind(|c: char| c.is_ascii_digit())? + 1;
    match cell[from..].trim().to_lowercase().trim_end_matches('.') {
        "\"" | "″" | "”" => Some("in".to_owned()),
        unit => known_unit(unit),
    }
}

/// Headings that may count packs as well as millilitres.
const COUNTS: &[&str] = &["qty", "quantity", "amount", "menge", "how much"];

/// A purchase of so many, of which neither heading nor cell has a unit, is one of packs; told where it is.
pub(super) fn packs_meant(columns: &mut [Column], orders: &[ColumnOrder]) -> Option<ListNote> {
    if columns
        .iter()
        .any(|one| one.field == Some(ListField::Packs))
    {
        return None;
    }
    let ordered = |name: &str| orders.iter().any(|one| plain(&one.heading) == name);
    let counts = |one: &&mut Column| {
        let name = plain(&one.heading);
        let bare = one.unit.is_none() && !one.units_within;
        one.field == Some(ListField::Volume)
            && bare
            && COUNTS.contains(&name.as_str())
            && !ordered(&name)
    };
    let column = columns.iter_mut().find(counts)?;
    column.field = Some(ListField::Packs);
    Some(ListNote::Packs(column.heading.clone()))
}

/// The columns, and how many lines stand before the first one of the list.
pub(super) fn columns(
    lines: &[Line],
    kind: ListKind,
    orders: &[ColumnOrder],
) -> Result<(Vec<Column>, usize), ListFault> {
    let tried = (0..lines.len().min(HEAD_WITHIN)).map(|at| (guessed(lines, at, kind, orders), at));
    let known = |columns: &[Column]| columns.iter().filter(|one| one.field.is_some()).count();
    let best = tried.max_by_key(|(columns, at)| (known(columns), std::cmp::Reverse(*at)));
    let best = best.filter(|(columns, _)| known(columns) > 0);
    let (columns, at) = best.ok_or_else(|| unknown(lines, kind))?;
    let has = |order: &&ColumnOrder| {
        let said = plain(&order.heading);
        columns.iter().any(|one| plain(&one.heading) == said)
    };
    if let Some(order) = orders.iter().find(|order| !has(order)) {
        let heading = plain(&order.heading);
        return Err(ListFault::NoColumn(heading, headings(&columns)));
    }
    lacks(&columns, kind)?;
    Ok((columns, at + 1))
}

fn unknown(lines: &[Line], kind: ListKind) -> ListFault {
    let first = lines.first().map(|line| line.cells.iter().take(8));
    ListFault::NoHeadings(kind, first.into_iter().flatten().cloned().collect())
}

/// What its columns are called, where they are.
fn headings(columns: &[Column]) -> Vec<String> {
    let headings = columns.iter().map(|one| one.heading.clone());
    headings.filter(|one| !one.is_empty()).collect()
}

fn lacks(columns: &[Column], kind: ListKind) -> Result<(), ListFault> {
    let has = |field: ListField| columns.iter().any(|one| one.field == Some(field));
    let needed = kind.fields().1.iter();
    let lacking = needed.filter(|field| !has(**field));
    let mut lacking: Vec<Lacking> = lacking.map(|field| Lacking::Field(*field)).collect();
    let sized = has(ListField::Panel) || (has(ListField::Width) && has(ListField::Height));
    if kind == ListKind::Pours && !sized {
        lacking.push(Lacking::Field(ListField::Panel));
    }
    if kind == ListKind::Stock && !has(ListField::Volume) && !has(ListField::Packs) {
        lacking.push(Lacking::VolumeOrPacks);
    }
    match lacking.is_empty() {
        true => Ok(()),
        false => Err(ListFault::Lacks(lacking, headings(columns))),
    }
}

/// What the columns would be if the heading stood at a line; a field goes to the column whose heading is nearest to it.
fn guessed(lines: &[Line], at: usize, kind: ListKind, orders: &[ColumnOrder]) -> Vec<Column> {
    let cells = &lines[at].cells;
    let above = at
        .checked_sub(1)
        .map(|above| spread(&lines[above].cells, cells.len()));
    let mut near: Vec<(f64, usize, ListField)> = Vec::new();
    let mut columns: Vec<Column> = Vec::new();
    for (place, heading) in cells.iter().enumerate() {
        let (name, unit) = parted(heading);
        columns.push(Column {
            place,
            heading: heading.clone(),
            field: None,
            unit,
            written: None,
            units_within: false,
        });
        let same = |order: &&ColumnOrder| plain(&order.heading) == plain(heading);
        if let Some(order) = orders.iter().find(same) {
            near.extend(order.field.map(|field| (2.0, place, field)));
            continue;
        }
        let joined = above
            .as_ref()
            .and_then(|above| above.get(place))
            .map(|above| format!("{above} {name}"));
        for field in kind.fields().0 {
            let alone = nearness(&plain(&name), *field);
            let both = joined
                .as_ref()
                .map_or(0.0, |joined| nearness(&plain(joined), *field) * 0.999);
            let score = alone.max(both);
            if score >= NEAR {
                near.push((score, place, *field));
            }
        }
    }
    near.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
    for (_, place, field) in near {
        // Notes may stand in many columns.
        let taken = columns.iter().any(|one| one.field == Some(field)) && field != ListField::Note;
        if columns[place].field.is_none() && !taken {
            columns[place].field = Some(field);
        }
    }
    columns
}

/// A merged heading stands over its first column alone: it holds for the blank ones after it too.
fn spread(cells: &[String], wide: usize) -> Vec<String> {
    let mut last = String::new();
    (0..wide)
        .map(|place| {
            if let Some(cell) = cells.get(place).filter(|cell| !cell.is_empty()) {
                last.clone_from(cell);
            }
            last.clone()
        })
        .collect()
}

fn nearness(heading: &str, field: ListField) -> f64 {
    if heading.is_empty() {
        return 0.0;
    }
    let others = HEADINGS
        .iter()
        .filter(|(one, _)| *one == field)
        .flat_map(|(_, names)| names.iter().enumerate());
    let own = plain(field.word());
    if heading == own {
        return 1.0;
    }
    let near = |name: &str| match (heading == name, name.len() > 3) {
        (true, _) => 0.998,
        (false, true) => strsim::jaro_winkler(heading, name) * 0.99,
        (false, false) => 0.0,
    };
    // Of two names that fit alike, the one that is told first is meant.
    let best = others
        .map(|(nth, name)| near(name) - nth as f64 * 1e-4)
        .fold(0.0, f64::max);
    best.max(strsim::jaro_winkler(heading, &own) * 0.99)
}

/// A heading's letters and digits in small, parted by single blanks.
pub(super) fn plain(heading: &str) -> String {
    let letters = heading.chars().map(|c| {
        if c.is_alphanumeric() {
            c.to_lowercase().to_string()
        } else {
            " ".to_owned()
        }
    });
    letters
        .collect::<String>()
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
}

/// A heading and the unit in it: in brackets, or as its last word.
fn parted(heading: &str) -> (String, Option<String>) {
    let open = heading.find(['(', '[']);
    if let Some(open) = open {
        let unit = heading[open + 1..].trim_end_matches([')', ']', ' ']);
        return (heading[..open].trim().to_owned(), known_unit(unit));
    }
    match heading.rsplit_once([' ', '_', ',', '/']) {
        Some((name, last)) if known_unit(last).is_some() => {
            (name.trim().to_owned(), known_unit(last))
        }
        _ => (heading.to_owned(), known_unit(heading)),
    }
}

/// A unit in its short form.
fn known_unit(text: &str) -> Option<String> {
    let text = text.trim().to_lowercase().replace(['°', '.'], "");
    let unit = match text.as_str() {
        "litre" | "litres" | "liter" | "liters" => "l",
        "millilitre" | "millilitres" | "milliliter" | "milliliters" => "ml",
        "centilitre" | "centilitres" | "centiliter" | "centiliters" => "cl",
        "oz" | "fl oz" | "ounce" | "ounces" | "floz" | "fluid ounce" | "fluid ounces" => "fl oz",
        "pint" | "pints" => "pt",
        "quart" | "quarts" => "qt",
        "gallon" | "gallons" => "gal",
        "gram" | "grams" => "g",
        "kilogram" | "kilograms" => "kg",
        "centimetre" | "centimetres" | "centimeter" | "centimeters" => "cm",
        "millimetre" | "millimetres" | "millimeter" | "millimeters" => "mm",
        "inch" | "inches" => "in",
        "celsius" => "c",
        "fahrenheit" => "f",
        "sec" => "s",
        short @ ("ml" | "l" | "cl" | "pt" | "qt" | "gal" | "g" | "kg" | "cm" | "mm" | "in"
        | "c" | "f" | "s" | "%" | "g/ml") => short,
        _ => return None,
    };
    Some(unit.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::studio::{LinePlace, Refusal};

    fn line(number: u64, cells: &[&str]) -> Line {
        Line {
            place: LinePlace {
                line: number,
                row: number,
            },
            cells: cells.iter().map(|cell| (*cell).to_owned()).collect(),
        }
    }

    fn orders(kind: ListKind, said: &[&str]) -> Result<Vec<ColumnOrder>, Refusal> {
        said.iter()
            .map(|one| ColumnOrder::read(one, kind))
            .collect()
    }

    fn became(lines: &[Line], kind: ListKind, said: &[&str]) -> Vec<Option<&'static str>> {
        let (columns, _) = columns(lines, kind, &orders(kind, said).unwrap()).unwrap();
        columns
            .iter()
            .map(|one| one.field.map(ListField::word))
            .collect()
    }

    #[test]
    fn headings_are_known_by_nearness() {
        let lines = [line(
            1,
            &[
                "Date Poured",
                "Canvas size (in)",
                "Technique",
                "Temp °F",
                "RH",
                "Rating",
                "Coments",
                "Mood",
            ],
        )];
        let wanted = [
            "at",
            "panel",
            "way",
            "temperature",
            "humidity",
            "cells",
            "note",
        ]
        .map(Some);
        assert_eq!(became(&lines, ListKind::Pours, &[])[..7], wanted);
        assert_eq!(became(&lines, ListKind::Pours, &[])[7], None);
    }

    #[test]
    fn a_merged_heading_and_a_title_above_it_are_skipped() {
        let lines = [
            line(1, &["My pours 2024", "", "", ""]),
            line(2, &["", "Panel", "", "Room"]),
            line(3, &["Date", "width", "height", "temperature"]),
            line(4, &["2024-01-02", "20", "30", "21"]),
        ];
        let (columns, skip) = columns(&lines, ListKind::Pours, &[]).unwrap();
        assert_eq!(skip, 3);
        assert!(columns.iter().all(|one| one.field.is_some()), "{columns:?}");
    }

    #[test]
    fn a_column_goes_where_it_is_said_to() {
        let lines = [line(1, &["Datum", "Leinwand", "Notes"])];
        let said = ["Leinwand=panel", "notes=-"];
        assert_eq!(
            became(&lines, ListKind::Pours, &said),
            [Some("at"), Some("panel"), None]
        );
        for bad in ["Leinwand", "Leinwand=volume", "Missing=panel"] {
            let read = orders(ListKind::Pours, &[bad]);
            let refused = read.is_ok_and(|said| columns(&lines, ListKind::Pours, &said).is_ok());
            assert!(!refused, "{bad}");
        }
    }

    #[test]
    fn another_trades_columns_are_refused() {
        let lines = [
            line(1, &["Invoice", "VAT id", "IBAN"]),
            line(2, &["1", "2", "3"]),
        ];
        assert!(columns(&lines, ListKind::Pours, &[]).is_err());
    }
}
