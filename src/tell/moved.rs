//! What is said of a change that cannot be taken back: rows are called as a painter calls them, never by a table, a column
//! or a rule of the store.

use crate::studio::{Change, HowMoved, Moved, Names, RowName};
use crate::tell::Face;
use crate::tell::history::change;
use crate::trade::amount::Measures;

/// Tables whose rows a painter knows by another word.
const KINDS: &[(&str, &str)] = &[
    ("part", "part of a recipe"),
    ("put", "part of a cup"),
    ("entry", "entry of a cup"),
    ("layer", "layer of a pour"),
    ("move", "move of a pour"),
    ("stock", "purchase or count"),
    ("planned_cup", "cup of a plan"),
    ("trial_factor", "factor of a trial"),
    ("trial_run", "run of a trial"),
];

/// Why a change cannot be taken back.
pub(super) fn moved(why: &Moved, measures: Measures) -> String {
    let deed = |one: &Change| format!("\"{}\"", change(one, &Names::default(), measures));
    match why {
        Moved::NoDeed(id) => format!("change {id} is itself an undo or redo"),
        Moved::Undone(one) => format!("{} is undone already", deed(one)),
        Moved::NoSuchName { table, column } => {
            let column = column.as_ref().map(|column| format!(".{column}"));
            let column = column.unwrap_or_default();
            format!("the studio file no longer has {table}{column}")
        }
        Moved::Row { row, how, by } => {
            let by = by.as_ref().map(|one| format!(" with {}", deed(one)));
            let by = by.unwrap_or_default();
            format!("{} {} since{by}", named(row), how_moved(*how))
        }
        Moved::NoRoom(row) => no_room(row),
        Moved::Needed { by, with, table } => {
            let with = with.as_ref().map(|one| format!(" ({})", deed(one)));
            let with = with.unwrap_or_default();
            format!("{}{with} still needs this {}", named(by), kind(table))
        }
        Moved::NeededSomewhere => "something later still needs it".to_owned(),
    }
}

/// What to do next.
pub(super) fn moved_hint(why: &Moved, face: Face) -> String {
    let first = |later: Option<&Change>| match (face, later) {
        (Face::CommandLine, Some(later)) => {
            format!("undo the later change first: stillcup undo {}", later.id)
        }
        (Face::CommandLine, None) => {
            "undo the later change first: stillcup history shows its number".to_owned()
        }
        (Face::Screen, _) => "take the later change back first: h shows it".to_owned(),
    };
    match why {
        Moved::NoDeed(_) | Moved::Undone(_) => face
            .pick_one("stillcup history shows what stands", "h shows what stands")
            .to_owned(),
        Moved::NoSuchName { .. } => "it was done in an older version of the file".to_owned(),
        Moved::Row { by: later, .. } | Moved::Needed { with: later, .. } => first(later.as_deref()),
        Moved::NoRoom(_) | Moved::NeededSomewhere => first(None),
    }
}

const fn how_moved(how: HowMoved) -> &'static str {
    match how {
        HowMoved::Removed => "was removed",
        HowMoved::Changed => "has changed",
        HowMoved::Back => "is there again",
    }
}

/// What a row of a table is.
fn kind(table: &str) -> &str {
    let known = KINDS.iter().find(|(name, _)| *name == table);
    known.map_or(table, |(_, words)| words)
}

/// What a row is called: by its mark or name where it has one, by its number where a painter knows that.
fn named(row: &RowName) -> String {
    let kind = kind(&row.table);
    match (&row.name, row.id) {
        (Some(name), _) => format!("{kind} {name}"),
        (None, Some(id)) if kind == row.table => format!("{kind} {id}"),
        _ if kind.starts_with('e') => format!("an {kind}"),
        _ => format!("a {kind}"),
    }
}

/// That a row cannot be put back, since its place was taken meanwhile.
fn no_room(row: &RowName) -> String {
    let what = named(row);
    match row.table.as_str() {
        "cup" => format!("the mark of {what} is on a later cup by now"),
        _ if row.name.is_some() => format!("the name of {what} is taken by now"),
        _ => format!("something later has taken the place of {what}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(table: &str, name: Option<&str>) -> RowName {
        RowName {
            table: table.to_owned(),
            id: Some(3),
            name: name.map(str::to_owned),
        }
    }

    #[test]
    fn rows_are_called_as_a_painter_calls_them() {
        let cup = row("cup", Some("K7"));
        assert_eq!(named(&cup), "cup K7");
        assert_eq!(named(&row("layer", None)), "a layer of a pour");
        assert_eq!(named(&row("entry", None)), "an entry of a cup");
        assert_eq!(named(&row("pour", None)), "pour 3");
        assert_eq!(
            no_room(&row("material", Some("White"))),
            "the name of material White is taken by now"
        );
        assert_eq!(no_room(&cup), "the mark of cup K7 is on a later cup by now");
    }
}
