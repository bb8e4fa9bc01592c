//! The Rack's keys and cells: dates that follow the room's air, the dry judgement, a pour's page.

use super::{Play, Stage, keys, lines, place, shows, typed};
use crate::screen::kit::look::Look;
use crate::studio::PourOrder;
use crate::trade::judgement::CellSize;
use crate::trade::pour::Air;
use crate::trade::units::Celsius;
use chrono::TimeDelta;
use ratatui::style::Color;

/// 240 ml on 40 by 60 cm: a wet film of 1.0 mm, for which common practice says 48 h and 21 days.
pub(super) fn stage(days_ago: i64) -> Stage {
    let stage = Stage::with_recipes();
    let poured = TimeDelta::days(days_ago);
    stage.mix("Cell opener", "B4", -poured - TimeDelta::hours(2), None);
    stage.mix("Cell opener", "C5", -poured - TimeDelta::hours(2), None);
    let order = PourOrder {
        way: Some("swipe".to_owned()),
        at: Some(stage.now.at - poured),
        ..stage.stack("40x60cm", &[("B4", 120.0), ("C5", 120.0)])
    };
    stage.studio().pour(&order, &stage.now).unwrap();
    stage
}

fn air(text: &str) -> Vec<Play> {
    let mut script = keys("R i");
    script.extend(typed(text));
    script.extend(keys("Enter"));
    script
}

#[test]
fn a_wet_picture_shows_its_dates_at_every_size_without_colour() {
    let mut stage = stage(0);
    stage.look = Look::Plain;
    for size in [(50, 16), (80, 24), (160, 50)] {
        stage.size = size;
        let cells = stage.play(keys("R"));
        let all = lines(&cells).join(" ");
        assert!(shows(&cells, "1  ○ wet"), "{:#?}", lines(&cells));
        let words = all.split_whitespace().collect::<Vec<_>>().join(" ");
        // Common practice: two days to the touch, three weeks to varnish; each a fifth sooner or later.
        assert!(
            words.contains("Picture 1 is dry to the touch by 27 Nov 20:00."),
            "{words}"
        );
        assert!(words.contains("wet film 1.0 mm at 23C,50%"), "{words}");
        assert!(words.contains(", perhaps from 12 Dec already"), "{words}");
        assert!(cells.content().iter().all(|cell| cell.fg == Color::Reset));
    }
}

#[test]
fn the_room_that_is_said_moves_the_dates_and_is_kept() {
    let stage = stage(0);
    let dry = |cells: &_| {
        let (_, y) = place(cells, "1  ○ wet");
        lines(cells)[usize::from(y)].clone()
    };
    let before = dry(&stage.play(keys("R")));
    let cells = stage.play(air("12C,70%"));
    assert!(shows(&cells, "✓ The room's air is 12C,70%"));
    assert_ne!(dry(&cells), before);
    let kept = stage.studio().room_air().unwrap().unwrap();
    assert_eq!(kept.celsius, Some(Celsius(12.0)));
    assert_eq!(Air::parse("12C,70%").unwrap(), kept);
}

#[test]
fn air_too_wet_to_dry_in_is_said_and_what_is_no_air_stays_in_its_field() {
    let stage = stage(0);
    let cells = stage.play(air("20C,97%"));
    assert!(shows(&cells, "✗ stays wet"), "{:#?}", lines(&cells));
    assert!(lines(&cells)[0].contains("Picture 1: at 97 % humidity it will not dry"));
    let cells = stage.play(air("warm"));
    assert!(shows(&cells, "✗ warm is no air"), "{:#?}", lines(&cells));
}

#[test]
fn a_picture_that_should_be_dry_is_judged_on_one_key() {
    let stage = stage(10);
    let cells = stage.play(keys("R"));
    assert!(
        lines(&cells)[0].starts_with("Picture 1 should be dry to the touch: d judges."),
        "{:#?}",
        lines(&cells)
    );
    let cells = stage.play(keys("R d 4"));
    assert!(shows(&cells, "4 dry") && !lines(&cells)[0].contains("should be dry"));
    let judged = &stage.studio().pours(None).unwrap()[0].judgements;
    assert!(judged[0].dry && judged[0].cells == 4);
}

#[test]
fn after_the_band_it_is_judged_dry_first_and_then_may_be_varnished() {
    let stage = stage(90);
    let cells = stage.play(keys("R"));
    let all = lines(&cells).join(" ");
    assert!(
        !all.contains("may be varnished") || all.contains("judge it dry first"),
        "{all}"
    );
    assert!(
        !shows(&cells, "◆ varnish") && shows(&cells, "● dry"),
        "{all}"
    );
    let cells = stage.play(keys("R d 4"));
    assert!(shows(&cells, "◆ varnish"), "{:#?}", lines(&cells));
    let head = lines(&cells)[..2].join(" ");
    assert!(
        head.contains("Picture 1 may be varnished, in moving air: v."),
        "{head}"
    );
    assert!(shows(&cells, "■■■■■■■■■■■■■■■■  now"));
}

/// One key says a grade and goes on: a Tab behind it, or the rest of a word, goes nowhere.
#[test]
fn a_tab_or_a_whole_word_behind_a_grade_fills_no_other_field() {
    let judged = |script: &[&str]| {
        let stage = stage(90);
        let plays = script.iter().flat_map(|part| match part.strip_prefix('=') {
            Some(text) => typed(text),
            None => keys(part),
        });
        stage.play(plays);
        let page = stage.studio().pour_page(1).unwrap();
        page.counting().unwrap().clone()
    };
    let tabbed = judged(&["R d Enter 4 Tab 3 Tab 2 Enter"]);
    let grades = (tabbed.cells, tabbed.evenness, tabbed.lacing, tabbed.crazed);
    assert_eq!(grades, (4, Some(3), Some(2), None));
    let spelled = judged(&["R d Enter 4 3 2 0 1 0", "=large", "Enter"]);
    assert_eq!((spelled.size, spelled.fate), (Some(CellSize::Large), None));
    let early = judged(&["R d Enter 4", "=large", "3 Enter"]);
    assert_eq!(
        (early.evenness, early.lacing, early.size),
        (Some(3), None, None)
    );
}

#[test]
fn a_pours_page_has_layers_judgements_and_cost() {
    let mut stage = stage(10);
    stage.size = (80, 40);
    let cells = stage.play(keys("R d 3 Enter"));
    for words in [
        "Picture 1: 40 x 60 cm",
        "C5 Cell opener v1",
        "cells 3, dry",
        "unknown  in all",
        "lines a price or a pack is missing",
    ] {
        assert!(shows(&cells, words), "{words}: {:#?}", lines(&cells));
    }
    let (top, low) = (place(&cells, "C5 Cell").1, place(&cells, "B4 Cell").1);
    assert!(top < low);
    assert!(!shows(&stage.play(keys("R Enter Esc")), "layers, the top"));
}

#[test]
fn an_empty_rack_says_so_and_refuses_in_words() {
    let stage = Stage::with_recipes();
    let cells = stage.play(keys("R Enter"));
    assert!(lines(&cells)[0].starts_with("Nothing lies on the rack"));
    assert!(shows(
        &cells,
        "✗ Not done: No picture is here: f shows others"
    ));
}

#[test]
fn v_says_that_it_is_varnished_once_it_was_judged_dry() {
    let stage = stage(30);
    let cells = stage.play(keys("R v"));
    assert!(shows(&cells, "judge it first: d"), "{:#?}", lines(&cells));
    let cells = stage.play(keys("R d 4 v"));
    let words = lines(&cells).join(" ");
    assert!(
        words.contains("Picture 1 is varnished and off the rack"),
        "{words}"
    );
    assert!(stage.studio().rack(&stage.now).unwrap().is_empty());
    stage.play(keys("u u"));
    assert_eq!(stage.studio().rack(&stage.now).unwrap().len(), 1);
}

#[test]
fn a_picture_s_page_tells_its_dry_film_and_what_to_beware_of() {
    let mut stage = stage(0);
    stage.size = (100, 60);
    let cells = stage.play(keys("R Enter"));
    let words = lines(&cells).join(" ");
    let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
    // 1.0 mm at 0.25 to 0.45 of solids.
    assert!(
        words.contains("dries to about 0.35 mm (0.25 to 0.45), an estimate"),
        "{words}"
    );
    for caution in [
        "sand wet, never dry",
        "varnish only in moving air",
        "no paint water in drains",
    ] {
        assert!(words.contains(caution), "{words}");
    }
}

/// Three pictures of one activator, poured 30 days ago and judged dry.
fn three_dry() -> Stage {
    let stage = Stage::with_recipes();
    let poured = TimeDelta::days(30);
    for mark in ["B4", "C5", "D6"] {
        stage.mix("Cell opener", mark, -poured - TimeDelta::hours(2), None);
        let order = PourOrder {
            at: Some(stage.now.at - poured),
            ..stage.stack("40x60cm", &[(mark, 120.0)])
        };
        stage.studio().pour(&order, &stage.now).unwrap();
    }
    stage
}

/// The number of the pour that is chosen.
fn chosen(cells: &ratatui::buffer::Buffer) -> String {
    let (_, y) = place(cells, "›");
    let line = lines(cells)[usize::from(y)].clone();
    line.split_whitespace().nth(1).unwrap().to_owned()
}

#[test]
fn what_is_varnished_leaves_its_neighbour_chosen_and_not_another() {
    let stage = three_dry();
    let cells = stage.play(keys("R Down d 4"));
    assert_eq!(chosen(&cells), "2", "{:#?}", lines(&cells));
    let cells = stage.play(keys("R Down v"));
    assert_eq!(chosen(&cells), "1", "{:#?}", lines(&cells));
    let cells = stage.play(keys("u u R Down"));
    assert_eq!(chosen(&cells), "2", "{:#?}", lines(&cells));
}

#[test]
fn inches_leave_room_for_the_technique() {
    let stage = stage(0);
    stage.studio().set("measures", "us", &stage.now).unwrap();
    // 400 by 600 mm are 15.748 by 23.622 inches.
    let cells = stage.play(keys("R"));
    assert!(
        shows(&cells, "15.7 x 23.6 in swipe"),
        "{:#?}",
        lines(&cells)
    );
}

#[test]
fn a_title_and_a_sale_are_written_down_where_the_picture_lies() {
    let stage = stage(40);
    let mut script = keys("R t");
    script.extend(typed("River in May"));
    script.extend(keys("Enter"));
    stage.play(script);
    let picture = stage.studio().picture(1).unwrap();
    assert_eq!(picture.title.as_deref(), Some("River in May"));
    let mut script = keys("R s");
    script.extend(typed("240"));
    script.extend(keys("Enter"));
    stage.play(script);
    assert!(stage.studio().rack(&stage.now).unwrap().is_empty());
    let sale = stage.studio().picture(1).unwrap().sale.unwrap();
    assert_eq!(sale.price.to_string(), "240");
}

#[test]
fn a_picture_that_left_the_rack_is_still_reached_and_opened() {
    let stage = stage(10);
    let mut sold = keys("R s");
    sold.extend(typed("240"));
    sold.extend(keys("Enter"));
    stage.play(sold);
    let cells = stage.play(keys("R"));
    assert!(
        shows(&cells, "Nothing lies on the rack"),
        "{:#?}",
        lines(&cells)
    );
    let cells = stage.play(keys("R f"));
    assert!(shows(&cells, "All pictures: 1"), "{:#?}", lines(&cells));
    assert!(shows(&cells, "sold"), "{:#?}", lines(&cells));
    let cells = stage.play(keys("R f Enter"));
    assert!(
        shows(&cells, "Picture 1: 40 x 60 cm"),
        "{:#?}",
        lines(&cells)
    );
    // Kept, varnished, sold, scraped, and the rack again.
    let cells = stage.play(keys("R f f f"));
    assert!(
        shows(&cells, "Pictures, varnished: 0"),
        "{:#?}",
        lines(&cells)
    );
    let cells = stage.play(keys("R f f f f f f"));
    assert!(
        shows(&cells, "Nothing lies on the rack"),
        "{:#?}",
        lines(&cells)
    );
}

#[test]
fn the_rack_begins_with_what_wants_a_hand() {
    let stage = stage(10);
    stage.mix("Cell opener", "D6", -TimeDelta::hours(3), None);
    let order = stage.stack("20x20cm", &[("D6", 40.0)]);
    stage.studio().pour(&order, &stage.now).unwrap();
    // Pour 1 has lain for ten days and should be judged; pour 2 is wet.
    let cells = stage.play(keys("R"));
    assert!(
        place(&cells, "● dry").1 < place(&cells, "○ wet").1,
        "{:#?}",
        lines(&cells)
    );
    let cells = stage.play(keys("R o"));
    assert!(
        place(&cells, "○ wet").1 < place(&cells, "● dry").1,
        "{:#?}",
        lines(&cells)
    );
}

/// Ticks enough for a sensor to be asked: one waits for it no longer than it takes.
fn meanwhile() -> Vec<Play> {
    (0..2000).map(|_| Play::Tick).collect()
}

#[test]
fn a_sensor_moves_the_dates_where_no_air_was_entered_and_its_fault_is_said_once() {
    let stage = stage(0);
    let sensor = stage.file().with_file_name("air");
    std::fs::write(&sensor, "12 C 70 %").unwrap();
    let path = sensor.display().to_string();
    stage.studio().set("air-from", &path, &stage.now).unwrap();
    let mut script = keys("R");
    script.extend(meanwhile());
    let cells = stage.play(script);
    assert!(
        lines(&cells).join(" ").contains("12C,70%"),
        "{:#?}",
        lines(&cells)
    );
    std::fs::write(&sensor, "broken").unwrap();
    let mut script = keys("R");
    script.extend(meanwhile());
    script.extend(keys("Esc"));
    let quiet = stage.play(keys("R").into_iter().chain(meanwhile()));
    assert!(
        shows(&quiet, "the room's air was not read"),
        "{:#?}",
        lines(&quiet)
    );
    for _ in 0..3 {
        script.push(Play::Later(TimeDelta::minutes(11)));
        script.extend(meanwhile());
    }
    let cells = stage.play(script);
    assert!(
        !shows(&cells, "the room's air was not read"),
        "{:#?}",
        lines(&cells)
    );
}
