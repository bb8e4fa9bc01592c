//! A painter's own lists in: messy, as they are kept, and refused by the line where they cannot be read.

use crate::command::Rehearsal;
use std::path::PathBuf;

struct Lists {
    desk: Rehearsal,
    folder: tempfile::TempDir,
}

impl Lists {
    fn new() -> Self {
        Self {
            desk: Rehearsal::stocked(),
            folder: tempfile::tempdir().unwrap(),
        }
    }

    fn file(&self, name: &str, bytes: &[u8]) -> PathBuf {
        let path = self.folder.path().join(name);
        std::fs::write(&path, bytes).unwrap();
        path
    }

    fn takes(&self, bytes: &[u8], words: &str) -> serde_json::Value {
        let path = self.file("list.csv", bytes);
        self.desk
            .does(&format!("import|{}|{words}", path.display()))
    }

    /// Refused with a sentence or a hint that holds some words, and nothing changed.
    fn refuses(&self, bytes: &[u8], words: &str, wanted: &str) {
        let path = self.file("list.csv", bytes);
        let typed = format!("import {}|{words}", path.display());
        let (sentence, hint) = self.desk.refuses(&typed);
        let said = format!("{sentence} {hint}");
        assert!(said.contains(wanted), "{wanted:?} in {said}");
    }

    fn asks(&self, sql: &str) -> String {
        let conn = rusqlite::Connection::open(self.desk.file()).unwrap();
        conn.query_row(sql, [], |row| row.get::<_, Option<String>>(0))
            .unwrap()
            .unwrap_or_default()
    }
}

/// Three years as one keeps them: a title, a merged heading, semicolons, decimal commas, Windows-1252, day-first dates, US and
/// metric sizes in one column, a sum at the end.
const MESSY: &[u8] = b"My pours;;;;;;;\r\n\
;Canvas;;Room;;;;\r\n\
Poured on;size;Technique;temp \xb0C;humidity %;Rating;Sold for;Remarks\r\n\
05.03.2023;40 x 50 cm;flip cup;20,5;45;4;\x80 1.240,50;sch\xf6n\r\n\
17/11/2023 18:30;16x20 in;\"swipe; twice\";21;50%;2/5;;\r\n\
\r\n\
2024-02-01;round 30 cm;;;;*****;;=kept as it is\r\n\
Total;;;;;;1240,50;\r\n";

#[test]
fn a_messy_list_of_years_comes_in_as_one_change_and_never_twice() {
    let lists = Lists::new();
    let messy = String::from_utf8_lossy(MESSY).replace("=kept", "kept");
    assert!(messy.contains('\u{fffd}'), "the list is no UTF-8");
    let bytes: Vec<u8> = MESSY.iter().copied().filter(|byte| *byte != b'=').collect();
    let tried = lists.takes(&bytes, "--as|pours|--try");
    assert_eq!(
        (tried["new"].as_i64(), tried["kept"].as_bool()),
        (Some(3), Some(false))
    );
    assert_eq!(lists.asks("SELECT CAST(COUNT(*) AS TEXT) FROM pour"), "0");
    let taken = lists.takes(&bytes, "--as|pours");
    assert_eq!(
        (taken["new"].as_i64(), taken["known"].as_i64()),
        (Some(3), Some(0))
    );
    let notes = taken["notes"].to_string();
    for said in [
        "Windows-1252",
        "semicolons",
        "day first",
        "sums up",
        "before the headings",
    ] {
        assert!(notes.contains(said), "{said} in {notes}");
    }
    let told = "SELECT group_concat(poured_at_local || ' ' || ROUND(width_mm, 1) || ' ' || COALESCE(air_celsius, '-'), '; ')
                FROM (SELECT * FROM view_pour ORDER BY pour)";
    assert_eq!(
        lists.asks(told),
        "2023-03-05T12:00:00 400.0 20.5; 2023-11-17T18:30:00 406.4 21.0; 2024-02-01T12:00:00 300.0 -"
    );
    assert_eq!(
        lists.asks("SELECT sold_price || ' ' || note FROM view_pour WHERE pour = 1"),
        "1240.50 schön"
    );
    assert_eq!(
        lists.asks(
            "SELECT group_concat(cells_0_to_5) FROM (SELECT * FROM view_outcome ORDER BY pour)"
        ),
        "4,2,5"
    );
    let again = lists.takes(&bytes, "--as|pours");
    assert_eq!(
        (again["new"].as_i64(), again["known"].as_i64()),
        (Some(0), Some(3))
    );
    lists.desk.does("undo");
    assert_eq!(lists.asks("SELECT CAST(COUNT(*) AS TEXT) FROM pour"), "0");
}

#[test]
fn materials_stock_cups_and_judgements_come_in() {
    let lists = Lists::new();
    let materials = b"Product,Type,Bottle size (oz),Price,Pigment\nCoral,paint,8,$12.90,PR254\nTitan white,paint,,,PW6\n";
    assert_eq!(lists.takes(materials, "--as|materials")["new"], 2);
    assert_eq!(lists.takes(materials, "--as|materials")["known"], 2);
    // 8 fl oz = 236.588 ml (NIST Handbook 44, appendix C: 29.573 53 ml each).
    assert_eq!(
        lists.asks("SELECT ROUND(pack_ml, 3) || ' ' || price FROM material WHERE name = 'Coral'"),
        "236.588 12.90"
    );
    assert_eq!(
        lists.asks("SELECT colour_index FROM material WHERE name = 'Titan white'"),
        "PW6"
    );
    let stock =
        b"Bought on,Material,Bottles,Paid\n3/14/2025,Coral,2,25.80\n4/2/2025,Coral,1,12.90\n";
    assert_eq!(lists.takes(stock, "--as|stock")["new"], 2);
    assert_eq!(
        lists.asks("SELECT group_concat(ROUND(ml, 1)) FROM stock"),
        "473.2,236.6"
    );
    let cups = b"Date,Cup,Mix,ml,seconds\n2026-11-20,K7,River blue,90,2.4\n2024-01-05,K7,River blue,120,2.8\n";
    let taken = lists.takes(cups, "--as|cups");
    assert_eq!(taken["new"], 2);
    assert!(taken["notes"].to_string().contains("used up"));
    assert_eq!(lists.desk.cup("K7")["volume_ml"], 90.0);
    lists.takes(b"date,panel\n2026-11-01,20x30cm\n", "--as|pours");
    lists.takes(b"Pour no;Stars;wet or dry\n1;4;dry\n", "--as|judgements");
    assert_eq!(
        lists.asks("SELECT cells_0_to_5 || ' ' || dry FROM view_outcome"),
        "4 1"
    );
}

#[test]
fn a_column_goes_where_it_is_said_to_and_dates_as_they_are_said() {
    let lists = Lists::new();
    let list = "Fecha,Lienzo,Mood\n1/2/2025,20x30 cm,calm\n".as_bytes();
    lists.refuses(list, "--as|pours", "none of its columns is known");
    let taken = lists.takes(
        list,
        "--as|pours|--column|Fecha=at|--column|Lienzo=panel|--column|Mood=note|--dates|month-first",
    );
    assert_eq!(taken["new"], 1);
    assert_eq!(
        lists.asks("SELECT poured_at_local || ' ' || note FROM view_pour"),
        "2025-01-02T12:00:00 calm"
    );
}

#[test]
fn what_cannot_be_read_is_told_by_its_line_and_nothing_comes_in() {
    let lists = Lists::new();
    for (list, words, wanted) in [
        (
            "date,panel\n2025-01-02,20x30cm\nsoon,20x30cm\n",
            "--as|pours",
            "line 3: \"soon\" is no date",
        ),
        (
            "date,panel,rating\n2025-01-02,20x30cm,=A1*2\n",
            "--as|pours",
            "line 2",
        ),
        (
            "date,panel,rating\n2025-01-02,20x30cm,9\n",
            "--as|pours",
            "\"9\" is no cells from 0 to 5",
        ),
        (
            "date,panel\n2027-01-02,20x30cm\n",
            "--as|pours",
            "has not come yet",
        ),
        (
            "date,panel\n13/2/2025,20x30cm\n2/13/2025,20x30cm\n",
            "--as|pours",
            "say --dates",
        ),
        (
            "date,mix,ml\n2025-01-02,No such,90\n",
            "--as|cups",
            "line 2: no recipe is called No such",
        ),
        (
            "date,mix,ml\n2025-01-02,River blue,\"1,234\"\n",
            "--as|cups",
            "two ways",
        ),
        (
            "invoice,vat,iban\n1,2,3\n",
            "--as|pours",
            "none of its columns is known",
        ),
        (
            "panel\n20x30cm\n",
            "--as|pours",
            "no column was taken for at",
        ),
        ("", "--as|pours", "it is empty"),
        (
            "date,panel\n2025-01-02,20x30cm\n",
            "--as|pours|--column|Nope=panel",
            "it has no column",
        ),
        (
            "date,panel\n2025-01-02,20x30cm\n",
            "--as|pours|--column|panel=iban",
            "there is no field",
        ),
        (
            "date,panel\n2025-01-02,20x30cm\n",
            "--as|pours|--column|panel=volume",
            "cannot become",
        ),
        ("name,price\nCoral,-3\n", "--as|materials", "below nothing"),
    ] {
        lists.refuses(list.as_bytes(), words, wanted);
    }
    let wide = format!("date,panel{}\n", ",x".repeat(10_000));
    lists.refuses(wide.as_bytes(), "--as|pours", "10002 columns");
    lists.refuses(b"PK\x03\x04zip", "--as|pours", "save it as CSV");
    lists.refuses(b"a\x00b", "--as|pours", "no text");
    let (sentence, _) = lists.desk.refuses(&format!(
        "import {}|--as|pours",
        lists.folder.path().display()
    ));
    assert!(sentence.contains("folder"), "{sentence}");
    lists.desk.refuses("import /no/such/list.csv|--as|pours");
}

/// A sheet of a gigabyte is told by its length and never read; the file here has a hole and no blocks.
#[test]
fn a_sheet_of_a_gigabyte_is_a_sentence() {
    let lists = Lists::new();
    let path = lists.file("huge.csv", b"");
    std::fs::File::options()
        .write(true)
        .open(&path)
        .unwrap()
        .set_len(1 << 30)
        .unwrap();
    let (sentence, _) = lists
        .desk
        .refuses(&format!("import {}|--as|pours", path.display()));
    assert!(sentence.contains("1024 MiB"), "{sentence}");
}

/// A sheet that grew year by year: the headings told again, years over their lines, sums by the year, "round" by its sign, ounces and
/// millilitres, a month's name.
#[test]
fn what_stands_between_the_rows_is_left_out_and_said_by_its_line() {
    let lists = Lists::new();
    let grown = "Gie\u{df}protokoll;;;;\n2023;;;;\nDatum;Leinwand;Technik;Zellen;Bemerkung\n\
        3. M\u{e4}rz 2023;\u{d8} 30 cm;Swipe;4;schön\nTotal 2023;;;4,0;\n\
        2024;;;;\nDatum;Leinwand;Technik;Zellen;Bemerkung\n19.07.2024;40\u{d7}50;;3;\n\
        Summe 2024:;;;3;\nSumme;;;7;\n";
    let taken = lists.takes(grown.as_bytes(), "--as|pours");
    assert_eq!(taken["new"], 2, "{taken}");
    let notes = taken["notes"].to_string();
    for said in [
        "lines 5, 9, 10 sum up others and were skipped",
        "line 7 is the headings again and was skipped",
        "line 6 holds one text alone and was skipped",
        "the 2 lines before the headings were skipped",
    ] {
        assert!(notes.contains(said), "{said} in {notes}");
    }
    assert_eq!(
        lists.asks("SELECT group_concat(poured_at_local || ' ' || ROUND(width_mm) || ' ' || COALESCE(way, '-'), '; ') FROM (SELECT * FROM view_pour ORDER BY pour)"),
        "2023-03-03T12:00:00 300.0 Swipe; 2024-07-19T12:00:00 400.0 -"
    );
    // What has a date is a row, whatever it begins with; a row that lacks its date is refused and not left out.
    lists.refuses(
        b"mix,ml,date\nTotal eclipse,90,2025-01-02\n",
        "--as|cups",
        "no recipe is called Total eclipse",
    );
    lists.refuses(
        b"date,panel\n,20x30cm\n2025-01-02,20x30cm\nsoon,20x30cm\n",
        "--as|pours",
        "soon",
    );
}

/// 16 x 20 in are 406.4 x 508 mm (an inch is 25.4 mm).
#[test]
fn what_has_no_unit_is_read_in_that_of_the_other_cells_and_said() {
    let lists = Lists::new();
    let list = "date,canvas\n2025-01-02,16x20\n2025-01-03,\"11\"\"x14\"\"\"\n2025-01-04,8x8in\n";
    let taken = lists.takes(list.as_bytes(), "--as|pours");
    let notes = taken["notes"].to_string();
    assert!(
        notes.contains("it was read in inches, as its other cells are"),
        "{notes}"
    );
    let widths =
        "SELECT group_concat(ROUND(width_mm, 1)) FROM (SELECT * FROM view_pour ORDER BY pour)";
    assert_eq!(lists.asks(widths), "406.4,279.4,203.2");
    // Where they differ, it is the studio's own.
    let mixed = "date,canvas\n2025-02-02,16x20\n2025-02-03,30x40cm\n2025-02-04,8x8in\n";
    lists.takes(mixed.as_bytes(), "--as|pours");
    assert!(
        lists.asks(widths).ends_with("160.0,300.0,203.2"),
        "{}",
        lists.asks(widths)
    );
}

/// As spreadsheets write them: lines end in CR and LF (RFC 4180), a note has lines of its own, a row is empty. What is told is the
/// line of the file and the row of the sheet; each was counted by hand.
#[test]
fn a_line_is_told_by_its_number_whatever_ends_it() {
    let lists = Lists::new();
    for end in ["\r\n", "\n", "\r"] {
        let plain = ["date,panel", "2025-01-02,20x30cm", "soon,20x30cm", ""].join(end);
        lists.refuses(plain.as_bytes(), "--as|pours", "line 3: \"soon\"");
        let rows = [
            "date,panel,note",
            "2025-01-02,20x30cm,\"one",
            "two",
            "three\"",
            "",
            "soon,20x30cm,x",
            "",
        ];
        let list = rows.join(end);
        let wanted = "line 6 (row 4 of the sheet): \"soon\"";
        lists.refuses(list.as_bytes(), "--as|pours", wanted);
    }
}

/// A quotation mark that nothing closes swallows all lines after it: refused, not taken for one long note.
#[test]
fn a_cell_that_never_ends_is_refused_by_its_line() {
    let lists = Lists::new();
    let list = "date,panel,note\n2025-01-02,20x30cm,\"never closed\n2025-01-03,20x30cm,b\n2025-01-04,20x30cm,c\n";
    lists.refuses(list.as_bytes(), "--as|pours", "line 2");
    // An inch's sign within a cell opens nothing, and a closed one holds what it likes.
    let list = "date,panel,note\n2025-01-02,16x20\",b\n2025-01-03,20x30cm,\"a \"\"b\"\" c\"\n";
    assert_eq!(lists.takes(list.as_bytes(), "--as|pours")["new"], 2);
}

#[test]
fn headings_with_nothing_below_them_are_said() {
    let lists = Lists::new();
    lists.refuses(b"date,panel\n", "--as|pours", "no line below its headings");
}

/// The same file adds nothing, read with its columns taken for something else too.
#[test]
fn the_same_file_read_otherwise_adds_nothing() {
    let lists = Lists::new();
    let list = b"date,panel,mood,remarks\n2025-01-02,20x30cm,calm,first\n2025-01-02,20x30cm,calm,first\n2025-01-03,20x30cm,wild,b\n";
    assert_eq!(lists.takes(list, "--as|pours")["new"], 3);
    let again = lists.takes(list, "--as|pours|--column|remarks=-|--column|mood=note");
    assert_eq!(
        (again["new"].as_i64(), again["known"].as_i64()),
        (Some(0), Some(3))
    );
    // A longer edition adds what is new in it alone.
    let longer = [list.as_slice(), b"2025-01-04,20x30cm,calm,c\n"].concat();
    let longer = lists.takes(&longer, "--as|pours");
    assert_eq!(
        (longer["new"].as_i64(), longer["known"].as_i64()),
        (Some(1), Some(3))
    );
}

/// 12 in are 304.8 mm (an inch is 25.4 mm).
#[test]
fn a_panel_is_read_however_its_size_is_written() {
    let lists = Lists::new();
    let list = "date;canvas\n2025-01-02;12\" round\n2025-01-03;round 30cm\n2025-01-04;30 cm rund\n\
        2025-01-05;Ø 30 cm\n2025-01-06;50,5 x 40 cm\n2025-01-07;dia. 12 in\n2025-01-08;oval 30x40 cm\n\
        2025-01-09;16 × 20 in\n2025-01-10;30 cm\n";
    lists.refuses(list.as_bytes(), "--as|pours", "line 10: \"30 cm\"");
    let list = list.replace("2025-01-10;30 cm\n", "");
    assert_eq!(lists.takes(list.as_bytes(), "--as|pours")["new"], 8);
    assert_eq!(
        lists.asks(
            "SELECT group_concat(ROUND(width_mm, 1)) FROM (SELECT * FROM view_pour ORDER BY pour)"
        ),
        "304.8,300.0,300.0,300.0,505.0,304.8,300.0,406.4"
    );
    lists.refuses(
        b"date,canvas\n2025-01-02,=A1\n",
        "--as|pours",
        "is a formula",
    );
}

/// A sale with its day, its buyer and its place; the buyer's name stays here unless it is asked for.
#[test]
fn sales_come_in_with_all_that_is_said_of_them() {
    let lists = Lists::new();
    let list = "Date poured,Canvas,Price,Sold for,Date sold,Sold to,Venue\n\
        2025-01-02,20x30cm,250,240,2025-03-04,A. Buyer,Spring market\n2025-01-03,20x30cm,120,,,,\n";
    assert_eq!(lists.takes(list.as_bytes(), "--as|pours")["new"], 2);
    assert_eq!(
        lists.asks("SELECT asked_price || ' ' || sold_price || ' ' || substr(sold_at_utc, 1, 10) FROM view_pour WHERE pour = 1"),
        "250 240 2025-03-04"
    );
    assert_eq!(
        lists.asks("SELECT buyer || ', ' || venue FROM picture WHERE price IS NOT NULL"),
        "A. Buyer, Spring market"
    );
    let head = "Date poured,Canvas,Price,Sold for,Date sold,Sold to,Venue";
    let early = format!("{head}\n2025-01-02,20x30cm,,9,2025-01-01,,\n");
    lists.refuses(early.as_bytes(), "--as|pours", "sold before it was poured");
    let unpriced = format!("{head}\n2025-02-02,20x30cm,,,,A. Buyer,\n");
    let taken = lists.takes(unpriced.as_bytes(), "--as|pours");
    let notes = taken["notes"].to_string();
    assert!(
        notes.contains("no sale was written down for line 2"),
        "{notes}"
    );
    // A cell that only says that nothing is known says no price, and no buyer.
    let unknown =
        format!("{head}\n2025-02-03,20x30cm,,n/a,,A. Buyer,\n2025-02-04,20x30cm,,,,-,?\n");
    let notes = lists.takes(unknown.as_bytes(), "--as|pours")["notes"].to_string();
    assert!(
        notes.contains("no sale was written down for line 2:"),
        "{notes}"
    );
}

/// Pours in ISO, sales as numbers: what no date of pouring tells, one of a sale does, and the guess is said.
#[test]
fn dates_of_sales_tell_how_dates_are_read() {
    let lists = Lists::new();
    let sold = "SELECT group_concat(substr(sold_at_utc, 1, 10)) FROM (SELECT * FROM view_pour ORDER BY pour)";
    let head = "Date,Size,Sold for,Date sold\n2024-01-02,20x30 cm,90,3/4/2025\n";
    lists.desk.does("set|measures|us");
    let notes = lists.takes(head.as_bytes(), "--as|pours")["notes"].to_string();
    assert!(notes.contains("month first, a guess"), "{notes}");
    assert_eq!(lists.asks(sold), "2025-03-04");
    lists.desk.does("undo");
    lists.desk.does("set|measures|metric");
    let told = format!("{head}2024-01-03,20x30 cm,80,12/25/2024\n");
    let notes = lists.takes(told.as_bytes(), "--as|pours")["notes"].to_string();
    assert!(notes.contains("month first, as line 3"), "{notes}");
    assert_eq!(lists.asks(sold), "2025-03-04,2024-12-25");
}

/// Units by their names in a heading; a weight is no volume; a whole column of temperatures is of one scale, and that is said.
#[test]
fn units_are_known_by_name_and_temperatures_by_their_column() {
    let lists = Lists::new();
    let cups = "Date,Cup,Mix,Volume (litres)\n2026-11-20,K7,River blue,0.09\n";
    lists.takes(cups.as_bytes(), "--as|cups");
    assert_eq!(lists.desk.cup("K7")["volume_ml"], 90.0);
    let grams = "Date,Cup,Mix,Amount (grams)\n2026-11-20,B4,River blue,120\n";
    lists.refuses(grams.as_bytes(), "--as|cups", "line 2");
    let air =
        "SELECT group_concat(ROUND(air_celsius, 1)) FROM (SELECT * FROM view_pour ORDER BY pour)";
    lists.desk.does("set|measures|us");
    let list = |heading: &str, degrees: [&str; 3]| {
        let line = |(day, said): (usize, &str)| format!("2025-01-0{},20x30cm,{said}\n", day + 1);
        let lines: String = degrees.into_iter().enumerate().map(line).collect();
        format!("Date,Size,{heading}\n{lines}")
    };
    let cold = list("Temp", ["-2", "19.5", "21"]);
    let notes = lists.takes(cold.as_bytes(), "--as|pours")["notes"].to_string();
    assert!(
        notes.contains("\\\"Temp\\\" has no unit, it was read in °C"),
        "{notes}"
    );
    assert_eq!(lists.asks(air), "-2.0,19.5,21.0");
    lists.desk.does("undo");
    // 44 and 68 °F: (F - 32) / 1.8 °C, by definition; a cell that says its own scale keeps it.
    let warm = list("Temp", ["44", "68", "20 C"]);
    let notes = lists.takes(warm.as_bytes(), "--as|pours")["notes"].to_string();
    assert!(notes.contains("read in °F"), "{notes}");
    assert_eq!(lists.asks(air), "6.7,20.0,20.0");
    lists.desk.does("undo");
    let said = list("Temperature (Celsius)", ["21", "48", "19"]);
    lists.takes(said.as_bytes(), "--as|pours");
    assert_eq!(lists.asks(air), "21.0,48.0,19.0");
}

/// A judgement hangs on its cells; what is said beside them is not lost unsaid.
#[test]
fn a_pour_without_cells_is_not_judged_and_that_is_said() {
    let lists = Lists::new();
    let list = "Date,Size,Rating,Status,Notes\n2025-01-02,20x30 cm,4,kept,-\n\
        2025-01-03,20x30 cm,,scraped,-\n2025-01-04,20x30 cm,,,-\n";
    let taken = lists.takes(list.as_bytes(), "--as|pours");
    let notes = taken["notes"].to_string();
    assert!(
        notes.contains("how it came out was not written down for line 3:"),
        "{notes}"
    );
    assert_eq!(
        lists.asks("SELECT group_concat(pour || ' ' || fate) FROM view_outcome"),
        "1 kept"
    );
    assert_eq!(
        lists.asks("SELECT CAST(COUNT(note) AS TEXT) FROM pour"),
        "0"
    );
}

/// Headings told twice lose nothing of the notes; what a number of packs is, is never taken for millilitres.
#[test]
fn notes_of_many_columns_and_numbers_of_packs_are_kept() {
    let lists = Lists::new();
    let list = b"date,panel,notes,notes,mood\n2025-01-02,20x30cm,thin,swiped,calm\n2025-01-03,20x30cm,,again,\n";
    lists.takes(list, "--as|pours|--column|mood=note");
    assert_eq!(
        lists.asks("SELECT group_concat(note, ' | ') FROM (SELECT * FROM view_pour ORDER BY pour)"),
        "thin; notes: swiped; mood: calm | again"
    );
    lists
        .desk
        .does("material|add|Coral|--kind|paint|--pack|250ml|--price|8");
    let bought = b"date;item;qty;price\n2025-03-05;Coral;2;16\n2025-04-05;Coral;1 bottle;8\n";
    let taken = lists.takes(bought, "--as|stock");
    assert!(
        taken["notes"].to_string().contains("number of packs"),
        "{taken}"
    );
    assert_eq!(
        lists.asks("SELECT group_concat(ROUND(ml)) FROM stock"),
        "500.0,250.0"
    );
    let bought = b"date;item;qty\n2025-05-05;Coral;120 ml\n2025-06-05;Coral;90\n";
    lists.takes(bought, "--as|stock");
    assert_eq!(
        lists.asks("SELECT group_concat(ROUND(ml)) FROM stock"),
        "500.0,250.0,120.0,90.0"
    );
}

/// 45292 is 1 January 2024 (ECMA-376 part 1, 18.17.4.1: days are counted from 1900-01-01 as 1, with 1900 taken for a leap year).
#[test]
fn a_spreadsheets_day_numbers_are_read_and_said() {
    let lists = Lists::new();
    let taken = lists.takes(b"date,panel\n45292,20x30cm\n", "--as|pours");
    assert!(
        taken["notes"].to_string().contains("numbers of days"),
        "{taken}"
    );
    assert_eq!(
        lists.asks("SELECT poured_at_local FROM view_pour"),
        "2024-01-01T12:00:00"
    );
}

/// A list without its kind, and a spreadsheet program's own file, are told what to do.
#[test]
fn a_list_without_its_kind_is_told_to_say_it() {
    let lists = Lists::new();
    for (name, bytes) in [
        ("list.csv", b"date,panel\n".as_slice()),
        ("list.xlsx", b"PK\x03\x04"),
    ] {
        let path = lists.file(name, bytes);
        let (sentence, hint) = lists.desk.refuses(&format!("import {}", path.display()));
        assert!(
            sentence.contains("list") && hint.contains("--as"),
            "{sentence} {hint}"
        );
    }
}
