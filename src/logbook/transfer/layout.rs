//! What every table holds, told once: the export, the import and the comparison of two studios all go by this list.
//!
//! A new table or column is one line here; a test fails until it is.

use super::Record;
use crate::logbook::Value;
use Holds::{Id, Instant, Name, Real, Span, Text, To, Uid, Whole};

/// What a column holds, and with it the range that an import lets in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Holds {
    /// The row's number in its own file.
    Id,
    /// The id by which a row is known in every file.
    Uid,
    /// A whole number.
    Whole,
    /// A finite number, at most a thousand million either way.
    Real,
    /// Any text.
    Text,
    /// A name of 1 to 80 characters.
    Name,
    /// Milliseconds since 1970 in UTC, within the years 0 to 9999.
    Instant,
    /// A length of time in milliseconds, at most some 30 years.
    Span,
    /// A row of another table, by its uid.
    To(&'static str),
}

/// A column of a table.
#[derive(Debug, PartialEq, Eq)]
pub struct Column {
    /// Its name in the store.
    pub name: &'static str,
    /// What it holds.
    pub holds: Holds,
}

impl Column {
    /// Its name in a file: a reference goes without the `_id`.
    #[must_use]
    pub fn said(&self) -> &'static str {
        self.name.strip_suffix("_id").unwrap_or(self.name)
    }

    /// Whether an import may let this value in.
    pub(super) fn admits(&self, value: &Value) -> bool {
        match (self.holds, value) {
            (Id, Value::Integer(n)) => (1..=MOST_ID).contains(n),
            (_, Value::Null) => self.holds != Id,
            (Whole, Value::Integer(n)) => *n > i64::MIN,
            (Real, Value::Real(x)) => x.is_finite() && x.abs() <= MOST_REAL,
            (Instant, Value::Integer(n)) => CALENDAR.contains(n),
            (Span, Value::Integer(n)) => (0..=MOST_SPAN).contains(n),
            (Text, Value::Text(_)) => true,
            (Uid | To(_), Value::Text(uid)) => (1..=64).contains(&uid.len()),
            (Name, Value::Text(name)) => (1..=80).contains(&name.chars().count()),
            _ => false,
        }
    }
}

// Every reader of JSON holds a whole number up to 2^53 exactly (RFC 8259, section 6).
const MOST_ID: i64 = 1 << 53;
const MOST_REAL: f64 = 1e9;
const MOST_SPAN: i64 = 1_000_000_000_000;
// 0000-01-01T00:00:00Z to 9999-12-31T23:59:59.999Z, all that RFC 3339 can write.
const CALENDAR: std::ops::RangeInclusive<i64> = -62_167_219_200_000..=253_402_300_799_999;

/// What must be one of a kind beside the uid, and gives way where another row has it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Gives {
    Nothing,
    Name,
    Mark,
    /// A number counted within the row another column refers to.
    NumberIn(&'static str),
}

/// A table, its columns in order, and the tables whose rows hang under its own.
#[derive(Debug, PartialEq, Eq)]
pub struct Table {
    /// Its name, in the store and in a file.
    pub name: &'static str,
    /// The columns, save the one that names the parent.
    pub columns: &'static [Column],
    /// The tables that hang under it.
    pub children: &'static [Self],
    pub(super) parent: Option<&'static str>,
    pub(super) key: &'static str,
    pub(super) gives: Gives,
}

impl Table {
    const fn new(name: &'static str, columns: &'static [Column]) -> Self {
        Self {
            name,
            columns,
            children: &[],
            parent: None,
            key: "uid",
            gives: Gives::Nothing,
        }
    }

    const fn under(self, parent: &'static str) -> Self {
        Self {
            parent: Some(parent),
            ..self
        }
    }

    const fn with(self, children: &'static [Self]) -> Self {
        Self { children, ..self }
    }

    const fn known_by(self, key: &'static str) -> Self {
        Self { key, ..self }
    }

    const fn giving(self, gives: Gives) -> Self {
        Self { gives, ..self }
    }

    /// The place of the column of this name in the store.
    pub(super) fn place(&self, name: &str) -> Option<usize> {
        self.columns.iter().position(|column| column.name == name)
    }

    /// An empty row of it.
    #[must_use]
    pub fn blank(&'static self) -> Record {
        Record {
            table: self,
            fields: vec![None; self.columns.len()],
            children: Vec::new(),
        }
    }
}

macro_rules! columns {
    ($($name:ident $holds:expr),* $(,)?) => {
        &[$(Column { name: stringify!($name), holds: $holds }),*]
    };
}

/// Every table; one that is referred to comes before those that refer to it. The history comes last.
pub const TABLES: &[Table] = &[
    Table::new("setting", columns! { id Id, name Name, value Text }).known_by("name"),
    Table::new(
        "material",
        columns! {
            id Id, uid Uid, name Name, kind Text, pack_ml Real, price Text, density Real,
            colour_index Text, hazard Text, priced_ml Real, retired_at_ms Instant, colour Text
        },
    )
    .giving(Gives::Name),
    Table::new(
        "stock",
        columns! {
            id Id, uid Uid, material_id To("material"), at_ms Instant, offset_min Whole, kind Text,
            ml Real, price Text
        },
    ),
    Table::new(
        "recipe",
        columns! { id Id, uid Uid, name Name, layer Text, retired_at_ms Instant },
    )
    .giving(Gives::Name),
    Table::new(
        "variant",
        columns! {
            id Id, uid Uid, recipe_id To("recipe"), number Whole, parent_id To("variant"),
            at_ms Instant, offset_min Whole, by_weight Whole, mound_low Real, mound_high Real,
            rest_ms Span, again_ms Span, stir_min Real, limit_share Real, note Text
        },
    )
    .giving(Gives::NumberIn("recipe_id"))
    .with(&[Table::new(
        "part",
        columns! { id Id, place Whole, material_id To("material"), recipe_id To("recipe"), share Real },
    )
    .under("variant_id")]),
    Table::new(
        "cup",
        columns! {
            id Id, uid Uid, mark Text, variant_id To("variant"), at_ms Instant, offset_min Whole,
            volume_ml Real, depth_mm Real, diameter_mm Real, tape Text, note Text,
            spent_at_ms Instant
        },
    )
    .giving(Gives::Mark)
    .with(&[Table::new(
        "put",
        columns! { id Id, place Whole, material_id To("material"), source_cup_id To("cup"), ml Real },
    )
    .under("cup_id")]),
    Table::new(
        "panel",
        columns! { id Id, uid Uid, shape Text, width_mm Real, height_mm Real },
    ),
    Table::new(
        "pour",
        columns! {
            id Id, uid Uid, panel_id To("panel"), go Whole, again_of To("pour"), at_ms Instant,
            offset_min Whole, way Text, air_c Real, air_rh Real, note Text
        },
    )
    .with(&[
        Table::new(
            "layer",
            columns! { id Id, place Whole, cup_id To("cup"), ml Real, state Text, mound_s Real,
                poured_ms Instant
            },
        )
        .under("pour_id"),
        Table::new(
            "move",
            columns! { id Id, place Whole, kind Text, direction Text, times Real,
                begun_ms Instant, took_s Real
            },
        )
        .under("pour_id"),
    ]),
    Table::new(
        "entry",
        columns! {
            id Id, uid Uid, cup_id To("cup"), at_ms Instant, offset_min Whole, told Whole,
            kind Text, minutes Real, mound_s Real, flow_cup Text, efflux_s Real, ml Real,
            material_id To("material"), hard Whole, word Text, into_cup_id To("cup"),
            pour_id To("pour"), from_cup_id To("cup"), thinner_ml Real
        },
    ),
    Table::new(
        "judgement",
        columns! {
            id Id, uid Uid, pour_id To("pour"), at_ms Instant, offset_min Whole, dry Whole,
            cells Whole, size Text, evenness Whole, lacing Whole, muddy Whole, crazed Whole,
            pinholes Whole, fate Text, note Text
        },
    ),
    Table::new(
        "picture",
        columns! {
            id Id, uid Uid, pour_id To("pour"), title Text, asked Text, price Text, sold_at_ms Instant,
            sold_offset_min Whole, buyer Text, venue Text
        },
    ),
    Table::new(
        "photo",
        columns! {
            id Id, uid Uid, pour_id To("pour"), sha256 Text, format Text, bytes Whole, width Whole,
            height Whole, taken_at_ms Instant, taken_offset_min Whole, taken_by Text, dry Whole,
            corners Text, thumbnail Text, note Text
        },
    ),
    Table::new(
        "measurement",
        columns! {
            id Id, uid Uid, photo_id To("photo"), at_ms Instant, offset_min Whole, method Text,
            corners Text, how Text, cells Whole, per_dm2 Real, share Real, glare Real,
            median_mm Real, mean_mm Real, p10_mm Real, p90_mm Real, band_low_mm Real,
            band_high_mm Real, evenness Real, spacing_mm Real, spacing_ratio Real, roundness Real,
            colours Text
        },
    ),
    Table::new(
        "plan",
        columns! {
            id Id, uid Uid, at_ms Instant, offset_min Whole, shape Text, width_mm Real,
            height_mm Real, count Whole, edge_mm Real, way Text, pour_at_ms Instant,
            pour_offset_min Whole, note Text, repeats_pour_id To("pour")
        },
    )
    .with(&[Table::new(
        "planned_cup",
        columns! {
            id Id, place Whole, variant_id To("variant"), ml Real, cup_id To("cup"), stood_h Real, mound_s Real
        },
    )
    .under("plan_id")]),
    Table::new(
        "trial",
        columns! {
            id Id, uid Uid, at_ms Instant, offset_min Whole, seed Whole, blind Whole, note Text
        },
    )
    .with(&[
        Table::new(
            "trial_factor",
            columns! { id Id, place Whole, name Text, low Text, high Text },
        )
        .under("trial_id"),
        Table::new(
            "trial_run",
            columns! { id Id, place Whole, block Whole, levels Text, pour_id To("pour"), given_up Text },
        )
        .under("trial_id"),
    ]),
    HISTORY,
];

/// The record of what was done.
pub(super) const HISTORY: Table = Table::new(
    "change",
    columns! {
        id Id, uid Uid, at_ms Instant, offset_min Whole, kind Text, label Text,
        target To("change"), rows Text, act Text
    },
);

#[cfg(test)]
mod tests {
    use super::*;
    use crate::logbook::{Logbook, STEPS};
    use std::collections::BTreeMap;

    /// Each table with its columns and whether each is a reference, as the file itself declares them.
    fn declared() -> BTreeMap<String, Vec<(String, Option<String>)>> {
        let folder = tempfile::tempdir().unwrap();
        let book = Logbook::open_or_create(folder.path().join("x"), STEPS).unwrap();
        let sql = "SELECT t.name, c.name, f.\"table\" FROM sqlite_schema AS t \
                   JOIN pragma_table_info(t.name) AS c \
                   LEFT JOIN pragma_foreign_key_list(t.name) AS f ON f.\"from\" = c.name \
                   WHERE t.type = 'table' AND substr(t.name, 1, 7) <> 'sqlite_' ORDER BY t.name, c.cid";
        let mut read = book.conn().prepare(sql).unwrap();
        let rows = read.query_map([], |row| {
            Ok((row.get(0)?, (row.get(1)?, row.get::<_, Option<String>>(2)?)))
        });
        let mut tables: BTreeMap<String, Vec<(String, Option<String>)>> = BTreeMap::new();
        for row in rows.unwrap() {
            let (table, column): (String, _) = row.unwrap();
            tables.entry(table).or_default().push(column);
        }
        tables
    }

    fn described(
        table: &Table,
        above: Option<&str>,
        all: &mut BTreeMap<String, Vec<(String, Option<String>)>>,
    ) {
        let one = |column: &Column| match column.holds {
            To(other) => (column.name.to_owned(), Some(other.to_owned())),
            _ => (column.name.to_owned(), None),
        };
        let mut columns: Vec<_> = table.columns.iter().map(one).collect();
        if let Some(parent) = table.parent {
            columns.push((parent.to_owned(), above.map(str::to_owned)));
        }
        all.insert(table.name.to_owned(), columns);
        for child in table.children {
            described(child, Some(table.name), all);
        }
    }

    #[test]
    fn every_table_column_and_reference_of_the_file_is_described() {
        let (mut file, mut ours) = (declared(), BTreeMap::new());
        for table in TABLES {
            described(table, None, &mut ours);
        }
        // What is only being built on a screen goes nowhere.
        assert!(file.remove("draft").is_some());
        for columns in file.values_mut().chain(ours.values_mut()) {
            columns.sort();
        }
        assert_eq!(file, ours);
    }

    #[test]
    fn what_is_referred_to_comes_first() {
        fn check(table: &Table, known: &[&str]) {
            for column in table.columns {
                if let To(other) = column.holds {
                    assert!(known.contains(&other), "{}.{}", table.name, column.name);
                }
            }
            table.children.iter().for_each(|child| check(child, known));
        }
        let mut known = Vec::new();
        for table in TABLES {
            known.push(table.name);
            check(table, &known);
        }
    }

    #[test]
    fn numbers_out_of_range_are_not_let_in() {
        let of = |holds| Column { name: "x", holds };
        assert!(!of(Real).admits(&Value::Real(f64::NAN)) && !of(Real).admits(&Value::Real(1e300)));
        assert!(of(Real).admits(&Value::Real(-5.5)) && !of(Real).admits(&Value::Integer(1)));
        assert!(!of(Id).admits(&Value::Integer(0)) && !of(Id).admits(&Value::Null));
        assert!(!of(Instant).admits(&Value::Integer(i64::MAX)));
        assert!(!of(Whole).admits(&Value::Integer(i64::MIN)));
    }
}
