//! A command's words, one a line: read, and done in a studio of its own where they make sense and name no file.

use crate::files::{folder, now};
use std::cell::OnceCell;
use std::ffi::OsString;
use std::path::{Path, PathBuf};
use stillcup::clock::Clock;
use stillcup::command::{Arguments, Manner, Verb, run};
use stillcup::exchange::Homes;
use tempfile::TempDir;

/// A small studio as bytes, and where each command finds it anew.
struct Desk {
    _folder: TempDir,
    file: PathBuf,
    whole: Vec<u8>,
}

fn words(line: &str) -> impl Iterator<Item = OsString> {
    std::iter::once("stillcup")
        .chain(line.split('\n'))
        .map(OsString::from)
}

fn does(file: &Path, line: &str) {
    let verb = Arguments::read(words(line)).unwrap().verb.unwrap();
    answer(verb, file, false);
}

/// Does it with nobody's folders and no pager.
fn answer(verb: Verb, file: &Path, json: bool) {
    let homes = &Homes::default();
    let manner = Manner {
        json,
        pages: false,
        homes,
    };
    let _ending = run(verb, file, &Clock::Fixed(now()), manner);
}

fn begin() -> Desk {
    let folder = folder();
    let file = folder.path().join("studio.db");
    for line in [
        "material\nadd\nBlue paint\n--kind\npaint\n--pack\n250ml\n--price\n8.90\n--density\n1.2",
        "material\nadd\nWater\n--kind\nthinner\n--density\n1",
        "recipe\nadd\nRiver blue\n--layer\ncolour\n--part\nBlue paint 1\n--part\nWater 1\n--mound\n2..3",
        "mix\nRiver blue\n--volume\n120ml\n--mark\nK7\n--mound\n2.5\n--at\nyesterday 10:00",
        "read\nK7\n2.6",
        "pour\n--panel\n20x20cm\n--layer\nK7:20ml\n--way\nswirl",
        "judge\n1\n--cells\n4",
        "trial\ndesign\n--factor\nrest=12h,24h\n--runs\n4\n--seed\n7",
    ] {
        does(&file, line);
    }
    let whole = std::fs::read(&file).unwrap();
    Desk {
        _folder: folder,
        file,
        whole,
    }
}

pub fn line(line: &str) {
    thread_local! {
        static DESK: OnceCell<Desk> = const { OnceCell::new() };
    }
    let Ok(Arguments {
        verb: Some(verb),
        json,
        ..
    }) = Arguments::read(words(line))
    else {
        return;
    };
    // These go by names of files, which are not for a fuzzer to choose.
    if matches!(
        verb,
        Verb::Export(_)
            | Verb::Import(_)
            | Verb::Csv(_)
            | Verb::Backup(_)
            | Verb::Restore(_)
            | Verb::Demo
            | Verb::Manners(_)
    ) {
        return;
    }
    DESK.with(|desk| {
        let desk = desk.get_or_init(begin);
        std::fs::write(&desk.file, &desk.whole).unwrap();
        answer(verb, &desk.file, json);
    });
}
