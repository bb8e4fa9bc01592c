//! The file as a grid of texts: its letters, its separator, its lines.

use crate::exchange::ExchangeError;
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
    /// Where it begins in the file, counted from 1.
    pub(super) number: u64,
    /// Which row of the sheet it is: less, where a cell before it has lines of its own.
    pub(super) row: u64,
    pub(super) cells: Vec<String>,
}

impl Line {
    /// `line 12`, `line 12 (row 9 of the sheet)`.
    pub(super) fn place(&self) -> String {
        match self.number == self.row {
            true => format!("line {}", self.number),
            false => format!("line {} (row {} of the sheet)", self.number, self.row),
        }
    }
}

/// A file's bytes.
pub(super) fn bytes(path: &Path) -> Result<Vec<u8>, ExchangeError> {
    let said = path.display().to_string();
    let system = |err: &std::io::Error| ExchangeError::unread(&said, err);
    // Asked before it is opened: a pipe would be waited for.
    let about = std::fs::metadata(path).map_err(|err| system(&err))?;
    if about.is_dir() {
        return Err(ExchangeError::NoSheet("it is a folder".to_owned()));
    }
    if !about.is_file() {
        return Err(ExchangeError::NotAFile(said));
    }
    let file = File::open(path).map_err(|err| system(&err))?;
    if about.len() > LONGEST {
        let mib = about.len() >> 20;
        return Err(ExchangeError::NoSheet(format!(
            "it has {mib} MiB, at most {} can be read",
            LONGEST >> 20
        )));
    }
    let mut bytes = Vec::new();
    // A file may grow while it is read, and those of the system have no length.
    file.take(LONGEST + 1)
        .read_to_end(&mut bytes)
        .map_err(|err| system(&err))?;
    if bytes.len() as u64 > LONGEST {
        let mib = LONGEST >> 20;
        return Err(ExchangeError::NoSheet(format!(
            "it has more than {mib} MiB"
        )));
    }
    Ok(bytes)
}

/// Its lines parted into cells, and what was taken for granted of them.
pub(super) fn parted(bytes: &[u8]) -> Result<(Vec<Line>, Vec<String>), ExchangeError> {
    let mut notes = Vec::new();
    let text = letters(bytes, &mut notes)?;
    let lines = lines(&text, &mut notes)?;
    Ok((lines, notes))
}

/// UTF-8, or UTF-16 with its mark; else Windows-1252, which is said.
fn letters(bytes: &[u8], notes: &mut Vec<String>) -> Result<String, ExchangeError> {
    if bytes.starts_with(b"PK\x03\x04") || bytes.starts_with(&[0xD0, 0xCF, 0x11, 0xE0]) {
        let why = "it is a spreadsheet program's own file: save it as CSV";
        return Err(ExchangeError::NoSheet(why.to_owned()));
    }
    if let Some((encoding, mark)) = encoding_rs::Encoding::for_bom(bytes) {
        let (text, _) = encoding.decode_without_bom_handling(&bytes[mark..]);
        return Ok(text.into_owned());
    }
    if bytes.contains(&0) {
        return Err(ExchangeError::NoSheet("it is no text".to_owned()));
    }
    match std::str::from_utf8(bytes) {
        Ok(text) => Ok(text.to_owned()),
        Err(_) => {
            notes.push("its letters are no UTF-8: they were read as Windows-1252".to_owned());
            Ok(encoding_rs::WINDOWS_1252.decode(bytes).0.into_owned())
        }
    }
}

/// The separator that parts the first lines into the most columns, alike in most of them.
fn separator(text: &str) -> u8 {
    let count = |separator: char| {
        let first = text.lines().filter(|line| !line.trim().is_empty()).take(30);
        let mut counts: Vec<usize> = first.map(|line| outside_quotes(line, separator)).collect();
        counts.sort_unstable();
        counts.get(counts.len() / 2).copied().unwrap_or(0)
    };
    // Where nothing parts, the last of equals is a comma.
    let separators = [';', '\t', '|', ','];
    // A decimal comma parts more cells than a semicolon does, so semicolons and tabs are asked first.
    let best = [';', '\t', '|', ',']
        .into_iter()
        .find(|one| count(*one) > 0 && (*one == ',' || count(*one) >= 2));
    let most = separators
        .into_iter()
        .max_by_key(|one| count(*one))
        .unwrap_or(',');
    best.unwrap_or(most) as u8
}

fn outside_quotes(line: &str, separator: char) -> usize {
    let mut quoted = false;
    let outside = |c: &char| {
        quoted ^= *c == '"';
        !quoted && *c == separator
    };
    line.chars().filter(outside).count()
}

fn lines(text: &str, notes: &mut Vec<String>) -> Result<Vec<Line>, ExchangeError> {
    let separator = separator(text);
    if separator != b',' {
        let name = match separator {
            b';' => "semicolons",
            b'\t' => "tabs",
            _ => "upright strokes",
        };
        notes.push(format!("its columns are parted by {name}"));
    }
    let mut csv = csv::ReaderBuilder::new();
    let mut csv = csv
        .has_headers(false)
        .flexible(true)
        .delimiter(separator)
        .from_reader(text.as_bytes());
    let (mut lines, mut count) = (Vec::new(), Count::of(text));
    for record in csv.records() {
        let record = record.map_err(|err| ExchangeError::NoSheet(err.to_string()))?;
        let begins = record.position().map_or(0, csv::Position::byte);
        let (number, row) = count.up_to(usize::try_from(begins).unwrap_or(0), &record);
        if let Some(line) = checked(&record, (number, row))? {
            lines.push(line);
        }
        if lines.len() > MOST_LINES {
            let why = format!("it has more than {MOST_LINES} lines");
            return Err(ExchangeError::NoSheet(why));
        }
    }
    if never_closed(&text[count.at..], separator) {
        let why = format!(
            "a quotation mark in line {} opens a cell that never ends",
            count.line
        );
        return Err(ExchangeError::NoSheet(why));
    }
    match lines.is_empty() {
        true => Err(ExchangeError::NoSheet("it is empty".to_owned())),
        false => Ok(lines),
    }
}

/// A record as a line; none where nothing stands in it.
fn checked(
    record: &csv::StringRecord,
    (number, row): (u64, u64),
) -> Result<Option<Line>, ExchangeError> {
    if record.len() > MOST_COLUMNS {
        let columns = record.len();
        let why =
            format!("line {number} has {columns} columns, at most {MOST_COLUMNS} can be read");
        return Err(ExchangeError::NoSheet(why));
    }
    let cell = |cell: &str| cell.trim().replace('\u{a0}', " ");
    let cells: Vec<String> = record.iter().map(cell).collect();
    let blank = cells.iter().all(String::is_empty);
    Ok((!blank).then_some(Line { number, row, cells }))
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

    /// The line and the row of the record that begins there or after the ends of lines that stand there: those of blank
    /// rows, and the second sign of the line before.
    fn up_to(&mut self, begins: usize, record: &csv::StringRecord) -> (u64, u64) {
        let rest = &self.text[begins..];
        let ends = rest.len() - rest.trim_start_matches(['\r', '\n']).len();
        let begins = begins + ends;
        self.line += line_ends(&self.text[self.at..begins]);
        self.within += self.own;
        self.own = record.iter().map(line_ends).sum();
        self.at = begins;
        (self.line, self.line - self.within)
    }
}

/// How many lines end in a text: with CR and LF together, or with one of them alone.
fn line_ends(text: &str) -> u64 {
    let both = text.matches("\r\n").count();
    (text.matches(['\r', '\n']).count() - both) as u64
}

/// Whether the last record ends within a cell that a quotation mark opened (RFC 4180, 2.5 to 2.7).
fn never_closed(record: &str, separator: u8) -> bool {
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
        begins = !open && (sign == separator || matches!(sign, b'\r' | b'\n'));
    }
    open
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_separator_is_that_of_most_lines() {
        assert_eq!(separator("a;b;c\n1,5;2;3\n2,5;3;4\n"), b';');
        assert_eq!(separator("a,b,c\n1,2,3\n"), b',');
        assert_eq!(separator("a\tb\tc\n1,5\t2\t3\n"), b'\t');
        assert_eq!(separator("\"a;b;c\",2\n\"d;e;f\",3\n"), b',');
        assert_eq!(separator("one column\n"), b',');
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
    }
}
