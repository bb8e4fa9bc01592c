//! What is opened, what is refused, and that what is refused stays as it was.

use super::{SHAPE, add_jar, add_shelf, ask, dump, nowhere, studio};
use rusqlite::Connection;
use std::path::Path;
use stillcup::logbook::{APPLICATION_ID, Logbook, LogbookError, STEPS};

/// Opens what must be refused and holds that no byte and no file beside it changed.
fn refused(path: &Path) -> LogbookError {
    let before = std::fs::read(path).unwrap();
    let err = Logbook::open(path, SHAPE).unwrap_err();
    assert_eq!(
        std::fs::read(path).unwrap(),
        before,
        "the refused file was written"
    );
    for suffix in ["-wal", "-shm", "-journal"] {
        let beside = format!("{}{suffix}", path.display());
        assert!(!Path::new(&beside).exists(), "{suffix} was left beside");
    }
    let again = Logbook::open_or_create(path, SHAPE).unwrap_err();
    assert_eq!(again, err);
    assert_eq!(
        std::fs::read(path).unwrap(),
        before,
        "the refused file was written"
    );
    err
}

#[test]
fn a_new_studio_is_marked_and_safe() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("not/yet/there/studio.db");
    assert_eq!(
        Logbook::open(&path, SHAPE).unwrap_err(),
        LogbookError::Missing(path.clone())
    );
    assert!(!path.exists(), "open alone must not make a file");
    let book = Logbook::open_or_create(&path, SHAPE).unwrap();
    assert_eq!(book.path(), path);
    assert_eq!(
        ask::<i64>(&path, "PRAGMA application_id"),
        i64::from(APPLICATION_ID)
    );
    assert_eq!(ask::<i64>(&path, "PRAGMA user_version"), 2);
    assert_eq!(ask::<String>(&path, "PRAGMA journal_mode"), "wal");
    book.quick_check().unwrap();
    // The letters "StCp" in ASCII, and where they stand: SQLite's file format, offset 68.
    assert_eq!(&std::fs::read(&path).unwrap()[68..72], b"StCp");
}

#[test]
fn an_empty_file_becomes_a_studio() {
    let (_folder, path) = nowhere();
    std::fs::write(&path, b"").unwrap();
    drop(Logbook::open(&path, SHAPE).unwrap());
    assert_eq!(ask::<i64>(&path, "PRAGMA user_version"), 2);
}

#[test]
fn what_was_kept_is_there_after_a_restart() {
    let (_folder, mut book) = studio();
    let path = book.path().to_owned();
    let shelf = add_shelf(&mut book, "upper");
    add_jar(&mut book, Some(shelf), 0.1 + 0.2);
    let before = dump(&path);
    drop(book);
    let book = Logbook::open(&path, SHAPE).unwrap();
    assert_eq!(dump(book.path()), before);
    assert_eq!(
        ask::<f64>(&path, "SELECT grams FROM jar").to_bits(),
        (0.1_f64 + 0.2).to_bits()
    );
}

#[test]
fn noise_and_a_folder_are_refused() {
    let (folder, path) = nowhere();
    std::fs::write(&path, [0xA5; 9000]).unwrap();
    assert_eq!(refused(&path), LogbookError::NotAStudio(path.clone()));
    let err = Logbook::open(folder.path(), SHAPE).unwrap_err();
    assert_eq!(err, LogbookError::Folder(folder.path().into()));
}

#[test]
fn somebody_elses_database_is_refused() {
    for sql in [
        "CREATE TABLE theirs (x)",
        "PRAGMA application_id = 7; CREATE TABLE theirs (x)",
        "PRAGMA user_version = 1",
    ] {
        let (_folder, path) = nowhere();
        Connection::open(&path).unwrap().execute_batch(sql).unwrap();
        assert_eq!(
            refused(&path),
            LogbookError::NotAStudio(path.clone()),
            "{sql}"
        );
    }
}

#[test]
fn a_newer_file_is_named_and_left_alone() {
    let (_folder, mut book) = studio();
    let path = book.path().to_owned();
    add_shelf(&mut book, "upper");
    drop(book);
    Connection::open(&path)
        .unwrap()
        .execute_batch("PRAGMA user_version = 9")
        .unwrap();
    let err = refused(&path);
    assert_eq!(err, LogbookError::Newer { file: 9, ours: 2 });
}

#[test]
fn a_newer_version_that_stands_only_in_the_log_is_seen() {
    let (_folder, book) = studio();
    let path = book.path().to_owned();
    drop(book);
    let newer = Connection::open(&path).unwrap();
    newer
        .execute_batch("PRAGMA wal_autocheckpoint = 0; PRAGMA user_version = 9")
        .unwrap();
    let main = std::fs::read(&path).unwrap();
    let wal = format!("{}-wal", path.display());
    let log = std::fs::read(&wal).unwrap();
    assert!(
        !log.is_empty() && main[60..64] == [0, 0, 0, 2],
        "the case under test"
    );
    assert_eq!(
        Logbook::open(&path, SHAPE).unwrap_err(),
        LogbookError::Newer { file: 9, ours: 2 }
    );
    assert_eq!(std::fs::read(&path).unwrap(), main);
    assert_eq!(std::fs::read(&wal).unwrap(), log);
}

#[test]
fn a_newer_version_in_a_log_left_by_a_crash_is_seen_and_left() {
    let (folder, book) = studio();
    let newer = Connection::open(book.path()).unwrap();
    newer.execute_batch("PRAGMA user_version = 9").unwrap();
    let crashed = folder.path().join("crashed.db");
    let wal = folder.path().join("crashed.db-wal");
    std::fs::copy(book.path(), &crashed).unwrap();
    std::fs::copy(format!("{}-wal", book.path().display()), &wal).unwrap();
    let before = (
        std::fs::read(&crashed).unwrap(),
        std::fs::read(&wal).unwrap(),
    );
    assert_eq!(
        Logbook::open(&crashed, SHAPE).unwrap_err(),
        LogbookError::Newer { file: 9, ours: 2 }
    );
    assert_eq!(
        (
            std::fs::read(&crashed).unwrap(),
            std::fs::read(&wal).unwrap()
        ),
        before
    );
}

#[test]
fn a_program_still_running_refuses_a_file_renewed_meanwhile() {
    let (_folder, mut book) = studio();
    ask_batch(book.path(), "PRAGMA user_version = 3");
    let put = |w: &mut stillcup::logbook::Writer<'_>| w.insert("shelf", &[("name", "x".into())]);
    let err = book.commit("put up x", super::NOON, put).unwrap_err();
    assert_eq!(err, LogbookError::Newer { file: 3, ours: 2 });
    assert!(dump(book.path()).is_empty());
}

fn ask_batch(path: &Path, sql: &str) {
    Connection::open(path).unwrap().execute_batch(sql).unwrap();
}

/// A closed studio of many pages.
fn thick() -> (tempfile::TempDir, std::path::PathBuf) {
    let (folder, mut book) = studio();
    let path = book.path().to_owned();
    super::commit(&mut book, "many", |w| {
        for at in 0..2000 {
            w.insert("jar", &[("label", format!("jar {at}").into())])?;
        }
        Ok(())
    });
    drop(book);
    (folder, path)
}

#[test]
fn a_truncated_file_is_damaged_wherever_it_is_cut() {
    let (_folder, path) = thick();
    let whole = std::fs::read(&path).unwrap();
    for cut in [512, 4096, 8191, whole.len() / 2, whole.len() - 1] {
        std::fs::write(&path, &whole[..cut]).unwrap();
        let err = refused(&path);
        assert!(
            matches!(err, LogbookError::Damaged(_)),
            "cut at {cut}: {err:?}"
        );
    }
    // Shorter than SQLite's smallest page: nothing tells it from noise.
    for cut in [1, 17, 99, 511] {
        std::fs::write(&path, &whole[..cut]).unwrap();
        let err = refused(&path);
        let told = matches!(err, LogbookError::Damaged(_) | LogbookError::NotAStudio(_));
        assert!(told, "cut at {cut}: {err:?}");
    }
}

#[test]
fn opening_a_second_time_drops_no_lock_of_the_first() {
    let (_folder, mut book) = studio();
    add_shelf(&mut book, "upper");
    for _again in 0..3 {
        drop(Logbook::open_or_create(book.path(), SHAPE).unwrap());
    }
    let child = std::process::Command::new(std::env::current_exe().unwrap())
        .args([
            "--ignored",
            "--exact",
            "store::opening::another_process_finds_the_file_held",
        ])
        .env("HELD_FILE", book.path())
        .output()
        .unwrap();
    let said = String::from_utf8_lossy(&child.stdout);
    assert!(
        child.status.success() && said.contains("1 passed"),
        "{said}"
    );
}

#[test]
#[ignore = "run as another process by the test above"]
fn another_process_finds_the_file_held() {
    let Some(path) = std::env::var_os("HELD_FILE") else {
        return;
    };
    let conn = Connection::open(path).unwrap();
    conn.busy_timeout(std::time::Duration::ZERO).unwrap();
    // In this mode SQLite goes without shared memory, and so rests on the lock on the file alone.
    let sql = "PRAGMA locking_mode = EXCLUSIVE; BEGIN IMMEDIATE; ROLLBACK";
    let err = conn.execute_batch(sql).unwrap_err();
    assert_eq!(
        err.sqlite_error_code(),
        Some(rusqlite::ErrorCode::DatabaseBusy)
    );
}

#[test]
fn a_file_torn_in_the_middle_is_damaged() {
    let (_folder, path) = thick();
    let mut bytes = std::fs::read(&path).unwrap();
    let middle = bytes.len() / 2 / 4096 * 4096;
    bytes[middle..middle + 4096].fill(0);
    std::fs::write(&path, &bytes).unwrap();
    let err = Logbook::open(&path, SHAPE).unwrap_err();
    assert!(matches!(err, LogbookError::Damaged(_)), "{err:?}");
    assert_eq!(std::fs::read(&path).unwrap(), bytes);
}

#[test]
fn a_read_only_file_is_refused() {
    let (_folder, path) = thick();
    let mut rights = std::fs::metadata(&path).unwrap().permissions();
    rights.set_readonly(true);
    std::fs::set_permissions(&path, rights).unwrap();
    assert_eq!(refused(&path), LogbookError::ReadOnly);
}

#[test]
fn the_list_of_steps_opens_a_studio() {
    let (_folder, path) = nowhere();
    drop(Logbook::open_or_create(&path, STEPS).unwrap());
    let version = i64::try_from(STEPS.len()).unwrap();
    assert_eq!(ask::<i64>(&path, "PRAGMA user_version"), version);
}
