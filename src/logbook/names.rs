//! What rows are called in a sentence for a painter: never a table, a column or a rule of the store.

use super::value::{Row, Value};

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

/// What a row of a table is.
pub(super) fn kind(table: &str) -> &str {
    let known = KINDS.iter().find(|(name, _)| *name == table);
    known.map_or(table, |(_, words)| words)
}

/// What a row is called: by its mark or name where it has one, by its number where a painter knows that.
pub(super) fn named(table: &str, id: i64, row: Option<&Row>) -> String {
    if let Some(name) = own_name(row) {
        return format!("{} {name}", kind(table));
    }
    match KINDS.iter().any(|(name, _)| *name == table) {
        true if kind(table).starts_with('e') => format!("an {}", kind(table)),
        true => format!("a {}", kind(table)),
        false => format!("{table} {id}"),
    }
}

/// That a row cannot be put back, since its place was taken meanwhile.
pub(super) fn no_room(table: &str, id: i64, row: Option<&Row>) -> String {
    let what = named(table, id, row);
    match table {
        "cup" => format!("the mark of {what} is on a later cup by now"),
        _ if own_name(row).is_some() => format!("the name of {what} is taken by now"),
        _ => format!("something later has taken the place of {what}"),
    }
}

fn own_name(row: Option<&Row>) -> Option<String> {
    let text = |column: &str| match row?.0.iter().find(|(name, _)| name == column)? {
        (_, Value::Text(text)) => Some(text.clone()),
        _ => None,
    };
    text("mark").or_else(|| text("name"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_are_called_as_a_painter_calls_them() {
        let row =
            |column: &str, text: &str| Row(vec![(column.to_owned(), Value::Text(text.into()))]);
        let cup = row("mark", "K7");
        assert_eq!(named("cup", 3, Some(&cup)), "cup K7");
        assert_eq!(named("layer", 3, None), "a layer of a pour");
        assert_eq!(named("entry", 3, None), "an entry of a cup");
        assert_eq!(named("pour", 3, None), "pour 3");
        let white = row("name", "White");
        assert_eq!(
            no_room("material", 1, Some(&white)),
            "the name of material White is taken by now"
        );
        assert_eq!(
            no_room("cup", 3, Some(&cup)),
            "the mark of cup K7 is on a later cup by now"
        );
    }
}
