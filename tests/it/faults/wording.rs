//! What a person reads of the store's own errors: our words on both faces, keys on the screen and commands on the
//! command line, and never those of the library beneath.

use super::program::{MORNING, alter, run, studio};
use crate::terminal::hands::Hands;
use std::path::Path;

/// After the day's own copy.
const LATER: &str = "2026-11-25T11:00:00+01:00";

/// What the screen shows once it says something.
fn said_on_the_screen(file: &Path, something: &str) -> String {
    let mut hands = Hands::on_file(file, MORNING);
    let shown = hands.see_text(something);
    hands.press("q");
    shown
}

// Where no copy is whole, the command line may name its own way out; the screen has no such command.
#[test]
fn damage_without_a_copy_names_a_command_on_the_command_line_alone() {
    let (_folder, file) = studio();
    std::fs::remove_dir_all(file.with_file_name("s.db-copies")).unwrap();
    alter(&file, "UPDATE entry SET mound_s = -1 WHERE id = 1");
    let (sentence, hint) = run(&file, MORNING, &["read", "K7", "2.8"]).failed(3);
    assert!(sentence.contains("entry 1"), "{sentence}");
    assert!(hint.contains("stillcup export"), "{hint}");
    let shown = said_on_the_screen(&file, "read only: ");
    assert!(shown.contains("what can be read is still shown"), "{shown}");
    assert!(!shown.contains("stillcup"), "{shown}");
}

/// What the libraries beneath say of a value, a column or a rule.
const DRIVER: [&str; 7] = [
    "UNIQUE",
    "constraint",
    "Conversion",
    "at index",
    "out of range at",
    "Invalid column",
    "sqlite",
];

fn in_our_words(said: &str) {
    for words in DRIVER {
        assert!(!said.contains(words), "{words}: {said}");
    }
}

// The value is one that the library refuses by itself, in its own words and by the place of the column.
#[test]
fn a_value_that_the_library_refuses_is_named_by_its_row_and_column_on_both_faces() {
    let (_folder, file) = studio();
    alter(&file, "UPDATE cup SET offset_min = 9000000000");
    let (sentence, _) = run(&file, MORNING, &["read", "K7", "2.8"]).failed(3);
    let shown = said_on_the_screen(&file, "damaged: ");
    for said in [sentence, shown] {
        assert!(said.contains("cup 1: the value in offset_min"), "{said}");
        in_our_words(&said);
    }
}

// The question joins cups with their entries: the row is the one that the word stands in.
#[test]
fn a_word_to_come_is_named_by_the_row_that_it_stands_in() {
    let (_folder, file) = studio();
    alter(&file, "UPDATE entry SET kind = 'warmed' WHERE id = 1");
    for words in [&["cups"][..], &["cup", "K7"]] {
        let (sentence, hint) = run(&file, MORNING, words).failed(3);
        assert!(sentence.contains("the kind of entry 1"), "{sentence}");
        assert!(hint.contains("newer program"), "{hint}");
    }
}

#[test]
fn what_does_not_fit_of_an_import_is_a_row_and_a_reason_in_our_words() {
    let (folder, file) = studio();
    let out = folder.path().join("out.json");
    run(&file, MORNING, &["export", out.to_str().unwrap()]).done();
    let text = std::fs::read_to_string(&out).unwrap();
    for (from, to, wanted, next) in [
        (
            "\"kind\":\"mixed\"",
            "\"kind\":\"warmed\"",
            "entry 1 cannot be taken in: a newer Stillcup wrote its kind",
            "use the newer program",
        ),
        (
            "\"name\":\"Water\"",
            "\"name\":\"Blue paint\"",
            "material Blue paint cannot be taken in: another row has its",
            "export it again",
        ),
        (
            "\"offset_min\":60,\"volume_ml\"",
            "\"offset_min\":9000000000,\"volume_ml\"",
            "offset_min",
            "export it again",
        ),
    ] {
        let wrong = text.replacen(from, to, 1);
        assert!(wrong != text, "{from}");
        std::fs::write(&out, wrong).unwrap();
        let other = folder.path().join("other.db");
        let (sentence, hint) = run(&other, MORNING, &["import", out.to_str().unwrap()]).failed(1);
        assert!(sentence.contains(wanted), "{sentence}");
        assert!(
            hint.contains("nothing was changed") && hint.contains(next),
            "{hint}"
        );
        in_our_words(&sentence);
    }
}

// Such rows are none of this program's business, and go along; but who takes or brings back a copy hears of them.
#[test]
fn a_copy_with_a_word_to_come_is_taken_and_brought_back_and_says_so() {
    let (folder, file) = studio();
    alter(&file, "UPDATE entry SET kind = 'warmed' WHERE id = 1");
    let copy = folder.path().join("copy.db");
    let copy = copy.to_str().unwrap();
    for words in [&["backup"][..], &["backup", copy], &["restore", copy]] {
        let said = run(&file, LATER, words).done();
        assert!(
            said.contains("! the kind of entry 1 was written by a newer Stillcup")
                && said.contains("use the newer program"),
            "{words:?}: {said}"
        );
    }
    let kind: String = crate::store::ask(&file, "SELECT kind FROM entry WHERE id = 1");
    assert_eq!(kind, "warmed");
}
