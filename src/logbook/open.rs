//! Opening a studio file: everything is checked before anything is written.

use super::LogbookError;
use super::damage::Damage;
use super::faults::Alteration;
use super::gate::Gate;
use super::header::{self, Look};
use super::identity::{self, Identity};
use super::migrate::{self, Steps};
use super::read_only::Shadow;
use super::shape::Shape;
use super::whole_check::{self, WholeCheck};
use super::{leftovers, new_file, rows, schema, shared_disk, states, watch};
use rusqlite::config::DbConfig;
use rusqlite::{Connection, OpenFlags, TransactionBehavior};
use std::path::{Path, PathBuf};
use std::time::Duration;

/// The mark a studio file carries in its header: the letters `StCp`.
pub const APPLICATION_ID: i32 = 0x5374_4370;

/// How long a write waits for another program's write.
const PATIENCE: Duration = Duration::from_secs(5);

/// How often it looks whether that has ended.
const PAUSE: Duration = Duration::from_millis(25);

/// After how long it is said that it waits.
const SAID_AFTER: Duration = Duration::from_secs(1);

/// How long another program's command is waited for where one at a time has the file; a screen keeps it all day.
const BRIEFLY: Duration = Duration::from_millis(500);

static SAY_WAIT: std::sync::OnceLock<fn()> = std::sync::OnceLock::new();

/// Has something said once a write has waited for a second; the first who asks is heard.
pub fn on_wait(say: fn()) {
    let _the_first_is_heard = SAY_WAIT.set(say);
}

/// Waits for another program's write, as SQLite asks after each look; `false` once it is enough.
fn wait(looks: i32) -> bool {
    let waited = |pauses: Duration| i32::try_from(pauses.as_millis() / PAUSE.as_millis());
    if waited(SAID_AFTER) == Ok(looks)
        && let Some(say) = SAY_WAIT.get()
    {
        say();
    }
    std::thread::sleep(PAUSE);
    waited(PATIENCE).is_ok_and(|most| looks < most)
}

/// How many prepared statements are kept: more than one deed and one picture of the screen need.
const STATEMENTS: usize = 128;

/// An open studio file.
#[derive(Debug)]
pub struct Logbook {
    pub(super) conn: Connection,
    pub(super) path: PathBuf,
    pub(super) identity: Identity,
    pub(super) shape: Shape,
    pub(super) steps: &'static Steps,
    /// SQLite's count of other connections' writes when last asked; `None` where nothing is known of it.
    pub(super) seen: Option<i64>,
    pub(super) patience: Duration,
    /// Whether the file could not be opened again after an error, so that `conn` stands for nothing.
    pub(super) adrift: bool,
    /// The newest change when it was opened; what is newer was done here or by another process meanwhile.
    pub(super) opened_at: i64,
    /// The things done through this very logbook, by number, the newest last.
    pub(super) own: Vec<i64>,
    /// Why nothing may be written: the file may only be read, or is known to be damaged.
    pub(super) barred: Option<LogbookError>,
    /// Whether anything was written since it was opened.
    pub(super) wrote: bool,
    /// The reading of the whole file that goes on beside the work.
    pub(super) beside: Option<WholeCheck>,
    /// Where `conn` reads a passing copy and not the file itself.
    pub(super) shadow: Option<Shadow>,
}

impl Logbook {
    /// Opens the studio file at `path` and renews it to the last of `steps`.
    ///
    /// # Errors
    /// [`LogbookError`] with the reason; a file that is refused is left byte for byte as it was.
    pub fn open(path: impl AsRef<Path>, steps: &'static Steps) -> Result<Self, LogbookError> {
        // What SQLite keeps beside a file stands beside the one that a link leads to.
        let path = &states::real_path(path.as_ref());
        shared_disk::refuse(path)?;
        // A restore that exchanges the file just now is waited for.
        let _passed = Gate::pass(path)?;
        new_file::clear_left(new_file::folder_of(path));
        leftovers::clear_twins(path);
        let look = header::look(path)?;
        refuse_before_opening(path, look, steps)?;
        if identity::has_other_names(path) {
            return Err(LogbookError::TwoNames(path.into()));
        }
        Self::take(path, steps).map_err(|err| err.at(path))
    }

    /// Opens the studio file at `path`, or starts a new one there, making its folder too.
    ///
    /// # Errors
    /// As [`Logbook::open`]; [`LogbookError::LogAlone`] where the log of a lost file lies there, which would be
    /// taken for the new one's; [`LogbookError::System`] where the folder or file cannot be made.
    pub fn open_or_create(
        path: impl AsRef<Path>,
        steps: &'static Steps,
    ) -> Result<Self, LogbookError> {
        let path = &states::real_path(path.as_ref());
        match Self::open(path, steps) {
            Err(LogbookError::Missing(_)) if header::has_log(path) => {
                Err(LogbookError::LogAlone(path.into()))
            }
            Err(LogbookError::Missing(_)) => {
                make_empty(path)?;
                Self::open(path, steps)
            }
            other => other,
        }
    }

    /// Where the file stands.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Sets how long a write waits for another program's before it says [`LogbookError::Busy`] (5 s at first).
    ///
    /// # Errors
    /// Whatever SQLite answers.
    pub fn wait_at_most(&mut self, patience: Duration) -> Result<(), LogbookError> {
        self.patience = patience;
        self.keep_patience()
    }

    /// Waits on a connection that was opened afresh as on the one before.
    pub(super) fn keep_patience(&self) -> Result<(), LogbookError> {
        match self.patience {
            PATIENCE => Ok(()),
            other => Ok(self.conn.busy_timeout(other)?),
        }
    }

    /// Reads the whole file quickly for broken pages and rows; [`Logbook::open`] has done so once to a small file.
    ///
    /// # Errors
    /// [`LogbookError::Damaged`] with the first fault found.
    pub fn quick_check(&self) -> Result<(), LogbookError> {
        check_whole(&self.conn, "quick_check")
    }

    /// The connection, for the rooms' own reading.
    pub(super) const fn conn(&self) -> &Connection {
        &self.conn
    }

    fn take(path: &Path, steps: &'static Steps) -> Result<Self, LogbookError> {
        let before = identity::of(path);
        let conn = connect(path)?;
        let identity = identity::of(path).ok_or_else(|| LogbookError::Gone(path.into()))?;
        if before != Some(identity) {
            return Err(LogbookError::Replaced(path.into()));
        }
        let found = claim(&conn, path, steps)?;
        let read_whole = is_small(path) || whole_check::is_suspect(path);
        if read_whole {
            check_whole(&conn, "quick_check")?;
        }
        let found = unaltered(&conn, path, steps, found)?;
        // A new file has its mark and its tables in one step, before it has a log.
        migrate::renew(&conn, path, steps, found)?;
        switch_to_wal(&conn)?;
        if read_whole {
            rows::check_own(&conn)?;
            whole_check::clear(path);
        }
        conn.pragma_update(None, "foreign_keys", true)?;
        Self::of(conn, path, identity, steps)
    }

    pub(super) fn of(
        conn: Connection,
        path: &Path,
        identity: Identity,
        steps: &'static Steps,
    ) -> Result<Self, LogbookError> {
        let (shape, seen) = (Shape::read(&conn)?, watch::data_version(&conn)?);
        let newest = "SELECT coalesce(max(id), 0) FROM change";
        let opened_at = conn.query_row(newest, [], |row| row.get(0))?;
        Ok(Self {
            conn,
            path: path.into(),
            identity,
            shape,
            steps,
            seen: Some(seen),
            patience: PATIENCE,
            adrift: false,
            opened_at,
            own: Vec::new(),
            barred: None,
            wrote: false,
            beside: None,
            shadow: None,
        })
    }

    /// Why nothing may be written here: [`LogbookError::ReadOnly`], [`LogbookError::Busy`], [`LogbookError::Full`], or
    /// [`LogbookError::Damaged`]. What can be read may be read all the same.
    #[must_use]
    pub const fn barred(&self) -> Option<&LogbookError> {
        self.barred.as_ref()
    }

    /// The number of the newest change when it was opened.
    #[must_use]
    pub const fn opened_at(&self) -> i64 {
        self.opened_at
    }

    /// Whether anything was written since it was opened.
    #[must_use]
    pub const fn wrote(&self) -> bool {
        self.wrote
    }
}

fn refuse_before_opening(path: &Path, look: Look, steps: &Steps) -> Result<(), LogbookError> {
    // SQLite would take the log for that of a file it has to begin, and throw it away, even where it only reads.
    if header::is_blank(path) && header::has_bytes(&header::beside(path, "-wal")) {
        return Err(LogbookError::LogAlone(path.into()));
    }
    let version = match look {
        Look::Ours { version } => version,
        Look::Empty => 0,
        Look::AskSqlite => peek_version(path)?,
    };
    let ours = migrate::latest(steps);
    if version > ours {
        return Err(LogbookError::Newer {
            file: version,
            ours,
        });
    }
    let about = std::fs::metadata(path).map_err(|err| LogbookError::system(path, &err))?;
    if about.permissions().readonly() {
        return Err(LogbookError::ReadOnly);
    }
    Ok(())
}

/// The version as the write-ahead log knows it, through a connection that may not write the file.
fn peek_version(path: &Path) -> Result<u32, LogbookError> {
    // An interrupted first transaction must be rolled back by SQLite, which needs writing: no later program leaves one.
    if std::fs::metadata(header::beside(path, "-journal")).is_ok_and(|about| about.len() > 0) {
        return Ok(0);
    }
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let conn =
        Connection::open_with_flags(path, flags).map_err(|err| LogbookError::from(err).at(path))?;
    conn.busy_timeout(match shared_disk::is_one_at_a_time(path) {
        true => BRIEFLY,
        false => PATIENCE,
    })?;
    conn.set_db_config(DbConfig::SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, true)?;
    let version = conn.pragma_query_value(None, "user_version", |row| row.get(0));
    let version = version.map_err(|err| LogbookError::from(err).at(path))?;
    header::refuse_foreign_log(path, &conn)?;
    Ok(version)
}

/// A connection with this house's settings; never makes a file.
pub(super) fn connect(path: &Path) -> Result<Connection, LogbookError> {
    let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let mut conn = Connection::open_with_flags(path, flags)?;
    if conn.is_readonly("main")? {
        return Err(LogbookError::ReadOnly);
    }
    if shared_disk::is_one_at_a_time(path) {
        take_alone(&conn)?;
    }
    harden(&mut conn)?;
    Ok(conn)
}

/// Takes the file for this connection alone, before its log is opened: that is then shared through no memory, which other
/// machines would not see. Whoever has it open keeps it for longer than anyone would wait.
fn take_alone(conn: &Connection) -> rusqlite::Result<()> {
    conn.busy_timeout(BRIEFLY)?;
    conn.pragma_update(None, "locking_mode", "EXCLUSIVE")?;
    conn.query_row("SELECT count(*) FROM sqlite_schema", [], |_| Ok(()))
}

/// SQLite as bundled is lenient (quoted typos are strings, a schema may call functions): not here.
pub(super) fn harden(conn: &mut Connection) -> Result<(), LogbookError> {
    conn.busy_handler(Some(wait))?;
    conn.set_prepared_statement_cache_capacity(STATEMENTS);
    conn.set_db_config(DbConfig::SQLITE_DBCONFIG_DQS_DML, false)?;
    conn.set_db_config(DbConfig::SQLITE_DBCONFIG_DQS_DDL, false)?;
    conn.set_db_config(DbConfig::SQLITE_DBCONFIG_DEFENSIVE, true)?;
    conn.set_db_config(DbConfig::SQLITE_DBCONFIG_TRUSTED_SCHEMA, false)?;
    conn.pragma_update(None, "synchronous", "FULL")?;
    // A page that cannot be one of its kind is met as damage, and not read past.
    conn.pragma_update(None, "cell_size_check", true)?;
    conn.pragma_update(None, "foreign_keys", true)?;
    Ok(())
}

/// The version of a file that has what its version has. Another program may renew the file between the two looks:
/// then it is looked at again.
fn unaltered(
    conn: &Connection,
    path: &Path,
    steps: &Steps,
    mut found: u32,
) -> Result<u32, LogbookError> {
    while let Err(altered) = schema::refuse_altered(conn, steps, found) {
        let renewed = claim(conn, path, steps)?;
        if renewed == found {
            return Err(altered);
        }
        found = renewed;
    }
    Ok(found)
}

/// Reads mark and version and tells the version. Nothing is written and the right to write is not asked for, which another
/// program may hold.
pub(super) fn claim(conn: &Connection, path: &Path, steps: &Steps) -> Result<u32, LogbookError> {
    let tx = conn.unchecked_transaction()?;
    let mark: i32 = tx.pragma_query_value(None, "application_id", |row| row.get(0))?;
    let version: u32 = tx.pragma_query_value(None, "user_version", |row| row.get(0))?;
    let things: i64 = tx.query_row("SELECT count(*) FROM sqlite_schema", [], |row| row.get(0))?;
    match mark {
        APPLICATION_ID if version > 0 => {}
        APPLICATION_ID => return Err(LogbookError::Altered(Alteration::NoTables)),
        0 if things == 0 && version == 0 => {}
        _ => return Err(LogbookError::NotAStudio(path.into())),
    }
    let ours = migrate::latest(steps);
    if version > ours {
        return Err(LogbookError::Newer {
            file: version,
            ours,
        });
    }
    Ok(version)
}

/// A transaction that holds the right to write from its start, rolled back when dropped.
pub(super) fn begin(conn: &Connection) -> Result<rusqlite::Transaction<'_>, LogbookError> {
    Ok(rusqlite::Transaction::new_unchecked(
        conn,
        TransactionBehavior::Immediate,
    )?)
}

/// Another program at its own first opening may hold the file just then, and SQLite does not wait for it here.
fn switch_to_wal(conn: &Connection) -> Result<(), LogbookError> {
    if conn.pragma_query_value(None, "journal_mode", |row| row.get::<_, String>(0))? == "wal" {
        return Ok(());
    }
    let pause = Duration::from_millis(20);
    for _ in 0..PATIENCE.as_millis() / pause.as_millis() {
        match conn
            .pragma_update(None, "journal_mode", "WAL")
            .map_err(LogbookError::from)
        {
            Err(LogbookError::Busy) => std::thread::sleep(pause),
            other => return other,
        }
    }
    Err(LogbookError::Busy)
}

/// Whether a file is read whole in a few milliseconds. A larger one is checked with each day's copy and beside the screen,
/// so that one reading at the bench does not wait for a whole year.
pub(super) fn is_small(path: &Path) -> bool {
    std::fs::metadata(path).is_ok_and(|file| file.len() <= 1 << 20)
}

/// Runs `quick_check` or `integrity_check` and reports its first finding.
pub(super) fn check_whole(conn: &Connection, pragma: &str) -> Result<(), LogbookError> {
    let said: String = conn.pragma_query_value(None, pragma, |row| row.get(0))?;
    if said == "ok" {
        Ok(())
    } else {
        Err(LogbookError::Damaged(Damage::Pages))
    }
}

/// Makes a folder, and those above it that are missing, for its owner alone; what is put into it is not lost with it
/// where the power falls.
pub(super) fn make_private(folder: &Path) -> Result<(), LogbookError> {
    let named = folder
        .ancestors()
        .take_while(|one| !one.as_os_str().is_empty());
    let missing: Vec<&Path> = named.take_while(|one| !one.exists()).collect();
    let mut make = std::fs::DirBuilder::new();
    make.recursive(true);
    #[cfg(unix)]
    std::os::unix::fs::DirBuilderExt::mode(&mut make, 0o700);
    make.create(folder)
        .map_err(|err| LogbookError::system(folder, &err))?;
    missing.into_iter().for_each(new_file::sync_folder);
    Ok(())
}

fn make_empty(path: &Path) -> Result<(), LogbookError> {
    if let Some(folder) = path
        .parent()
        .filter(|folder| !folder.as_os_str().is_empty())
    {
        make_private(folder)?;
    }
    // Only ever a new file: to open and close one that is there would drop this process's locks on it.
    let mut open = std::fs::OpenOptions::new();
    open.write(true).create_new(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut open, 0o600);
    match open.open(path) {
        Err(err) if err.kind() != std::io::ErrorKind::AlreadyExists => {
            Err(LogbookError::system(path, &err))
        }
        _ => {
            // Else a fall of the power could leave SQLite's journal alone, which would look like a studio that is lost.
            new_file::sync_folder(path);
            Ok(())
        }
    }
}
