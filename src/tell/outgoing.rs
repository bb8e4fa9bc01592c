//! The words of what leaves the studio as a file.

use crate::studio::orders::OutgoingKind;
use crate::studio::{
    LabelFault, LabelsOnto, Ledger, LedgerLine, PictureFacts, Preview, Reminder, Settings, local,
};
use crate::tell::{money, words};
use crate::trade::amount::Measures;
use crate::trade::instant::Now;
use crate::trade::mark::Mark;
use crate::trade::moment::Moment;
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

/// What a file will hold, a line each.
#[must_use]
pub fn preview(preview: &Preview, settings: &Settings, now: &Now) -> Vec<String> {
    match preview {
        Preview::Labels {
            labels,
            onto,
            marks,
        } => vec![
            format!("{} {}", counted(*labels, "label"), onto_words(*onto)),
            marks
                .iter()
                .map(Mark::to_string)
                .collect::<Vec<_>>()
                .join(", "),
            "print at 100 %, not fitted to the page".to_owned(),
        ],
        Preview::Session {
            panel,
            pour_at,
            cups,
            paper,
        } => {
            let pour_at = pour_at.map(|at| format!(", to be poured {}", local(at, now)));
            let cups = cups.iter();
            let cups = cups.map(|variant| inert(&variant.to_string()).into_owned());
            vec![
                panel.show(settings.measures) + &pour_at.unwrap_or_default(),
                cups.collect::<Vec<_>>().join(", "),
                format!("on {}, for a pencil", paper.word()),
            ]
        }
        Preview::Certificate(facts, name) => certificate(facts, name.as_ref(), settings, now),
        Preview::Report {
            from,
            to,
            pours,
            judged,
        } => vec![
            span(*from, *to, now),
            format!("{}, {judged} of them judged", counted(*pours, "pour")),
        ],
        Preview::Ledger(ledger) => {
            let last = ledger.lines.iter().rev().take(3);
            let last = last.map(|line| ledger_line(line, settings, now));
            std::iter::once(ledger_sum(ledger, &settings.currency))
                .chain(last)
                .collect()
        }
        Preview::Calendar(events, first) => {
            let first = first
                .iter()
                .map(|one| reminder(one, settings.measures, now));
            std::iter::once(counted(*events, "event"))
                .chain(first)
                .collect()
        }
    }
}

/// `1 label`, `12 labels`.
fn counted(count: usize, what: &str) -> String {
    match count {
        1 => format!("1 {what}"),
        many => format!("{many} {what}s"),
    }
}

/// `on 2 sheets of A4`, `of 62 x 40 mm off a roll`.
fn onto_words(onto: LabelsOnto) -> String {
    match onto {
        LabelsOnto::Roll((w, h)) => format!("of {} x {} mm off a roll", w.get(), h.get()),
        LabelsOnto::Sheets(sheets, paper) => {
            format!("on {} of {}", counted(sheets, "sheet"), paper.word())
        }
    }
}

fn certificate(
    facts: &PictureFacts,
    name: Option<&String>,
    settings: &Settings,
    now: &Now,
) -> Vec<String> {
    let said = |missing: &str, text: Option<&String>| {
        text.map_or_else(|| missing.to_owned(), |text| inert(text).into_owned())
    };
    let pour = &facts.page.pour;
    let varnished = facts
        .varnished
        .map(|at| format!("varnished {}", long_day(at, now)));
    vec![
        said("no title yet", facts.picture.title.as_ref()),
        format!(
            "{}, made {}",
            pour.panel.show(settings.measures),
            long_day(pour.at, now)
        ),
        varnished.unwrap_or_else(|| "no varnish is written down".to_owned()),
        format!("{} materials by name", facts.materials.len()),
        said("the studio has no name yet", name),
    ]
}

/// `1 October 2026`.
fn long_day(at: Moment, now: &Now) -> String {
    now.zone.tell(at).format("%-d %B %Y").to_string()
}

/// The time of a report in words: `1 October 2026 to 31 October 2026`.
#[must_use]
pub fn span(from: Option<Moment>, to: Moment, now: &Now) -> String {
    let last = long_day(to, now);
    match from {
        Some(first) => format!("{} to {last}", long_day(first, now)),
        None => format!("until {last}"),
    }
}

/// How many labels are written: `12 labels are in labels.pdf: print at 100 %, not fitted to the page`.
#[must_use]
pub fn labels_written(count: usize, file: &str) -> String {
    let are = if count == 1 { "is" } else { "are" };
    let labels = counted(count, "label");
    format!("{labels} {are} in {file}: print at 100 %, not fitted to the page")
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
    let pictures = counted(ledger.lines.len(), "picture");
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
