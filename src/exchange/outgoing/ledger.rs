//! The ledger as a spreadsheet's table; texts that look like formulas are made inert.

use crate::exchange::{inert_cell, write_rows};
use crate::studio::{Answer, LedgerLine, Studio, TimeWindow};
use crate::trade::instant::Now;
use rust_decimal::Decimal;

/// The columns; the last is there only where names go along.
const HEADS: [&str; 9] = [
    "pour",
    "title",
    "panel",
    "sold_on",
    "price",
    "paint_cost",
    "margin",
    "where",
    "to",
];

/// The sales of a time as CSV, and how many there are.
pub(super) fn made(
    studio: &Studio,
    window: TimeWindow,
    names: bool,
    now: &Now,
) -> Answer<(Vec<u8>, usize)> {
    let ledger = studio.ledger(window)?;
    let shown = HEADS.len() - usize::from(!names);
    let rows = ledger.lines.iter().map(|line| row(line, shown, now));
    Ok((write_rows(&HEADS[..shown], rows)?, ledger.lines.len()))
}

fn row(line: &LedgerLine, shown: usize, now: &Now) -> Vec<String> {
    let money = |price: Option<Decimal>| price.map(|price| price.to_string()).unwrap_or_default();
    let text = |text: &Option<String>| inert_cell(text.as_deref().unwrap_or_default());
    let mut cells = vec![
        line.page.pour.id.to_string(),
        text(&line.title),
        line.page.pour.panel.to_string(),
        now.zone.tell(line.at).format("%Y-%m-%d").to_string(),
        money(line.price),
        money(line.cost),
        money(line.margin()),
        text(&line.venue),
        text(&line.buyer),
    ];
    cells.truncate(shown);
    cells
}
