//! Whether what a fall of the power leaves is a state that was acknowledged.

use super::disk::{Disk, Fall, Files};
use super::trace::Call;
use rusqlite::types::Value;
use rusqlite::{Connection, OpenFlags};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use stillcup::studio::Studio;

/// What a studio's file holds: every row of every table, as text.
pub type Rows = String;

/// The standard output: what is written there is acknowledged.
const SAID: i64 = 1;

/// What every process of a rehearsal asked of the system, the first beginning with what stood on the disk.
pub struct Rehearsal {
    pub first: Disk,
    pub processes: Vec<Vec<Call>>,
}

/// What was acknowledged at some instant: the files as the process saw them, and the rows in the studio; `None` where it
/// was broken.
struct Acknowledged {
    files: Files,
    rows: Option<Rows>,
}

/// How a rehearsal came out.
#[derive(Debug, Default)]
pub struct Told {
    pub falls: usize,
    /// Of these, states that differ.
    pub states: usize,
    pub faults: Vec<String>,
}

impl Rehearsal {
    /// Lets the power fall before every sync and every change of a name, and after every word, with all that is not synced
    /// lost in each way.
    pub fn fall_everywhere(&self, falls: &[Fall], syncs_hold: bool) -> Told {
        let acknowledged = self.acknowledged();
        let mut told = Told::default();
        let mut disk = self.first.clone();
        let mut nth = 0;
        for (process, calls) in self.processes.iter().enumerate() {
            disk.close_all();
            let mut tried: Vec<Files> = Vec::new();
            for (place, call) in calls.iter().enumerate() {
                let speaks = speaks(&disk, call);
                if speaks || is_turn(call) {
                    nth += usize::from(speaks);
                    let bounds = &acknowledged[nth..(nth + 2).min(acknowledged.len())];
                    if speaks {
                        tried.clear();
                    }
                    for &fall in falls {
                        let at =
                            format!("process {process}, call {place} ({}), {fall:?}", name(call));
                        told.tell(&disk.after(mixed(fall, place)), &mut tried, bounds, &at);
                    }
                }
                if syncs_hold || !matches!(call, Call::Sync(_)) {
                    disk.apply(call);
                }
            }
        }
        told
    }

    /// What stood there first, and at each word.
    fn acknowledged(&self) -> Vec<Acknowledged> {
        let mut disk = self.first.clone();
        let mut all = vec![disk.seen()];
        for calls in &self.processes {
            disk.close_all();
            for call in calls {
                if speaks(&disk, call) {
                    all.push(disk.seen());
                }
                disk.apply(call);
            }
        }
        all.into_iter()
            .map(|files| Acknowledged {
                rows: open(&files).ok(),
                files,
            })
            .collect()
    }
}

impl Told {
    fn tell(&mut self, left: &Files, tried: &mut Vec<Files>, bounds: &[Acknowledged], at: &str) {
        self.falls += 1;
        if tried.contains(left) {
            return;
        }
        self.states += 1;
        if let Err(fault) = is_acknowledged(left, bounds) {
            self.faults.push(format!("{at}: {fault}"));
        }
        tried.push(left.clone());
    }
}

const fn mixed(fall: Fall, place: usize) -> Fall {
    match fall {
        Fall::Mixed(seed) => Fall::Mixed(seed.wrapping_mul(1_000_003) ^ place as u64),
        other => other,
    }
}

fn speaks(disk: &Disk, call: &Call) -> bool {
    matches!(call, Call::Write { handle: SAID, .. }) && !disk.has_open(SAID)
}

/// Whether what is lost differs before and after it.
const fn is_turn(call: &Call) -> bool {
    matches!(
        call,
        Call::Sync(_)
            | Call::Rename { .. }
            | Call::Link { .. }
            | Call::Unlink(_)
            | Call::MakeFolder(_)
    )
}

fn name(call: &Call) -> String {
    let told = format!("{call:?}");
    told.chars().take(60).collect()
}

fn is_acknowledged(left: &Files, bounds: &[Acknowledged]) -> Result<(), String> {
    let was_broken = |one: &&Acknowledged| one.rows.is_none();
    match open(left) {
        Ok(rows) if bounds.iter().any(|one| one.rows.as_ref() == Some(&rows)) => {}
        Ok(_) => {
            return Err("the studio holds what was never acknowledged, or lacks what was".into());
        }
        Err(why) => {
            let broken = bounds.iter().find(was_broken).ok_or(why)?;
            let file = Path::new("s.db");
            assert_eq!(
                left.get(file),
                broken.files.get(file),
                "it is broken as it was"
            );
        }
    }
    let paths: BTreeSet<&PathBuf> = left
        .keys()
        .chain(bounds.iter().flat_map(|one| one.files.keys()))
        .collect();
    for path in paths.into_iter().filter(|path| !is_sqlites(path)) {
        let found = left.get(path);
        let known = bounds.iter().any(|one| one.files.get(path) == found);
        // A file that was taken away may come back; one that is on its way may be half-written under its passing name.
        let gone = bounds.iter().all(|one| !one.files.contains_key(path));
        let whole = |bytes: &Vec<u8>| is_aside(path) && is_a_state(bytes, bounds);
        if !known && !gone && !found.is_some_and(whole) {
            return Err(format!("{} is as nobody left it", path.display()));
        }
    }
    Ok(())
}

/// The studio's own files: their rows are looked at.
fn is_sqlites(path: &Path) -> bool {
    let name = path.to_str().unwrap();
    ["s.db", "s.db-wal", "s.db-shm", "s.db-journal"].contains(&name)
}

/// While a restore exchanges two files, either stands under the name aside.
fn is_aside(path: &Path) -> bool {
    path.to_str().unwrap().contains(".aside-")
}

fn is_a_state(bytes: &[u8], bounds: &[Acknowledged]) -> bool {
    let files = Files::from([(PathBuf::from("s.db"), bytes.to_vec())]);
    let rows = open(&files).ok();
    rows.is_some() && bounds.iter().any(|one| one.rows == rows)
}

/// Opens what is left as the next command would, and reads it all.
fn open(files: &Files) -> Result<Rows, String> {
    let folder = tempfile::tempdir_in(quick_folder()).unwrap();
    for (path, bytes) in files.iter().filter(|(path, _)| !path.ends_with("s.db-shm")) {
        let path = folder.path().join(path);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, bytes).unwrap();
    }
    let file = folder.path().join("s.db");
    let studio = Studio::open(&file).map_err(|err| format!("not opened: {err:?}"))?;
    if let Some(why) = studio.barred() {
        return Err(format!("may only be read: {why:?}"));
    }
    drop(studio);
    let rows = rows(&file).map_err(|err| err.to_string())?;
    photos_are_there(&file)?;
    Ok(rows)
}

/// Where nothing needs to reach a disk.
fn quick_folder() -> PathBuf {
    let memory = PathBuf::from("/dev/shm");
    if memory.is_dir() {
        memory
    } else {
        std::env::temp_dir()
    }
}

fn connection(file: &Path) -> rusqlite::Result<Connection> {
    let address = format!("file:{}?immutable=1", file.display());
    Connection::open_with_flags(
        address,
        OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_URI,
    )
}

fn rows(file: &Path) -> rusqlite::Result<Rows> {
    let conn = connection(file)?;
    let sql = "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite%' ORDER BY name";
    let mut read = conn.prepare(sql)?;
    let tables: Vec<String> = read
        .query_map([], |row| row.get(0))?
        .collect::<Result<_, _>>()?;
    let mut all = Rows::new();
    for table in tables {
        let mut read = conn.prepare(&format!("SELECT * FROM \"{table}\" ORDER BY rowid"))?;
        let width = read.column_count();
        let mut found = read.query([])?;
        while let Some(row) = found.next()? {
            let values: Vec<Value> = (0..width).map(|at| row.get(at)).collect::<Result<_, _>>()?;
            all += &format!("{table} {values:?}\n");
        }
    }
    Ok(all)
}

/// Each photo that the studio names stands beside it, whole.
fn photos_are_there(file: &Path) -> Result<(), String> {
    let conn = connection(file).unwrap();
    let mut read = conn.prepare("SELECT sha256, format FROM photo").unwrap();
    let named = read
        .query_map([], |row| Ok((row.get(0)?, row.get(1)?)))
        .unwrap();
    for photo in named {
        let (hash, format): (String, String) = photo.unwrap();
        let path = file
            .with_file_name("s.db-photos")
            .join(format!("{hash}.{format}"));
        let bytes = std::fs::read(&path).map_err(|err| format!("a photo is not there: {err}"))?;
        if stillcup::logbook::sha256(&bytes) != hash {
            return Err("a photo is not whole".into());
        }
    }
    Ok(())
}
