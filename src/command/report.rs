//! What a command answers: lines for a person, and the same as JSON for a program.

use crate::tell::views::Remarked;
use crate::trade::text::{inert, is_live};
use serde_json::Value;
use std::fmt::Write;
use unicode_width::UnicodeWidthStr;

/// An answer in both forms.
#[derive(Debug)]
pub(crate) struct Report {
    lines: Vec<String>,
    json: Value,
    exact: Option<String>,
    notes: Vec<String>,
    /// The end of JSON whose beginning was said already.
    json_end: Option<String>,
}

impl Report {
    /// An answer that has its JSON, and no lines yet.
    pub(crate) fn new(json: Value) -> Self {
        Self {
            lines: Vec::new(),
            json,
            exact: None,
            notes: Vec::new(),
            json_end: None,
        }
    }

    /// What comes after a list that was said already, and the end of its JSON.
    pub(crate) fn flowed(key: &str, is_empty: bool) -> Self {
        let end = match is_empty {
            true => format!("{{\n  \"{key}\": []\n}}\n"),
            false => "\n  ]\n}\n".to_owned(),
        };
        Self {
            json_end: Some(end),
            ..Self::new(Value::Null)
        }
    }

    /// An answer whose JSON is made from a view's own fields.
    pub(crate) fn of(view: &impl serde::Serialize) -> Self {
        // A view has names for keys and numbers that are finite or null: nothing in it can fail.
        Self::new(serde_json::to_value(view).unwrap_or(Value::Null))
    }

    /// The same with a text that is for a program too, and is told as it is.
    pub(crate) fn exactly(mut self, text: String) -> Self {
        self.exact = Some(text);
        self
    }

    /// With something odd that is told beside the answer: after it to a person, and apart where a program reads it.
    pub(crate) fn note(mut self, note: Option<String>) -> Self {
        self.notes
            .extend(note.map(|note| format!("! {}", inert(&note))));
        self
    }

    /// With what is wrong, and what will happen.
    pub(crate) fn remarks(self, said: &Remarked) -> Self {
        let warnings = said.warnings.iter().map(|words| format!("! {words}"));
        let notes = said.notes.iter().map(|words| format!("  {words}"));
        self.lines(warnings.chain(notes))
    }

    /// With one more line; what came from outside is made inert here, once.
    pub(crate) fn line(mut self, line: impl AsRef<str>) -> Self {
        self.lines.push(inert(line.as_ref()).into_owned());
        self
    }

    /// With more lines.
    pub(crate) fn lines(self, lines: impl IntoIterator<Item = String>) -> Self {
        lines.into_iter().fold(self, Self::line)
    }

    /// With the lines of a table.
    pub(crate) fn table(mut self, table: &Table) -> Self {
        self.lines.extend(table.lines());
        self
    }

    /// What a program reads as it is, where the answer is such.
    pub(crate) fn exact(&self) -> Option<&str> {
        self.exact.as_deref()
    }

    /// For a person.
    pub(crate) fn text(&self) -> String {
        told(self.lines.iter().chain(&self.notes))
    }

    /// What is odd, alone.
    pub(crate) fn notes(&self) -> String {
        told(&self.notes)
    }

    /// For a program. What could move a cursor or hide stands as JSON's own escape, so that the text it means is
    /// exact and what is printed does nothing.
    pub(crate) fn json(&self) -> String {
        match &self.json_end {
            Some(end) => end.clone(),
            None => printed(&self.json) + "\n",
        }
    }

    /// The same as one of a list that is said while it is read, after the list's own beginning where it is the first.
    pub(crate) fn in_list(&self, key: &str, is_first: bool) -> String {
        let before = match is_first {
            true => format!("{{\n  \"{key}\": ["),
            false => ",".to_owned(),
        };
        // A text in JSON has no line breaks of its own.
        let whole = printed(&self.json).replace('\n', "\n    ");
        format!("{before}\n    {whole}")
    }
}

/// JSON as it is printed, in lines, without the last line's end.
fn printed(json: &Value) -> String {
    let printed = format!("{json:#}");
    let mut said = String::with_capacity(printed.len());
    for c in printed.chars() {
        if c == '\n' || !is_live(c) {
            said.push(c);
            continue;
        }
        for unit in c.encode_utf16(&mut [0; 2]) {
            let _writing_to_a_string_cannot_fail = write!(said, "\\u{unit:04x}");
        }
    }
    said
}

fn told<'a>(lines: impl IntoIterator<Item = &'a String>) -> String {
    lines.into_iter().map(|line| format!("{line}\n")).collect()
}

/// Rows with aligned columns.
#[derive(Debug, Default)]
pub(crate) struct Table {
    rows: Vec<Vec<String>>,
    right: Vec<usize>,
    least: Vec<usize>,
}

impl Table {
    /// A table with its column heads.
    pub(crate) fn headed(heads: &[&str]) -> Self {
        Self::default().row(heads.iter().map(|&head| head.to_owned()))
    }

    /// With columns of numbers, aligned to the right.
    pub(crate) fn right(mut self, columns: &[usize]) -> Self {
        self.right = columns.to_vec();
        self
    }

    /// With columns that are no narrower than these.
    pub(crate) fn at_least(mut self, widths: &[usize]) -> Self {
        self.least = widths.to_vec();
        self
    }

    /// With one more row.
    pub(crate) fn row(mut self, cells: impl IntoIterator<Item = String>) -> Self {
        let inert = |cell: String| inert(&cell).into_owned();
        self.rows.push(cells.into_iter().map(inert).collect());
        self
    }

    /// How wide each column is.
    pub(crate) fn widths(&self) -> Vec<usize> {
        let columns = self.rows.iter().map(Vec::len).max().unwrap_or(0);
        let wide = |column: usize| {
            let cells = self.rows.iter().filter_map(|row| row.get(column));
            let least = self.least.get(column).copied().unwrap_or(0);
            cells.map(|cell| cell.width()).max().unwrap_or(0).max(least)
        };
        (0..columns).map(wide).collect()
    }

    /// Its lines.
    pub(crate) fn lines(&self) -> Vec<String> {
        let widths = self.widths();
        self.rows
            .iter()
            .map(|row| self.joined(row, &widths))
            .collect()
    }

    fn joined(&self, row: &[String], widths: &[usize]) -> String {
        let mut line = String::new();
        for (column, cell) in row.iter().enumerate() {
            let gap = " ".repeat(widths[column] - cell.width());
            let (before, after) = if self.right.contains(&column) {
                (gap.as_str(), "")
            } else {
                ("", gap.as_str())
            };
            line.extend([before, cell, after, "  "]);
        }
        line.truncate(line.trim_end().len());
        line
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_align_and_numbers_stand_to_the_right() {
        let table = Table::headed(&["mark", "ml", "why"]).right(&[1]);
        let table = table.row(["K7", "120", "ready"].map(str::to_owned));
        let wanted = ["mark   ml  why", "K7    120  ready"];
        assert_eq!(table.lines(), wanted);
    }

    #[test]
    fn json_means_the_exact_text_and_prints_nothing_live() {
        let said = "a\u{1b}\u{7f}\u{9b}\u{202e}\u{e0041}\n\"b\" é 🎨";
        let printed = Report::new(Value::from(said)).json();
        assert!(
            printed
                .trim_end()
                .chars()
                .all(|c| inert(&c.to_string()) == c.to_string()),
            "{printed}"
        );
        assert_eq!(serde_json::from_str::<String>(&printed).unwrap(), said);
    }

    #[test]
    fn nothing_from_outside_stays_live() {
        let evil = "a\u{1b}[2Jb\nc".to_owned();
        let report = Report::new(Value::Null).line(&evil);
        let report = report.table(&Table::default().row([evil]));
        assert!(!report.text().contains('\u{1b}') && report.text().lines().count() == 2);
    }
}
