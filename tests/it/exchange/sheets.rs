//! Plain tables for a spreadsheet.

use super::{HOSTILE, small};
use stillcup::exchange::write_sheet;
use stillcup::studio::Sheet;

fn rows(bytes: &[u8]) -> Vec<Vec<String>> {
    let mut read = csv::ReaderBuilder::new()
        .has_headers(false)
        .from_reader(bytes);
    let rows = read
        .records()
        .map(|row| row.unwrap().iter().map(str::to_owned).collect());
    rows.collect()
}

fn sheet(which: Sheet) -> Vec<Vec<String>> {
    let mut bytes = Vec::new();
    write_sheet(&small().studio, which, &mut bytes).unwrap();
    assert!(bytes.ends_with(b"\r\n"), "RFC 4180, section 2");
    rows(&bytes)
}

fn cell<'a>(rows: &'a [Vec<String>], row: usize, column: &str) -> &'a str {
    let place = rows[0].iter().position(|name| name == column).unwrap();
    &rows[row][place]
}

#[test]
fn each_sheet_has_a_row_for_each_thing() {
    let count = |which| sheet(which).len() - 1;
    assert_eq!(count(Sheet::Cups), 2);
    assert_eq!(count(Sheet::Materials), 2);
    assert_eq!(count(Sheet::Pours), 2);
    assert_eq!(count(Sheet::Judgements), 1);
    // Two cups were mixed, the one was drawn from for the other, and three layers were poured.
    assert_eq!(count(Sheet::Entries), 2 + 1 + 3);
}

#[test]
fn text_is_exact_but_for_the_apostrophe_before_a_formula() {
    let materials = sheet(Sheet::Materials);
    assert_eq!(cell(&materials, 1, "hazard"), format!("'{HOSTILE}"));
    let judged = sheet(Sheet::Judgements);
    assert_eq!(cell(&judged, 1, "note"), "'+4, \"good\"");
    assert_eq!(cell(&judged, 1, "at"), "2026-03-02T03:20:00+01:00");
    let cups = sheet(Sheet::Cups);
    assert_eq!(cell(&cups, 2, "volume_ml"), "40.1");
    assert_eq!(cell(&cups, 2, "recipe"), "Opener");
}
