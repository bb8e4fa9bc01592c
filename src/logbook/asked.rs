//! For tests: what SQLite was asked, and how it goes about it.

use super::Logbook;
use rusqlite::trace::{TraceEvent, TraceEventCodes};
use std::collections::BTreeSet;
use std::sync::{Arc, Mutex};

/// The statements that a logbook's connection ran since.
pub(crate) struct Asked(Arc<Mutex<BTreeSet<String>>>);

/// Tables that grow with the years; of the others a studio has a few dozen rows.
const GROWING: [&str; 9] = [
    "cup",
    "put",
    "entry",
    "panel",
    "pour",
    "layer",
    "move",
    "judgement",
    "change",
];

/// How a question for the newest rows ends: a scan backwards over numbers, which stops where it has them.
const NEWEST: &str = " ORDER BY id DESC LIMIT ";

impl Logbook {
    /// Takes down every statement from now on.
    pub(crate) fn listen(&mut self) -> Asked {
        let heard = Arc::new(Mutex::new(BTreeSet::new()));
        let notes = Arc::clone(&heard);
        let listen = move |event: TraceEvent<'_>| {
            if let (TraceEvent::Stmt(statement, _), Ok(mut notes)) = (event, notes.lock()) {
                notes.insert(statement.sql().into_owned());
            }
        };
        let stmt = TraceEventCodes::SQLITE_TRACE_STMT;
        self.conn.trace_v2(stmt, Some(listen)).unwrap();
        Asked(heard)
    }

    /// Those of the statements that go through a growing table row by row, with how SQLite says it goes about it.
    ///
    /// A scan for the newest rows, or over the index of living cups, touches no more as the years go by.
    pub(crate) fn scans(&mut self, asked: &Asked) -> Vec<String> {
        let statements = std::mem::take(&mut *asked.0.lock().unwrap());
        assert!(!statements.is_empty(), "nothing heard");
        let mut scans = Vec::new();
        for sql in statements.iter().filter(|sql| is_question(sql)) {
            let mut explain = self
                .conn
                .prepare(&format!("EXPLAIN QUERY PLAN {sql}"))
                .unwrap();
            let mut rows = explain.raw_query();
            while let Some(row) = rows.next().unwrap() {
                let step: String = row.get("detail").unwrap();
                if goes_through(&step) && !sql.contains(NEWEST) {
                    scans.push(format!("{step}: {sql}"));
                }
            }
        }
        scans
    }
}

fn is_question(sql: &str) -> bool {
    let verb = sql.split_whitespace().next().unwrap_or_default();
    ["SELECT", "INSERT", "UPDATE", "DELETE"].contains(&verb)
}

fn goes_through(step: &str) -> bool {
    let scanned = step.strip_prefix("SCAN ").unwrap_or_default();
    let table = scanned.split_whitespace().next().unwrap_or_default();
    GROWING.contains(&table) && !scanned.contains("cup_living_mark")
}
