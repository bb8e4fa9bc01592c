//! An answer that cannot be printed: what was kept is said to be kept, with an exit code of its own.

use super::program::{MORNING, program, run, studio};
use std::fs::File;
use std::path::Path;
use std::process::{Output, Stdio};

fn into_full(file: &Path, words: &[&str]) -> Output {
    let full = File::options().write(true).open("/dev/full").unwrap();
    let mut command = program(file, MORNING);
    command.args(words).stdout(full).output().unwrap()
}

/// The answer goes into a pipe that nobody reads any more.
fn into_closed(file: &Path, words: &[&str]) -> Output {
    let (reader, writer) = std::io::pipe().unwrap();
    drop(reader);
    let mut command = program(file, MORNING);
    command.args(words).stdout(writer).stderr(Stdio::piped());
    command.output().unwrap()
}

fn err(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).unwrap()
}

#[test]
fn what_was_kept_is_said_to_be_kept_where_the_answer_is_lost() {
    let (folder, file) = studio();
    let export = folder.path().join("out.json").display().to_string();
    for words in [
        &["read", "K7", "2.8"][..],
        &["undo"],
        &["material", "add", "Moss", "--kind", "paint", "--json"],
        &["export", &export],
        &["csv", "cups", &export, "--replace"],
        &["backup"],
    ] {
        for lost in [into_full, into_closed] {
            let path = folder.path().join("s.db-copies");
            let _ = std::fs::remove_dir_all(path);
            let _ = std::fs::remove_file(&export);
            if words[0] == "undo" {
                run(&file, MORNING, &["read", "K7", "2.9"]).done();
                let _ = std::fs::remove_dir_all(folder.path().join("s.db-copies"));
            }
            let output = lost(&file, words);
            if words[0] == "material" {
                run(&file, MORNING, &["undo"]).done();
            }
            let said = err(&output);
            assert_eq!(output.status.code(), Some(4), "{words:?}: {said}");
            assert!(
                said.contains("is kept, but the answer could not be printed"),
                "{said}"
            );
        }
    }
}

#[test]
fn what_only_reads_is_said_not_to_be_printed_and_a_reader_may_go_away() {
    let (_folder, file) = studio();
    let output = into_full(&file, &["cups"]);
    assert_eq!(output.status.code(), Some(3));
    assert!(err(&output).contains("could not be printed"), "{output:?}");
    let output = into_closed(&file, &["cups"]);
    assert_eq!((output.status.code(), err(&output).as_str()), (Some(0), ""));
}
