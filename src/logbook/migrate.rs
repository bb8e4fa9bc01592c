//! Renewing an older file: one step after the other, each in a transaction of its own, all or nothing.

use super::faults::{ProgramFault, Rule};
use super::open::{APPLICATION_ID, begin, check_whole};
use super::{LogbookError, backup, header};
use rusqlite::{Connection, OpenFlags, OptionalExtension, Transaction};
use std::path::{Path, PathBuf};

/// One renewal of the file's shape. Never edited once released.
#[derive(Debug, Clone, Copy)]
pub struct Step {
    /// The version the file has after it, counted from 1.
    pub number: u32,
    /// Its name, as in its file's.
    pub name: &'static str,
    /// Its statements, without BEGIN or COMMIT.
    pub sql: &'static str,
}

/// All steps, in order.
pub type Steps = [Step];

macro_rules! steps {
    ($($number:literal $file:literal $name:literal)*) => {
        &[$(Step {
            number: $number,
            name: $name,
            sql: include_str!(concat!("../../migrations/", $file, "_", $name, ".sql")),
        }),*]
    };
}

/// The steps of a studio file, from `migrations/`.
pub const STEPS: &Steps = steps! {
    1 "0001" "change"
    2 "0002" "studio"
    3 "0003" "plan"
    4 "0004" "trial"
    5 "0005" "given_up"
    6 "0006" "picture"
    7 "0007" "photo"
    8 "0008" "act"
    9 "0009" "draft"
    10 "0010" "repeat"
    11 "0011" "put_right"
    12 "0012" "colour"
    13 "0013" "timed"
    14 "0014" "flat"
    15 "0015" "summed"
};

/// The version a file has after the last step.
pub(super) fn latest(steps: &Steps) -> u32 {
    steps.last().map_or(0, |step| step.number)
}

/// Brings a file of version `found` to the latest; a copy of a file with anything in it is made first.
pub(super) fn renew(
    conn: &Connection,
    path: &Path,
    steps: &Steps,
    found: u32,
) -> Result<(), LogbookError> {
    if found == latest(steps) {
        return Ok(());
    }
    let copied = match found {
        0 => None,
        _ => copy_aside(conn, path, found)?,
    };
    // A step that rebuilds a table must be free to drop the old one; the references are checked before it is kept.
    conn.pragma_update(None, "foreign_keys", false)?;
    let mut taken = false;
    for step in steps.iter().filter(|step| step.number > found) {
        taken |= take_step(conn, step, latest(steps))?;
    }
    // Another program was faster, and has a copy of its own.
    if let Some(copy) = copied.filter(|_| !taken) {
        let _it_may_stay = std::fs::remove_file(copy);
    }
    // So that the version stands in the file itself, where an older program looks for it.
    conn.query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |_| Ok(()))?;
    Ok(())
}

/// Whether the step was still to be taken.
fn take_step(conn: &Connection, step: &Step, ours: u32) -> Result<bool, LogbookError> {
    let tx = begin(conn)?;
    // Read again under the lock: another program may have taken the step meanwhile.
    let file: u32 = tx.pragma_query_value(None, "user_version", |row| row.get(0))?;
    if file > ours {
        return Err(LogbookError::Newer { file, ours });
    }
    if file >= step.number {
        return Ok(false);
    }
    run_step(&tx, step).map_err(|why| LogbookError::Step {
        number: step.number,
        name: step.name,
        why: Box::new(why),
    })?;
    tx.commit()?;
    Ok(true)
}

fn run_step(tx: &Transaction<'_>, step: &Step) -> Result<(), LogbookError> {
    tx.execute_batch(step.sql)?;
    if tx.is_autocommit() {
        return Err(LogbookError::Program(ProgramFault::StepEnded));
    }
    let loose: i64 = tx.query_row("SELECT count(*) FROM pragma_foreign_key_check", [], |row| {
        row.get(0)
    })?;
    if loose > 0 {
        return Err(LogbookError::Rule(Rule::Reference));
    }
    if step.number == 1 {
        tx.pragma_update(None, "application_id", APPLICATION_ID)?;
    }
    Ok(tx.pragma_update(None, "user_version", step.number)?)
}

/// Copies the file to `<file>.version-<found>`, or to a name with a counter where that is another's; `None` where a copy of
/// this very state stands there already, left by a renewal that was cut short.
fn copy_aside(conn: &Connection, path: &Path, found: u32) -> Result<Option<PathBuf>, LogbookError> {
    let first = header::beside(path, &format!(".version-{found}"));
    let more = (2..).map(|n: u32| header::beside(path, &format!(".version-{found}-{n}")));
    for name in std::iter::once(first).chain(more) {
        match backup::copy_to(conn, path, &name, &|_, _| ()) {
            Err(LogbookError::Exists(_)) if is_copy(conn, &name) => return Ok(None),
            Err(LogbookError::Exists(_)) => {}
            other => return other.map(|_| Some(name)),
        }
    }
    Err(LogbookError::Exists(path.into()))
}

/// Whether a whole file has the version and the newest change of another: the history is only ever added to.
fn is_copy(conn: &Connection, copy: &Path) -> bool {
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_URI;
    let Ok(copy) = Connection::open_with_flags(header::unchanging(copy), flags) else {
        return false;
    };
    let state = |conn: &Connection| -> rusqlite::Result<(u32, Option<String>)> {
        let version = conn.pragma_query_value(None, "user_version", |row| row.get(0))?;
        let sql = "SELECT uid FROM change ORDER BY id DESC LIMIT 1";
        Ok((
            version,
            conn.query_row(sql, [], |row| row.get(0)).optional()?,
        ))
    };
    let same = state(conn).is_ok_and(|one| state(&copy).is_ok_and(|other| one == other));
    same && check_whole(&copy, "quick_check").is_ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_another_program_has_taken_meanwhile_are_passed_over() {
        const ONE: &Steps = &[STEPS[0]];
        const TWO: &Steps = &[
            STEPS[0],
            Step {
                number: 2,
                name: "t",
                sql: "CREATE TABLE t (id INTEGER) STRICT",
            },
        ];
        let conn = Connection::open_in_memory().unwrap();
        renew(&conn, Path::new("never.db"), TWO, 0).unwrap();
        renew(&conn, Path::new("never.db"), TWO, 0).unwrap();
        let err = renew(&conn, Path::new("never.db"), ONE, 0).unwrap_err();
        assert_eq!(err, LogbookError::Newer { file: 2, ours: 1 });
    }

    #[test]
    fn the_list_is_the_folder() {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("migrations");
        let mut files: Vec<String> = std::fs::read_dir(folder)
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        files.sort();
        let listed: Vec<String> = STEPS
            .iter()
            .map(|step| format!("{:04}_{}.sql", step.number, step.name))
            .collect();
        assert_eq!(listed, files);
        let numbers: Vec<u32> = STEPS.iter().map(|step| step.number).collect();
        assert_eq!(numbers, (1..=latest(STEPS)).collect::<Vec<_>>());
    }
}
