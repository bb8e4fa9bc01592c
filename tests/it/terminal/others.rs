//! Two at one studio: what the other writes appears, and a refusal costs no typing.

use super::hands::Hands;
use super::{Stage, now};
use stillcup::studio::Studio;
use stillcup::studio::orders::{MixOrder, TendOrder};
use stillcup::trade::cup::Seen;
use stillcup::trade::units::Millilitres;

fn seen_clear(studio: &mut Studio, mark: &str) {
    let cup = studio.known([]).unwrap().cup(mark).unwrap();
    let order = TendOrder::look(cup, Seen::Clear);
    studio.tend(&order, &now()).unwrap();
}

#[test]
fn another_process_s_write_appears_without_a_key() {
    let stage = Stage::with_cups();
    let hands = Hands::on(&stage, 80, 24);
    hands.see_text("○ resting A3");
    seen_clear(&mut stage.studio(), "A3");
    hands.see_text("◎ look    A3");
    assert_eq!((hands.pressed, hands.bells()), (0, 0));
}

#[test]
fn a_mark_given_away_meanwhile_is_said_and_the_form_stays() {
    let stage = Stage::with_cups();
    let mut hands = Hands::on(&stage, 80, 24);
    hands.see_text("resting A3");
    hands.press("m");
    hands.type_amount("river");
    hands.press("Tab");
    hands.type_amount("75 ml");
    hands.press("Tab Tab Tab");
    hands.type_amount("K7");
    hands.press("Enter");
    let shown = hands.see_text("K7 is on a living cup");
    assert!(shown.contains("75 ml"), "{shown}");
}

/// The mark a form offers is a guess: where another bench was given it meanwhile, the next free one is taken.
#[test]
fn an_offered_mark_given_away_meanwhile_costs_nothing() {
    let stage = Stage::with_cups();
    let mut hands = Hands::on(&stage, 160, 50);
    hands.see_text("resting A3");
    hands.press("m");
    hands.type_amount("river");
    hands.press("Tab");
    hands.type_amount("75 ml");
    let variant = stage.studio().known([]).unwrap();
    let variant = variant.newest("River blue").unwrap();
    let order = MixOrder::of(variant, Millilitres(90.0));
    let other = stage.studio().mix(&order, &now()).unwrap();
    let taken = other.standing.cup.mark.to_string();
    // The list lies beneath the form; the line in words tells that the other's writes were read.
    seen_clear(&mut stage.studio(), "A3");
    hands.see_text("read its mound");
    hands.press("Enter");
    hands.see_text("on the lid: River blue v1, 75 ml");
    let cups = stage.studio().bench(&now()).unwrap();
    let bear = cups.iter().filter(|one| one.cup.mark.as_str() == taken);
    assert_eq!((cups.len(), bear.count()), (5, 1));
}

#[test]
fn a_store_that_fails_is_told_of_and_what_was_typed_can_be_kept_once_it_is_well() {
    let stage = Stage::with_cups();
    let mut hands = Hands::on(&stage, 80, 24);
    hands.see_text("resting A3");
    hands.press("m");
    hands.type_amount("river");
    hands.press("Tab");
    hands.type_amount("75 ml");
    hands.see_text("50 ml           Medium");
    let other = rusqlite::Connection::open(stage.file()).unwrap();
    other
        .execute_batch("ALTER TABLE entry RENAME TO gone")
        .unwrap();
    hands.press("Enter");
    let shown = hands.see_text("✗");
    assert!(
        shown.contains("75 ml") && shown.contains("Mix a cup"),
        "{shown}"
    );
    other
        .execute_batch("ALTER TABLE gone RENAME TO entry")
        .unwrap();
    hands.press("Enter");
    hands.see_text("on the lid: River blue v1, 75 ml");
}

#[test]
fn no_colour_is_sent_where_none_is_wanted() {
    let stage = Stage::with_cups();
    let coloured = |screen: &vt100::Screen| {
        let (rows, columns) = screen.size();
        let all =
            (0..rows.get()).flat_map(|row| (0..columns.get()).map(move |column| (row, column)));
        all.filter_map(|(row, column)| screen.cell(row, column))
            .filter(|cell| {
                cell.fgcolor() != vt100::Color::Default || cell.bgcolor() != vt100::Color::Default
            })
            .count()
    };
    let hands = Hands::on(&stage, 80, 24);
    hands.see("colours", |screen| {
        screen.contents().contains("A3") && coloured(screen) > 0
    });
    let hands = Hands::on_plain(&stage);
    hands.see("no colours", |screen| {
        screen.contents().contains("resting A3") && coloured(screen) == 0
    });
}
