//! The wording of a painter's own lists: what came in, what was taken for granted, why one did not come in.

use super::{Face, parse};
use crate::studio::orders::{ListField, ListKind};
use crate::studio::{
    Aside, CellFault, ColumnFault, DateOrder, DateReason, Lacking, LinePlace, ListFault, ListNote,
    RowsTaken, Separator,
};
use crate::trade::judgement::Fate;
use crate::trade::material::MaterialKind;
use crate::trade::text::inert;

/// Nobody reads more of what is wrong.
const MOST_TOLD: usize = 1500;
/// So much is told of one line.
const MOST_OF_A_LINE: usize = 160;

/// What came of a list: `12 pours came in, 3 were here already`.
#[must_use]
pub fn came(kind: ListKind, taken: &RowsTaken, kept: bool) -> String {
    match (kept, taken.new) {
        (true, 0) => format!("Nothing new: {} {kind} were here already", taken.known),
        (true, new) => format!("{new} {kind} came in, {} were here already", taken.known),
        (false, new) => format!(
            "{new} {kind} would come in, {} are here already; nothing was written",
            taken.known
        ),
    }
}

/// What was taken for granted of a list.
#[must_use]
pub fn note(note: &ListNote, face: Face) -> String {
    match note {
        ListNote::Letters => "its letters are no UTF-8: they were read as Windows-1252".to_owned(),
        ListNote::PartedBy(separator) => format!("its columns are parted by {}", parts(*separator)),
        ListNote::BeforeHeadings(1) => "the line before the headings was skipped".to_owned(),
        ListNote::BeforeHeadings(lines) => {
            format!("the {lines} lines before the headings were skipped")
        }
        ListNote::LeftOut(why, lines) => left_out(*why, lines),
        ListNote::Dates(order, why) => dates(*order, why, face),
        ListNote::Unit {
            heading,
            unit,
            as_others,
        } => {
            let unit = if *unit == "in" { "inches" } else { unit };
            let others = as_others
                .then_some(", as its other cells are")
                .unwrap_or_default();
            let heading = inert(heading);
            format!("where \"{heading}\" has no unit, it was read in {unit}{others}")
        }
        ListNote::DayNumbers(line, cell) => format!(
            "dates such as that of line {line} (\"{}\") are numbers of days, and were counted from the end of 1899",
            inert(cell)
        ),
        ListNote::Packs(heading) => format!(
            "\"{}\" has no unit anywhere: it was read as a number of packs",
            inert(heading)
        ),
        ListNote::Unpriced(lines) => format!(
            "no sale was written down for {}: no price is said there; 0 is a gift",
            shortened(&numbered(lines), MOST_OF_A_LINE)
        ),
        ListNote::Ungraded(lines) => format!(
            "how it came out was not written down for {}: no cells are said there; 0 is none",
            shortened(&numbered(lines), MOST_OF_A_LINE)
        ),
        ListNote::UsedUp(cups, days) => {
            format!("{cups} cups are older than {days} days and were taken as used up")
        }
    }
}

/// `line 3`, `lines 3, 5`.
fn numbered(lines: &[u64]) -> String {
    let word = if lines.len() == 1 { "line" } else { "lines" };
    let lines: Vec<String> = lines.iter().map(u64::to_string).collect();
    format!("{word} {}", lines.join(", "))
}

const fn parts(separator: Separator) -> &'static str {
    match separator {
        Separator::Comma => "commas",
        Separator::Semicolon => "semicolons",
        Separator::Tab => "tabs",
        Separator::Stroke => "upright strokes",
    }
}

fn left_out(why: Aside, lines: &[u64]) -> String {
    let (one, many) = match why {
        Aside::Sum => ("sums up others", "sum up others"),
        Aside::Headings => ("is the headings again", "are the headings again"),
        Aside::Alone => ("holds one text alone", "hold one text alone"),
    };
    let (what, were) = match lines.len() {
        1 => (one, "was"),
        _ => (many, "were"),
    };
    format!("{} {what} and {were} skipped", numbered(lines))
}

const fn order(order: DateOrder) -> &'static str {
    match order {
        DateOrder::DayFirst => "day first",
        DateOrder::MonthFirst => "month first",
    }
}

fn dates(read: DateOrder, why: &DateReason, face: Face) -> String {
    let why = match why {
        DateReason::Line(line, cell) => format!("as line {line} (\"{}\") must be", inert(cell)),
        DateReason::Rising => "for so they rise".to_owned(),
        DateReason::Measures => {
            let other = match (face, read) {
                (Face::CommandLine, DateOrder::DayFirst) => {
                    ": --dates month-first reads them the other way"
                }
                (Face::CommandLine, DateOrder::MonthFirst) => {
                    ": --dates day-first reads them the other way"
                }
                (Face::Screen, _) => "",
            };
            format!("a guess by the studio's measures{other}")
        }
    };
    format!("dates were read {}, {why}", order(read))
}

/// Why a list did not come in, safe to show and not endless, whatever stands in its cells.
pub(super) fn fault(fault: &ListFault) -> String {
    let said = match fault {
        ListFault::KindUnsaid(file) => format!(
            "{} is a list from a spreadsheet, and it is not said what its lines are",
            file.display()
        ),
        ListFault::Lines(wrong, more) => lines(wrong, *more),
        ListFault::DatesDiffer { day, month } => format!(
            "the list cannot be read: line {} (\"{}\") has the day first, line {} (\"{}\") the month",
            day.0, day.1, month.0, month.1
        ),
        other => format!("the file is no list that can be read: {}", of_file(other)),
    };
    shortened(&said, MOST_TOLD)
}

fn of_file(fault: &ListFault) -> String {
    match fault {
        ListFault::Folder => "it is a folder".to_owned(),
        ListFault::TooLong(Some(has), most) => {
            format!("it has {has} MiB, at most {most} can be read")
        }
        ListFault::TooLong(None, most) => format!("it has more than {most} MiB"),
        ListFault::OwnFormat => "it is a spreadsheet program's own file: save it as CSV".to_owned(),
        ListFault::NoText => "it is no text".to_owned(),
        ListFault::NoTable(line) => format!("it is no table from line {line} on"),
        ListFault::TooWide {
            line,
            columns,
            most,
        } => format!("line {line} has {columns} columns, at most {most} can be read"),
        ListFault::TooManyLines(most) => format!("it has more than {most} lines"),
        ListFault::NeverClosed(line) => {
            format!("a quotation mark in line {line} opens a cell that never ends")
        }
        ListFault::Empty => "it is empty".to_owned(),
        ListFault::HeadingsAlone => "it has no line below its headings".to_owned(),
        ListFault::NoHeadings(kind, first) => format!(
            "none of its columns is known ({}); {kind} have {}",
            first.join(", "),
            words(kind.fields().0)
        ),
        ListFault::NoColumn(heading, there) => {
            format!(
                "it has no column \"{heading}\": it has {}",
                there.join(", ")
            )
        }
        ListFault::Lacks(lacking, there) => {
            let lacking: Vec<&str> = lacking.iter().map(|one| lacks(*one)).collect();
            let (lacking, there) = (lacking.join(", "), there.join(", "));
            format!("no column was taken for {lacking}; it has {there}")
        }
        ListFault::Order(fault) => of_column(fault),
        ListFault::KindUnsaid(_) | ListFault::DatesDiffer { .. } | ListFault::Lines(..) => {
            String::new()
        }
    }
}

fn words(fields: &[ListField]) -> String {
    let words: Vec<&str> = fields.iter().map(|field| field.word()).collect();
    words.join(", ")
}

const fn lacks(lacking: Lacking) -> &'static str {
    match lacking {
        Lacking::Field(field) => field.word(),
        Lacking::VolumeOrPacks => "volume or packs",
    }
}

fn of_column(fault: &ColumnFault) -> String {
    match fault {
        ColumnFault::NoPair(said) => {
            format!("\"{said}\" is no column and its field, as in Heading=field")
        }
        ColumnFault::NoField(said) => {
            let fields = ListField::words();
            format!("there is no field \"{said}\": one of {fields}")
        }
        ColumnFault::OfAnother(kind, field) => {
            let own = words(kind.fields().0);
            format!("a column of {kind} cannot become \"{field}\": one of {own}, or - for none")
        }
    }
}

fn lines(wrong: &[(LinePlace, CellFault)], more: usize) -> String {
    let line = |(at, fault): &(LinePlace, CellFault)| {
        let why = shortened(&cell(fault), MOST_OF_A_LINE);
        format!("{}: {why}", place(*at))
    };
    let told: Vec<String> = wrong.iter().map(line).collect();
    let more = match more {
        0 => String::new(),
        more => format!("; and {more} lines more"),
    };
    format!("the list cannot be read: {}{more}", told.join("; "))
}

/// `line 12`, `line 12 (row 9 of the sheet)`.
fn place(LinePlace { line, row }: LinePlace) -> String {
    match line == row {
        true => format!("line {line}"),
        false => format!("line {line} (row {row} of the sheet)"),
    }
}

fn cell(fault: &CellFault) -> String {
    match fault {
        CellFault::Missing(field) => format!("it has no {field}"),
        CellFault::TooLong(field, most) => format!("the {field} has more than {most} characters"),
        CellFault::Formula(cell) => {
            format!("\"{cell}\" is a formula: save the sheet with its values")
        }
        CellFault::NoDate(cell) => format!("\"{cell}\" is no date"),
        CellFault::StillToCome(cell) => format!("\"{cell}\" has not come yet"),
        CellFault::NoNumber(cell) => format!("\"{cell}\" holds no number"),
        CellFault::Negative(cell) => format!("\"{cell}\" is below nothing"),
        CellFault::Several(cell) => format!("\"{cell}\" is more than one number"),
        CellFault::TwoWays(cell) => {
            format!(
                "\"{cell}\" can be read in two ways, and no other cell of its column tells which"
            )
        }
        CellFault::Unread(cell, problem) => format!("\"{cell}\" {}", parse::why(problem)),
        CellFault::Weight(cell) => format!("\"{cell}\" is a weight, a volume is needed"),
        CellFault::Air => {
            "its air is no air of a room: -20 to 60 C and 0 to 100 % can be kept".to_owned()
        }
        CellFault::NoGrade(cell, field) => format!("\"{cell}\" is no {field} from 0 to 5"),
        CellFault::NeitherWetNorDry(cell) => format!("\"{cell}\" is neither wet nor dry"),
        CellFault::NoFate(cell) => format!("\"{cell}\" is none of {}", Fate::words()),
        CellFault::NoKind(cell) => format!("\"{cell}\" is none of {}", MaterialKind::words()),
        CellFault::SoldBefore => "it was sold before it was poured".to_owned(),
        CellFault::Density => "its density is not between 0.5 and 8 g/ml".to_owned(),
        CellFault::NoPour => "its pour is no whole number".to_owned(),
    }
}

fn shortened(why: &str, most: usize) -> String {
    let mut head: String = why.chars().take(most).collect();
    if head.len() < why.len() {
        head.push('…');
    }
    inert(&head).into_owned()
}

/// What to do about it.
pub(super) fn hint(fault: &ListFault, face: Face) -> String {
    let (commands, keys) = match fault {
        ListFault::KindUnsaid(_) => (
            "say --as cups, pours, judgements, materials or stock; with --try nothing is written",
            "say what its lines are",
        ),
        ListFault::Lines(..) => (
            "mend these lines, or leave their column out: --column \"Heading=-\"",
            "mend these lines",
        ),
        ListFault::DatesDiffer { .. } => (
            "mend one of them, or say --dates day-first or month-first",
            "mend one of them",
        ),
        ListFault::Folder
        | ListFault::TooLong(..)
        | ListFault::OwnFormat
        | ListFault::NoText
        | ListFault::NoTable(_)
        | ListFault::TooWide { .. }
        | ListFault::TooManyLines(_)
        | ListFault::NeverClosed(_)
        | ListFault::Empty
        | ListFault::HeadingsAlone => {
            ("name the list as CSV, UTF-8", "name the list as CSV, UTF-8")
        }
        ListFault::NoHeadings(..)
        | ListFault::NoColumn(..)
        | ListFault::Lacks(..)
        | ListFault::Order(_) => (
            "--column \"Heading=field\" says what a column becomes, --try shows it",
            "name its columns as they are called here",
        ),
    };
    format!("nothing was changed; {}", face.pick_one(commands, keys))
}
