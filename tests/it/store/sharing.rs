//! Several programs on one file.

use super::{NOON, SHAPE, add_jar, add_shelf, ask, studio};
use std::time::Duration;
use stillcup::logbook::{Logbook, LogbookError};

#[test]
fn two_writers_lose_nothing() {
    let (_folder, book) = studio();
    let path = book.path().to_owned();
    std::thread::scope(|scope| {
        for writer in 0..2 {
            let path = &path;
            scope.spawn(move || {
                let mut book = Logbook::open(path, SHAPE).unwrap();
                for nth in 0..40 {
                    add_shelf(&mut book, &format!("{writer}.{nth}"));
                    if nth % 4 == 3 {
                        let id = book.history(1, None).unwrap()[0].id;
                        let _may_be_the_others = book.undo_one(id, NOON);
                    }
                }
            });
        }
    });
    let done: i64 = ask(&path, "SELECT count(*) FROM change WHERE kind = 'do'");
    let undone: i64 = ask(&path, "SELECT count(*) FROM change WHERE kind = 'undo'");
    assert_eq!(done, 80);
    assert_eq!(
        ask::<i64>(&path, "SELECT count(*) FROM shelf"),
        done - undone
    );
    let targets: i64 = ask(&path, "SELECT count(DISTINCT target) FROM change");
    assert_eq!(targets, undone, "nothing is undone twice");
}

#[test]
fn anothers_write_is_heard_of_and_ones_own_is_not() {
    let (_folder, mut here) = studio();
    let mut there = Logbook::open(here.path(), SHAPE).unwrap();
    assert_eq!(here.changed_since(), Ok(false));
    add_jar(&mut here, None, 1.0);
    assert_eq!(here.changed_since(), Ok(false));
    assert_eq!(there.changed_since(), Ok(true));
    assert_eq!(there.changed_since(), Ok(false));
    there.undo(NOON).unwrap();
    assert_eq!(here.changed_since(), Ok(true));
}

#[test]
fn a_held_file_is_busy_and_free_again_afterwards() {
    let (_folder, mut book) = studio();
    book.wait_at_most(Duration::ZERO).unwrap();
    let other = rusqlite::Connection::open(book.path()).unwrap();
    other.execute_batch("BEGIN IMMEDIATE").unwrap();
    let put = |w: &mut stillcup::logbook::Writer<'_>| w.insert("shelf", &[("name", "a".into())]);
    assert_eq!(book.commit("put up a", NOON, put), Err(LogbookError::Busy));
    assert_eq!(book.undo(NOON), Err(LogbookError::Busy));
    other.execute_batch("ROLLBACK").unwrap();
    assert_eq!(book.commit("put up a", NOON, put), Ok(1));
}

#[test]
fn a_studio_can_be_handed_to_another_thread() {
    const fn sent<T: Send>() {}
    sent::<Logbook>();
    sent::<stillcup::studio::Studio>();
}
