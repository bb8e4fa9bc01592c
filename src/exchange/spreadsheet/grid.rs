//! The file as a grid of texts: its letters, its separator, its lines.

use crate::exchange::ExchangeError;
use std::fs::File;
use std::io::Read;
use std::path::Path;

/// A longer file is no painter's list: 64 MiB.
const LONGEST: u64 = 64 << 20;
/// A list has no more columns and lines.
const MOST_COLUMNS: usize = 200;
const MOST_LINES: usize = 200_000;

/// One line of the sheet: its number in the file, counted from 1, and its cells.
#[derive(Debug, Clone)]
pub(super) struct Line {
    pub(super) number: u64,
    pub(super) cells: Vec<String>,
}

/// A file's bytes.
pub(super) fn bytes(path: &Path) -> Result<Vec<u8>, ExchangeError> {
    let said = path.display().to_string();
    let system = |err: &std::io::Error| ExchangeError::system(&said, err);
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
            "it has {mib} MiB, at most 64 can be read"
        )));
    }
    let mut bytes = Vec::new();
    // A file may grow while it is read, and those of the system have no length.
    file.take(LONGEST + 1)
        .read_to_end(&mut bytes)
        .map_err(|err| system(&err))?;
    if bytes.len() as u64 > LONGEST {
        return Err(ExchangeError::NoSheet("it has more than 64 MiB".to_owned()));
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
    let mut lines = Vec::new();
    for record in csv.records() {
        let record = record.map_err(|err| ExchangeError::NoSheet(err.to_string()))?;
        let number = record.position().map_or(0, csv::Position::line);
        if record.len() > MOST_COLUMNS {
            let why = format!(
                "line {number} has {} columns, at most {MOST_COLUMNS} can be read",
                record.len()
            );
            return Err(ExchangeError::NoSheet(why));
        }
        let cells: Vec<String> = record
            .iter()
            .map(|cell| cell.trim().replace('\u{a0}', " "))
            .collect();
        if cells.iter().all(String::is_empty) {
            continue;
        }
        lines.push(Line { number, cells });
        if lines.len() > MOST_LINES {
            return Err(ExchangeError::NoSheet(format!(
                "it has more than {MOST_LINES} lines"
            )));
        }
    }
    match lines.is_empty() {
        true => Err(ExchangeError::NoSheet("it is empty".to_owned())),
        false => Ok(lines),
    }
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
