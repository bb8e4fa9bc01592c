//! The Pour's keys: the stack, its faults, the pour, the start-over, the judgement.

use super::{Play, Stage, keys, lines, place, shows, typed};
use crate::studio::PourPage;
use crate::trade::pour::MoveKind;
use chrono::TimeDelta;
use ratatui::style::Color;

fn all(parts: Vec<Vec<Play>>) -> Vec<Play> {
    parts.into_iter().flatten().collect()
}

/// A ready colour (2.5 s) beside the activator (1.5 s).
fn stage() -> Stage {
    let stage = Stage::with_cups();
    stage.mix(
        "River blue",
        "C5",
        -TimeDelta::hours(20),
        Some((2.5, -TimeDelta::minutes(5))),
    );
    stage
}

fn pours(stage: &Stage) -> Vec<PourPage> {
    stage.studio().pours(None).unwrap()
}

fn panel() -> Vec<Play> {
    all(vec![keys("P p"), typed("40x50cm"), keys("Enter")])
}

#[test]
fn ready_cups_go_on_the_thickest_lowest_and_the_activator_on_top() {
    let mut stage = stage();
    for size in [(50, 16), (80, 24), (120, 40)] {
        stage.size = size;
        let cells = stage.play(all(vec![panel(), keys("A")]));
        let (top, low) = (place(&cells, "2 B4").1, place(&cells, "1 C5").1);
        assert!(top < low && low < place(&cells, "▔ panel").1);
        assert!(!shows(&cells, "K7"), "K7 is thick: {:#?}", lines(&cells));
        let head = lines(&cells)[..2].join(" ");
        // 29.57 ml on 25 square inches are 367 ml here; 5 of 40 parts of them the activator's 46, and all 120 of the colour.
        assert!(
            head.contains("The stack is in order: g pours 166 ml on"),
            "{head}"
        );
    }
}

/// By hand: 20 x 20 cm take 73.3 ml, 35 of 40 parts the colour, 5 the activator (common practice, no source).
#[test]
fn ready_cups_are_proposed_as_the_panel_takes_them_and_changed_by_a_twentieth() {
    let stage = stage();
    let small = || all(vec![keys("P p"), typed("20x20"), keys("Enter A")]);
    let cells = stage.play(small());
    assert!(
        shows(&cells, "64 ml") && shows(&cells, "9.2 ml"),
        "{:#?}",
        lines(&cells)
    );
    let cells = stage.play(all(vec![small(), keys("> >")]));
    assert!(shows(&cells, "10 ml"), "{:#?}", lines(&cells));
    let cells = stage.play(all(vec![small(), keys("> > u u")]));
    assert!(shows(&cells, "9.2 ml"), "{:#?}", lines(&cells));
}

#[test]
fn a_layer_that_is_not_thinner_is_said_while_the_stack_is_built() {
    let stage = stage();
    let cells = stage.play(all(vec![panel(), keys("A Up -")]));
    let fault = "✗ C5 lies on the activator B4: the activator goes on top";
    assert!(shows(&cells, fault), "{:#?}", lines(&cells));
    let cells = stage.play(all(vec![
        panel(),
        keys("a"),
        typed("K7"),
        keys("Enter Enter"),
    ]));
    assert!(shows(&cells, "✗ K7 has thickened"), "{:#?}", lines(&cells));
}

#[test]
fn a_pour_takes_the_cups_down_and_keeps_moves_and_air() {
    let stage = stage();
    let air = all(vec![keys("i"), typed("21C,45%"), keys("Enter")]);
    let amount = all(vec![keys("Enter"), typed("30"), keys("Enter")]);
    let spin = all(vec![keys("s"), typed("ccw:2"), keys("Enter t Enter")]);
    stage.play(all(vec![panel(), keys("A"), amount, air, spin, keys("g")]));
    let poured = &pours(&stage)[0].pour;
    let layers: Vec<_> = poured.layers.iter().map(|layer| layer.ml.get()).collect();
    assert_eq!(layers, [120.0, 30.0]);
    assert_eq!(poured.air.unwrap().celsius.unwrap().get(), 21.0);
    assert_eq!(poured.moves[0].direction.as_deref(), Some("ccw"));
    assert_eq!((poured.moves[0].times, poured.moves.len()), (Some(2.0), 2));
    let left = stage
        .studio()
        .cup_page("B4", &stage.now)
        .unwrap()
        .standing
        .life
        .left;
    assert_eq!(left.get(), 90.0);
}

#[test]
fn starting_over_scrapes_the_last_and_judging_is_one_digit() {
    let stage = stage();
    let amounts = all(vec![
        keys("Enter"),
        typed("30"),
        keys("Enter Down Enter"),
        typed("40"),
        keys("Enter"),
    ]);
    let cells = stage.play(all(vec![panel(), keys("A"), amounts, keys("g o")]));
    assert!(
        shows(&cells, "Pour 2, second start: C5, B4"),
        "{:#?}",
        lines(&cells)
    );
    let cells = stage.play(keys("P d"));
    assert!(shows(&cells, "How many cells has picture 2, wet?"));
    stage.play(keys("P d 4"));
    let pours = pours(&stage);
    assert_eq!(
        (pours[0].pour.again_of, pours[0].judgements[0].cells),
        (Some(1), 4)
    );
    assert!(!pours[0].judgements[0].dry);
    stage.play(keys("P d d 5"));
    assert!(super::pour::pours(&stage)[0].counting().unwrap().dry);
}

#[test]
fn more_than_a_cup_holds_is_refused_with_a_key_that_keeps_it_even_so() {
    let stage = stage();
    let much = all(vec![panel(), keys("A Enter"), typed("200"), keys("Enter")]);
    let cells = stage.play(all(vec![much, keys("g")]));
    assert!(
        shows(&cells, "✗ Not done: B4 holds 120.0 ml, not 200.0 ml"),
        "{:#?}",
        lines(&cells)
    );
    assert!(shows(&cells, "G pours"), "{:#?}", lines(&cells));
    assert!(shows(&cells, "2 B4"), "the stack stays as it was built");
    let much = all(vec![
        panel(),
        keys("A Enter"),
        typed("200"),
        keys("Enter G"),
    ]);
    stage.play(much);
    assert_eq!(pours(&stage).len(), 1);
}

#[test]
fn a_cup_is_put_on_the_stack_from_the_bench() {
    let stage = stage();
    let cells = stage.play(keys("p"));
    assert!(shows(&cells, "1 K7") && shows(&cells, "no panel yet"));
}

#[test]
fn undo_puts_back_what_was_taken_off_the_stack_and_only_then_takes_deeds_back() {
    let stage = stage();
    let cups = || stage.studio().bench(&stage.now).unwrap().len();
    let before = cups();
    let cells = stage.play(all(vec![panel(), keys("A X u")]));
    assert!(
        shows(&cells, "2 B4") && shows(&cells, "1 C5"),
        "{:#?}",
        lines(&cells)
    );
    assert!(shows(&cells, "40 x 50 cm") && shows(&cells, "The stack is as it was before"));
    let cells = stage.play(all(vec![panel(), keys("A x x u u")]));
    assert!(shows(&cells, "2 B4") && shows(&cells, "1 C5"));
    assert_eq!(cups(), before, "no deed was taken back");
    // One thing after another, whatever it was.
    let cells = stage.play(all(vec![panel(), keys("A X A u u")]));
    assert!(shows(&cells, "2 B4") && shows(&cells, "1 C5"));
    // Then it is asked before the logbook's own last deed is taken back.
    let asked = stage.play(keys("P a Enter Enter b Enter u u u"));
    assert!(!shows(&asked, "1 C5") && shows(&asked, "u again takes"));
    assert_eq!(cups(), before, "it is only asked");
    let cells = stage.play(keys("P a Enter Enter b Enter u u u u"));
    assert!(shows(&cells, "taken back:"), "{:#?}", lines(&cells));
}

#[test]
fn a_start_over_of_emptied_cups_says_how_to_go_on_and_goes_on_so() {
    let stage = stage();
    stage.play(all(vec![panel(), keys("A g")]));
    let cells = stage.play(keys("P o"));
    let words = lines(&cells).join(" ");
    let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        words.contains("put other cups on the stack (a or A), then o starts pour 1 over with them"),
        "{words}"
    );
    stage.mix(
        "River blue",
        "D6",
        -TimeDelta::hours(20),
        Some((2.5, -TimeDelta::minutes(5))),
    );
    let cells = stage.play(all(vec![keys("P a"), typed("D6"), keys("Enter Enter")]));
    assert!(
        shows(&cells, "o starts pour 1 over with this stack"),
        "{:#?}",
        lines(&cells)
    );
    stage.play(all(vec![keys("P a"), typed("D6"), keys("Enter Enter o")]));
    let newest = &pours(&stage)[0];
    assert_eq!(
        (newest.pour.again_of, newest.layers[0].mark.as_str()),
        (Some(1), "D6")
    );
}

#[test]
fn a_move_after_the_pour_is_written_down_with_it_and_not_with_the_next() {
    let stage = stage();
    let cells = stage.play(all(vec![
        panel(),
        keys("A g s Enter t"),
        typed("left"),
        keys("Enter"),
    ]));
    assert!(
        shows(&cells, "tilt is written down with picture 1"),
        "{:#?}",
        lines(&cells)
    );
    let moves: Vec<_> = pours(&stage)[0]
        .pour
        .moves
        .iter()
        .map(|one| one.kind)
        .collect();
    assert_eq!(moves, [MoveKind::Spin, MoveKind::Tilt]);
    // With a stack in hand they are the next pour's.
    stage.play(keys("P a Enter Enter s Enter"));
    assert_eq!(pours(&stage)[0].pour.moves.len(), 2);
}

#[test]
fn the_last_pour_is_put_right_and_what_was_only_shown_stays() {
    let stage = stage();
    stage.play(all(vec![panel(), keys("A g")]));
    let was = pours(&stage)[0].pour.clone();
    let cells = stage.play(all(vec![keys("P E Tab"), typed("swipe"), keys("Enter")]));
    assert!(
        shows(&cells, "Picture 1 is put right"),
        "{:#?}",
        lines(&cells)
    );
    let is = pours(&stage)[0].pour.clone();
    assert_eq!(is.way.as_deref(), Some("swipe"));
    assert_eq!(
        (is.panel, is.layers, is.air),
        (was.panel, was.layers, was.air)
    );
}

/// 120 ml on 8 by 5 cm stand 30 mm deep: a slip of the finger is said before anything is poured, and so is more than a
/// cup holds.
#[test]
fn a_film_no_one_pours_and_more_than_a_cup_holds_are_said_while_the_stack_is_built() {
    let mut stage = stage();
    for size in [(50, 16), (80, 24), (160, 50)] {
        stage.size = size;
        let colour = |ml: &str| {
            all(vec![
                keys("a"),
                typed("C5"),
                keys("Tab"),
                typed(ml),
                keys("Enter"),
            ])
        };
        let slip = all(vec![
            keys("P p"),
            typed("8x5"),
            keys("Enter"),
            colour("120"),
        ]);
        let cells = stage.play(slip);
        let told = lines(&cells).join(" ");
        assert!(told.contains("deep"), "{:#?}", lines(&cells));
        // The colour twice: 120 and 30 of its 120 ml.
        let twice = all(vec![panel(), colour("120"), colour("30")]);
        let cells = stage.play(twice);
        let told = lines(&cells).join(" ");
        let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(
            told.contains("150 ml of C5 are to be poured, and 120 ml are left"),
            "{told}"
        );
        assert!(told.contains("C5 twice in a row is one layer"), "{told}");
    }
    assert!(pours(&stage).is_empty());
}

/// What the message promises: cups that were put on before the panel was said take what it needs.
#[test]
fn once_the_panel_is_said_all_ready_takes_what_it_needs() {
    let stage = Stage::with_cups();
    let told = |script: Vec<Play>| lines(&stage.play(script)).join("\n");
    let before = told(keys("P A"));
    assert!(before.contains("120 ml ● ready"), "{before}");
    let panel = || {
        let mut script = keys("P A p");
        script.extend(typed("20x20cm"));
        script.extend(keys("Enter A"));
        script
    };
    let after = told(panel());
    assert!(!after.contains("120 ml ● ready"), "{after}");
    let straight = {
        let mut script = keys("P p");
        script.extend(typed("20x20cm"));
        script.extend(keys("Enter A"));
        told(script)
    };
    let layer = |told: &str| {
        told.lines()
            .find(|line| line.contains("B4"))
            .map(str::to_owned)
    };
    assert_eq!(layer(&after), layer(&straight));
    // What was set by hand stays, and a third time there is nothing left to do.
    let mut script = panel();
    script.extend(keys("< A"));
    let told = told(script);
    assert!(told.contains("No other cup is ready"), "{told}");
}

#[test]
fn the_films_stand_to_scale_beside_the_ladder_where_there_is_room() {
    let mut stage = Stage::with_cups();
    super::swatches::coloured(&stage);
    stage.size = (120, 40);
    let cells = stage.play(keys("P A"));
    assert!(shows(&cells, "Once the panel (p)"), "{:#?}", lines(&cells));
    let script = || all(vec![keys("P p"), typed("20x30cm"), keys("Enter A")]);
    let cells = stage.play(script());
    let (x, y) = place(&cells, "████████████████ B4");
    assert_eq!(cells[(x, y)].fg, Color::Rgb(0x1e, 0x5a, 0xb4));
    assert!(
        shows(&cells, "The panel, 20 x 30 cm: "),
        "{:#?}",
        lines(&cells)
    );
    stage.size = (80, 24);
    assert!(!shows(&stage.play(script()), "to scale"));
}
