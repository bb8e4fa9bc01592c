//! Lists that grow with the years are said while they are read, in pages that join without a seam.

use super::Rehearsal;
use serde_json::Value;

/// More pours and changes than are read at once: each pour and each change of a real one again and again.
fn years() -> Rehearsal {
    let desk = Rehearsal::ready_stack();
    desk.does("pour|--panel|20x20cm|--layer|B2:50ml|--air|23C,50%");
    let book = rusqlite::Connection::open(desk.file()).unwrap();
    let many = "WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < 600)";
    // Three of a time, so that a page ends among pours of one instant.
    let sql = format!(
        "{many} INSERT INTO pour (uid, panel_id, go, at_ms, offset_min, way)
         SELECT uid || i, panel_id, go, at_ms - i / 3 * 60000, offset_min,
                CASE WHEN i > 500 THEN 'a puddle pour of many words' END FROM pour, n;
         {many} INSERT INTO change (uid, at_ms, offset_min, kind, label, \"rows\", act)
         SELECT uid || i, at_ms, offset_min, kind, label, '[]', act
         FROM change, n WHERE change.id = (SELECT max(id) FROM change)"
    );
    book.execute_batch(&sql).unwrap();
    desk
}

fn numbers(list: &Value, key: &str) -> Vec<i64> {
    let lines = list.as_array().unwrap().iter();
    lines.map(|line| line[key].as_i64().unwrap()).collect()
}

#[test]
fn pages_join_without_a_seam_and_the_whole_is_one_answer() {
    let desk = years();
    for (verb, key, all) in [("pours", "pour", 601), ("history", "change", 0)] {
        let whole = desk.does(&format!("{verb}|--limit|100000"));
        let whole = numbers(&whole[verb], key);
        assert!(all == 0 || whole.len() == all, "{verb}: {}", whole.len());
        let mut joined = Vec::new();
        while joined.len() < whole.len() {
            let from = joined.len() + 1;
            let page = desk.does(&format!("{verb}|--from|{from}|--limit|260"));
            joined.extend(numbers(&page[verb], key));
        }
        assert_eq!(joined, whole, "{verb}");
        let mut parted = whole.clone();
        parted.sort_unstable();
        parted.dedup();
        assert_eq!(parted.len(), whole.len(), "{verb} says one twice");
    }
}

#[test]
fn what_is_read_later_stands_in_the_columns_of_what_came_before() {
    let desk = years();
    let said = desk.says("pours");
    let places: Vec<Option<usize>> = said.lines().map(|line| line.find("20 x 20 cm")).collect();
    assert_eq!(places.len(), 602, "a head and every pour");
    assert!(places[1..].iter().all(|place| *place == places[1]));
    assert_eq!(said.matches("layers, lowest first").count(), 1);
}

#[test]
fn an_empty_list_is_json_too() {
    let desk = Rehearsal::at("2026-11-24T18:00:00+01:00");
    assert_eq!(desk.does("pours"), serde_json::json!({"pours": []}));
    assert_eq!(
        desk.does("history|--from|9"),
        serde_json::json!({"history": []})
    );
    let past = Rehearsal::stocked().says("history|--from|900");
    assert!(
        past.starts_with("There is no change 900 from the newest"),
        "{past}"
    );
}

#[test]
fn the_rack_is_shown_in_pages() {
    let desk = years();
    let whole = desk.does("rack")["pictures"].as_array().unwrap().len();
    let page = desk.does("rack|--from|3|--limit|2");
    assert_eq!(page["pictures"].as_array().unwrap().len(), 2);
    let said = desk.says("rack|--from|3|--limit|2");
    let rest = format!("{} older ones: begin with --from 5", whole - 4);
    assert!(said.contains(&rest), "{said}");
}
