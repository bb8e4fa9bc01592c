//! Plain tables for a spreadsheet: RFC 4180 (lines end in CRLF, text is quoted where it must be), UTF-8.
//!
//! A text that a spreadsheet would take for a formula (it begins with `=`, `+`, `-` or `@`, in either width, after
//! blanks too, or with a tab or the end of a line) is led by an apostrophe. Numbers are not touched, nor any other text.

use super::{unwritten, write_file};
use crate::studio::{Answer, FileFault, Made, Sheet, Studio, StudioError, Value};
use std::borrow::Cow;
use std::io::Write;
use std::path::Path;

/// Writes a sheet to a stream.
///
/// # Errors
/// Where the store cannot be read or the stream not written.
pub fn write_sheet(studio: &Studio, sheet: Sheet, out: &mut impl Write) -> Answer<()> {
    let mut csv = csv::WriterBuilder::new()
        .terminator(csv::Terminator::CRLF)
        .from_writer(out);
    let csv = std::cell::RefCell::new(&mut csv);
    studio.sheet(
        sheet,
        |head| csv.borrow_mut().write_record(head).map_err(failed),
        |row| {
            csv.borrow_mut()
                .write_record(row.iter().map(|cell| shown(cell).into_owned()))
                .map_err(failed)
        },
    )?;
    let ended = csv.borrow_mut().flush();
    ended.map_err(|err| unwritten(&err))
}

/// Writes a sheet to a file: whole, or what stood there stays; what stands there is only `replace`d.
///
/// # Errors
/// As [`write_sheet`], and where a file is there that is not to be replaced.
pub fn sheet_to(studio: &Studio, sheet: Sheet, path: &Path, replace: bool) -> Answer<()> {
    write_file(studio, path, replace, |out| write_sheet(studio, sheet, out))
}

/// Heads and rows of texts as a table of their own, RFC 4180.
///
/// # Errors
/// Where they cannot be written.
pub fn write_rows(heads: &[&str], rows: impl Iterator<Item = Vec<String>>) -> Answer<Vec<u8>> {
    let mut csv = csv::WriterBuilder::new()
        .terminator(csv::Terminator::CRLF)
        .from_writer(Vec::new());
    csv.write_record(heads).map_err(failed)?;
    for row in rows {
        csv.write_record(row).map_err(failed)?;
    }
    let done = csv.into_inner();
    done.map_err(|_| FileFault::NotMade(Made::Table).into())
}

fn shown(cell: &Value) -> Cow<'_, str> {
    match cell {
        Value::Null => "".into(),
        Value::Integer(number) => number.to_string().into(),
        Value::Real(number) => number.to_string().into(),
        Value::Text(text) => inert_cell(text).into(),
    }
}

/// A text as a spreadsheet's cell: one that begins as a formula does is made inert by an apostrophe before it.
#[must_use]
pub fn inert_cell(text: &str) -> String {
    let begins = |c: char| c.is_whitespace() || c.is_control() || "\u{feff}\u{200b}".contains(c);
    let rest = text.trim_start_matches(begins);
    let led = rest.len() < text.len() && text.starts_with(['\t', '\r', '\n']);
    match led || rest.starts_with(['=', '+', '-', '@', '＝', '＋', '－', '＠']) {
        true => format!("'{text}"),
        false => text.to_owned(),
    }
}

fn failed(err: csv::Error) -> StudioError {
    match err.into_kind() {
        csv::ErrorKind::Io(err) => unwritten(&err),
        _ => FileFault::NotMade(Made::Table).into(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_texts_that_look_like_formulas_are_led_by_an_apostrophe() {
        let text = |text: &str| shown(&Value::Text(text.into())).into_owned();
        for formula in [
            "=1+1",
            "+1",
            "-1",
            "@x",
            "\tx",
            "\rx",
            "\nx",
            " =1",
            "\n=1",
            "\u{a0}@x",
            "\u{feff}=1",
            "＝1",
        ] {
            assert_eq!(text(formula), format!("'{formula}"));
        }
        for plain in ["", " 1", "a=1", "'=1", "\u{202e}x"] {
            assert_eq!(text(plain), plain);
        }
        assert_eq!(shown(&Value::Real(-5.5)), "-5.5");
        assert_eq!(shown(&Value::Integer(-60)), "-60");
        assert_eq!(shown(&Value::Null), "");
    }
}
