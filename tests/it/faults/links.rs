//! A studio under a second name, through links that lead nowhere, and pipes in place of files that are read.

use super::program::{MORNING, names, run, studio};
use std::process::Command;

/// SQLite keeps a log under each name: what stands in one is not seen through the other.
#[test]
fn a_studio_of_two_names_is_read_and_not_written_until_one_is_gone() {
    let (folder, file) = studio();
    let twin = folder.path().join("twin.db");
    std::fs::hard_link(&file, &twin).unwrap();
    let before = std::fs::read(&file).unwrap();
    for name in [&file, &twin] {
        let (sentence, hint) = run(name, MORNING, &["read", "K7", "2.6"]).failed(3);
        assert!(sentence.contains("second name"), "{sentence}");
        assert!(hint.contains("backup"), "{hint}");
        let said = run(name, MORNING, &["cups"]).done();
        assert!(
            said.contains("K7") && said.contains("! read only: "),
            "{said}"
        );
    }
    assert_eq!(std::fs::read(&file).unwrap(), before);
    std::fs::remove_file(&twin).unwrap();
    run(&file, MORNING, &["read", "K7", "2.6"]).done();
}

#[test]
fn a_link_that_leads_into_no_folder_makes_none() {
    let folder = tempfile::tempdir().unwrap();
    let link = folder.path().join("s.db");
    std::os::unix::fs::symlink(folder.path().join("gone/s.db"), &link).unwrap();
    let (sentence, _) = run(&link, MORNING, &["starters"]).failed(1);
    assert!(sentence.contains("gone"), "{sentence}");
    assert_eq!(names(folder.path()), ["s.db"]);
}

#[test]
fn a_pipe_in_place_of_a_list_is_refused_and_not_waited_for() {
    let (folder, file) = studio();
    let pipe = folder.path().join("pipe");
    let made = Command::new("mkfifo").arg(&pipe).status().unwrap();
    assert!(made.success());
    let pipe = pipe.to_str().unwrap();
    for words in [
        &["import", pipe][..],
        &["import", pipe, "--as", "cups"],
        &["cells", pipe],
        &["photos", "take", pipe],
    ] {
        run(&file, MORNING, words).failed(1);
    }
    // The room's air is a help, and not what the pour waits for.
    run(&file, MORNING, &["set", "air-from", pipe]);
    let pour = ["pour", "--panel", "40x30cm", "--layer", "K7:80ml"];
    run(&file, MORNING, &pour).done();
}
