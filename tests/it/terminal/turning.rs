//! A cup that turns while the screen is open, on a real terminal with a clock moved by hand.

use super::hands::Hands;
use super::{Stage, now};
use chrono::TimeDelta;
use std::path::Path;
use stillcup::studio::Studio;
use stillcup::trade::instant::Now;

/// Not a test of its own: the screen with a clock that is so many minutes past ten as a file says.
#[test]
#[ignore = "run as a child by the test below"]
fn child_with_a_moved_clock() {
    let file = std::env::var("STILLCUP_STUDIO").unwrap();
    let moved = std::env::var("MOVED").unwrap();
    let studio = Studio::open(Path::new(&file)).unwrap();
    let clock = || {
        let minutes = std::fs::read_to_string(&moved).unwrap_or_default();
        let minutes = TimeDelta::minutes(minutes.trim().parse().unwrap_or(0));
        Now {
            at: now().at + minutes,
            ..now()
        }
    };
    stillcup::screen::run(studio, Path::new(&file), &clock).unwrap();
}

#[test]
fn it_changes_and_rings_once() {
    let stage = Stage::with_cups();
    let moved = stage.file().with_extension("minutes");
    let name = "terminal::turning::child_with_a_moved_clock";
    let mut hands = Hands::on_test(
        name,
        &[("STILLCUP_STUDIO", &stage.file()), ("MOVED", &moved)],
    );
    hands.see_text("● ready   B4");
    assert_eq!(hands.bells(), 0);
    // B4 was read at 09:40; it holds for an hour.
    std::fs::write(&moved, "41").unwrap();
    hands.see_text("B4 is now thick: not read for");
    assert_eq!(hands.bells(), 1);
    // A minute on, it is drawn again; it has not turned again.
    std::fs::write(&moved, "43").unwrap();
    hands.see_text("h 3 min; read it again");
    assert_eq!(hands.bells(), 1);
    hands.press("q");
    assert!(hands.see_closed().1);
}

#[test]
fn a_clock_set_back_or_begun_before_the_last_entry_is_said() {
    let stage = Stage::with_cups();
    let moved = stage.file().with_extension("minutes");
    let name = "terminal::turning::child_with_a_moved_clock";
    let variables = [("STILLCUP_STUDIO", &*stage.file()), ("MOVED", &*moved)];
    let hands = Hands::on_test(name, &variables);
    hands.see_text("● ready   B4");
    std::fs::write(&moved, "-65").unwrap();
    hands.see_text("the clock was set back from 10:00 to 08:55");
    hands.see_text("B4");
    drop(hands);
    // Opened while it stands so: what was done last was done at ten.
    let hands = Hands::on_test(name, &variables);
    hands.see_text("the clock stands at 08:55, before the last thing");
}
