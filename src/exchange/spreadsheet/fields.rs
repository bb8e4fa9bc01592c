//! What each column would become: guessed from its heading by nearness, or said.

use super::grid::Line;
use super::headings::HEADINGS;
use crate::exchange::ExchangeError;
use crate::trade::words::word_enum;

word_enum! {
    /// What the lines of a sheet are.
    Kind {
        /// Mixed cups.
        Cups = "cups",
        /// Pours, with what was seen on them and what they were sold for.
        Pours = "pours",
        /// Judgements of pours that are here.
        Judgements = "judgements",
        /// Materials.
        Materials = "materials",
        /// Bottles bought and shelves counted.
        Stock = "stock",
    }
}

word_enum! {
    /// What a column may become.
    Field {
        /// When.
        At = "at",
        /// A cup's mark.
        Mark = "mark",
        /// A recipe's name.
        Recipe = "recipe",
        /// How much, by volume.
        Volume = "volume",
        /// A mound in seconds.
        Mound = "mound",
        /// The colour of the tape.
        Tape = "tape",
        /// A panel's size.
        Panel = "panel",
        /// A panel's width.
        Width = "width",
        /// A panel's height.
        Height = "height",
        /// The technique.
        Way = "way",
        /// The room's temperature.
        Temperature = "temperature",
        /// The room's humidity.
        Humidity = "humidity",
        /// A pour's number.
        Pour = "pour",
        /// The cells, 0 to 5.
        Cells = "cells",
        /// Whether it was dry.
        Dry = "dry",
        /// How even, 0 to 5.
        Evenness = "evenness",
        /// Lacing, 0 to 5.
        Lacing = "lacing",
        /// Mud, 0 to 5.
        Muddy = "muddy",
        /// Crazing, 0 to 5.
        Crazed = "crazed",
        /// Pinholes, 0 to 5.
        Pinholes = "pinholes",
        /// What became of it.
        Fate = "fate",
        /// A picture's title.
        Title = "title",
        /// What is asked for it.
        Asking = "asking",
        /// What it was sold for.
        Sold = "sold",
        /// When it was sold.
        SoldOn = "sold-on",
        /// To whom.
        Buyer = "buyer",
        /// Where it was sold.
        Where = "where",
        /// A material's name.
        Name = "name",
        /// What a material is for.
        What = "kind",
        /// What a pack holds.
        Pack = "pack",
        /// What it costs.
        Price = "price",
        /// A density in g/ml.
        Density = "density",
        /// A Colour Index name.
        ColourIndex = "colour-index",
        /// What a label warns of.
        Hazard = "hazard",
        /// How many packs.
        Packs = "packs",
        /// Anything else.
        Note = "note",
    }
}

impl Kind {
    /// What its columns may become, and which of these it cannot do without.
    pub(super) const fn fields(self) -> (&'static [Field], &'static [Field]) {
        use Field::*;
        match self {
            Self::Cups => (
                &[At, Mark, Recipe, Volume, Mound, Tape, Note],
                &[At, Recipe, Volume],
            ),
            Self::Pours => (
                &[
                    At,
                    Panel,
                    Width,
                    Height,
                    Way,
                    Temperature,
                    Humidity,
                    Cells,
                    Dry,
                    Evenness,
                    Lacing,
                    Muddy,
                    Crazed,
                    Pinholes,
                    Fate,
                    Title,
                    Asking,
                    Sold,
                    SoldOn,
                    Buyer,
                    Where,
                    Note,
                ],
                &[At],
            ),
            Self::Judgements => (
                &[
                    At, Pour, Cells, Dry, Evenness, Lacing, Muddy, Crazed, Pinholes, Fate, Note,
                ],
                &[Pour, Cells],
            ),
            Self::Materials => (
                &[Name, What, Pack, Price, Density, ColourIndex, Hazard],
                &[Name],
            ),
            Self::Stock => (&[At, Name, What, Volume, Packs, Price], &[At, Name]),
        }
    }
}

/// A heading this near to one that is known is taken for it.
const NEAR: f64 = 0.91;
/// A heading stands within the first lines.
const HEAD_WITHIN: usize = 20;

/// A column: its place, its heading, what it becomes, and the unit in its heading.
#[derive(Debug, Clone)]
pub(super) struct Column {
    pub(super) place: usize,
    pub(super) heading: String,
    pub(super) field: Option<Field>,
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
        "\"" | "″" | "”" | "inch" | "inches" => Some("in".to_owned()),
        "ounce" | "ounces" | "floz" | "fl oz" => Some("oz".to_owned()),
        unit => known_unit(unit),
    }
}

/// Headings that may count packs as well as millilitres.
const COUNTS: &[&str] = &["qty", "quantity", "amount", "menge", "how much"];

/// A purchase of so many, of which neither heading nor cell has a unit, is one of packs; told where it is.
pub(super) fn packs_meant(columns: &mut [Column], said: &[String]) -> Option<String> {
    if columns.iter().any(|one| one.field == Some(Field::Packs)) {
        return None;
    }
    let ordered = |name: &str| said.iter().any(|one| plain(one).starts_with(name));
    let counts = |one: &&mut Column| {
        let name = plain(&one.heading);
        let bare = one.unit.is_none() && !one.units_within;
        one.field == Some(Field::Volume)
            && bare
            && COUNTS.contains(&name.as_str())
            && !ordered(&name)
    };
    let column = columns.iter_mut().find(counts)?;
    column.field = Some(Field::Packs);
    Some(format!(
        "\"{}\" has no unit anywhere: it was read as a number of packs",
        column.heading
    ))
}

/// The columns, and how many lines stand before the first one of the list.
pub(super) fn columns(
    lines: &[Line],
    kind: Kind,
    said: &[String],
) -> Result<(Vec<Column>, usize), ExchangeError> {
    let orders = said
        .iter()
        .map(|one| order(one, kind))
        .collect::<Result<Vec<_>, _>>()?;
    let tried = (0..lines.len().min(HEAD_WITHIN)).map(|at| (guessed(lines, at, kind, &orders), at));
    let known = |columns: &[Column]| columns.iter().filter(|one| one.field.is_some()).count();
    let best = tried.max_by_key(|(columns, at)| (known(columns), std::cmp::Reverse(*at)));
    let Some((columns, at)) = best.filter(|(columns, _)| known(columns) > 0) else {
        return Err(unknown(lines, kind));
    };
    for (heading, _) in &orders {
        if !columns.iter().any(|one| plain(&one.heading) == *heading) {
            let there: Vec<&str> = columns
                .iter()
                .map(|one| one.heading.as_str())
                .filter(|one| !one.is_empty())
                .collect();
            return Err(ExchangeError::NoSheet(format!(
                "it has no column \"{heading}\": it has {}",
                there.join(", ")
            )));
        }
    }
    lacks(&columns, kind)?;
    Ok((columns, at + 1))
}

fn unknown(lines: &[Line], kind: Kind) -> ExchangeError {
    let first = lines.first().map(|line| {
        line.cells
            .iter()
            .take(8)
            .cloned()
            .collect::<Vec<_>>()
            .join(", ")
    });
    let fields: Vec<&str> = kind.fields().0.iter().map(|field| field.word()).collect();
    ExchangeError::NoSheet(format!(
        "none of its columns is known ({}); {kind} have {}",
        first.unwrap_or_default(),
        fields.join(", ")
    ))
}

fn lacks(columns: &[Column], kind: Kind) -> Result<(), ExchangeError> {
    let has = |field: Field| columns.iter().any(|one| one.field == Some(field));
    let mut missing: Vec<&str> = kind
        .fields()
        .1
        .iter()
        .filter(|field| !has(**field))
        .map(|field| field.word())
        .collect();
    if kind == Kind::Pours && !has(Field::Panel) && !(has(Field::Width) && has(Field::Height)) {
        missing.push("panel");
    }
    if kind == Kind::Stock && !has(Field::Volume) && !has(Field::Packs) {
        missing.push("volume or packs");
    }
    if missing.is_empty() {
        return Ok(());
    }
    let headings: Vec<&str> = columns
        .iter()
        .map(|one| one.heading.as_str())
        .filter(|one| !one.is_empty())
        .collect();
    Err(ExchangeError::NoSheet(format!(
        "no column was taken for {}; it has {}",
        missing.join(", "),
        headings.join(", ")
    )))
}

/// `Heading=field`, or `Heading=-`.
fn order(said: &str, kind: Kind) -> Result<(String, Option<Field>), ExchangeError> {
    let wrong = |why: String| ExchangeError::NoSheet(why);
    let Some((heading, field)) = said.rsplit_once('=') else {
        return Err(wrong(format!("--column \"{said}\" is no Heading=field")));
    };
    if field.trim() == "-" {
        return Ok((plain(heading), None));
    }
    let known = kind.fields().0;
    match Field::parse(field).filter(|field| known.contains(field)) {
        Some(field) => Ok((plain(heading), Some(field))),
        None if Field::parse(field).is_none() => Err(wrong(format!(
            "there is no field \"{}\": one of {}",
            field.trim(),
            Field::words()
        ))),
        None => {
            let words: Vec<&str> = known.iter().map(|field| field.word()).collect();
            Err(wrong(format!(
                "a column of {kind} cannot become \"{}\": one of {}, or - for none",
                field.trim(),
                words.join(", ")
            )))
        }
    }
}

/// What the columns would be if the heading stood at a line; a field goes to the column whose heading is nearest to it.
fn guessed(
    lines: &[Line],
    at: usize,
    kind: Kind,
    orders: &[(String, Option<Field>)],
) -> Vec<Column> {
    let cells = &lines[at].cells;
    let above = at
        .checked_sub(1)
        .map(|above| spread(&lines[above].cells, cells.len()));
    let mut near: Vec<(f64, usize, Field)> = Vec::new();
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
        let ordered = orders.iter().find(|(one, _)| *one == plain(heading));
        if let Some((_, field)) = ordered {
            near.extend(field.map(|field| (2.0, place, field)));
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
        let taken = columns.iter().any(|one| one.field == Some(field)) && field != Field::Note;
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

fn nearness(heading: &str, field: Field) -> f64 {
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

fn known_unit(text: &str) -> Option<String> {
    const UNITS: &[&str] = &[
        "ml", "l", "cl", "oz", "fl oz", "floz", "cm", "mm", "in", "inch", "inches", "c", "f", "s",
        "sec", "%", "g/ml", "qt", "pt", "gal",
    ];
    let text = text.trim().to_lowercase().replace(['°', '.'], "");
    UNITS.contains(&text.as_str()).then_some(text)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(number: u64, cells: &[&str]) -> Line {
        Line {
            number,
            row: number,
            cells: cells.iter().map(|cell| (*cell).to_owned()).collect(),
        }
    }

    fn became(lines: &[Line], kind: Kind, said: &[String]) -> Vec<Option<&'static str>> {
        let (columns, _) = columns(lines, kind, said).unwrap();
        columns
            .iter()
            .map(|one| one.field.map(Field::word))
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
        assert_eq!(became(&lines, Kind::Pours, &[])[..7], wanted);
        assert_eq!(became(&lines, Kind::Pours, &[])[7], None);
    }

    #[test]
    fn a_merged_heading_and_a_title_above_it_are_skipped() {
        let lines = [
            line(1, &["My pours 2024", "", "", ""]),
            line(2, &["", "Panel", "", "Room"]),
            line(3, &["Date", "width", "height", "temperature"]),
            line(4, &["2024-01-02", "20", "30", "21"]),
        ];
        let (columns, skip) = columns(&lines, Kind::Pours, &[]).unwrap();
        assert_eq!(skip, 3);
        assert!(columns.iter().all(|one| one.field.is_some()), "{columns:?}");
    }

    #[test]
    fn a_column_goes_where_it_is_said_to() {
        let lines = [line(1, &["Datum", "Leinwand", "Notes"])];
        let said = ["Leinwand=panel".to_owned(), "notes=-".to_owned()];
        assert_eq!(
            became(&lines, Kind::Pours, &said),
            [Some("at"), Some("panel"), None]
        );
        for bad in ["Leinwand", "Leinwand=volume", "Missing=panel"] {
            assert!(
                columns(&lines, Kind::Pours, &[bad.to_owned()]).is_err(),
                "{bad}"
            );
        }
    }

    #[test]
    fn another_trades_columns_are_refused() {
        let lines = [
            line(1, &["Invoice", "VAT id", "IBAN"]),
            line(2, &["1", "2", "3"]),
        ];
        assert!(columns(&lines, Kind::Pours, &[]).is_err());
    }
}
