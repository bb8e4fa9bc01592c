//! What is said of a file that is damaged, and of a row that no command writes.

use crate::studio::{Damage, Impossible, NewerWord, RowAt, RowFault};

/// How a file is damaged.
pub(super) fn damage(damage: &Damage) -> String {
    match damage {
        Damage::Pages => "its pages do not fit together".to_owned(),
        Damage::CutShort { bytes } => format!("it ends within a page, at {bytes} bytes"),
        Damage::Value => "a value in it is none that a studio holds".to_owned(),
        Damage::Row(row, fault) => format!("{}: {}", row_at(row), row_fault(fault)),
        Damage::Record(change) => format!("the record of change {change} is unreadable"),
        Damage::Parts { most } => format!("more than {most} parts are recipes"),
    }
}

/// That a word is known to a later program alone.
pub(super) fn newer_word(word: &NewerWord) -> String {
    let NewerWord { row, column } = word;
    format!(
        "the {column} of {} was written by a newer Stillcup",
        row_at(row)
    )
}

/// What is said of a copy with such a word in it, and what to do.
#[must_use]
pub fn newer_in_copy(word: &NewerWord) -> String {
    format!("{}: use the newer program", newer_word(word))
}

/// A row by its table and number.
pub(super) fn row_at(row: &RowAt) -> String {
    let table = match row.table.as_str() {
        "" => "a row",
        table => table,
    };
    match row.id {
        Some(id) => format!("{table} {id}"),
        None => table.to_owned(),
    }
}

/// Why no command can have written a row.
pub(super) fn row_fault(fault: &RowFault) -> String {
    match fault {
        RowFault::Value(column) => {
            format!("the value in {column} is none that a studio holds")
        }
        RowFault::Nothing(columns) => format!("none of {} is said", columns.join(" and ")),
        RowFault::Reference(table) => format!("its {table} is not there"),
        RowFault::Impossible(what) => impossible(*what).to_owned(),
        RowFault::IntoItself => "it would go into itself".to_owned(),
        RowFault::TooDeep(most) => {
            format!("it would go into itself, or is more than {most} recipes deep")
        }
    }
}

const fn impossible(what: Impossible) -> &'static str {
    match what {
        Impossible::Density => "nothing has that density",
        Impossible::Pack => "a pack holds something",
        Impossible::Priced => "a price was paid for something",
        Impossible::Stock => "there is never less than nothing",
        Impossible::Targets => "its targets contradict each other",
        Impossible::CupSize => "a cup has a size",
        Impossible::FilledFromItself => "a cup is filled from itself",
        Impossible::PouredIntoItself => "a cup is poured into itself",
        Impossible::BelowNothing => "it is below nothing",
        Impossible::Grade => "a grade runs from 0 to 5",
    }
}
