//! The terminal is given back as it was, whatever ends the program; and it follows its size.

use super::Stage;
use super::hands::Hands;
use std::path::Path;
use stillcup::studio::Studio;

#[test]
fn leaving_gives_it_back() {
    let stage = Stage::with_cups();
    let mut hands = Hands::on(&stage, 80, 24);
    hands.see("the alternate screen", |screen| {
        screen.alternate_screen() && screen.contents().contains("resting A3")
    });
    hands.press("q");
    assert!(hands.see_closed().1);
    assert!(hands.child.wait().unwrap().success());
}

#[test]
fn being_asked_to_end_gives_it_back_and_loses_nothing() {
    for signal in ["TERM", "HUP", "INT"] {
        let stage = Stage::with_cups();
        let mut hands = Hands::on(&stage, 80, 24);
        hands.see_text("resting A3");
        hands.press("m");
        hands.see_text("Mix a cup");
        hands.signal(signal);
        assert!(hands.see_closed().1, "{signal}");
        assert_eq!(stage.studio().bench(&super::now()).unwrap().len(), 3);
    }
}

/// Not a test of its own: the screen with a clock that fails at its third look.
#[test]
#[ignore = "run as a child by the test below"]
fn panicking_child() {
    let file = std::env::var("STILLCUP_STUDIO").unwrap();
    let studio = Studio::open(Path::new(&file)).unwrap();
    let looks = std::cell::Cell::new(0);
    let clock = || {
        looks.set(looks.get() + 1);
        assert!(looks.get() < 3, "the clock fell off the wall");
        super::now()
    };
    let _ = stillcup::screen::run(studio, Path::new(&file), &clock);
}

#[test]
fn a_panic_gives_it_back_before_it_speaks() {
    let stage = Stage::with_cups();
    let name = "terminal::given_back::panicking_child";
    let hands = Hands::on_test(name, &[("STILLCUP_STUDIO", &stage.file())]);
    let (shown, back) = hands.see_closed();
    assert!(
        back && shown.contains("the clock fell off the wall"),
        "{shown}"
    );
}

#[test]
fn another_size_is_followed() {
    let stage = Stage::with_cups();
    let hands = Hands::on(&stage, 80, 24);
    hands.see_text("resting A3");
    hands.resize(160, 50);
    hands.see_text("what happened");
    hands.resize(50, 16);
    let small = hands.see("the narrow strip", |screen| {
        let shown = screen.contents();
        shown.contains("1 Bench  2  3") && shown.contains("resting A3")
    });
    assert!(small.lines().all(|line| line.chars().count() <= 50));
}
