//! Paint for a panel: the form, the sheet, the kept plans, the cups mixed from them; before, keys, after.
//!
//! By hand: two panels of 40 x 50 cm are 4000 cm2; 1.8 mm on them are 720 ml; 1 part paint and 2 of medium
//! are 240 and 480 ml. To be poured at 10:00 a cup that rests 12 h is clear at 09:20, stirred 4 min until
//! 21:20, mixed from 21:06 and its bottles shaken from 21:01.

use super::{Play, Stage, code, keys, lines, place, shows, typed};
use crate::screen::kit::look::Look;
use crate::studio::orders::CountedOrder;
use crate::studio::{PourOrder, RecipeOrder};
use crate::trade::ids::MaterialId;
use crate::trade::instant::Now;
use crate::trade::units::Millilitres;
use chrono::TimeDelta;
use crossterm::event::KeyCode;
use ratatui::buffer::Buffer;
use ratatui::style::Color;

const SIZES: [(u16, u16); 3] = [(50, 16), (80, 24), (160, 50)];

fn all(parts: Vec<Vec<Play>>) -> Vec<Play> {
    parts.into_iter().flatten().collect()
}

/// The keys of a whole order, to be poured at a time.
fn order(pour: &str) -> Vec<Play> {
    all(vec![
        keys("L a"),
        typed("40x50cm"),
        keys("Tab"),
        typed("2"),
        keys("Tab Tab"),
        typed(pour),
        keys("Tab Tab"),
        typed("1.8 mm"),
        keys("Tab r i Enter Enter"),
    ])
}

fn then(names: &str) -> Vec<Play> {
    all(vec![order("tomorrow 10:00"), keys(names)])
}

/// What is shown of a measure is rounded; a form that is opened again and left as it is asks for the same.
#[test]
fn a_plan_that_is_opened_again_is_asked_as_it_was() {
    let kept = |more: &str| {
        let mut stage = Stage::with_recipes();
        stage.size = (100, 30);
        stage.studio().set("measures", "us", &stage.now).unwrap();
        let asked = all(vec![
            keys("L a"),
            typed("41.3x50.7cm"),
            keys("Tab Tab"),
            typed("2.13 cm"),
            keys("Tab Tab Tab"),
            typed("1.234567 mm"),
            keys("Tab r i Enter Enter"),
        ]);
        stage.play(all(vec![asked, keys(more)]));
        let plan = stage.studio().plans().unwrap().remove(0).plan;
        let cups: Vec<_> = plan.cups.iter().map(|cup| cup.ml).collect();
        (plan.panels, cups)
    };
    let (panels, cups) = kept("w");
    assert!((panels.edge.get() - 21.3).abs() < 1e-9);
    assert_eq!(kept("a Enter w"), (panels, cups));
}

/// A stage with the plan kept.
pub(super) fn kept() -> Stage {
    let stage = Stage::with_recipes();
    stage.play(then("w"));
    stage
}

/// The line in words: all above the strip of screens.
fn head(cells: &Buffer) -> String {
    let lines = lines(cells);
    let strip = lines.iter().position(|line| line.contains("6 Plan"));
    lines[..strip.unwrap()].join(" ").trim().to_owned()
}

/// All the text, so that what is wrapped is one.
fn text(cells: &Buffer) -> String {
    let words = lines(cells).join(" ");
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_plan_says_how_much_from_what_and_when_to_begin() {
    let mut stage = Stage::with_recipes();
    for size in SIZES {
        for look in [Look::Full, Look::Plain] {
            (stage.size, stage.look) = (size, look);
            let cells = stage.play(order("tomorrow 10:00"));
            let told = "Begin 21:01 with River blue v1 to pour Thu 10:00; w keeps the plan.";
            assert_eq!(head(&cells), told);
            let text = text(&cells);
            assert!(text.contains("720 ml in all on 2 x 40 x 50 cm: 4000 cm2, 1.8 mm wet"));
            for part in ["240 ml - - Blue paint", "480 ml - - Medium"] {
                assert!(text.contains(part), "{:#?}", lines(&cells));
            }
            let coloured = cells.content().iter().any(|cell| cell.fg != Color::Reset);
            assert!(look == Look::Full || !coloured);
        }
    }
    assert!(stage.studio().plans().unwrap().is_empty());
}

#[test]
fn the_day_is_drawn_to_scale_and_told_step_by_step() {
    let mut stage = Stage::with_recipes();
    for size in SIZES {
        stage.size = size;
        let end = vec![Play::Key(code(KeyCode::End))];
        let cells = stage.play(order("tomorrow 10:00"));
        let (_, y) = place(&cells, "▼");
        let track = &lines(&cells)[usize::from(y)];
        let order = ['■', '─', '◎', '▼'].map(|sign| track.find(sign).unwrap());
        assert!(order.is_sorted(), "{track}");
        let cells = stage.play(all(vec![then(""), end]));
        for step in [
            "21:01   shake",
            "21:06   mix",
            "21:16   stir",
            "Thu 09:20   look",
            "Thu 09:40   thin",
            "Thu 10:00   pour",
        ] {
            assert!(shows(&cells, step), "{step}: {:#?}", lines(&cells));
        }
    }
}

#[test]
fn what_follows_is_shown_while_it_is_typed_and_faults_in_their_place() {
    let mut stage = Stage::with_recipes();
    stage.size = (120, 40);
    let begun = all(vec![keys("L a"), typed("40x50cm"), keys("Tab"), typed("2")]);
    let cells = stage.play(begun);
    assert!(shows(&cells, "River blue v1") && shows(&cells, "Cell opener v1"));
    assert!(shows(&cells, "in all"), "{:#?}", lines(&cells));
    for (place_in, wrong) in [
        ("", "40 by many"),
        ("Tab", "none"),
        ("Tab Tab Tab", "18:30 yesterday"),
    ] {
        let mut script = all(vec![keys("L a"), typed("40x50cm"), keys(place_in)]);
        script.extend(all(vec![typed(wrong), keys("Enter")]));
        let cells = stage.play(script);
        let fault = place(&cells, "✗").1;
        let field = place(&cells, wrong).1;
        assert_eq!(fault, field + 1, "{:#?}", lines(&cells));
    }
}

#[test]
fn one_key_keeps_a_plan_and_one_mixes_its_next_cup() {
    let mut stage = kept();
    let plans = stage.studio().plans().unwrap();
    assert_eq!(plans[0].cups[0].planned.get(), 720.0);
    for size in SIZES {
        stage.size = size;
        let cells = stage.play(keys("L"));
        let told = "Plan 1: shake and mix River blue v1 21:01 (m), to pour Thu 10:00.";
        assert_eq!(head(&cells), told);
        assert!(shows(&cells, "0 of 1 mixed"), "{:#?}", lines(&cells));
        let sheet = stage.play(keys("L Enter"));
        assert!(text(&sheet).contains("720 ml in all on 2 x 40 x 50 cm"));
    }
    let cells = stage.play(keys("L m"));
    let cups = stage.studio().bench(&stage.now).unwrap();
    assert_eq!((cups.len(), cups[0].cup.volume.get()), (1, 720.0));
    let mark = cups[0].cup.mark.to_string();
    assert!(text(&cells).contains(&format!("Write {mark} on the lid: River blue v1, 720 ml")));
    assert!(shows(&cells, "1 of 1 mixed"));
    let sheet = stage.play(keys("L Enter"));
    assert!(shows(&sheet, "✓ mix    River blue v1") && shows(&sheet, "  thin   River blue v1"));
    let looked = format!("Plan 1: look {mark} (River blue v1) Thu 09:20, to pour Thu 10:00.");
    assert_eq!(head(&cells), looked);
    assert!(shows(
        &stage.play(keys("L m")),
        "every cup of plan 1 is mixed"
    ));
    stage.play(keys("u u"));
    assert!(stage.studio().bench(&stage.now).unwrap().is_empty());
}

#[test]
fn a_kept_plan_shows_what_was_planned_mixed_and_poured() {
    let mut stage = kept();
    stage.play(keys("L m"));
    let mut studio = stage.studio();
    let mark = studio.bench(&stage.now).unwrap()[0].cup.mark.to_string();
    let order = PourOrder {
        way: Some("swirl".to_owned()),
        ..stage.stack("40x50cm", &[(&mark, 700.0)])
    };
    studio.pour(&order, &stage.now).unwrap();
    for size in SIZES {
        stage.size = size;
        let cells = stage.play(keys("L"));
        assert!(shows(&cells, "✓ poured") && shows(&cells, "planned mark"));
        let row = place(&cells, "planned mark").1 + 1;
        let row = &lines(&cells)[usize::from(row)];
        assert!(row.contains("720 ml") && row.contains("700 ml"), "{row}");
        assert_eq!(
            head(&cells),
            "Every plan is poured or past: a plans the next panel."
        );
    }
    // The last pour is what the next plan begins with: its panel, its way, its recipe.
    stage.size = (80, 24);
    let cells = stage.play(keys("L a Enter"));
    assert!(
        text(&cells).contains("on 1 x 40 x 50 cm, swirl"),
        "{:#?}",
        lines(&cells)
    );
}

/// So much blue paint is counted.
fn counted(stage: &Stage, ml: Millilitres, at: &Now) {
    let mut studio = stage.studio();
    let blue = studio.known([]).unwrap().material("Blue paint").unwrap().id;
    let material = MaterialId(blue);
    studio
        .counted(
            &CountedOrder {
                material,
                ml,
                even_so: true,
            },
            at,
        )
        .unwrap();
}

#[test]
fn a_pour_that_is_too_soon_and_a_shelf_that_is_too_bare_are_said() {
    let stage = Stage::with_recipes();
    counted(&stage, Millilitres(100.0), &stage.now);
    // Mixed at 10:00 it is 5 + 10 + 4 min of work, 12 h of rest and 40 min to the pour: 22:59.
    let cells = stage.play(order("18:00"));
    let soon = "✗ too soon: mixed now, the cups are ready at 22:59";
    let lack = "✗ the shelf lacks Blue paint: 240 ml needed, 100 ml left";
    for words in [soon, lack] {
        assert!(shows(&cells, words), "{words}: {:#?}", lines(&cells));
    }
    let cells = stage.play(all(vec![order("18:00"), keys("w")]));
    let told =
        "Plan 1: shake and mix River blue v1 now (m), to pour 18:00. It was due 05:01; too soon";
    assert!(head(&cells).starts_with(told), "{}", head(&cells));
}

#[test]
fn a_cup_mixed_from_a_plan_says_what_the_shelf_lacks() {
    let stage = kept();
    let mut before = stage.now;
    before.at -= TimeDelta::hours(1);
    counted(&stage, Millilitres(100.0), &before);
    // 240 ml of 720 are paint.
    let cells = stage.play(keys("L m"));
    let lack = "But the shelf lacks 140 ml of Blue paint: 240 ml went in";
    assert!(text(&cells).contains(lack), "{:#?}", lines(&cells));
}

#[test]
fn keys_that_have_nothing_to_act_on_say_what_to_press() {
    let stage = Stage::with_recipes();
    for press in ["L m", "L Enter"] {
        let cells = stage.play(keys(press));
        assert!(text(&cells).contains("✗ Not done: No plan is kept: a plans paint"));
    }
    assert!(shows(&stage.play(then("m")), "Keep it first: w"));
    let back = stage.play(then("Esc Esc"));
    assert_eq!(
        head(&back),
        "No plan is kept: a plans paint for a panel and when to begin."
    );
    let kept = kept();
    assert!(shows(
        &kept.play(keys("L Enter w")),
        "It is kept already, as plan 1"
    ));
}

#[test]
fn the_next_plan_begins_with_the_last_where_nothing_was_poured() {
    let cells = kept().play(keys("L a"));
    let shown = text(&cells);
    assert!(shown.contains("panel 40 x 50 cm") && shown.contains("lowest layer River blue"));
}

#[test]
fn a_plan_whose_day_is_over_is_not_what_the_hands_do_next() {
    let mut stage = kept();
    stage.now.at += TimeDelta::days(3);
    let cells = stage.play(keys("L"));
    assert!(
        head(&cells).starts_with("Every plan is poured or past"),
        "{}",
        head(&cells)
    );
}

#[test]
fn a_kept_plan_s_sheet_stays_as_it_was_though_its_recipe_changed() {
    let stage = kept();
    let before = stage.studio().kept_sheet(1, &stage.now).unwrap().unwrap();
    let change = RecipeOrder {
        parts: stage.parts(["Blue paint 1", "Medium 5"]),
        ..Default::default()
    };
    let mut studio = stage.studio();
    studio
        .change_recipe(stage.recipe("River blue"), &change, &stage.now)
        .unwrap();
    let after = studio.kept_sheet(1, &stage.now).unwrap().unwrap();
    assert_eq!(after.layers[0].variant.number, 1);
    assert_eq!(after.total, before.total);
    assert!(
        (after.film.mid.get() - 1.8).abs() < 1e-6,
        "{:?}",
        after.film
    );
    assert_eq!(after.layers[0].parts[0].ml, before.layers[0].parts[0].ml);
    let cells = stage.play(keys("L Enter"));
    let said = "River blue has changed since: variant 2 now, this plan is for 1";
    assert!(text(&cells).contains(said), "{:#?}", lines(&cells));
}

#[test]
fn a_plan_that_is_not_kept_is_left_at_the_second_esc_only() {
    let stage = Stage::with_recipes();
    let asks = "This plan is not kept: w keeps it, Esc again throws it away";
    let cells = stage.play(then("Esc"));
    assert!(text(&cells).contains(asks), "{:#?}", lines(&cells));
    assert!(text(&cells).contains("720 ml in all"));
    let cells = stage.play(then("Esc Down Esc"));
    assert!(
        text(&cells).contains(asks),
        "another key takes the first Esc back"
    );
    let cells = stage.play(then("Esc Esc"));
    assert!(
        !text(&cells).contains("720 ml in all"),
        "{:#?}",
        lines(&cells)
    );
    stage.play(then("Esc w"));
    assert_eq!(stage.studio().plans().unwrap().len(), 1);
    let cells = stage.play(keys("L Enter Esc"));
    assert!(
        !text(&cells).contains("throws it away"),
        "what is kept closes at once"
    );
}

#[test]
fn a_kept_plan_stands_with_its_own_heading_in_a_narrow_place() {
    let mut stage = kept();
    stage.size = (50, 16);
    let cells = stage.play(keys("L"));
    assert!(shows(&cells, "› plan 1"), "{:#?}", lines(&cells));
}

#[test]
fn a_cup_that_stands_ready_is_not_mixed_again_unless_it_is_wished() {
    // B4 is ready with 120 ml of Cell opener.
    let stage = Stage::with_cups();
    let script = |last: &str| {
        let mut plays = keys("L a");
        plays.extend(typed("20x20cm"));
        plays.extend(keys(last));
        plays
    };
    let told = text(&stage.play(script("Tab")));
    assert!(told.contains("Cell opener v1, stands in B4"), "{told}");
    let told = text(&stage.play(script("Enter")));
    assert!(told.contains("Cell opener v1, stands in B4"), "{told}");
    assert!(told.contains("B4 has the"), "{told}");
    // "what stands" is the last field.
    let told = text(&stage.play(script("BackTab Right Enter")));
    assert!(told.contains("Cell opener v1"), "{told}");
    assert!(!told.contains("stands in B4"), "{told}");
}

// What a plan has mixed tomorrow is not mixed by one key today.
#[test]
fn a_cup_that_is_to_be_mixed_on_another_day_is_asked_about_first() {
    let stage = Stage::with_recipes();
    stage.play(all(vec![order("in 3 days"), keys("w")]));
    let cups = || stage.studio().bench(&stage.now).unwrap().len();
    let cells = stage.play(keys("L m"));
    assert!(
        text(&cells).contains("m again mixes it now"),
        "{:#?}",
        lines(&cells)
    );
    assert_eq!(cups(), 0);
    stage.play(keys("L m Down m"));
    assert_eq!(
        cups(),
        1,
        "another line is no other wish, and it is the same plan"
    );
    stage.play(keys("u u"));
    stage.play(keys("L m Enter m"));
    assert_eq!(cups(), 0, "something else was wished between");
}

#[test]
fn what_followed_before_is_not_shown_beside_a_field_at_fault() {
    let stage = Stage::with_recipes();
    let script = |panel: &str| all(vec![keys("L a"), typed(panel), keys("Tab")]);
    assert!(text(&stage.play(script("40x50cm"))).contains("in all"));
    let told = text(&stage.play(all(vec![
        script("40x50cm"),
        keys("BackTab Backspace Backspace Backspace Backspace"),
    ])));
    assert!(!told.contains("in all"), "{told}");
}
