//! What is said of a studio that comes in: rows that do not fit, that differ, that contradict each other.

use crate::studio::{Contradiction, Contradictions, Differing, Misfit, RowName};
use crate::tell::damage::{damage, row_at, row_fault};
use crate::tell::refusals::closely;
use crate::tell::store::rule;
use crate::trade::amount::Measures;
use crate::trade::text::inert;

/// That rows cannot be taken in: the row, those it stands under, and why.
pub(super) fn foreign(rows: &[RowName], why: &Misfit) -> String {
    let rows: Vec<String> = rows.iter().map(row_name).collect();
    let what = match (why, rows.is_empty()) {
        (Misfit::TooMuch { .. }, _) => "this much at once".to_owned(),
        (_, true) => "the file".to_owned(),
        (_, false) => rows.join(" under "),
    };
    format!("{} cannot be taken in: {}", inert(&what), misfit(why))
}

fn misfit(why: &Misfit) -> String {
    match why {
        Misfit::Order => "its id does not follow the one before it".to_owned(),
        Misfit::OrderBeneath => "the ids under it do not rise".to_owned(),
        Misfit::Unnamed => "its id or uid is missing".to_owned(),
        Misfit::Missing(column) => format!("its {column} is not in the file before it"),
        Misfit::Range(column) => format!("its {column} is out of range"),
        Misfit::Twice => "it is in the file twice".to_owned(),
        Misfit::NoNameLeft => "every such name is in use".to_owned(),
        Misfit::NoMarkLeft => "every mark is in use".to_owned(),
        Misfit::Rule(broken) => rule(*broken),
        Misfit::Row(fault) => row_fault(fault),
        Misfit::Newer(column) => format!("a newer Stillcup wrote its {column}"),
        Misfit::File(what) => damage(what),
        Misfit::TooMuch { rows, bytes } => format!(
            "one change holds at most {rows} rows or {} MiB; an empty studio takes any number",
            bytes >> 20
        ),
    }
}

/// A row of a file, by its mark or name. A hostile name must not fill a screen.
fn row_name(row: &RowName) -> String {
    let table = &row.table;
    match (&row.name, row.id) {
        (Some(name), _) => format!("{table} {}", name.chars().take(40).collect::<String>()),
        (None, Some(id)) => format!("{table} {id}"),
        (None, None) => format!("{table} without a uid"),
    }
}

/// A row that differs in the file, and in what.
#[must_use]
pub fn differing(one: &Differing) -> String {
    let beneath = one.beneath.then_some("what hangs under it");
    let columns: Vec<&str> = one.columns.iter().copied().chain(beneath).collect();
    format!("{} ({})", row_name(&one.row), columns.join(", "))
}

/// What cannot all be true, a sentence each, and how many more there are.
#[must_use]
pub fn contradictions(all: &Contradictions, measures: Measures) -> Vec<String> {
    let said = all.said.iter().map(|one| contradiction(one, measures));
    let more = (all.more > 0).then(|| format!("and {} more", all.more));
    said.chain(more).collect()
}

fn contradiction(one: &Contradiction, measures: Measures) -> String {
    match one {
        Contradiction::Overdrawn { mark, drawn, held } => {
            let [drawn, held] = [drawn, held].map(|ml| closely(*ml, measures));
            format!("cup {mark}: {drawn} came out of it, and it held {held}")
        }
        Contradiction::Unmixed { mark } => format!("cup {mark}: it was never mixed"),
        Contradiction::TakenAway(row) => {
            format!("{}: the history has taken it away", row_at(row))
        }
        Contradiction::NotThere(row) => {
            format!(
                "{}: the history has made it, and it is not there",
                row_at(row)
            )
        }
        Contradiction::Differs(row, column) => {
            format!("{}: the history leaves another {column}", row_at(row))
        }
        Contradiction::Untold { table, held, told } => {
            format!("{table}: it has {held} rows, the history leaves {told}")
        }
    }
}
