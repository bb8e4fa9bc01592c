//! Undo and redo: their order, their refusals, their life across restarts and programs.

use super::{NOON, SHAPE, add_jar, add_shelf, commit, dump, grams, studio};
use stillcup::logbook::{Kind, Logbook, LogbookError, Step};
use stillcup::tell;
use stillcup::trade::amount::Measures;

/// What a person reads of a refusal to take a change back.
fn moved(result: Result<stillcup::logbook::Change, LogbookError>) -> String {
    match result {
        Err(error @ LogbookError::Moved(_)) => {
            let said = tell::words(&error, Measures::Metric, &crate::terminal::now());
            let why = said.strip_prefix("this cannot be taken back: ");
            why.expect("a refusal to take back").to_owned()
        }
        other => panic!("expected a refusal, got {other:?}"),
    }
}

#[test]
fn undo_and_redo_walk_back_and_forth() {
    let (_folder, mut book) = studio();
    assert_eq!(book.undo(NOON), Err(LogbookError::NothingToUndo));
    assert_eq!(book.redo(NOON), Err(LogbookError::NothingToRedo));
    for name in ["a", "b", "c"] {
        add_shelf(&mut book, name);
    }
    let back = |book: &mut Logbook| book.undo(NOON).unwrap().label;
    let forth = |book: &mut Logbook| book.redo(NOON).unwrap().label;
    assert_eq!([back(&mut book), back(&mut book)], ["put up c", "put up b"]);
    assert_eq!(dump(book.path()), ["shelf 1 a"]);
    assert_eq!(forth(&mut book), "put up b");
    assert_eq!([back(&mut book), back(&mut book)], ["put up b", "put up a"]);
    assert_eq!(book.undo(NOON), Err(LogbookError::NothingToUndo));
    let all = [forth(&mut book), forth(&mut book), forth(&mut book)];
    assert_eq!(all, ["put up a", "put up b", "put up c"]);
    assert_eq!(book.redo(NOON), Err(LogbookError::NothingToRedo));
    assert_eq!(dump(book.path()), ["shelf 1 a", "shelf 2 b", "shelf 3 c"]);
}

#[test]
fn something_new_ends_redo_and_not_undo() {
    let (_folder, mut book) = studio();
    add_shelf(&mut book, "a");
    add_shelf(&mut book, "b");
    book.undo(NOON).unwrap();
    add_shelf(&mut book, "c");
    assert_eq!(book.redo(NOON), Err(LogbookError::NothingToRedo));
    assert_eq!(book.undo(NOON).unwrap().label, "put up c");
    assert_eq!(book.undo(NOON).unwrap().label, "put up a");
    assert_eq!(book.redo(NOON).unwrap().label, "put up a");
}

#[test]
fn history_shows_what_stands() {
    let (_folder, mut book) = studio();
    add_shelf(&mut book, "a");
    add_shelf(&mut book, "b");
    book.undo(NOON).unwrap();
    book.redo(NOON).unwrap();
    book.undo(NOON).unwrap();
    let seen = |limit, before| -> Vec<(i64, Kind, bool)> {
        let page = book.history(limit, before).unwrap();
        page.into_iter()
            .map(|change| (change.id, change.kind, change.done))
            .collect()
    };
    let expected = [
        (5, Kind::Undo, true),
        (4, Kind::Redo, true),
        (3, Kind::Undo, false),
        (2, Kind::Do, false),
        (1, Kind::Do, true),
    ];
    assert_eq!(seen(9, None), expected);
    assert_eq!(seen(2, Some(3)), expected[3..]);
    assert!(!book.change(2).unwrap().done && book.change(1).unwrap().done);
    assert_eq!(book.change(77), Err(LogbookError::NoSuchChange(77)));
}

#[test]
fn undo_survives_a_restart_and_another_program() {
    let (_folder, mut book) = studio();
    let path = book.path().to_owned();
    let jar = add_jar(&mut book, None, 0.1);
    commit(&mut book, "weigh", |w| w.update("jar", jar, &[grams(0.7)]));
    let after = dump(&path);
    drop(book);
    let mut here = Logbook::open(&path, SHAPE).unwrap();
    let mut there = Logbook::open(&path, SHAPE).unwrap();
    assert_eq!(here.undo(NOON).unwrap().label, "weigh");
    assert_eq!(there.undo(NOON).unwrap().label, "set down a jar");
    assert!(dump(&path).is_empty());
    assert_eq!(here.redo(NOON).unwrap().label, "set down a jar");
    drop(here);
    assert_eq!(there.redo(NOON).unwrap().label, "weigh");
    assert_eq!(dump(&path), after);
}

#[test]
fn one_change_is_undone_wherever_it_stands() {
    let (_folder, mut book) = studio();
    add_shelf(&mut book, "a");
    add_shelf(&mut book, "b");
    book.undo_one(1, NOON).unwrap();
    assert_eq!(dump(book.path()), ["shelf 2 b"]);
    assert_eq!(
        moved(book.undo_one(1, NOON)),
        "\"put up a\" is undone already"
    );
    assert_eq!(
        moved(book.undo_one(3, NOON)),
        "change 3 is itself an undo or redo"
    );
    assert_eq!(book.undo_one(9, NOON), Err(LogbookError::NoSuchChange(9)));
}

#[test]
fn a_row_that_moved_on_is_named() {
    let (_folder, mut book) = studio();
    let jar = add_jar(&mut book, None, 1.0);
    commit(&mut book, "weigh", |w| w.update("jar", jar, &[grams(2.0)]));
    let before = dump(book.path());
    assert_eq!(
        moved(book.undo_one(1, NOON)),
        "jar 1 has changed since with \"weigh\""
    );
    assert_eq!(dump(book.path()), before);
    commit(&mut book, "throw away", |w| w.delete("jar", jar));
    assert_eq!(
        moved(book.undo_one(2, NOON)),
        "jar 1 was removed since with \"throw away\""
    );
    add_jar(&mut book, None, 5.0);
    assert_eq!(
        moved(book.undo_one(3, NOON)),
        "jar 1 is there again since with \"set down a jar\""
    );
    assert_eq!(
        book.history(9, None).unwrap().len(),
        4,
        "a refusal is not recorded"
    );
}

#[test]
fn a_row_still_referred_to_is_named() {
    let (_folder, mut book) = studio();
    let shelf = add_shelf(&mut book, "upper");
    add_jar(&mut book, Some(shelf), 1.0);
    let before = dump(book.path());
    assert_eq!(
        moved(book.undo_one(1, NOON)),
        "jar 1 (\"set down a jar\") still needs this shelf"
    );
    assert_eq!(dump(book.path()), before);
    add_shelf(&mut book, "lower");
    assert_eq!(
        dump(book.path()).len(),
        3,
        "the studio goes on after a refusal"
    );
}

#[test]
fn a_name_taken_meanwhile_refuses() {
    let (_folder, mut book) = studio();
    let shelf = add_shelf(&mut book, "upper");
    commit(&mut book, "rename", |w| {
        w.update("shelf", shelf, &[("name", "lower".into())])
    });
    add_shelf(&mut book, "upper");
    assert_eq!(
        moved(book.undo_one(2, NOON)),
        "the name of shelf upper is taken by now"
    );
}

#[test]
fn names_swapped_in_one_change_swap_back() {
    let (_folder, mut book) = studio();
    let (a, b) = (add_shelf(&mut book, "a"), add_shelf(&mut book, "b"));
    let before = dump(book.path());
    commit(&mut book, "swap", |w| {
        w.update("shelf", a, &[("name", "between".into())])?;
        w.update("shelf", b, &[("name", "a".into())])?;
        w.update("shelf", a, &[("name", "b".into())])
    });
    let swapped = dump(book.path());
    book.undo(NOON).unwrap();
    assert_eq!(dump(book.path()), before);
    book.redo(NOON).unwrap();
    assert_eq!(dump(book.path()), swapped);
}

#[test]
fn a_whole_family_removed_comes_back() {
    let (_folder, mut book) = studio();
    let shelf = add_shelf(&mut book, "upper");
    let jar = add_jar(&mut book, Some(shelf), 1.0 / 3.0);
    let before = dump(book.path());
    commit(&mut book, "clear", |w| {
        w.delete("jar", jar)?;
        w.delete("shelf", shelf)
    });
    assert!(dump(book.path()).is_empty());
    book.undo(NOON).unwrap();
    assert_eq!(dump(book.path()), before);
}

#[test]
fn what_was_done_before_a_renewal_can_be_undone_after_it() {
    const LATER: &[Step] = &[
        SHAPE[0],
        SHAPE[1],
        Step {
            number: 3,
            name: "more",
            sql: "ALTER TABLE shelf ADD COLUMN depth REAL;",
        },
    ];
    let (_folder, mut book) = studio();
    let path = book.path().to_owned();
    let shelf = add_shelf(&mut book, "upper");
    commit(&mut book, "rename", |w| {
        w.update("shelf", shelf, &[("name", "lower".into())])
    });
    drop(book);
    let mut book = Logbook::open(&path, LATER).unwrap();
    book.undo(NOON).unwrap();
    assert_eq!(dump(&path), ["shelf 1 upper"]);
    book.undo(NOON).unwrap();
    assert!(dump(&path).is_empty());
}
