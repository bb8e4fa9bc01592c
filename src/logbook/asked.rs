//! For tests: what SQLite was asked, and how it goes about it.

use super::Logbook;
use rusqlite::StatementStatus;
use rusqlite::trace::{TraceEvent, TraceEventCodes};
use std::collections::BTreeSet;
use std::sync::atomic::{AtomicI64, Ordering};
use std::sync::{Arc, Mutex};

/// The statements that a logbook's connection ran since.
pub(crate) struct Asked(Arc<Mutex<BTreeSet<String>>>);

/// What SQLite did since, counted in the steps of its own machine (`sqlite3_stmt_status`): no clock and no other load of the
/// computer is in it.
pub(crate) struct Steps(Arc<AtomicI64>);

impl Steps {
    /// How many since this was last asked.
    pub(crate) fn taken(&self) -> i64 {
        self.0.swap(0, Ordering::Relaxed)
    }
}

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

    /// Counts every step from now on. A statement that is run again is counted with its runs before: two studios are to be asked
    /// the same.
    pub(crate) fn count_steps(&mut self) -> Steps {
        let steps = Arc::new(AtomicI64::new(0));
        let counted = Arc::clone(&steps);
        let count = move |event: TraceEvent<'_>| {
            if let TraceEvent::Profile(statement, _) = event {
                let ran = statement.get_status(StatementStatus::VmStep);
                counted.fetch_add(ran.into(), Ordering::Relaxed);
            }
        };
        let profile = TraceEventCodes::SQLITE_TRACE_PROFILE;
        self.conn.trace_v2(profile, Some(count)).unwrap();
        Steps(steps)
    }

    /// Adds so many judged pours of one cup each, one a day up to an instant: the years before.
    pub(crate) fn add_past(&mut self, pours: i64, end_ms: i64) {
        let tx = self.conn.transaction().unwrap();
        let at = format!("({end_ms} - ({pours} - i) * 86400000)");
        for (into, values) in [
            (
                "panel (id, uid, shape, width_mm, height_mm)",
                "i, 'a' || i, 'rectangle', 200, 300".to_owned(),
            ),
            (
                "cup (id, uid, mark, variant_id, at_ms, offset_min, volume_ml, spent_at_ms)",
                format!("i, 'c' || i, 'K7', 1, {at} - 50000000, 60, 120, {at}"),
            ),
            (
                "put (cup_id, place, material_id, ml)",
                "i, 1, 1 + i % (SELECT count(*) FROM material), 100".to_owned(),
            ),
            (
                "entry (uid, cup_id, at_ms, offset_min, kind, mound_s)",
                format!("'e' || i, i, {at} - 50000000, 60, 'mixed', 2.5"),
            ),
            (
                "entry (uid, cup_id, at_ms, offset_min, kind, ml, material_id)",
                format!("'t' || i, i, {at} - 100000, 60, 'thinned', 2, 1"),
            ),
            (
                "pour (id, uid, panel_id, go, at_ms, offset_min, way)",
                format!("i, 'p' || i, i, 1, {at}, 60, iif(i = 1, 'once', 'often')"),
            ),
            (
                "layer (pour_id, place, cup_id, ml, state)",
                "i, 1, i, 60, 'ready'".to_owned(),
            ),
            (
                "judgement (uid, pour_id, at_ms, offset_min, dry, cells)",
                format!("'j' || i, i, {at}, 60, 0, i % 6"),
            ),
        ] {
            let sql = format!(
                "WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < {pours})
                 INSERT INTO {into} SELECT {values} FROM n"
            );
            tx.execute(&sql, []).unwrap();
        }
        tx.commit().unwrap();
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
