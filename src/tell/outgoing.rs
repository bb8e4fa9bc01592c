//! The words of what leaves the studio as a file.

use crate::studio::orders::OutgoingKind;
use crate::studio::{LabelFault, Ledger, LedgerLine, Reminder, Settings, local};
use crate::tell::{money, words};
use crate::trade::amount::Measures;
use crate::trade::instant::Now;
use crate::trade::text::inert;
use rust_decimal::Decimal;

/// What it is called where it is asked for.
#[must_use]
pub const fn name(kind: OutgoingKind) -> &'static str {
    match kind {
        OutgoingKind::Labels => "labels",
        OutgoingKind::Session => "session sheet",
        OutgoingKind::Certificate => "certificate",
        OutgoingKind::Report => "report",
        OutgoingKind::Ledger => "ledger",
        OutgoingKind::Calendar => "calendar",
    }
}

/// That it is written: `The report is in october.html`.
#[must_use]
pub fn written(kind: OutgoingKind, file: &str) -> String {
    let what = match kind {
        OutgoingKind::Labels => "The labels are",
        OutgoingKind::Session => "The session sheet is",
        OutgoingKind::Certificate => "The certificate is",
        OutgoingKind::Report => "The report is",
        OutgoingKind::Ledger => "The ledger is",
        OutgoingKind::Calendar => "The calendar is",
    };
    format!("{what} in {file}")
}

/// How many labels are written: `12 labels are in labels.pdf: print at 100 %, not fitted to the page`.
#[must_use]
pub fn labels_written(count: usize, file: &str) -> String {
    let labels = match count {
        1 => "1 label is".to_owned(),
        many => format!("{many} labels are"),
    };
    format!("{labels} in {file}: print at 100 %, not fitted to the page")
}

/// `18:44 K7 clears: look and read its mound`.
#[must_use]
pub fn reminder(reminder: &Reminder, measures: Measures, now: &Now) -> String {
    let says = words(reminder, measures, now);
    format!("{} {says}", local(now.zone.tell(reminder.at), now))
}

/// `3 pictures, 610.00 EUR; paint 12.40 EUR, margin 597.60 EUR`.
#[must_use]
pub fn ledger_sum(ledger: &Ledger, currency: &str) -> String {
    let unknown =
        |price: Option<Decimal>| price.map_or("unknown".to_owned(), |price| money(price, currency));
    let pictures = match ledger.lines.len() {
        1 => "1 picture".to_owned(),
        many => format!("{many} pictures"),
    };
    format!(
        "{pictures}, {}; paint {}, margin {}",
        money(ledger.takings(), currency),
        unknown(ledger.cost()),
        unknown(ledger.margin())
    )
}

/// One sold picture with its day: `2026-11-20 picture 12, River in May: 240.00 EUR, paint 3.10 EUR, open studio`.
#[must_use]
pub fn ledger_line(line: &LedgerLine, settings: &Settings, now: &Now) -> String {
    let day = now.zone.tell(line.at).format("%Y-%m-%d");
    format!("{day} {}", sold_line(line, settings))
}

/// One sold picture: `picture 12, River in May: 240.00 EUR, paint 3.10 EUR, open studio`.
#[must_use]
pub fn sold_line(line: &LedgerLine, settings: &Settings) -> String {
    let money = |price| money(price, &settings.currency);
    let more = |text: Option<String>| text.map(|text| format!(", {text}")).unwrap_or_default();
    let text = |text: &Option<String>| text.as_deref().map(|text| inert(text).into_owned());
    let price = line.price.map_or_else(|| "no price said".to_owned(), money);
    format!(
        "picture {}{}: {price}{}{}",
        line.page.pour.id,
        more(text(&line.title)),
        more(line.cost.map(|cost| format!("paint {}", money(cost)))),
        more(text(&line.venue))
    )
}

/// Why labels do not lie on their paper.
pub(super) fn labels(fault: LabelFault) -> String {
    match fault {
        LabelFault::Count(across, down) => format!("\"{across}x{down}\" is no sheet of labels"),
        LabelFault::Paper { count, needs, has } => format!(
            "\"{}x{}\" labels need {:.1} x {:.1} mm, the paper has {} x {} mm",
            count.0, count.1, needs.0, needs.1, has.0, has.1
        ),
        LabelFault::Place(place, count) => {
            format!("\"{place}\" is no place on a sheet of {count}")
        }
        LabelFault::Size(w, h) => {
            format!("\"{w}x{h} mm\" is no size of a label: a side has 10 to 600 mm")
        }
    }
}

/// What to do about it.
pub(super) const fn labels_hint(fault: LabelFault) -> &'static str {
    match fault {
        LabelFault::Count(..) => "such as 3x8: three across, eight down",
        LabelFault::Paper { .. } => {
            "check how many there are, their size, margin and gap, and the paper"
        }
        LabelFault::Place(..) => "places are counted from 1 along the rows",
        LabelFault::Size(..) => "such as 70x37mm",
    }
}
