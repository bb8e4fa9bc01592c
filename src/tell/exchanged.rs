//! The wording of files that do not come in or do not go out.

use super::{Face, store::system};
use crate::studio::{DocumentFault, FileFault, Holds, Made, Numbered, TextPlace};

/// Why a file did not come in or did not go out.
pub(super) fn fault(fault: &FileFault) -> String {
    match fault {
        FileFault::Unread(Some(path), why) => format!("{}: {}", path.display(), system(why)),
        FileFault::Unread(None, why) => format!("the file: {}", system(why)),
        FileFault::NotAFile(path) => {
            format!(
                "{} is no file that could be read to its end",
                path.display()
            )
        }
        FileFault::CutShort(line) => format!("the file ends in the middle, at line {line}"),
        FileFault::NotJson(at) => format!("the file is not JSON from {} on", place(*at)),
        FileFault::NotAStudio(why, at) => {
            format!("the file is no studio: {} ({})", document(why), place(*at))
        }
        FileFault::Newer { part, theirs, ours } => {
            let part = numbered(*part);
            format!("the file has {part} {theirs}, this program knows up to {ours}")
        }
        FileFault::RowTooLarge => "one row of the file is larger than any studio's".to_owned(),
        FileFault::TooLarge(most) => format!("the file has more than {} GiB", most >> 30),
        FileFault::NotMade(what) => format!("the {} could not be put together", made(*what)),
    }
}

fn place(at: TextPlace) -> String {
    format!("line {}, column {}", at.line, at.column)
}

const fn numbered(part: Numbered) -> &'static str {
    match part {
        Numbered::Format => "format version",
        Numbered::Schema => "schema",
    }
}

const fn made(what: Made) -> &'static str {
    match what {
        Made::Paper => "page",
        Made::Table => "table",
        Made::Picture => "picture",
    }
}

fn document(why: &DocumentFault) -> String {
    match why {
        DocumentFault::Beginning => {
            "it does not begin with \"format\", \"version\" and \"schema\"".to_owned()
        }
        DocumentFault::Format => "its format is another".to_owned(),
        DocumentFault::NoTable(name) => format!("it has an unknown table {}", named(name)),
        DocumentFault::TableOrder(table) => {
            format!("its table {table} stands there twice, or after one that refers to it")
        }
        DocumentFault::NoColumn(name) => format!("it has an unknown column {}", named(name)),
        DocumentFault::Twice(column) => format!("a row says {column} twice"),
        DocumentFault::TooManyBeneath => "too many rows hang under one".to_owned(),
        DocumentFault::Value(column, holds) => format!("{column} is not {}", kind(*holds)),
        DocumentFault::Range(column) => format!("{column} is out of range"),
        DocumentFault::Kind => "something of another kind stands where a row should".to_owned(),
    }
}

/// A hostile name must not fill a screen.
fn named(name: &str) -> String {
    let short: String = name.chars().take(40).collect();
    format!("{short:?}")
}

const fn kind(holds: Holds) -> &'static str {
    match holds {
        Holds::Id | Holds::Whole | Holds::Instant | Holds::Span => "a whole number",
        Holds::Real => "a real number written as text, such as \"2.5\"",
        Holds::Uid | Holds::Text | Holds::Name | Holds::To(_) => "a text",
    }
}

/// What to do about it.
pub(super) fn hint(fault: &FileFault, face: Face) -> &'static str {
    match fault {
        FileFault::Unread(..) => "check the path and its permissions",
        FileFault::CutShort(_) => "nothing was changed; copy or export the file again",
        FileFault::NotAFile(_) => "name a plain file, that stands on a disk",
        FileFault::NotJson(_)
        | FileFault::NotAStudio(..)
        | FileFault::RowTooLarge
        | FileFault::TooLarge(_) => face.pick_one(
            "nothing was changed; take a file that stillcup export wrote",
            "nothing was changed; take a file that was exported here",
        ),
        FileFault::Newer { .. } => "nothing was changed; use the newer program",
        FileFault::NotMade(_) => "this is a fault of the program; nothing was written",
    }
}
