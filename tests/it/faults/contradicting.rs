//! Files to be taken in that contradict themselves: each said by its row, all refused alike, and taken where a person says
//! that it is so even so.

use super::program::{MORNING, begin, names, run};
use std::path::{Path, PathBuf};
use std::process::Command;
use tempfile::TempDir;

/// A studio's file with a reading and a drawing, and where an empty studio may begin.
fn exported() -> (TempDir, String, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("s.db");
    begin(&file);
    run(
        &file,
        MORNING,
        &[
            "pour",
            "--panel",
            "20x20cm",
            "--layer",
            "K7:50ml",
            "--even-so",
        ],
    )
    .done();
    run(
        &file,
        MORNING,
        &["judge", "1", "--cells", "4", "--evenness", "3"],
    )
    .done();
    let out = folder.path().join("out.json");
    run(&file, MORNING, &["export", out.to_str().unwrap()]).done();
    let text = std::fs::read_to_string(out).unwrap();
    (folder, text, file)
}

fn import(folder: &Path, text: &str, more: &[&str]) -> super::program::Said {
    let (from, into) = (folder.join("in.json"), folder.join("new.db"));
    for name in names(folder) {
        if name.starts_with("new.db") && folder.join(&name).is_file() {
            std::fs::remove_file(folder.join(name)).unwrap();
        }
    }
    std::fs::write(&from, text).unwrap();
    run(
        &into,
        MORNING,
        &[&["import", from.to_str().unwrap()], more].concat(),
    )
}

fn changed(text: &str, from: &str, to: &str) -> String {
    assert!(text.contains(from), "{from}");
    text.replace(from, to)
}

#[test]
fn what_cannot_be_true_is_refused_by_its_row_with_one_code_and_one_shape() {
    let (folder, text, _) = exported();
    let soft = [
        (
            "\"ml\":\"50.0\"",
            "\"ml\":\"500.0\"",
            "cup K7: 500.0 ml came out of it",
        ),
        (
            "\"volume_ml\":\"120.0\"",
            "\"volume_ml\":\"130.0\"",
            "cup 1: the history leaves another volume_ml",
        ),
    ];
    let hard = [
        (
            "\"evenness\":3",
            "\"evenness\":9",
            "judgement 1: a grade runs from 0 to 5",
        ),
        (
            "\"density\":null",
            "\"density\":\"0.0\"",
            "material 1: nothing has that density",
        ),
        (
            "\"setting\":[",
            "\"setting\":[\n],\n\"setting\":[",
            "stands there twice",
        ),
    ];
    for (from, to, said) in soft.into_iter().chain(hard) {
        let wrong = changed(&text, from, to);
        let (sentence, hint) = import(folder.path(), &wrong, &[]).failed(1);
        for part in said.split(": ") {
            assert!(sentence.contains(part), "{sentence}");
        }
        assert!(hint.contains("nothing was changed"), "{hint}");
        let told = import(folder.path(), &wrong, &["--json"]);
        assert_eq!(told.code, Some(1));
        let told: serde_json::Value = serde_json::from_str(&told.out).unwrap();
        assert!(told["refused"].is_string() && told["hint"].is_string());
    }
    for (from, to, said) in soft {
        let taken = import(folder.path(), &changed(&text, from, to), &["--even-so"]).done();
        assert!(taken.contains(said), "{taken}");
    }
    for (from, to, _) in hard {
        import(folder.path(), &changed(&text, from, to), &["--even-so"]).failed(1);
    }
    import(folder.path(), &text, &[]).done();
}

#[test]
fn a_pipe_a_folder_and_a_row_without_end_are_refused() {
    let (folder, text, file) = exported();
    let pipe = folder.path().join("pipe");
    assert!(
        Command::new("mkfifo")
            .arg(&pipe)
            .status()
            .unwrap()
            .success()
    );
    for path in [pipe.as_path(), folder.path(), Path::new("/dev/zero")] {
        let (sentence, _) = run(&file, MORNING, &["import", path.to_str().unwrap()]).failed(1);
        assert!(
            sentence.contains("no file that could be read"),
            "{sentence}"
        );
    }
    let long = format!("\"rows\":\"{}[", "x".repeat(250 << 20));
    let wrong = text.replacen("\"rows\":\"[", &long, 1);
    let (sentence, _) = import(folder.path(), &wrong, &[]).failed(1);
    assert!(sentence.contains("larger than any studio's"), "{sentence}");
}
