//! `assets/schema.md` against the file that the program makes: every table and view, every column, in order.

use super::nowhere;
use rusqlite::Connection;
use std::collections::BTreeMap;
use stillcup::studio::Studio;

type Columns = BTreeMap<String, Vec<String>>;

fn of_the_file() -> Columns {
    let (_folder, path) = nowhere();
    drop(Studio::open(&path).unwrap());
    let conn = Connection::open(&path).unwrap();
    let mut names = conn
        .prepare("SELECT name FROM sqlite_schema WHERE type IN ('table', 'view') AND name NOT LIKE 'sqlite%'")
        .unwrap();
    let names: Vec<String> = names
        .query_map([], |row| row.get(0))
        .unwrap()
        .map(Result::unwrap)
        .collect();
    let columns = |name: &String| {
        let mut read = conn
            .prepare("SELECT name FROM pragma_table_info(?1) ORDER BY cid")
            .unwrap();
        read.query_map([name], |row| row.get(0))
            .unwrap()
            .map(Result::unwrap)
            .collect()
    };
    names
        .iter()
        .map(|name| (name.clone(), columns(name)))
        .collect()
}

/// A heading of the third rank names a table or view; each line of its table begins with a column.
fn of_the_document() -> Columns {
    let mut told = Columns::new();
    let mut name = String::new();
    for line in include_str!("../../../assets/schema.md").lines() {
        if let Some(heading) = line.strip_prefix("### `") {
            name = heading.trim_end_matches('`').to_owned();
            told.insert(name.clone(), Vec::new());
        } else if let Some((column, _)) =
            line.strip_prefix("| `").and_then(|row| row.split_once('`'))
        {
            told.get_mut(&name).unwrap().push(column.to_owned());
        }
    }
    told
}

#[test]
fn guards_the_rule_that_the_schema_is_told_as_it_is() {
    assert_eq!(of_the_document(), of_the_file());
}

/// The views hold what was logged, in the units of their columns' names.
#[test]
fn the_views_tell_a_logged_day() {
    let desk = crate::command::Rehearsal::stocked();
    for words in [
        "mix|Ground|--volume|120ml|--mound|3.5|--mark|B2",
        "thin|B2|3ml|--mound|3.2",
        "pour|--panel|20x30cm|--layer|B2:60ml|--air|21C,45%",
        "judge|1|--cells|3",
        "judge|1|--cells|4|--dry",
        "title|1|First light|--asking|90",
        "sell|1|--price|80",
    ] {
        desk.does(words);
    }
    let conn = Connection::open(desk.file()).unwrap();
    let ask = |sql: &str| {
        conn.query_row(sql, [], |row| row.get::<_, String>(0))
            .unwrap()
    };
    let cup = "SELECT mark || ' ' || recipe || ' ' || variant || ' ' || volume_ml || ' ' || thinner_ml || ' ' || drawn_ml
               || ' ' || last_mound_s || ' ' || readings || ' ' || mixed_at_utc FROM view_cup";
    assert_eq!(
        ask(cup),
        "B2 Ground 1 120.0 3.0 60.0 3.2 2 2026-11-24T17:00:00Z"
    );
    // By hand: 60 ml on 20 x 30 cm = 60,000 mm3 on 60,000 mm2 = 1 mm.
    let pour = "SELECT area_cm2 || ' ' || paint_ml || ' ' || wet_film_mm || ' ' || air_humidity_percent || ' ' || title
                || ' ' || asked_price || ' ' || sold_price || ' ' || poured_at_local FROM view_pour";
    assert_eq!(
        ask(pour),
        "600.0 60.0 1.0 45.0 First light 90 80 2026-11-24T18:00:00"
    );
    let outcome = "SELECT dry || ' ' || cells_0_to_5 || ' ' || fate FROM view_outcome";
    assert_eq!(ask(outcome), "1 4 sold");
}
