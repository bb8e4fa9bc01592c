//! Tables, opened by a spreadsheet program and written out again: nothing is lost, and nothing becomes a formula.

use super::printed;
use crate::command::Rehearsal;
use std::path::Path;

/// The cells of a table; numbers as numbers, however they are written.
fn cells(file: &Path) -> Vec<Vec<String>> {
    let mut csv = csv::ReaderBuilder::new()
        .has_headers(false)
        .from_path(file)
        .unwrap();
    let number = |cell: &str| {
        cell.parse::<f64>()
            .map_or(cell.to_owned(), |one| one.to_string())
    };
    let rows = csv.records().map(|row| row.unwrap());
    rows.map(|row| row.iter().map(number).collect()).collect()
}

/// The importer of LibreOffice, told what any dialogue offers first: commas, quotation marks, UTF-8 (its token 76).
#[test]
fn a_spreadsheet_program_reads_every_cell_of_a_ledger_and_of_the_cups_as_it_stands() {
    let desk = Rehearsal::stocked();
    for words in [
        "mix|River blue|--volume|90ml|--mark|K7|--note|=1+1, \"two\"; 深い",
        "pour|--panel|20x30cm|--layer|K7:60ml",
        "title|1|=HYPERLINK(\"x\"), Ægir 河",
        "sell|1|--price|240.50|--where|+Market; row 3",
    ] {
        desk.does(words);
    }
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    desk.does(&format!("ledger|--csv|{}", at("ledger.csv").display()));
    desk.does(&format!("csv|cups|{}", at("cups.csv").display()));
    let home = format!("-env:UserInstallation=file://{}", at("home").display());
    let out = at("out").display().to_string();
    let sheet = "Text - txt - csv (StarCalc):44,34,76";
    let (ledger, cups) = (at("ledger.csv"), at("cups.csv"));
    let words = [
        &home,
        "--headless",
        &format!("--infilter={sheet}"),
        "--convert-to",
        &format!("csv:{sheet},1"),
        "--outdir",
        &out,
        ledger.to_str().unwrap(),
        cups.to_str().unwrap(),
    ];
    if printed("soffice", &words).is_none() {
        return;
    }
    for name in ["ledger.csv", "cups.csv"] {
        assert_eq!(cells(&at("out").join(name)), cells(&at(name)), "{name}");
    }
    let text = std::fs::read_to_string(at("out").join("ledger.csv")).unwrap();
    assert!(
        text.contains("'=HYPERLINK") && text.contains("'+Market") && text.contains('河'),
        "{text}"
    );
}
