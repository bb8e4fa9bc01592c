//! Labels: measured in poppler's picture of the page, read by two readers of QR codes.

use super::{Grey, dots, printed, text_of};
use crate::command::Rehearsal;
use std::path::PathBuf;

/// Three cups, one of them in letters of another script.
fn mixed() -> (Rehearsal, tempfile::TempDir) {
    let desk = Rehearsal::stocked();
    for words in [
        "material set|Deep blue|--colour-index|PB28|--hazard|May produce an allergic reaction.",
        "recipe add|深い河 Ægir Река נהר نهر नदी|--layer|colour|--part|Deep blue 1|--mound|2..3",
        "mix|Ground|--volume|120ml|--mark|B2|--tape|white",
        "mix|River blue|--volume|90ml|--mark|K7|--tape|green",
        "mix|深い河 Ægir Река נהר نهر नदी|--volume|90ml|--mark|A33",
    ] {
        desk.does(words);
    }
    (desk, tempfile::tempdir().unwrap())
}

fn printed_labels(words: &str) -> (Rehearsal, tempfile::TempDir, PathBuf) {
    let (desk, folder) = mixed();
    let out = folder.path().join("labels.pdf");
    desk.does(&format!("labels|{words}|--out|{}", out.display()));
    (desk, folder, out)
}

/// The first and last dark dot of a line of dots, between two columns.
fn extent(picture: &Grey, y: usize, from: usize, to: usize) -> (usize, usize) {
    let dark: Vec<usize> = (from..to).filter(|x| picture.dark(*x, y)).collect();
    (dark[0], dark[dark.len() - 1])
}

/// A4 at 300 dots an inch is 2480 x 3508 (ISO 216: 210 x 297 mm). The tape's bar of the default label is 70 mm less twice
/// 7 % of its height wide, whichever place the label takes: a ruler of millimetres drawn by the program itself.
#[test]
fn labels_lie_to_a_dot_where_their_millimetres_say() {
    let (_desk, _folder, out) = printed_labels("--living|--from|5");
    let Some(picture) = Grey::of_page(&out, 1) else {
        return;
    };
    assert!(
        (picture.width as f64 - dots(210.0)).abs() <= 1.0,
        "{}",
        picture.width
    );
    assert!(
        (picture.height as f64 - dots(297.0)).abs() <= 1.0,
        "{}",
        picture.height
    );
    // Place 5 of three across is the second of the second row: from 70 mm and 37 mm on.
    let pad = 37.0 * 0.07;
    let within = 37.0 - 2.0 * pad;
    let y = dots(37.0 + pad + within * 0.41 + pad * 0.5 + 0.3) as usize;
    let (first, last) = extent(&picture, y, dots(70.0) as usize, dots(140.0) as usize);
    assert!(
        (first as f64 - dots(70.0 + pad)).abs() <= 3.0,
        "begins at {first}"
    );
    assert!(
        (last as f64 - dots(140.0 - pad)).abs() <= 3.0,
        "ends at {last}"
    );
    // Nothing is printed on the places that are used up.
    let used = (0..dots(36.0) as usize).all(|y| (0..picture.width).all(|x| !picture.dark(x, y)));
    assert!(
        used,
        "the first row of labels is used up and must stay white"
    );
}

/// J and Q hang below the foot of the other letters, and J begins left of it: the bar hides nothing of a mark, and nothing
/// of it lies on the label's edge.
#[test]
fn a_mark_that_hangs_below_its_line_is_whole() {
    let desk = Rehearsal::stocked();
    let folder = tempfile::tempdir().unwrap();
    for (mark, size) in [
        ("J2", (70.0, 37.0)),
        ("Q2", (70.0, 37.0)),
        ("J3", (30.0, 15.0)),
    ] {
        desk.does(&format!(
            "mix|River blue|--volume|90ml|--mark|{mark}|--tape|green"
        ));
        let out = folder.path().join(format!("{mark}.pdf"));
        let roll = format!("{}x{}mm", size.0, size.1);
        desk.does(&format!(
            "labels|{mark}|--roll|{roll}|--out|{}",
            out.display()
        ));
        let Some(picture) = Grey::of_page(&out, 1) else {
            return;
        };
        let pad: f64 = (size.1 * 0.07_f64).clamp(1.0, 4.0);
        let bar = pad + (size.1 - 2.0 * pad) * 0.41 + pad * 0.5;
        let above_the_bar = dots(bar - 0.3) as usize;
        let hidden = (0..picture.width)
            .filter(|x| picture.dark(*x, above_the_bar))
            .count();
        assert_eq!(hidden, 0, "{mark} goes on beneath its bar");
        let left = dots(pad - 0.3) as usize;
        let over = (0..picture.height).any(|y| (0..left).any(|x| picture.dark(x, y)));
        assert!(!over, "{mark} goes over the label's edge");
    }
}

/// A small label leaves out what it has no room for, and never that there is a warning; a tape's colour is said whole.
#[test]
fn a_small_label_says_the_tape_and_that_there_is_a_warning() {
    let (desk, folder) = mixed();
    let out = folder.path().join("small.pdf");
    desk.does("mix|River blue|--volume|90ml|--mark|M7|--tape|green");
    desk.does(&format!("labels|M7|--roll|30x15mm|--out|{}", out.display()));
    let Some(text) = text_of(&out) else { return };
    assert!(
        text.contains("COLOUR · green") && !text.contains("tap…"),
        "{text}"
    );
    assert!(text.contains("! River blue"), "{text}");
}

/// The code is the mark alone.
#[test]
fn two_readers_of_qr_codes_read_the_marks_alone() {
    let (_desk, folder, out) = printed_labels("B2|K7|A33");
    let Some(picture) = Grey::of_page(&out, 1) else {
        return;
    };
    // The right half of each label's upper half: there its code stands.
    let size = (dots(30.0) as usize, dots(18.0) as usize);
    let codes = [40.0, 110.0, 179.9].map(|x| picture.code((dots(x) as usize, 0), (size.0, size.1)));
    assert_eq!(codes, ["B2", "K7", "A33"]);
    let stem = folder.path().join("page");
    printed(
        "pdftoppm",
        &[
            "-r",
            "300",
            "-png",
            out.to_str().unwrap(),
            stem.to_str().unwrap(),
        ],
    );
    let page = folder.path().join("page-1.png");
    let Some(read) = printed("zbarimg", &["-q", "--raw", page.to_str().unwrap()]) else {
        return;
    };
    let mut read: Vec<String> = String::from_utf8(read)
        .unwrap()
        .lines()
        .map(str::to_owned)
        .collect();
    read.sort();
    assert_eq!(read, ["A33", "B2", "K7"]);
}

/// Read back by poppler: names in six scripts, what warns, and no letter that is lost.
#[test]
fn every_script_and_every_warning_is_on_the_label() {
    let (_desk, _folder, out) = printed_labels("A33|--roll|100x60mm");
    let Some(text) = text_of(&out) else { return };
    for word in [
        "深い河",
        "Ægir",
        "Река",
        "नदी",
        "COLOUR",
        "cobalt pigment",
        "allergic reaction",
        "mound 2 to 3 s",
        "Deep blue",
    ] {
        assert!(text.contains(word), "{word} in {text}");
    }
    assert!(!text.contains(['\u{fffd}', '?']), "{text}");
}

/// A roll has a page a label, of the roll's own size.
#[test]
fn a_roll_is_a_page_a_label() {
    let (_desk, _folder, out) = printed_labels("--living|--roll|62x29mm|--copies|2");
    let Some(info) = printed("pdfinfo", &[out.to_str().unwrap()]) else {
        return;
    };
    let info = String::from_utf8(info).unwrap();
    assert!(
        info.lines()
            .any(|line| line.starts_with("Pages:") && line.ends_with(" 6")),
        "{info}"
    );
    let Some(picture) = Grey::of_page(&out, 6) else {
        return;
    };
    assert!(
        (picture.width as f64 - dots(62.0)).abs() <= 1.0
            && (picture.height as f64 - dots(29.0)).abs() <= 1.0
    );
}

#[test]
fn what_cannot_be_printed_is_a_sentence_and_no_file() {
    let (desk, folder) = mixed();
    let out = folder.path().join("labels.pdf");
    let there = folder.path().join("there.pdf");
    std::fs::write(&there, "mine").unwrap();
    let nowhere = folder.path().join("no/such/folder.pdf");
    for (words, file) in [
        ("--living|--sheet|4x8", &out),
        ("--living|--label|0x0mm", &out),
        ("--living|--label|70", &out),
        ("--living|--from|25", &out),
        ("--living|--copies|0", &out),
        ("--living|--copies|4000000000", &out),
        ("--living|--roll|3mm", &out),
        ("--living|--roll|wide", &out),
        ("Q2", &out),
        ("--plan|7", &out),
        ("--living", &there),
        ("--living", &nowhere),
    ] {
        let line = format!("labels|{words}|--out|{}", file.display());
        let done = desk.run(&line.split('|').collect::<Vec<_>>());
        assert_eq!(done.code, 1, "{words}: {done:?}");
        assert!(
            done.err.starts_with("stillcup: ") && done.err.lines().count() == 2,
            "{words}: {done:?}"
        );
        assert!(!out.exists(), "{words}");
    }
    assert_eq!(std::fs::read_to_string(&there).unwrap(), "mine");
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1);
}
