//! A painter's list: taken in as one change and never twice, or refused in a sentence that can be read.

use crate::files::{folder, now};
use std::cell::RefCell;
use stillcup::exchange::spreadsheet::{Reading, read_lines};
use stillcup::studio::Studio;
use stillcup::studio::orders::ListKind;
use stillcup::tell;
use stillcup::trade::amount::Measures;
use stillcup::trade::text::inert;
use tempfile::TempDir;

/// The first byte says what the lines are, and in which measures; the others are the file.
pub fn list(bytes: &[u8]) {
    let Some((first, file)) = bytes.split_first() else {
        return;
    };
    let now = now();
    let reading = Reading {
        kind: ListKind::ALL[usize::from(*first) % ListKind::ALL.len()],
        columns: &[],
        dates: None,
        measures: match first / 128 {
            0 => Measures::Metric,
            _ => Measures::UsCustomary,
        },
        now: &now,
    };
    match read_lines(file, &reading) {
        Err(problem) => {
            let words = tell::words(&problem, Measures::Metric, &now);
            assert_eq!(inert(&words), words);
            assert!(words.len() < 8000, "{} bytes", words.len());
        }
        Ok(sheet) => {
            assert!(sheet.rows.len() <= file.len());
            taken(&sheet.rows);
        }
    }
}

/// Taken in once; the second time nothing of it is new.
fn taken(rows: &[stillcup::studio::SheetRow]) {
    thread_local! {
        static PLACE: RefCell<Option<(TempDir, Studio)>> = const { RefCell::new(None) };
    }
    PLACE.with_borrow_mut(|place| {
        let (_, studio) = place.get_or_insert_with(|| {
            let folder = folder();
            let studio = Studio::open(&folder.path().join("studio.db")).unwrap();
            (folder, studio)
        });
        if studio.take_rows(rows, true, &|_| (), &now()).is_ok() {
            let again = studio.take_rows(rows, true, &|_| (), &now()).unwrap();
            assert_eq!(again.new, 0, "taken twice");
        }
    });
}
