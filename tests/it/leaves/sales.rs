//! Titles, sales and the ledger.

use crate::command::Rehearsal;
use serde_json::Value;

/// Two pictures; the paint of the first has a price, that of the second none.
fn poured() -> Rehearsal {
    let desk = Rehearsal::stocked();
    for words in [
        "material set|Pouring medium|--price|12.50",
        "mix|River blue|--volume|90ml|--mark|K7",
        "mix|Ground|--volume|120ml|--mark|B2",
        "pour|--panel|20x30cm|--layer|K7:60ml",
        "pour|--panel|20x30cm|--layer|B2:60ml",
        "set|currency|EUR",
    ] {
        desk.does(words);
    }
    desk
}

/// By hand: 60 ml of 1 part blue (8.90 for 250 ml) and 2 parts medium (12.50 for 1000 ml): 20 ml x 0.0356 = 0.712 and
/// 40 ml x 0.0125 = 0.50, together 1.212, as money 1.21.
#[test]
fn the_ledger_tells_price_paint_and_margin() {
    let desk = poured();
    desk.does("title|1|River in May|--asking|240");
    desk.does("sell|1|--price|240|--on|2026-11-24|--to|A. Buyer|--where|open studio");
    desk.does("sell|2|--price|99,50");
    let told = desk.does("history")["history"][1]["what"].clone();
    assert_eq!(told, "sold pour 1 for 240.00 EUR");
    let ledger = desk.does("ledger|--year|2026");
    let first = &ledger["pictures"][0];
    let told =
        ["title", "price", "cost", "margin", "where"].map(|name| first[name].as_str().unwrap());
    assert_eq!(
        told,
        ["River in May", "240", "1.21", "238.79", "open studio"]
    );
    assert_eq!(
        first.get("to"),
        None,
        "a buyer's name leaves only where that is asked for"
    );
    assert_eq!(ledger["takings"], "339.50");
    // The white of the second has no price: what is unknown is not nothing.
    assert_eq!(
        (&ledger["cost"], &ledger["margin"]),
        (&Value::Null, &Value::Null)
    );
    assert_eq!(
        desk.does("ledger|--year|2025")["pictures"],
        Value::Array(vec![])
    );
    assert_eq!(
        desk.does("ledger|--with-names")["pictures"][0]["to"],
        "A. Buyer"
    );
    assert!(desk.says("ledger").contains("240.00 EUR"));
    assert_eq!(
        desk.does("rack")["pictures"].as_array().map_or(0, Vec::len),
        0,
        "what is sold is off the rack"
    );
}

#[test]
fn a_sale_and_a_title_are_taken_back_by_undo() {
    let desk = poured();
    desk.does("judge|1|--cells|4|--dry");
    desk.does("title|1|River in May");
    desk.does("sell|1|--price|240");
    assert_eq!(
        desk.refuses("sell 1|--price|240").0,
        "stillcup: pour 1 was sold already."
    );
    desk.does("undo");
    assert_eq!(desk.does("ledger")["pictures"], Value::Array(vec![]));
    desk.does("sell|1|--price|250");
    desk.does("undo");
    desk.does("undo");
    assert_eq!(desk.does("title|1|--asking|5")["title"], Value::Null);
}

#[test]
fn what_is_no_sale_is_refused_with_a_sentence() {
    let desk = poured();
    desk.does("again|2|--layer|B2:40ml");
    for words in [
        "sell 9|--price|240",
        "sell 1|--price|-1",
        "sell 1|--price|lots",
        "sell 1|--price|240|--on|2026-11-25",
        "sell 1|--price|240|--on|2026-11-20",
        "sell 1|--price|240|--on|someday",
        "sell 2|--price|240",
        "title 2|Scraped",
        "title 9|Nothing",
    ] {
        desk.refuses(words);
    }
    let long = "x".repeat(201);
    desk.refuses(&format!("title 1|{long}"));
}

/// RFC 4180, and no formula in it.
#[test]
fn the_ledger_goes_out_as_a_table_without_formulas_or_names() {
    let desk = poured();
    desk.does("title|1|=1+1, \"quoted\"");
    desk.does("sell|1|--price|240|--to|A. Buyer");
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("ledger.csv");
    desk.does(&format!("ledger|--csv|{}", out.display()));
    let table = std::fs::read_to_string(&out).unwrap();
    assert_eq!(
        table,
        "pour,title,panel,sold_on,price,paint_cost,margin,where\r\n\
         1,\"'=1+1, \"\"quoted\"\"\",200 x 300 mm,2026-11-24,240,1.21,238.79,\r\n"
    );
}

/// Neither in its own row nor in the history.
#[test]
fn an_export_has_no_buyer_unless_that_is_asked_for() {
    let desk = poured();
    desk.does("sell|1|--price|240|--to|A. Buyer");
    let folder = tempfile::tempdir().unwrap();
    let (without, with) = (folder.path().join("a.json"), folder.path().join("b.json"));
    desk.does(&format!("export|{}", without.display()));
    desk.does(&format!("export|{}|--with-names", with.display()));
    assert!(!std::fs::read_to_string(&without).unwrap().contains("Buyer"));
    assert!(std::fs::read_to_string(&with).unwrap().contains("Buyer"));
    let other = Rehearsal::at("2026-11-25T18:00:00+01:00");
    assert_eq!(
        other.does(&format!("import|{}", without.display()))["exact"],
        true
    );
    assert_eq!(other.does("ledger")["pictures"][0]["price"], "240");
    other.does("undo");
}
