//! Slips of a wet hand: what is odd is asked about first, or said at once.

use super::{Rehearsal, says};
use serde_json::json;

/// A colour of 100 ml, poured at nine.
fn poured() -> Rehearsal {
    let mut desk = Rehearsal::stocked();
    desk.does("mix|River blue|--volume|100ml|--mark|K7|--mound|3.4");
    desk.clock("2026-11-25T09:00:00+01:00");
    desk.does("read|K7|2.5");
    desk.does("pour|--panel|20x20cm|--layer|K7:60ml|--air|23C,50%");
    desk
}

#[test]
fn more_thinner_than_the_binder_bears_is_asked_about_before_it_is_written() {
    let desk = Rehearsal::stocked();
    desk.does("mix|River blue|--volume|100ml|--mark|K7|--mound|3.4");
    // 40 of 140 ml: over the 25 or so that a recipe bears.
    let (sentence, hint) = desk.refuses("thin|K7|40ml");
    assert!(
        sentence.contains("29 % thinner") && hint.contains("--even-so"),
        "{sentence} {hint}"
    );
    let kept = desk.does("thin|K7|40ml|--even-so");
    assert!(says(&kept["warnings"], "29 % thinner"), "{kept}");
    // Within the limit nothing is asked.
    desk.does("mix|River blue|--volume|100ml|--mark|P4|--mound|3.4");
    assert_eq!(desk.does("thin|P4|4ml|--mound|2.6")["warnings"], json!([]));
}

#[test]
fn a_dry_judgement_of_wet_paint_and_a_sale_without_a_price_are_said() {
    let mut desk = poured();
    desk.clock("2026-11-25T09:10:00+01:00");
    let wet = desk.does("judge|1|--cells|4");
    assert_eq!(wet["warnings"], json!([]));
    let early = desk.does("judge|1|--cells|4|--dry");
    assert!(
        says(&early["warnings"], "dry to the touch between"),
        "{early}"
    );
    // Two days are the practice; three are dry.
    desk.clock("2026-11-29T09:10:00+01:00");
    assert_eq!(desk.does("judge|1|--cells|4|--dry")["warnings"], json!([]));
    let sold = desk.does("judge|1|--cells|4|--dry|--sold");
    assert!(says(&sold["warnings"], "without a price"), "{sold}");
    assert!(
        desk.says("judge|1|--cells|4|--dry|--sold")
            .contains("without a price")
    );
}

#[test]
fn an_amount_alone_is_of_the_one_part_or_layer_that_fits() {
    let mut desk = Rehearsal::stocked();
    // 40 ml of Deep blue and 80 ml of Pouring medium by the recipe.
    let mixed = desk.does("mix|River blue|--volume|120ml|--mark|K7|--put|33ml");
    let put = |name: &str| {
        let parts = mixed["parts"].as_array().unwrap().iter();
        let mut named = parts.filter(|part| part["name"] == name);
        named.next().unwrap()["ml"].as_f64()
    };
    assert_eq!(
        (put("Deep blue"), put("Pouring medium")),
        (Some(33.0), Some(80.0))
    );
    let (refused, hint) = desk.refuses("mix|River blue|--volume|120ml|--put|60ml");
    assert!(
        refused.contains("what 60ml is of: Deep blue 40 ml or Pouring medium 80 ml"),
        "{refused}"
    );
    assert!(hint.contains("name"), "{hint}");
    desk.clock("2026-11-25T09:00:00+01:00");
    desk.does("mix|Opener|--volume|50ml|--mark|A3|--mound|1.5");
    desk.does("pour|--panel|20x20cm|--layer|K7:30ml|--layer|A3:10ml");
    let corrected = desk.does("correct|1|--layer|33ml");
    assert_eq!(corrected["layers"][0]["ml"], 33.0);
    let (refused, _) = desk.refuses("correct|1|--layer|90ml");
    assert!(
        refused.contains("what 90ml is of: K7 33 ml or A3 10 ml"),
        "{refused}"
    );
}

// A time alone that is still to come is asked about, and one of yesterday says so.
#[test]
fn a_time_of_another_day_is_said_and_one_to_come_is_not_taken_for_yesterdays() {
    let mut desk = Rehearsal::ready_stack();
    desk.clock("2026-11-25T21:00:00+01:00");
    let (why, hint) = desk.refuses("read|K7|2.5|--at|23:50");
    let told = why + &hint;
    assert!(told.contains("is still to come"), "{told}");
    assert!(told.contains("say yesterday 23:50"), "{told}");
    desk.clock("2026-11-26T00:30:00+01:00");
    let said = desk.says("read|K7|2.5|--at|23:50");
    assert!(said.contains("written down for yesterday 23:50"), "{said}");
}

#[test]
fn a_judgement_is_put_right_and_struck_wet_and_dry() {
    let mut desk = Rehearsal::ready_stack();
    desk.does("pour|--panel|20x20cm|--layer|K7:40ml");
    desk.clock("2026-11-25T10:00:00+01:00");
    let (why, _) = desk.refuses("judge|1|--strike");
    assert!(why.contains("pour 1 was not judged wet yet"), "{why}");
    desk.does("judge|1|--cells|2|--muddy|3");
    desk.clock("2026-11-25T11:00:00+01:00");
    let right = desk.does("judge|1|--cells|4|--instead");
    assert_eq!(
        (&right["cells"], &right["muddy"], &right["at"]),
        (&json!(4), &json!(null), &json!("2026-11-25T10:00:00+01:00"))
    );
    desk.does("judge|1|--cells|5|--dry");
    let struck = desk.says("judge|1|--strike|--dry");
    assert!(
        struck.contains("Struck: picture 1 judged dry, cells 5"),
        "{struck}"
    );
    let told = &desk.does("history")["history"][0]["what"];
    assert_eq!(told, "struck how pour 1 was judged dry: cells 5");
    desk.does("undo");
    let (why, hint) = desk.refuses("judge|1|--instead|--cells|9");
    assert!((why + &hint).contains("0 to 5"));
}

/// A painter's recipe that rests half an hour rested ten as soon as its mound was read, well within its window.
#[test]
fn a_reading_within_the_window_does_not_lengthen_a_short_rest() {
    let mut desk = Rehearsal::stocked();
    desk.does("recipe add|Quick|--layer|colour|--part|Titan white 1|--mound|2..3|--rest|30m");
    desk.does("mix|Quick|--volume|100ml|--mark|C2");
    let before = desk.cup("C2")["clears_at"].clone();
    desk.clock("2026-11-24T18:01:00+01:00");
    desk.does("read|C2|2.5");
    assert_eq!(desk.cup("C2")["clears_at"], before);
}

/// What was done with the first go was not done with the second one.
#[test]
fn a_start_over_begins_without_moves() {
    let desk = Rehearsal::ready_stack();
    desk.does("pour|--panel|20x20cm|--layer|B2:5ml|--tilt|left");
    let again = desk.does("again|1");
    assert_eq!(again["moves"], serde_json::json!([]));
}

#[test]
fn a_sold_picture_is_not_scraped() {
    let desk = Rehearsal::ready_stack();
    desk.does("pour|--panel|20x20cm|--layer|B2:5ml");
    desk.does("sell|1|--price|150");
    let (sentence, _) = desk.refuses("again|1");
    assert!(sentence.contains("sold already"), "{sentence}");
}

#[test]
fn a_sale_that_was_written_down_wrongly_is_put_right() {
    let desk = Rehearsal::ready_stack();
    desk.does("pour|--panel|20x20cm|--layer|B2:30ml");
    let (refused, _) = desk.refuses("sell|1|--price|150|--correct");
    assert!(refused.contains("was not sold yet"), "{refused}");
    desk.does("sell|1|--price|150|--to|Ida");
    let (refused, hint) = desk.refuses("sell|1|--price|180");
    assert!(refused.contains("sold already"), "{refused}");
    assert!(hint.contains("--correct"), "{hint}");
    desk.does("sell|1|--price|180|--where|open studio|--correct");
    let ledger = desk.does("ledger|--with-names");
    let line = &ledger["pictures"][0];
    assert_eq!(line["price"], "180", "{ledger}");
    assert_eq!(
        (&line["to"], &line["where"]),
        (&"Ida".into(), &"open studio".into()),
        "{ledger}"
    );
    let (refused, _) = desk.refuses("sell|1|--price|180|--correct");
    assert!(
        refused.contains("nothing was said that differs"),
        "{refused}"
    );
    desk.does("undo");
    assert_eq!(desk.does("ledger")["pictures"][0]["price"], "150");
}

#[test]
fn a_count_or_a_price_far_from_what_was_is_asked_about() {
    let desk = Rehearsal::stocked();
    desk.does("bought|Deep blue|--packs|2");
    let (refused, hint) = desk.refuses("counted|Deep blue|33500ml");
    assert!(refused.contains("far from the 500"), "{refused}");
    assert!(hint.contains("--even-so"), "{hint}");
    // Twice as much as was thought is a purchase that nobody wrote down.
    desk.does("counted|Deep blue|1000ml");
    desk.does("counted|Deep blue|33500ml|--even-so");
    // 8.90 for 250 ml before.
    let (refused, _) = desk.refuses("bought|Deep blue|--price|8900");
    assert!(refused.contains("1000 times"), "{refused}");
    let (refused, _) = desk.refuses("bought|Deep blue|--price|0.09");
    assert!(refused.contains("1 % of"), "{refused}");
    desk.does("bought|Deep blue|--price|12");
    desk.does("bought|Deep blue|--price|8900|--even-so");
}

// Twenty-six seconds for 2.6, kept: how fast every other cup thickens does not follow from it.
#[test]
fn a_reading_that_no_paint_gives_moves_no_other_cups_dates() {
    let mut desk = Rehearsal::ready_stack();
    // Three pairs of readings: what B2 is told rests on how it thickened.
    for (minute, mound) in [(15, "3.5"), (30, "3.6"), (45, "3.6")] {
        desk.clock(&format!("2026-11-25T09:{minute}:00+01:00"));
        desk.does(&format!("read|B2|{mound}"));
    }
    desk.does("read|K7|2.6");
    let expected = |desk: &mut Rehearsal| {
        desk.clock("2026-11-25T11:00:00+01:00");
        desk.cup("B2")["mound_now_s"].clone()
    };
    let before = expected(&mut desk);
    assert!(
        before[1].as_f64().is_some_and(|mound| mound > 3.6),
        "{before}"
    );
    desk.clock("2026-11-25T09:50:00+01:00");
    desk.does("read|K7|26|--even-so");
    assert_eq!(expected(&mut desk), before);
}

#[test]
fn a_count_far_below_what_was_thought_is_asked_about_and_nothing_is_not() {
    let desk = Rehearsal::stocked();
    desk.does("bought|Deep blue|--packs|2");
    let (refused, _) = desk.refuses("counted|Deep blue|33ml");
    assert!(refused.contains("far from the 500"), "{refused}");
    desk.does("counted|Deep blue|33ml|--even-so");
    desk.does("counted|Deep blue|0");
}

// Thinner that was right for 120 ml is a flood in fourteen.
#[test]
fn a_mixing_put_right_is_asked_about_where_its_thinner_is_then_too_much() {
    let desk = Rehearsal::ready_stack();
    desk.does("thin|K7|6ml");
    let mixing = desk.does("cup|K7")["entries"][0]["entry"].to_string();
    let (refused, hint) = desk.refuses(&format!("amend|K7|{mixing}|--volume|14ml"));
    assert!(refused.contains("thinner"), "{refused}");
    assert!(hint.contains("--even-so"), "{hint}");
    desk.does(&format!("amend|K7|{mixing}|--volume|14ml|--even-so"));
}

// A nought too many is ten times as much; what is asked about is kept at the second word, and twice as much is not.
#[test]
fn a_nought_too_many_is_asked_about_wherever_there_was_one_like_it() {
    let desk = Rehearsal::ready_stack();
    let asks = |line: &str, about: &str| {
        let (refused, hint) = desk.refuses(line);
        assert!(refused.contains(about), "{line}: {refused}");
        assert!(hint.contains("--even-so"), "{hint}");
        desk.does(&format!("{line}|--even-so"));
    };
    desk.does("mix|River blue|--volume|200ml");
    asks("mix|River blue|--volume|2000ml", "times what is usual");
    asks("mix|River blue|--volume|4ml", "of the least that is usual");
    asks(
        "bought|Deep blue|--packs|11",
        "11 packs of Deep blue at once",
    );
    asks(
        "bought|Deep blue|--packs|200",
        "18 times the most Deep blue",
    );
    desk.does("bought|Deep blue|--packs|300");
    desk.does("pour|--panel|40x50cm|--layer|K7:60ml");
    desk.does("title|1|Tide|--asking|240");
    asks("title|1|--asking|24", "10 % of what was asked");
    desk.does("title|1|--asking|48");
    asks(
        "sell|1|--price|480",
        "10 times what was asked for picture 1",
    );
    desk.does("sell|1|--price|52|--correct");
}

#[test]
fn a_mixing_put_right_by_a_nought_and_thinner_of_many_times_the_need_are_asked_about() {
    let desk = Rehearsal::ready_stack();
    let mixing = desk.does("cup|K7")["entries"][0]["entry"].to_string();
    let line = format!("amend|K7|{mixing}|--volume|1200ml");
    let (refused, _) = desk.refuses(&line);
    assert!(
        refused.contains("10 times what K7 was thought to hold"),
        "{refused}"
    );
    desk.does(&format!("{line}|--even-so"));
    desk.does("read|K7|3.05|--even-so");
    let thinner = desk.does("cup|K7")["thinner"].clone();
    let need = thinner["band_ml"][1].as_f64().unwrap();
    let (refused, hint) = desk.refuses(&format!("thin|K7|{:.0}ml", need * 4.1));
    assert!(
        refused.contains("4 times the most that K7 is likely to need"),
        "{refused}"
    );
    assert!(hint.contains("--even-so"), "{hint}");
    desk.does(&format!("thin|K7|{need:.0}ml"));
}

// A wet finger hits a key twice: one look.
#[test]
fn the_same_look_within_a_minute_is_written_once() {
    let mut desk = Rehearsal::ready_stack();
    desk.does("look|K7|bubbles");
    let (refused, _) = desk.refuses("look|K7|bubbles");
    assert!(refused.contains("within this minute"), "{refused}");
    desk.does("look|K7|clear");
    desk.clock("2026-11-25T11:00:00+01:00");
    desk.does("look|K7|clear");
}

// What an undo takes back is gone, and its number may be another thing's by now.
#[test]
fn the_history_of_an_undo_names_what_was_taken_back() {
    let desk = Rehearsal::stocked();
    desk.does("material|add|Gold dust|--kind|paint");
    desk.does("undo");
    desk.does("material|add|Silver dust|--kind|paint");
    let told = desk.says("history|--limit|3");
    let named = |name: &str| told.lines().filter(|line| line.contains(name)).count();
    assert_eq!((named("Gold dust"), named("Silver dust")), (2, 1), "{told}");
}
