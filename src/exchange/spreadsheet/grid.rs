//! The file as a grid of texts: its letters, its separator, its lines.

use crate::studio::{Answer, FileFault, LinePlace, ListFault, ListNote, Separator, SystemFault};
use std::fs::File;
use std::io::Read;
use std::path::Path;

/// A longer file is no painter's list: 16 MiB.
const LONGEST: u64 = 16 << 20;
/// A list has no more columns and lines.
const MOST_COLUMNS: usize = 200;
const MOST_LINES: usize = 50_000;

/// One line of the sheet and its cells.
#[derive(Debug, Clone)]
pub(super) struct Line {
    /// Where it stands.
    pub(super) place: LinePlace,
    pub(super) cells: Vec<String>,
}

/// A file's bytes.
pub(super) fn bytes(path: &Path) -> Answer<Vec<u8>> {
    let system = |err: std::io::Error| FileFault::Unread(Some(path.into()), SystemFault::of(&err));
    // Asked before it is opened: a pipe would be waited for.
    let about = std::fs::metadata(path).map_err(system)?;
    if about.is_dir() {
        return Err(ListFault::Folder.into());
    }
    if !about.is_file() {
        return Err(FileFault::NotAFile(path.into()).into());
    }
    let file = File::open(path).map_err(system)?;
    if about.len() > LONGEST {
        return Err(ListFault::TooLong(Some(about.len().div_ceil(1 << 20)), LONGEST >> 20).into());
    }
    let mut bytes = Vec::new();
    // A file may grow while it is read, and those of the system have no length.
    let read = file.take(LONGEST + 1).read_to_end(&mut bytes);
    read.map_err(system)?;
    match bytes.len() as u64 > LONGEST {
        true => Err(ListFault::TooLong(None, LONGEST >> 20).into()),
        false => Ok(bytes),
    }
}

/// Its lines parted into cells, and what was taken for granted of them.
pub(super) fn parted(bytes: &[u8]) -> Result<(Vec<Line>, Vec<ListNote>), ListFault> {
    let mut notes = Vec::new();
    let text = letters(bytes, &mut notes)?;
    let separator = separator(&text);
    if separator != Separator::Comma {
        notes.push(ListNote::PartedBy(separator));
    }
    Ok((lines(&text, separator)?, notes))
}

/// UTF-8, or UTF-16 with its mark; else Windows-1252, which is said.
fn letters(bytes: &[u8], notes: &mut Vec<ListNote>) -> Result<String, ListFault> {
    if bytes.starts_with(b"PK\x03\x04") || bytes.starts_with(&[0xD0, 0xCF, 0x11, 0xE0]) {
        return Err(ListFault::OwnFormat);
    }
    if let Some((encoding, mark)) = encoding_rs::Encoding::for_bom(bytes) {
        let text = encoding.decode_without_bom_handling_and_without_replacement(&bytes[mark..]);
        return Ok(text.ok_or(ListFault::NoText)?.into_owned());
    }
    if bytes.contains(&0) {
        return Err(ListFault::NoText);
    }
    match std::str::from_utf8(bytes) {
        Ok(text) => Ok(text.to_owned()),
        Err(_) => {
            notes.push(ListNote::Letters);
            Ok(encoding_rs::WINDOWS_1252.decode(bytes).0.into_owned())
        }
    }
}

/// Its sign.
const fn sign(separator: Separator) -> char {
    match separator {
        Separator::Comma => ',',
        Separator::Semicolon => ';',
        Separator::Tab => '\t',
        Separator::Stroke => '|',
    }
}

/// The separator that parts the first lines into the most columns, alike in most of them.
fn separator(text: &str) -> Separator {
    use Separator::{Comma, Semicolon, Stroke, Tab};
    let count = |separator: Separator| {
        let first = text.lines().filter(|line| !line.trim().is_empty()).take(30);
        let count = |line| outside_quotes(line, sign(separator));
        let mut counts: Vec<usize> = first.map(count).collect();
        counts.sort_unstable();
        counts.get(counts.len() / 2).copied().unwrap_or(0)
    };
    // Where nothing parts, the last of equals is a comma.
    let all = [Semicolon, Tab, Stroke, Comma];
    // A heading has no decimal comma: the only sign in it parts two columns.
    let heading = text.lines().find(|line| line.contains(all.map(sign)));
    let parts_heading = |one: Separator| {
        let has = |one: Separator| outside_quotes(heading.unwrap_or(""), sign(one)) > 0;
        has(one) && !has(Comma)
    };
    // A decimal comma parts more cells than a semicolon does, so semicolons and tabs are asked first.
    let parts = |one: Separator| match count(one) {
        0 => false,
        1 => one == Comma || parts_heading(one),
        _ => true,
    };
    let best = all.into_iter().find(|one| parts(*one));
    let most = || all.into_iter().max_by_key(|one| count(*one));
    best.or_else(most).unwrap_or(Comma)
}

fn outside_quotes(line: &str, separator: char) -> usize {
    let mut quoted = false;
    let outside = |c: &char| {
        quoted ^= *c == '"';
        !quoted && *c == separator
    };
    line.chars().filter(outside).count()
}

fn lines(text: &str, separator: Separator) -> Result<Vec<Line>, ListFault> {
    let mut csv = csv::ReaderBuilder::new();
    let mut csv = csv
        .has_headers(false)
        .flexible(true)
        .delimiter(sign(separator) as u8)
        .from_reader(text.as_bytes());
    let (mut lines, mut count) = (Vec::new(), Count::of(text));
    for record in csv.records() {
        let record = record.map_err(|_| ListFault::NoTable(count.line))?;
        let begins = record.position().map_or(0, csv::Position::byte);
        let place = count.up_to(usize::try_from(begins).unwrap_or(0), &record);
        lines.extend(line(&record, place)?);
        if lines.len() > MOST_LINES {
            return Err(ListFault::TooManyLines(MOST_LINES));
        }
    }
    if never_closed(&text[count.at..], separator) {
        return Err(ListFault::NeverClosed(count.line));
    }
    match lines.is_empty() {
        true => Err(ListFault::Empty),
        false => Ok(lines),
    }
}

/// A record as a line; none where nothing stands in it.
fn line(record: &csv::StringRecord, place: LinePlace) -> Result<Option<Line>, ListFault> {
    if record.len() > MOST_COLUMNS {
        return Err(ListFault::TooWide {
            line: place.line,
            columns: record.len(),
            most: MOST_COLUMNS,
        });
    }
    let cell = |cell: &str| cell.trim().replace('\u{a0}', " ");
    let cells: Vec<String> = record.iter().map(cell).collect();
    let blank = cells.iter().all(String::is_empty);
    Ok((!blank).then_some(Line { place, cells }))
}

/// Counts the lines of the file and the rows of the sheet along with its records.
struct Count<'a> {
    text: &'a str,
    /// Where the last record began.
    at: usize,
    /// Its line, from 1.
    line: u64,
    /// So many lines were within cells before it.
    within: u64,
    /// So many are within its own.
    own: u64,
}

impl<'a> Count<'a> {
    const fn of(text: &'a str) -> Self {
        Self {
            text,
            at: 0,
            line: 1,
            within: 0,
            own: 0,
        }
    }

    /// The place of the record that begins there or after the ends of lines that stand there: those of blank
    /// rows, and the second sign of the line before.
    fn up_to(&mut self, begins: usize, record: &csv::StringRecord) -> LinePlace {
        let rest = &self.text[begins..];
        let ends = rest.len() - rest.trim_start_matches(['\r', '\n']).len();
        let begins = begins + ends;
        self.line += line_ends(&self.text[self.at..begins]);
        self.within += self.own;
        self.own = record.iter().map(line_ends).sum();
        self.at = begins;
        LinePlace {
            line: self.line,
            row: self.line - self.within,
        }
    }
}

/// How many lines end in a text: with CR and LF together, or with one of them alone.
fn line_ends(text: &str) -> u64 {
    let both = text.matches("\r\n").count();
    (text.matches(['\r', '\n']).count() - both) as u64
}

/// Whether the last record ends within a cell that a quotation mark opened (RFC 4180, 2.5 to 2.7).
fn never_closed(record: &str, separator: Separator) -> bool {
    let (mut open, mut begins) = (false, true);
    let mut signs = record.bytes().peekable();
    while let Some(sign) = signs.next() {
        match (open, sign) {
            (true, b'"') if signs.peek() == Some(&b'"') => {
                signs.next();
            }
            (true, b'"') => open = false,
            (false, b'"') if begins => open = true,
            _ => {}
        }
        begins = !open && (sign == self::sign(separator) as u8 || matches!(sign, b'\r' | b'\n'));
    }
    open
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_separator_is_that_of_most_lines() {
        assert_eq!(separator("a;b;c\n1,5;2;3\n2,5;3;4\n"), Separator::Semicolon);
        assert_eq!(separator("a,b,c\n1,2,3\n"), Separator::Comma);
        assert_eq!(separator("a\tb\tc\n1,5\t2\t3\n"), Separator::Tab);
        assert_eq!(separator("\"a;b;c\",2\n\"d;e;f\",3\n"), Separator::Comma);
        assert_eq!(separator("one column\n"), Separator::Comma);
        // Two columns: the heading tells what a decimal comma hides.
        let prices = "Name;Preis\nTitanweiß;12,50\nRuß;9,90\n";
        assert_eq!(separator(prices), Separator::Semicolon);
        let prices = prices.replace(';', "\t");
        assert_eq!(separator(&prices), Separator::Tab);
        let notes = "Name,Note\nSea blue,thin; swiped\nRed,a; b\n";
        assert_eq!(separator(notes), Separator::Comma);
    }

    #[test]
    fn letters_of_three_kinds_are_read_and_the_odd_one_said() {
        let mut notes = Vec::new();
        assert_eq!(
            letters("\u{feff}größe".as_bytes(), &mut notes).unwrap(),
            "größe"
        );
        assert_eq!(letters(b"\xff\xfeg\x00\xf6\x00", &mut notes).unwrap(), "gö");
        assert!(notes.is_empty());
        assert_eq!(letters(b"gr\xf6\xdfe \x80", &mut notes).unwrap(), "größe €");
        assert_eq!(notes.len(), 1);
        assert!(letters(b"PK\x03\x04rest", &mut notes).is_err());
        assert!(letters(b"a\x00b", &mut notes).is_err());
        // Marked as UTF-8, and broken within.
        assert!(letters(b"\xef\xbb\xbfgr\xf6\xdfe", &mut notes).is_err());
    }
}
