//! The photos of a pour: added by path, their corners moved, what was measured kept or refused, two beside each other.

use super::{Play, Stage, keys, lines, shows, typed};
use crate::screen::kit::keys::code;
use crate::screen::kit::look::Look;
use crate::studio::{Asked, OutcomeKind, PhotoPage};
use crate::tell;
use crate::trade::amount::Measures;
use crossterm::event::KeyCode;
use image::{Rgb, RgbImage};
use ratatui::buffer::Buffer;
use std::fs::File;
use std::path::{Path, PathBuf};

/// Ticks enough for a photo to be read and measured: one waits for it no longer than it takes.
pub(super) fn meanwhile() -> Vec<Play> {
    (0..400).map(|_| Play::Tick).collect()
}

/// A studio with one pour, and a folder of new photos.
fn stage() -> (Stage, PathBuf) {
    let stage = super::rack::stage(0);
    let card = stage.file().with_file_name("card");
    std::fs::create_dir(&card).unwrap();
    let folder = card.display().to_string();
    let mut studio = stage.studio();
    studio.set("photos-from", &folder, &stage.now).unwrap();
    (stage, card)
}

/// A studio whose pour has one photo, measured and kept.
pub(super) fn stage_measured() -> Stage {
    let (stage, card) = stage();
    put(&card, "IMG_1.png", 12.0);
    let file = File::options()
        .write(true)
        .open(card.join("IMG_1.png"))
        .unwrap();
    file.set_modified(stage.now.at.into()).unwrap();
    let mut script = measured();
    script.extend(keys("k"));
    stage.play(script);
    stage
}

/// Light discs on a dark ground and nothing else: where the panel ends cannot be seen.
fn put(card: &Path, name: &str, radius: f64) {
    let panel = RgbImage::from_fn(200, 150, |x, y| {
        let middle = |at: u32| (f64::from(at) + 0.5).rem_euclid(40.0) - 20.0;
        match middle(x).hypot(middle(y)) <= radius {
            true => Rgb([225, 215, 190]),
            false => Rgb([30, 42, 60]),
        }
    });
    panel.save(card.join(name)).unwrap();
}

fn photos(stage: &Stage) -> Vec<PhotoPage> {
    stage.studio().photos(Some(1)).unwrap()
}

fn blocks(buffer: &Buffer) -> usize {
    let cells = buffer.content.iter();
    cells.filter(|cell| cell.symbol() == "▀").count()
}

/// Adds the newest photo, moves a corner by one step, measures with the corners as they are then.
fn measured() -> Vec<Play> {
    let mut script = keys("3 p a Enter");
    script.extend(meanwhile());
    script.extend(keys("c"));
    script.extend([
        Play::Key(code(KeyCode::Right)),
        Play::Key(code(KeyCode::Tab)),
    ]);
    script.extend(keys("Enter"));
    script.extend(meanwhile());
    script
}

#[test]
fn the_newest_photo_is_added_its_corners_moved_and_what_is_counted_kept_or_refused() {
    let (mut stage, card) = stage();
    stage.size = (100, 30);
    assert!(shows(
        &stage.play(keys("3 p")),
        "Picture 1 has no photo yet: a adds one."
    ));
    put(&card, "IMG_1.png", 12.0);
    let form = stage.play(keys("3 p a"));
    assert!(shows(&form, "IMG_1.png"), "{:#?}", lines(&form));
    let mut script = keys("3 p a Enter");
    script.extend(meanwhile());
    let added = stage.play(script);
    let words = lines(&added).join(" ");
    assert!(words.contains("is kept, not measured"), "{words}");
    assert!(blocks(&added) > 200 && shows(&added, "not measured"));
    assert!(photos(&stage)[0].measured.is_empty());
    // The corners, and what is counted within them.
    let mut script = keys("3 p");
    script.extend(meanwhile());
    script.extend(keys("c"));
    script.push(Play::Key(code(KeyCode::Right)));
    let moved = stage.play(script);
    assert!(shows(&moved, "Arrows move the top left corner"));
    assert!(shows(&moved, "top left: 22, 15"), "{:#?}", lines(&moved));
    put(&card, "IMG_2.png", 13.0);
    let counted = stage.play(measured());
    assert!(
        shows(&counted, "k keeps it, x refuses it"),
        "{:#?}",
        lines(&counted)
    );
    assert!(
        photos(&stage)[1].measured.is_empty(),
        "nothing is kept unasked"
    );
    put(&card, "IMG_3.png", 14.0);
    let mut script = measured();
    script.extend(keys("k"));
    let kept = stage.play(script);
    let page = &photos(&stage)[2];
    assert_eq!(
        (page.measured.len(), page.measured[0].how.as_str()),
        (1, "given")
    );
    assert!(shows(
        &kept,
        &format!("{} cells over", page.measured[0].cells)
    ));
    stage.play(keys("3 p Right Right x"));
    assert!(photos(&stage)[2].measured.is_empty());
    stage.play(keys("u u"));
    assert_eq!(photos(&stage)[2].measured.len(), 1);
    stage.play(keys("3 p D"));
    assert_eq!(photos(&stage).len(), 2);
}

#[test]
fn a_path_is_typed_and_what_is_no_photo_is_said() {
    let (stage, card) = stage();
    put(&card, "IMG_1.png", 12.0);
    std::fs::create_dir(card.join("deep")).unwrap();
    put(&card.join("deep"), "below.png", 9.0);
    std::fs::write(card.join("torn.jpg"), b"\xff\xd8\xff\xe0").unwrap();
    let add = |text: &str| {
        let mut script = keys("3 p a");
        script.extend(typed(text));
        script.extend(keys("Enter"));
        script.extend(meanwhile());
        stage.play(script)
    };
    let mut script = keys("3 p a");
    script.extend(typed("deep/"));
    let folder = stage.play(script);
    assert!(shows(&folder, "deep/below.png"), "{:#?}", lines(&folder));
    let torn = lines(&add("torn")).join(" ");
    assert!(torn.contains("damaged or cut short"), "{torn}");
    let none = lines(&add("zzz")).join(" ");
    assert!(none.contains("is none of"), "{none}");
    assert!(photos(&stage).is_empty());
    add(&format!("'{}/deep/below.png'", card.display()));
    assert_eq!(photos(&stage).len(), 1);
    let twice = lines(&add("deep/below.png")).join(" ");
    assert!(twice.contains("kept already"), "{twice}");
}

#[test]
fn every_size_shows_photos_and_without_colours_words_alone() {
    let mut stage = stage_measured();
    for size in [(50, 16), (80, 24), (160, 50)] {
        stage.size = size;
        let mut script = keys("3 p");
        script.extend(meanwhile());
        let seen = stage.play(script);
        assert!(
            shows(&seen, "cells over") && blocks(&seen) > 100,
            "{size:?} {:#?}",
            lines(&seen)
        );
    }
    stage.look = Look::Plain;
    let plain = stage.play(keys("3 p"));
    assert!(blocks(&plain) == 0 && shows(&plain, "cells over"));
    assert!(shows(&plain, "#"), "colours have their names");
}

#[test]
fn two_photos_stand_beside_each_other() {
    let (mut stage, card) = stage();
    stage.size = (100, 30);
    assert!(shows(
        &stage.play(keys("3 p b")),
        "There is no photo here yet"
    ));
    for (name, radius) in [("IMG_1.png", 12.0), ("IMG_2.png", 9.0)] {
        put(&card, name, radius);
        let mut script = keys("3 p a");
        script.extend(typed(name));
        script.extend(keys("Enter"));
        script.extend(meanwhile());
        stage.play(script);
    }
    let mut script = keys("3 p b");
    script.extend(meanwhile());
    let two = stage.play(script);
    let words = lines(&two).join(" ");
    assert!(
        words.contains("photo 1 of picture 1") && words.contains("photo 2 of picture 1"),
        "{words}"
    );
}

#[test]
fn the_rack_shows_the_chosen_picture_s_thumbnail_where_there_is_room() {
    let (mut stage, card) = stage();
    assert_eq!(blocks(&stage.play(keys("3"))), 0);
    put(&card, "IMG_1.png", 12.0);
    let mut script = keys("3 p a Enter");
    script.extend(meanwhile());
    stage.play(script);
    for (size, least) in [((80, 24), 3), ((160, 50), 10)] {
        stage.size = size;
        assert!(blocks(&stage.play(keys("3"))) > 40, "{size:?}");
        let mut script = keys("3");
        script.extend(meanwhile());
        let shown = stage.play(script);
        // Before the row itself too, whose first cell is then a half block.
        let row = (0..size.1).find(|&y| shown[(0, y)].symbol() == "▀");
        let row = row.unwrap_or_else(|| panic!("{size:?}: {:#?}", lines(&shown)));
        let wide = (0..6).filter(|&x| shown[(x, row)].symbol() == "▀").count();
        let high = (0..2)
            .filter(|&y| shown[(0, row + y)].symbol() == "▀")
            .count();
        assert!(wide * high >= least, "{size:?}: {wide} x {high}");
    }
    stage.studio().set("pictures", "words", &stage.now).unwrap();
    assert_eq!(blocks(&stage.play(keys("3"))), 0);
}

/// By `o` on the Findings: your cells, then each measured outcome, with the numbers of `findings --outcome`.
#[test]
fn the_findings_tell_what_the_photos_say_as_the_command_does() {
    let (mut stage, card) = stage();
    put(&card, "IMG_1.png", 12.0);
    let mut script = measured();
    script.extend(keys("k"));
    stage.play(script);
    let outcomes = [
        OutcomeKind::Share,
        OutcomeKind::Diameter,
        OutcomeKind::Evenness,
        OutcomeKind::Number,
    ];
    for size in [(50, 16), (80, 24), (160, 50)] {
        stage.size = size;
        for (at, outcome) in outcomes.into_iter().enumerate() {
            let asked = Asked::default();
            let found = stage
                .studio()
                .measured_findings(&asked, outcome, &stage.now);
            let found = found.unwrap();
            let believed = &found.variants[0].believed;
            let mean = tell::measured::value(outcome, believed.own, Measures::Metric);
            let script = format!("F a o{}", " o".repeat(at + 1));
            let cells = stage.play(keys(&script));
            let shown = lines(&cells).join(" ");
            let words = shown.split_whitespace().collect::<Vec<_>>().join(" ");
            assert!(words.contains("1 measured pour ever"), "{outcome} {words}");
            assert!(
                words.contains(&format!("its own mean {mean}")),
                "{outcome} {size:?} {mean}: {words}"
            );
        }
    }
    let cells = stage.play(keys("F a o o Enter"));
    assert!(
        shows(&cells, "The measured pours of"),
        "{:#?}",
        lines(&cells)
    );
    let cells = stage.play(keys("F a o o Esc"));
    assert!(!shows(&cells, "measured pour"), "{:#?}", lines(&cells));
    let cells = stage.play(keys("F a o o o o o o"));
    assert!(!shows(&cells, "measured pour"), "{:#?}", lines(&cells));
}
