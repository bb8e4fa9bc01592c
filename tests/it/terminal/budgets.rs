//! How many keys the work takes, counted on a real terminal.

use super::hands::Hands;
use super::stage::mix;
use super::{Stage, now};
use chrono::TimeDelta;
use stillcup::studio::{JudgeOrder, PourOrder, Studio};
use stillcup::trade::amount::Amount;
use stillcup::trade::cup::Happened;
use stillcup::trade::judgement::{CellSize, Fate};
use stillcup::trade::panel::Panel;
use stillcup::trade::units::Millilitres;

const BENCH: &str = "wants a hand now";

#[test]
fn which_can_be_poured_and_which_must_be_thinned_takes_no_key() {
    for (columns, rows) in [(50, 16), (80, 24), (160, 50)] {
        let stage = Stage::with_cups();
        let hands = Hands::on(&stage, columns, rows);
        let shown = hands.see_text("resting A3").replace('\n', " ");
        assert!(shown.contains("K7 has thickened"), "{shown}");
        assert!(shown.contains("B4 can be poured"), "{shown}");
        assert_eq!(hands.pressed, 0);
    }
}

#[test]
fn a_cup_like_the_last_takes_at_most_four() {
    let stage = Stage::with_cups();
    let mut hands = Hands::on(&stage, 80, 24);
    hands.see_text(BENCH);
    hands.press("l Enter");
    hands.see_text("on the lid: Cell opener v1, 120 ml");
    assert!(hands.pressed <= 4);
    assert_eq!(stage.studio().bench(&now()).unwrap().len(), 4);
}

#[test]
fn a_cup_of_another_recipe_with_a_mound_takes_at_most_nine_beside_its_amount() {
    let stage = Stage::with_cups();
    let mut hands = Hands::on(&stage, 80, 24);
    hands.see_text(BENCH);
    hands.press("m r i Enter");
    hands.type_amount("80 ml");
    hands.press("Tab 2 . 6 Enter");
    hands.see_text("on the lid: River blue v1, 80 ml");
    assert!(hands.pressed <= 9);
    let cups = stage.studio().bench(&now()).unwrap();
    let newest = cups.iter().max_by_key(|cup| cup.cup.id).unwrap();
    let read = newest.life.known.as_ref().unwrap();
    assert_eq!(read.reading.mound().unwrap().get(), 2.6);
}

#[test]
fn a_mound_is_timed_with_three() {
    let stage = Stage::with_cups();
    let mut hands = Hands::on(&stage, 80, 24);
    hands.see_text(BENCH);
    hands.press("w");
    hands.see_text("as the drizzle ends");
    hands.press("Space");
    hands.see_text("once the mound of K7 is gone");
    hands.press("Space");
    assert_eq!(hands.pressed, 3);
    // A tenth of a second is no mound that was expected: it is asked about, which a real drizzle is not.
    hands.see_text("k keeps it");
    hands.press("k");
    hands.see_text("? K7 is");
    let page = stage.studio().cup_page("K7", &now()).unwrap();
    assert!(matches!(
        page.entries.last().unwrap().what,
        Happened::Read(_)
    ));
    assert_eq!(page.entries.len(), 3);
}

#[test]
fn the_last_deed_is_taken_back_with_one() {
    let stage = Stage::with_cups();
    let mut hands = Hands::on(&stage, 80, 24);
    hands.see_text("resting A3");
    let entries = |mark| {
        let page = stage.studio().cup_page(mark, &now()).unwrap();
        page.entries.len()
    };
    let before = entries("K7");
    hands.press("c");
    hands.see_text("✓ K7");
    let counted = hands.pressed;
    hands.press("u");
    hands.see_text("taken back: K7 looked: clear");
    assert_eq!(hands.pressed - counted, 1);
    assert_eq!(entries("K7"), before);
}

#[test]
fn thinning_by_the_advised_amount_takes_two() {
    let stage = Stage::with_cups();
    let mut hands = Hands::on(&stage, 80, 24);
    hands.see_text(BENCH);
    hands.press("t Enter");
    hands.see_text("✓ K7");
    assert_eq!(hands.pressed, 2);
    let page = stage.studio().cup_page("K7", &now()).unwrap();
    assert!(page.standing.life.thinner.get() > 0.0);
}

#[test]
fn what_worked_last_month_takes_at_most_two() {
    let stage = Stage::with_cups();
    let mut studio = stage.studio();
    for _ in 0..6 {
        let poured = poured(&mut studio);
        let order = JudgeOrder {
            cells: 4,
            ..JudgeOrder::default()
        };
        studio.judge(poured, &order, &now()).unwrap();
    }
    drop(studio);
    let mut hands = Hands::on(&stage, 80, 24);
    hands.see_text(BENCH);
    hands.press("F");
    let shown = hands.see_text("in the last 30 days");
    assert!(
        shown.contains("River blue v1 leads: 6 of 6 good"),
        "{shown}"
    );
    assert!(hands.pressed <= 2);
}

#[test]
fn the_next_that_wants_a_hand_is_read_from_anywhere_with_six() {
    let stage = Stage::with_cups();
    let mut hands = Hands::on(&stage, 80, 24);
    hands.see_text(BENCH);
    hands.press("5");
    hands.see_text("Blue paint");
    let before = hands.pressed;
    hands.press("n r 4 . 4 Enter");
    hands.see_text("✓ K7");
    assert!(hands.pressed - before <= 6);
    let page = stage.studio().cup_page("K7", &now()).unwrap();
    let read = page.standing.life.known.unwrap().reading;
    assert_eq!(read.mound().unwrap().get(), 4.4);
}

#[test]
fn a_picture_is_judged_wet_with_all_grades_in_twelve() {
    let stage = Stage::with_cups();
    poured(&mut stage.studio());
    let mut hands = Hands::on(&stage, 80, 24);
    hands.see_text(BENCH);
    hands.press("P");
    hands.see_text("pour 1");
    let before = hands.pressed;
    hands.press("d Enter 4 3 2 0 1 0 f k Enter");
    hands.see_text("✓ Picture 1 is judged");
    assert!(hands.pressed - before <= 12);
    let page = stage.studio().pour_page(1).unwrap();
    let judged = page.counting().unwrap();
    let grades = [
        judged.evenness,
        judged.lacing,
        judged.muddy,
        judged.crazed,
        judged.pinholes,
    ];
    assert_eq!((judged.cells, grades), (4, [3, 2, 0, 1, 0].map(Some)));
    assert_eq!(
        (judged.size, judged.fate),
        (Some(CellSize::Fine), Some(Fate::Kept))
    );
    assert!(!judged.dry);
}

#[test]
fn the_entry_before_last_of_a_cup_is_struck_in_five() {
    let stage = Stage::with_cups();
    let mut hands = Hands::on(&stage, 80, 24);
    hands.see_text(BENCH);
    hands.press("c");
    hands.see_text("✓ K7");
    let counted = hands.pressed;
    let before = stage.studio().cup_page("K7", &now()).unwrap().entries;
    hands.press("n Enter k x");
    hands.see_text("Struck");
    assert!(hands.pressed - counted <= 5);
    let after = stage.studio().cup_page("K7", &now()).unwrap().entries;
    assert_eq!(after.len() + 1, before.len());
    assert_eq!(after.last(), before.last());
}

/// 10 ml of K7 on a small panel; the pour's number.
fn poured(studio: &mut Studio) -> i64 {
    let known = studio.known([]).unwrap();
    let layer = known.layer("K7", Amount::Volume(Millilitres(10.0)));
    let order = PourOrder::on(Panel::parse("20x20cm").unwrap(), vec![layer.unwrap()]);
    studio.pour(&order, &now()).unwrap().pour.id
}

#[test]
fn any_of_three_hundred_cups_is_found_by_its_mark_with_four() {
    let stage = Stage::with_cups();
    let mut studio = stage.studio();
    let letters = "ABCDEFGHJKMNPQRSTUVWXYZ".chars();
    let signs = || "2345679ACDEFHJ".chars();
    let marks = letters.flat_map(|first| signs().map(move |second| format!("{first}{second}")));
    let taken = ["K7", "A3", "B4"];
    let marks: Vec<String> = marks
        .filter(|mark| !taken.contains(&mark.as_str()))
        .collect();
    for (mark, ago) in marks.iter().take(297).zip(1..) {
        let at = -TimeDelta::minutes(ago);
        mix(&mut studio, ("River blue", mark), (at, None), &now());
    }
    assert_eq!(studio.bench(&now()).unwrap().len(), 300);
    drop(studio);
    for (columns, rows) in [(50, 16), (160, 50)] {
        let mut hands = Hands::on(&stage, columns, rows);
        hands.see_text("more");
        hands.press("/ h 9");
        hands.see_text("› ○ resting H9");
        assert!(hands.pressed <= 4);
    }
}

#[test]
fn a_pour_of_five_layers_with_the_panels_amounts_and_two_spins_takes_at_most_twenty() {
    let stage = Stage::with_cups();
    let mut studio = stage.studio();
    for (mark, mound) in [("C5", 2.9), ("C6", 2.7), ("C7", 2.5), ("C9", 2.3)] {
        let read = Some((mound, -TimeDelta::minutes(10)));
        let mixed = (-TimeDelta::hours(20), read);
        mix(&mut studio, ("River blue", mark), mixed, &now());
    }
    drop(studio);
    let mut hands = Hands::on(&stage, 80, 24);
    hands.see_text(BENCH);
    hands.press("P p 3 0 x 4 0 Enter A s Enter s Enter");
    hands.see_text("5 B4");
    hands.press("g");
    hands.see_text("Pour 1");
    assert!(hands.pressed <= 20, "{}", hands.pressed);
    let pour = stage.studio().pour_page(1).unwrap().pour;
    assert_eq!((pour.layers.len(), pour.moves.len()), (5, 2));
    // As much as the panel takes, and not the 600 ml that the cups hold.
    let poured: f64 = pour.layers.iter().map(|layer| layer.ml.get()).sum();
    assert!((150.0..300.0).contains(&poured), "{poured}");
}
