//! Slips and second thoughts: what a painter's day asked to be told, or asked first.

use super::{Play, Stage, keys, lines, shows, typed};
use crate::studio::{JudgeOrder, PourOrder, TitleOrder};
use chrono::TimeDelta;
use ratatui::buffer::Buffer;

fn all(parts: Vec<Vec<Play>>) -> Vec<Play> {
    parts.into_iter().flatten().collect()
}

fn words(cells: &Buffer) -> String {
    let all = lines(cells).join(" ");
    all.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// B4 was poured yesterday, by 20 of its 120 ml.
fn poured() -> Stage {
    let stage = Stage::with_cups();
    let order = PourOrder {
        at: Some(stage.now.at - TimeDelta::minutes(5)),
        ..stage.stack("40x50cm", &[("B4", 20.0)])
    };
    stage.studio().pour(&order, &stage.now).unwrap();
    stage
}

#[test]
fn a_picture_that_was_judged_is_scraped_at_the_second_word() {
    let stage = poured();
    let judged = JudgeOrder {
        cells: 4,
        ..JudgeOrder::default()
    };
    stage.studio().judge(1, &judged, &stage.now).unwrap();
    let pours = || stage.studio().pours(None).unwrap().len();
    let told = words(&stage.play(keys("P o")));
    assert!(
        told.contains("Pour 1 was judged, cells 4: o again"),
        "{told}"
    );
    assert_eq!(pours(), 1);
    // Another key between takes the question away.
    stage.play(keys("P o + o"));
    assert_eq!(pours(), 1);
    stage.play(keys("P o o"));
    assert_eq!(pours(), 2);
}

#[test]
fn a_picture_that_was_not_judged_is_started_over_on_one_key() {
    let stage = poured();
    stage.play(keys("P o"));
    assert_eq!(stage.studio().pours(None).unwrap().len(), 2);
}

#[test]
fn keys_that_change_nothing_say_why() {
    let stage = Stage::with_cups();
    let told = |script: &str| words(&stage.play(keys(script)));
    assert!(told("P -").contains("The stack is empty: a puts a cup on"));
    assert!(
        told("P A +").contains("It is the top layer already"),
        "{}",
        told("P A +")
    );
    assert!(told("z").contains("z does nothing here: ? shows the keys"));
}

#[test]
fn who_puts_an_entry_right_stays_in_the_life() {
    let stage = Stage::with_cups();
    let mut script = keys("Enter e");
    script.extend(typed("3.1"));
    script.extend(keys("Enter"));
    let told = words(&stage.play(script));
    assert!(
        told.contains("what happened") && told.contains("3.1 s"),
        "{told}"
    );
    let told = words(&stage.play(keys("Enter x")));
    assert!(
        told.contains("what happened") && told.contains("Struck"),
        "{told}"
    );
    // Undone from there, too.
    let told = words(&stage.play(keys("Enter x Esc")));
    assert!(!told.contains("what happened"), "{told}");
}

#[test]
fn a_title_stands_on_the_rack_and_its_page() {
    let mut stage = poured();
    let order = TitleOrder {
        title: Some("River in May".to_owned()),
        asked: None,
        even_so: false,
    };
    stage.studio().title(1, &order, &stage.now).unwrap();
    for size in [(80, 24), (160, 50)] {
        stage.size = size;
        assert!(shows(&stage.play(keys("R")), "River in May"), "{size:?}");
        assert!(shows(&stage.play(keys("R Enter")), "\"River in May\""));
    }
    // It is found by its title.
    let mut script = keys("R /");
    script.extend(typed("may"));
    assert!(shows(&stage.play(script), "River in May"));
}

#[test]
fn a_history_that_is_open_goes_on_with_what_others_do() {
    let stage = Stage::with_cups();
    let file = stage.file();
    let other = move |now: &crate::trade::instant::Now| {
        let mut studio = crate::studio::Studio::open(&file).unwrap();
        studio.set("name", "River Lane", now).unwrap();
    };
    let mut script = keys("h");
    script.push(Play::Elsewhere(Box::new(other)));
    script.push(Play::Tick);
    let told = words(&stage.play(script));
    assert!(told.contains("set name to River Lane"), "{told}");
}

#[test]
fn a_layer_of_the_stack_is_found_by_its_mark() {
    let stage = Stage::with_cups();
    stage.mix(
        "Cell opener",
        "C5",
        -TimeDelta::hours(1),
        Some((1.4, -TimeDelta::minutes(5))),
    );
    // The thickest is lowest, and the top one chosen; the amount that is asked for is the found one's.
    let mut script = keys("P A /");
    script.extend(typed("b4"));
    script.extend(keys("Enter"));
    let told = words(&stage.play(script));
    assert!(told.contains("› 1 B4"), "{told}");
}

#[test]
fn a_page_is_as_high_as_the_screen() {
    let mut stage = Stage::with_recipes();
    for nth in 0..40 {
        let (first, second) = (b'A' + nth / 8, b'2' + nth % 8);
        let mark: String = [first, second].map(char::from).iter().collect();
        stage.mix(
            "River blue",
            &mark,
            -TimeDelta::minutes(i64::from(nth)),
            None,
        );
    }
    let chosen = |stage: &Stage| {
        let cells = stage.play(vec![Play::Key(crate::screen::kit::keys::code(
            crossterm::event::KeyCode::PageDown,
        ))]);
        let line = lines(&cells).into_iter().find(|line| line.contains('›'));
        line.unwrap_or_default()
    };
    let (mut low, mut high) = (String::new(), String::new());
    for (rows, seen) in [(24, &mut low), (50, &mut high)] {
        stage.size = (80, rows);
        *seen = chosen(&stage);
    }
    assert!(!low.is_empty() && low != high, "{low} {high}");
}

/// 26 for 2.6: the question is seen at every size, or Enter again would keep it blindly.
#[test]
fn what_is_doubted_is_seen_in_every_form_at_every_size() {
    let mut stage = Stage::with_recipes();
    for size in [(50, 16), (80, 24), (160, 50)] {
        stage.size = size;
        let mut script = keys("m");
        script.extend(typed("river"));
        script.extend(keys("Tab Tab"));
        script.extend(typed("26"));
        script.extend(keys("Enter"));
        let told = words(&stage.play(script));
        assert!(
            told.contains("26 s is far from") && told.contains("Enter again keeps it"),
            "{size:?} {told}"
        );
    }
    assert!(stage.studio().bench(&stage.now).unwrap().is_empty());
}

#[test]
fn an_entry_of_a_spent_cup_is_struck_from_its_life() {
    let mut stage = Stage::with_recipes();
    stage.mix(
        "River blue",
        "K7",
        -TimeDelta::hours(20),
        Some((4.5, -TimeDelta::hours(1))),
    );
    stage.play(keys("e u"));
    assert!(stage.studio().bench(&stage.now).unwrap().is_empty());
    for size in [(50, 16), (160, 50)] {
        stage.size = size;
        let mut script = keys("x");
        script.extend(typed("k7"));
        script.extend(keys("Enter"));
        let told = words(&stage.play(script));
        assert!(told.contains("4.5 s") && told.contains("spent"), "{told}");
    }
    // The reading stands before the end.
    let mut script = keys("x");
    script.extend(typed("k7"));
    script.extend(keys("Enter Up x"));
    let told = words(&stage.play(script));
    assert!(
        told.contains("Struck") && told.contains("what happened"),
        "{told}"
    );
    let page = stage.studio().cup_page("K7", &stage.now).unwrap();
    assert!(
        page.entries
            .iter()
            .all(|entry| entry.what.kind() != crate::trade::cup::EntryKind::Read)
    );
    // A mark that no cup bore is said in the form.
    let mut script = keys("x");
    script.extend(typed("q9"));
    script.extend(keys("Enter"));
    assert!(shows(&stage.play(script), "Q9"));
}

/// A cup that rests until 41 seconds past a minute: the row and the sentence name the same minute.
#[test]
fn a_resting_cup_has_one_time_in_its_row_and_its_sentence() {
    let stage = Stage::with_recipes();
    stage.mix("River blue", "K7", -TimeDelta::seconds(3 * 3600 - 41), None);
    let told = words(&stage.play([]));
    assert_eq!(told.matches("19:01").count(), 3, "{told}");
    assert!(!told.contains("19:00"), "{told}");
}

#[test]
fn a_spin_that_is_none_is_told_in_the_words_of_the_hands() {
    let stage = Stage::with_cups();
    let mut script = keys("P A s");
    script.extend(typed("clockwize 2"));
    script.extend(keys("Enter"));
    let told = words(&stage.play(script));
    assert!(told.contains("a turntable turns left or right"), "{told}");
    assert!(!told.contains("cw"), "{told}");
}

#[test]
fn a_picture_that_was_varnished_stays_in_hand_to_be_sold() {
    let stage = poured();
    let second = PourOrder {
        at: Some(stage.now.at - TimeDelta::minutes(4)),
        ..stage.stack("20x20cm", &[("B4", 10.0)])
    };
    stage.studio().pour(&second, &stage.now).unwrap();
    let dry = JudgeOrder {
        cells: 4,
        dry: true,
        ..JudgeOrder::default()
    };
    stage.studio().judge(2, &dry, &stage.now).unwrap();
    let told = words(&stage.play(keys("R / 2 Enter v s")));
    assert!(told.contains("Picture 2 was sold"), "{told}");
    // It is gone from the rack all the same, and from the list once another is chosen.
    let told = words(&stage.play(keys("R s")));
    assert!(told.contains("Picture 1 was sold"), "{told}");
    assert_eq!(stage.studio().rack(&stage.now).unwrap().len(), 1);
}

// 21:00, and 23:50 is a slip: it is not taken for yesterday's. A time that is yesterday's says so before it is kept, and
// in what was done.
#[test]
fn which_day_a_time_is_on_is_said_before_and_after_it_is_kept() {
    let stage = Stage::with_cups();
    let read = |when: &str| all(vec![keys("r 2 . 4 Tab Tab"), typed(when)]);
    let soon = (stage.now.at + TimeDelta::minutes(20))
        .format("%H:%M")
        .to_string();
    let cells = stage.play(all(vec![read(&soon), keys("Enter")]));
    assert!(shows(&cells, "is still to come"), "{:#?}", lines(&cells));
    assert!(shows(
        &cells,
        &format!("say yesterday {soon} if that is meant")
    ));
    let past = (stage.now.at - TimeDelta::hours(11))
        .format("%H:%M")
        .to_string();
    let cells = stage.play(read(&past));
    assert!(
        shows(&cells, &format!("= yesterday {past}")),
        "{:#?}",
        lines(&cells)
    );
    let cells = stage.play(all(vec![read(&past), keys("Enter")]));
    let done = format!("written down for yesterday {past}");
    assert!(shows(&cells, &done), "{:#?}", lines(&cells));
}

#[test]
fn a_flood_that_is_put_right_on_the_screen_is_kept_at_the_second_enter() {
    let stage = Stage::with_cups();
    let flood = || keys("t 3 Enter Enter e 6 0 Enter");
    let left = |stage: &Stage| {
        let page = stage.studio().cup_page("K7", &stage.now).unwrap();
        page.standing.life.left.get()
    };
    let whole = left(&stage);
    let cells = stage.play(flood());
    assert!(shows(&cells, "% thinner"), "{:#?}", lines(&cells));
    assert_eq!(left(&stage), whole + 3.0);
    stage.play(keys("Enter e 6 0 Enter Enter"));
    assert_eq!(left(&stage), whole + 60.0);
}

// A judgement is put right or struck where it is asked for, wet and dry alike.
#[test]
fn how_a_picture_was_judged_is_put_right_and_struck() {
    let stage = poured();
    let seen = |stage: &Stage| {
        let page = stage.studio().pours(None).unwrap().remove(0);
        let all = page.judgements.into_iter();
        all.map(|one| (one.dry, one.cells, one.muddy))
            .collect::<Vec<_>>()
    };
    // The footer promises to strike only what is there.
    let asked = words(&stage.play(keys("P d")));
    assert!(
        !asked.contains("x strike") && asked.contains("d wet or dry"),
        "{asked}"
    );
    stage.play(keys("P d 2"));
    stage.play(keys("R d 4"));
    assert_eq!(seen(&stage), [(false, 2, None), (true, 4, None)]);
    let cells = stage.play(keys("P d"));
    let asked = words(&cells);
    assert!(
        asked.contains("has picture 1, wet (2 so far)? 0 to 5") && asked.contains("x strike"),
        "{asked}"
    );
    // One key says a grade, a Tab behind it no more; then evenness and lacing are left as they are.
    let cells = stage.play(keys("P d e 3 Tab Tab Tab 1 Enter"));
    assert!(
        shows(&cells, "Put right: Picture 1 is judged wet: cells 3"),
        "{:#?}",
        lines(&cells)
    );
    assert_eq!(seen(&stage), [(false, 3, Some(1)), (true, 4, None)]);
    let cells = stage.play(keys("P d d x"));
    assert!(
        shows(&cells, "Struck: picture 1 judged dry, cells 4"),
        "{:#?}",
        lines(&cells)
    );
    assert_eq!(seen(&stage), [(false, 3, Some(1))]);
    let cells = stage.play(keys("P d d x"));
    assert!(
        shows(&cells, "It was not judged dry yet"),
        "{:#?}",
        lines(&cells)
    );
    stage.play(keys("P u u"));
    assert_eq!(seen(&stage), [(false, 3, Some(1)), (true, 4, None)]);
}

// On a cup's page its keys are those of the Bench, and never about another cup.
#[test]
fn a_cups_page_has_the_keys_of_the_bench_for_that_cup_alone() {
    let stage = Stage::with_cups();
    let cells = stage.play(keys("Enter r"));
    assert!(shows(&cells, "Read K7"), "{:#?}", lines(&cells));
    assert!(shows(&stage.play(keys("Enter t")), "Thin K7: read as"));
    stage.play(keys("/ B 4 Enter e b"));
    let cells = stage.play(keys("x B 4 Enter r"));
    assert!(!shows(&cells, "Read "), "{:#?}", lines(&cells));
    assert!(
        words(&cells).contains("This cup is not the chosen one"),
        "{:#?}",
        lines(&cells)
    );
}

#[test]
fn a_sale_is_put_right_by_the_key_that_wrote_it_down() {
    let stage = poured();
    let sold = stage.play(all(vec![keys("R s"), typed("220"), keys("Enter")]));
    assert!(shows(&sold, "is sold for 220"), "{:#?}", lines(&sold));
    let form = stage.play(keys("R f s"));
    assert!(
        shows(&form, "Put the sale of picture 1 right"),
        "{:#?}",
        lines(&form)
    );
    assert!(shows(&form, "220"));
}

#[test]
fn a_sale_of_ten_times_the_price_asked_is_kept_at_the_second_enter() {
    let stage = poured();
    let sold = |last: &str| {
        let priced = vec![
            keys("R t Tab"),
            typed("240"),
            keys("Enter s"),
            typed("2400"),
        ];
        stage.play(all(vec![all(priced), keys(last)]))
    };
    let asked = sold("Enter");
    assert!(
        shows(&asked, "10 times what was asked"),
        "{:#?}",
        lines(&asked)
    );
    assert!(shows(&sold("Enter Enter"), "is sold for 2400"));
}

// What is offered is shown rounded, and is not rounded by an Enter that leaves it as it is.
#[test]
fn an_offer_that_nobody_touched_is_kept_to_the_last_digit() {
    let mut stage = Stage::with_recipes();
    let variant = stage
        .studio()
        .known([])
        .unwrap()
        .newest("River blue")
        .unwrap();
    let order =
        crate::studio::orders::MixOrder::of(variant, crate::trade::units::Millilitres(80.123));
    stage.studio().mix(&order, &stage.now).unwrap();
    stage.play(keys("l Enter"));
    let cups = stage.studio().bench(&stage.now).unwrap();
    let volumes: Vec<f64> = cups.iter().map(|cup| cup.cup.volume.get()).collect();
    assert_eq!(volumes.len(), 2);
    assert!(
        volumes.iter().all(|ml| (ml - 80.123).abs() < 1e-6),
        "{volumes:?}"
    );
    // In a studio of other measures too, and for what is left of a cup, its panel and its air.
    stage.studio().set("measures", "us", &stage.now).unwrap();
    stage.size = (100, 30);
    stage.play(keys("l Enter"));
    let cups = stage.studio().bench(&stage.now).unwrap();
    let volumes: Vec<f64> = cups.iter().map(|cup| cup.cup.volume.get()).collect();
    assert_eq!(volumes.len(), 3);
    assert!(
        volumes.iter().all(|ml| (ml - 80.123).abs() < 1e-6),
        "{volumes:?}"
    );
    let script = all(vec![
        keys("P p"),
        typed("40x50cm"),
        keys("Enter i"),
        typed("21.4C,45%"),
        keys("Enter e"),
        typed("n"),
        keys("Enter a Enter Enter G"),
    ]);
    stage.play(script);
    let page = stage.studio().newest_pour().unwrap().unwrap();
    assert_eq!(page.pour.panel.to_string(), "400 x 500 mm");
    assert_eq!(
        page.pour.air.and_then(|air| air.celsius).unwrap().get(),
        21.4
    );
}
