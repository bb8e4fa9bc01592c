//! Random walks of doing, undoing and redoing, held against plain lists of what the file held.

use super::{NOON, SHAPE, dump, grams, studio};
use proptest::prelude::*;
use stillcup::logbook::{Logbook, LogbookError, Value, Writer};

#[derive(Debug, Clone)]
enum Walk {
    Do(Vec<Write>),
    Undo,
    Redo,
    Restart,
}

#[derive(Debug, Clone)]
enum Write {
    Shelf(u8),
    Jar(Option<u8>, f64),
    Weigh(u8, f64),
    Move(u8, Option<u8>),
    Rename(u8, u8),
    DropJar(u8),
    DropShelf(u8),
}

fn number() -> impl Strategy<Value = f64> {
    any::<u64>()
        .prop_map(f64::from_bits)
        .prop_filter("finite", |x| x.is_finite())
}

fn write() -> impl Strategy<Value = Write> {
    let id = || 1..6_u8;
    prop_oneof![
        3 => id().prop_map(Write::Shelf),
        3 => (prop::option::of(id()), number()).prop_map(|(shelf, x)| Write::Jar(shelf, x)),
        2 => (id(), number()).prop_map(|(jar, x)| Write::Weigh(jar, x)),
        1 => (id(), prop::option::of(id())).prop_map(|(jar, shelf)| Write::Move(jar, shelf)),
        1 => (id(), id()).prop_map(|(shelf, name)| Write::Rename(shelf, name)),
        2 => id().prop_map(Write::DropJar),
        1 => id().prop_map(Write::DropShelf),
    ]
}

fn step() -> impl Strategy<Value = Walk> {
    prop_oneof![
        6 => prop::collection::vec(write(), 1..4).prop_map(Walk::Do),
        4 => Just(Walk::Undo),
        3 => Just(Walk::Redo),
        1 => Just(Walk::Restart),
    ]
}

fn perform(w: &mut Writer<'_>, write: &Write) -> Result<(), LogbookError> {
    let name = |n: u8| ("name", Value::from(format!("shelf {n}")));
    let shelf = |n: Option<u8>| ("shelf", Value::from(n.map(i64::from)));
    match *write {
        Write::Shelf(n) => w.insert("shelf", &[name(n)]).map(drop),
        Write::Jar(on, x) => w.insert("jar", &[shelf(on), grams(x)]).map(drop),
        Write::Weigh(jar, x) => w.update("jar", jar.into(), &[grams(x)]),
        Write::Move(jar, to) => w.update("jar", jar.into(), &[shelf(to)]),
        Write::Rename(at, n) => w.update("shelf", at.into(), &[name(n)]),
        Write::DropJar(jar) => w.delete("jar", jar.into()),
        Write::DropShelf(at) => w.delete("shelf", at.into()),
    }
}

/// What the file held after each thing done that stands, and after each thing undone.
struct Expected {
    back: Vec<Vec<String>>,
    forth: Vec<Vec<String>>,
    now: Vec<String>,
}

impl Expected {
    fn done(&mut self, after: Vec<String>) {
        if after != self.now {
            self.back.push(std::mem::replace(&mut self.now, after));
            self.forth.clear();
        }
    }

    fn undone(&mut self) -> bool {
        let Some(before) = self.back.pop() else {
            return false;
        };
        self.forth.push(std::mem::replace(&mut self.now, before));
        true
    }

    fn redone(&mut self) -> bool {
        let Some(after) = self.forth.pop() else {
            return false;
        };
        self.back.push(std::mem::replace(&mut self.now, after));
        true
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]
    #[test]
    fn undo_and_redo_agree_with_plain_lists(steps in prop::collection::vec(step(), 1..40)) {
        let (_folder, mut book) = studio();
        let path = book.path().to_owned();
        let mut expected = Expected { back: vec![], forth: vec![], now: vec![] };
        for step in steps {
            match step {
                Walk::Do(writes) => {
                    let kept = book.commit("do", NOON, |w| {
                        writes.iter().try_for_each(|write| perform(w, write))
                    });
                    if kept.is_ok() {
                        expected.done(dump(&path));
                    }
                }
                Walk::Undo => prop_assert_eq!(book.undo(NOON).is_ok(), expected.undone()),
                Walk::Redo => prop_assert_eq!(book.redo(NOON).is_ok(), expected.redone()),
                Walk::Restart => {
                    drop(book);
                    book = Logbook::open(&path, SHAPE).unwrap();
                }
            }
            prop_assert_eq!(&dump(&path), &expected.now);
        }
        while expected.undone() {
            book.undo(NOON).unwrap();
        }
        prop_assert!(dump(&path).is_empty());
        prop_assert_eq!(book.undo(NOON), Err(LogbookError::NothingToUndo));
    }
}
