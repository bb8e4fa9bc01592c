//! The ledger as a page to be read.

use crate::screen::kit::sheet::Sheet;
use crate::studio::{Answer, Studio, TimeWindow};
use crate::tell;
use crate::trade::instant::Now;
use chrono::Datelike;

/// What was sold in a time.
pub fn ledger(studio: &Studio, window: TimeWindow, names: bool, now: &Now) -> Answer<Sheet> {
    let (ledger, settings) = (studio.ledger(window)?, studio.settings()?);
    let year = window.from.map(|from| now.zone.tell(from).year());
    let title = year.map_or("Sold so far".to_owned(), |year| format!("Sold in {year}"));
    let mut sheet = Sheet::titled(&title);
    if ledger.lines.is_empty() {
        sheet.words("No picture. On the Rack s writes a sale down.");
        return Ok(sheet);
    }
    for line in &ledger.lines {
        let day = now.zone.tell(line.at).format("%Y-%m-%d").to_string();
        let buyer = line.buyer.as_deref().filter(|_| names);
        let buyer = buyer.map(|buyer| format!(", to {buyer}"));
        let sold = tell::outgoing::sold_line(line, &settings);
        sheet.beside(&day, &(sold + &buyer.unwrap_or_default()));
    }
    sheet.heading("in all");
    sheet.words(&tell::outgoing::ledger_sum(&ledger, &settings.currency));
    Ok(sheet)
}
