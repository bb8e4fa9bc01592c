//! A commit is kept whole with its record, or not at all.

use super::{NOON, add_jar, add_shelf, ask, commit, dump, grams, studio};
use stillcup::logbook::{Kind, LogbookError, ProgramFault, Value, Writer};

#[derive(Debug, PartialEq)]
enum Refusal {
    Own,
    Store(LogbookError),
}

impl From<LogbookError> for Refusal {
    fn from(err: LogbookError) -> Self {
        Self::Store(err)
    }
}

#[test]
fn a_commit_is_recorded_before_and_after() {
    let (_folder, mut book) = studio();
    let jar = add_jar(&mut book, None, 0.1);
    commit(&mut book, "weigh it again", |w| {
        w.update("jar", jar, &[grams(0.3)])
    });
    let change = book.history(1, None).unwrap().remove(0);
    assert_eq!(
        (change.label.as_str(), change.kind, change.rows),
        ("weigh it again", Kind::Do, 1)
    );
    assert_eq!((change.at, change.target, change.done), (NOON, None, true));
    let rows: String = ask(
        book.path(),
        "SELECT \"rows\" FROM change ORDER BY id DESC LIMIT 1",
    );
    let row = |grams| {
        format!(r#"{{"id":1,"shelf":null,"label":"jar","grams":{{"real":"{grams}"}},"lids":null}}"#)
    };
    let expected = format!(
        r#"[{{"table":"jar","id":1,"before":{},"after":{}}}]"#,
        row("0.1"),
        row("0.3")
    );
    assert_eq!(rows, expected);
}

#[test]
fn an_own_refusal_rolls_everything_back() {
    let (_folder, mut book) = studio();
    let refused = book.commit("two", NOON, |w| {
        w.insert("shelf", &[("name", "a".into())])?;
        w.insert("shelf", &[("name", "b".into())])?;
        Err::<(), _>(Refusal::Own)
    });
    assert_eq!(refused, Err(Refusal::Own));
    assert!(dump(book.path()).is_empty() && book.history(9, None).unwrap().is_empty());
}

#[test]
fn an_error_passed_over_still_spoils_the_commit() {
    let (_folder, mut book) = studio();
    add_shelf(&mut book, "a");
    let spoilt = book.commit("three", NOON, |w| {
        w.insert("shelf", &[("name", "b".into())])?;
        let _passed_over = w.insert("shelf", &[("name", "a".into())]);
        assert!(w.insert("shelf", &[("name", "c".into())]).is_err());
        Ok::<(), LogbookError>(())
    });
    assert!(matches!(spoilt, Err(LogbookError::Rule(_))), "{spoilt:?}");
    assert_eq!(dump(book.path()), ["shelf 1 a"]);
}

#[test]
fn a_commit_that_changes_nothing_writes_nothing() {
    let (_folder, mut book) = studio();
    let jar = add_jar(&mut book, None, 2.5);
    commit(&mut book, "nothing", |_| Ok(()));
    commit(&mut book, "the same", |w| {
        w.update("jar", jar, &[grams(2.5)])
    });
    commit(&mut book, "there and back", |w| {
        w.update("jar", jar, &[grams(7.0)])?;
        let brief = w.insert("shelf", &[("name", "brief".into())])?;
        w.update("jar", jar, &[grams(2.5)])?;
        w.delete("shelf", brief)
    });
    assert_eq!(book.history(9, None).unwrap().len(), 1);
}

#[test]
fn a_panic_within_a_commit_keeps_nothing() {
    let (_folder, mut book) = studio();
    let panicked = std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| {
        let _never: Result<(), LogbookError> = book.commit("half", NOON, |w| {
            w.insert("shelf", &[("name", "a".into())])?;
            panic!("as a fault in the program would");
        });
    }));
    assert!(panicked.is_err() && dump(book.path()).is_empty());
    add_shelf(&mut book, "b");
    assert_eq!(dump(book.path()), ["shelf 1 b"]);
}

#[test]
fn names_and_numbers_are_checked_before_they_reach_a_statement() {
    let (_folder, mut book) = studio();
    let jar = add_jar(&mut book, None, 1.0);
    let before = dump(book.path());
    let mut refused = |write: &dyn Fn(&mut Writer<'_>) -> Result<(), LogbookError>| {
        book.commit("no", NOON, |w| write(w)).unwrap_err()
    };
    for table in ["change", "sqlite_schema", "jar\" --", "cup"] {
        let err = refused(&|w| w.delete(table, 1));
        let (table, column) = (table.to_owned(), None);
        assert_eq!(err, LogbookError::UnknownName { table, column });
    }
    let err = refused(&|w| w.update("jar", jar, &[("grams\" = 0 --", Value::Null)]));
    let (table, column) = ("jar".to_owned(), Some("grams\" = 0 --".to_owned()));
    assert_eq!(err, LogbookError::UnknownName { table, column });
    for x in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        let err = refused(&|w| w.update("jar", jar, &[grams(x)]));
        let (table, column) = ("jar".to_owned(), "grams".to_owned());
        assert_eq!(err, LogbookError::NotFinite { table, column });
    }
    let missing = LogbookError::NoSuchRow {
        table: "jar".into(),
        id: 99,
    };
    assert_eq!(refused(&|w| w.delete("jar", 99)), missing);
    assert_eq!(refused(&|w| w.update("jar", 99, &[grams(1.0)])), missing);
    assert!(matches!(
        refused(&|w| w.update("jar", jar, &[("id", 5.into())])),
        LogbookError::Program(ProgramFault::Id)
    ));
    assert!(matches!(
        refused(&|w| w.update("jar", jar, &[("lids", (-1).into())])),
        LogbookError::Rule(_)
    ));
    assert_eq!(dump(book.path()), before);
}

#[test]
fn text_is_only_ever_text() {
    let (_folder, mut book) = studio();
    let odd = "'); DROP TABLE jar; -- \u{0} \" ümbra";
    add_shelf(&mut book, odd);
    assert_eq!(ask::<String>(book.path(), "SELECT name FROM shelf"), odd);
    book.undo(NOON).unwrap();
    book.redo(NOON).unwrap();
    assert_eq!(ask::<String>(book.path(), "SELECT name FROM shelf"), odd);
}

#[test]
fn a_write_that_reaches_further_rows_is_refused() {
    use stillcup::logbook::{Logbook, STEPS, Step};
    const CASCADE: &[Step] = &[
        STEPS[0],
        Step {
            number: 2,
            name: "cascade",
            sql: "CREATE TABLE shelf (id INTEGER PRIMARY KEY, name TEXT) STRICT;
                  CREATE TABLE jar (id INTEGER PRIMARY KEY,
                                    shelf INTEGER REFERENCES shelf (id) ON DELETE CASCADE) STRICT;",
        },
    ];
    let (_folder, path) = super::nowhere();
    let mut book = Logbook::open_or_create(&path, CASCADE).unwrap();
    let shelf = add_shelf(&mut book, "upper");
    commit(&mut book, "jar", |w| {
        w.insert("jar", &[("shelf", shelf.into())])
    });
    let err = book
        .commit("take down", NOON, |w| w.delete("shelf", shelf))
        .unwrap_err();
    assert_eq!(err, LogbookError::Unrecorded("shelf".into()));
    assert_eq!(ask::<i64>(&path, "SELECT count(*) FROM jar"), 1);
}

#[test]
fn history_cannot_be_rewritten() {
    let (_folder, mut book) = studio();
    add_shelf(&mut book, "a");
    let other = rusqlite::Connection::open(book.path()).unwrap();
    assert!(other.execute("UPDATE change SET label = 'x'", []).is_err());
    assert!(other.execute("DELETE FROM change", []).is_err());
}
